"""What another nose radius does to the place of the cut: the tip of a rounded corner stands back from the sharp one."""

import math
from dataclasses import dataclass
from typing import Any

from latheworks.door import Door
from latheworks.passes.reach_tool import TurningTool
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show
from latheworks.working import Line, Working

_WHERE = "geometry; a maker's table of cutting point positions gives the same"


@dataclass(frozen=True, slots=True)
class NoseShift(Result):
    """Where the tip goes when an insert of another radius is put into the same pocket.

    Fields: before and after, the radii [mm]; radial, how much farther from the work the lowest point of the nose
    stands [mm, positive: away]; axial, how much farther back the front of the nose stands [mm, positive: away from the
    shoulder]; diameter, the change of a turned diameter with the same dial reading [mm, larger outside, smaller in a
    bore]; entering_angle and insert_angle [deg]; system of the text.
    """

    before: Any
    after: Any
    radial: Any
    axial: Any
    diameter: Any
    entering_angle: Any
    insert_angle: Any
    system: str

    def title(self) -> str:
        """From what to what."""
        return f"nose radius {show(self.before, self.system)} to {show(self.after, self.system)}"

    def facts(self) -> list[tuple[str, str]]:
        """Both shifts and the diameter."""
        check_system(self.system)
        return [("tip moves away from the axis", show(self.radial, self.system)),
                ("tip moves away from the shoulder", show(self.axial, self.system)),
                ("turned diameter changes by", show(self.diameter, self.system))]  # fmt: skip

    @property
    def working(self) -> Working:
        """Both shifts with their numbers."""
        kappa, eps = self.entering_angle.m_as(U.deg), self.insert_angle.m_as(U.deg)
        grown = self.after.m_as(U.mm) - self.before.m_as(U.mm)
        across, along = factors(kappa, eps)
        forward = "1 / tan(kappa) of it" if kappa <= 90 else "(sin(eps/2 + kappa - 90) / sin(eps/2) - 1) (R' - R)"
        return Working(self.title(), (
            Line("radial", "(cos(eps/2 + kappa - 90) / sin(eps/2) - 1) (R' - R)", f"{across:.8g} × ({grown:.8g})",
                 f"{across * grown:.6g} mm", _WHERE),
            Line("axial", forward, f"{along:.8g} × ({grown:.8g})", f"{along * grown:.6g} mm", _WHERE),
            Line("diameter", "2 radial", f"2 × {across * grown:.8g}", f"{2 * across * grown:.6g} mm", "geometry"),
        ))  # fmt: skip


def factors(kappa: float, eps: float) -> tuple[float, float]:
    """Radial and axial shift over nose radius, from the sharp corner, for angles in degrees.

    Up to 90 degrees the front of the tool is its main edge, which a new radius leaves where it is: the point goes up
    along it. Beyond 90 the front is the nose itself.
    """
    half = math.radians(eps / 2)
    turn = half + math.radians(kappa - 90.0)
    across = math.cos(turn) / math.sin(half) - 1.0
    if kappa <= 90.0:
        return across, across / math.tan(math.radians(kappa)) if kappa < 90.0 else 0.0
    return across, math.sin(turn) / math.sin(half) - 1.0


def nose_shift(tool: Any, nose_radius: Any, system: Any = "metric") -> NoseShift:
    """Return how the tip moves when an insert of another nose radius goes into the same tool.

    The pocket holds the flanks, so the sharp corner stays, and a round nose ends short of it: by
    (cos(eps/2 + kappa - 90) / sin(eps/2) - 1) R across, and by the sine in place of the cosine along, the axis.
    A larger nose so leaves an outside diameter large: touch off again, or take the shift off the dial.

    Parameters: tool, a TurningTool with an insert that has a corner; nose_radius of the new insert [mm, 0 to 50];
    system, "metric" or "inch" for the text.
    Raises LatheworksError for a blade or a round insert, which have no sharp corner to keep.
    Source: geometry; a tool maker's table agrees (nose_position).

    >>> show(nose_shift(TurningTool("D", nose_radius=Q_(0.4, "mm")), Q_(0.8, "mm")).diameter)
    '0.693 mm'
    """
    system = check_system(system)
    with Door("nose_shift") as door:
        cutter = door.instance(tool, "tool", TurningTool, "a TurningTool with an insert", 'tool=TurningTool("D")')
        new = door.number(nose_radius, "nose_radius", "mm", least=0, most=50, example='nose_radius=Q_(0.8, "mm")')
        if cutter is not None and cutter.entering_angle is None:
            door.complain("tool", cutter.title(), "an insert with a corner", 'tool=TurningTool("D")')
    kappa, eps = cutter.entering_angle.m_as(U.deg), cutter.insert_angle.m_as(U.deg)
    across, along = factors(kappa, eps)
    grown = new - cutter.nose_radius.m_as(U.mm)
    sign = -2.0 if cutter.bar_length is not None else 2.0
    return NoseShift(cutter.nose_radius, Q_(new, U.mm), Q_(across * grown, U.mm), Q_(along * grown, U.mm),
                     Q_(sign * across * grown, U.mm), cutter.entering_angle, cutter.insert_angle, system)  # fmt: skip
