"""The exercises of lesson 02: how deep each pass of a thread is, and how fast the spindle may turn."""

import math
from collections.abc import Mapping
from typing import Any

from latheworks.course import slips
from latheworks.course.tasks import (
    Ask,
    Choice,
    Function,
    Number,
    Outcome,
    Prediction,
    Reason,
    Setting,
    Slip,
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.errors import Impossible
from latheworks.threads import InfeedSchedule, infeed, pick_up, thread
from latheworks.threads.infeed import CAP
from latheworks.threads.infeed_kernel import share
from latheworks.units import Q_, U, show

SHOE, BARREL = "1-12 UNF-2A", "1-12 UNF-2B"
STEEL, ALUMINUM = "steel 1018", "aluminum 6061-T6"
RELIEF = Q_(4, "mm")


def to_stop(plan: InfeedSchedule, relief: Any = RELIEF) -> Any:
    """The time from the end of the thread to the end of the relief groove [s]."""
    return (relief / plan.feed).to(U.s)


def heaviest(plan: InfeedSchedule) -> Any:
    """The largest main cutting force of all passes [N]."""
    return plan.force.max()


def dial_reading(numbers: Variant) -> Number:
    """The whole way in, as a dial that reads diameter shows it."""
    name = numbers.pick("size", (SHOE, BARREL, "M24x1.5-6g", "M24x1.5-6H", "1-8 UNC-2A", "1-8 UNC-2B"))
    asked = thread(name)
    other, system = asked.mate(), "inch" if asked.system == "unified" else "metric"
    depth, wrong = infeed(asked).total_depth, infeed(other).total_depth
    sharp = 3 / 4 * 3**0.5 / 2 * asked.pitch
    kind = "external" if asked.external else "internal"
    return Number(
        question=f"You cut {name}. The dial of the cross slide reads diameter and stands at zero where the tool "
        "touches. What does it read at full depth? Give it to 0.01 mm or to 0.5 thou, with the unit.",
        right=2 * depth,
        within=Q_(0.01, "mm"),
        slips=(
            slips.one_side(2 * depth),
            slips.other_thread(2 * wrong, f"the mating thread, {other.designation}", f"an {kind} one, {name}"),
            Slip(
                "three quarters of H", 2 * sharp,
                "This takes 3/4 of H on each side, as some tables do; this thread's form has another share.",
            ),
        ),
        hint="Depth is a share of the pitch, on the radius, and external and internal threads have different shares.",
        worked=f"The pitch is {show(asked.pitch, system)}. The {kind} groove takes "
        f"{(depth / asked.pitch).m_as(U.one):.4f} of it on the radius: {show(depth, system)}. A dial that reads "
        f"diameter moves twice that: {show(2 * depth, system)}.",
    )  # fmt: skip


def heaviest_pass(numbers: Variant) -> Prediction:
    """The guess before the first bench: equal steps, growing chips."""
    plan = infeed(SHOE, 8, "equal depth", material=STEEL)
    last = plan.area[plan.passes - 1]
    return Prediction(
        question="You cut the shoe's thread in 8 passes, straight in, and move the cross slide by the same step each "
        "time. How large is the chip of the last pass, beside the chip of the first?",
        options=("smaller", "the same", "about twice as large", "about four times as large"),
        hint="",
        worked=f"The first chip has an area of {show(plan.area[0])}, the last {show(last)}: "
        f"{(last / plan.area[0]).m_as(U.one):.1f} times as large. The tool is a V: the deeper it stands, "
        "the wider it cuts.",
    )


_WHY = {
    "equal area": "The flat at the tool's point makes its first chip the heaviest.",
    "equal depth": "Equal steps make its last chip the heaviest.",
    "eased first pass": "Its first pass is light, and the depth saved there goes to the next ones.",
}


def calmest_passes(numbers: Variant) -> Choice:
    """Four ways to share the depth, compared by the force of the heaviest pass."""
    menu = numbers.pick("menu", (
        (("equal area", 8), ("equal depth", 8), ("eased first pass", 8), ("equal depth", 10)),
        (("equal area", 6), ("equal area", 12), ("equal depth", 12), ("eased first pass", 8)),
        (("equal area", 8), ("equal depth", 10), ("equal depth", 14), ("eased first pass", 6)),
    ))  # fmt: skip
    force = {f"{law}, {n} passes": heaviest(infeed(SHOE, n, law, material=STEEL)) for law, n in menu}
    law_of = dict(zip(force, (law for law, _ in menu), strict=True))
    right = min(force, key=lambda way: force[way].m_as(U.N))
    return Choice(
        question="The shoe's thread in steel, straight in. In which of these is the heaviest pass the lightest?",
        options=tuple(force),
        right=right,
        slips=tuple(
            Slip(way, way, f"Its heaviest pass takes {show(most)}; another way takes less. {_WHY[law_of[way]]}")
            for way, most in force.items()
            if way != right
        ),
        hint="Set each on the bench and read the largest force, or change the cell that prints the forces.",
        worked="The heaviest pass of each: " + "; ".join(f"{way}, {show(most)}" for way, most in force.items()) + ".",
    )


def step_of_pass(numbers: Variant) -> Function:
    """The step of one pass by equal areas, written by the student."""
    total = numbers.pick("total", (0.9, 1.1, 1.3))
    inputs = tuple(
        {"k": k, "passes": n, "total": Q_(total * part, "mm")}
        for k, n, part in ((1, 8, 1.0), (2, 8, 1.0), (8, 8, 1.0), (5, 12, 0.5), (3, 9, 2.0))
    )

    def reached(k: int, passes: int, total: Any) -> Any:
        return total * float(share("equal area", k, passes))

    def reference(k: int, passes: int, total: Any) -> Any:
        return reached(k, passes, total) - reached(k - 1, passes, total)

    return Function(
        question="Write the step of pass k: how much deeper it goes than the pass before, when the chips of a sharp V "
        "are to have equal areas. It is compared with the library.",
        reference=reference,
        inputs=inputs,
        slips=(
            Slip("depth for step", reached,
                 "This is the depth reached after the pass, counted from the touch-off; the step is what it adds."),
            Slip("equal depth", lambda k, passes, total: total / passes,
                 "This shares the depth equally, so the last chips come out the largest."),
            Slip("every step like the first", lambda k, passes, total: reached(1, passes, total),
                 "This is the first step, taken every time; all of them together would go far too deep."),
            Slip("root of the step", lambda k, passes, total: total * (1 / passes) * k**0.5,
                 "The root belongs on the whole share k / passes, and then on the depth reached, not on the step."),
        ),
        hint="The depth reached grows with the root of k / passes. A step is the depth now less the depth before.",
        worked="total * ((k / passes) ** 0.5 - ((k - 1) / passes) ** 0.5)",
    )  # fmt: skip


def angle_of_the_start(numbers: Variant) -> Prediction:
    """The guess before the pick-up bench: how well the spindle's angle must be found again."""
    found = pick_up(SHOE)
    return Prediction(
        question="The shoe was taken out of the chuck at full depth, and is dialed in again. How closely must you find "
        "the spindle's angle again, so that the tightest barrel still goes on, with half of the play to spare?",
        options=("within about 20 degrees", "within about 10 degrees", "within about 2 degrees",
                 "within a tenth of a degree"),
        hint="",
        worked=f"Within {show(found.turn)} either way. That is {show(found.allowed, digits=3)} "
        f"({show(found.allowed, 'inch', digits=4)}) along the axis, half the play of the tightest pair.",
    )  # fmt: skip


def time_to_stop(numbers: Variant) -> Prediction:
    """The guess before the speeds: what is left to a person at the shoulder."""
    limit = infeed(SHOE, material=STEEL).spindle_limit
    fast, slow = (infeed(SHOE, spindle=turns, material=STEEL) for turns in (limit, limit / 5))
    return Prediction(
        question=f"Behind the shoe's thread is a relief groove, {show(RELIEF, digits=0)} wide, and then a shoulder. "
        f"The spindle turns at {show(limit)}. How long does the tool take to cross the groove?",
        options=("about 2 seconds", "about 1 second", "about half a second", "about a quarter of a second"),
        hint="",
        worked=f"At {show(limit)} the tool crosses it in {show(to_stop(fast), digits=2)}, at {show(limit / 5)} in "
        f"{show(to_stop(slow), digits=2)}. In that time somebody must see the end coming and stop the feed.",
    )


def fastest_spindle(numbers: Variant) -> Number:
    """The limit for several starts, where the carriage decides."""
    name = numbers.pick("size", ("M24xPh3P1.5-6g", "M24xPh4P2-6g", "M24xPh6P2-6g", "1-8 UNC-2A (2 STARTS)"))
    plan = infeed(name, material=STEEL)
    cut, feed, right = plan.thread, plan.lathe.largest_feed.m_as(U.mm_per_min), plan.spindle_limit
    by_pitch = Q_(feed / cut.pitch.m_as(U.mm), U.rpm)
    return Number(
        question=f"The shoe is to screw home in fewer turns, with {cut.starts} starts: {name}. The teaching lathe's "
        f"carriage goes at most {feed:g} mm a minute, and the teaching cap is {CAP:g} turns a minute. How fast may the "
        "spindle turn at the very most? Give it to 1 turn a minute, with the unit.",
        right=right,
        within=Q_(1, "rpm"),
        kind="spindle",
        slips=(
            Slip("pitch for lead", by_pitch, "This divides by the pitch; in one turn the carriage goes one lead."),
            Slip("cap alone", Q_(CAP, U.rpm), "This is the teaching cap; another limit comes first here."),
            Slip(
                "cap shared by the starts",
                Q_(CAP / cut.starts, U.rpm),
                "This divides the cap by the starts; nothing says that. What does the carriage do in one turn?",
            ),
        ),
        hint="In one turn the carriage goes one lead: starts times pitch. How many turns make its largest feed?",
        worked=f"The lead is {cut.starts} x {show(cut.pitch)} = {show(cut.lead)}. {feed:g} mm/min over that is "
        f"{show(right)}, less than the cap of {CAP:g}. Mind what it leaves you at the shoulder: this is the "
        "most, and a good start is far slower.",
    )


_LEAST_TIME = Q_(1, "s")


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan with the compound, the passes and the spindle wrong; any plan that keeps the limits passes."""
    name = numbers.pick("size", (SHOE, "M24x1.5-6g"))
    relief = Q_(numbers.pick("relief", (4, 5)), "mm")
    most = Q_(10.0 * math.ceil(heaviest(infeed(name, 10, material=STEEL)).m_as(U.N) / 10), U.N)

    def judge(values: Mapping[str, Any]) -> Outcome:
        angle, passes, turns = values["angle"].m_as(U.deg), values["passes"].m_as(U.one), values["spindle"]
        if angle >= 58:
            return miss("angle of the tool", "That is the angle between the tool's flanks, or a dial counted from the "
                        "axis. From the cross slide's direction the compound stands at about half of it.")  # fmt: skip
        if angle > 30:
            return miss("past the flank", f"At {angle:g}° early passes cut into the flank that should stay.")
        if angle < 25:
            return miss(
                "too straight", f"At {angle:g}° both flanks cut nearly alike, and their chips crowd each other."
            )
        if passes != int(passes) or not 2 <= passes <= 200:
            return miss("number of passes", "The cutting passes are a whole number from 2 to 200.")
        if turns > Q_(CAP, U.rpm):
            return miss("past the cap", f"{show(turns)} is past the teaching cap of {CAP:g} turns a minute.")
        try:
            plan = infeed(name, int(passes), values["law"],
                          "flank" if angle == 30 else "modified flank", material=STEEL, spindle=turns,
                          compound_angle=values["angle"])  # fmt: skip
        except Impossible:
            return miss("rubbing", "With so many passes the thinnest step is under the least: the tool rubs there.")
        time = to_stop(plan, relief)
        if time < _LEAST_TIME:
            return miss("too fast to stop", f"The tool crosses the groove in {show(time, digits=2)}.")
        if heaviest(plan) > most:
            return miss("heavy pass", f"The heaviest pass takes {show(heaviest(plan))}. {_WHY[values['law']]}")
        return good(f"The heaviest pass takes {show(heaviest(plan))}, the tool crosses the groove in "
                    f"{show(time, digits=2)}, and all takes {show(plan.time, digits=0)} at the machine. "
                    "Another plan inside the limits would do as well.")  # fmt: skip

    slow = (relief / infeed(name).thread.lead / _LEAST_TIME * U.rev).m_as(U.rpm) // 10 * 10
    plan = {"angle": "29.5 deg", "law": "eased first pass", "passes": "10", "spindle": f"{slow:g} rpm"}
    return Setting(
        question=f"A classmate plans {name} in steel: the compound at 60 degrees from the cross slide's direction, "
        f"equal depth, 6 passes, 300 turns a minute. The relief groove is {show(relief, digits=0)} wide. Mend the plan "
        f"so that one flank does the cutting, no pass takes more than {show(most)}, no step is under 0.02 mm, and the "
        f"tool takes {show(_LEAST_TIME, digits=0)} or more to cross the groove. (The limits of force and time are made "
        "up for this lesson; the least step is common practice, no source.)",
        asks=(
            Ask("angle", "Compound, from the cross slide's direction", kind="angle"),
            Ask("law", "Steps by", options=tuple(_WHY)),
            Ask("passes", "Cutting passes", kind="count"),
            Ask("spindle", "Spindle speed", kind="spindle"),
        ),
        judge=judge,
        solved=plan,
        slips=(
            Slip("angle of the tool", plan | {"angle": "60 deg"}, ""),
            Slip("past the flank", plan | {"angle": "31 deg"}, ""),
            Slip("too straight", plan | {"angle": "5 deg"}, ""),
            Slip("rubbing", plan | {"passes": "60"}, ""),
            Slip("too fast to stop", plan | {"spindle": "300 rpm"}, ""),
            Slip("heavy pass", plan | {"law": "equal depth", "passes": "6"}, ""),
        ),
        hint="One limit at a time: the compound first, then the groove's width over the feed, then law and passes.",
        worked=f"One that works: the compound at {plan['angle']}, {plan['law']}, {plan['passes']} passes, "
        f"{plan['spindle']}.",
    )


def in_the_barrel(numbers: Variant) -> Reason:
    """Straight in or along the flank, decided and justified."""
    passes = numbers.pick("passes", (6, 8, 10))
    straight, along = (
        infeed(BARREL, passes, method=method, material=ALUMINUM) for method in ("radial", "modified flank")
    )
    last = passes - 1
    return Reason(
        question=f"The barrel's thread, {BARREL} in aluminum, is cut with a slender bar that reaches into the bore, in "
        f"{passes} passes. Straight in, or along the flank with the compound? Decide, and justify it in two sentences "
        "with a number in each.",
        hint="Print the force and the side shift for both, and think of where the chips go in a bore.",
        worked=f"One that can be defended: along the flank. The last pass takes {show(along.force[last])} in place of "
        f"{show(straight.force[last])}, and one chip leaves the bore more easily than two that crowd each other. It "
        f"costs a compound to set and a tool that moves {show(along.side_shift[last])} "
        f"({show(along.side_shift[last], 'inch')}) along the axis, so there must be room for it. Straight in can be "
        "defended too: nothing to set but one dial, and the chips are small in this metal.",
    )  # fmt: skip


EXERCISES = (dial_reading, heaviest_pass, calmest_passes, step_of_pass, time_to_stop, angle_of_the_start,
             fastest_spindle, mend_the_plan, in_the_barrel)  # fmt: skip
