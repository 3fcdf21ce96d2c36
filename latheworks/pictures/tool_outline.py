"""A lathe tool in plan, to scale: the insert true to its letter or a blade, and the shank or bar that carries it."""

import math
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.drafting import box

# Diameter of the circle within the insert's edges [mm]: a size of small inserts, for the picture alone.
INSCRIBED = 6.35
_ROUND = np.linspace(0.0, 2.0 * math.pi, 73)


@dataclass(frozen=True)
class ToolShape:
    """What the picture needs of a tool: sizes in mm, angles in degrees; `entering` is None for what has no corner.

    `nose` is the radius of the nose, or of a blade's corners; `reach` is how far the tip stands out of the shank or
    bar, `bar` the free length of a bar, None for a tool on a shank.
    """

    name: str
    insert: str | None
    entering: float | None
    angle: float
    nose: float
    width: float | None
    reach: float
    shank: float
    hand: str
    bar: float | None

    @property
    def back(self) -> float | None:
        """The angle of the back edge to the axis [deg]; None for a blade and a round insert."""
        return None if self.entering is None else 180.0 - self.entering - self.angle


def rounded(points: np.ndarray, radius: float) -> np.ndarray:
    """A closed shape, counterclockwise, with all of its corners rounded."""
    if radius == 0.0:
        return points
    arcs = []
    for before, here, after in zip(np.roll(points, 1, axis=0), points, np.roll(points, -1, axis=0), strict=True):
        back, on = before - here, after - here
        back, on = back / np.hypot(*back), on / np.hypot(*on)
        half = math.acos(float(np.clip(back @ on, -1, 1))) / 2
        middle = here + radius / math.sin(half) * (back + on) / np.hypot(*(back + on))
        start, stop = here + radius / math.tan(half) * back - middle, here + radius / math.tan(half) * on - middle
        first = math.atan2(start[1], start[0])
        sweep = (math.atan2(stop[1], stop[0]) - first) % (2 * math.pi)
        turned = first + np.linspace(0.0, sweep, 13)
        arcs.append(middle + radius * np.column_stack([np.cos(turned), np.sin(turned)]))
    return np.concatenate(arcs)


def outline(tool: ToolShape, tall: float) -> tuple[np.ndarray, np.ndarray]:
    """The tip, insert or blade, and the body behind it, as closed shapes; the lowest point of the nose at (0, 0).

    `tall` is how far the shank is drawn; a bar is drawn whole.
    """
    tip, body = _blade(tool) if tool.entering is None else _pointed(tool)
    if tool.hand == "left":
        tip, body = tip * (-1, 1), body * (-1, 1)
    if tool.bar is not None:
        return tip, box(0.0, tool.reach, tool.bar, tool.reach + tool.shank)
    high = np.where(np.isinf(body[:, 1]), tall, body[:, 1])
    return tip, np.column_stack([body[:, 0], high])


def _pointed(tool: ToolShape) -> tuple[np.ndarray, np.ndarray]:
    """The rhombus or triangle on its nose, and the head that carries it."""
    assert tool.entering is not None
    assert tool.back is not None
    angle, back, front = (math.radians(value) for value in (tool.angle, tool.back, 180.0 - tool.entering))
    corner = np.array([0.0, tool.nose]) - tool.nose / math.sin(angle / 2) * _along(back + angle / 2)
    long = INSCRIBED * math.tan(math.radians(60)) if tool.insert == "T" else INSCRIBED / math.sin(angle)
    behind, ahead = corner + long * _along(back), corner + long * _along(front)
    points = [corner, behind, ahead] if tool.insert == "T" else [corner, behind, behind + ahead - corner, ahead]
    wide = tool.shank / 2 if tool.hand == "neutral" else tool.shank
    left = -wide if tool.hand == "neutral" else min(0.0, float(ahead[0]))
    # The head follows the edges of the insert as far as the reach: where a tool is that is what it is computed with.
    meets = [corner + (tool.reach - corner[1]) / math.sin(way) * _along(way) for way in (back, front)]
    ends = [end if end[1] < tool.reach else meet for end, meet in zip((behind, ahead), meets, strict=True)]
    inside = [min(float(meets[0][0]), wide), max(float(meets[1][0]), left)]
    body = [ends[0], (inside[0], tool.reach), (wide, tool.reach), (wide, math.inf), (left, math.inf),
            (left, tool.reach), (inside[1], tool.reach), ends[1]]  # fmt: skip
    return rounded(np.array(points), tool.nose), np.array(body, dtype=float)


def _blade(tool: ToolShape) -> tuple[np.ndarray, np.ndarray]:
    """A blade with its corners, or a round insert on its neck, and the shank."""
    r, half = tool.nose, (tool.width or 2 * tool.nose) / 2
    if tool.width is None:
        tip = np.column_stack([r * np.sin(_ROUND), r - r * np.cos(_ROUND)])
    else:
        corner = np.linspace(0, math.pi / 2, 9)
        right = np.column_stack([half - r + r * np.sin(corner), r - r * np.cos(corner)])
        tip = np.concatenate([right, [(half, tool.reach), (-half, tool.reach)], (right * (-1, 1))[::-1]])
    low, high = (-tool.shank / 2, tool.shank / 2) if tool.hand == "neutral" else (-half, tool.shank - half)
    neck = 0.7 * half if tool.width is None else half
    body = [(neck, r), (neck, tool.reach), (high, tool.reach), (high, math.inf), (low, math.inf), (low, tool.reach),
            (-neck, tool.reach), (-neck, r)]  # fmt: skip
    return tip, np.array(body)


def _along(angle: float) -> np.ndarray:
    return np.array([math.cos(angle), math.sin(angle)])
