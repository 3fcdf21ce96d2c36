"""What a nose radius does to tapers, chamfers, rounded edges and fillets when nobody allows for it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from latheworks.cutting.plain_numbers import angle_in_degrees
from latheworks.door import Door
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class NoseError(Result):
    """What a nose radius does to a path laid out for a sharp point, touched off on a diameter and a face.

    Fields: nose_radius [mm]; half_angle of the surface [deg]; left_standing, square to it, below 0 where it is cut
    into [mm]; diameter, by which it comes out large at a fixed place [mm]; shift, by which it lies farther from the
    chuck at a fixed diameter, None on a cylinder [mm]; chamfer, by which the leg of a 45 degree chamfer comes out
    small [mm]; corner_radius wanted, and edge and fillet, what comes out of it on an outer edge and in an inner corner
    [mm], None where no corner was given; pip, left on a face when the dial stops at 0 [mm]; system.
    """

    nose_radius: Any
    half_angle: Any
    left_standing: Any
    diameter: Any
    shift: Any
    chamfer: Any
    corner_radius: Any
    edge: Any
    fillet: Any
    pip: Any
    system: str

    def title(self) -> str:
        """Nose and surface."""
        return f"nose {show(self.nose_radius, self.system)} not allowed for, surface at {show(self.half_angle)}"

    def facts(self) -> list[tuple[str, str]]:
        """Each feature."""
        what = "left standing" if self.left_standing.m >= 0 else "cut into the part"
        facts = [
            ("cylinders and faces", "right: the tool was touched off on both"),
            (f"at {show(self.half_angle)}", f"{show(abs(self.left_standing), self.system)} {what}"),
            ("diameter there", f"large by {show(self.diameter, self.system)}"),
            ("leg of a 45° chamfer", f"small by {show(self.chamfer, self.system)}"),
            ("pip on a face stopped at 0", f"{show(self.pip, self.system)} across"),
        ]
        if self.corner_radius is not None:
            edge = f"{show(self.edge, self.system)} instead of {show(self.corner_radius, self.system)}"
            facts += [("rounded outer edge", edge), ("fillet", f"{show(self.fillet, self.system)} instead")]
        return facts

    @property
    def working(self) -> Working:
        """The sum for the surface."""
        r, angle = self.nose_radius.m_as(U.mm), self.half_angle.m_as(U.deg)
        line = Line("left standing", "r (sin a + cos a - 1)", f"{r:g} x (sin {angle:g}° + cos {angle:g}° - 1)",
                    show(self.left_standing), "geometry")  # fmt: skip
        return Working(self.title(), (line,))


def nose_radius_error(nose_radius: Any, half_angle: Any = None, corner_radius: Any = None,
                      system: Any = "metric") -> NoseError:  # fmt: skip
    """Return what a nose radius that nobody allows for does to a taper, a chamfer, an edge and a fillet.

    The dial knows the corner that would touch both cylinder and face; the nose's center is r from each. On a surface
    at an angle a to the axis it leaves r (sin a + cos a - 1) standing, nothing at 0 and 90 degrees: on the diameter
    2 r (1 - tan(45 - a/2)), along the axis r (1 - tan(a/2)). Edges come out r smaller, fillets r larger. Where the
    diameter falls toward the chuck (a below 0) it cuts into the part.

    Parameters: nose_radius [mm, 0 to 20]; half_angle between surface and axis, above 0 where the diameter grows toward
    the chuck [deg, -80 to 90; 45 when left out]; corner_radius wanted at an edge or in a corner [mm, 0 to 500]; system,
    "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension or a value outside its range. Source: geometry; the two shifts as
    machinists pass them on, read. What another insert does: see `nose_shift`.

    >>> show(nose_radius_error(Q_(0.8, "mm")).chamfer)
    '0.469 mm'
    """
    system = check_system(system)
    with Door("nose_radius_error") as door:
        r = door.number(nose_radius, "nose_radius", "mm", least=0, most=20, example='nose_radius=Q_(0.4, "mm")')
        angle = 45.0 if half_angle is None else angle_in_degrees(
            door, half_angle, "half_angle", least=-80, most=90, example='half_angle=Q_(45, "degree")')  # fmt: skip
        wanted = None
        if corner_radius is not None:
            wanted = door.number(corner_radius, "corner_radius", "mm", least=0, most=500,
                                 example='corner_radius=Q_(2, "mm")')  # fmt: skip
    slope = math.radians(angle)
    standing = r * (math.sin(slope) + math.cos(slope) - 1.0)
    # Both are `standing` over cosine and sine, written so that neither divides by nothing at its end.
    size = 2 * r * (1.0 - math.tan(math.pi / 4 - slope / 2))
    shift = None if angle == 0 else r * (1.0 - math.tan(slope / 2))
    return NoseError(
        nose_radius=Q_(r, U.mm), half_angle=Q_(angle, U.deg), left_standing=Q_(standing, U.mm), diameter=Q_(size, U.mm),
        shift=None if shift is None else Q_(shift, U.mm), chamfer=Q_(r * (2.0 - math.sqrt(2.0)), U.mm),
        corner_radius=None if wanted is None else Q_(wanted, U.mm),
        edge=None if wanted is None else Q_(max(wanted - r, 0.0), U.mm),
        fillet=None if wanted is None else Q_(wanted + r, U.mm), pip=Q_(2 * r, U.mm), system=system,
    )  # fmt: skip
