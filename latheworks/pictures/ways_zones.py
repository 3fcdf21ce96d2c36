"""Ways to a hole's size side by side: the size each makes against the limits, and how far its axis strays."""

from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import NOWHERE, Sheet, box
from latheworks.pictures.style import Table

_ROWS = 4
_BASES = tuple(_ROWS - 0.82 - n for n in range(_ROWS))
_THICK = 0.3
_TURN = np.linspace(0.0, 2.0 * np.pi, 61)
_RING = np.column_stack([np.cos(_TURN), np.sin(_TURN)])


@dataclass(frozen=True)
class WayDrawn:
    """One way: the sizes it makes in 19 of 20 and their mean, and the axis's place in 19 of 20 [mm]; the chance that
    all holds; time [s]; the tools that are not on the rack; what forbids it, in words, or nothing."""

    name: str
    low: float
    mean: float
    high: float
    position: float
    holds: float
    seconds: float
    missing: tuple[str, ...]
    why_not: str

    @property
    def in_100(self) -> str:
        """How many of a hundred hold."""
        return f"{100 * self.holds:.0f} of 100"

    @property
    def lacks(self) -> str:
        """What is missing, in words."""
        return f"not on the rack: {', '.join(self.missing)}" if self.missing else "all on the rack"


@dataclass(frozen=True)
class WaysDrawn:
    """What the picture needs: the hole in words, its limits, depth and how far the axis may be off [mm] or None."""

    hole: str
    material: str
    low: float
    high: float
    depth: float
    allowed: float | None
    priority: str
    ways: tuple[WayDrawn, ...]
    best: str | None


