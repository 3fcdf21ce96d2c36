"""The face of a bar as a tool crosses it, ringed at equal times, and how fast the spindle turns on the way."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice, spread
from latheworks.pictures.drafting import NOWHERE, Sheet, box
from latheworks.pictures.style import FILL, INK, Table
from latheworks.units import Q_, U, show

RINGS = 10
_ROUND = np.linspace(0.0, 2 * np.pi, 181)
_CIRCLE = np.column_stack([np.cos(_ROUND), np.sin(_ROUND)])


@dataclass(frozen=True)
class FaceTurns:
    """What the picture needs: diameters in mm, spindles in rev/min, surface speeds in m/min, times in min.

    `sizes` runs from the outside to the hole; `turns`, `surface` and `minutes`, the time until there, hold a row for
    each way of running the spindle. `mode` is the way chosen, `clamp` the diameter below which the constant surface
    speed cannot be kept, 0 where it can be kept all the way.
    """

    outside: float
    hole: float
    asked: float
    most: float
    feed: float
    mode: str
    at: float
    clamp: float
    sizes: np.ndarray
    turns: dict[str, np.ndarray]
    surface: dict[str, np.ndarray]
    minutes: dict[str, np.ndarray]

    def here(self, rows: dict[str, np.ndarray]) -> float:
        """A value of the way chosen where the tool is."""
        return float(np.interp(-self.at, -self.sizes, rows[self.mode]))

    @property
    def time(self) -> float:
        """How long the whole cut takes the way chosen."""
        return float(self.minutes[self.mode][-1])

    @property
    def rings(self) -> np.ndarray:
        """The diameters where the tool is after each tenth of the time."""
        return np.interp(np.arange(1, RINGS) / RINGS * self.time, self.minutes[self.mode], self.sizes)

    @property
    def clamped(self) -> bool:
        """Whether the chosen way is at the fastest spindle where the tool is, and slower on the surface than asked."""
        return self.here(self.surface) < 0.999 * self.asked and self.here(self.turns) > 0.999 * self.most


class FacePicture(Picture):
    """The face from the tailstock, with the tool; beside it spindle and surface speed from the outside to the hole."""

    width, height = 640, 340

    def build(self) -> None:
        self.face = self.canvas.axes(0.01, 0.02, 0.44, 0.9, frame=False)
        self.upper = self.canvas.axes(0.56, 0.58, 0.42, 0.31)
        self.lower = self.canvas.axes(0.56, 0.14, 0.42, 0.31)
        self.lower.set_xlabel(f"diameter where the tool is [{self.look.length_unit}]", labelpad=1)
        still, top = Sheet(self.canvas, self.face, resting=True), Sheet(self.canvas, self.face)
        self.jaws = still.shapes("tool", 1.0)
        self.metal = still.area("work", "outline", width=1.6)
        self.held_at = still.area("limit", "limit", hatch="////", style="second")
        self.ring_lines = still.line("outline", width=0.8)
        self.bore = still.area(None, "outline", width=1.6)
        self.bore.set_facecolor("white")
        self.ring_words = still.words("", "outline", fixed=True, across="left", up="bottom")
        self.ring_words.set_position((0.0, 1.02))
        self.held_words = still.words("", "limit", fixed=True, across="left", up="bottom")
        self.held_words.set_position((0.0, 0.0))
        self.cut = top.line("result", width=2.0)
        self.tool = top.area("tool", "tool")
        self.here_words = top.words(meaning="result", fixed=True, across="right", up="top")
        self.here_words.set_position((1.0, 0.97))
        self._build_curves()

    def _build_curves(self) -> None:
        words = ("spindle [rev/min]", f"surface [{'ft/min' if self.look.system == 'inch' else 'm/min'}]")
        self.curves, self.others, self.kept, self.marks, self.mark_words = [], [], [], [], []
        for axes, title in zip((self.upper, self.lower), words, strict=True):
            still, top = Sheet(self.canvas, axes, resting=True), Sheet(self.canvas, axes)
            still.words(title, fixed=True, across="left", up="bottom").set_position((-0.17, 1.06))
            self.others.append(still.line("quiet", "second", 1.0))
            self.kept.append(still.line("kept", "kept", 1.6))
            self.curves.append(still.line("result", width=2.6))
            self.marks.append(top.line("result", marker="o", markersize=6))
            self.mark_words.append(top.words(meaning="result", across="right", up="bottom"))
        still = Sheet(self.canvas, self.upper, resting=True)
        self.most_line = still.line("limit", width=1.2)
        self.most_words = still.words("", "limit", fixed=True, across="right", up="bottom")
        self.most_words.set_position((1.0, 1.06))
        self.other_words = still.words("", "quiet", fixed=True, across="right", up="bottom")
        self.other_words.set_position((1.0, 0.04))
        low = Sheet(self.canvas, self.lower, resting=True)
        self.asked_line = low.line("limit", width=1.2)
        self.asked_words = low.words("", "limit", fixed=True, across="right", up="bottom")
        self.asked_words.set_position((1.0, 1.06))

    def _speed(self, value: float) -> float:
        return value / 0.3048 if self.look.system == "inch" else value

    def update(self, data: FaceTurns, kept: FaceTurns | None) -> None:
        k = self.look.length
        high = nice(2.9 * data.outside / 2) * k / 2
        wide = high * self.width * 0.44 / (self.height * 0.9)
        self.canvas.limits(self.face, (-wide, wide), (-high, high))
        size = nice(1.02 * max(data.outside, kept.outside if kept else 0.0)) * k
        both = [data] if kept is None else [data, kept]
        top = nice(1.2 * max(max(each.most, *(row.max() for row in each.turns.values())) for each in both))
        fast = nice(1.25 * self._speed(max(max(each.asked, *(row.max() for row in each.surface.values()))
                                           for each in both)))  # fmt: skip
        # Larger diameters stand on the left, where the tool starts.
        self.canvas.limits(self.upper, (size, -0.02 * size), (0.0, top))
        self.canvas.limits(self.lower, (size, -0.02 * size), (0.0, fast))
        key = (data.outside, data.hole, data.asked, data.most, data.feed, data.mode, high, size, top, fast,
               None if kept is None else (kept.mode, kept.time, kept.outside, kept.asked))  # fmt: skip
        self.canvas.when_changed("face", key, lambda: self._rest(data, kept, high))
        self._move(data, wide, high, size, (top, fast))

    def _rest(self, data: FaceTurns, kept: FaceTurns | None, high: float) -> None:
        """All that stays while the tool moves."""
        k, radius = self.look.length, data.outside / 2 * self.look.length
        jaw = box(radius, -0.13 * high, 2 * high, 0.13 * high)
        turned = [np.radians(angle) for angle in (90.0, 210.0, 330.0)]
        self.jaws.set_verts([
            jaw @ np.array([[np.cos(a), np.sin(a)], [-np.sin(a), np.cos(a)]]) for a in turned
        ])  # fmt: skip
        self.jaws.set_facecolor(FILL["tool"])
        self.metal.set_xy(_CIRCLE * radius)
        held = data.clamp if data.mode != "constant turns" else 0.0
        self.held_at.set_xy(_CIRCLE * min(held, data.outside) / 2 * k if held > data.hole else NOWHERE)
        self.bore.set_xy(_CIRCLE * data.hole / 2 * k if data.hole else NOWHERE)
        gap = np.full((1, 2), np.nan)
        rings = [part for ring in data.rings for part in (_CIRCLE * ring / 2 * k, gap)]
        self.ring_lines.set_data(*np.concatenate(rings).T)
        self.ring_words.set_text("a ring for each tenth of the time")
        self.held_words.set_text(
            f"hatched, under \u2300{self.look.mm(data.clamp)}:\nat its fastest"
            if held > data.hole else ""
        )  # fmt: skip
        x = data.sizes * k
        drawn: tuple[tuple[str, Callable[[float], float]], ...] = (("turns", float), ("surface", self._speed))
        for n, (name, convert) in enumerate(drawn):
            rows = getattr(data, name)
            self.curves[n].set_data(x, [convert(value) for value in rows[data.mode]])
            other = next(row for mode, row in rows.items() if mode != data.mode)
            self.others[n].set_data(x, [convert(value) for value in other])
            self.kept[n].set_data([], [])
            if kept is not None:
                self.kept[n].set_data(kept.sizes * k, [convert(value) for value in getattr(kept, name)[kept.mode]])
        self.most_line.set_data([-1e3, 1e4], [data.most] * 2)
        self.most_words.set_text(f"fastest {data.most:.0f} rev/min")
        self.other_words.set_text(f"dashed: {next(mode for mode in data.turns if mode != data.mode)}")
        self.asked_words.set_text(f"asked {show(Q_(data.asked, U.m_per_min), self.look.system)}")
        self.asked_line.set_data([-1e3, 1e4], [self._speed(data.asked)] * 2)

    def _move(self, data: FaceTurns, wide: float, high: float, size: float, tops: tuple[float, float]) -> None:
        at = data.at * self.look.length
        x = at / 2
        self.tool.set_xy([(x, 0.0), (x + 0.09 * high, -0.1 * high), (2 * wide, -0.1 * high), (2 * wide, 0.16 * high),
                          (x + 0.14 * high, 0.16 * high)])  # fmt: skip
        self.cut.set_data(*(_CIRCLE * at / 2).T)
        spindle, surface = data.here(data.turns), data.here(data.surface)
        self.here_words.set_text(f"tool at \u2300{self.look.mm(data.at)}")
        written = (f"{spindle:.0f} rev/min", show(Q_(surface, U.m_per_min), self.look.system))
        values = (spindle, self._speed(surface))
        for n in range(2):
            self.marks[n].set_data([at], [values[n]])
            right = at < 0.45 * size
            self.mark_words[n].set_ha("right" if right else "left")
            level = values[n] + 0.07 * tops[n] if values[n] < 0.72 * tops[n] else values[n] - 0.2 * tops[n]
            self.mark_words[n].set_position((at + (0.02 if right else -0.02) * size, level))
            self.mark_words[n].set_text(written[n])
            self.marks[n].set_color(INK["result"])

    def alt(self, data: FaceTurns, kept: FaceTurns | None) -> str:
        mm, speed = self.look.mm, lambda value: show(Q_(float(value), U.m_per_min), self.look.system)
        hole = f"to a hole of {mm(data.hole)}" if data.hole else "to the center"
        words = (
            f"Facing a bar of {mm(data.outside)} {hole} at {data.mode}, in {data.time:.2f} min. The tool is at "
            f"{mm(data.at)}: the spindle turns at {data.here(data.turns):.0f} rev/min and the surface runs at "
            f"{speed(data.here(data.surface))}, {speed(data.asked)} asked. "
        )
        turns = data.turns[data.mode]
        words += f"From outside to inside the spindle goes from {turns[0]:.0f} to {turns[-1]:.0f} rev/min."
        if data.clamp > data.hole and data.mode != "constant turns":
            words += f" Under {mm(data.clamp)} it stays at its fastest, {data.most:.0f} rev/min."
        if kept is not None:
            words += f" The setting kept for comparison takes {kept.time:.2f} min at {kept.mode}."
        return words

    def table(self, data: FaceTurns) -> Table:
        unit, number = self.look.length_unit, self.look.number
        speed = "ft/min" if self.look.system == "inch" else "m/min"
        turns, surface, minutes = (rows[data.mode] for rows in (data.turns, data.surface, data.minutes))
        body = tuple(
            (number(data.sizes[i]), f"{turns[i]:.0f}", f"{self._speed(surface[i]):.1f}", f"{minutes[i]:.3f}")
            for i in spread(range(len(data.sizes)), 11)
        )  # fmt: skip
        headings = (f"diameter [{unit}]", "spindle [rev/min]", f"surface speed [{speed}]", "time until there [min]")
        return Table(f"From the outside inward, {data.mode}", headings, body)
