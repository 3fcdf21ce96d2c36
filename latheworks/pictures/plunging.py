"""A blade cutting a groove plunge by plunge, and the same blade from the side, with the force on its edge."""

import math
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import Sheet, box, together
from latheworks.pictures.style import Table
from latheworks.pictures.tool_outline import ToolShape, outline

_RING = np.linspace(0.0, 2.0 * math.pi, 181)
_PLAN, _SIDE = (0.01, 0.02, 0.58, 0.88), (0.62, 0.27, 0.37, 0.58)
FINISH = "floor and walls"


@dataclass(frozen=True)
class Plunging:
    """What the picture needs: lengths in mm, forces in N, stresses in MPa, spindle in rev/min, feeds in mm/rev.

    `places` are where the blade's middle goes in, from the middle of the groove, in order; `stops` the depths at which
    it draws back. `shown` counts the plunges made; one more than there are is the finish of floor and walls.
    """

    material: str
    mouth: float
    width: float
    depth: float
    blade: float
    corner: float
    out: float
    height: float
    places: np.ndarray
    taken: np.ndarray
    stops: np.ndarray
    allowance: float
    shown: int
    feed: float
    feed_asked: float
    feed_reason: str
    spindle: float
    force: float
    stress: float
    allowed: float
    sag: float
    side_bend: float
    minutes: float
    count: int
    notes: tuple[str, ...]

    @property
    def steps(self) -> int:
        """Plunges, and the finish where something is left for it."""
        return len(self.places) + (self.allowance > 0)

    @property
    def finishing(self) -> bool:
        """Whether the finish is shown."""
        return self.shown > len(self.places)

    @property
    def step(self) -> str:
        """The step shown, in words."""
        return FINISH if self.finishing else f"plunge {self.shown} of {len(self.places)}"

    @property
    def good(self) -> bool:
        """Whether the blade bears the feed that was asked for, with nothing to remark."""
        return not self.feed_reason and not self.notes

    def opened(self, count: int) -> list[tuple[float, float]]:
        """What each of the first plunges takes: from where to where, less what is open already."""
        low = high = float(self.places[0])
        spans: list[tuple[float, float]] = []
        for place in self.places[:count]:
            left, right = float(place) - self.blade / 2, float(place) + self.blade / 2
            if spans:
                left, right = (left, low) if place < 0 else (high, right)
            spans.append((left, right))
            low, high = min(s[0] for s in spans), max(s[1] for s in spans)
        return spans


