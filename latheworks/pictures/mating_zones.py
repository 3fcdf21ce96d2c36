"""The tolerance zones of two threads that mate, the clearance between them, and a part as it was cut."""

import math
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import nice
from latheworks.pictures.drafting import Sheet, between, box
from latheworks.pictures.flanks import Ends, end, ridges
from latheworks.pictures.style import Table
from latheworks.pictures.two_threads import DIAMETERS, TwoThreadsPicture

PITCHES = 1.3


@dataclass(frozen=True)
class MatingZones:
    """What the picture needs, in mm: basic diameters, limits and clearances in the order major, pitch, minor.

    An end that the standard leaves open is None. `cut` is the pitch diameter of the external part, its layer of
    plating included; `virtual` is what go and a mate meet; `go` and `not_go` are the limits that it is held against.
    """

    external: str
    internal: str
    pitch: float
    tan: float  # of half the thread's angle
    basic: tuple[float, float, float]
    external_limits: tuple[Ends, Ends, Ends]
    internal_limits: tuple[Ends, Ends, Ends]
    clearance: tuple[Ends, Ends, Ends]
    cut: float
    virtual: float
    go: float
    not_go: float
    tightest: float  # the smallest mate
    loosest: float  # the largest mate

    @property
    def passes_go(self) -> bool:
        """Whether go screws on."""
        return self.virtual <= self.go + 1e-9

    @property
    def held_by_not_go(self) -> bool:
        """Whether not-go stays off, as it should."""
        return self.cut >= self.not_go - 1e-9

    @property
    def verdict(self) -> str:
        """What the gages say of the part."""
        if not self.passes_go:
            return "go stays off"
        return "both gages accept it" if self.held_by_not_go else "not-go screws on"


