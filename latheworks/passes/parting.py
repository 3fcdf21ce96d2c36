"""The time of parting off, in one plunge or in pecks."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import machine
from latheworks.door import Door
from latheworks.errors import OutOfRange
from latheworks.passes.facing import ends
from latheworks.passes.turning_door import read_turns
from latheworks.passes.turning_time import CutTime, Track, cut_time
from latheworks.units import check_system

MOST_PECKS = 1000
# How far a blade is drawn back to break the chip: common practice.
_LIFT = 1.0


def parting_time(diameter: Any, width: Any, feed: Any, *, bore: Any = None, peck: Any = None, surface_speed: Any = None,
                 spindle: Any = None, most_spindle: Any = None, approach: Any = None, overrun: Any = None,
                 return_speed: Any = None, lathe: Any = None, system: Any = "metric") -> CutTime:  # fmt: skip
    """Return the time of parting off to the center or into a bore.

    As `facing_time`, over the whole radius with a blade: t = (R0 - R1)/(f n), or pi (D0^2 - D1^2)/(4000 v f) down to
    the clamp of the spindle. Each peck draws back 1 mm and returns, 2 mm at the return speed.

    Parameters: diameter [mm, above 0 to 5000]; width of the blade [mm, above 0 to 20]; feed toward the axis [mm/rev,
    above 0 to 5]; bore to part into [mm, 0 when left out, less than the diameter]; peck, depth of each on the radius
    [mm, above 0, at most 1000 pecks; one plunge when left out]; surface_speed [m/min, above 0 to 5000] or else spindle
    [rev/min, of the lathe]; most_spindle [rev/min]; approach and overrun [mm, 0 to 1000; 0]; return_speed [mm/min,
    1 to 100000; the lathe's largest feed]; lathe; system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension, a value outside its range, or too many pecks.
    Source: geometry; the lift of a peck: common practice. Forces and the caution: see `parting_force`.

    >>> from latheworks.units import Q_
    >>> cut = parting_time(Q_(32, "mm"), Q_(3, "mm"), Q_(0.05, "mm/rev"), bore=Q_(20, "mm"), spindle=Q_(400, "rpm"))
    >>> cut.cutting_time
    <Quantity(0.3, 'minute')>
    """
    system = check_system(system)
    with Door("parting_time") as door:
        chosen = machine(door, lathe)
        first, last = ends(door, "diameter", diameter, "bore", bore)
        blade = door.number(width, "width", "mm", above=0, most=20, example='width=Q_(3.0, "mm")')
        turns = read_turns(door, surface_speed, spindle, most_spindle, chosen)
        back = chosen.largest_feed if return_speed is None else return_speed
        track = Track.read(door, feed, 1, approach, overrun, back)
        path, pecks = (first - last) / 2, 1
        if peck is not None:
            step = door.number(peck, "peck", "mm", above=0, most=5000, example='peck=Q_(1.0, "mm")')
            pecks = math.ceil(path / step - 1e-9)
            if pecks > MOST_PECKS and not door.complaints:
                door.complain("peck", f"{step:g} mm, which makes {pecks} pecks", f"at most {MOST_PECKS} pecks",
                              f'peck=Q_({path / 10:.2g}, "mm")', OutOfRange)  # fmt: skip
    rings = [np.pi * d * blade for d in (first, last)]
    volume = np.pi / 4 * (first**2 - last**2) * blade
    plunges = replace(track, pecks=max(pecks, 1), lift=_LIFT)
    return cut_time("parting", plunges, turns, path, first, last, list(rings), blade, float(volume), system)
