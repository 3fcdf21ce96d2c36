"""A thread and its mate in section, their limits of size, and the hole to tap."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import nice
from latheworks.pictures.drafting import Sheet, between, box
from latheworks.pictures.flanks import Ends, end, ridges
from latheworks.pictures.style import Table
from latheworks.pictures.two_threads import DIAMETERS, TwoThreadsPicture

TAN = math.tan(math.radians(30.0))  # of half the 60 degrees of the threads drawn here
PITCHES = 2.5


def coarse(major: float) -> float:
    """At least the coarse pitch [mm] of a major diameter [mm]; it sets the scale, so that threads of one size compare.

    A power law a quarter above M6x1, M10x1.5, M24x3 and M64x6 (ISO 261, from memory), which takes in the UNC series.
    """
    return 1.25 * 0.2443 * major**0.79


@dataclass(frozen=True)
class ThreadForm:
    """What the picture needs, in mm: basic diameters and limits in the order major, pitch, minor.

    An end that the standard leaves open is None. `drills` are rows of name, diameter, percent of thread, inside.
    """

    internal: str
    external: str
    pitch: float
    basic: tuple[float, float, float]
    internal_limits: tuple[Ends, Ends, Ends]
    external_limits: tuple[Ends, Ends, Ends]
    hole: float
    drill: str
    percent: float
    drills: tuple[tuple[str, float, float, bool], ...]

    @property
    def inside(self) -> bool:
        """Whether the hole lies inside the limits of the internal thread's minor diameter."""
        low, high = self.internal_limits[2]
        return (low is None or self.hole >= low - 1e-6) and (high is None or self.hole <= high + 1e-6)