class MatingPicture(TwoThreadsPicture):
    """A tooth of both threads in section, to scale, with their zones; beside it the zones by diameter, stretched."""

    def build(self) -> None:
        unit = self.look.length_unit
        still, ladder = self.lay_out((0.01, 0.02, 0.46, 0.96), (0.585, 0.09, 0.41, 0.7), [0.5, 1.5, 2.5])
        self.levels = [still.line("quiet", "center line", 0.8) for _ in DIAMETERS]
        self.level_words = [still.words(name, "quiet", "left", up)
                            for name, up in zip(DIAMETERS, ("bottom", "bottom", "top"), strict=True)]  # fmt: skip
        self.add_names(still)
        title = ladder.words(f"zones, from the basic diameter by [{unit}]", fixed=True, across="left", up="bottom")
        title.set_position((-0.26, 1.2))
        self.add_bars(ladder, 1.0)
        gap = ladder.words("least\ngap:", fixed=True, across="right", up="bottom")
        gap.set_position((-0.02, 1.02))
        self.gap_words = [ladder.words(fixed=True, up="bottom") for _ in DIAMETERS]
        for i, words in enumerate(self.gap_words):
            words.set_position(((i + 0.5) / 3, 1.02))
        sheet, side = Sheet(self.canvas, self.left), Sheet(self.canvas, self.right)
        self.kept_part = sheet.line("kept", "kept", 1.2)
        self.part = sheet.line("outline", width=1.8)
        self.met = sheet.line("outline", "finished", 1.6)
        self.kept_mark = side.line("kept", "kept", 1.6)
        self.mark = side.line("outline", width=2.4)
        self.met_mark = side.line("outline", "finished", 2.4)
        self.mark_words = side.words("part", across="right")
        self.met_words = side.words(across="right", up="bottom")

    def update(self, data: MatingZones, kept: MatingZones | None) -> None:
        k = self.look.length
        wide = PITCHES * data.pitch
        high = wide * (0.96 * self.height) / (0.46 * self.width)
        middle = data.basic[1] / 2
        self.canvas.limits(self.left, (-wide / 2 * k, wide / 2 * k), ((middle - high / 2) * k, (middle + high / 2) * k))
        x = np.linspace(-0.52 * wide, 0.52 * wide, 521)
        key = (data.external, data.internal)
        self.canvas.when_changed("zones", key, lambda: self._draw_zones(data, x, high, middle))
        self.part.set_data(x * k, self._as_cut(data, x, data.cut) * k)
        grown = data.virtual > data.cut + 1e-9
        self.met.set_data(x * k, self._as_cut(data, x, data.virtual if grown else np.nan) * k)
        same = kept is not None and (kept.external, kept.internal) == key
        self.kept_part.set_data(x * k, self._as_cut(data, x, kept.virtual if kept is not None and same else np.nan) * k)
        self._draw_ladder(data, kept if same else None, grown)

    def _draw_zones(self, data: MatingZones, x: np.ndarray, high: float, middle: float) -> None:
        k = self.look.length
        for kind, limits, fullest in (("external", data.external_limits, 1), ("internal", data.internal_limits, 0)):
            full, least = (
                ridges(x, data.pitch, data.tan, *(end(e, which, b) for e, b in zip(limits, data.basic, strict=True)))
                for which in (fullest, 1 - fullest)
            )
            edge = middle - high if kind == "external" else middle + high
            self.metal[kind].set_xy(between(x * k, least * k, edge * k))
            self.zones[kind].set_xy(between(x * k, least * k, full * k))
        self.put_names(data)
        for line, words, size, up in zip(self.levels, self.level_words, data.basic, (1, 1, -3), strict=True):
            line.set_data([x[0] * k, x[-1] * k], [size / 2 * k] * 2)
            words.set_position((0.93 * x[0] * k, (size / 2 + 0.012 * up * high) * k))

    @staticmethod
    def _as_cut(data: MatingZones, x: np.ndarray, size: float) -> np.ndarray:
        """The part's own profile: its blank in the middle of the limits, its root as deep as its flanks tell."""
        limits = data.external_limits
        major = (end(limits[0], 0, data.basic[0]) + end(limits[0], 1, data.basic[0])) / 2
        root = end(limits[2], 1, data.basic[2]) - end(limits[1], 1, data.basic[1]) + size
        if not math.isfinite(size):
            return np.full_like(x, np.nan)
        return ridges(x, data.pitch, data.tan, max(major, root), size, root)

    def _draw_ladder(self, data: MatingZones, kept: MatingZones | None, grown: bool) -> None:
        k, mm, base = self.look.length, self.look.mm, data.basic[1]
        ends = [e - b for limits in (data.internal_limits, data.external_limits)
                for pair, b in zip(limits, data.basic, strict=True) for e in pair if e is not None]  # fmt: skip
        marks = [data.cut - base, data.virtual - base]
        # The ladder stretches only so far for a part off its limits: the mark then stands at its edge.
        lowest = min(*ends, max(min(marks), 1.4 * min(ends)))
        highest = max(*ends, min(max(marks), 1.4 * max(ends)))
        step = 0.25 * nice(max(highest, -lowest) * k)
        low, high = (math.floor(lowest * k / step) - 0.4) * step, (math.ceil(highest * k / step) + 0.4) * step
        self.canvas.limits(self.right, (0.0, 3.0), (low, high))

        def rest() -> None:
            self.zero.set_data([0.0, 3.0], [0, 0])
            places = (("external", data.external_limits, 0.2), ("internal", data.internal_limits, 0.5))
            for kind, limits, left in places:
                shapes = []
                for i, (pair, b) in enumerate(zip(limits, data.basic, strict=True)):
                    bottom, top = (far if e is None else (e - b) * k
                                   for e, far in zip(pair, (2 * low, 2 * high), strict=True))  # fmt: skip
                    shapes.append(box(i + left, bottom, i + left + 0.26, top))
                self.bars[kind].set_verts(shapes)
            for words, (tight, _) in zip(self.gap_words, data.clearance, strict=True):
                words.set_text("open" if tight is None else mm(tight))

        self.canvas.when_changed("ladder", (data.external, data.internal, low, high), rest)

        def at(size: float) -> float:
            return float(min(max((size - base) * k, low), high))

        self.mark.set_data([1.15, 1.5], [at(data.cut)] * 2)
        self.met_mark.set_data([1.15, 1.8], [at(data.virtual) if grown else np.nan] * 2)
        self.kept_mark.set_data([1.15, 1.8], [np.nan if kept is None else at(kept.virtual)] * 2)
        self.mark_words.set_position((1.13, at(data.cut) - 0.02 * (high - low)))
        self.mark_words.set_va("top" if grown else "center")
        self.met_words.set_position((1.13, at(data.virtual) + 0.005 * (high - low)))
        self.met_words.set_text("virtual" if grown else "")

    def alt(self, data: MatingZones, kept: MatingZones | None) -> str:
        mm, span = self.look.mm, self.span
        words = (
            f"The external thread {data.external} in the internal thread {data.internal}, tolerance zones in section. "
            f"Pitch diameter limits: external {span(data.external_limits[1])}, internal "
            f"{span(data.internal_limits[1])}. Clearance of the pitch diameters: {span(data.clearance[1])}; of the "
            f"major diameters {span(data.clearance[0])}; of the minor diameters {span(data.clearance[2])}. "
            f"The part's pitch diameter is {mm(data.cut)}, and a mate meets {mm(data.virtual)}: {data.verdict}."
        )
        return words if kept is None else f"{words} Of the kept part a mate meets {mm(kept.virtual)}."

    def table(self, data: MatingZones) -> Table:
        unit, number = self.look.length_unit, self.number
        kinds = (("external", data.external_limits), ("internal", data.internal_limits), ("clearance", data.clearance))
        rows = [(f"{kind} {name}", number(low), number(high)) for kind, limits in kinds
                for name, (low, high) in zip(DIAMETERS, limits, strict=True)]  # fmt: skip
        for name, size in (("this part, pitch", data.cut), ("as a mate meets it", data.virtual)):
            rows.append((name, number(size), number(size)))
        return Table(f"{data.external} in {data.internal}",
                     ("diameter", f"smallest [{unit}]", f"largest [{unit}]"), tuple(rows))  # fmt: skip
