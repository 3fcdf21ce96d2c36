"""The exercises of lesson 04: how a hole is made, how far the drill must go, and what limits it."""

from collections.abc import Mapping
from typing import Any

import numpy as np

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
from latheworks.deflection import clamping_friction
from latheworks.drilling import DrilledHole, drill_hole, drilling_load, hole_travel, point_length, ways_to_size
from latheworks.drilling.hole_steps import FLUTES_OUT, OVERRUN
from latheworks.drilling.pecking import ONE_STEP
from latheworks.drilling.ways_result import SURE
from latheworks.errors import Impossible
from latheworks.shop import rack
from latheworks.units import Q_, U, show

_METAL, _BORE, _OUTSIDE, _DEEP = "aluminum 6061-T6", Q_(20, "mm"), Q_(32, "mm"), Q_(20, "mm")
# What the exercise allows for the finished bore; said in its question.
_LARGEST = Q_(21, "mm")


def pilot_takes(numbers: Variant) -> Prediction:
    """The guess before the first bench."""
    alone, after = (drilling_load(_BORE, Q_(0.2, "mm/rev"), _METAL, pilot=p, wear=1.3) for p in (None, Q_(5, "mm")))
    less = [100 * (1 - float((b / a).m_as(U.one))) for a, b in ((alone.thrust, after.thrust),
                                                               (alone.torque, after.torque))]  # fmt: skip
    return Prediction(
        question="A 5 mm pilot hole stands ready before the 20 mm drill. What does it take off the drill's thrust and "
        "torque?",
        options=("about a quarter of both", "much of the thrust, little of the torque",
                 "much of the torque, little of the thrust", "next to nothing of either"),
        hint="",
        worked=f"By the handbook's formula {less[0]:.0f} % of the thrust and {less[1]:.0f} % of the torque. The chisel "
        f"edge in the middle hardly cuts: it squeezes, close to the axis, where a force has no lever.",
    )  # fmt: skip


def point_travel(numbers: Variant) -> Number:
    """The travel for a blind hole, its point counted."""
    d, deep, angle = numbers.pick("size", (8, 10, 12, 16)), numbers.pick("deep", (30, 35, 40)), 118
    size, depth = Q_(d, "mm"), Q_(deep, "mm")
    travel = hole_travel(size, depth, through=False)
    whole = abs(size / 2 / np.tan(Q_(angle, "degree")))
    return Number(
        question=f"A blind hole of {show(size, digits=0)} has to be {show(depth, digits=0)} deep at its full "
        f"diameter. The drill's point is {angle} degrees. You set the quill's dial to zero as the tip touches. At "
        f"what reading do you stop? Give it to 0.1 mm, with the unit.",
        right=travel.travel,
        within=Q_(0.1, "mm"),
        slips=(
            Slip("point left out", depth, "The full diameter begins only behind the point; the point goes ahead of "
                 "it."),
            Slip("angle not halved", depth + whole, "Each lip leans half of the point angle from the axis."),
            Slip("a point below zero", depth - whole, "The tangent of an angle above 90 degrees is below zero, and a "
                 "point is not: each lip leans half of the point angle from the axis."),
            Slip("diameter for radius", depth + 2 * travel.point, "The point begins at the axis: it has the radius to "
                 "widen over, half of the size."),
            Slip("point taken off", depth - travel.point, "This is how deep the full diameter gets when the point is "
                 "taken off; here it has to be added."),
        ),
        hint="Draw the point: a right triangle with the radius across, and half of the point angle at the tip.",
        worked=lambda: travel.working,
    )  # fmt: skip


def length_of_point(numbers: Variant) -> Function:
    """The formula of the point, written by the student."""
    sizes = (numbers.pick("first", (5, 6, 7)), numbers.pick("second", (10, 12, 14)), 20, 3, 16)
    inputs = tuple(
        {"diameter": Q_(d, "mm"), "point_angle": Q_(a, "degree")}
        for d, a in zip(sizes, (118, 118, 135, 140, 120), strict=True)
    )

    def whole_angle(diameter: Any, point_angle: Any) -> Any:
        return diameter / 2 / np.tan(point_angle)

    def upside_down(diameter: Any, point_angle: Any) -> Any:
        return diameter / 2 * np.tan(point_angle / 2)

    def from_diameter(diameter: Any, point_angle: Any) -> Any:
        return diameter / np.tan(point_angle / 2)

    def rule(diameter: Any, point_angle: Any) -> Any:
        return 0.3 * diameter

    return Function(
        question="Write the length of a drill's point from the diameter and the point angle. It is compared with the "
        "library.",
        reference=point_length,
        inputs=inputs,
        slips=(
            Slip("angle not halved", whole_angle, "Each lip leans half of the point angle from the axis."),
            Slip("tangent upside down", upside_down, "A flatter point is shorter; here it comes out longer. Turn the "
                 "tangent over."),
            Slip("diameter for radius", from_diameter, "This is twice as long: at the axis the point starts, so the "
                 "radius counts."),
            Slip("rule for one angle", rule, "This fits 118 degrees nearly, and no other angle."),
        ),
        hint="np.tan takes an angle with its unit. Across: the radius. Along: the length. Between: half the angle.",
        worked="diameter / 2 / np.tan(point_angle / 2)",
    )  # fmt: skip


