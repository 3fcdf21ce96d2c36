"""The shapes of a hole being drilled: the walls it leaves, the drill in it, and the chips in its flutes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

# A twist drill's flutes wind about 30 degrees to its axis.
_WIND = math.tan(math.radians(30.0))
_HAIR = 1e-6
_CONE = np.linspace(0.0, 1.0, 25)
_CURL = np.linspace(0.5, 5.5, 9)


@dataclass(frozen=True)
class Hollow:
    """A drilled hole along the part, from the end at its mouth to its tip; all in mm, x from the headstock end.

    `mouth` and `tip` are where it begins and ends, `radius` its own, `point` the length of its cone; its middle is
    `off` at the tip and `off_mouth` at the mouth.
    """

    mouth: float
    tip: float
    radius: float
    point: float
    off_mouth: float = 0.0
    off: float = 0.0

    @property
    def way(self) -> float:
        """1 where it was drilled from the headstock end, -1 from the tailstock."""
        return 1.0 if self.tip >= self.mouth else -1.0

    @property
    def breaks(self) -> np.ndarray:
        """Where its outline turns."""
        inside = min(self.point, abs(self.tip - self.mouth))
        # Along the cone a few more, for a smaller hole may come out of it anywhere.
        return np.array([self.mouth, *(self.tip - self.way * inside * _CONE)])

    def radii(self, x: np.ndarray) -> np.ndarray:
        """Its radius at each place; nothing outside it."""
        deep = self.way * (self.tip - x)
        open_ = (deep > 0) & (self.way * (x - self.mouth) >= -_HAIR)
        cone = np.clip(deep / self.point, 0.0, 1.0) if self.point > 0 else 1.0
        return np.where(open_, self.radius * cone, 0.0)

    def middle(self, x: np.ndarray) -> np.ndarray:
        """Its middle at each place."""
        whole = self.tip - self.mouth
        share = (x - self.mouth) / whole if whole else np.zeros_like(x)
        return self.off_mouth + (self.off - self.off_mouth) * share


def hollowed(hollows: Sequence[Hollow], left: float, right: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Places from left to right, and the upper and lower edge of all holes together there; 0 and 0 where none is."""
    turns = np.concatenate([hollow.breaks for hollow in hollows]) if hollows else np.zeros(0)
    x = np.concatenate([[left, right], turns - _HAIR, turns + _HAIR])
    x = np.unique(np.clip(x, left, right))
    top, bottom = np.zeros_like(x), np.zeros_like(x)
    for hollow in hollows:
        radius, middle = hollow.radii(x), hollow.middle(x)
        wide = radius > 0
        top = np.where(wide, np.maximum(np.where(top > bottom, top, -np.inf), middle + radius), top)
        bottom = np.where(wide, np.minimum(np.where(bottom < 0, bottom, np.inf), middle - radius), bottom)
    return x, top, bottom


def edges(x: np.ndarray, top: np.ndarray, bottom: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The outline of the hole as one line, broken where there is none."""
    seen = top > bottom
    line_x = np.where(seen, x, np.nan)
    return np.concatenate([line_x, [np.nan], line_x]), np.concatenate([top, [np.nan], bottom])


def drill_body(radius: float, point: float, end: float) -> np.ndarray:
    """A drill's outline, its tip at 0, its body to the right until `end`."""
    return np.array([(0.0, 0.0), (point, radius), (end, radius), (end, -radius), (point, -radius)])


def flute_edges(radius: float, point: float, end: float) -> tuple[np.ndarray, np.ndarray]:
    """The edges of the two flutes on the side that is seen, from the point until `end`, as one broken line."""
    lead = 2.0 * math.pi * radius / _WIND
    x = np.linspace(0.0, end, max(int(40 * end / lead), 12))
    parts_x: list[Any] = []
    parts_y: list[Any] = []
    for phase in (0.0, 0.9, math.pi, math.pi + 0.9):
        turn = 2.0 * math.pi * x / lead + phase
        y = radius * np.cos(turn)
        # In front, and not beyond the lips.
        seen = (np.sin(turn) >= 0.0) & (x >= point * np.abs(y) / radius)
        parts_x += [np.where(seen, x, np.nan), [np.nan]]
        parts_y += [y, [np.nan]]
    return np.concatenate(parts_x), np.concatenate(parts_y)


def chip_curls(radius: float, point: float, filled: float, most: int = 40) -> tuple[np.ndarray, np.ndarray]:
    """Curled chips in the flutes from the point until `filled`, as one broken line."""
    if filled <= 0:
        return np.array([np.nan]), np.array([np.nan])
    lead = 2.0 * math.pi * radius / _WIND
    step = 0.42 * radius
    places = point + step * np.arange(min(int(filled / step) + 1, most))
    parts_x: list[Any] = []
    parts_y: list[Any] = []
    for phase in (0.45, math.pi + 0.45):
        turn = 2.0 * math.pi * places / lead + phase
        for at, y in zip(places[np.sin(turn) >= 0.0], radius * np.cos(turn)[np.sin(turn) >= 0.0], strict=True):
            size = 0.17 * radius
            parts_x += [at + size * np.cos(_CURL + at), [np.nan]]
            parts_y += [0.86 * y + size * np.sin(_CURL + at), [np.nan]]
    return (np.concatenate(parts_x), np.concatenate(parts_y)) if parts_x else (np.array([np.nan]),) * 2
