"""Lesson 05, planning the passes: limits of depth, equal cuts, surface speed, setting errors, a plan mended."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from latheworks.course import slips
from latheworks.course.exercises.the_turning import SETUPS, SetUp, planned
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
from latheworks.passes import TurningPlan, center_height_error, facing_time, nose_radius_error, offset_error
from latheworks.passes.turning_limits import DEFLECTION, GRIP, POWER, TOOL, TORQUE
from latheworks.units import Q_, U, show

_BARREL, _ALONE = SETUPS["barrel, chuck and center"], SETUPS["barrel, chuck alone"]
_EDGE, _SCREW = SETUPS["steel shoe, cutting edge"], SETUPS["steel shoe, screw end"]
DEPTH, FEED, SPEED = Q_(3.0, "mm"), Q_(0.2, "mm/rev"), Q_(120.0, "m/min")
# What the edge is sold for in this steel, and the least that still cuts: both given in the question.
_EDGE_SPEED, _LEAST_DEPTH, _LEAST_FEED = Q_(150.0, "m/min"), Q_(0.1, "mm"), Q_(0.05, "mm/rev")
_WORDS = {
    POWER: "the motor's power", TORQUE: "the motor's torque", GRIP: "the grip of the jaws",
    DEFLECTION: "the part bending away", TOOL: "the tool's own depth",
}  # fmt: skip


def _minutes(plan: TurningPlan) -> str:
    return f"{plan.time.m_as(U.min):.1f} min"


def what_limits(numbers: Variant) -> Prediction:
    """The guess before the first bench."""
    plan = planned(_BARREL, DEPTH, FEED, SPEED)
    slow, free = planned(_BARREL, DEPTH, FEED, Q_(60.0, "m/min")), planned(_ALONE, DEPTH, Q_(0.35, "mm/rev"), SPEED)
    return Prediction(
        question=f"The barrel, {show(plan.profile.stock, digits=0)} aluminum in the chuck with a center: "
        f"{show(FEED, digits=1)} at {show(SPEED, digits=0)}, the jaws closed with 16 kN. You cut deeper and deeper. "
        "What gives up first?",
        options=tuple(_WORDS.values()),
        hint="",
        worked=f"Here {_WORDS[plan.limit]}, at {show(plan.limits[0][1], digits=2)} a side. At half the speed it is "
        f"{_WORDS[slow.limit]}, at {show(slow.limits[0][1], digits=2)}; with the end free and a feed of 0.35 mm/rev it "
        f"is {_WORDS[free.limit]}, at {show(free.limits[0][1], digits=2)}. It depends: so each one is looked at.",
    )


def equal_cut(numbers: Variant) -> Function:
    """How deep each of the equal cuts is, written by the student."""
    most = numbers.pick("most", (0.9, 1.1, 1.3))
    sizes = (
        (38, 32, 0.25, most),
        (40, 30, 0.3, 2 * most),
        (25, 22, 0.2, most),
        (60, 41, 0.5, 1.7),
        (32, 31, 0.1, most),
    )
    inputs = tuple(
        {"before": Q_(a, "mm"), "after": Q_(b, "mm"), "allowance": Q_(c, "mm"), "most": Q_(d, "mm")}
        for a, b, c, d in sizes
    )

    def shared(left: Any, most: Any, rounding: Any = math.ceil) -> Any:
        return left / max(rounding(float((left / most).m_as(U.one)) - 1e-9), 1)

    def reference(before: Any, after: Any, allowance: Any, most: Any) -> Any:
        return shared((before - after) / 2 - allowance, most)

    def across(before: Any, after: Any, allowance: Any, most: Any) -> Any:
        return shared(before - after - allowance, most)

    def nothing_left(before: Any, after: Any, allowance: Any, most: Any) -> Any:
        return shared((before - after) / 2, most)

    def one_too_few(before: Any, after: Any, allowance: Any, most: Any) -> Any:
        return shared((before - after) / 2 - allowance, most, math.floor)

    def the_limit(before: Any, after: Any, allowance: Any, most: Any) -> Any:
        return most

    return Function(
        question="Write how deep each roughing cut is, on the radius: from the diameters before and after, the finish "
        "allowance on the radius and the most that a cut may be deep. All cuts are equal and as few as the limit "
        "allows. It is compared with the library's way.",
        reference=reference,
        inputs=inputs,
        slips=(
            Slip("on the diameter", across, "The diameters were taken off each other, but a depth is on one side."),
            Slip("no allowance", nothing_left, "This goes down to size and leaves the finish pass nothing."),
            Slip("rounded down", one_too_few, "With one cut fewer, each is deeper than the limit allows."),
            Slip("all at the limit", the_limit, "At the limit the last cut is whatever is left, a sliver."),
        ),
        hint="First what there is to rough on one side; then how many cuts, rounded up; then share it out.",
        worked="left = (before - after) / 2 - allowance\nleft / np.ceil(left / most)",
    )  # fmt: skip


def across_the_face(numbers: Variant) -> Prediction:
    """The guess before the facing bench."""
    bar, feed = Q_(38, "mm"), Q_(0.1, "mm/rev")
    surface = facing_time(bar, feed, surface_speed=SPEED)
    turns = facing_time(bar, feed, spindle=surface.spindle)
    share = float((surface.time / turns.time).m_as(U.one))
    return Prediction(
        question="A tool faces the bar from the outside to the center. Both ways start at the same surface speed: one "
        "keeps the turns, the other keeps the surface speed as far as the spindle can. Which is there sooner?",
        options=(
            "the same time: the way is the same", "constant turns", "constant surface speed, in about two thirds",
            "constant surface speed, in hardly any time",
        ),
        hint="",
        worked=f"Constant surface speed, in {share:.2f} of the time here. It would be half without the clamp, since "
        "the time goes with the mean diameter; inside the clamp both go on at constant turns.",
    )  # fmt: skip


def clamp_diameter(numbers: Variant) -> Number:
    """Below which diameter a constant surface speed stops being constant."""
    speed, most = (
        Q_(numbers.pick("speed", (100, 110, 130)), "m/min"),
        Q_(numbers.pick("most", (1200, 1400, 1600)), "rpm"),
    )
    cut = facing_time(Q_(60, "mm"), Q_(0.1, "mm/rev"), surface_speed=speed, most_spindle=most)
    right = cut.clamp_diameter
    return Number(
        question=f"The surface speed is to stay at {show(speed, digits=0)}, and the chuck's mark allows {show(most)}. "
        "Below which diameter does the surface run slower than asked? Give it to 0.1 mm, with the unit.",
        right=right,
        within=Q_(0.1, "mm"),
        slips=(
            slips.radius(right),
            Slip("pi left out", right * math.pi, "In one turn the surface runs pi times the diameter."),
            Slip("divided by pi twice", right / math.pi, "Pi came in once too often: pi D is one turn."),
        ),
        hint="The surface runs pi D n. Put the fastest n in and solve for D; mind meters and millimeters.",
        worked=f"D = 1000 v / (pi n) = 1000 x {speed.m_as(U.m_per_min):g} / (pi x {most.m_as(U.rpm):g}) = "
        f"{show(right, digits=1)}",
    )  # fmt: skip


def saves_most(numbers: Variant) -> Choice:
    """One change to a plan that the jaws limit, compared; how hard they are closed decides which one helps."""
    speed = Q_(float(numbers.pick("speed", (60, 65, 70))), "m/min")
    closed = numbers.pick("closed", (7, 11, 12, 15))
    setup = replace(_EDGE, jaw_force=1000.0 * closed)
    now = planned(setup, DEPTH, FEED, speed)
    after = {
        "a tool that can cut 5 mm deep": planned(setup, Q_(5.0, "mm"), FEED, speed),
        "half as much feed again": planned(setup, DEPTH, 1.5 * FEED, speed),
        "the jaws closed with 16 kN": planned(_EDGE, DEPTH, FEED, speed),
        "a quarter more surface speed": planned(setup, DEPTH, FEED, 1.25 * speed),
    }
    right = min(after, key=lambda name: after[name].time.m_as(U.min))
    why = dict(zip(after, (
        "Nothing changes while another limit is met first.",
        "More feed pushes harder, so the same limit allows less depth, and passes may be added.",
        "The passes come in whole numbers, and few of them, or none, fall away.",
        "Each pass is quicker, but there are as many of them, or more.",
    ), strict=True))  # fmt: skip
    return Choice(
        question=f"The shoe's cutting edge in steel at {show(FEED, digits=1)} and {show(speed, digits=0)}, the jaws "
        f"closed with {closed} kN: {now.passes} passes, {_minutes(now)}. You may change one thing, and the depths "
        "follow. Which saves the most time? (The chuck's own limit goes first.)",
        options=tuple(after),
        right=right,
        slips=tuple(
            Slip(name, name, f"This gives {plan.passes} passes, {_minutes(plan)}; another saves more. {why[name]}")
            for name, plan in after.items() if name != right
        ),
        hint="Ask first what limits the depth now. Then try each change on the bench.",
        worked=f"As it is, {now.limit} limits the depth. Instead: "
        + "; ".join(f"{name}: {plan.passes} passes, {_minutes(plan)}" for name, plan in after.items()) + ".",
    )  # fmt: skip


def which_error(numbers: Variant) -> Choice:
    """Four diameters measured, and what was set wrongly."""
    error = Q_(numbers.pick("error", (4, 5, 6)) / 100, "mm")
    sizes, cone = Q_([34.0, 25.2, 12.0], "mm"), Q_(45.0, "degree")
    touch = offset_error(error, Q_(0.0, "mm"), cone)
    height = center_height_error(sizes, Q_(-0.8, "mm"), touch_off=sizes[0])
    nose = nose_radius_error(Q_(0.4, "mm"), cone)
    none = Q_(0.0, "mm")
    tip = float(height.error[2].m_as(U.mm))
    seen = {
        "the touch-off on the diameter": [touch.diameter, touch.diameter, touch.diameter, touch.taper_diameter],
        "the height of the tool": [height.error[0], height.error[1], height.error[2], Q_(tip, U.mm)],
        "the nose radius, left out": [none, none, none, nose.diameter],
        "the part bending away": [error / 5, 2 * error / 5, 2 * error, 2 * error],
    }
    why = {
        "the touch-off on the diameter": "That moves every diameter by the same amount; compare the three.",
        "the height of the tool": "That leaves the first right, where the dial was set, and grows as diameters fall.",
        "the nose radius, left out": "That shows on slopes and chamfers alone; cylinders come out right.",
        "the part bending away": "That grows toward the free end, and a short shoe hardly does it.",
    }
    right = numbers.pick("cause", tuple(seen)[:3])
    a, b, c, d = (show(value) for value in seen[right])
    return Choice(
        question=f"A trial piece for the shoe, touched off on its collar: the collar, {show(sizes[0], digits=1)}, is "
        f"{a} large; the screw, {show(sizes[1], digits=1)}, {b}; a stub of {show(sizes[2], digits=1)} at the end, {c}; "
        f"and the 45 degree taper is {d} large where it is measured. What was set wrongly?",
        options=tuple(seen),
        right=right,
        slips=tuple(Slip(name, name, why[name]) for name in seen if name != right),
        hint="Look for what is right: all, the first, the cylinders, or nothing. Each error spares something else.",
        worked=" ".join(f"{name[0].upper()}{name[1:]}: {sentence}" for name, sentence in why.items()),
    )


def _judged(setup: SetUp, longest: float, values: Mapping[str, Any]) -> Outcome:
    depth, feed, speed = values["depth"], values["feed"], values["speed"]
    if depth < _LEAST_DEPTH or feed < _LEAST_FEED:
        return miss("rubbing", "So thin a chip rubs more than it cuts: take more depth or more feed.")
    if speed > _EDGE_SPEED:
        return miss("too fast", f"The edge is good for {show(_EDGE_SPEED, digits=0)} in this steel.")
    plan = planned(setup, depth, feed, speed)
    rough = [i for i, kind in enumerate(plan.kinds) if kind == "rough"]
    for i in rough:
        name, most = plan.limited_by[i], plan.depth_limit[i]
        if name != TOOL:
            return miss(name, f"At {show(plan.before[i], digits=1)} {_WORDS[name]} gives up at {show(most, digits=2)}, "
                              f"and {show(depth, digits=2)} is asked.")  # fmt: skip
    if plan.time.m_as(U.min) > longest:
        return miss("too slow", f"Every limit is kept, but it takes {_minutes(plan)}: there is room for more.")
    return good(f"Every limit is kept: {plan.passes} passes in {_minutes(plan)}. Another plan would do as well.")


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan that the jaws cannot hold; any plan inside the limits and the time passes."""
    setup = replace(_SCREW, jaw_force=1000.0 * numbers.pick("jaws", (10, 11, 12)))
    solved = {"depth": "0.6 mm", "feed": "0.2 mm/rev", "speed": "110 m/min"}
    plan = planned(setup, Q_(0.6, "mm"), FEED, Q_(110.0, "m/min"))
    longest = math.ceil(10 * 1.15 * plan.time.m_as(U.min)) / 10
    return Setting(
        question="A classmate roughs the shoe's screw end in steel 1.5 mm deep, at 0.3 mm/rev and 140 m/min, the "
        f"jaws closed with {setup.jaw_force / 1000:g} kN. Mend the plan: no limit of the teaching "
        f"lathe or the jaws passed at any cut, at most {show(_EDGE_SPEED, digits=0)} for the edge, at least "
        f"{show(_LEAST_DEPTH, digits=1)} deep and {show(_LEAST_FEED, digits=2)} of feed (given here), and the whole "
        f"end, finish pass included, in {longest:.1f} min or less. Any plan that keeps all of these is right.",
        asks=(
            Ask("depth", "Depth of cut, a side", kind="length"),
            Ask("feed", "Feed", kind="feed"),
            Ask("speed", "Surface speed", kind="speed"),
        ),
        judge=lambda values: _judged(setup, longest, values),
        solved=solved,
        slips=(
            Slip("rubbing", {**solved, "depth": "0.05 mm"}, ""),
            Slip("too fast", {**solved, "speed": "200 m/min"}, ""),
            Slip(GRIP, {**solved, "depth": "1.5 mm", "speed": "60 m/min"}, ""),
            Slip("too slow", {**solved, "speed": "40 m/min"}, ""),
        ),
        hint="Find what limits first. Then trade: depth against feed, or depth against speed.",
        worked=lambda: f"One that works: {', '.join(solved.values())}, {plan.passes} passes in {_minutes(plan)}. "
        f"What limits its first cut: {plan.limited_by[0]}.",
    )  # fmt: skip


