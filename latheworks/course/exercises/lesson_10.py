"""The exercises of lesson 10: from the drawing to the sheet, with a change of the student's own."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache, lru_cache
from typing import Any

from latheworks.course.exercises.the_plans import FIRST, THREAD, after_the_thread, grave, minutes, mm, start
from latheworks.course.tasks import (
    Ask,
    Choice,
    Number,
    Outcome,
    PlanTask,
    Prediction,
    Reason,
    Setting,
    Slip,
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.errors import LatheworksError
from latheworks.plan import (
    Part,
    Plan,
    balance,
    change_operation,
    change_part,
    change_plan,
    change_setup,
    corer_barrel,
    cutting_shoe,
    find_operation,
    length_for_balance,
    review,
)
from latheworks.units import Q_, Span, U, show

# The draft that is guessed at is the one that is handed in.
ONE_JOB = True
# The shoe sits with its screw in the barrel's socket: its end A lies here, from end A of the barrel [mm].
SEAT = 230
_LAND, _WALL, _GRIP = 3.0, 4.0, 80.0  # mm
_NEAR = 1e-6  # mm: what a size loses on its way through inches
# Diameters of the barrel that have limits.
_ROUND = ("nose", "body", "grip grooves", "thread relief", "socket", "bore")


@cache
def barrel() -> Part:
    """The barrel of the drawing, the same object each time."""
    return corer_barrel()


def pieces() -> list[tuple[Part, Any, bool]]:
    """The corer put together."""
    return [(barrel(), mm(0), False), (cutting_shoe(), mm(SEAT), False)]


def collar(wanted: Any) -> Any:
    """How long the shoe's collar must be for the corer to balance there [mm]."""
    return length_for_balance(pieces(), "cutting shoe", "collar", wanted)


def width(name: str) -> float:
    """The tolerance of a feature's diameter [mm]."""
    plain = barrel().feature(name).plain
    assert plain.tolerance is not None
    return plain.tolerance


def guess_the_draft(numbers: Variant) -> Prediction:
    """The guess before the draft is played."""
    found = review(draft(numbers))
    sizes = [row for row in found.sizes if row.use is not None]
    holds = sum((row.use or 0.0) <= 1.0 for row in sizes)
    return Prediction(
        question="This draft has been written in a hurry. Before you play it: how many of its sizes with limits "
        "would hold?",
        options=("all of them", "all but one or two", "about half", "hardly any"),
        hint="",
        worked=f"{holds} of {len(sizes)} that can be worked out; and {len(found.of('stop'))} stops are found. A plan "
        "can hold its sizes on paper and still not be possible.",
    )


def tightest(numbers: Variant) -> Choice:
    """Which size asks for most care."""
    right = numbers.pick("right", ("nose", "body", "grip grooves"))
    wider = tuple(name for name in _ROUND if width(name) > width(right))
    names = (right, *numbers.several(f"beside the {right}", wider, 3))
    shown = tuple(sorted(names))
    return Choice(
        question="Four diameters of the barrel are yours to cut and to gage. Which of them has the tightest limits, "
        "and so decides about instrument and order first?",
        options=shown,
        right=right,
        slips=tuple(Slip(f"wider: {name}", name, "Take the lower limit from the upper one, for each of them.")
                    for name in shown if name != right),
        hint="print(barrel.feature(...)) shows the limits of one.",
        worked="; ".join(f"{name} {show(mm(width(name)))}" for name in sorted(names, key=width)) + ".",
    )  # fmt: skip


def balance_it(numbers: Variant) -> Number:
    """How long the collar of the shoe must be for a wanted balance point."""
    wanted = mm(numbers.pick("wanted", (180, 185, 190, 195)))
    right = collar(wanted)
    own = cutting_shoe().feature("collar").plain
    rest = cutting_shoe().length - mm(own.end - own.start)
    turned = length_for_balance(pieces(), "cutting shoe", "collar", wanted + mm(5))
    return Number(
        question=f"The corer should balance {show(wanted, digits=0)} from end A of the barrel, where the hand is. The "
        "shoe's collar is the counterweight, and the shoe sits as in the lesson. How long must the collar be? Give it "
        "to 0.1 mm, with the unit.",
        right=right,
        within=Q_(0.06, "mm"),
        slips=(
            Slip("the whole shoe", right + rest, "This is the whole shoe; the question asks for its collar."),
            Slip("what is added", right - mm(own.end - own.start),
                 "This is what it grows by; the question asks how long it is then."),
            Slip("5 mm off", turned, "It would balance a little further out. Which place was asked for?"),
        ),
        hint="length_for_balance(corer, part, feature, wanted) finds it; a longer collar pulls the balance its way.",
        worked=lambda: f"{show(right, digits=1)}; with the collar as drawn, {show(mm(own.end - own.start), digits=0)}, "
        f"it balances at {show(balance(pieces()).center, digits=1)}.",
    )  # fmt: skip


def with_grip(count: int, spacing: float, deep: float) -> Part:
    """The barrel with other grip grooves."""
    old = barrel().feature("grip grooves")
    size = 32.0 - 2.0 * deep
    limits = Span(mm(size - 0.1), mm(size + 0.1))
    groove = replace(old, count=count, spacing=mm(spacing), diameter=mm(size), limits=limits)
    return change_part(barrel(), features=[groove])


