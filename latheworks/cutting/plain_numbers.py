"""Plain numbers and angles at the door: a factor, an exponent, a price; and a material's kc1.1 and mc."""

import math
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import NotInTable, OutOfRange, WrongUnit
from latheworks.materials import Material
from latheworks.shop import Lathe
from latheworks.shop import lathe as teaching_lathe
from latheworks.units import Q_, U


def plain(door: Door, value: Any, name: str, *, least: float, most: float, example: str) -> float:
    """Return a plain number within its bounds; complain at the door and return the least where it is none."""
    wanted = f"a plain number from {least:g} to {most:g}"
    if isinstance(value, (bool, np.bool_)) or not isinstance(value, (int, float, np.integer, np.floating)):
        door.complain(name, given(value), wanted, example, WrongUnit)
        return least
    if not math.isfinite(value) or not least <= value <= most:
        door.complain(name, given(value), wanted, example, OutOfRange)
        return least
    return float(value)


def pair(door: Door, material: Material) -> tuple[float, float]:
    """Return kc1.1 [MPa] and mc of a material; complain at the door where no published pair is known."""
    if material.specific_cutting_force is None or material.chip_thickness_exponent is None:
        expected = "a material with a published kc1.1 and mc"
        door.complain("material", material.name, expected, 'material="aluminium 6061-T6"', NotInTable)
        return 1000.0, 0.25
    return float(material.specific_cutting_force.m_as(U.MPa)), material.chip_thickness_exponent


def angle_in_degrees(door: Door, value: Any, name: str, *, least: float, most: float,
                     example: str | None = None) -> float:  # fmt: skip
    """Return an angle in degrees; a bare number with no unit of angle is refused, though it has no dimension either."""
    if isinstance(value, Q_) and value.dimensionless and value.units not in (U.deg, U.rad):
        hint = example or f'{name}=Q_({most:g}, "degree")'
        door.complain(name, given(value), f"an angle from {least:g} to {most:g} degree", hint, WrongUnit)
        return least
    return door.number(value, name, "degree", least=least, most=most, example=example)


def machine(door: Door, value: Any) -> Lathe:
    """Return the lathe asked for, or the teaching lathe."""
    if value is None:
        return teaching_lathe()
    hint = 'lathe("my_lathe.toml"), or leave it out'
    return door.instance(value, "lathe", Lathe, "a Lathe", hint) or teaching_lathe()


def entering(door: Door, value: Any, fill_in: float = 90.0) -> float:
    """Return the entering angle in degrees, the usual one when not given."""
    if value is None:
        return fill_in
    return angle_in_degrees(door, value, "entering_angle", least=10, most=135, example='Q_(90, "degree")')
