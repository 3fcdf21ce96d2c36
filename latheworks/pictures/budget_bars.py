"""An error budget drawn as a shop would: each cause as a bar against the tolerance band, their sums, and the spread."""

from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import Sheet, between, box
from latheworks.pictures.style import FILL, Table

BINS = 61
WORST, LIKELY = "worst case", "root of squares"
_ROWS = 6  # causes, from the top; below them the two sums
_HALF = 0.32


@dataclass(frozen=True)
class BudgetBars:
    """What the picture needs: lengths in mm, as errors off the size meant, a larger diameter positive.

    `low` and `high` are the limits; `shifts` and `reaches` of each cause on the diameter, `worst_shares` and
    `spread_shares` of each in both sums; `worst` and `likely` the ends of the two sums; `edges` and `counts` of the
    drawn sizes, in equal steps; `aim` is the size meant, `chance` that the size lies inside; `dialed` is that chance
    with the whole `shift` taken out, `halved` with each cause halved; `outward` is 1 outside and -1 inside.
    """

    size: str
    aim: float
    low: float
    high: float
    names: tuple[str, ...]
    shifts: tuple[float, ...]
    reaches: tuple[float, ...]
    worst_shares: tuple[float, ...]
    spread_shares: tuple[float, ...]
    worst: tuple[float, float]
    likely: tuple[float, float]
    coverage: int
    edges: np.ndarray
    counts: np.ndarray
    chance: float
    chance_small: float
    chance_large: float
    samples: int
    verdict: str
    outward: float
    shift: float
    dialed: float
    halved: tuple[float, ...]

    @property
    def mean(self) -> float:
        """The error to expect."""
        return (self.worst[0] + self.worst[1]) / 2


