"""The bar as it is held, with the tool at work, the shape it bends to, and the size error along it."""

from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice, spread
from latheworks.pictures.drafting import NOWHERE, Sheet, between, box
from latheworks.pictures.style import FILL, INK, Table
from latheworks.pictures.workholding import centers, jaws

HOLDINGS = ("in the chuck", "chuck and center", "between centers")
_STYLES = dict(zip(HOLDINGS, ("first", "second", "third"), strict=True))


@dataclass(frozen=True)
class HeldBar:
    """What the picture needs: sizes and positions in mm, force in N, errors of the diameter in mm."""

    length: float
    outside: float
    bore: float
    holding: str
    force: float
    at: float
    tolerance: float
    along: np.ndarray
    shape: np.ndarray
    errors: dict[str, np.ndarray]
    error_here: float

    @property
    def error(self) -> np.ndarray:
        """The error along the bar in the holding that is used."""
        return self.errors[self.holding]

    @property
    def worst(self) -> int:
        """Where along the bar the error is largest."""
        return int(np.argmax(self.error))

    @property
    def largest(self) -> float:
        """The largest error along the bar [mm]."""
        return float(self.error[self.worst])

    @property
    def needs_plug(self) -> bool:
        """Whether a center stands in a bored end, where a usual one finds no center hole."""
        return bool(self.bore) and self.holding != HOLDINGS[0]

    @property
    def inside(self) -> bool:
        """Whether the diameter is left no larger than the tolerance allows, all along."""
        return self.largest <= self.tolerance


