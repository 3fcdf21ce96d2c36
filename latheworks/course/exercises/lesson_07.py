"""The exercises of lesson 07: which end, which feature, in which order, and what the order costs."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from latheworks.course.exercises.the_plans import (
    FIRST,
    LAST,
    THREAD,
    after_the_thread,
    farthest,
    grave,
    held,
    minutes,
    mm,
    pitch_use,
    reviewed,
    start,
)
from latheworks.course.tasks import (
    Ask,
    Choice,
    Number,
    Outcome,
    Prediction,
    Reason,
    Setting,
    Several,
    Slip,
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.plan import change_setup, find_operation, move_operation, review
from latheworks.units import Q_, U, show

# Operation, words, and what to ask oneself of it.
_BEFORE = (
    ("bore", "socket", "boring the socket to size", "Into what would the thread be cut?"),
    ("groove", "thread relief", "cutting the relief behind the thread", "Where does the tool run out?"),
    ("chamfer", "thread chamfer", "chamfering the mouth of the socket", "Where does its burr go?"),
    ("chamfer", "edge B", "chamfering the outer edge of the end", "Does it touch the thread at all?"),
    ("deburr", "socket thread", "deburring the thread", "Is there a burr before there is a thread?"),
    ("face", "face A", "facing the other end", "Does anything of the thread stand on it?"),
    ("turn", "body", "turning the body", "Which one wants the bar thick?"),
)
_FAULTS = {
    "a plain center is to run in the bored end": "center needs a cone or a plug",
    "the relief is cut after the thread that runs out in it": "relief after thread",
    "the mouth of the socket is chamfered after the thread": "chamfer after thread",
    "the long body is turned without a center": "out of tolerance",
    "the thread leaves the chuck before it is gaged": "leaves the chuck ungaged",
}


def percent(use: float) -> str:
    """A share in words."""
    return f"{100 * use:.0f} %"


def guess_first_or_last(numbers: Variant) -> Prediction:
    """The guess before the bench."""
    out = 200.0
    uses = [pitch_use(order, out, 2) for order in (FIRST, LAST)]
    return Prediction(
        question="The socket and its thread can be cut first, in the thick bar, or last, in the finished tube. The "
        "work sticks out 200 mm in both. How much more of its tolerance does the pitch diameter use if it comes last?",
        options=(
            "nothing: the tool is the same",
            "about half as much again",
            "three times as much",
            "ten times as much",
        ),
        hint="",
        worked=f"First {percent(uses[0])}, last {percent(uses[1])}: the tube bends more under the same tool.",
    )


@lru_cache(maxsize=1)
def _needed() -> tuple[str, ...]:
    """What must come before the thread: a stop or a caution more says so when it comes after."""
    usual = set(grave(review(start(FIRST))))
    return tuple(words for kind, name, words, _ in _BEFORE
                 if kind not in ("deburr", "face") and name != "body"
                 and set(grave(review(after_the_thread(kind, name)))) - usual)  # fmt: skip


def before_the_thread(numbers: Variant) -> Several:
    """What has to be there before the internal thread."""
    sure, others = numbers.several("sure", _BEFORE[:3], 2), numbers.several("others", _BEFORE[3:], 3)
    shown = (others[0], sure[0], *others[1:], sure[1])
    return Several(
        question="The socket's thread is about to be cut. Which of these must be done before it?",
        options=tuple(words for _, _, words, _ in shown),
        right=tuple(words for _, _, words, _ in shown if words in _needed()),
        slips=tuple(Slip(f"{kind} {name}", words, f"{words}: {why}") for kind, name, words, why in shown),
        hint="Move each behind the thread, and ask what the thread would then meet, or what would meet the thread.",
        worked=lambda: "; ".join(_after(kind, name, words) for kind, name, words, _ in sure) + ".",
    )


def _after(kind: str, name: str, words: str) -> str:
    usual = {each.code for each in review(start(FIRST)).findings}
    new = [each for each in review(after_the_thread(kind, name)).findings if each.code not in usual]
    new.sort(key=lambda each: each.where.feature != THREAD[1])
    return f"{words} afterwards: {new[0].level}, {new[0].what}, {new[0].why}" if new else f"{words}: nothing found"


def far_out(numbers: Variant) -> Number:
    """How far the work may stick out until the pitch diameter is at its limit."""
    order = numbers.pick("order", (FIRST, LAST))
    springs = numbers.pick("springs", (1, 2, 3))
    right = farthest(order, springs)
    other = LAST if order == FIRST else FIRST
    return Number(
        question=f"With the thread cut {order} and {springs} spring pass{'es' if springs > 1 else ''}: how far may the "
        "work stick out in the setup of the thread until its pitch diameter uses the whole of its tolerance? Find it "
        "on the bench. Give it to 5 mm, with the unit.",
        right=mm(right),
        within=Q_(4.0, "mm"),
        slips=(
            Slip("the other order", mm(farthest(other, springs)), f"This holds with the thread cut {other}."),
            Slip("half of it", mm(farthest(order, springs, 0.5)), "Here it uses half of its tolerance."),
        ),
        hint="Set the order and the spring passes, move the stickout, and watch the thread's own row.",
        worked=f"At {show(mm(right), digits=0)} it uses {percent(pitch_use(order, right, springs))}; 20 mm less and it "
        f"uses {percent(pitch_use(order, right - 20, springs))}.",
    )


def cheapest_cure(numbers: Variant) -> Choice:
    """Which change holds the thread in the least time."""
    out = numbers.pick("out", (160.0, 165.0, 170.0))
    # Some of these hold and some do not, so that the answer is not the same for all.
    short, springs = numbers.pick("short", ((90.0, 0), (120.0, 0), (100.0, 1), (145.0, 1)))
    passes = "and one spring pass" if springs else "and no spring pass"
    cures = {
        "three spring passes": (FIRST, out, 3),
        f"{show(mm(short), digits=0)} out instead, {passes}": (FIRST, short, springs),
        "one spring pass": (FIRST, out, 1),
        "two spring passes": (FIRST, out, 2),
        "the thread last, one spring pass": (LAST, out, 1),
    }
    found = {words: reviewed(*cure) for words, cure in cures.items()}
    uses = {words: pitch_use(*cure) for words, cure in cures.items()}
    holds = [words for words in cures if uses[words] <= 0.8]
    right = min(holds, key=lambda words: minutes(found[words]))

    def why(words: str) -> str:
        if cures[words][0] == LAST:
            return "It costs a setup more, and the tube is thinner than the bar was."
        if words in holds:
            return "It holds; but each pass takes its time, on every part. Which other one holds with fewer?"
        return "Set it on the bench: how much of its tolerance does the pitch diameter still use?"

    return Choice(
        question=f"The thread is cut first, {show(mm(out), digits=0)} out, without a spring pass: its pitch diameter "
        f"would use {percent(pitch_use(FIRST, out, 0))} of its tolerance. What brings it to 80 % or less in the least "
        "time?",
        options=tuple(cures),
        right=right,
        slips=tuple(Slip(f"cure {i}", words, why(words)) for i, words in enumerate(cures, 1) if words != right),
        hint="Two questions for each: does it hold, and what does it cost?",
        worked="; ".join(f"{words}: {percent(uses[words])}, {minutes(found[words]):.1f} min" for words in cures) + ".",
    )


@lru_cache(maxsize=len(_FAULTS))
def _faulty(words: str) -> Any:
    """The barrel's plan with one fault built in."""
    plan, outside = start(FIRST), find_operation(start(FIRST), "turn", "body")[0]
    gage = find_operation(plan, "gage", THREAD[1])
    built = {
        "center needs a cone or a plug": lambda: change_setup(plan, outside, support="center"),
        "relief after thread": lambda: after_the_thread("groove", "thread relief"),
        "chamfer after thread": lambda: after_the_thread("chamfer", "thread chamfer"),
        "out of tolerance": lambda: change_setup(plan, outside, support="none"),
        "leaves the chuck ungaged": lambda: move_operation(plan, *gage, to_setup=outside),
    }
    return built[_FAULTS[words]]()


