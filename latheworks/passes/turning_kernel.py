"""Times and stretches of turning on plain floats: mm, min, m/min, rev/min.

A profile is seen as `z` from the chuck outward and a height of material under the tool: the radius outside, and the
radius with its sign changed in a bore, so that a cut always lowers the height (as in `profile_outline.height`).
"""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

Floats = np.ndarray[Any, np.dtype[np.float64]]
# Below this two heights or places are the same [mm].
SAME = 1e-9


class Turns(NamedTuple):
    """How the spindle turns: surface [m/min] held between least and most [rev/min]; with surface 0 always at most."""

    surface: float
    least: float
    most: float


def turns_at(turns: Turns, diameter: Any) -> Any:
    """The spindle at a diameter [rev/min]: n = 1000 v/(pi D) within its clamp, or the constant one."""
    size = np.asarray(diameter, dtype=float)
    if not turns.surface:
        return np.full_like(size, turns.most)[()]
    wanted = 1000.0 * turns.surface / (np.pi * np.maximum(size, 1e-12))
    return np.clip(wanted, turns.least, turns.most)[()]


def clamp_diameter(turns: Turns) -> float:
    """The diameter below which the fastest spindle cannot keep the surface speed up [mm]; 0 for constant turns."""
    return 1000.0 * turns.surface / (math.pi * turns.most)


def minutes(turns: Turns, path: Any, feed: float, first: Any, last: Any) -> Any:
    """Time to cut a path while the diameter goes evenly from first to last [min], exact with both ends of the clamp.

    t = path/f x mean of 1/n, and 1/n = pi D/(1000 v) between 1/most and 1/least: an integral in three pieces.
    """
    path, first, last = np.broadcast_arrays(*(np.asarray(x, dtype=float) for x in (path, first, last)))
    if not turns.surface:
        return (path / (feed * turns.most))[()]
    per_mm, quick, slow = math.pi / (1000.0 * turns.surface), 1.0 / turns.most, 1.0 / turns.least
    low, high = quick / per_mm, slow / per_mm

    def area(size: Floats) -> Floats:
        middle = np.clip(size, low, high)
        return quick * np.minimum(size, low) + per_mm / 2 * (middle**2 - low**2) + slow * np.maximum(size - high, 0.0)

    change = last - first
    even = np.abs(change) <= 1e-7 * np.maximum(np.abs(first), 1.0)
    mean = np.where(even, np.clip(per_mm * (first + last) / 2, quick, slow),
                    (area(last) - area(first)) / np.where(even, 1.0, change))  # fmt: skip
    return (path / feed * mean)[()]


def cut_below(z: Floats, height: Floats, level: float) -> tuple[Floats, Floats, Floats, Floats]:
    """The parts of a profile that do not rise above a level: z from and to, height from and to, walls among them."""
    z0, z1, h0, h1 = z[:-1], z[1:], height[:-1], height[1:]
    rise = h1 - h0
    where = np.clip((level - h0) / np.where(rise == 0.0, 1.0, rise), 0.0, 1.0)
    start = np.where(h0 > level + SAME, where, 0.0)
    end = np.where(h1 > level + SAME, where, 1.0)
    keep = np.minimum(h0, h1) <= level + SAME
    za, zb = z0 + start * (z1 - z0), z0 + end * (z1 - z0)
    ha, hb = h0 + start * rise, h0 + end * rise
    return za[keep], zb[keep], ha[keep], hb[keep]


def stretches(z: Floats, height: Floats, level: float, wall: float = 0.0) -> list[tuple[float, float]]:
    """Where a cut at a level passes over the profile, from and to [mm], kept `wall` away from what rises above it.

    The free end is open, and so is the near end, where the turning stops.
    """
    za, zb, _, _ = cut_below(z, height, level)
    wide = zb > za + SAME
    za, zb = za[wide], zb[wide]
    if not za.size:
        return []
    breaks = np.flatnonzero(za[1:] > zb[:-1] + SAME)
    starts, ends = za[np.concatenate([[0], breaks + 1])], zb[np.concatenate([breaks, [zb.size - 1]])]
    starts = np.where(starts > z[0] + SAME, starts + wall, starts)
    ends = np.where(ends < z[-1] - SAME, ends - wall, ends)
    return [(float(a), float(b)) for a, b in zip(starts, ends, strict=True) if b > a + SAME]


def ring(za: Floats, zb: Floats, ha: Floats, hb: Floats, level: float) -> float:
    """Volume between a cylinder of height `level` and pieces of a profile below it [mm^3]."""
    return float(abs(math.pi * np.sum((zb - za) * (level**2 - (ha**2 + ha * hb + hb**2) / 3.0))))


def shelves(z: Floats, height: Floats, level: float, allowance: float) -> list[float]:
    """The heights at which roughing must arrive, from the top down: every cylinder, and the lowest point [mm]."""
    flat = (np.diff(z) > SAME) & (np.abs(np.diff(height)) <= SAME)
    targets = np.unique(np.round(np.append(height[1:][flat], height.min()) + allowance, 9))[::-1]
    return [float(target) for target in targets if target < level - SAME]


def slopes_below(z: Floats, height: Floats, level: float) -> bool:
    """Whether any taper or curve lies under a level, where straight cuts leave a stair."""
    sloped = (np.diff(z) > SAME) & (np.abs(np.diff(height)) > SAME)
    return bool((np.minimum(height[:-1], height[1:])[sloped] < level - SAME).any())
