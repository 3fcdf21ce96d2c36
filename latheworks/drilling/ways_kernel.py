"""What size a drill, a reamer, an end mill or a boring bar makes, on plain floats in mm."""

import math
from functools import cache

import numpy as np

from latheworks.budget.kernel import normal_below
from latheworks.tables import table

INCH = 25.4


@cache
def _oversize() -> tuple[list[float], ...]:
    rows = table("drill_oversize")
    return tuple([float(row[f"{name} [in]"]) * INCH for row in rows]
                 for name in ("diameter", "average max", "mean", "average min"))  # fmt: skip


def drilled(diameter: float, may_shrink: bool) -> tuple[float, float]:
    """Mean oversize of a drilled hole and one standard deviation.

    The averages of the largest and smallest are taken to hold 19 of 20 between them. Light metals and plastics shrink
    when they cool: there the low end is the minus tolerance of drilled holes, and the mean sits midway.
    """
    at, *columns = _oversize()
    most, mean, least = (float(np.interp(diameter, at, column)) for column in columns)
    if may_shrink:
        least = -drilled_tolerance(diameter)[1]
        mean = (most + least) / 2.0
    return mean, (most - least) / 4.0


def drilled_tolerance(diameter: float) -> tuple[float, float]:
    """Plus and minus of a drilled hole by the design standard [mm]."""
    rows = table("drilled_tolerances")
    row = next((r for r in rows if diameter <= float(r["to [in]"]) * INCH + 1e-9), rows[-1])
    return float(row["plus [in]"]) * INCH, float(row["minus [in]"]) * INCH


@cache
def way_row(way: str) -> tuple[float, float, float]:
    """Shift and spread of the size, and spread of the axis, of a way."""
    row = next(r for r in table("hole_ways") if r["way"] == way)
    names = ("size shift", "size spread", "position spread")
    return tuple(float(row[f"{name} [mm]"]) for name in names)  # type: ignore[return-value]


def chance_inside(low: float, high: float, mean: float, spread: float) -> float:
    """The chance of a normal size between its limits."""
    return normal_below(high + 1e-9, mean, spread) - normal_below(low - 1e-9, mean, spread)


def chance_near(allowed: float, spread: float) -> float:
    """The chance that the axis, off by a normal amount in both directions, is no further off than allowed."""
    return 1.0 - math.exp(-0.5 * (allowed / spread) ** 2)


def off_in_19_of_20(spread: float) -> float:
    """How far off the axis is at most in 19 of 20, for a spread in each direction."""
    return spread * math.sqrt(-2.0 * math.log(0.05))
