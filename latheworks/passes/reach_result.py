"""What a tool can reach of a profile, and what it leaves standing, with the reason of each piece."""

from dataclasses import dataclass
from typing import Any

from latheworks.passes.profile import Profile
from latheworks.passes.reach_tool import TurningTool
from latheworks.results import Result
from latheworks.units import U, check_system, show
from latheworks.working import Line, Working

# Reason: what a person reads.
REASONS = {
    "nose": "the corner or hollow is tighter than the nose radius",
    "blade": "the groove, or its floor between round corners, is narrower than the blade",
    "back": "the surface falls more steeply than the back of the insert clears",
    "front": "the shoulder is steeper than the entering angle",
    "holder": "deeper than the tool stands out of its shank: the shank touches the work",
    "bar": "deeper than the tip stands out of the bar: the bar touches the work",
    "jaws": "the tool would touch the chuck jaws",
    "center": "the tool would touch the center",
    "bar length": "further into the bore than the bar is long",
    "bore": "the bar does not pass through the smallest bore on the way in",
}


@dataclass(frozen=True, slots=True)
class Standing:
    """A piece of material that the tool leaves: start and end along the axis [mm], its area in the section [mm^2] and
    height, the most that is left on the radius [mm], its volume as a ring [mm^3], reason, one word of `REASONS`,
    and count: of repeated grooves it stands for all of them, and the place is that of the first."""

    start: Any
    end: Any
    area: Any
    height: Any
    volume: Any
    reason: str
    count: int

    @property
    def why(self) -> str:
        """The reason as a sentence."""
        return REASONS[self.reason]


@dataclass(frozen=True, slots=True)
class Reach(Result):
    """The profile that a tool can leave, and what stays.

    Fields: profile and tool; z [mm], wanted and left, the diameters wanted and left at each z [mm]; standing, the
    pieces left, in order from the chuck; area, of all in the section on one side of the axis [mm^2]; volume [mm^3];
    place and path, how deep the nose comes with its lowest point there: along the axis and its diameter [mm];
    stopped_by, what stops it at each place, a word of `REASONS` or "floor"; system of the text.
    """

    profile: Profile
    tool: TurningTool
    z: Any
    wanted: Any
    left: Any
    standing: tuple[Standing, ...]
    area: Any
    volume: Any
    place: Any
    path: Any
    stopped_by: tuple[str, ...]
    system: str

    @property
    def complete(self) -> bool:
        """Whether nothing stays standing."""
        return not self.standing

    def title(self) -> str:
        """Tool and profile."""
        return f"{self.tool.title()} on an {self.profile.side} profile"

    def facts(self) -> list[tuple[str, str]]:
        """What stays and why."""
        check_system(self.system)
        if self.complete:
            return [("left standing", "nothing: the tool reaches the whole profile")]
        rows = [("left standing", f"{show(self.area, self.system)} of the section")]
        for piece in self.standing:
            times = f"{piece.count} times " if piece.count > 1 else ""
            place = f"{show(piece.start, self.system)} to {show(piece.end, self.system)}"
            rows.append((place, f"{times}{show(piece.area, self.system)}: {piece.why}"))
        return rows

    def columns(self) -> dict[str, Any]:
        """A row a piece."""
        return {
            "start [mm]": [piece.start.m_as(U.mm) for piece in self.standing],
            "end [mm]": [piece.end.m_as(U.mm) for piece in self.standing],
            "area [mm²]": [piece.area.m_as(U.mm2) for piece in self.standing],
            "height [mm]": [piece.height.m_as(U.mm) for piece in self.standing],
            "count": [piece.count for piece in self.standing],
            "reason": [piece.why for piece in self.standing],
        }

    @property
    def working(self) -> Working:
        """The angle, the corner and the depth that decide."""
        nose = self.tool.nose_radius.m_as(U.mm)
        lines = list(self.tool.working)
        if nose > 0 and self.tool.insert != "R":
            lines.append(Line("square corner leaves", "(1 - pi/4) r²", f"(1 - pi/4) × {nose:g}²",
                              f"{0.2146018366 * nose**2:.6g} mm²", "geometry"))  # fmt: skip
        return Working(self.title(), tuple(lines))