def deepest_from_one_end(numbers: Variant) -> Number:
    """The limit: how deep a through hole can be from one end."""
    tool = rack().tool(numbers.pick("drill", ("16 mm drill", "18 mm drill", "20 mm long drill")))
    tip, out, beyond = point_length(tool.diameter, tool.point_angle), FLUTES_OUT * tool.diameter, Q_(OVERRUN, "mm")
    right = tool.reach - out - tip - beyond
    return Number(
        question=f"The {tool.name} has flutes {show(tool.reach, digits=0)} long. One diameter of them must stay out "
        f"of the hole, or the chips jam (common practice). Its point is {tool.point_angle.m_as(U.deg):.0f} degrees, "
        f"and has to come out {show(beyond, digits=0)} beyond the far end. How deep may a through hole be from one "
        f"end? Give it to 0.5 mm, with the unit.",
        right=right,
        within=Q_(0.4, "mm"),
        slips=(
            Slip("flutes to the end", right + out, "So deep the flutes are all in the hole: no chip gets out."),
            Slip("point left out", right + tip, "The point has to come out at the far end too."),
            Slip("overrun left out", right + beyond, "The point has to come out a little beyond the far end."),
            Slip("flutes alone", tool.reach, "This is the whole length of the flutes; nothing is taken off it."),
        ),
        hint="Start from the flutes and take off, one by one, what is not hole.",
        worked=f"{show(tool.reach)} - {show(out)} - {show(tip)} - {show(beyond)} = {show(right)}.",
    )  # fmt: skip


def what_of_the_step(numbers: Variant) -> Prediction:
    """The guess before the second bench."""
    met = _both(Q_(250, "mm"), True).meeting
    assert met is not None
    return Prediction(
        question="The barrel is drilled from one end, turned round, set true to 0.1 mm on the indicator, and drilled "
        "from the other. How large is the step where the two holes meet?",
        options=("none: the tailstock stands true", "half a tenth of a millimeter or less",
                 "a few tenths of a millimeter", "a millimeter or more"),
        hint="",
        worked=f"About {show(met.step)} is expected, {show(met.worst_step)} at worst. Half of the indicator's reading "
        f"counts, and to it comes the drift of both drills, which is the larger part of it here.",
    )  # fmt: skip


_ONE, _TWO = "from one end", "from both ends"
_STOP, _ALONE = "against a stop", "by the jaws alone"


def _both(length: Any, stop: bool, ends: Any = True) -> DrilledHole:
    """The barrel's bore in diamond-cut jaws."""
    return drill_hole(_BORE, length, _METAL, from_both_ends=ends, stop=stop, grip_diameter=_OUTSIDE,
                      friction=clamping_friction("diamond"))  # fmt: skip


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan for the barrel's bore with faults; any plan that works passes."""
    length = Q_(numbers.pick("length", (230, 240, 250)), "mm")

    def judge(values: Mapping[str, Any]) -> Outcome:
        try:
            hole = _both(length, values["stop"] == _STOP, values["ends"] == _TWO)
        except Impossible:
            return miss("too deep for one end", "The flutes are swallowed long before the far end: the chips jam.")
        if not hole.holds:
            return miss(
                "the part slips", f"The jaws would need {show(hole.grip_needed)} of {show(hole.grip_available)}."
            )
        if values["peck"] > ONE_STEP * _BORE:
            return miss("first peck too deep", f"More than {ONE_STEP:g} diameters in one step packs the flutes.")
        if values["peck"] < _BORE / 2:
            return miss("pecks too short", "So short a first peck only costs time: half a diameter or more.")
        met = hole.meeting
        assert met is not None
        if values["bore"] < _BORE + met.worst_allowance:
            return miss("the step shows", "In a bad case a bore of this size leaves some of the step standing.")
        if values["bore"] > _LARGEST:
            return miss("bored too large", f"The drawing allows no more than {show(_LARGEST, digits=0)}.")
        return good(
            f"It reaches, {show(hole.grip_needed)} of {show(hole.grip_available)} are needed in the jaws, and the bore "
            f"hides the step even at worst. Another plan inside the limits would do as well."
        )

    works = {"ends": _TWO, "stop": _STOP, "peck": "40 mm", "bore": "20.5 mm"}
    return Setting(
        question=f"A classmate plans the bore of a barrel {show(length, digits=0)} long: the 20 mm long drill from "
        "one end, held by diamond-cut jaws alone, the first peck 80 mm, and bored to 20.1 mm at last. Mend the plan. "
        f"The first peck is to be {ONE_STEP:g} diameters at most and half of one at least; the finished bore no "
        f"larger than {show(_LARGEST, digits=0)}, and large enough to hide the step even at worst. A boring bar long "
        "enough can be had. Any plan that keeps all of these is right.",
        asks=(
            Ask("ends", "Drilled", options=(_ONE, _TWO)),
            Ask("stop", "Thrust held", options=(_STOP, _ALONE)),
            Ask("peck", "First peck", kind="length"),
            Ask("bore", "Finished bore", kind="length"),
        ),
        judge=judge,
        solved=works,
        slips=(
            Slip("too deep for one end", {**works, "ends": _ONE}, ""),
            Slip("the part slips", {**works, "stop": _ALONE}, ""),
            Slip("first peck too deep", {**works, "peck": "80 mm"}, ""),
            Slip("pecks too short", {**works, "peck": "5 mm"}, ""),
            Slip("the step shows", {**works, "bore": "20.1 mm"}, ""),
            Slip("bored too large", {**works, "bore": "22 mm"}, ""),
        ),
        hint="Take the limits one by one: flutes, jaws, chips, step. The bench names the first two.",
        worked=lambda: _both(length, True).working,
    )


