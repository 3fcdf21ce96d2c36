"""The example job in the terminal, for those who only want to see that it lives."""

from typing import Any

import numpy as np

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, deflection
from latheworks.threads import infeed, tap_drills, thread
from latheworks.units import Q_, show

# The soil corer of the lessons, invented.
THREAD, MATERIAL = "1-12 UNF-2B", "aluminum 6061-T6"
STICKOUT, OUTSIDE, BORE = Q_(220.0, "mm"), Q_(32.0, "mm"), Q_(20.0, "mm")
PUSH = Q_(100.0, "N")
HOLDINGS = {
    "in the chuck": Chuck(),
    "in the chuck, with a center": ChuckAndCenter(),
    "between centers": BetweenCenters(),
}


def glimpse(system: str = "metric") -> str:
    """Return the example job as lines of text: the thread and its tap drill, the passes, and the size error.

    Parameter: system, "metric" or "inch", how sizes are shown. Raises WrongUnit for another word.
    Source: those of the functions it calls.

    >>> print(glimpse().splitlines()[0])
    A soil corer for a school garden (an invented job): the barrel, aluminum 6061-T6
    """
    parts = [
        [f"A soil corer for a school garden (an invented job): the barrel, {MATERIAL}"],
        _thread(system), _passes(system), _size_error(system),
        ["A planning aid for training: the shop's rules, the machine's manual and qualified staff decide."],
    ]  # fmt: skip
    return "\n\n".join("\n".join(part) for part in parts)


def _thread(system: str) -> list[str]:
    """The thread's limits and the drill to tap it with."""
    chosen = thread(THREAD)
    limits, best = chosen.limits, tap_drills(chosen).best
    drill = "none in the sets: bore the hole" if best is None else (
        f"{best.name} ({show(best.diameter, system)}), {best.percent_thread.magnitude:.0f} % of 3/4 H, "
        f"{'inside' if best.within_limits else 'outside'} the minor limits"
    )  # fmt: skip
    return [
        f"The thread, {chosen.designation}",
        f"  minor diameter  {show(limits.minor.min, system)} to {show(limits.minor.max, system)}",
        f"  pitch diameter  {show(limits.pitch_diameter.min, system)} to {show(limits.pitch_diameter.max, system)}",
        f"  tap drill       {drill}",
    ]


def _passes(system: str) -> list[str]:
    """The infeed, pass by pass."""
    plan = infeed(THREAD, material=MATERIAL)
    rows = [
        f"  {number:>4}  {show(depth, system):>10}  {show(step, system):>10}  {show(force, system):>8}"
        for number, (depth, step, force) in enumerate(zip(plan.depth, plan.step, plan.force, strict=True), 1)
    ]
    return [
        f"The infeed, straight in at {show(plan.spindle)}: {plan.passes} passes and {plan.spring_passes} spring passes",
        f"  {'pass':>4}  {'depth':>10}  {'step':>10}  {'force':>8}   depth on the radius",
        *rows,
    ]


def _size_error(system: str) -> list[str]:
    """How much too large the outside is left, at worst, in each holding."""
    bar = Shaft.bar(STICKOUT, OUTSIDE, BORE, MATERIAL)
    places = Q_(np.linspace(0.0, STICKOUT.magnitude, 221), STICKOUT.units)
    lines = [
        f"{show(STICKOUT, system)} of the barrel out of the chuck, {show(PUSH, system)} on the tool: left large by"
    ]
    return lines + [f"  {name:<27}  {_worst(bar, holding, places, system)}" for name, holding in HOLDINGS.items()]


def _worst(bar: Shaft, holding: Any, places: Any, system: str) -> str:
    """The largest diameter error along the bar, and where it is."""
    errors = 2 * deflection(bar, holding, PUSH, places)
    worst = int(np.argmax(errors.magnitude))
    return f"{show(errors[worst], system)} at most, {show(places[worst], system)} from the chuck"