class ThreadPicture(TwoThreadsPicture):
    """Both threads in section, to scale, and a ladder of their limits measured from the basic sizes."""

    def build(self) -> None:
        unit = self.look.length_unit
        still, ladder = self.lay_out((0.01, 0.02, 0.6, 0.96), (0.76, 0.09, 0.235, 0.73), [1, 2, 3])
        self.kept_faces = {kind: still.line("kept", "kept", 1.2) for kind in self.zones}
        self.kept_words = still.words(meaning="kept", fixed=True, across="left", up="bottom")
        self.kept_words.set_position((0.02, 0.075))
        self.faces = {kind: still.line(kind, width=1.8) for kind in self.zones}
        self.add_names(still)
        self.levels = [still.line("quiet", "center line", 0.8) for _ in DIAMETERS]
        self.level_words = [still.words(across="left") for _ in DIAMETERS]
        self.pitch_size = still.dimension()
        title = ladder.words(f"limits: from the basic\ndiameter by [{unit}]", fixed=True, across="left", up="bottom")
        title.set_position((-0.55, 1.03))
        self.add_bars(ladder, 1.2)
        self.bar_words = {kind: ladder.words(kind, kind, up=up)
                          for kind, up in (("internal", "bottom"), ("external", "top"))}  # fmt: skip
        sheet, side = Sheet(self.canvas, self.left), Sheet(self.canvas, self.right)
        self.hole = sheet.line("outline", "finished", 1.8)
        self.hole_words = sheet.words(across="left", up="top")
        self.kept_hole = sheet.line("kept", "kept", 1.2)
        self.mark = side.line("outline", width=2.4)
        self.kept_mark = side.line("kept", "kept", 1.4)
        self.mark_words = side.words("hole", across="right", backed=False)

    def update(self, data: ThreadForm, kept: ThreadForm | None) -> None:
        k, mm = self.look.length, self.look.mm
        # One scale for one major diameter, whatever the pitch; the crest of a coarse thread and its root fit in.
        scale = max(coarse(data.basic[0]), data.pitch)
        wide = PITCHES * scale * k
        high = wide * (0.96 * self.height) / (0.6 * self.width)
        middle = (data.basic[0] - 0.65 * scale) / 2 * k
        self.canvas.limits(self.left, (-wide / 2, wide / 2), (middle - high / 2, middle + high / 2))
        key = (data.internal, data.external, None if kept is None else (kept.internal, kept.external))
        self.canvas.when_changed("form", key, lambda: self._draw_form(data, kept, wide, high, middle))
        self.hole.set_data([-wide / 2, self._edge(wide)], [data.hole / 2 * k] * 2)
        # Below the dashed line: beside it stand the words of the three diameters.
        self.hole_words.set_position((-0.49 * wide, min(data.hole, data.basic[2]) / 2 * k - 0.015 * high))
        self.hole_words.set_text(f"hole \u2300{mm(data.hole)}, {data.percent:.0f} % thread")
        same = kept is not None and kept.internal == data.internal
        before = kept.hole / 2 * k if kept is not None and same else np.nan
        self.kept_hole.set_data([-wide / 2, self._edge(wide)], [before, before])
        self._draw_ladder(data, kept if same else None)

    @staticmethod
    def _edge(wide: float) -> float:
        """Where the section ends and the words beside it begin."""
        return 0.17 * wide

    def _draw_form(self, data: ThreadForm, kept: ThreadForm | None, wide: float, high: float, middle: float) -> None:
        k = self.look.length
        x = np.linspace(-0.51 * wide / k, self._edge(wide) / k, 1201)

        def radii(of: ThreadForm, limits: tuple[Ends, Ends, Ends], which: int) -> np.ndarray:
            major, pitch, minor = (end(ends, which, base) for ends, base in zip(limits, of.basic, strict=True))
            return ridges(x, of.pitch, TAN, major, pitch, minor) * k

        for kind, limits, fullest in (("external", data.external_limits, 1), ("internal", data.internal_limits, 0)):
            full, least = radii(data, limits, fullest), radii(data, limits, 1 - fullest)
            edge = middle - high if kind == "external" else middle + high
            self.metal[kind].set_xy(between(x * k, least, edge))
            self.zones[kind].set_xy(between(x * k, least, full))
            self.faces[kind].set_data(x * k, full)
        self.put_names(data)
        self._draw_kept(data, kept, x, k, (middle - high / 2, middle + high / 2), radii)
        # The words of a fine thread's diameters are set apart from each other, each still joined to its level.
        apart = 1.55 * self.look.points / 72 * 100 * (self.look.dpi / 100) / (self.height * 0.96 * self.look.dpi / 100)
        levels = [size / 2 * k for size in data.basic]
        placed = (max(levels[0], levels[1] + apart * high), levels[1], min(levels[2], levels[1] - apart * high))
        edge = self._edge(wide)
        for line, words, name, size, level, at in zip(self.levels, self.level_words, DIAMETERS, data.basic, levels,
                                                      placed, strict=True):  # fmt: skip
            line.set_data([-wide / 2, edge, edge + 0.02 * wide], [level, level, at])
            words.set_position((edge + 0.02 * wide, at))
            words.set_text(f"{name} \u2300{self.look.mm(size)}")
        pitch = data.pitch * k
        words = f"pitch {self.look.mm(data.pitch)}"
        self.pitch_size.put(-pitch, 0.0, middle + 0.33 * high, words, foot=data.basic[0] / 2 * k)
        # Above its line: the pitch of a fine thread is shorter than its words.
        self.pitch_size.text.set_position((-pitch / 2, middle + 0.375 * high))

    def _draw_kept(self, data: ThreadForm, kept: ThreadForm | None, x: np.ndarray, k: float,
                   view: tuple[float, float], radii: Callable[..., np.ndarray]) -> None:  # fmt: skip
        """The kept thread as a ghost, to the same scale and about the same center line."""
        other = kept is not None and kept.internal != data.internal
        for kind, line in self.kept_faces.items():
            line.set_data([], [])
            if kept is not None and other:
                inner = kind == "internal"
                line.set_data(x * k, radii(kept, kept.internal_limits if inner else kept.external_limits, not inner))
        self.kept_words.set_text("")
        if kept is not None and other:
            seen = view[0] < kept.basic[1] / 2 * k < view[1]
            where = "dashed" if seen else "outside this view"
            self.kept_words.set_text(f"kept {kept.internal}: {where}")

    def _draw_ladder(self, data: ThreadForm, kept: ThreadForm | None) -> None:
        k = self.look.length
        ends = [(e - base) * k for limits in (data.internal_limits, data.external_limits)
                for pair, base in zip(limits, data.basic, strict=True) for e in pair if e is not None]  # fmt: skip
        hole = (data.hole - data.basic[2]) * k
        # The ladder stretches only so far for a hole off its limits: the mark then stands at its edge.
        lowest, highest = min(ends), max(ends)
        highest, lowest = max(highest, min(hole, 1.6 * highest)), min(lowest, max(hole, 1.6 * lowest))
        step = 0.25 * nice(max(highest, -lowest))
        low, high = (math.floor(lowest / step) - 0.4) * step, (math.ceil(highest / step) + 0.6) * step
        self.canvas.limits(self.right, (0.45, 3.55), (low, high))

        def rest() -> None:
            self.zero.set_data([0.45, 3.55], [0, 0])
            lefts = {"internal": 0.62, "external": 1.0}
            for kind, limits in (("internal", data.internal_limits), ("external", data.external_limits)):
                shapes = [self._bar(pair, base, lefts[kind] + i, (2 * low, 2 * high))
                          for i, (pair, base) in enumerate(zip(limits, data.basic, strict=True))]  # fmt: skip
                self.bars[kind].set_verts(shapes)
            base = data.basic[1]
            inner, outer = end(data.internal_limits[1], 1, base) - base, end(data.external_limits[1], 0, base) - base
            self.bar_words["internal"].set_position((2.0, inner * k + 0.1 * step))
            self.bar_words["external"].set_position((2.0, outer * k - 0.1 * step))

        self.canvas.when_changed("ladder", (data.internal, data.external, low, high), rest)
        at = min(max(hole, low), high)
        self.mark.set_data([2.5, 3.5], [at, at])
        beyond = "" if at == hole else " off scale"
        under = at > (low + high) / 2
        self.mark_words.set_position((3.55, at + (-0.015 if under else 0.015) * (high - low)))
        self.mark_words.set_va("top" if under else "bottom")
        self.mark_words.set_text(f"hole{beyond}")
        before = np.nan if kept is None else min(max((kept.hole - data.basic[2]) * k, low), high)
        self.kept_mark.set_data([2.5, 3.5], [before, before])

    def _bar(self, pair: Ends, base: float, left: float, far: tuple[float, float]) -> np.ndarray:
        """One bar of the ladder; an open end runs off it."""
        bottom, top = (end if e is None else (e - base) * self.look.length for e, end in zip(pair, far, strict=True))
        return box(left, bottom, left + 0.36, top)

    def alt(self, data: ThreadForm, kept: ThreadForm | None) -> str:
        mm = self.look.mm
        pitch = data.internal_limits[1], data.external_limits[1]
        basic = ", ".join(f"{name} {mm(size)}" for name, size in zip(DIAMETERS, data.basic, strict=True))
        words = (
            f"Section of the internal thread {data.internal} and the external thread {data.external}, "
            f"pitch {mm(data.pitch)}, basic diameters {basic}. "
            f"Pitch diameter limits: internal {self.span(pitch[0])}, external {self.span(pitch[1])}. "
            f"A hole of {mm(data.hole)} ({data.drill}) leaves {data.percent:.0f} percent of thread and is "
            f"{'inside' if data.inside else 'outside'} the limits of {self.span(data.internal_limits[2])}."
        )
        if kept is None:
            return words
        return f"{words} Kept for comparison: {kept.internal}, pitch {mm(kept.pitch)}, hole {mm(kept.hole)}."

    def table(self, data: ThreadForm) -> Table:
        unit, number = self.look.length_unit, self.number
        rows = [(f"{kind} {name}", number(low), number(high), "")
                for kind, limits in (("internal", data.internal_limits), ("external", data.external_limits))
                for name, (low, high) in zip(DIAMETERS, limits, strict=True)]  # fmt: skip
        rows += [(f"drill {name}", number(size), number(size), f"{percent:.1f} %, {'inside' if good else 'outside'}")
                 for name, size, percent, good in data.drills]  # fmt: skip
        headings = ("diameter", f"smallest [{unit}]", f"largest [{unit}]", "thread")
        return Table("Limits of size, and tap drills", headings, tuple(rows))
