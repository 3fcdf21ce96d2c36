"""Tool setting: what a wrong offset, a wrong center height and a nose radius left out do to the sizes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import angle_in_degrees
from latheworks.door import Door, given
from latheworks.errors import Impossible, WrongUnit
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class OffsetError(Result):
    """What an offset error does to surfaces that this tool cuts.

    Fields: radial, along, the errors [mm]; half_angle of a taper [deg]; diameter, by which every diameter comes out
    large, below 0 small [mm]; length, by which faces lie farther from the chuck [mm]; taper_diameter, at a fixed place
    on the taper [mm]; chamfer, by which the leg of a 45 degree chamfer comes out small when other tools cut the
    diameter and the face, below 0 large [mm]; system.
    """

    radial: Any
    along: Any
    half_angle: Any
    diameter: Any
    length: Any
    taper_diameter: Any
    chamfer: Any
    system: str

    def title(self) -> str:
        """The error."""
        return f"offset wrong by {show(self.radial, self.system)} across and {show(self.along, self.system)} along"

    def facts(self) -> list[tuple[str, str]]:
        """Each size, and what stays right."""
        return [
            ("diameters", f"{show(self.diameter, self.system)}, outside and in a bore"),
            ("faces", f"{show(self.length, self.system)} farther from the chuck"),
            (
                f"a taper of {show(self.half_angle)} a side",
                f"{show(self.taper_diameter, self.system)} at a fixed place",
            ),
            ("a 45° chamfer by this tool alone", f"leg smaller by {show(self.chamfer, self.system)}"),
            ("stays right", "steps, tapers and chamfers between surfaces that this one tool cuts"),
        ]

    @property
    def working(self) -> Working:
        """The sums."""
        x, z, angle = self.radial.m_as(U.mm), self.along.m_as(U.mm), self.half_angle.m_as(U.deg)
        lines = (
            Line("diameter", "2 x", f"2 x {x:g}", show(self.diameter), "geometry"),
            Line("taper", "2 (x + z tan(half angle))", f"2 x ({x:g} + {z:g} x tan {angle:g}°)",
                 show(self.taper_diameter), "geometry"),
            Line("chamfer", "x + z", f"{x:g} + {z:g}", show(self.chamfer), "geometry"),
        )  # fmt: skip
        return Working(self.title(), lines)


def offset_error(radial: Any, along: Any, half_angle: Any = None, system: Any = "metric") -> OffsetError:
    """Return what a wrong tool offset does to diameters, faces, a taper and a chamfer.

    Diameters change by 2 x; faces by z; a taper that grows toward the chuck, at a fixed place, by
    2 (x + z tan(half angle)); the leg of a 45 degree chamfer, cut by this tool alone, falls by x + z.

    Parameters: radial, x, by which the tool stands too far from the axis [mm, -50 to 50]; along, z, too far from the
    chuck [mm, -50 to 50]; half_angle of a taper that grows toward the chuck, between side and axis [deg, -80 to 80;
    15 when left out]; system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension or a value outside its range. Source: geometry.

    >>> offset_error(Q_(0.05, "mm"), Q_(0.1, "mm")).diameter.round(3)
    <Quantity(0.1, 'millimeter')>
    """
    system = check_system(system)
    with Door("offset_error") as door:
        x = door.number(radial, "radial", "mm", least=-50, most=50, example='radial=Q_(0.05, "mm")')
        z = door.number(along, "along", "mm", least=-50, most=50, example='along=Q_(0.1, "mm")')
        angle = 15.0 if half_angle is None else angle_in_degrees(
            door, half_angle, "half_angle", least=-80, most=80, example='half_angle=Q_(15, "degree")')  # fmt: skip
    cone = 2 * (x + z * math.tan(math.radians(angle)))
    return OffsetError(Q_(x, U.mm), Q_(z, U.mm), Q_(angle, U.deg), Q_(2 * x, U.mm), Q_(z, U.mm), Q_(cone, U.mm),
                       Q_(x + z, U.mm), system)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class HeightError(Result):
    """What a tool off center height does to diameters.

    Fields: diameter wanted [mm, one or many]; height above center [mm]; touch_off, the diameter at which the dial was
    set, None for the axis [mm]; error, by which each comes out large, below 0 small [mm]; pip, the diameter left
    standing at the center of a face [mm]; rake_change, by which an outside cut's rake grows and its clearance falls
    [deg]; system.
    """

    diameter: Any
    height: Any
    touch_off: Any
    error: Any
    pip: Any
    rake_change: Any
    system: str

    def title(self) -> str:
        """How far off."""
        side = "above" if self.height.m >= 0 else "below"
        return f"tool {show(abs(self.height), self.system)} {side} center"

    def facts(self) -> list[tuple[str, str]]:
        """The errors, the pip and the angles."""
        set_at = "the axis" if self.touch_off is None else show(self.touch_off, self.system)
        pip = f"{show(self.pip, self.system)} across" + (", and the tool rubs over it" if self.height.m > 0 else "")
        return [
            ("dial set at", set_at),
            ("diameters", show(self.diameter, self.system)),
            ("come out large by", show(self.error, self.system)),
            ("pip left on a face", pip),
            ("rake grows, clearance falls by", show(self.rake_change)),
        ]

    def columns(self) -> dict[str, Any]:
        """A row a diameter."""
        sizes = {"diameter [mm]": self.diameter, "error [mm]": self.error}
        return {name: np.atleast_1d(value.m_as(U.mm)) for name, value in sizes.items()}


def center_height_error(diameter: Any, height: Any, touch_off: Any = None, system: Any = "metric") -> HeightError:
    """Return by how much diameters come out large when the tool is not at center height.

    A tool at height e whose tip stands x from the axis cuts r = sqrt(x^2 + e^2). Touched off at D0, x moves by
    (D0 - D)/2 from sqrt(R0^2 - e^2): right at D0, and the error grows toward small diameters. Set from the axis, x is
    D/2. A face keeps a pip of 2 e.

    Parameters: diameter [mm, above 0 to 5000, one or many]; height above center, below 0 under it [mm, -50 to 50];
    touch_off, the diameter where the dial was set right [mm, more than twice the height; the axis when left out];
    system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension, a value outside its range, or a diameter that the tool cannot reach
    with its dial. Source: geometry.

    >>> center_height_error(Q_([5.0, 30.0], "mm"), Q_(0.5, "mm"), touch_off=Q_(30, "mm")).error.round(4)
    <Quantity([0.0827 0.    ], 'millimeter')>
    """
    system = check_system(system)
    with Door("center_height_error") as door:
        sizes = door.array(diameter, "diameter", "mm", above=0, most=5000, example='diameter=Q_(20.0, "mm")')
        e = door.number(height, "height", "mm", least=-50, most=50, example='height=Q_(0.2, "mm")')
        touched = None
        if touch_off is not None:
            touched = door.number(touch_off, "touch_off", "mm", above=2 * abs(e), most=5000,
                                  example=f'touch_off=Q_({max(30.0, 4 * abs(e)):g}, "mm")')  # fmt: skip
        x = sizes / 2
        if touched is not None and not door.complaints:
            x = x + (math.sqrt(touched**2 / 4 - e**2) - touched / 2)
            if (x < 0).any():
                door.complain("diameter", f"{float(sizes.min()):g} mm", "diameters before the tip passes the axis",
                              f'diameter=Q_({touched / 2:g}, "mm")', Impossible)  # fmt: skip
    left = 2 * np.hypot(x, e)
    angle = np.degrees(np.arcsin(np.clip(2 * e / np.maximum(left, 1e-12), -1.0, 1.0)))
    return HeightError(
        diameter=Q_(sizes[()], U.mm), height=Q_(e, U.mm), touch_off=None if touched is None else Q_(touched, U.mm),
        error=Q_((left - sizes)[()], U.mm), pip=Q_(2 * abs(e), U.mm), rake_change=Q_(angle[()], U.deg), system=system,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class TaperSetting(Result):
    """How to set the lathe for a taper.

    Fields: large, small diameters and length of the taper [mm]; whole_length between the centers [mm]; half_angle, to
    swing the compound slide by, and included_angle [deg]; taper, on the diameter for each mm of length; set_over of
    the tailstock [mm]; system.
    """

    large: Any
    small: Any
    length: Any
    whole_length: Any
    half_angle: Any
    included_angle: Any
    taper: float
    set_over: Any
    system: str

    def title(self) -> str:
        """The taper."""
        low, high = show(self.small, self.system), show(self.large, self.system)
        return f"taper {low} to {high} over {show(self.length, self.system)}"

    def facts(self) -> list[tuple[str, str]]:
        """Both ways of setting."""
        return [
            ("compound slide", f"{show(self.half_angle)} from the axis"),
            ("tailstock set over by", f"{show(self.set_over, self.system)}, for the whole length between centers"),
            ("taper on the diameter", f"{self.taper:.5f} for each 1 of length"),
        ]

    @property
    def working(self) -> Working:
        """The sums."""
        d1, d0, long, whole = (q.m_as(U.mm) for q in (self.large, self.small, self.length, self.whole_length))
        lines = (
            Line("half angle", "atan((D - d) / (2 l))", f"atan(({d1:g} - {d0:g}) / (2 x {long:g}))",
                 show(self.half_angle), "geometry"),
            Line("set over", "L (D - d) / (2 l)", f"{whole:g} x ({d1:g} - {d0:g}) / (2 x {long:g})",
                 show(self.set_over), "geometry"),
        )  # fmt: skip
        return Working(self.title(), lines)


def taper_setting(large: Any, small: Any, length: Any, whole_length: Any = None,
                  system: Any = "metric") -> TaperSetting:  # fmt: skip
    """Return the swing of the compound slide and the set-over of the tailstock for a taper.

    half angle = atan((D - d)/(2 l)); set-over = L (D - d)/(2 l), with the WHOLE length L between the centers, not the
    taper's own, and half of the taper on the diameter. The set-over is exact enough for slight tapers only.

    Parameters: large and small diameter of the taper [mm, 0 to 5000, large above small]; length of the taper [mm,
    above 0 to 10000]; whole_length between the centers [mm, at least the length; the length when left out]; system,
    "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension, a value outside its range, or a taper that does not taper.
    Source: geometry; the rule for the whole length also in old shop books, read.

    >>> taper_setting(Q_(30, "mm"), Q_(28, "mm"), Q_(50, "mm"), Q_(250, "mm")).set_over
    <Quantity(5.0, 'millimeter')>
    """
    system = check_system(system)
    with Door("taper_setting") as door:
        wide = door.number(large, "large", "mm", above=0, most=5000, example='large=Q_(30, "mm")')
        slim = door.number(small, "small", "mm", least=0, most=5000, example='small=Q_(28, "mm")')
        long = door.number(length, "length", "mm", above=0, most=1e4, example='length=Q_(50, "mm")')
        whole = long
        if whole_length is not None:
            whole = door.number(whole_length, "whole_length", "mm", least=long, most=1e4,
                                example=f'whole_length=Q_({2 * long:g}, "mm")')  # fmt: skip
        if slim >= wide and not door.complaints:
            door.complain("small", given(small), f"less than the large diameter of {wide:g} mm",
                          f'small=Q_({0.9 * wide:g}, "mm")', WrongUnit)  # fmt: skip
    taper = (wide - slim) / long
    half = math.degrees(math.atan(taper / 2))
    return TaperSetting(Q_(wide, U.mm), Q_(slim, U.mm), Q_(long, U.mm), Q_(whole, U.mm), Q_(half, U.deg),
                        Q_(2 * half, U.deg), taper, Q_(whole * taper / 2, U.mm), system)  # fmt: skip
