"""The plan of a groove, as a person reads it."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.parting import CAUTION
from latheworks.passes.profile import Groove
from latheworks.passes.reach_tool import STEEL, TurningTool
from latheworks.results import Result
from latheworks.units import U, check_system, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class GroovePasses(Result):
    """How a blade cuts a groove, of repeated ones the first.

    Fields: groove, tool, material; plunges, where the blade's middle goes in, in order [mm], and widths, what each of
    them takes [mm]; stops, the depths at which a plunge draws back [mm]; depth of the groove on the radius and
    allowance left for the finish [mm]; spindle [rev/min] and surface_speed [m/min]; feed used and feed_asked
    [mm/rev], and feed_reason, why they differ, or nothing; force, the main force on the full width [N]; stress at
    the blade's root [MPa]; sag of its edge below center [mm]; side_bend while it finishes a wall [mm]; time for all of
    the grooves [min]; notes; system of the text.
    """

    groove: Groove
    tool: TurningTool
    material: str
    plunges: Any
    widths: Any
    stops: Any
    depth: Any
    allowance: Any
    spindle: Any
    surface_speed: Any
    feed: Any
    feed_asked: Any
    feed_reason: str
    force: Any
    stress: Any
    sag: Any
    side_bend: Any
    time: Any
    notes: tuple[str, ...]
    system: str

    def title(self) -> str:
        """The groove and the blade."""
        return f"{self.groove.title()} in {self.material}, {self.tool.title()}"

    def facts(self) -> list[tuple[str, str]]:
        """Steps, speed, load and time."""
        system = check_system(self.system)
        pecks = "in one go" if self.stops.size == 1 else f"in {self.stops.size} pecks"
        changed = f" ({show(self.feed_asked, system)} {self.feed_reason})" if self.feed_reason else ""
        rows = [
            ("plunges", f"{self.plunges.size}, each {pecks} to {show(self.stops[-1], system)}"),
            ("left for floor and walls", show(self.allowance, system)),
            ("spindle", f"{show(self.spindle)}, {show(self.surface_speed, system)}"),
            ("feed", f"{show(self.feed, system)}{changed}"),
            ("main force", show(self.force, system)),
            ("stress in the blade", show(self.stress, system)),
            ("edge sinks by", show(self.sag, system, 5 if system == "inch" else 4)),
            ("time", f"{self.time.m_as(U.min):.2f} min for {self.groove.count}"),
        ]
        return [*rows, *(("note", note) for note in self.notes), ("caution", CAUTION)]

    def columns(self) -> dict[str, Any]:
        """A row a plunge."""
        return {
            "plunge": np.arange(1, self.plunges.size + 1),
            "middle of the blade [mm]": self.plunges.m_as(U.mm),
            "width taken [mm]": self.widths.m_as(U.mm),
        }

    @property
    def working(self) -> Working:
        """The load on the blade."""
        force, free = self.force.m_as(U.N), self.tool.reach.m_as(U.mm)
        width, high = self.tool.blade_width.m_as(U.mm), self.tool.shank.m_as(U.mm)
        beam = "a clamped beam, any text on strength of materials"
        return Working(self.title(), (
            Line("sigma", "6 F L / (w h²)", f"6 × {force:.8g} × {free:g} / ({width:g} × {high:g}²)",
                 f"{self.stress.m_as(U.MPa):.4f} MPa", beam),
            Line("y", "4 F L³ / (E w h³)", f"4 × {force:.8g} × {free:g}³ / ({STEEL:g} × {width:g} × {high:g}³)",
                 f"{self.sag.m_as(U.mm):.6e} mm", beam),
        ))  # fmt: skip
