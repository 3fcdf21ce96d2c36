"""A held part and the stack of passes that turns it, with what limits the depth of each."""

import numpy as np

from latheworks.pictures.canvas import Picture, nice, spread
from latheworks.pictures.drafting import NOWHERE, Sheet
from latheworks.pictures.limit_bars import LimitBars
from latheworks.pictures.pass_layers import PassLayers
from latheworks.pictures.style import FILL, Table
from latheworks.pictures.workholding import centers, jaws

# The two drawings on the paper, in shares of it; their sizes in dots follow from the picture's.
_UPPER, _STACK = (0.015, 0.67, 0.97, 0.33), (0.015, 0.015, 0.61, 0.595)
# How many times larger across than along: round numbers, so that it can be said.
_LARGER = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0)
_LABELS = 13


class PassStackPicture(Picture):
    """The part in the jaws to scale, the layers of its passes drawn larger across, and what each limit allows."""

    width, height = 640, 430

    def build(self) -> None:
        self.upper = self.canvas.axes(*_UPPER, frame=False)
        self.stack = self.canvas.axes(*_STACK, frame=False)
        self.right = self.canvas.axes(0.645, 0.015, 0.345, 0.595, frame=False)
        self._build_part()
        self._build_stack()
        self.bars = LimitBars(self.canvas, self.right)

    def _build_part(self) -> None:
        still, top = Sheet(self.canvas, self.upper, resting=True), Sheet(self.canvas, self.upper)
        self.jaws = still.shapes("tool", 1.0)
        self.walls = [top.area("work", hatch="////") for _ in range(2)]
        self.axis = top.center_line()
        self.finished = top.line("outline", "finished", 1.0)
        self.centers = top.shapes("tool", 1.0)
        self.tool = top.area("tool", "tool")
        self.way = top.line("tool", width=1.6)
        self.way_head = top.line("tool", marker="<", markersize=6, clip_on=False)
        self.now = top.words(meaning="result", fixed=True, across="left", up="top")
        self.now.set_position((0.0, 1.0))
        self.turning = top.words(fixed=True, across="right", up="top")
        self.turning.set_position((1.0, 1.0))

    def _build_stack(self) -> None:
        still, top = Sheet(self.canvas, self.stack, resting=True), Sheet(self.canvas, self.stack)
        self.standing = top.area("work", "quiet", width=0.0)
        self.section = still.area("work", "quiet", hatch="////", width=0.0)
        self.broken = still.line("quiet", width=0.8)
        self.to_come = top.shapes("quiet", 0.7)
        self.gone = top.shapes("quiet", 0.7, "finished")
        self.layer = top.shapes("result", 1.4, hatch="....")
        self.layer.set_facecolor(FILL["result"])
        self.semi = top.line("outline", "third", 1.0)
        self.wanted = top.line("outline", width=2.0)
        self.kept = top.line("kept", "kept", 1.6)
        self.sizes = [still.words(up="center") for _ in range(4)]
        self.stock_words = still.words(across="left", up="bottom")
        self.leaders = still.line("quiet", width=0.6)
        self.labels = [still.words(across="left", backed=False) for _ in range(_LABELS + 3)]
        self.here = top.line("result", width=1.2)
        self.here_words = top.words(meaning="result", across="left", weight="bold")
        self.scale_words = still.words(meaning="quiet", fixed=True, across="left", up="bottom")
        self.scale_words.set_position((0.0, 1.025))
        still.words("\u25c4 chuck", "quiet", fixed=True, across="left", up="bottom").set_position((0.0, 0.0))

    def update(self, data: PassLayers, kept: PassLayers | None) -> None:
        self._draw_part(data)
        self._draw_stack(data, kept)
        self.bars.put(data, kept, self.look)

    def _draw_part(self, data: PassLayers) -> None:
        k = self.look.length
        long, hole = float(data.z[-1]) * k, data.other * k
        outside = hole if data.inside else data.stock * k
        gripped = abs(data.stock) * k if data.inside else 0.0
        # The same scale both ways.
        wide, tall = _UPPER[2] * self.width, _UPPER[3] * self.height
        span = nice(max(1.36 * long, 2 * outside * wide / (0.56 * tall)) / k) * k
        high = span * tall / wide
        left = -0.13 * span
        self.canvas.limits(self.upper, (left, left + span), (-0.43 * high, 0.57 * high))
        z, height = (values * k for values in data.stands(data.shown))
        # The stub from the jaws to where the turning begins stays as the stock is.
        z, radius = np.append(0.0, np.append(z[0], z)), np.abs(np.append([data.stock * k] * 2, height))
        outer = np.full(z.shape, outside) if data.inside else radius
        inner = radius if data.inside else -radius
        self.walls[0].set_xy(np.concatenate([np.column_stack([z, outer]), np.column_stack([z, inner])[::-1]]))
        self.walls[1].set_xy(self.walls[0].get_xy() * (1, -1) if data.inside else NOWHERE)
        self.axis.set_data([left + 0.01 * span, long + 0.05 * span], [0, 0])
        want = np.abs(data.height) * k
        path = data.z * k
        self.finished.set_data(np.concatenate([path, [np.nan], path]), np.concatenate([want, [np.nan], -want]))

        def rest() -> None:
            self.jaws.set_verts(jaws(left, span, outside, gripped))
            self.jaws.set_facecolor([FILL["tool"]] * 3 + [FILL["work"]] * 2)

        self.canvas.when_changed("held", (data.setup, span), rest)
        tip_side = 0.0 if data.inside else float(radius[-1])
        far = centers(span, long, tip_side or outside, 0.0)[1]
        self.centers.set_verts([far] if data.center else [])
        self.centers.set_facecolor(FILL["tool"])
        self._draw_tool(data, span, high, k)
        i, mm = data.now, self.look.mm
        what = f"\u2300{mm(2 * abs(data.before[i]))} to \u2300{mm(2 * abs(data.after[i]))}"
        what = f"{mm(data.depth[i])} or less" if data.along(i) else what
        self.now.set_text(f"pass {data.shown} of {data.passes}, {data.kinds[i]}: {what}")
        # Along the profile a constant surface speed turns faster wherever the diameter is smaller.
        faster = data.along(i) and data.constant != "turns"
        self.turning.set_text(f"{data.spindle[i]:.0f} rev/min" + (" and more" if faster else ""))

    def _draw_tool(self, data: PassLayers, span: float, high: float, k: float) -> None:
        """The tool where the pass ends, drawn in the scale of the paper, not of the part."""
        i = data.now
        at = float(data.start[i]) * k
        z, height = data.stands(data.shown)
        tip = abs(float(np.interp(data.start[i] + 1e-6, z, height)) if data.along(i) else float(data.after[i])) * k
        wide, tall = 0.012 * span, 0.15 * high
        if data.inside:
            end = data.z[-1] * k + 0.3 * span
            low = tip - max(0.5 * tip, 0.02 * high)
            self.tool.set_xy([(at, tip), (at + 1.2 * wide, tip - 0.12 * tip), (end, tip - 0.12 * tip), (end, low),
                              (at + 0.3 * wide, low)])  # fmt: skip
            self.way.set_data([], [])
            self.way_head.set_data([], [])
            return
        self.tool.set_xy([(at, tip), (at + wide, tip + 0.1 * tall), (at + wide, tip + tall), (at - wide, tip + tall),
                          (at - wide, tip + 0.5 * tall)])  # fmt: skip
        self.way.set_data([at + 4.5 * wide, at + 1.8 * wide], [tip + 0.75 * tall] * 2)
        self.way_head.set_data([at + 1.8 * wide], [tip + 0.75 * tall])

    def _draw_stack(self, data: PassLayers, kept: PassLayers | None) -> None:
        k = self.look.length
        wide, tall = _STACK[2] * self.width, _STACK[3] * self.height
        low, top, wall = _across(data)
        along = float(data.z[-1]) / 0.7
        fits = (tall / (1.12 * (top - low))) / (wide / along)
        larger = max(each for each in _LARGER if each <= max(fits, 1.0))
        high = along * tall / wide / larger
        # Where the scale leaves room it is left at the bottom.
        floor = top + 0.09 * high - high
        low = low if wall else floor
        self.canvas.limits(self.stack, (-0.02 * along * k, 0.98 * along * k), (floor * k, (floor + high) * k))
        self.canvas.when_changed("stack", (data.key, larger), lambda: self._rest(data, larger, low, wall, along, high))
        z, height = (values * k for values in data.stands(data.shown))
        wanted = np.column_stack([data.z, data.height]) * k
        self.standing.set_xy(np.concatenate([np.column_stack([z, height]), wanted[::-1]]))
        rough = [i for i in range(data.passes) if not data.along(i)]
        self.gone.set_verts([shape * k for i in rough if i < data.now for shape in data.layer(i)])
        self.to_come.set_verts([shape * k for i in rough if i > data.now for shape in data.layer(i)])
        self.semi.set_data([], [])
        if "semi-finish" in data.kinds and data.shown <= data.kinds.index("semi-finish"):
            self.semi.set_data(data.z * k, np.minimum(data.height + data.allowance, data.stock) * k)
        self.wanted.set_data(wanted[:, 0], wanted[:, 1])
        self.layer.set_verts([shape * k for shape in data.layer(data.now)])
        self.kept.set_data([], [])
        if kept is not None and kept.setup == data.setup:
            z, height = kept.stands(kept.shown)
            self.kept.set_data(z * k, height * k)
        place = self._places[data.now]
        self.here.set_data([place[0] * k, place[2] * k], [place[1] * k, place[3] * k])
        self.here_words.set_position((place[2] * k + 0.008 * along * k, place[3] * k))
        self.here_words.set_text(self._named(data, data.now))

    def _rest(self, data: PassLayers, larger: float, low: float, wall: bool, along: float, high: float) -> None:
        """All that stays while the passes are stepped through."""
        k, mm = self.look.length, self.look.mm
        path = [(0.0, data.stock), (float(data.z[0]), data.stock), *zip(data.z, data.height, strict=True)]
        end = float(data.z[-1])
        self.section.set_xy(np.array([*path, (end, low), (0.0, low)]) * k)
        teeth = np.linspace(0.0, end, 41)
        self.broken.set_data(teeth * k, (low + (0 if wall else 0.01 * high) * (-1.0) ** np.arange(41)) * k)
        self.stock_words.set_position((0.0, (data.stock + 0.012 * high) * k))
        self.stock_words.set_text(f"{'drilled' if data.inside else 'stock'} \u2300{mm(2 * abs(data.stock))}")
        flat = [i for i in range(len(data.z) - 1) if abs(data.height[i + 1] - data.height[i]) < 1e-9
                and data.z[i + 1] - data.z[i] > 0.16 * along]  # fmt: skip
        for n, words in enumerate(self.sizes):
            words.set_text("")
            if n < len(flat):
                i = flat[n]
                words.set_position(((data.z[i] + data.z[i + 1]) / 2 * k, (data.height[i] - 0.062 * high) * k))
                words.set_text(f"\u2300{mm(2 * abs(data.height[i]))}")
        self.scale_words.set_text(
            f"half section, {data.part}" + (f", {larger:g} times larger across" if larger > 1 else ", to scale")
        )
        self._label(data, along, high)

    def _label(self, data: PassLayers, along: float, high: float) -> None:
        """The number of each pass at its free end, spread so that they stand clear of each other."""
        k = self.look.length
        gap = 0.076 * high
        ends = {"finish": data.height[-1], "semi-finish": data.height[-1] + data.allowance}
        middle = (data.before + data.after) / 2
        anchors = [(float(data.end[i]), float(ends.get(data.kinds[i], middle[i]))) for i in range(data.passes)]
        rough = [i for i in range(data.passes) if not data.along(i)]
        last = [i for i in range(data.passes) if data.along(i)]
        told = [*spread(rough, _LABELS - len(last)), *last]
        levels = [anchors[i][1] for i in told]
        for n in range(1, len(levels)):
            levels[n] = min(levels[n], levels[n - 1] - gap)
        # Lifted where they run out of the paper.
        floor = self.stack.get_ylim()[0] / k + gap / 2
        for n in range(len(levels) - 1, -1, -1):
            levels[n] = max(levels[n], floor + (len(levels) - 1 - n) * gap)
        x = float(data.z[-1]) + 0.05 * along
        self._places = [(*anchors[i], x, float(np.interp(i, told, levels))) for i in range(data.passes)]
        lines = [(*self._places[i][:2], *self._places[i][2:]) for i in told]
        self.leaders.set_data(
            [value * k for a, _, b, _ in lines for value in (a, b, np.nan)],
            [value * k for _, a, _, b in lines for value in (a, b, np.nan)],
        )
        for n, words in enumerate(self.labels):
            words.set_text("")
            if n < len(told):
                words.set_position(((x + 0.008 * along) * k, levels[n] * k))
                words.set_text(self._named(data, told[n]))

    def _named(self, data: PassLayers, which: int) -> str:
        return f"{which + 1} {data.kinds[which].partition('-')[0]}" if data.along(which) else f"{which + 1}"

    def alt(self, data: PassLayers, kept: PassLayers | None) -> str:
        mm, i = self.look.mm, data.now
        held = "held in the chuck" + (" with a center" if data.center else "")
        what = f"a bore, drilled {mm(2 * abs(data.stock))}" if data.inside else f"stock of {mm(2 * data.stock)}"
        counts = ", ".join(f"{data.kinds.count(kind)} {kind}" for kind in dict.fromkeys(data.kinds))
        words = (
            f"Turning the {data.part} of {data.material}, {held}, from {what}: {data.passes} passes, {counts}. "
            f"Pass {data.shown} is shown, {data.kinds[i]}, {mm(data.depth[i])} deep"
        )
        words += ", along the profile" if data.along(i) else (
            f", from {mm(2 * abs(data.before[i]))} to {mm(2 * abs(data.after[i]))}")  # fmt: skip
        words += f". {self.bars.said(data, self.look)}"
        if data.problem:
            words += f" {data.problem}"
        if kept is not None:
            words += (
                f" The setting kept for comparison needs {kept.passes} passes, {mm(kept.depth.max())} deep at most."
            )
        return words

    def table(self, data: PassLayers) -> Table:
        unit, number = self.look.length_unit, self.look.number
        headings = ("pass", "kind", f"before [{unit}]", f"after [{unit}]", f"depth [{unit}]", f"from [{unit}]",
                    f"to [{unit}]", "spindle [rev/min]", "time [min]", "limited by")  # fmt: skip
        body = tuple(
            (str(i + 1), data.kinds[i],
             *map(number, (2 * abs(data.before[i]), 2 * abs(data.after[i]), data.depth[i], data.end[i], data.start[i])),
             f"{data.spindle[i]:.0f}", f"{data.minutes[i]:.2f}", data.limited_by[i])
            for i in range(data.passes)
        )  # fmt: skip
        return Table("The passes; diameters over and at the deepest place of a pass along the profile", headings, body)


def _across(data: PassLayers) -> tuple[float, float, bool]:
    """The lowest and highest height drawn [mm], and whether the lowest is the wall's other side."""
    low, top = float(data.height.min()), float(data.stock)
    if data.inside:
        return -data.other, top, True
    return max(low - 0.35 * (top - low), 0.0), top, False
