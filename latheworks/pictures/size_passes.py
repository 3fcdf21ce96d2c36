"""A bar turned in the lathe, and the size along it after each pass of the tool."""

from dataclasses import dataclass

import numpy as np
from matplotlib.ticker import MaxNLocator

from latheworks.pictures.bar import HOLDINGS
from latheworks.pictures.canvas import Picture, nice, spread
from latheworks.pictures.drafting import NOWHERE, Sheet, between, box
from latheworks.pictures.style import FILL, Look, Table
from latheworks.pictures.workholding import centers, jaws


@dataclass(frozen=True)
class SizePasses:
    """What the picture needs: sizes and positions in mm, forces in N.

    `per_pass` has a row a pass, the cut first and then the spring passes, and says by how much the diameter is left
    large at each place in `along`; `taken` and `push` are the depth really cut and the radial force in the same rows.
    `floor` is where spring passes stop at each place. `shown` is how many passes have been made.
    """

    length: float
    blank: float
    bore: float
    holding: str
    depth: float
    feed: float
    tolerance: float
    edge: float
    shown: int
    along: np.ndarray
    per_pass: np.ndarray
    taken: np.ndarray
    push: np.ndarray
    floor: np.ndarray

    @property
    def wanted(self) -> float:
        """The diameter that the tool is set to leave."""
        return self.blank - 2 * self.depth

    @property
    def now(self) -> np.ndarray:
        """The error along the bar after the pass shown."""
        return self.per_pass[self.shown - 1]

    @property
    def worst(self) -> int:
        """Where along the bar the error is largest after the pass shown."""
        return int(np.argmax(self.now))

    @property
    def largest(self) -> float:
        """The largest error after the pass shown."""
        return float(self.now[self.worst])

    @property
    def smallest(self) -> float:
        """The smallest error after the pass shown."""
        return float(np.min(self.now))

    @property
    def most(self) -> np.ndarray:
        """The largest error after each pass."""
        return self.per_pass.max(axis=1)

    @property
    def inside(self) -> bool:
        """Whether every place is from the size set up to the tolerance after the pass shown."""
        # The edge of a tool cannot cut a part smaller than it is set; a hair of arithmetic must not say so.
        return self.largest <= self.tolerance and self.smallest >= -1e-6

    @property
    def needs_plug(self) -> bool:
        """Whether a center stands in a bored end, where a usual one finds no center hole."""
        return bool(self.bore) and self.holding != HOLDINGS[0]


def named(number: int) -> str:
    """What a shop calls a pass: the cut, then spring pass 1, 2 and on."""
    return "the cut" if number == 1 else f"spring pass {number - 1}"


def small(value: float, look: Look) -> str:
    """An error in mm, written with its unit; never as nothing while there is something."""
    least = 2.54e-3 if look.system == "inch" else 1e-3
    return f"under {look.mm(least)}" if 1e-9 < value < least / 2 else look.mm(value)