_WORDS = {"drill": "drill to size", "drill and ream": "drill and ream", "end mill": "an end mill in the tailstock",
          "drill and bore": "drill and bore"}  # fmt: skip
# Not the thread whose answers the lesson prints.
_CASES = (("M20x1.5-6H", "time", 0.15), ("M18x1.5-6H", "time", 0.06), ("M20x1.5-6H", "accuracy", 0.15),
          ("M16x1.5-6H", "tools on hand", 0.15))  # fmt: skip


def which_way(numbers: Variant) -> Choice:
    """The way to the minor diameter that wins under a priority."""
    thread, priority, off = numbers.pick("case", _CASES)
    found = ways_to_size(thread, _DEEP, _METAL, position=Q_(off, "mm"))
    best = found.best(priority)
    assert best is not None
    slips = []
    for way in found.ways:
        if way is best:
            continue
        minutes = f"{way.time.m_as(U.min):.1f} min"
        if way.holds < SURE:
            why = f"Its size and its axis both hold in {100 * way.holds:.0f} of 100 only."
        elif priority == "time":
            why = f"It is sure, but takes {minutes}; another sure way is quicker."
        elif priority == "accuracy":
            wide, strays = show(2 * way.spread), show(way.position)
            why = f"Its size spreads by {wide} either way, its axis by {strays}; another is truer."
        elif way.missing:
            why = f"It needs {', '.join(way.missing)}, and the rack has none."
        else:
            why = f"Every tool is on the rack, but it takes {minutes}; so it is with another, and that is quicker."
        slips.append(Slip(way.name, _WORDS[way.name], why))
    return Choice(
        question=f"The minor diameter of {thread}, {show(_DEEP, digits=0)} deep in a smaller barrel's end; its axis "
        f"may be off by {show(Q_(off, 'mm'))}. What counts: {priority}, among ways whose size and axis hold in "
        f"{100 * SURE:.0f} of 100. Which way wins, with the teaching rack?",
        options=tuple(_WORDS[way.name] for way in found.ways),
        right=_WORDS[best.name],
        slips=tuple(slips),
        hint="On the bench, type the thread, set the axis, and look which ways are still sure. Then ask what counts.",
        worked="; ".join(
            f"{_WORDS[way.name]}: holds in {100 * way.holds:.0f} of 100, {way.time.m_as(U.min):.1f} min, "
            + (f"needs {', '.join(way.missing)}" if way.missing else "all on the rack")
            for way in found.ways
        ) + ".",
    )  # fmt: skip


def hide_it_or_leave_it(numbers: Variant) -> Reason:
    """Decide about the step in the middle of the barrel, and say why."""
    length = Q_(numbers.pick("length", (230, 240, 250)), "mm")
    met = _both(length, True).meeting
    assert met is not None
    bar = max(rack().by_kind["boring_bar"], key=lambda tool: float(tool.reach.m_as(U.mm)))
    ratio = float((length / 2 / bar.diameter).m_as(U.one))
    return Reason(
        question=f"A barrel {show(length, digits=0)} long is drilled from both ends, so there is a step in its "
        f"middle. The longest boring bar of the rack reaches {show(bar.reach, digits=0)}. Leave the step, or have a "
        "long bar made to bore it away? The soil slides through the bore. Decide in two sentences, with a number in "
        "each.",
        hint="How large is the step, at worst? And how many of its own diameters would the bar have to stand out?",
        worked=f"The step is about {show(met.step)}, {show(met.worst_step)} at worst. A bar of "
        f"{show(bar.diameter, digits=0)} would have to stand out {show(length / 2, digits=0)}, {ratio:.1f} diameters: "
        "past the usual four of a steel bar, it springs and chatters. Soil does not feel so small a step, so leave "
        f"it and break its edge; if a sliding fit were asked for, bore {show(met.worst_allowance)} larger, from both "
        "ends, and pay for it.",
    )


EXERCISES = (pilot_takes, point_travel, length_of_point, deepest_from_one_end, what_of_the_step, mend_the_plan,
             which_way, hide_it_or_leave_it)  # fmt: skip
