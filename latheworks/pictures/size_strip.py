"""Sizes against their limits, a row each: every tolerance is drawn equally wide, and what is likely lies across it."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from latheworks.pictures.drafting import Sheet, box
from latheworks.pictures.plan_data import SizeLine
from latheworks.pictures.style import FILL, INK

ROWS = 10
_BEYOND = 0.45  # shares of a tolerance that are drawn beyond its limits


class SizeStrip:
    """Rows of sizes; one that is not there yet has no bar, one outside its limits is hatched and says so."""

    def __init__(self, canvas: Any, axes: Any, name: str) -> None:
        self._canvas, self.axes, self._name = canvas, axes, name
        canvas.limits(axes, (-_BEYOND, 1 + _BEYOND), (-ROWS + 0.02, 0.0))
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        self.heading = still.words(fixed=True, across="left", up="bottom", backed=False)
        self.heading.set_position((0.0, 1.01))
        self.zone = still.area("limit", "limit", width=0.0)
        self.limits = still.line("limit", width=1.6)
        self.middle = still.line("quiet", "center line", 0.7)
        self.names = [still.words(across="right", backed=False) for _ in range(ROWS)]
        self.good = top.shapes("outline", 1.0)
        self.past = top.shapes("result", 1.4, hatch="////")
        self.kept = top.line("kept", "kept", 1.6)
        self.uses = [top.words(across="left", backed=False) for _ in range(ROWS)]

    def put(self, rows: Sequence[SizeLine | None], at: int, kept: Sequence[SizeLine | None] | None,
            heading: str, names: bool = True) -> None:  # fmt: skip
        """Draw the rows as they stand after so many operations; None leaves a row empty."""
        shown = tuple(None if each is None else each.title for each in rows)
        self._canvas.when_changed(self._name, (shown, heading, names), lambda: self._rest(rows, heading, names))
        bars: dict[bool, list[np.ndarray]] = {True: [], False: []}
        for i, words in enumerate(self.uses):
            each = rows[i] if i < len(rows) else None
            words.set_text("" if each is None else _said(each, at))
            if each is None:
                continue
            words.set_position((1 + _BEYOND + 0.03, -i - 0.5))
            over = each.use is not None and each.use > 1.0
            words.set_color(INK["result" if over and _there(each, at) else "outline"])
            if _there(each, at):
                left, right = _ends(each)
                bars[not over].append(box(left, -i - 0.8, max(right, left + 0.01), -i - 0.2))
        for artist, good, fill in ((self.good, True, "work"), (self.past, False, "result")):
            artist.set_verts(bars[good])
            artist.set_facecolor(FILL[fill])
        self._draw_kept(kept)

    def _rest(self, rows: Sequence[SizeLine | None], heading: str, names: bool) -> None:
        count = len(rows)
        self.heading.set_text(heading)
        self.zone.set_xy(box(0, -count, 1, 0))
        self.limits.set_data([0, 0, math.nan, 1, 1], [0, -count, math.nan, 0, -count])
        self.middle.set_data([0.5, 0.5], [0, -count])
        for i, words in enumerate(self.names):
            each = rows[i] if i < count and names else None
            words.set_text("" if each is None else each.title)
            words.set_position((-_BEYOND - 0.03, -i - 0.5))

    def _draw_kept(self, kept: Sequence[SizeLine | None] | None) -> None:
        across, up = [], []
        for i, each in enumerate(kept or ()):
            if each is None or each.got is None:
                continue
            left, right = _ends(each)
            across += [left, right, right, left, left, math.nan]
            up += [-i - 0.92, -i - 0.92, -i - 0.08, -i - 0.08, -i - 0.92, math.nan]
        self.kept.set_data(across, up)


def _there(each: SizeLine, at: int) -> bool:
    return each.got is not None and each.made is not None and each.made <= at


def _ends(each: SizeLine) -> tuple[float, float]:
    """The likely spread in shares of the tolerance, cut at the edges of the strip."""
    assert each.got is not None
    left, right = (min(max(each.share(value), -_BEYOND), 1 + _BEYOND) for value in each.got)
    return left, right


def _said(each: SizeLine, at: int) -> str:
    """How a size stands, in two words."""
    if each.made is None:
        return "never made"
    if each.made > at:
        return "not yet"
    if each.use is None:
        return "not known"
    # A share that is capped says no more than that it is far out.
    share = f"{100 * each.use:.0f} %" if each.use < 10 else "over 1000 %"
    return f"{share}, out" if each.use > 1.0 else share


def rows_of(sizes: Sequence[SizeLine], most: int = ROWS) -> list[SizeLine]:
    """The sizes with limits that fit on the strip, those that use most, as they are made; what is never made first."""
    limited = [each for each in sizes if each.low is not None or each.high is not None]
    grave = sorted(limited, key=lambda each: -math.inf if each.use is None else -each.use)[:most]
    return sorted(grave, key=lambda each: (-1 if each.made is None else each.made, limited.index(each)))