class BudgetPicture(Picture):
    """Causes above, sums below them, and at the bottom how the drawn sizes lie between the limits, on one scale."""

    height = 430

    def build(self) -> None:
        self.bars = self.canvas.axes(0.2, 0.385, 0.6, 0.49, frame=False)
        self.sizes = self.canvas.axes(0.2, 0.135, 0.6, 0.235)
        self.sizes.spines["left"].set_visible(False)
        self.sizes.set_yticks([])
        self.sizes.set_xlabel(f"off the size meant, diameter [{self.look.length_unit}]")
        self.bars.set_ylim(_ROWS + 1.75, -0.6)
        self.sizes.set_ylim(0.0, 1.08)
        still = Sheet(self.canvas, self.bars, resting=True), Sheet(self.canvas, self.sizes, resting=True)
        moves, below = Sheet(self.canvas, self.bars), Sheet(self.canvas, self.sizes)
        self.bands = [sheet.area("limit", "limit", width=0.0) for sheet in still]
        self.limit_lines = [[sheet.line("limit", width=1.4) for _ in "<>"] for sheet in still]
        self.zeros = [sheet.center_line() for sheet in still]
        self.limit_words = [still[0].words(meaning="limit", up="bottom", across=side) for side in ("center", "center")]
        self.names = [still[0].words(across="right", fixed=True) for _ in range(_ROWS + 2)]
        for row, words in enumerate(self.names):
            words.set_position((-0.02, self._level(row)))
        for x, head in ((1.09, "share,\nworst"), (1.25, "share,\nsquares")):
            still[0].words(head, "quiet", fixed=True, up="bottom").set_position((x, 1.02))
        self.causes = moves.shapes("result", 1.0, hatch="///")
        self.causes.set_facecolor(FILL["result"])
        self.marks = moves.line("result", width=2.4)
        self.sums = [moves.area("tool", "outline", hatch, width=1.2) for hatch in ("", "...")]
        self.mean_marks = moves.line("outline", width=2.4)
        self.kept_sums = moves.line("kept", "kept", 1.4)
        self.shares = [[moves.words(fixed=True) for _ in range(_ROWS)] for _ in range(2)]
        for x, column in zip((1.09, 1.25), self.shares, strict=True):
            for row, words in enumerate(column):
                words.set_position((x, self._level(row)))
        self.uses = [moves.words(across="left", fixed=True) for _ in range(2)]
        for row, words in enumerate(self.uses):
            words.set_position((1.02, self._level(_ROWS + row)))
        self.inside = below.area("work", "outline", width=0.8)
        self.outside = below.area("result", "result", "xxx", width=0.8)
        self.kept_sizes = below.line("kept", "kept", 1.4)
        self.chance_words = below.words(across="left", fixed=True)
        self.chance_words.set_position((1.02, 0.5))
        below.words("sizes of\ndrawn parts", across="right", fixed=True).set_position((-0.02, 0.5))

    @staticmethod
    def _level(row: int) -> float:
        return 1 - (row + 0.6) / (_ROWS + 2.35)

    def update(self, data: BudgetBars, kept: BudgetBars | None) -> None:
        k, mm = self.look.length, self.look.mm
        ends = (*data.worst, data.low, data.high, *(abs(s) + r for s, r in zip(data.shifts, data.reaches, strict=True)))
        if kept is not None:
            ends += kept.worst
        half = nice(1.08 * max(abs(end) for end in ends)) * k
        for axes in (self.bars, self.sizes):
            self.canvas.limits(axes, (-half, half), axes.get_ylim())

        def rest() -> None:
            for band, lines, zero, (bottom, top) in zip(self.bands, self.limit_lines, self.zeros,
                                                        ((8, -0.6), (0, 1.08)), strict=True):  # fmt: skip
                band.set_xy(box(data.low * k, bottom, data.high * k, top))
                zero.set_data([0, 0], [bottom, top])
                for line, x in zip(lines, (data.low, data.high), strict=True):
                    line.set_data([x * k] * 2, [bottom, top])
            for words, x in zip(self.limit_words, (data.low, data.high), strict=True):
                words.set_position((x * k, -0.75))
                words.set_text(mm(data.aim + x, 5 if self.look.system == "inch" else 3))
            for words, said in zip(self.names, (*data.names, WORST, LIKELY), strict=True):
                words.set_text(said)

        self.canvas.when_changed("limits", (data.aim, data.low, data.high, data.names), rest)
        self.causes.set_verts([box((s - r) * k, row - _HALF, (s + r) * k, row + _HALF)
                               for row, (s, r) in enumerate(zip(data.shifts, data.reaches, strict=True))])  # fmt: skip
        self.marks.set_data(*_ticks(np.array(data.shifts) * k, range(_ROWS)))
        for row, (bar, (a, b)) in enumerate(zip(self.sums, (data.worst, data.likely), strict=True)):
            bar.set_xy(box(a * k, _ROWS + row - _HALF, b * k, _ROWS + row + _HALF))
        self.mean_marks.set_data(*_ticks(np.full(2, data.mean * k), range(_ROWS, _ROWS + 2)))
        for column, values in zip(self.shares, (data.worst_shares, data.spread_shares), strict=True):
            for words, share in zip(column, values, strict=True):
                words.set_text(f"{100 * share:.0f} %")
        for words, (low, high) in zip(self.uses, (data.worst, data.likely), strict=True):
            words.set_text("inside" if low >= data.low - 1e-9 and high <= data.high + 1e-9 else "reaches out")
        self._draw_sizes(data, kept, k)

    def _draw_sizes(self, data: BudgetBars, kept: BudgetBars | None, k: float) -> None:
        top = float(data.counts.max())
        x, y = _steps(data)
        inside = np.where((x >= data.low) & (x <= data.high), y / top, 0.0)
        self.inside.set_xy(between(x * k, 0.0, inside))
        out = np.where((x < data.low) | (x > data.high), y / top, 0.0)
        self.outside.set_xy(between(x * k, 0.0, out))
        self.chance_words.set_text(f"{100 * data.chance:.1f} %\ninside")
        lines = [np.full(1, np.nan)] * 4
        if kept is not None:
            shape = _steps(kept)
            lines = [shape[0] * k, shape[1] / kept.counts.max(), *_outlines((kept.worst, kept.likely), k)]
        self.kept_sizes.set_data(*lines[:2])
        self.kept_sums.set_data(*lines[2:])

    def alt(self, data: BudgetBars, kept: BudgetBars | None) -> str:
        mm = self._fine
        causes = "; ".join(
            f"{name} {mm(s - r)} to {mm(s + r)}, {100 * share:.0f} % of the worst case and {100 * square:.0f} % of the "
            "squares"
            for name, s, r, share, square in zip(data.names, data.shifts, data.reaches, data.worst_shares,
                                                 data.spread_shares, strict=True)
        )  # fmt: skip
        words = (
            f"Error budget of {data.size}: the size meant is {mm(data.aim)}, and the tolerance reaches from "
            f"{mm(data.low)} to {mm(data.high)} around it. Causes: {causes}. Worst case {mm(data.worst[0])} to "
            f"{mm(data.worst[1])}; root of squares, {data.coverage} standard deviations, {mm(data.likely[0])} to "
            f"{mm(data.likely[1])}. Of {data.samples} drawn parts {100 * data.chance:.1f} % are inside, "
            f"{100 * data.chance_small:.1f} % too small and {100 * data.chance_large:.1f} % too large."
        )
        return words if kept is None else f"{words} Of the kept setting {100 * kept.chance:.1f} % are inside."

    def _fine(self, value: float) -> str:
        return self.look.mm(value, 5 if self.look.system == "inch" else 3)

    def table(self, data: BudgetBars) -> Table:
        unit = self.look.length_unit

        def row(name: str, low: float, high: float, *shares: float) -> tuple[str, ...]:
            said = [f"{100 * share:.0f}" for share in shares] or ["", ""]
            return (name, self.look.number(low, 1), self.look.number(high, 1), *said)

        rows = [row(name, s - r, s + r, share, square)
                for name, s, r, share, square in zip(data.names, data.shifts, data.reaches, data.worst_shares,
                                                     data.spread_shares, strict=True)]  # fmt: skip
        rows += [row(WORST, *data.worst), row(LIKELY, *data.likely), row("tolerance", data.low, data.high)]
        return Table(f"Error budget of {data.size}, errors of the diameter off {self._fine(data.aim)}",
                     ("cause", f"from [{unit}]", f"to [{unit}]", "share of the worst case [%]",
                      "share of the squares [%]"), tuple(rows))  # fmt: skip


def _ticks(x: np.ndarray, rows: range) -> tuple[np.ndarray, np.ndarray]:
    """A short upright stroke at each x, in its row."""
    gap = np.full(len(x), np.nan)
    levels = np.array(rows, dtype=float)
    return np.column_stack([x, x, gap]).ravel(), np.column_stack([levels - _HALF, levels + _HALF, gap]).ravel()


def _outlines(spans: tuple[tuple[float, float], ...], k: float) -> tuple[np.ndarray, np.ndarray]:
    """The outlines of the two sums, cut apart by a gap."""
    shapes = []
    for row, (low, high) in enumerate(spans):
        corners = box(low * k, _ROWS + row - _HALF, high * k, _ROWS + row + _HALF)
        shapes.append(np.vstack([corners, corners[:1], [[np.nan, np.nan]]]))
    x, y = np.vstack(shapes).T
    return x, y


def _steps(data: BudgetBars) -> tuple[np.ndarray, np.ndarray]:
    """The outline of the heap: two corners a bin."""
    return np.repeat(data.edges, 2)[1:-1], np.repeat(data.counts, 2)
