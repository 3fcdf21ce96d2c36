"""The marks of a shop drawing: sections, center lines, dimensions, words."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.lines import Line2D
from matplotlib.patches import PathPatch, Polygon
from matplotlib.path import Path

from latheworks.pictures.canvas import Canvas
from latheworks.pictures.lettering import Lettering
from latheworks.pictures.style import FILL, INK, LINE

NOWHERE = np.full((3, 2), np.nan)
_BACKING = {"facecolor": "white", "edgecolor": "none", "pad": 0.8, "alpha": 0.85}


class Sheet:
    """One set of axes with the marks to draw on it, in the layer of what moves or of what rests."""

    def __init__(self, canvas: Canvas, axes: Axes, resting: bool = False) -> None:
        self.axes = axes
        self._layer = canvas.resting if resting else canvas.moving

    def line(self, meaning: str, style: str = "outline", width: float = 1.0, **more: Any) -> Line2D:
        """A line in the color of its meaning."""
        artist = Line2D([], [], color=INK[meaning], linestyle=LINE[style], linewidth=width, **more)
        self.axes.add_line(artist)
        return self._layer(artist)

    def center_line(self) -> Line2D:
        """The long and short dashes of an axis."""
        return self.line("quiet", "center line", 0.8)

    def area(self, fill: str | None, edge: str = "outline", hatch: str = "", style: str = "outline",
             width: float = 1.0, alpha: float | None = None) -> Polygon:  # fmt: skip
        """A closed shape; hatched where metal is cut through."""
        artist = Polygon(
            NOWHERE, closed=True, facecolor=FILL[fill] if fill else "none", edgecolor=INK[edge], hatch=hatch,
            linestyle=LINE[style], linewidth=width, alpha=alpha,
        )  # fmt: skip
        self.axes.add_patch(artist)
        return self._layer(artist)

    def shapes(self, edge: str, width: float = 0.8, style: str = "outline", hatch: str = "") -> PolyCollection:
        """Many closed shapes in one artist."""
        artist = PolyCollection([], edgecolors=INK[edge], linewidths=width, linestyles=[LINE[style]], hatch=hatch)
        artist.set_facecolor("none")
        self.axes.add_collection(artist, autolim=False)
        return self._layer(artist)

    def areas(self, fill: str, edge: str, hatch: str = "", width: float = 1.0) -> PathPatch:
        """Many closed shapes alike as one: hatching each of many by itself takes ten times as long."""
        artist = PathPatch(Path(NOWHERE), facecolor=FILL[fill], edgecolor=INK[edge], hatch=hatch, linewidth=width)
        self.axes.add_patch(artist)
        return self._layer(artist)

    def words(self, words: str = "", meaning: str = "outline", across: str = "center", up: str = "center",
              backed: bool = True, fixed: bool = False, **more: Any) -> Any:  # fmt: skip
        """Words in the color of their meaning, never read as a formula; `fixed` places them in shares of the axes."""
        where = self.axes.transAxes if fixed else self.axes.transData
        artist = Lettering(
            0, 0, words, horizontalalignment=across, verticalalignment=up, color=INK[meaning], transform=where,
            parse_math=False, bbox=_BACKING if backed else None, clip_on=False, **more,
        )  # fmt: skip
        self.axes.add_artist(artist)
        return self._layer(artist)

    def dimension(self, meaning: str = "outline", turned: bool = False) -> "Dimension":
        """A dimension line with arrows and its words."""
        return Dimension(self, meaning, turned)


class Dimension:
    """Two arrow heads, the line between them, extension lines, and the size in words."""

    def __init__(self, sheet: Sheet, meaning: str, upright: bool) -> None:
        heads = ("^", "v") if upright else (">", "<")
        self._upright = upright
        self._extend = sheet.line("quiet", width=0.6)
        self._line = sheet.line(meaning, width=0.8)
        self._heads = [sheet.line(meaning, marker=mark, markersize=5, clip_on=False) for mark in heads]
        self.text = sheet.words(meaning=meaning)

    def put(self, start: float, end: float, level: float, words: str, foot: float | None = None,
            at: float | None = None, across: str = "center") -> None:  # fmt: skip
        """Set it from start to end at a level; `foot` is where the extension lines begin, `at` where words stand."""
        middle = (start + end) / 2 if at is None else at
        low = level if foot is None else foot
        along, extend = [start, end], [start, start, np.nan, end, end]
        rise = [low, level, np.nan, low, level]
        for head, tip in zip(self._heads, (end, start), strict=True):
            head.set_data(*(([level], [tip]) if self._upright else ([tip], [level])))
        self._line.set_data(*(([level, level], along) if self._upright else (along, [level, level])))
        self._extend.set_data(*((rise, extend) if self._upright else (extend, rise)))
        self.text.set_position((level, middle) if self._upright else (middle, level))
        self.text.set_ha(across)
        self.text.set_text(words)

    def clear(self) -> None:
        """Take it off the sheet."""
        self.put(np.nan, np.nan, np.nan, "")


def together(shapes: Sequence[np.ndarray]) -> Path:
    """Many closed shapes as one path."""
    return Path.make_compound_path(*(Path(shape, closed=False) for shape in shapes)) if shapes else Path(NOWHERE)


def box(left: float, bottom: float, right: float, top: float) -> np.ndarray:
    """The corners of an upright rectangle."""
    return np.array([(left, bottom), (right, bottom), (right, top), (left, top)])


def between(x: Sequence[float] | np.ndarray, low: Any, high: Any) -> np.ndarray:
    """The closed shape between two curves over the same x."""
    x = np.asarray(x, dtype=float)
    low, high = np.broadcast_to(low, x.shape), np.broadcast_to(high, x.shape)
    return np.column_stack([np.concatenate([x, x[::-1]]), np.concatenate([low, high[::-1]])])
