"""The groove of a thread filling up pass by pass, and the chip of each pass."""

import math
from dataclasses import dataclass

import numpy as np
from matplotlib.ticker import MaxNLocator

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import Sheet, box
from latheworks.pictures.style import INK, Table

TAN = math.tan(math.radians(30))
SHADES = ("#f6d5c3", "#fbeae1")


@dataclass(frozen=True)
class GroovePasses:
    """What the picture needs: lengths in mm, areas in mm², forces in N; arrays have one entry a pass.

    `center` is where the tool's point stands along the axis after each pass, from the finished groove's center.
    Spring passes come last. `shown` is how many passes have been made. Spindle in rev/min, feed in mm/min.
    """

    designation: str
    external: bool
    method: str
    law: str
    pitch: float
    flat: float
    depth: np.ndarray
    center: np.ndarray
    area: np.ndarray
    force: np.ndarray | None
    cutting: int
    shown: int
    spindle: float
    feed: float
    run_in: float
    tan: float = TAN  # of half the thread's angle
    hand: str = "right"
    angle: float = 0.0  # of the compound, from the cross slide's direction, in degrees

    @property
    def total(self) -> float:
        """The whole depth, on the radius."""
        return float(self.depth[-1])

    @property
    def heaviest(self) -> int:
        """Which pass takes the largest chip."""
        return int(np.argmax(self.area))

    @property
    def step(self) -> np.ndarray:
        """How much deeper each pass goes."""
        return np.diff(self.depth, prepend=0.0)

    @property
    def way(self) -> float:
        """Which way the carriage feeds in the usual view of a lathe, headstock to the left: -1 to it, 1 away."""
        return 1.0 if self.hand == "left" else -1.0

    @property
    def feeds(self) -> str:
        """The same in words."""
        return "to the right, away from the headstock" if self.way > 0 else "to the left, to the headstock"

    @property
    def kind(self) -> str:
        """The pass shown: cutting or spring."""
        return "cutting" if self.shown <= self.cutting else "spring"


