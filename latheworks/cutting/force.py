"""The main force of a turning cut with a sharp-cornered tool, for one or many depths and feeds."""

from typing import Any

import numpy as np

from latheworks.cutting.kernel import kienzle
from latheworks.cutting.plain_numbers import entering, pair
from latheworks.door import Door
from latheworks.errors import WrongUnit
from latheworks.materials import pick
from latheworks.units import Q_, U

__all__ = ["cutting_force"]


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
        degrees = entering(door, entering_angle)
        if depths.ndim and feeds.ndim and depths.shape != feeds.shape:
            got = f"{depths.size} depths and {feeds.size} feeds"
            door.complain("depth and feed", got, "one of them single, or as many of each", "one feed", WrongUnit)
            feeds = np.asarray(0.1)
    sine = float(np.sin(np.radians(degrees)))
    return Q_(kienzle(specific, exponent, depths / sine, feeds * sine)[()], U.N)
