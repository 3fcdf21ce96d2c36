"""Feed and speed of a high-speed steel drill from the printed tables, less in a deep hole."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.door import Door
from latheworks.drilling.asked import drilled, size
from latheworks.materials import pick
from latheworks.results import Result
from latheworks.tables import cite, table
from latheworks.units import Q_, Span, U, show, ureg

FEET = 0.3048


@dataclass(frozen=True, slots=True)
class DrillFeed(Result):
    """Feed and speed of a drill: material; diameter [mm]; feed to use [mm/rev], within feed_range as printed;
    surface_speed to use [m/min], within speed_range; spindle for it [rev/min]; speed_less and feed_less in a deep hole
    [percent]; source."""

    material: str
    diameter: Any
    feed: Any
    feed_range: Span
    surface_speed: Any
    speed_range: Span
    spindle: Any
    speed_less: Any
    feed_less: Any
    source: str

    def title(self) -> str:
        """The drill and the material."""
        return f"{self.material}, {show(self.diameter)} drill of high-speed steel"

    def facts(self) -> list[tuple[str, str]]:
        """Feed and speed, the printed ranges, and what depth takes off."""
        less = [percent.m_as("percent") for percent in (self.speed_less, self.feed_less)]
        return [
            ("feed", f"{show(self.feed)}; printed {self.feed_range}"),
            ("surface speed", f"{show(self.surface_speed)}; printed {self.speed_range}"),
            ("spindle", show(self.spindle)),
            ("for the depth", f"{less[0]:g} % off the speed, {less[1]:g} % off the feed"),
            ("source", self.source),
        ]


def deep_hole(ratio: float) -> tuple[float, float]:
    """What a depth over diameter takes off speed and feed, as shares of 1."""
    found = (0.0, 0.0)
    for row in table("deep_holes"):
        if ratio >= float(row["depth over diameter [1]"]) - 1e-9:
            found = (float(row["speed less [percent]"]) / 100.0, float(row["feed less [percent]"]) / 100.0)
    return found


def feed_row(diameter: float) -> tuple[float, float]:
    """The printed range of feeds of a diameter [mm/rev]."""
    rows = table("drill_feeds")
    row = next((r for r in rows if diameter <= float(r["to [in]"]) * 25.4 + 1e-9), rows[-1])
    return float(row["low feed [in/rev]"]) * 25.4, float(row["high feed [in/rev]"]) * 25.4


def plain_feed(row: Any, diameter: float, depth: float | None) -> tuple[float, float]:
    """Feed [mm/rev] and surface speed [m/min] to use: within the printed range, the middle speed, less when deep."""
    low, high = feed_row(diameter)
    slow, less = deep_hole(0.0 if depth is None else depth / diameter)
    speeds = [float(row[f"{end} speed [ft/min]"]) * FEET for end in ("low", "high")]
    share = float(row["feed share"])
    return (low + share * (high - low)) * (1.0 - less), float(np.mean(speeds)) * (1.0 - slow)


def drill_feed(diameter: Any, material: Any, depth: Any = None) -> DrillFeed:
    """Return the feed and speed of a high-speed steel drill from the printed tables.

    n = 1000 v/(pi D). Feed within the range printed for the diameter, low for hard metals, high for soft ones; speed
    the middle of the range printed for the material. From 3 diameters deep both are less.
    Parameters: diameter [mm, 0.3 to 100]; material, a name of `materials()` or a Material; depth of the hole [mm,
    above 0 to 2000; shallow when not given]. Raises LatheworksError for a wrong dimension or a value outside its
    range. Source: US Navy training manual 14345, read; deep holes, a drill maker's sheet, read; which part of the
    range: common practice.

    >>> found = drill_feed(Q_(0.5, "in"), "steel 1018")
    >>> found.feed.to("in/rev").round(4), found.surface_speed.to("ft/min").round(0)
    (<Quantity(0.0055, 'inch / revolution')>, <Quantity(95.0, 'foot / minute')>)
    """
    with Door("drill_feed") as door:
        d = size(door, diameter)
        row = drilled(door, chosen := pick(door, material))
        deep = None
        if depth is not None:
            deep = door.number(depth, "depth", "mm", above=0, most=2000, example='depth=Q_(50, "mm")')
    f, v = plain_feed(row, d, deep)
    slow, less = deep_hole(0.0 if deep is None else deep / d)
    keys = row["source"] + ("" if "deep_hole_guide" in row["source"] else "+deep_hole_guide")
    return DrillFeed(
        chosen.name, Q_(d, U.mm), Q_(f, U.mm_per_rev), Span(*(Q_(x, U.mm_per_rev) for x in feed_row(d))),
        Q_(v, U.m_per_min), Span(*(Q_(float(row[f"{e} speed [ft/min]"]) * FEET, U.m_per_min) for e in ("low", "high"))),
        Q_(1000.0 * v / (np.pi * d), U.rpm), Q_(100.0 * slow, ureg.percent), Q_(100.0 * less, ureg.percent),
        cite(keys),
    )  # fmt: skip