def why_these_passes(numbers: Variant) -> Reason:
    """Decide how to rough the barrel with a free end, and say why."""
    feed = Q_(numbers.pick("feed", (32, 34, 36)) / 100, "mm/rev")
    free, center = planned(_ALONE, DEPTH, feed, SPEED), planned(_BARREL, DEPTH, feed, SPEED)
    finer = planned(_ALONE, DEPTH, FEED, SPEED)
    spread = float(np.max(free.depth.m_as(U.mm)))
    return Reason(
        question=f"The barrel in the chuck alone, at {show(feed, digits=2)} and {show(SPEED, digits=0)}: {free.passes} "
        f"passes, {_minutes(free)}. Set a center, take a finer feed, or leave it? Say which, what it costs, and which "
        "limit speaks then. Two sentences, a number in each.",
        hint="Set each on the bench, read the passes and what limits them.",
        worked=f"As it is, {free.limit} holds every cut to {show(Q_(spread, U.mm), digits=2)}. A center: "
        f"{center.passes} passes, {_minutes(center)}, limited by {center.limit}; it needs a center hole and closes the "
        f"end. A feed of {show(FEED, digits=1)}, the end free: {finer.passes} passes, {_minutes(finer)}, limited by "
        f"{finer.limit}; but so long a free end is past the trade's limit for a chuck alone (lesson 03): the numbers "
        "allow it, the shop does not.",
    )


EXERCISES = (what_limits, equal_cut, across_the_face, clamp_diameter, saves_most, which_error, mend_the_plan,
             why_these_passes)  # fmt: skip
