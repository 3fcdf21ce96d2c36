"""Plain numbers, angles, yes or no at the door: a factor, a share, a price; and a material's kc1.1 and mc."""

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
    return _within(door, value, value, name, (least, most), example, least)


def ratio(door: Door, value: Any, name: str, *, least: float, most: float, example: float) -> float:
    """Return a number without a unit (0.1, or a quantity such as 10 percent) within its bounds."""
    number = value
    if isinstance(value, Q_) and value.dimensionless and value.units not in (U.deg, U.rad):
        number = value.m_as(U.one)
    return _within(door, number, value, name, (least, most), f"{name}={example:g}", example)


def _within(door: Door, number: Any, value: Any, name: str, bounds: tuple[float, float], hint: str,
            otherwise: float) -> float:  # fmt: skip
    """Return a plain number within its bounds; complain of the value that it was read from where it is none."""
    least, most = bounds
    is_plain = isinstance(number, (int, float, np.integer, np.floating)) and not isinstance(number, (bool, np.bool_))
    if is_plain and math.isfinite(number) and least <= number <= most:
        return float(number)
    wanted = f"a plain number from {least:g} to {most:g}"
    door.complain(name, given(value), wanted, hint, OutOfRange if is_plain else WrongUnit)
    return otherwise


def yes_or_no(door: Door, value: Any, name: str) -> bool:
    """Return True or False."""
    return bool(door.instance(value, name, bool, "True or False", f"{name}=True"))


def pair(door: Door, material: Material) -> tuple[float, float]:
    """Return kc1.1 [MPa] and mc of a material; complain at the door where no published pair is known."""
    if material.specific_cutting_force is None or material.chip_thickness_exponent is None:
        expected = "a material with a published kc1.1 and mc"
        door.complain("material", material.name, expected, 'material="aluminum 6061-T6"', NotInTable)
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
