"""The drawing surface: one figure kept, its background kept, only what moved drawn again, and a quick PNG."""

import math
import struct
import zlib
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

import matplotlib
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator

from latheworks.pictures.style import INK, PAPER, Look, Shown, Table

A = TypeVar("A", bound=Artist)


FINE_STEPS = (1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0, 5.0, 6.3, 8.0, 10.0)


def nice(value: float, steps: Sequence[float] = FINE_STEPS) -> float:
    """The next value at or above, from a run of steps and their powers of ten.

    Scales move along it, so that most moves of a slider leave the axes alone.
    """
    if value <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(value))
    return next(step for step in steps if step * power >= value * (1 - 1e-9) or step == 10.0) * power


def plain(value: float) -> str:
    """A number on an axis: no powers of ten, no idle noughts."""
    text = f"{value:.7f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "\u2212")


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def to_png(pixels: np.ndarray) -> bytes:
    """Pack red, green and blue bytes [height, width, 3 or more] as a PNG.

    Line drawings are mostly paper: leaving out the row filters and compressing lightly takes half the time of
    a general encoder for the same size. Source: PNG specification, second edition, sections 5 and 9 to 11.
    """
    height, width = pixels.shape[:2]
    rows = np.zeros((height, width * 3 + 1), np.uint8)
    rows[:, 1:].reshape(height, width, 3)[:] = pixels[..., :3]
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(rows.tobytes(), 1)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", body) + _chunk(b"IEND", b"")


class Canvas:
    """A kept figure in three layers, each kept until something in it or below it changes.

    Axes and their numbers at the bottom; on them what rests for most moves of a slider (given to `resting`); on top
    what moves (given to `moving`). Drawing words is what costs most, so words that rest are worth a layer.
    """

    def __init__(self, width: int, height: int, look: Look) -> None:
        self.figure = Figure(figsize=(width / 100, height / 100), dpi=look.dpi, facecolor=PAPER)
        self._agg = FigureCanvasAgg(self.figure)
        self._moving: list[Artist] = []
        self._resting: list[Artist] = []
        self._background: Any = None
        self._rested: Any = None
        self._keys: dict[str, Any] = {}

    def axes(self, left: float, bottom: float, width: float, height: float, frame: bool = True) -> Axes:
        """Add axes at a place given in shares of the figure; without a frame they are bare drawing paper."""
        axes = self.figure.add_axes((left, bottom, width, height))
        if not frame:
            axes.set_axis_off()
            return axes
        for side, spine in axes.spines.items():
            spine.set_visible(side in ("left", "bottom"))
            spine.set_color(INK["quiet"])
        for axis in (axes.xaxis, axes.yaxis):
            # Own formatter: tick words stay plain text, whatever the reader's own settings are.
            axis.set_major_formatter(FuncFormatter(lambda value, _: plain(value)))
            axis.set_major_locator(MaxNLocator(6, steps=[1, 2, 2.5, 5, 10], min_n_ticks=3))
        axes.tick_params(color=INK["quiet"], labelcolor=INK["outline"])
        return axes

    def moving(self, artist: A) -> A:
        """Mark an artist as one that changes from picture to picture; later ones are drawn on top."""
        artist.set_animated(True)
        self._moving.append(artist)
        return artist

    def resting(self, artist: A) -> A:
        """Mark an artist as one that is changed only inside `when_changed`."""
        artist.set_animated(True)
        self._resting.append(artist)
        return artist

    def when_changed(self, name: str, key: Any, place: Callable[[], None]) -> None:
        """Place resting artists again, but only when their key, all that they show, is a new one."""
        if self._keys.get(name, self) != key:
            place()
            self._keys[name] = key
            self._rested = None

    def limits(self, axes: Axes, x: tuple[float, float], y: tuple[float, float]) -> None:
        """Set the limits of axes; only a change costs a whole redraw."""
        if axes.get_xlim() != x or axes.get_ylim() != y:
            axes.set_xlim(*x)
            axes.set_ylim(*y)
            self._background = None

    def png(self) -> bytes:
        """Draw what changed and return the picture as PNG bytes."""
        if self._background is None:
            self._agg.draw()
            self._background, self._rested = self._agg.copy_from_bbox(self.figure.bbox), None
        renderer = self._agg.get_renderer()
        if self._rested is None:
            self._agg.restore_region(self._background)
            for artist in self._resting:
                artist.draw(renderer)
            self._rested = self._agg.copy_from_bbox(self.figure.bbox)
        else:
            self._agg.restore_region(self._rested)
        for artist in self._moving:
            artist.draw(renderer)
        return to_png(np.asarray(self._agg.buffer_rgba()))


class Picture:
    """What every picture shares. A subclass builds its artists once, moves them, and says what they show."""

    width, height = 640, 400

    def __init__(self, look: Look) -> None:
        self.look = look
        self.canvas = Canvas(self.width, self.height, look)
        with self.settings():
            self.build()

    def settings(self) -> Any:
        """Matplotlib's settings for our pictures, whatever the reader's own are; no words are read as formulas."""
        points = self.look.points
        return matplotlib.rc_context({
            "text.parse_math": False, "font.family": ["DejaVu Sans"], "font.size": points, "axes.labelsize": points,
            "axes.titlesize": points, "xtick.labelsize": points, "ytick.labelsize": points, "hatch.linewidth": 0.6,
            "hatch.color": INK["hatch"], "text.color": INK["outline"], "axes.labelcolor": INK["outline"],
            "axes.edgecolor": INK["quiet"], "path.simplify": False, "text.usetex": False,
        })  # fmt: skip

    def show(self, data: Any, kept: Any = None) -> Shown:
        """Draw the data, with a kept setting as a ghost when there is one."""
        with self.settings():
            self.update(data, kept)
            png = self.canvas.png()
        scale = self.look.dpi / 100
        size = round(self.width * scale), round(self.height * scale)
        return Shown(png, self.alt(data, kept), self.table(data), *size)

    def build(self) -> None:
        """Make the artists, once."""
        raise NotImplementedError

    def update(self, data: Any, kept: Any) -> None:
        """Move the artists to the data."""
        raise NotImplementedError

    def alt(self, data: Any, kept: Any) -> str:
        """What the picture shows, in words with numbers."""
        raise NotImplementedError

    def table(self, data: Any) -> Table:
        """The numbers in the picture."""
        raise NotImplementedError


def spread(rows: Sequence[Any], most: int) -> list[Any]:
    """At most so many of the rows, evenly spread, first and last among them."""
    if len(rows) <= most:
        return list(rows)
    return [rows[round(i * (len(rows) - 1) / (most - 1))] for i in range(most)]