class WaysPicture(Picture):
    """Left, the zone of the limits with each way's sizes in it; right, how far each way's axis strays."""

    width, height = 640, 400

    def build(self) -> None:
        self.zone = self.canvas.axes(0.03, 0.125, 0.58, 0.78)
        self.zone.set_yticks([])
        self.zone.set_xlabel(f"diameter [{self.look.length_unit}]", labelpad=1)
        self.axis = self.canvas.axes(0.63, 0.125, 0.36, 0.78, frame=False)
        sheet, side = Sheet(self.canvas, self.zone, resting=True), Sheet(self.canvas, self.axis, resting=True)
        self.title = sheet.words(fixed=True, across="left", up="bottom")
        self.title.set_position((0.0, 1.035))
        side_title = side.words("axis, in 19 of 20; tools to get", fixed=True, across="left", up="bottom")
        side_title.set_position((0.0, 1.035))
        self.band = sheet.area("limit", "limit", width=1.4)
        self.kept = sheet.line("kept", "kept", 1.4)
        self.bars = sheet.shapes("outline", 1.0)
        self.closed = sheet.shapes("quiet", 1.0, "second", hatch="////")
        self.best_bar = sheet.area("result", "result", width=2.0)
        self.means = sheet.line("outline", width=1.8)
        self.names = [sheet.words(across="left", up="bottom") for _ in range(_ROWS)]
        self.may = side.line("limit", width=1.4)
        self.strays = side.line("result", width=1.8)
        self.crosses = side.line("quiet", width=0.6)
        self.offs = [side.words(meaning="result", across="left", up="bottom") for _ in range(_ROWS)]
        self.tools = [side.words(across="left", up="top", linespacing=1.15) for _ in range(_ROWS)]

    def update(self, data: WaysDrawn, kept: WaysDrawn | None) -> None:
        k, mm = self.look.length, self.look.mm
        ends = [data.low, data.high, *(end for way in data.ways for end in (way.low, way.high))]
        middle = (data.low + data.high) / 2
        half = nice(1.06 * max(middle - min(ends), max(ends) - middle))
        self.canvas.limits(self.zone, ((middle - half) * k, (middle + half) * k), (0.0, float(_ROWS)))
        wide = 0.36 * self.width / (0.78 * self.height) * _ROWS
        self.canvas.limits(self.axis, (0.0, wide), (0.0, float(_ROWS)))

        def place() -> None:
            self.title.set_text(f"shaded: {mm(data.low)} to {mm(data.high)} allowed")
            self.band.set_xy(box(data.low * k, 0, data.high * k, _ROWS))
            self.kept.set_data([], [])
            if kept is not None:
                self.kept.set_data(np.array([kept.low, kept.low, np.nan, kept.high, kept.high]) * k,
                                   [0, _ROWS, np.nan, 0, _ROWS])  # fmt: skip
            self._place_bars(data, (middle - 0.98 * half) * k, k)
            self._place_axes(data)

        self.canvas.when_changed("ways", (data, kept), place)

    def _place_bars(self, data: WaysDrawn, left: float, k: float) -> None:
        bars: dict[bool, list[np.ndarray]] = {True: [], False: []}
        self.best_bar.set_xy(NOWHERE)
        means: list[tuple[float, float]] = []
        for way, base, words in zip(data.ways, _BASES, self.names, strict=True):
            bar = box(way.low * k, base, way.high * k, base + _THICK)
            if way.name == data.best:
                self.best_bar.set_xy(bar)
            else:
                bars[not way.why_not].append(bar)
            means += [(way.mean * k, base - 0.06), (way.mean * k, base + _THICK + 0.06), (np.nan, np.nan)]
            words.set_position((left, base + _THICK + 0.08))
            wins = ", wins" if way.name == data.best else ""
            words.set_text(
                f"{way.name}: not open" if way.why_not
                else f"{way.name}: holds in {way.in_100}, {way.seconds / 60:.1f} min{wins}"
            )  # fmt: skip
        self.bars.set_verts(bars[True])
        self.bars.set_facecolor("white")
        self.closed.set_verts(bars[False])
        self.means.set_data(*np.array(means).T)

    def _place_axes(self, data: WaysDrawn) -> None:
        largest = max(data.allowed or 0.0, *(way.position for way in data.ways))
        may, strays, crosses = [], [], []
        gap = np.full((1, 2), np.nan)
        for way, base, off, tools in zip(data.ways, _BASES, self.offs, self.tools, strict=True):
            middle, reach = np.array([0.42, base + 0.3]), 0.4 / largest
            if data.allowed is not None:
                may += [_RING * data.allowed * reach + middle, gap]
            strays += [_RING * way.position * reach + middle, gap]
            crosses += [
                middle + np.array([(-0.06, 0), (0.06, 0)]),
                gap,
                middle + np.array([(0, -0.06), (0, 0.06)]),
                gap,
            ]
            off.set_position((0.92, base + 0.32))
            off.set_text(f"within {self.look.mm(way.position)}")
            tools.set_position((0.92, base + 0.28))
            tools.set_text("\n".join(way.missing[:2]) if way.missing else "all on the rack")
        self.may.set_data(*(np.concatenate(may).T if may else ([], [])))
        self.strays.set_data(*np.concatenate(strays).T)
        self.crosses.set_data(*np.concatenate(crosses).T)

    def alt(self, data: WaysDrawn, kept: WaysDrawn | None) -> str:
        mm = self.look.mm
        words = (
            f"Ways to {data.hole} in {data.material}, {mm(data.depth)} deep, {mm(data.low)} to {mm(data.high)} allowed"
        )
        words += f", its axis within {mm(data.allowed)}. " if data.allowed is not None else ". "
        said = [
            f"{way.name} makes {mm(way.low)} to {mm(way.high)}, axis within {mm(way.position)}, holds in {way.in_100}, "
            f"{way.seconds / 60:.1f} min, {way.lacks}" + (f", not open: {way.why_not}" if way.why_not else "")
            for way in data.ways
        ]  # fmt: skip
        best = f" On {data.priority} {data.best} wins." if data.best else " No way is open."
        kept_words = f" The kept setting allowed {mm(kept.low)} to {mm(kept.high)}." if kept is not None else ""
        return words + "; ".join(said) + "." + best + kept_words

    def table(self, data: WaysDrawn) -> Table:
        unit, number = self.look.length_unit, self.look.number
        headings = ("way", f"smallest [{unit}]", f"mean [{unit}]", f"largest [{unit}]", f"axis within [{unit}]",
                    "holds in 100", "time [min]", "not on the rack")  # fmt: skip
        rows = tuple(
            (way.name, *map(number, (way.low, way.mean, way.high, way.position)),
             f"{100 * way.holds:.0f}", f"{way.seconds / 60:.1f}", ", ".join(way.missing) or "nothing")
            for way in data.ways
        )  # fmt: skip
        return Table(f"Ways to {data.hole}", headings, rows)
