"""The force to take a chip, by Kienzle's form; the kernel is shared with threading."""

from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import NotInTable, WrongUnit
from latheworks.materials import Material, pick
from latheworks.units import Q_, U

__all__ = ["cutting_force"]


def kienzle(specific: Any, exponent: Any, width: Any, thickness: Any) -> Any:
    """Fc = kc1.1 b h^(1 - mc) [N], for kc1.1 [MPa], chip width b and thickness h [mm]; 0 for a chip of no thickness."""
    return specific * width * np.power(thickness, 1.0 - exponent)


def cutting_force(material: Any, depth: Any, feed: Any, entering_angle: Any = None) -> Any:
    """Return the main cutting force (the one along the surface speed) of a turning cut.

    Fc = kc1.1 b h^(1 - mc), with chip width b = depth / sin(entering angle) and thickness h = feed x sin(entering
    angle). For a rake angle near 0, a sharp edge, and h from about 0.05 to 1 mm; outside of that a rough guide.

    Parameters: material, a name of `materials()` or a Material; depth of cut, on the radius [mm, above 0, one or
    many]; feed [mm/rev, above 0, one or many]; entering_angle between the edge and the axis [deg, 10 to 135,
    90 when not given]. Returns the force [N], of the shape that depth and feed make together.

    Raises LatheworksError for a wrong dimension, a value outside its range, or shapes that do not fit, and
    NotInTable for a material without a published pair of kc1.1 and mc.
    Source: Kienzle's form as in textbooks, from memory; the pair by material group, see `material(...)`.

    >>> cutting_force("steel 1045", Q_(2, "mm"), Q_(0.25, "mm/rev")).round(0)
    <Quantity(1017.0, 'newton')>
    """
    with Door("cutting_force") as door:
        chosen = pick(door, material)
        specific, exponent = pair(door, chosen)
        depths = door.array(depth, "depth", "mm", above=0, most=1000, example='depth=Q_(1.0, "mm")')
        feeds = door.array(feed, "feed", "mm/rev", above=0, most=100, example='feed=Q_(0.1, "mm/rev")')
        angle = Q_(90.0, U.deg) if entering_angle is None else entering_angle
        degrees = angle_in_degrees(door, angle, "entering_angle", least=10, most=135, example='Q_(90, "degree")')
        if depths.ndim and feeds.ndim and depths.shape != feeds.shape:
            got = f"{depths.size} depths and {feeds.size} feeds"
            door.complain("depth and feed", got, "one of them single, or as many of each", "one feed", WrongUnit)
            feeds = np.asarray(0.1)
    sine = float(np.sin(np.radians(degrees)))
    return Q_(kienzle(specific, exponent, depths / sine, feeds * sine)[()], U.N)


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
