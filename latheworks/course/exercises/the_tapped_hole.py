"""A blind hole with a thread in it, as homework 1 asks about it: how far to drill, and a hole of one's own."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from latheworks.course import slips
from latheworks.course.exercises.lesson_01 import both
from latheworks.course.tasks import Ask, Number, Outcome, Setting, Slip, good, miss
from latheworks.course.variant import Variant
from latheworks.drill_sets import SETS, drill_stock
from latheworks.drilling import hole_travel, point_length
from latheworks.threads import tap_drills, thread
from latheworks.units import Q_, U, show

# What the teaching tap needs beyond its full thread: stated in the questions, common practice, no source.
_RUN_OUT = 3
_TAPPED = ("M8x1.25-6H", "M10x1.5-6H", "M12x1.75-6H", "3/8-16 UNC-2B", "5/16-18 UNC-2B")


def reading_to_stop(numbers: Variant) -> Number:
    """How far the quill goes for a blind hole that is tapped."""
    cut, deep = thread(numbers.pick("thread", _TAPPED)), Q_(numbers.pick("deep", (14, 16, 18, 20)), "mm")
    best = tap_drills(cut).best
    assert best is not None
    room = (_RUN_OUT * cut.pitch).to("mm")
    travel = hole_travel(best.diameter, deep + room, through=False)
    half = travel.point.m_as(U.mm)
    whole = float(abs(best.diameter.m_as("mm") / 2 / np.tan(np.radians(118))))
    return Number(
        question=f"A blind hole for {cut.designation} gets {show(deep, digits=0)} of full thread. The tap needs "
        f"{_RUN_OUT} pitches more (its lead-in and room for chips; a teaching value). The drill measures "
        f"{show(best.diameter.to('mm'))}, its point 118 degrees. The quill's dial is set to zero as the tip touches. "
        "At what reading do you stop? Give it to 0.1 mm, with the unit.",
        right=travel.travel,
        within=Q_(0.1, "mm"),
        slips=(
            Slip("point left out", deep + room, "The full diameter begins only behind the drill's point."),
            Slip("room for the tap left out", travel.travel - room,
                 "The tap cuts no full thread in its first pitches: they need room below."),
            Slip("angle not halved", deep + room + Q_(whole, "mm"), "Each lip leans half of the point angle."),
            Slip("diameter for radius", deep + room + Q_(2 * half, "mm"),
                 "A point widens from the axis out: it has the radius to grow over."),
        ),
        hint="Three lengths, one behind the other: full thread, room for the tap, and the drill's point.",
        worked=lambda: f"{show(deep, digits=0)} + {_RUN_OUT} x {show(cut.pitch.to('mm'))} + {show(travel.point)} = "
        f"{show(travel.travel)}.",
        points=2,
    )  # fmt: skip


def own_hole(numbers: Variant) -> Setting:
    """A tapped blind hole of one's own: any drill that can be bought, any stop that leaves a thread and a floor."""
    cut, deep = thread(numbers.pick("thread", _TAPPED)), Q_(numbers.pick("deep", (12, 14)), "mm")
    solid, floor = Q_(numbers.pick("solid", (30, 32, 34)), "mm"), Q_(3, "mm")
    room, limits = (_RUN_OUT * cut.pitch).to("mm"), cut.limits.minor
    _, stock = drill_stock(SETS)

    def judge(values: Mapping[str, Any]) -> Outcome:
        drill, stop = values["drill"], values["stop"]
        if float(np.abs(stock - drill.m_as("mm")).min()) > 0.006:
            return miss("no such drill", f"No number, letter, fractional or metric drill measures {show(drill)}.")
        if drill >= cut.major:
            return miss("major for drill", slips.drill_for_major(cut.major).sentence)
        if drill > limits.max:
            return miss("hole too large", f"The hole is {show(drill - limits.max)} above the class's limits.")
        if drill < limits.min:
            return miss("hole too small", f"The hole is {show(limits.min - drill)} below the limits: the tap jams.")
        full = stop - point_length(drill, Q_(118, "degree"))
        if full < deep + room:
            return miss(
                "too shallow", f"Only {show(full)} have their full diameter: the tap meets the bottom too soon."
            )
        if stop > solid - floor:
            return miss(
                "through the floor", f"The point comes within {show(solid - stop)} of the far side, or past it."
            )
        return good(f"{show(full)} at full diameter, {show(solid - stop)} of floor, and the hole lies "
                    f"{show(drill - limits.min)} above the smallest. Another good pair would do as well.")  # fmt: skip

    first = tap_drills(cut).best
    assert first is not None
    best = first.diameter.to("mm")
    stop = deep + room + point_length(best, Q_(118, "degree")) + Q_(1, "mm")
    works = {"drill": f"{best.m:.3f} mm", "stop": f"{stop.m_as('mm'):.1f} mm"}
    return Setting(
        question=f"Plan another blind hole: {cut.designation} with {show(deep, digits=0)} of full thread and "
        f"{_RUN_OUT} pitches of room for the tap, in a plug {show(solid, digits=0)} thick; at least "
        f"{show(floor, digits=0)} must stay under the drill's tip, whose point is 118 degrees. Choose a drill that "
        "can be bought (number, letter, fractional or metric) and whose hole keeps the class (take the hole as large "
        "as the drill), and where the quill stops, counted from the touch of the tip. Any good pair is right.",
        asks=(Ask("drill", "Drill's diameter"), Ask("stop", "Stop at")),
        judge=judge,
        solved=works,
        slips=(
            Slip("no such drill", {**works, "drill": "9.137 mm"}, ""),
            Slip("major for drill", {**works, "drill": "13 mm"}, ""),
            Slip("hole too large", {**works, "drill": f"{_nearest(stock, limits.max, 0.15):.3f} mm"}, ""),
            Slip("hole too small", {**works, "drill": f"{_nearest(stock, limits.min, -0.15):.3f} mm"}, ""),
            Slip("too shallow", {**works, "stop": f"{deep.m:g} mm"}, ""),
            Slip("through the floor", {**works, "stop": f"{solid.m:g} mm"}, ""),
        ),
        hint="The drill first: print tap_drills of the thread. Then add up lengths, and see what is left under the "
        "tip.",
        worked=f"One that works: a drill of {both(best)}, stopped at {show(stop, digits=1)}.",
        points=4,
    )


def _nearest(stock: Any, limit: Any, beyond: float) -> float:
    """The drill [mm] nearest to a place beyond a limit."""
    return float(stock[np.abs(stock - limit.m_as("mm") - beyond).argmin()])
