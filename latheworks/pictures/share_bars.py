"""How much of each limit is used, as bars against one line where every limit stands."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.pictures.drafting import Sheet, box
from latheworks.pictures.style import FILL

ROWS = 4
_LIMIT, _MOST = 1.0, 1.5


@dataclass(frozen=True)
class Share:
    """What is used of a limit: its name, the share, and what is used and the limit in words."""

    name: str
    share: float
    used: str
    most: str


class ShareBars:
    """A bar a limit: filled up to what is used, hatched where that is past the limit."""

    def __init__(self, canvas: Any, axes: Any) -> None:
        self.axes = axes
        canvas.limits(axes, (0.0, _MOST + 0.02), (0.0, 1.0))
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        floors = [0.78 - 0.25 * n for n in range(ROWS)]
        title = still.words("used of each limit", fixed=True, across="left", up="bottom")
        title.set_position((0.0, 1.03))
        self.line = still.line("limit", width=2.0)
        lines = [value for floor in floors for value in (floor - 0.02, floor + 0.09, math.nan)]
        self.line.set_data([_LIMIT, _LIMIT, math.nan] * ROWS, lines)
        self.good = top.shapes("limit", 1.0)
        self.past = top.shapes("result", 1.4, hatch="////")
        self.words = [top.words(across="left", up="bottom", backed=False) for _ in range(ROWS)]
        self.kept = top.line("kept", "kept", 1.6)
        self._floors = floors
        # Drawn again over the bars, so that the limit is seen through them.
        self.over = top.line("limit", width=2.0)
        self.over.set_data(*self.line.get_data())

    def put(self, shares: Sequence[Share], kept: Sequence[Share] | None) -> None:
        """Draw what is used."""
        bars: dict[bool, list[np.ndarray]] = {True: [], False: []}
        for floor, words, each in zip(self._floors, self.words, shares, strict=True):
            bars[each.share <= _LIMIT + 1e-9].append(box(0.0, floor, min(each.share, _MOST), floor + 0.07))
            words.set_position((0.0, floor + 0.09))
            words.set_text(f"{each.name} {each.used} of {each.most}")
        self.good.set_verts(bars[True])
        self.good.set_facecolor(FILL["limit"])
        self.past.set_verts(bars[False])
        self.past.set_facecolor(FILL["result"])
        self.kept.set_data([], [])
        if kept is not None:
            at = [value for each in kept for value in (*[min(each.share, _MOST)] * 2, math.nan)]
            up = [value for floor in self._floors for value in (floor - 0.02, floor + 0.09, math.nan)]
            self.kept.set_data(at, up)