def find_the_fault(numbers: Variant) -> Choice:
    """Somebody's plan with one fault in it."""
    right = numbers.pick("fault", tuple(_FAULTS))
    plan = _faulty(right)
    listed = "\n".join(
        f"{setup.name}, end {setup.grips} in {setup.holding}, {show(setup.stickout, digits=0)} out, support "
        f"{setup.support}: {', '.join(each.title() for each in setup.operations)}."
        for setup in plan.setups
    )
    found = [each for each in review(plan).findings if each.code == _FAULTS[right]]
    return Choice(
        question=f"Somebody's plan for the barrel. What is wrong with it?\n{listed}",
        options=tuple(_FAULTS),
        right=right,
        slips=tuple(
            Slip(f"fault {i}", words, "Read the plan again with this in mind: is it so?")
            for i, words in enumerate(_FAULTS, 1)
            if words != right
        ),
        hint="Three questions all the way through: what stands there by then, what is held how, when is it measured?",
        worked=lambda: f"{found[0].level}: {found[0].what}; {found[0].why}. Try: {found[0].helps}.",
    )


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan that does not hold; any that is clear of stops and cautions passes."""
    out = numbers.pick("out", (190, 200, 210))
    outside = find_operation(start(FIRST), "turn", "body")[0]

    def judge(values: Mapping[str, Any]) -> Outcome:
        order = FIRST if values["order"] == "thread first" else LAST
        far = values["out"].m_as(U.mm)
        if not 20 <= far <= 250:
            return miss("no such stickout", "The bar is 250 mm long: 20 mm to 250 mm can stick out.")
        if not 0 <= values["springs"] <= 10:
            return miss("spring passes", "Up to 10 spring passes; more only wear the tool.")
        found = review(change_setup(held(order, far, int(values["springs"])), outside, support=values["support"]))
        codes = grave(found)
        if "center needs a cone or a plug" in codes:
            return miss("center in a bore", "That center finds nothing to run in: the end is bored through.")
        if (found.row("grip grooves").use or 0.0) > 1.0:
            return miss("body not supported", "The long body bends away from the grooving tool.")
        if (found.row(THREAD[1]).use or 9.0) > 1.0:
            return miss("thread bends", "The pitch diameter would not hold: the work gives way under the tool.")
        if codes:
            return miss("cautions stay", f"No stop, but a caution: {found.of('caution')[0].what}."
                        if not found.of("stop") else f"A stop: {found.of('stop')[0].what}.")  # fmt: skip
        return good(f"Clear of stops and cautions: at most {percent(found.worst_use)} of a tolerance, "
                    f"{minutes(found):.1f} min.")  # fmt: skip

    plain = {"order": "thread first", "out": "80 mm", "springs": "2", "support": "cone center"}
    return Setting(
        question=f"Somebody plans the barrel like this: thread last, {out} mm out, no spring pass, and a plain center "
        "at the other end for the body. Mend it, so that the review finds no stop and no caution. Any "
        "such plan is right.",
        asks=(
            Ask("order", "Order", options=("thread first", "thread last")),
            Ask("out", "Stickout, thread", kind="length"),
            Ask("springs", "Spring passes, thread", kind="count"),
            Ask("support", "Support, body", options=("none", "center", "cone center", "plug and center")),
        ),
        judge=judge,
        solved=plain,
        slips=(
            Slip("center in a bore", {**plain, "support": "center"}, ""),
            Slip("body not supported", {**plain, "support": "none"}, ""),
            Slip("thread bends", {**plain, "out": f"{out} mm", "springs": "0"}, ""),
            Slip("cautions stay", {**plain, "order": "thread last"}, ""),
            Slip("no such stickout", {**plain, "out": "300 mm"}, ""),
            Slip("spring passes", {**plain, "springs": "30"}, ""),
        ),
        hint="One thing at a time: what does the end look like when the center comes? What does a new setup cost?",
        worked=lambda: judge({"order": "thread first", "out": mm(80), "springs": 2, "support": "cone center"}).sentence,
    )


def first_or_last(numbers: Variant) -> Reason:
    """Which order to take, with the numbers of both."""
    out = numbers.pick("out", (70.0, 100.0, 140.0))
    both = {order: reviewed(order, out, 2) for order in (FIRST, LAST)}
    runs = {order: next(row.use for row in found.more_sizes if row.name == THREAD[1]) for order, found in both.items()}
    return Reason(
        question="A colleague wants the thread last, 'so that nothing knocks it while the outside is turned', and "
        f"holds the work {show(mm(out), digits=0)} out. First or last? Two sentences, with a number in each.",
        hint="Time, runout to the nose, pitch diameter: which of them speaks, and how loud?",
        worked="; ".join(
            f"{order}: {minutes(found):.1f} min, pitch diameter {percent(pitch_use(order, out, 2))}, runout of the "
            f"thread {percent(runs[order] or 0.0)}" for order, found in both.items()) + ". A cap keeps knocks off a "
        "thread; what the runout takes cannot be given back.",
    )  # fmt: skip


EXERCISES = (guess_first_or_last, before_the_thread, far_out, cheapest_cure, find_the_fault, mend_the_plan,
             first_or_last)  # fmt: skip