class BarPicture(Picture):
    """A bar in a lathe, to scale; only the bend is drawn larger, and it says how much."""

    def build(self) -> None:
        look = self.look
        self.upper = self.canvas.axes(0.105, 0.54, 0.875, 0.46, frame=False)
        self.lower = self.canvas.axes(0.105, 0.125, 0.875, 0.29)
        self.lower.set_xlabel(f"distance from the headstock end [{look.length_unit}]", labelpad=1)
        still, low_still = (Sheet(self.canvas, axes, resting=True) for axes in (self.upper, self.lower))
        top, low = Sheet(self.canvas, self.upper), Sheet(self.canvas, self.lower)
        self.jaws = still.shapes("tool", 1.0)
        self.straight = still.area(None, "quiet", style="finished", width=0.8)
        self.length_size = still.dimension()
        self.band = low_still.area("limit", "limit", width=1.0)
        self.band_words = low_still.words(meaning="limit", across="left")
        self.curves = {name: low_still.line("quiet", _STYLES[name], 1.0) for name in HOLDINGS}
        self.kept_curve = low_still.line("kept", "kept", 1.6)
        self.kept_words = low_still.words("kept", "kept", across="right", up="bottom")
        self.samples = {name: low_still.line("quiet", _STYLES[name], transform=self.lower.transAxes, clip_on=False)
                        for name in HOLDINGS}  # fmt: skip
        self.sample_words = {name: low_still.words(name, fixed=True, across="left") for name in HOLDINGS}
        for place, name in zip((0.0, 0.31, 0.67), HOLDINGS, strict=True):
            self.samples[name].set_data([place, place + 0.07], [1.33, 1.33])
            self.sample_words[name].set_position((place + 0.08, 1.33))
        title = low_still.words(f"diameter left large by [{look.length_unit}]", fixed=True, across="left")
        title.set_position((-0.1, 1.15))
        self.walls = [top.area("work", hatch="////") for _ in range(2)]
        self.axis = top.center_line()
        self.centers = top.shapes("tool", 1.0)
        self.sizes = top.words(fixed=True, across="left", up="top")
        self.sizes.set_position((0.0, 1.0))
        self.plug_words = top.words("needs a plug\nor a wide cone", "quiet", fixed=True, across="right", up="bottom")
        self.plug_words.set_position((1.0, 0.0))
        self.tool = top.area("tool", "tool")
        self.push = top.line("result", width=1.6)
        self.push_head = top.line("result", marker="^", markersize=6, clip_on=False)
        self.push_words = top.words(meaning="result", across="left")
        self.tool_words = top.words("tool", "tool", across="right")
        self.bend_words = top.words(fixed=True, meaning="quiet", across="right", up="top")
        self.bend_words.set_position((1.0, 1.0))
        self.here = low.line("result", marker="o", markersize=6)
        self.here_words = low.words(meaning="result", across="left", up="bottom")

    def update(self, data: HeldBar, kept: HeldBar | None) -> None:
        self._draw_bar(data, kept)
        self._draw_errors(data, kept)

    def _draw_bar(self, bar: HeldBar, kept: HeldBar | None) -> None:
        k = self.look.length
        long, radius, hole, x = bar.length * k, bar.outside / 2 * k, bar.bore / 2 * k, bar.along * k
        # The same scale both ways: the paper is 560 wide and 184 high.
        longest = max(bar.length, kept.length if kept else 0.0)
        span = nice(max(1.36 * longest, 5.5 * bar.outside)) * k
        high = span * 184 / 560
        left = -0.13 * span
        self.canvas.limits(self.upper, (left, left + span), (-0.46 * high, 0.54 * high))
        largest = float(np.max(np.abs(bar.shape))) * k
        # Below a tenth of the paper, at a round number of times.
        larger = 1.0 if largest == 0 else 1 / nice(largest / (0.1 * high), (1.0, 2.0, 5.0, 10.0))
        bend = bar.shape * k * larger
        self.walls[0].set_xy(between(x, (hole if hole else -radius) + bend, radius + bend))
        self.walls[1].set_xy(between(x, -radius + bend, -hole + bend) if hole else NOWHERE)
        self.axis.set_data([left + 0.01 * span, long + 0.05 * span], [0, 0])

        def rest() -> None:
            self._draw_jaws(bar.holding != HOLDINGS[2], left, span, radius, hole)
            self.straight.set_xy(box(0, -radius, long, radius))
            self.length_size.put(0, long, radius + 0.15 * high, self.look.mm(bar.length), foot=radius)

        self.canvas.when_changed("bar", (bar.length, bar.outside, bar.bore, bar.holding, span), rest)
        self._draw_centers(bar.holding, left, span, long, radius, hole, float(bend[0]), float(bend[-1]))
        bored = f", bore \u2300{self.look.mm(bar.bore)}" if bar.bore else ", solid"
        self.sizes.set_text(f"\u2300{self.look.mm(bar.outside)}{bored}")
        self.plug_words.set_visible(bar.needs_plug)
        self._draw_tool(bar, bar.at * k, -radius + float(np.interp(bar.at * k, x, bend)), span, high)
        bent = "the push bends nothing" if largest == 0 else f"bend drawn {larger:,.0f} times larger"
        self.bend_words.set_text(bent)

    def _draw_tool(self, bar: HeldBar, at: float, tip: float, span: float, high: float) -> None:
        wide, tall = 0.012 * span, 0.17 * high
        self.tool.set_xy([(at, tip), (at + wide, tip - 0.1 * tall), (at + wide, tip - tall), (at - wide, tip - tall),
                          (at - wide, tip - 0.5 * tall)])  # fmt: skip
        self.tool_words.set_position((at - 1.5 * wide, tip - 0.7 * tall))
        self.push.set_data([at + 2.2 * wide] * 2, [tip - 0.9 * tall, tip - 0.25 * tall])
        self.push_head.set_data([at + 2.2 * wide], [tip - 0.25 * tall])
        self.push_words.set_position((at + 3.2 * wide, tip - 0.7 * tall))
        self.push_words.set_text(f"push {self.look.newton(bar.force)}")

    def _draw_jaws(self, used: bool, left: float, span: float, radius: float, hole: float) -> None:
        self.jaws.set_verts(jaws(left, span, radius, hole) if used else [])
        self.jaws.set_facecolor([FILL["tool"]] * 3 + [FILL["work"]] * 2)

    def _draw_centers(self, holding: str, left: float, span: float, long: float, radius: float, hole: float,
                      near: float, far: float) -> None:  # fmt: skip
        head, tail = centers(span, long, radius, hole, near, far)
        self.centers.set_verts([tail, head] if holding == HOLDINGS[2] else [tail] if holding == HOLDINGS[1] else [])
        self.centers.set_facecolor(FILL["tool"])

    def _draw_errors(self, bar: HeldBar, kept: HeldBar | None) -> None:
        k = self.look.length
        span = self.upper.get_xlim()
        top = nice(1.15 * max(bar.largest, bar.tolerance, kept.largest if kept else 0.0)) * k
        self.canvas.limits(self.lower, span, (-0.06 * top, top))
        key = (bar.length, bar.outside, bar.bore, bar.holding, bar.force, bar.tolerance, bar.largest, span,
               None if kept is None else (kept.holding, kept.length, kept.largest))  # fmt: skip
        self.canvas.when_changed("errors", key, lambda: self._draw_curves(bar, kept))
        at, here = bar.at * k, bar.error_here * k
        self.here.set_data([at], [here])
        # To the left of the mark wherever there is room: to the right of the bar stand the words of the band.
        right = at > span[0] + 0.3 * (span[1] - span[0])
        self.here_words.set_position((at + (-0.012 if right else 0.012) * (span[1] - span[0]), here + 0.05 * top))
        self.here_words.set_ha("right" if right else "left")
        self.here_words.set_text(f"{self.look.mm(bar.error_here)} at the tool")

    def _draw_curves(self, bar: HeldBar, kept: HeldBar | None) -> None:
        k = self.look.length
        tolerance = bar.tolerance * k
        self.band.set_xy(box(0, 0, bar.length * k, tolerance))
        span = self.upper.get_xlim()
        self.band_words.set_position(
            (bar.length * k + 0.012 * (span[1] - span[0]), max(tolerance / 2, 0.11 * self.lower.get_ylim()[1]))
        )
        self.band_words.set_text(f"allowed: 0 to\n+{self.look.mm(bar.tolerance)}")
        for name, curve in self.curves.items():
            chosen = name == bar.holding
            curve.set_data(bar.along * k, bar.errors[name] * k)
            for line in (curve, self.samples[name]):
                line.set_color(INK["result" if chosen else "quiet"])
                line.set_linewidth(2.6 if chosen else 1.0)
            self.sample_words[name].set_color(INK["result" if chosen else "quiet"])
        self.kept_curve.set_data([], [])
        self.kept_words.set_text("")
        if kept is not None:
            self.kept_curve.set_data(kept.along * k, kept.error * k)
            self.kept_words.set_position((kept.length * k, kept.error[-1] * k))
            self.kept_words.set_text("kept")

    def alt(self, data: HeldBar, kept: HeldBar | None) -> str:
        mm = self.look.mm
        bore = f"with a bore of {mm(data.bore)}" if data.bore else "solid"
        worst = mm(float(data.along[data.worst]))
        words = (
            f"A bar {mm(data.length)} long and {mm(data.outside)} across, {bore}, held {_held(data.holding)}. "
            f"The tool pushes with {self.look.newton(data.force)}, {mm(data.at)} from the headstock end, and leaves "
            f"the diameter {mm(data.error_here)} large there. Along the bar the most is {mm(data.largest)}, "
            f"{worst} from the headstock end: {'inside' if data.inside else 'outside'} the tolerance, "
            f"which allows up to {mm(data.tolerance)}."
        )
        if data.needs_plug:
            words += " A bored end needs a plug or a wide cone for its center."
        return words if kept is None else f"{words} The setting kept for comparison left at most {mm(kept.largest)}."

    def table(self, data: HeldBar) -> Table:
        unit, number = self.look.length_unit, self.look.number
        rows = spread(range(len(data.along)), 11)
        body = tuple(tuple(map(number, (data.along[i], *(data.errors[name][i] for name in HOLDINGS)))) for i in rows)
        headings = (f"from the headstock end [{unit}]", *(f"{name} [{unit}]" for name in HOLDINGS))
        return Table("Diameter left large by, along the bar", headings, body)


def _held(holding: str) -> str:
    return {"chuck and center": "in the chuck with a center"}.get(holding, holding)
