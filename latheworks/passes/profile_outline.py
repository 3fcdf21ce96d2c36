"""The outline of a turned shape as straight pieces between points, on plain floats: z and radius in mm.

Heights: a shape turned from the outside is met by the tool from above, a bore from below; `height` turns both into one
question, material below, tool above, by changing the sign of a bore's radius.
"""

import math
from collections.abc import Mapping

import numpy as np

# Between two points of a rounded corner; the flat between them lies within 0.00015 of the radius from the arc.
ARC_STEP = math.radians(2.0)
Corner = tuple[str, float]  # "chamfer" or "fillet", and its size [mm]


def with_corners(z: np.ndarray, r: np.ndarray, corners: Mapping[int, Corner]) -> tuple[np.ndarray, np.ndarray]:
    """The outline with its corners cut or rounded; raises ValueError, in words, for a corner that does not fit."""
    if not corners:
        return z, r
    points = np.column_stack([z, r])
    taken = np.zeros(len(z))
    made: dict[int, np.ndarray] = {}
    for i, (kind, size) in corners.items():
        if not 0 < i < len(z) - 1:
            raise ValueError(f"point {i} is an end of the profile, not a corner")
        back, on = points[i - 1] - points[i], points[i + 1] - points[i]
        lengths = np.hypot(*back), np.hypot(*on)
        back, on = back / lengths[0], on / lengths[1]
        opening = math.acos(float(np.clip(back @ on, -1.0, 1.0)))
        if math.pi - opening < 1e-6:
            raise ValueError(f"point {i} is no corner: the profile runs straight through it")
        leg = size if kind == "chamfer" else size / math.tan(opening / 2)
        taken[i] = leg
        if kind == "chamfer":
            made[i] = np.array([points[i] + leg * back, points[i] + leg * on])
            continue
        middle = (back + on) / np.hypot(*(back + on))
        center = points[i] + size / math.sin(opening / 2) * middle
        turn = math.pi - opening
        steps = np.linspace(-turn / 2, turn / 2, max(2, math.ceil(turn / ARC_STEP) + 1))
        sense = math.copysign(1.0, back[0] * on[1] - back[1] * on[0])
        away = -middle
        cos, sin = np.cos(-sense * steps), np.sin(-sense * steps)
        arc = np.column_stack([away[0] * cos - away[1] * sin, away[0] * sin + away[1] * cos])
        made[i] = center + size * arc
    sides = np.hypot(np.diff(z), np.diff(r))
    short = np.flatnonzero(taken[:-1] + taken[1:] > sides + 1e-9)
    if short.size:
        raise ValueError(f"the piece from point {short[0]} to {short[0] + 1} is shorter than its corners need")
    parts = [made.get(i, points[i : i + 1]) for i in range(len(z))]
    whole = np.concatenate(parts)
    # Where rounded corners meet, rounding may step back by a hair.
    return np.maximum.accumulate(whole[:, 0]), whole[:, 1]


def with_groove(z: np.ndarray, r: np.ndarray, start: float, width: float, floor: float, inside: bool) -> tuple[
        np.ndarray, np.ndarray, int]:  # fmt: skip
    """The outline with a groove cut in, and the number of its first point; raises ValueError where it cuts nothing."""
    end = start + width
    if start < z[0] - 1e-9 or end > z[-1] + 1e-9:
        raise ValueError(f"the groove from {start:g} to {end:g} mm leaves the profile")
    before, after = z < start - 1e-9, z > end + 1e-9
    within = r[~before & ~after]
    # At a wall the groove keeps the outer of the two heights: the one before it at its start, after it at its end.
    first_in, last_in = int(before.sum()), int((~after).sum()) - 1
    edges = np.interp([start, end], z, r)
    edges[0] = r[first_in] if abs(z[first_in] - start) <= 1e-9 else edges[0]
    edges[1] = r[last_in] if abs(z[last_in] - end) <= 1e-9 else edges[1]
    around = np.concatenate([edges, within])
    if floor <= around.max() if inside else floor >= around.min():
        word = "smaller" if inside else "larger"
        raise ValueError(f"the floor of the groove at {start:g} mm is no {'deeper' if inside else 'lower'} than what "
                         f"it is cut into, {2 * floor:g} mm against {word} sizes")  # fmt: skip
    new_z = np.concatenate([z[before], [start, start, end, end], z[after]])
    new_r = np.concatenate([r[before], [edges[0], floor, floor, edges[1]], r[after]])
    return new_z, new_r, first_in


def flaw(z: np.ndarray, r: np.ndarray) -> tuple[int, str] | None:
    """The first point where an outline turns back or crosses itself, and how; None for a good one."""
    step, rise = np.diff(z), np.diff(r)
    back = np.flatnonzero(step < -1e-12)
    if back.size:
        return int(back[0]) + 1, "stands nearer to the chuck than the point before it, so the profile crosses itself"
    still = np.flatnonzero((np.abs(step) < 1e-12) & (np.abs(rise) < 1e-12))
    if still.size:
        return int(still[0]) + 1, "is the point before it again"
    wall = np.abs(step) < 1e-12
    fold = np.flatnonzero(wall[:-1] & wall[1:] & (rise[:-1] * rise[1:] < 0))
    if fold.size:
        return int(fold[0]) + 2, "runs back along its own wall, so the profile crosses itself"
    return None


def height(r: np.ndarray, inside: bool) -> np.ndarray:
    """Radius as height of material under the tool [mm]."""
    return -r if inside else r


def area_between(z: np.ndarray, low: np.ndarray, high: np.ndarray) -> float:
    """The area between two outlines over the same points [mm^2]."""
    gap = high - low
    return float(np.sum(np.diff(z) * (gap[:-1] + gap[1:])) / 2.0)


def ring_volume(z: np.ndarray, one: np.ndarray, other: np.ndarray) -> float:
    """The volume between two turned outlines over the same points, radii in [mm], each straight between them [mm^3]."""

    def solid(r: np.ndarray) -> float:
        return float(np.sum(np.diff(z) * (r[:-1] ** 2 + r[:-1] * r[1:] + r[1:] ** 2)) * math.pi / 3.0)

    return abs(solid(one) - solid(other))
