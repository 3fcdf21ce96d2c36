"""A tool's lower outline, piece by piece, on plain floats in mm and degrees.

The outline is taken from the lowest point of the nose: `dz` along the axis, away from the chuck, and the height above
that point. Pieces may overlap; the outline is the lowest of those at hand. Front is where a right-hand tool feeds to,
at negative dz. A piece is a straight line, or the lower half of a circle, between `start` and `end`.
"""

import math
from dataclasses import dataclass, replace

import numpy as np


@dataclass(frozen=True, slots=True)
class Part:
    """One piece: what of the tool it is, dz from start to end, and its height: of a line at dz = 0, of an arc at the
    bottom; slope of a line, or radius and center (its dz) of an arc."""

    name: str
    start: float
    end: float
    height: float
    slope: float = 0.0
    radius: float = 0.0
    center: float = 0.0

    def over(self, dz: np.ndarray) -> np.ndarray:
        """Height of the piece at dz; beyond its own ends by a hair at most."""
        if self.radius == 0.0:
            return self.height + self.slope * dz
        aside = dz - self.center
        return self.height + self.radius - np.sqrt(np.maximum(self.radius**2 - aside**2, 0.0))

    def mirrored(self) -> "Part":
        """The piece of a left-hand tool."""
        return replace(self, start=-self.end, end=-self.start, slope=-self.slope, center=-self.center)


def pointed(entering: float, insert: float, nose: float, reach: float, shank: float, hand: str,
            bar: float | None) -> tuple[Part, ...]:  # fmt: skip
    """The nose arc, the back edge, a leading edge below 90 degrees, and the shank or the bar behind them."""
    back = 180.0 - entering - insert
    ahead, ahead_end = _edge(entering, nose, reach)
    behind, behind_end = _edge(back, nose, reach)
    parts = [Part("nose", -_touch(entering, nose), _touch(back, nose), 0.0, radius=nose)]
    if nose == 0.0:
        parts = [Part("nose", 0.0, 0.0, 0.0)]
    if ahead is not None:
        parts.append(Part("front", -ahead_end, -_touch(entering, nose), ahead[0], -ahead[1]))
    # The body is as wide as the shank, from the foremost point of the nose backwards; of a neutral tool, both ways.
    body = shank / 2 if hand == "neutral" else shank
    if behind is not None:
        parts.append(Part("back", _touch(back, nose), behind_end if bar else min(behind_end, body), *behind))
    if bar is None and behind_end < body:
        parts.append(Part("holder", behind_end, body, reach))
    if bar is None and hand == "neutral" and ahead_end < body:
        parts.append(Part("holder", -body, -ahead_end, reach))
    return _handed(parts, hand, reach, bar)


def blade(width: float, corner: float, reach: float, shank: float, hand: str, bar: float | None) -> tuple[Part, ...]:
    """Two corners and a floor between them; a round nose has corners alone."""
    half = width / 2
    flat = half - corner
    parts = []
    if corner > 0.0:
        parts += [Part("nose", -half, -flat, 0.0, radius=corner, center=-flat),
                  Part("nose", flat, half, 0.0, radius=corner, center=flat)]  # fmt: skip
    if flat > 0.0:
        parts.append(Part("floor", -flat, flat, 0.0))
    if bar is None:
        ends = (-shank / 2, shank / 2) if hand == "neutral" else (-half, shank - half)
        if ends[0] < -half:
            parts.append(Part("holder", ends[0], -half, reach))
        if ends[1] > half:
            parts.append(Part("holder", half, ends[1], reach))
    return _handed(parts, hand, reach, bar)


def _touch(angle: float, nose: float) -> float:
    """How far from the lowest point the nose arc goes over into an edge at this angle to the axis."""
    return nose * math.sin(math.radians(min(angle, 90.0)))


def _edge(angle: float, nose: float, reach: float) -> tuple[tuple[float, float] | None, float]:
    """(height at dz = 0, slope) of an edge's line, None for an upright one, and where it comes to the shank."""
    if angle >= 90.0 - 1e-9:
        return None, nose
    steep = math.radians(angle)
    foot = _touch(angle, nose)
    start = nose * (1.0 - math.cos(steep)) - foot * math.tan(steep)
    return (start, math.tan(steep)), max(foot, (reach - start) / math.tan(steep))


def _handed(parts: list[Part], hand: str, reach: float, bar: float | None) -> tuple[Part, ...]:
    """Turned about for a left-hand tool; a bar always comes out of the hole, whatever the insert's hand."""
    if hand == "left":
        parts = [part.mirrored() for part in parts]
    if bar is not None:
        parts.append(Part("bar", 0.0, bar, reach))
    return tuple(parts)


def extent(parts: tuple[Part, ...]) -> tuple[float, float]:
    """How far nose and floor reach before and behind the lowest point [mm, both positive]."""
    cutting = [part for part in parts if part.name in ("nose", "floor")]
    return -min(part.start for part in cutting), max(part.end for part in cutting)