class PlungePicture(Picture):
    """On the left the groove in half section with the blade in it; on the right the blade as a clamped beam."""

    def build(self) -> None:
        self.plan = self.canvas.axes(*_PLAN, frame=False)
        self.side = self.canvas.axes(*_SIDE, frame=False)
        still, side_still = Sheet(self.canvas, self.plan, resting=True), Sheet(self.canvas, self.side, resting=True)
        sheet = Sheet(self.canvas, self.plan)
        self.metal = still.area("work", hatch="////", width=0.0)
        self.title = still.words(fixed=True, across="left", up="bottom")
        self.title.set_position((0.0, 1.045))
        still.words("\u25c4 headstock side", "quiet", fixed=True, across="left", up="bottom").set_position((0.0, 0.0))
        still.words("center line below", "quiet", fixed=True, across="right", up="bottom").set_position((1.0, 0.0))
        self.width_size, self.depth_size = still.dimension(), still.dimension(turned=True)
        # The chips lie over the blade, or the one that is being cut could not be seen.
        self.body, self.tip = sheet.area("tool", "tool"), sheet.area(None, "tool", width=1.4)
        self.tip.set_facecolor("white")
        self.done = sheet.areas("result", "outline", "", 0.6)
        self.now = sheet.area("result", "result", hatch="xxxx", width=1.6)
        self.pecks = sheet.line("result", width=1.0)
        self.surface = sheet.line("outline", width=1.6)
        self.finished = sheet.line("limit", "finished", 1.6)
        self.numbers = [sheet.words() for _ in range(9)]
        self.step_words = sheet.words(meaning="result", fixed=True, across="left", up="bottom")
        self.step_words.set_position((0.0, 0.985))
        side_title = side_still.words("the blade from the side", fixed=True, across="left", up="bottom")
        side_title.set_position((0.0, 1.03))
        self.rim = side_still.line("outline", width=1.2)
        self.round = side_still.area("work", hatch="////", width=1.4)
        self.middle = side_still.center_line()
        self.clamp = side_still.area("tool", "tool")
        self.beam = side_still.area(None, "tool", width=1.4)
        self.beam.set_facecolor("white")
        self.push = side_still.line("result", width=1.8)
        self.push_head = side_still.line("result", marker="v", markersize=7)
        self.push_words = side_still.words(meaning="result", across="center", up="bottom")
        self.out_size = side_still.dimension()
        self.load = side_still.words(fixed=True, across="left", up="top", linespacing=1.4)
        self.load.set_position((0.0, -0.03))

    def update(self, data: Plunging, kept: Plunging | None) -> None:
        k = self.look.length
        span = nice(max(2.4 * data.width, 2.7 * data.depth, 5.0))
        high = span * _PLAN[3] * self.height / (_PLAN[2] * self.width)
        top = 0.42 * high
        self.canvas.limits(self.plan, (-span / 2 * k, span / 2 * k), ((top - high) * k, top * k))
        half = data.width / 2

        def rest() -> None:
            self.metal.set_xy(box(-span, -2 * high, span, 0) * k)
            self.title.set_text(f"{data.material}, \u2300{self.look.mm(data.mouth)} at the mouth, to scale")
            self.width_size.put(-half * k, half * k, -(data.depth + 0.12 * high) * k, self.look.mm(data.width),
                                foot=-data.depth * k)  # fmt: skip
            self.depth_size.put(-data.depth * k, 0, (half + 0.09 * span) * k, self.look.mm(data.depth), foot=half * k,
                                at=-0.5 * data.depth * k, across="left")  # fmt: skip

        self.canvas.when_changed("groove", (data.material, data.mouth, data.width, data.depth, span), rest)
        self._draw_steps(data, half, high, span, k)
        load = (data.force, data.stress, data.allowed, data.sag)
        key = (data.mouth, data.depth, data.out, data.height, load, kept and (kept.force, kept.stress))
        self.canvas.when_changed("side", key, lambda: self._draw_side(data, kept, k))

    def _draw_steps(self, data: Plunging, half: float, high: float, span: float, k: float) -> None:
        count = min(data.shown, len(data.places))
        spans, deep = data.opened(count), data.depth - data.allowance
        strips = [box(a, -deep, b, 0) for a, b in spans]
        first, stop = min(a for a, _ in spans), max(b for _, b in spans)
        inner = np.array([(first, 0), (first, -deep), (stop, -deep), (stop, 0)])
        whole = np.array([(-half, 0), (-half, -data.depth), (half, -data.depth), (half, 0)])
        self.finished.set_data(*(whole * k).T)
        last = np.concatenate([whole, inner[::-1]]) if data.finishing else strips.pop()
        self.done.set_path(together([strip * k for strip in strips]))
        self.now.set_xy(last * k)
        edge = np.array([(-span, 0), *(whole if data.finishing else inner), (span, 0)])
        self.surface.set_data(*(edge * k).T)
        place = float(data.places[count - 1])
        a, b = spans[-1]
        lines = [((a, -d), (b, -d), (np.nan, np.nan)) for d in data.stops[:-1]] if not data.finishing else []
        self.pecks.set_data(*(np.array(lines).reshape(-1, 2) * k).T)
        down = data.depth if data.finishing else deep
        if data.finishing:
            place = half - data.blade / 2
        blade = ToolShape("", None, None, 0.0, data.corner, data.blade, data.out, data.height, "neutral", None)
        tip, body = outline(blade, high)
        for shape, artist in ((tip, self.tip), (body, self.body)):
            artist.set_xy((np.array([place, -down]) + shape) * k)
        order = dict(enumerate(spans)) if len(spans) <= len(self.numbers) else {}
        for i, words in enumerate(self.numbers):
            words.set_text(str(i + 1) if i in order and (i < count - 1 or data.finishing) else "")
            if i in order:
                words.set_position((sum(order[i]) / 2 * k, -0.5 * deep * k))
        self.step_words.set_text(f"{data.step}, to {self.look.mm(down)}")

    def _draw_side(self, data: Plunging, kept: Plunging | None, k: float) -> None:
        """Along the axis: the work as a circle, the blade's edge at center height, the clamp at the right."""
        floor = data.mouth / 2 - data.depth
        need = data.out + 1.4 * data.height
        span = nice(need + 0.58 * data.mouth)
        high = span * _SIDE[3] * self.height / (_SIDE[2] * self.width)
        left = -0.08 * data.mouth
        self.canvas.limits(self.side, (left * k, (left + span) * k), (-0.58 * high * k, 0.42 * high * k))
        ring = np.column_stack([np.cos(_RING), np.sin(_RING)])
        self.round.set_xy(floor * ring * k)
        self.rim.set_data(*(data.mouth / 2 * ring * k).T)
        self.middle.set_data([left * k, (left + span) * k], [0, 0])
        self.beam.set_xy(box(floor, -data.height, floor + data.out + 2, 0) * k)
        self.clamp.set_xy(box(floor + data.out, -1.5 * data.height, left + span + 1, 0.5 * data.height) * k)
        self.push.set_data([floor * k] * 2, [0.3 * high * k, 0.02 * high * k])
        self.push_head.set_data([floor * k], [0.02 * high * k])
        self.push_words.set_position((floor * k, 0.3 * high * k))
        self.push_words.set_text(f"force {self.look.newton(data.force)}")
        self.out_size.put(floor * k, (floor + data.out) * k, (-data.height - 0.1 * high) * k, self.look.mm(data.out),
                          foot=-data.height * k)  # fmt: skip
        words = f"stress {_stress(data.stress, self.look.system)} of {_stress(data.allowed, self.look.system)}\n"
        words += f"edge sinks {self.look.mm(data.sag, 5 if self.look.system == 'inch' else 4)}"
        if kept is not None:
            words += f"\nkept: {self.look.newton(kept.force)}, {_stress(kept.stress, self.look.system)}"
        self.load.set_text(words)

    def alt(self, data: Plunging, kept: Plunging | None) -> str:
        look, mm = self.look, self.look.mm
        pecks = "in one go" if len(data.stops) == 1 else f"in {len(data.stops)} pecks"
        left = f", {mm(data.allowance)} left for floor and walls" if data.allowance else ""
        words = (
            f"A groove {mm(data.width)} wide and {mm(data.depth)} deep in {data.material}, cut by a blade "
            f"{mm(data.blade)} wide in {len(data.places)} plunges, each {pecks}{left}. Shown: {data.step}. From the "
            f"side the blade stands {mm(data.out)} out of its holder, {mm(data.height)} high; "
            f"{look.newton(data.force)} push its edge down, {_stress(data.stress, look.system)} at its root of "
            f"{_stress(data.allowed, look.system)} allowed."
        )  # fmt: skip
        if data.feed_reason:
            words += f" The feed was {data.feed_reason}."
        return words if kept is None else f"{words} The kept setting had {look.newton(kept.force)}."

    def table(self, data: Plunging) -> Table:
        unit, number = self.look.length_unit, self.look.number
        headings = ("plunge", f"middle of the blade from the middle of the groove [{unit}]", f"width taken [{unit}]",
                    f"depth [{unit}]")  # fmt: skip
        rows = tuple(
            (str(i + 1), *map(number, (place, taken, data.stops[-1])))
            for i, (place, taken) in enumerate(zip(data.places, data.taken, strict=True))
        )
        return Table("Plunges in order", headings, rows)


def _stress(value: float, system: str) -> str:
    """A stress in MPa, written with its unit."""
    return f"{value / 6.894757293:,.1f} ksi" if system == "inch" else f"{value:,.0f} MPa"
