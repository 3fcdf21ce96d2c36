"""What a piece costs by the speed it is cut with: time in the cut, edges, handling, and their sum."""

from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice, spread
from latheworks.pictures.drafting import Sheet, between, box
from latheworks.pictures.style import Table
from latheworks.results import money

PARTS = ("in the cut", "edges and their change", "handling, setting up, stock")
_STYLES = ("first", "second")


@dataclass(frozen=True, eq=False)
class CostCurve:
    """What the picture needs: speeds [m/min], and for each the cost of one piece by its parts [3, n] and its minutes;
    the speed that is set with its parts, its minutes, those that the speed decides, and the life of an edge [min]; the
    two best speeds, and the least that the speed decides of cost and of minutes; batch and edge."""

    speeds: np.ndarray
    parts: np.ndarray
    minutes: np.ndarray
    speed: float
    here: tuple[float, float, float]
    time: float
    decided_time: float
    life: float
    best: tuple[float, float]
    least: float
    shortest: float
    batch: int
    edge: str

    @property
    def decided(self) -> float:
        """What of the cost the speed decides."""
        return self.here[0] + self.here[1]

    @property
    def cost(self) -> float:
        """The cost of a piece at the speed that is set."""
        return float(sum(self.here))


class CostPicture(Picture):
    """The whole cost as a bar; below it what the speed decides of cost and of minutes, with the two best speeds."""

    width, height = 640, 400

    def build(self) -> None:
        canvas, look = self.canvas, self.look
        self.whole = canvas.axes(0.095, 0.87, 0.885, 0.055, frame=False)
        self.cost = canvas.axes(0.095, 0.435, 0.885, 0.355)
        self.rate = canvas.axes(0.095, 0.125, 0.885, 0.2)
        self.rate.set_xlabel(f"surface speed [{'ft/min' if look.system == 'inch' else 'm/min'}]", labelpad=1)
        still, low_still = Sheet(canvas, self.cost, resting=True), Sheet(canvas, self.rate, resting=True)
        top, low = Sheet(canvas, self.cost), Sheet(canvas, self.rate)
        canvas.limits(self.whole, (0.0, 1.0), (0.0, 1.0))
        bar = Sheet(canvas, self.whole)
        self.bar_words = bar.words(fixed=True, across="left", up="bottom", backed=False)
        self.bar_words.set_position((0.0, 1.15))
        self.pieces = [bar.area(fill, "outline", hatch) for fill, hatch in
                       (("work", ""), ("limit", "////"), ("result", "xxxx"))]  # fmt: skip
        for sheet, words in ((still, "cost [money] that the speed decides"),
                             (low_still, "time [min] that the speed decides")):  # fmt: skip
            sheet.words(words, fixed=True, across="left", up="bottom", backed=False).set_position((0.0, 1.02))
        self.band = still.area("limit", "limit", width=0.0)
        self.low_band = low_still.area("limit", "limit", width=0.0)
        self.lines = [still.line("quiet", style, 1.4) for style in _STYLES]
        self.names = [still.words(name, "quiet", across="left", up="bottom") for name in PARTS[:2]]
        self.total = still.line("outline", width=2.2)
        self.total_words = still.words("all together", across="left", up="bottom")
        self.band_words = still.words("work between", "limit", up="top")
        self.minutes = low_still.line("outline", width=2.2)
        self.marks = [sheet.line("limit", width=1.4) for sheet in (still, low_still)]
        self.kept = top.line("kept", "kept", 2.0)
        self.kept_here = top.line("kept", marker="s", markersize=8, markerfacecolor="none")
        self.here = top.line("result", marker="o", markersize=8)
        self.here_words = top.words("", "result", up="bottom")
        self.low_here = low.line("result", marker="o", markersize=8)
        self.low_words = low.words("", "result", up="bottom")

    @property
    def factor(self) -> float:
        """What a speed in m/min is multiplied by to be shown."""
        return 1.0 / 0.3048 if self.look.system == "inch" else 1.0

    def update(self, data: CostCurve, kept: CostCurve | None) -> None:
        k = self.factor
        x = data.speeds * k
        top = nice(max(3 * data.least, min(1.25 * data.decided, 6 * data.least), 1.1 * kept.least if kept else 0.0))
        high = nice(max(3 * data.shortest, min(1.25 * data.decided_time, 6 * data.shortest)))
        self._bar(data)
        self.canvas.limits(self.cost, (float(x[0]), float(x[-1])), (0.0, top))
        self.canvas.limits(self.rate, (float(x[0]), float(x[-1])), (0.0, high))
        self.canvas.when_changed("curves", (data.edge, data.parts.tobytes(), top, high, k),
                                 lambda: self._rest(data, top, high))  # fmt: skip
        self.here.set_data([data.speed * k], [min(data.decided, top)])
        self.here_words.set_position((self._inside(data.speed * k, x), min(data.decided, 0.84 * top) + 0.05 * top))
        self.here_words.set_text(money(data.decided))
        self.low_here.set_data([data.speed * k], [min(data.decided_time, high)])
        self.low_words.set_position(
            (self._inside(data.speed * k, x), min(data.decided_time, 0.75 * high) + 0.08 * high)
        )
        self.low_words.set_text(f"{data.decided_time:.2f} min")
        self.kept.set_data([], [])
        self.kept_here.set_data([], [])
        if kept is not None:
            self.kept.set_data(kept.speeds * k, kept.parts[:2].sum(axis=0))
            self.kept_here.set_data([kept.speed * k], [min(kept.decided, top)])

    def _bar(self, data: CostCurve) -> None:
        order = (2, 0, 1)
        steady, cut, worn = (100 * data.here[i] / data.cost for i in order)
        self.bar_words.set_text(
            f"{money(data.cost)} a piece: {steady:.0f} % at any speed, {cut:.0f} % in the cut, {worn:.0f} % edges"
        )
        ends = np.cumsum([0.0, *(data.here[i] / data.cost for i in order)])
        for piece, left, right in zip(self.pieces, ends[:-1], ends[1:], strict=True):
            piece.set_xy(box(left, 0.0, right, 1.0))

    def _inside(self, place: float, x: np.ndarray) -> float:
        room = 0.06 * float(x[-1] - x[0])
        return float(min(max(place, x[0] + room), x[-1] - room))

    def _rest(self, data: CostCurve, top: float, high: float) -> None:
        k = self.factor
        x, best = data.speeds * k, [speed * k for speed in data.best]
        span = float(x[-1] - x[0])
        for i, (line, words) in enumerate(zip(self.lines, self.names, strict=True)):
            line.set_data(x, data.parts[i])
            # The one falls and the other rises: each is named at the side where it lies low.
            place = float(x[0]) + (0.8, 0.02)[i] * span
            words.set_position((place, float(np.interp(place, x, data.parts[i])) + 0.01 * top))
        whole = data.parts[:2].sum(axis=0)
        self.total.set_data(x, whole)
        place = float(x[0]) + 0.1 * span
        level = float(np.interp(place, x, whole))
        self.total_words.set_position((place, min(level + 0.03 * top, 0.86 * top)))
        self.minutes.set_data(x, data.minutes)
        for area, limit, line in ((self.band, top, self.marks[0]), (self.low_band, high, self.marks[1])):
            area.set_xy(between(best, 0.0, limit))
            line.set_data([best[0], best[0], np.nan, best[1], best[1]], [0, limit, np.nan, 0, limit])
        self.band_words.set_position((sum(best) / 2, 0.99 * top))

    def said(self, value: float) -> str:
        """A speed with its unit."""
        return f"{value * self.factor:.0f} {'ft/min' if self.look.system == 'inch' else 'm/min'}"

    def alt(self, data: CostCurve, kept: CostCurve | None) -> str:
        parts = ", ".join(f"{name} {money(value)}" for name, value in zip(PARTS, data.here, strict=True))
        batch = f"{data.batch} piece{'s' * (data.batch > 1)}"
        words = (
            f"At {self.said(data.speed)} with {data.edge}, in a batch of {batch}, a piece costs {money(data.cost)} "
            f"({parts}) and takes {data.time:.1f} min; an edge lasts {data.life:.1f} min. The speed decides "
            f"{money(data.decided)} of it, {money(data.least)} at least, at {self.said(data.best[0])}; the highest "
            f"rate is at {self.said(data.best[1])}."
        )
        return words if kept is None else f"{words} Kept: {money(kept.cost)} at {self.said(kept.speed)}."

    def table(self, data: CostCurve) -> Table:
        unit = "ft/min" if self.look.system == "inch" else "m/min"
        body = tuple(
            (f"{data.speeds[i] * self.factor:.0f}", *(f"{part[i]:.2f}" for part in data.parts),
             f"{data.parts[:, i].sum():.2f}", f"{data.minutes[i]:.2f}")
            for i in spread(range(len(data.speeds)), 11)
        )  # fmt: skip
        return Table(
            "Cost of one piece by speed",
            (f"speed [{unit}]", *(f"{name} [money]" for name in PARTS), "all together [money]",
             "time that the speed decides [min]"),
            body,
        )  # fmt: skip
