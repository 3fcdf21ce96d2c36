"""The time of facing, at constant turns or constant surface speed with the spindle's clamp."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import machine
from latheworks.door import Door
from latheworks.errors import Impossible
from latheworks.passes.turning_door import read_turns
from latheworks.passes.turning_time import CutTime, Track, cut_time
from latheworks.units import Q_ as Q_
from latheworks.units import check_system


def facing_time(outside: Any, feed: Any, *, inside: Any = None, depth: Any = None, surface_speed: Any = None,
                spindle: Any = None, most_spindle: Any = None, cuts: Any = 1, approach: Any = None,
                overrun: Any = None, return_speed: Any = None, lathe: Any = None,
                system: Any = "metric") -> CutTime:  # fmt: skip
    """Return the time of facing from the outside to the center or to a hole.

    Constant turns: t = (R0 - R1)/(f n). Constant surface speed: t = pi (D0^2 - D1^2)/(4000 v f) down to the diameter
    1000 v/(pi n_most), and (R - R1)/(f n_most) from there on: the integral of dr/(f n), exactly.

    Parameters: outside diameter [mm, above 0 to 5000]; feed toward the axis [mm/rev, above 0 to 5]; inside, the hole
    [mm, 0 when left out, less than the outside]; depth along the axis, to know what is removed [mm, above 0 to 50];
    surface_speed [m/min, above 0 to 5000] or else spindle, constant [rev/min, of the lathe]; most_spindle, the clamp
    [rev/min; the lathe's fastest]; cuts [1 to 500]; approach outside, overrun past the end [mm, 0 to 1000; 0], such as
    the nose radius past the center; return_speed [mm/min, 1 to 100000; no return when left out]; lathe, a Lathe, the
    teaching lathe when not given; system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension, a value outside its range, or a hole as large as the outside.
    Source: geometry; the form with constant surface speed also in cutting tool makers' technical pages, read.

    >>> whole = facing_time(Q_(60, "mm"), Q_(0.1, "mm/rev"), surface_speed=Q_(90, "m/min"))
    >>> whole.time.round(3), whole.clamp_diameter.round(1)
    (<Quantity(0.332, 'minute')>, <Quantity(14.3, 'millimeter')>)
    """
    system = check_system(system)
    with Door("facing_time") as door:
        chosen = machine(door, lathe)
        first, last = ends(door, "outside", outside, "inside", inside)
        ap = None if depth is None else door.number(depth, "depth", "mm", above=0, most=50, example='depth=Q_(1, "mm")')
        turns = read_turns(door, surface_speed, spindle, most_spindle, chosen)
        track = Track.read(door, feed, cuts, approach, overrun, return_speed)
    rings = [None if ap is None else np.pi * d * ap for d in (first, last)]
    volume = None if ap is None else np.pi / 4 * (first**2 - last**2) * ap
    return cut_time("facing", track, turns, (first - last) / 2, first, last, rings, ap, volume, system)


def ends(door: Door, name: str, outside: Any, hole_name: str, hole: Any) -> tuple[float, float]:
    """The diameters where a cut toward the axis begins and ends [mm]."""
    first = door.number(outside, name, "mm", above=0, most=5000, example=f'{name}=Q_(32, "mm")')
    last = 0.0
    if hole is not None:
        last = door.number(hole, hole_name, "mm", least=0, most=5000, example=f'{hole_name}=Q_({first / 2:g}, "mm")')
    if last >= first and not door.complaints:
        door.complain(hole_name, f"{last:g} mm in an outside of {first:g} mm", "a hole smaller than the outside",
                      f'{hole_name}=Q_({first / 2:g}, "mm")', Impossible)  # fmt: skip
    return first, last
