"""What `turning_passes` returns: every pass with what it takes, what limits it, and the sums."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.passes.profile import Profile
from latheworks.passes.turning_chips import ChipVolume
from latheworks.results import Result
from latheworks.units import U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True, eq=False)
class TurningPlan(Result):
    """The passes that turn a profile, in order.

    Fields: profile; material; kinds, "rough", "semi-finish" or "finish" for each pass; arrays, a value a pass:
    before and after, diameters (of a pass along the profile: over and at its deepest place) [mm], depth [mm], start
    and end from the chuck [mm], spindle and surface_speed at the largest diameter [rev/min, m/min], feed [mm/rev],
    tangential force [N], torque [N m], power at the work [kW], removal_rate [cm^3/min], volume [cm^3], cutting_time
    with approach, idle_time of return and setting [min]; limited_by, the limit that is nearest, in words, and
    depth_limit [mm] under it; limits, (name, depth) under every limit at the first cut, and allowed, the same for each
    pass, the name to the depth [mm], those that are met before the tool's own depth; entered_from_above, the numbers
    of passes that begin in the solid; constant, "surface speed" or "turns"; finish_allowance on the radius [mm];
    chips, the room that all chips take, None where unknown; notes; system.
    """

    profile: Profile
    material: str
    kinds: tuple[str, ...]
    before: Any
    after: Any
    depth: Any
    start: Any
    end: Any
    spindle: Any
    surface_speed: Any
    feed: Any
    tangential: Any
    torque: Any
    power: Any
    removal_rate: Any
    volume: Any
    cutting_time: Any
    idle_time: Any
    limited_by: tuple[str, ...]
    depth_limit: Any
    limits: tuple[tuple[str, Any], ...]
    allowed: tuple[dict[str, Any], ...]
    entered_from_above: tuple[int, ...]
    constant: str
    finish_allowance: Any
    chips: ChipVolume | None
    notes: tuple[str, ...]
    system: str

    @property
    def passes(self) -> int:
        """How many passes."""
        return len(self.kinds)

    @property
    def time(self) -> Any:
        """Cutting, return and setting together [min]."""
        return (self.cutting_time + self.idle_time).sum()

    @property
    def removed(self) -> Any:
        """The metal cut [cm^3]."""
        return self.volume.sum()

    @property
    def limit(self) -> str:
        """What limits the first cut."""
        return self.limited_by[0]

    def title(self) -> str:
        """What is turned in how many passes."""
        return f"{self.profile.side} turning of {self.material}, {self.passes} passes"

    def facts(self) -> list[tuple[str, str]]:
        """Passes, limits, time and chips."""
        count = {kind: self.kinds.count(kind) for kind in dict.fromkeys(self.kinds)}
        named = ", ".join(f"{name} {show(depth, self.system)}" for name, depth in self.limits)
        rough = self.depth[np.array([kind == "rough" for kind in self.kinds])]
        facts = [
            ("stock", show(self.profile.stock, self.system)),
            ("passes", ", ".join(f"{number} {kind}" for kind, number in count.items())),
            ("depth limits at first", named),
            ("limited by", self.limit),
        ]
        if rough.size:
            facts.append(("roughing depth", f"up to {show(rough.max(), self.system)} on the radius"))
        facts += [
            ("finish allowance", f"{show(self.finish_allowance, self.system)} on the radius"),
            ("constant", self.constant),
            ("greatest power", show(self.power.max(), self.system)),
            ("time", f"{self.time.m_as('min'):.2f} min, of which {self.cutting_time.sum().m_as('min'):.2f} min in cut"),
            ("metal cut", f"{self.removed.m_as('cm**3'):.1f} cm³"),
        ]
        facts += [] if self.chips is None else [("chips", f"{self.chips.facts()[2][1]}, {self.chips.kind}")]
        return [*facts, *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """A row a pass."""
        length, unit = ("mm", "mm") if self.system == "metric" else ("in", "in")
        return {
            "pass": list(self.kinds),
            f"before [{unit}]": self.before.m_as(length),
            f"after [{unit}]": self.after.m_as(length),
            f"depth [{unit}]": self.depth.m_as(length),
            f"from [{unit}]": self.end.m_as(length),
            f"to [{unit}]": self.start.m_as(length),
            "spindle [rev/min]": self.spindle.m_as(U.rpm),
            "power [kW]": self.power.m_as("kW"),
            "removal [cm³/min]": self.removal_rate.m_as("cm**3/min"),
            "time [min]": (self.cutting_time + self.idle_time).m_as("min"),
            "limited by": list(self.limited_by),
        }

    @property
    def working(self) -> Working:
        """The first pass by hand."""
        before, after = self.before[0].m_as(U.mm), self.after[0].m_as(U.mm)
        n, f = self.spindle[0].m_as(U.rpm), self.feed[0].m_as(U.mm_per_rev)
        force, torque, q = self.tangential[0].m_as(U.N), self.torque[0].m_as("N*m"), self.removal_rate[0]
        arm = (before + after) / 4
        path = self.cutting_time[0].m_as(U.min) * f * n
        lines = [
            Line("T", "Fc x radius of the chip's middle", f"{force:.1f} x {arm:.3f} / 1000", f"{torque:.2f} N m",
                 "mechanics"),
            Line("P", "2 pi n T / 60", f"2 pi x {n:.0f} x {torque:.2f} / 60000", f"{self.power[0].m_as('kW'):.3f} kW",
                 "mechanics"),
            Line("Q", "pi/4 |D² - d²| f n", f"pi/4 x |{before:.3f}² - {after:.3f}²| x {f:g} x {n:.0f} / 1000",
                 f"{q.m_as('cm**3/min'):.2f} cm³/min", "geometry"),
            Line("t", "(length + approach) / (f n)", f"{path:.2f} / ({f:g} x {n:.0f})",
                 f"{self.cutting_time[0].m_as(U.min):.3f} min", "geometry"),
        ]  # fmt: skip
        # Of a pass along the profile the first two lines hold at its largest place, the last two are sums.
        return Working(f"{self.title()}: the first pass", tuple(lines) if self.kinds[0] == "rough" else ())
