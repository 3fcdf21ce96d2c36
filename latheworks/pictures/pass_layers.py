"""The passes of a turned part as shapes: what each takes off, and the part as it stands after it.

Heights are those of the material under the tool: the radius outside; in a bore, the radius with its sign changed.
"""

from dataclasses import dataclass, field

import numpy as np

ROUGH = "rough"
# Nearer than this two places are the same [mm].
_SAME = 1e-9


@dataclass(frozen=True)
class PassLayers:
    """What the picture needs: lengths and heights in mm, spindle in rev/min, power in kW, times in min.

    `z` and `height` are the wanted profile, `stock` the height before the first pass, `other` the radius of the other
    side of the wall, 0 for a solid bar. Sequences hold a value a pass; `allowed` what each limit would allow, None
    where the tool's own depth is reached first. `shown` is how many passes have been made. `problem` says in words
    what is wrong with the plan, if anything is.
    """

    setup: str
    part: str
    material: str
    inside: bool
    center: bool
    z: np.ndarray
    height: np.ndarray
    stock: float
    other: float
    allowance: float
    constant: str
    kinds: tuple[str, ...]
    before: np.ndarray
    after: np.ndarray
    depth: np.ndarray
    start: np.ndarray
    end: np.ndarray
    spindle: np.ndarray
    surface: np.ndarray
    feed: np.ndarray
    power: np.ndarray
    removal: np.ndarray
    minutes: np.ndarray
    limited_by: tuple[str, ...]
    allowed: tuple[dict[str, float | None], ...]
    tool_depth: float
    chips: tuple[float, float] | None
    shown: int
    problem: str = ""
    notes: tuple[str, ...] = ()
    _stands: dict[int, tuple[np.ndarray, np.ndarray]] = field(default_factory=dict, repr=False, compare=False)

    @property
    def passes(self) -> int:
        """How many passes there are."""
        return len(self.kinds)

    @property
    def now(self) -> int:
        """The pass shown, counted from 0."""
        return self.shown - 1

    @property
    def key(self) -> tuple[object, ...]:
        """All that rests while the passes are stepped through."""
        return (self.setup, self.allowance, self.kinds, tuple(self.after), tuple(self.depth), self.tool_depth)

    @property
    def limit_depth(self) -> float:
        """How deep the pass shown may be."""
        deep = self.allowed[self.now][self.limited_by[self.now]]
        return self.tool_depth if deep is None else deep

    def along(self, which: int) -> bool:
        """Whether a pass, counted from 0, runs along the profile."""
        return self.kinds[which] != ROUGH

    def stands(self, made: int) -> tuple[np.ndarray, np.ndarray]:
        """The outline after so many passes: z, and its height, with steps as two points at one place [mm]."""
        if made not in self._stands:
            self._stands[made] = self._after(made)
        return self._stands[made]

    def layer(self, which: int) -> list[np.ndarray]:
        """What a pass, counted from 0, takes off, as closed shapes [mm]."""
        z, high = self.stands(which)
        _, low = self.stands(which + 1)
        taken = high - low > _SAME
        shapes = []
        for i in range(0, len(z), 2):
            if taken[i] or taken[i + 1]:
                shapes.append(np.array([(z[i], high[i]), (z[i + 1], high[i + 1]), (z[i + 1], low[i + 1]),
                                        (z[i], low[i])]))  # fmt: skip
        return _joined(shapes)

    def removed(self, made: int) -> float:
        """The volume that so many passes take off [mm³]: each piece a cone's stump."""
        z, high = self.stands(0)
        _, low = self.stands(made)

        def squares(height: np.ndarray) -> np.ndarray:
            a, b = height[::2], height[1::2]
            return (a * a + a * b + b * b) / 3.0

        return float(abs(np.pi * np.sum((z[1::2] - z[::2]) * (squares(high) - squares(low)))))

    def _after(self, made: int) -> tuple[np.ndarray, np.ndarray]:
        edges = self._edges()
        near, far = edges[:-1], edges[1:]
        first = np.full(len(near), self.stock)
        last = first.copy()
        for i in range(made):
            inside = (near >= self.start[i] - _SAME) & (far <= self.end[i] + _SAME)
            if self.along(i):
                above = self.allowance if self.kinds[i] != "finish" else 0.0
                middle = (near + far) / 2
                low, high = self._raised(near, middle), self._raised(far, middle)
                first = np.where(inside, np.minimum(first, low + above), first)
                last = np.where(inside, np.minimum(last, high + above), last)
            else:
                first = np.where(inside, np.minimum(first, self.after[i]), first)
                last = np.where(inside, np.minimum(last, self.after[i]), last)
        return np.column_stack([near, far]).ravel(), np.column_stack([first, last]).ravel()

    def _raised(self, place: np.ndarray, middle: np.ndarray) -> np.ndarray:
        """The wanted height at one end of each cell, on the cell's own side of a wall."""
        piece = np.clip(np.searchsorted(self.z, middle, side="right") - 1, 0, len(self.z) - 2)
        z0, z1, h0, h1 = self.z[piece], self.z[piece + 1], self.height[piece], self.height[piece + 1]
        return h0 + (h1 - h0) * (place - z0) / np.where(z1 > z0, z1 - z0, 1.0)

    def _edges(self) -> np.ndarray:
        """Where anything begins, ends or crosses: between two of these every outline is straight."""
        found = [self.z, self.start, self.end]
        levels = np.unique(np.append(self.after, self.stock))
        z0, z1, h0, h1 = self.z[:-1], self.z[1:], self.height[:-1], self.height[1:]
        slope = (z1 > z0 + _SAME) & (np.abs(h1 - h0) > _SAME)
        for above in {0.0, self.allowance}:
            for a, b, ha, hb in zip(z0[slope], z1[slope], h0[slope] + above, h1[slope] + above, strict=True):
                share = (levels - ha) / (hb - ha)
                found.append(a + (b - a) * share[(share > 0) & (share < 1)])
        edges = np.unique(np.round(np.concatenate(found), 9))
        return edges[(edges >= self.z[0] - _SAME) & (edges <= self.z[-1] + _SAME)]


def _joined(cells: list[np.ndarray]) -> list[np.ndarray]:
    """Cells that lie side by side as one shape, so that no line stands between them."""
    runs: list[list[np.ndarray]] = []
    for cell in cells:
        if runs and abs(runs[-1][-1][1, 0] - cell[0, 0]) < _SAME:
            runs[-1].append(cell)
        else:
            runs.append([cell])
    return [
        np.array([point for cell in run for point in cell[:2]] + [point for cell in run[::-1] for point in cell[2:]])
        for run in runs
    ]