def own_grip(numbers: Variant) -> Setting:
    """A change of the student's own, within limits: any grip that can be made passes."""
    least = numbers.pick("least", (5, 6, 7))
    old = barrel().feature("grip grooves").plain
    # By the nominal sizes, as a person reckons from the drawing.
    wide, hole = old.end - old.start, barrel().feature("bore").diameter
    bore = float(hole.m_as(U.mm)) / 2

    def judge(values: Mapping[str, Any]) -> Outcome:
        count, spacing, deep = int(values["count"]), values["spacing"].m_as(U.mm), values["deep"].m_as(U.mm)
        if count < least or count > 20:
            return miss("too few", f"At least {least} grooves are asked for, and 20 are the most.")
        if spacing - wide < _LAND - _NEAR:
            left = f"{spacing - wide:.1f} mm stand between two grooves: too narrow."
            return miss("land too narrow", left if spacing > wide else "The grooves run into each other.")
        if old.start + (count - 1) * spacing + wide > _GRIP + _NEAR:
            return miss("past the grip", "The last groove lies where nobody holds the corer.")
        if deep < 0.5 - _NEAR:
            return miss("too shallow", "That is no grip: make it deeper.")
        wall = 16.0 - deep - bore
        if wall < _WALL - _NEAR:
            left = f"{wall:.2f} mm of wall are left under the grooves: the tube is weak there."
            return miss("wall too thin", left if wall > 0 else "So deep a groove opens the tube into its bore.")
        try:
            plan = change_plan(start(FIRST), part=with_grip(count, spacing, deep))
        except LatheworksError:
            return miss("cannot be", "The grooves do not fit the part like that.")
        found = review(plan)
        if found.of("stop"):
            return miss("a stop", f"The plan stops: {found.of('stop')[0].what}.")
        return good(f"{count} grooves: {minutes(found):.1f} min, at most {100 * found.worst_use:.0f} % of a tolerance.")

    plain = {"count": str(least), "spacing": "8 mm", "deep": "1.5 mm"}
    return Setting(
        question=f"Your own corer: at least {least} grip grooves, {show(mm(wide), digits=0)} wide, the first at "
        f"{show(mm(old.start), digits=0)} from end A, all within {_GRIP:g} mm of it; {_LAND:g} mm or more standing "
        f"between two; 0.5 mm deep or more; {_WALL:g} mm of wall left between them and the bore of "
        f"{show(hole, digits=0)}. The plan must still be clear of stops. Any grip that keeps these is right.",
        asks=(Ask("count", "Grooves", kind="count"), Ask("spacing", "From one to the next", kind="length"),
              Ask("deep", "Deep", kind="length")),
        judge=judge,
        solved=plain,
        slips=(
            Slip("too few", {**plain, "count": "2"}, ""),
            Slip("land too narrow", {**plain, "spacing": "6 mm"}, ""),
            Slip("past the grip", {**plain, "spacing": "20 mm"}, ""),
            Slip("too shallow", {**plain, "deep": "0.1 mm"}, ""),
            Slip("wall too thin", {**plain, "deep": "3 mm"}, ""),
        ),
        hint="Draw it: where does the last one end, and what stands between two of them, and under them?",
        worked=lambda: judge({"count": least, "spacing": mm(8), "deep": mm(1.5)}).sentence,
    )  # fmt: skip


@lru_cache(maxsize=8)
def _draft(out: int, early: str) -> Plan:
    """The barrel's plan as somebody wrote it in a hurry: four faults."""
    plan = after_the_thread(*(("chamfer", "thread chamfer") if early == "chamfer" else ("groove", "thread relief")))
    setup, thread = find_operation(plan, *THREAD)
    plan = change_operation(change_setup(plan, setup, stickout=mm(out)), setup, thread, spring_passes=0)
    outside = find_operation(plan, "turn", "body")[0]
    plan = change_setup(plan, outside, support="center", tailstock_locked=False)
    return change_plan(plan, name="draft")


def draft(numbers: Variant) -> Plan:
    """The draft of a student."""
    return _draft(numbers.pick("out", (180, 190, 200)), numbers.pick("early", ("chamfer", "relief")))


def hand_in(numbers: Variant) -> PlanTask:
    """The plan to hand in: the draft mended, with a grip of one's own if one likes."""
    plan = draft(numbers)
    return PlanTask(
        question="Mend the draft and hand it in: the same barrel; count and spacing of the grip grooves may be your "
        "own. The review must find no stop. It also tells what is left to think about. Any good plan passes.",
        part=barrel(),
        free={"grip grooves.count": (3, 4, 5, 6, 7, 8), "grip grooves.spacing": Span(mm(7), mm(12))},
        start=lambda: plan,
        solved=lambda: change_plan(start(FIRST), name="mended"),
        slips=(Slip(grave(review(plan))[0], plan, "This is where the draft stops. One thing at a time."),),
        hint="Gravest first: print(review(my_plan).findings[0]), change one thing, and review again.",
        worked="A cone center for the bored end, the quill and the tailstock locked, the socket short in the jaws, "
        "spring passes for the thread, and what touches the thread before it. There is more than one good plan.",
    )


def before_the_first_cut(numbers: Variant) -> Reason:
    """What a person checks that no program can."""
    count = len(review(start(FIRST)).left_to_person)
    return Reason(
        question=f"The review leaves {count} decisions to a person. Choose two that matter most for your barrel, and "
        "say at what sign you would stop. Two sentences.",
        hint="print(review(my_plan).left_to_person) lists them with the reason.",
        worked="A good answer names something of this job: the grip on the thin tube, the center in the bore, chips "
        "in the long hole, the first reading on the nose; and a sign: a sound, a chip, a mark, a reading. The shop's "
        "rules, the machine's manual and qualified staff decide.",
    )


EXERCISES = (tightest, balance_it, own_grip, guess_the_draft, hand_in, before_the_first_cut)