class GroovePicture(Picture):
    """One groove in section, to scale, with the tool at the pass shown; beside it a bar for each pass's chip."""

    def build(self) -> None:
        look = self.look
        self.left = self.canvas.axes(0.01, 0.02, 0.56, 0.96, frame=False)
        self.right = self.canvas.axes(0.69, 0.125, 0.295, 0.755)
        self.right.set_xlabel("pass", labelpad=1)
        self.right.xaxis.set_major_locator(MaxNLocator(6, integer=True, min_n_ticks=2))
        still, side_still = (Sheet(self.canvas, axes, resting=True) for axes in (self.left, self.right))
        sheet, side = Sheet(self.canvas, self.left), Sheet(self.canvas, self.right)
        side_still.words(f"chip area [{look.length_unit}\u00b2]", fixed=True, across="right").set_position((1.0, 1.085))
        self.metal = still.area("work", hatch="//", width=0.0)
        self.title = still.words(fixed=True, across="left", up="top")
        self.title.set_position((0.02, 1.0))
        still.words("the center line is below", "quiet", fixed=True, across="right", up="bottom").set_position(
            (0.98, 0)
        )
        still.words("\u25c4 headstock side", "quiet", fixed=True, across="left", up="bottom").set_position((0.02, 0.0))
        self.feed_arrow = still.line("outline", width=1.8, transform=self.left.transAxes)
        self.feed_head = still.line("outline", marker="<", markersize=7, transform=self.left.transAxes)
        self.feed_words = still.words(fixed=True, across="left")
        self.pitch_size = still.dimension()
        self.bars = side_still.shapes("outline", 0.8)
        self.kept_bars = side_still.line("kept", "finished", 2.2)
        self.kept_words = side_still.words("dotted: kept", "kept", fixed=True, across="right")
        self.kept_words.set_position((1.0, 1.015))
        self.tool = sheet.area("tool", "tool", width=1.2)
        self.chips = sheet.shapes("outline", 0.6)
        self.surface = sheet.line("outline", width=1.4)
        self.finished = sheet.line("limit", "finished", 1.4)
        self.tool_words = sheet.words("tool", "tool", backed=False)
        self.depth_size = sheet.dimension("result", turned=True)
        self.now = sheet.words(meaning="result", fixed=True, across="left", up="top")
        self.now.set_position((0.02, 0.94))
        self.mark = side.area(None, "result", width=2.2)
        self.leader = side.line("result", width=0.8)
        self.mark_words = side.words(meaning="result", up="bottom")

    def update(self, data: GroovePasses, kept: GroovePasses | None) -> None:
        k, mm = self.look.length, self.look.mm
        sign = -1.0 if data.external else 1.0
        # One pitch and a quarter on both sides of the groove, the same scale both ways.
        half = 0.75 * data.pitch * k
        high = 2 * half * (0.96 * self.height) / (0.56 * self.width)
        surface = -sign * 0.1 * high
        self.canvas.limits(self.left, (-half, half), (-high / 2, high / 2))
        depth, center, flat = data.depth * k, data.way * data.center * k, data.flat * k
        self._draw_work(data, half, surface, sign, high)
        cut = range(min(data.shown, data.cutting))
        first = [_groove(depth[i], center[i], flat, surface, sign, data.tan) for i in cut]
        # The deepest first: what an earlier pass left of each is the chip that it took.
        self.chips.set_verts(first[::-1])
        colors = [SHADES[i % 2] for i in range(len(first))]
        if colors and data.shown <= data.cutting:
            colors[-1] = INK["result"]
        self.chips.set_facecolor(colors[::-1])
        i = data.shown - 1
        point = _groove(depth[i], center[i], flat, surface, sign, data.tan)
        back = surface - sign * 0.2 * high
        wide = flat / 2 + (depth[i] + 0.2 * high) * data.tan
        self.tool.set_xy(np.array([(center[i] - wide, back), point[1], point[2], (center[i] + wide, back)]))
        self.tool_words.set_position((center[i], surface - sign * 0.12 * high))
        low, top = sorted((surface, surface + sign * depth[i]))
        self.depth_size.put(low, top, -0.72 * half, mm(float(data.depth[i])), foot=center[i] - flat / 2)
        spring = f", spring pass {data.shown - data.cutting}" if data.kind == "spring" else ""
        self.now.set_text(f"pass {data.shown} of {len(depth)}{spring}: {data.method}")
        self._draw_bars(data, kept)

    def _draw_work(self, data: GroovePasses, half: float, surface: float, sign: float, high: float) -> None:
        k = self.look.length

        def rest() -> None:
            far = sign * high
            self.metal.set_xy(box(-2 * half, min(surface, far), 2 * half, max(surface, far)))
            kind = "external" if data.external else "internal"
            self.title.set_text(f"{data.designation}, {kind} thread, to scale")
            pitch = data.pitch * k
            level = surface - sign * 0.27 * high
            self.pitch_size.put(-pitch / 2, pitch / 2, level, f"pitch {self.look.mm(data.pitch)}", foot=surface)
            height, tail, tip = 0.075, 0.09 - 0.06 * data.way, 0.09 + 0.06 * data.way
            self.feed_arrow.set_data([tail, tip], [height, height])
            self.feed_head.set_data([tip], [height])
            self.feed_head.set_marker("<" if data.way < 0 else ">")
            self.feed_words.set_position((0.17, height))
            self.feed_words.set_text("feed")

        self.canvas.when_changed("work", (data.designation, data.external, data.pitch, data.hand), rest)
        crest = (data.flat + 2 * data.total * data.tan) / 2 * k
        whole = _groove(data.total * k, 0.0, data.flat * k, surface, sign, data.tan)
        self.finished.set_data(whole[:, 0], whole[:, 1])
        self.surface.set_data([-2 * half, -crest, np.nan, crest, 2 * half], [surface] * 5)

    def _draw_bars(self, data: GroovePasses, kept: GroovePasses | None) -> None:
        scale = self.look.area
        count = max(len(data.area), len(kept.area) if kept else 0)
        top = nice(1.12 * float(max(data.area.max(), kept.area.max() if kept else 0.0))) * scale
        self.canvas.limits(self.right, (0.3, count + 0.7), (0.0, top))

        def rest() -> None:
            self.bars.set_verts([box(i + 0.6, 0, i + 1.4, a * scale) for i, a in enumerate(data.area)])
            self.bars.set_facecolor([SHADES[0]] * len(data.area))
            before = np.empty(0) if kept is None else kept.area[: kept.cutting] * scale
            across = np.arange(len(before))[:, None] + np.array([0.55, 1.45, np.nan])
            self.kept_bars.set_data(across.ravel(), np.repeat(before, 3))
            self.kept_words.set_visible(kept is not None)

        self.canvas.when_changed("bars", (tuple(data.area), None if kept is None else tuple(kept.area)), rest)
        i = data.shown - 1
        area = float(data.area[i])
        self.mark.set_xy(box(i + 0.6, 0, i + 1.4, area * scale))
        words = self.look.mm2(area) if data.kind == "cutting" else "no chip, spring pass"
        right = i + 1 > (count + 1) / 2
        # Above every bar, so that it covers none; a thin line leads up to it.
        over = float(max(data.area.max(), kept.area.max() if kept else 0.0)) * scale + 0.02 * top
        self.leader.set_data([i + 1, i + 1], [area * scale, over])
        self.mark_words.set_ha("right" if right else "left")
        self.mark_words.set_position((i + 1.4 if right else i + 0.6, over))
        self.mark_words.set_text(words)

    def alt(self, data: GroovePasses, kept: GroovePasses | None) -> str:
        look, i = self.look, data.shown - 1
        kind = "external" if data.external else "internal"
        springs = len(data.depth) - data.cutting
        words = (
            f"The groove of {data.designation}, {kind} thread, in section, cut by {data.law}, {data.method} infeed, "
            f"in {data.cutting} cutting passes and {springs} spring passes to a depth of {look.mm(data.total)}. "
            f"After pass {data.shown}, a {data.kind} pass, the groove is {look.mm(float(data.depth[i]))} deep; "
            f"this pass took {look.mm2(float(data.area[i]))}. The headstock is to the left; the carriage feeds "
            f"{data.feeds}. "
            f"The largest chip is {look.mm2(float(data.area[data.heaviest]))}, "
            f"in pass {data.heaviest + 1}."
        )
        if kept is None:
            return words
        return f"{words} The largest chip of the kept setting was {look.mm2(float(kept.area[kept.heaviest]))}."

    def table(self, data: GroovePasses) -> Table:
        look = self.look
        unit = look.length_unit
        force = 1 / 4.4482216152605 if look.system == "inch" else 1.0
        headings = [
            "pass",
            f"depth [{unit}]",
            f"step [{unit}]",
            f"past the middle along the feed [{unit}]",
            f"chip area [{unit}\u00b2]",
        ]
        if data.force is not None:
            headings.append(f"force [{'lbf' if look.system == 'inch' else 'N'}]")
        rows = []
        lines = zip(data.depth, data.step, data.center, data.area, strict=True)
        for i, (depth, step, center, area) in enumerate(lines):
            spring = "" if i < data.cutting else " (spring)"
            row = [f"{i + 1}{spring}", *map(look.number, (depth, step, center)),
                   f"{area * look.area:.{look.digits + 2}f}"]  # fmt: skip
            rows.append((*row, f"{data.force[i] * force:.0f}") if data.force is not None else tuple(row))
        return Table(f"Pass by pass, {data.designation}", tuple(headings), tuple(rows))


def _groove(depth: float, center: float, flat: float, surface: float, sign: float, tan: float) -> np.ndarray:
    """The trapezoid that the tool has cut at a depth: from the surface down to the flat and up again."""
    wide = flat / 2 + depth * tan
    x = np.array([center - wide, center - flat / 2, center + flat / 2, center + wide])
    return np.column_stack([x, surface + sign * depth * np.array([0.0, 1.0, 1.0, 0.0])])
