"""Profiles and tools for the tests of reach, and a slow closing of its own to compare with."""

import math

import numpy as np

from latheworks.passes import Profile, TurningTool
from latheworks.units import Q_


def mm(value):
    return Q_(value, "mm")


def profile(points, **more):
    return Profile([(mm(z), mm(d)) for z, d in points], **more)


def tool(insert="D", kappa=93, nose=0.4, **more):
    for name in ("shank", "reach", "bar_length", "blade_width"):
        if name in more:
            more[name] = mm(more[name])
    angle = None if kappa is None else Q_(kappa, "degree")
    return TurningTool(insert, angle, None if nose is None else mm(nose), **more)


def blade(width, reach=10, nose=0.0, **more):
    return tool(None, None, nose, blade_width=width, reach=reach, **more)


def outline(made, dz, shank_too=True):
    """The lowest height of a tool's metal over dz, from the tool's own words, not from its pieces.

    Insert: a wedge of two lines, shrunk by the nose radius and grown again by a ball. Blade: a box, likewise. Shank: a
    box at `reach`, as wide as the shank from the front of the nose.
    """
    r = made.nose_radius.m_as("mm")
    grid = np.linspace(-40, 40, 16001)
    if made.entering_angle is None:
        half = r if made.blade_width is None else made.blade_width.m_as("mm") / 2
        core = np.where(np.abs(grid) <= half - r + 1e-9, 0.0, np.inf)
        front = half
    else:
        kappa, eps = made.entering_angle.m_as("degree"), made.insert_angle.m_as("degree")
        behind = math.tan(math.radians(180 - kappa - eps))
        ahead = math.tan(math.radians(kappa)) if kappa < 90 else np.inf
        with np.errstate(invalid="ignore"):
            core = np.where(grid >= -1e-9, grid * behind, -grid * ahead)
        front = r
    if made.hand == "left":
        core = core[::-1]
    height = np.full(dz.size, np.inf)
    for u, v in zip(grid[np.isfinite(core)], core[np.isfinite(core)], strict=True):
        near = np.abs(dz - u) <= r + 1e-9
        height[near] = np.minimum(height[near], v + r - np.sqrt(np.maximum(r**2 - (dz[near] - u) ** 2, 0)))
    shank, reach = made.shank.m_as("mm"), made.reach.m_as("mm")
    low, high = {"right": (-front, shank - front), "left": (front - shank, front), "neutral": (-shank / 2, shank / 2)}[
        made.hand
    ]  # fmt: skip
    if made.entering_angle is not None and made.hand != "neutral":
        low, high = (0, shank) if made.hand == "right" else (-shank, 0)
    if not shank_too:
        reach = np.inf
    under = (dz >= low - 1e-9) & (dz <= high + 1e-9)
    beyond = (dz > high + 1e-9) if made.hand != "left" else (dz < low - 1e-9)
    height[beyond] = np.inf  # nothing of the tool is wider than its shank
    return np.where(under, np.minimum(height, reach), np.where(height > reach, np.inf, height))


def slow_closing(z, f, made):
    """Every place for the tool on an even grid, its nose over the outline, one after another; a shank cuts nothing."""
    step = z[1] - z[0]
    over = int(25 / step)
    dz = np.arange(-over, over + 1) * step
    t, cut = outline(made, dz), outline(made, dz, False)
    half = (made.nose_radius if made.blade_width is None else made.blade_width / 2).m_as("mm")
    cut[cut > made.reach.m_as("mm")] = np.inf
    wide = np.concatenate([np.full(over, -np.inf), f, np.full(over, -np.inf)])
    left = np.full(wide.size, np.inf)
    offsets = np.arange(-over, over + 1)
    for place in range(over - int(half / step), wide.size - over + int(half / step)):
        at = place + offsets
        good = (at >= 0) & (at < wide.size)
        low = np.max(wide[at[good]] - t[good])
        left[at[good]] = np.minimum(left[at[good]], low + cut[good])
    return left[over:-over]
