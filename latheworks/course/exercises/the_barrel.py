"""The corer's barrel as the exercises of lesson 03 hold it, push it and turn it."""

import math
from typing import Any

import numpy as np

from latheworks.deflection import Chuck, Shaft, SizeError, deflection, size_error
from latheworks.deflection.holding import Holding
from latheworks.units import Q_, U

OUTSIDE, BORE, LENGTH = Q_(32, "mm"), Q_(20, "mm"), Q_(250, "mm")
RIGID = Chuck(tilt=Q_(math.inf, "N*mm/rad"), radial=Q_(math.inf, "N/mm"))
FEED = Q_(0.1, "mm/rev")
# What an edge pushes even at the thinnest cut; a teaching value, said in the lesson.
EDGE = Q_(5, "N")


def barrel(out: Any, bore: Any = BORE) -> Shaft:
    """What sticks out of the corer's barrel."""
    return Shaft.bar(out, OUTSIDE, bore, material="6061-T6")


def end_error(shaft: Shaft, holding: Holding, push: Any) -> Any:
    """The diameter left large at the far end [mm]."""
    return 2 * deflection(shaft, holding, push, shaft.length)


def worst(shaft: Shaft, holding: Holding, push: Any) -> tuple[Any, Any]:
    """The largest error of the diameter [mm] and where the tool stands then [mm]."""
    at = np.linspace(0.0, shaft.length.m_as(U.mm), 251)
    errors = 2 * deflection(shaft, holding, push, Q_(at, U.mm)).m_as(U.mm)
    return Q_(float(errors.max()), U.mm), Q_(float(at[errors.argmax()]), U.mm)


def turned(shaft: Shaft, depth: Any, holding: Holding = Chuck(), springs: int = 0) -> SizeError:  # noqa: B008
    """The cut along all that sticks out, 41 places, with its spring passes."""
    at = Q_(np.linspace(0.0, shaft.length.m_as(U.mm), 41), U.mm)
    return size_error(shaft, holding, depth, FEED, at, spring_passes=springs, edge_force=EDGE)


def most(found: SizeError) -> Any:
    """The largest error along the part [mm]."""
    return found.error.max()


def stickout(allowed: Any, depth: Any, holding: Holding = Chuck(), bore: Any = BORE, springs: int = 0) -> Any:  # noqa: B008
    """How far the barrel may stick out until its free end is left large by what is allowed [mm], by halving."""
    low, high = 20.0, 400.0
    while high - low > 0.01:
        here = Q_((low + high) / 2, U.mm)
        found = size_error(barrel(here, bore), holding, depth, FEED, here, spring_passes=springs, edge_force=EDGE)
        low, high = ((low + high) / 2, high) if found.error < allowed else (low, (low + high) / 2)
    return Q_((low + high) / 2, U.mm)
