"""Plain numbers at the door: shares, friction and safety factors, which have no unit."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.units import Q_, U


def ratio(door: Door, value: Any, name: str, *, least: float, most: float, example: float) -> float:
    """Return a number without a unit (0.1, or a quantity such as 10 percent) within its bounds."""
    number = value
    if isinstance(value, Q_) and value.dimensionless and value.units not in (U.deg, U.rad):
        number = value.m_as(U.one)
    plain = isinstance(number, (int, float, np.integer, np.floating)) and not isinstance(number, (bool, np.bool_))
    if not plain or not math.isfinite(number) or not least <= number <= most:
        kind = OutOfRange if plain else WrongUnit
        door.complain(name, given(value), f"a plain number from {least:g} to {most:g}", f"{name}={example:g}", kind)
        return example
    return float(number)


def yes_or_no(door: Door, value: Any, name: str) -> bool:
    """Return True or False."""
    return bool(door.instance(value, name, bool, "True or False", f"{name}=True"))