class SizePicture(Picture):
    """The bar to scale, with what is left on it drawn larger; below it the size along the bar, pass by pass."""

    def build(self) -> None:
        look = self.look
        self.upper = self.canvas.axes(0.015, 0.575, 0.97, 0.425, frame=False)
        self.lower = self.canvas.axes(0.105, 0.125, 0.555, 0.325)
        self.right = self.canvas.axes(0.7, 0.125, 0.285, 0.325)
        self.lower.set_xlabel(f"distance from the headstock end [{look.length_unit}]", labelpad=1)
        self.right.set_xlabel("pass", labelpad=1)
        # The same scale as on its left, where the numbers stand.
        self.right.set_yticks([])
        self.right.xaxis.set_major_locator(MaxNLocator(6, integer=True, min_n_ticks=2))
        self._build_bar()
        self._build_sizes()

    def _build_bar(self) -> None:
        still, top = Sheet(self.canvas, self.upper, resting=True), Sheet(self.canvas, self.upper)
        self.jaws = still.shapes("tool", 1.0)
        self.centers = still.shapes("tool", 1.0)
        self.length_size = still.dimension()
        self.blank_words = still.words(fixed=True, across="left", up="top")
        self.blank_words.set_position((0.0, 1.0))
        self.plug_words = still.words("needs a plug\nor a wide cone", "quiet", fixed=True, across="right", up="bottom")
        self.plug_words.set_position((1.0, 0.0))
        self.walls = [top.area("work", hatch="////") for _ in range(2)]
        self.left_on = [top.area("result", "result", width=0.8) for _ in range(2)]
        self.axis = top.center_line()
        self.set_lines = top.line("limit", "finished", 1.2)
        self.tool = top.area("tool", "tool")
        self.way = top.line("tool", width=1.6)
        self.way_head = top.line("tool", marker="<", markersize=6, clip_on=False)
        self.now = top.words(meaning="result", fixed=True, across="right", up="top")
        self.now.set_position((1.0, 1.0))
        self.larger_words = top.words(fixed=True, meaning="quiet", across="left", up="bottom")
        self.larger_words.set_position((0.145, 0.0))

    def _build_sizes(self) -> None:
        look = self.look
        still, side = (Sheet(self.canvas, axes, resting=True) for axes in (self.lower, self.right))
        low, side_top = Sheet(self.canvas, self.lower), Sheet(self.canvas, self.right)
        title = still.words(f"diameter left large by [{look.length_unit}]", fixed=True, across="left")
        title.set_position((-0.17, 1.29))
        side.words("largest, after each pass", fixed=True, across="right").set_position((1.0, 1.29))
        self.band = still.area("limit", "limit", width=1.0)
        self.side_band = side.area("limit", "limit", width=1.0)
        self.band_words = still.words(meaning="limit", fixed=True, across="left")
        self.band_words.set_position((-0.17, 1.11))
        self.kept_curve = still.line("kept", "kept", 1.6)
        self.kept_words = still.words("", "kept", across="right", up="bottom")
        self.kept_bars = side.line("kept", "finished", 2.2)
        self.bars = side.shapes("outline", 0.8)
        self.floor_line = side.line("quiet", "second", 1.4)
        self.floor_words = side.words("dashed: edge force leaves", "quiet", fixed=True, across="right")
        self.floor_words.set_position((1.0, 1.11))
        self.before = low.line("quiet", "third", 1.0)
        self.curve = low.line("result", width=2.6)
        self.here = low.line("result", marker="o", markersize=6)
        self.here_words = low.words(meaning="result", across="right", up="bottom")
        self.bar_now = side_top.area("result", "result", width=2.0)

    def update(self, data: SizePasses, kept: SizePasses | None) -> None:
        self._draw_bar(data)
        self._draw_sizes(data, kept)

    def _draw_bar(self, data: SizePasses) -> None:
        k = self.look.length
        long, radius, hole = data.length * k, data.wanted / 2 * k, data.bore / 2 * k
        # The same scale both ways: the paper is 621 wide and 170 high.
        span = nice(max(1.36 * data.length, 7.4 * data.blank)) * k
        high = span * 170 / 621
        left = -0.13 * span
        self.canvas.limits(self.upper, (left, left + span), (-0.53 * high, 0.47 * high))
        x, error = data.along * k, data.now / 2 * k
        # The first cut or the tolerance, a tenth of the paper high at most, gives the scale for every pass: so spring
        # passes are seen to take it off, and a stiff part is seen to have next to nothing on it.
        most = max(float(np.max(np.abs(data.per_pass[0]))), data.tolerance) / 2 * k
        larger = 1 / nice(most / (0.09 * high), (1.0, 2.0, 5.0, 10.0))
        edge = radius + error * larger
        inner = hole if hole else -radius
        self.walls[0].set_xy(between(x, inner, radius))
        self.walls[1].set_xy(between(x, -radius, -hole) if hole else NOWHERE)
        self.left_on[0].set_xy(between(x, radius, edge))
        self.left_on[1].set_xy(between(x, -edge, -radius))
        self.axis.set_data([left + 0.01 * span, long + 0.05 * span], [0, 0])
        self.set_lines.set_data([0, long, np.nan, 0, long], [radius, radius, np.nan, -radius, -radius])

        def rest() -> None:
            chucked = data.holding != HOLDINGS[2]
            shapes = jaws(left, span, data.blank / 2 * k, hole) if chucked else []
            self.jaws.set_verts(shapes)
            self.jaws.set_facecolor([FILL["tool"]] * 3 + [FILL["work"]] * 2)
            near, far = centers(span, long, data.blank / 2 * k, hole)
            self.centers.set_verts({HOLDINGS[0]: [], HOLDINGS[1]: [far]}.get(data.holding, [near, far]))
            self.centers.set_facecolor(FILL["tool"])
            self.length_size.put(0, long, data.blank / 2 * k + 0.085 * high, self.look.mm(data.length), foot=radius)
            bored = f", bore \u2300{self.look.mm(data.bore)}" if data.bore else ", solid"
            self.blank_words.set_text(
                f"blank \u2300{self.look.mm(data.blank)}{bored}, set to \u2300{self.look.mm(data.wanted)}"
            )
            self.plug_words.set_visible(data.needs_plug)

        key = (data.length, data.blank, data.bore, data.holding, data.depth, span)
        self.canvas.when_changed("bar", key, rest)
        i = data.worst
        at, tip, wide, tall = float(x[i]), -float(edge[i]), 0.011 * span, 0.17 * high
        self.tool.set_xy([(at, tip), (at + wide, tip - 0.1 * tall), (at + wide, tip - tall), (at - wide, tip - tall),
                          (at - wide, tip - 0.5 * tall)])  # fmt: skip
        self.way.set_data([at - 2 * wide, at - 5 * wide], [tip - 0.7 * tall] * 2)
        self.way_head.set_data([at - 5 * wide], [tip - 0.7 * tall])
        self.now.set_text(f"pass {data.shown} of {len(data.per_pass)}: {named(data.shown)}")
        self.larger_words.set_text(f"what is left on: drawn {larger:,.0f} times larger")

    def _draw_sizes(self, data: SizePasses, kept: SizePasses | None) -> None:
        k = self.look.length
        passes = max(len(data.most), len(kept.most) if kept else 0)
        # Room for a few more, so that one more pass leaves the axes alone.
        count = next(room for room in (4, 7, 11, 21) if room >= passes)
        most = max(float(data.most[0]), 1.4 * data.tolerance, float(kept.most[0]) if kept else 0.0)
        top = nice(1.15 * most, (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0)) * k
        longest = nice(1.04 * max(data.length, kept.length if kept else 0.0)) * k
        self.canvas.limits(self.lower, (-0.02 * longest, longest), (-0.06 * top, top))
        self.canvas.limits(self.right, (0.3, count + 0.7), (-0.06 * top, top))
        self.canvas.when_changed(
            "sizes",
            (data.length, data.tolerance, tuple(data.most), tuple(data.floor), top, longest, count,
             None if kept is None else (kept.shown, kept.length, tuple(kept.most))),
            lambda: self._draw_resting(data, kept, longest, top, count),
        )  # fmt: skip
        x, rows = data.along * k, data.per_pass[: data.shown - 1] * k
        gap = np.full((len(rows), 1), np.nan)
        self.before.set_data(np.tile(np.append(x, np.nan), len(rows)), np.hstack([rows, gap]).ravel())
        self.curve.set_data(x, data.now * k)
        i = data.worst
        at, here = float(x[i]), data.largest * k
        self.here.set_data([at], [here])
        right = at > 0.55 * longest
        self.here_words.set_position((at - 0.02 * longest if right else at, here + 0.06 * top))
        self.here_words.set_ha("right" if right else "left" if at < 0.3 * longest else "center")
        self.here_words.set_text(small(data.largest, self.look))
        self.bar_now.set_xy(box(data.shown - 0.38, 0, data.shown + 0.38, here))

    def _draw_resting(self, data: SizePasses, kept: SizePasses | None, longest: float, top: float, count: int) -> None:
        k, mm = self.look.length, self.look.mm
        tolerance = data.tolerance * k
        self.band.set_xy(box(-0.02 * longest, 0, longest, tolerance))
        self.side_band.set_xy(box(0.3, 0, count + 0.7, tolerance))
        self.band_words.set_text(f"shaded: allowed, 0 to +{mm(data.tolerance)}")
        self.bars.set_verts([box(n + 0.62, 0, n + 1.38, value * k) for n, value in enumerate(data.most)])
        self.bars.set_facecolor([FILL["work"]] * len(data.most))
        floor = float(np.max(data.floor)) * k
        self.floor_line.set_data([0.3, count + 0.7], [floor, floor])
        for artist in (self.floor_line, self.floor_words):
            artist.set_visible(bool(data.edge))
        self.kept_curve.set_data([], [])
        self.kept_bars.set_data([], [])
        self.kept_words.set_text("")
        if kept is not None:
            self.kept_curve.set_data(kept.along * k, kept.now * k)
            self.kept_words.set_position((float(kept.along[-1]) * k, float(kept.now[-1]) * k))
            self.kept_words.set_text("kept")
            across = np.arange(len(kept.most))[:, None] + np.array([0.55, 1.45, np.nan])
            self.kept_bars.set_data(across.ravel(), np.repeat(kept.most * k, 3))

    def alt(self, data: SizePasses, kept: SizePasses | None) -> str:
        look, mm = self.look, self.look.mm
        bore = f"with a bore of {mm(data.bore)}" if data.bore else "solid"
        held = {HOLDINGS[1]: "in the chuck with a center"}.get(data.holding, data.holding)
        passes = ", ".join(f"{small(float(value), look)} after {named(i + 1)}" for i, value in enumerate(data.most))
        words = (
            f"A bar {mm(data.length)} long, {bore}, held {held}, is turned from a blank of {mm(data.blank)} with the "
            f"tool set to leave {mm(data.wanted)}. Pass {data.shown} of {len(data.per_pass)} is shown, "
            f"{named(data.shown)}: the diameter is left large by {small(data.smallest, look)} to "
            f"{small(data.largest, look)}, most at {mm(float(data.along[data.worst]))} from the headstock end, "
            f"{'inside' if data.inside else 'outside'} the tolerance, which allows up to {mm(data.tolerance)}. "
            f"The largest errors are {passes}."
        )
        if data.edge:
            floor = small(float(np.max(data.floor)), look)
            words += f" The edge force leaves {floor}, however many spring passes there are."
        if data.needs_plug:
            words += " A bored end needs a plug or a wide cone for its center."
        return (
            words
            if kept is None
            else f"{words} The setting kept for comparison left at most {small(kept.largest, look)}."
        )

    def table(self, data: SizePasses) -> Table:
        unit, number = self.look.length_unit, self.look.number
        headings = [f"from the headstock end [{unit}]"]
        headings += [f"after {named(i + 1)} [{unit}]" for i in range(len(data.per_pass))]
        body = tuple(
            tuple(number(value + data.wanted * bool(j)) for j, value in enumerate(row))
            for row in spread(list(np.column_stack([data.along, data.per_pass.T])), 11)
        )
        return Table(f"Diameter along the bar, set to {self.look.mm(data.wanted)}", tuple(headings), body)
