"""Three wires in the grooves of an external thread, and what the micrometer reads over them."""

import math
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import Sheet, between, box
from latheworks.pictures.flanks import ridges
from latheworks.pictures.style import FILL, Table

PITCHES = 3.0
ROUND = np.linspace(0.0, 2 * math.pi, 73)


@dataclass(frozen=True)
class OverWires:
    """What the picture needs, in mm: sizes of the thread, the wire, the reading, and what both give.

    `size` is the pitch diameter that the reading tells, `limits` those of the class, `readings` what they read over
    these wires; `shift` is how far along the axis the groove opposite lies from the one above, half a lead.
    """

    designation: str
    pitch: float
    shift: float
    tan: float  # of half the thread's angle
    major: float
    root: float
    wire: float
    best: float
    smallest: float
    largest: float
    reading: float
    size: float
    limits: tuple[float, float]
    readings: tuple[float, float]
    lead_adds: float
    counted: bool
    slip: str = ""  # what would explain a reading far off

    @property
    def center(self) -> float:
        """How far a wire's middle stands from the axis: where it rests on both flanks of a groove of this size."""
        sine = self.tan / math.hypot(1.0, self.tan)
        return self.size / 2 - self.pitch / (4 * self.tan) + self.wire / (2 * sine)

    @property
    def touch(self) -> tuple[float, float]:
        """Where a wire touches a flank: along the axis from the groove's middle, and from the thread's axis."""
        cosine = 1 / math.hypot(1.0, self.tan)
        return self.wire / 2 * cosine, self.center - self.wire / 2 * self.tan * cosine

    @property
    def verdict(self) -> str:
        """What the pitch diameter is, beside its limits."""
        if self.size > self.limits[1] + 1e-9:
            return "still large"
        return "too small" if self.size < self.limits[0] - 1e-9 else "inside the limits"


class WiresPicture(Picture):
    """The thread in section above and below its axis, the middle left out, to scale; beside it the class's readings."""

    def build(self) -> None:
        unit = self.look.length_unit
        self.left = self.canvas.axes(0.01, 0.02, 0.66, 0.96, frame=False)
        self.right = self.canvas.axes(0.785, 0.05, 0.205, 0.76)
        self.right.set_xticks([])
        self.right.spines["bottom"].set_visible(False)
        still, ladder = Sheet(self.canvas, self.left, resting=True), Sheet(self.canvas, self.right, resting=True)
        self.title = still.words(fixed=True, across="left", up="top")
        self.title.set_position((0.0, 1.0))
        self.broken = [still.line("quiet", width=0.8) for _ in range(2)]
        note = still.words("the middle is left out", "quiet", fixed=True, across="left")
        note.set_position((0.02, 0.5))
        title = ladder.words(f"over the wires [{unit}]:\nthe class, this part", fixed=True, across="right", up="bottom")
        title.set_position((1.0, 1.06))
        self.zone = ladder.area("limit", "limit", "///", width=1.0)
        self.zone_words = [ladder.words(word, "limit", up=up) for word, up in (("largest", "bottom"),
                                                                               ("smallest", "top"))]  # fmt: skip
        sheet, side = Sheet(self.canvas, self.left), Sheet(self.canvas, self.right)
        self.metal = [sheet.area("work", hatch="//", width=0.0) for _ in range(2)]
        self.faces = [sheet.line("outline", width=1.4) for _ in range(2)]
        self.pitch_lines = [sheet.line("quiet", "center line", 0.8) for _ in range(2)]
        self.anvils = [sheet.area("tool", "tool", width=1.2) for _ in range(2)]
        self.wires = sheet.shapes("outline", 1.4)
        self.wires.set_facecolor(FILL["result"])
        self.contacts = sheet.line("outline", "outline", 0.0, marker="o", markersize=3.5)
        self.over = sheet.dimension("result", turned=True)
        self.across = sheet.dimension(turned=True)
        self.wire_words = sheet.words(fixed=True, across="left", up="bottom")
        self.wire_words.set_position((0.0, 0.0))
        self.kept_mark = side.line("kept", "kept", 1.6)
        self.mark = side.line("result", width=2.6)
        self.mark_words = side.words(meaning="result", across="left")

    def update(self, data: OverWires, kept: OverWires | None) -> None:
        k = self.look.length
        outer = max(data.center + data.wire / 2, data.major / 2)
        # Large wires stand far out: then the drawing is smaller, by steps, so that the roots still show.
        square = (0.96 * self.height) / (0.66 * self.width)
        needed = 4.2 * (outer - data.root / 2) / square / data.pitch
        wide = max(PITCHES, math.ceil(4 * needed) / 4) * data.pitch
        high = wide * square
        self.canvas.limits(self.left, (-wide / 2 * k, wide / 2 * k), (-high / 2 * k, high / 2 * k))
        # Room above for the title and the upper jaw; the middle of the thread is left out.
        cut_out = outer - 0.37 * high

        def rest() -> None:
            self.title.set_text(f"{data.designation}, to scale")
            for line, sign in zip(self.broken, (1, -1), strict=True):
                x = np.linspace(-0.52 * wide, 0.52 * wide, 121)
                line.set_data(x * k, sign * (0.07 * high + 0.008 * high * np.sin(9 * x / data.pitch)) * k)

        self.canvas.when_changed("title", (data.designation, wide), rest)
        self._draw_thread(data, wide, cut_out, high)
        centers = self.places(data)
        circle = data.wire / 2 * np.column_stack([np.cos(ROUND), np.sin(ROUND)])
        level = data.center - cut_out
        self.wires.set_verts([(circle + np.array((x, s * level))) * k for x, s in centers])
        self.wires.set_facecolor([FILL["result"]] * 3)
        aside, up = data.touch
        dots = np.array([(x + side * aside, s * (up - cut_out)) for x, s in centers for side in (-1, 1)]) * k
        self.contacts.set_data(dots[:, 0], dots[:, 1])
        top = (outer - cut_out) * k
        for anvil, sign in zip(self.anvils, (1, -1), strict=True):
            anvil.set_xy(box(-0.36 * wide * k, sign * top, 0.42 * wide * k, sign * (top + 0.06 * high * k)))
        self.over.put(-top, top, 0.36 * wide * k, self.look.mm(data.reading), at=0.0)
        half = (data.size / 2 - cut_out) * k
        self.across.put(-half, half, 0.12 * wide * k, f"pitch dia. {self.look.mm(data.size)}", at=-0.035 * high * k)
        self.wire_words.set_text(f"wires {self.look.mm(data.wire, 5 if self.look.system == 'inch' else 4)}")
        self._draw_ladder(data, kept)

    @staticmethod
    def places(data: OverWires) -> list[tuple[float, int]]:
        """Where the three wires lie along the axis, and on which side: two above, the third opposite."""
        below = (0.5 * data.pitch + data.shift) % data.pitch
        below = below - data.pitch if below > data.pitch / 2 + 1e-9 else below
        return [(-0.5 * data.pitch, 1), (0.5 * data.pitch, 1), (below, -1)]

    def _draw_thread(self, data: OverWires, wide: float, cut_out: float, high: float) -> None:
        k = self.look.length
        x = np.linspace(-0.5 * wide, 0.5 * wide, 601)
        grooves = (0.5 * data.pitch, self.places(data)[2][0])
        for i, (sign, groove) in enumerate(zip((1, -1), grooves, strict=True)):
            crests = x - groove + data.pitch / 2
            r = sign * (ridges(crests, data.pitch, data.tan, data.major, data.size, data.root) - cut_out) * k
            self.metal[i].set_xy(between(x * k, np.full_like(x, sign * 0.07 * high * k), r))
            self.faces[i].set_data(x * k, r)
            self.pitch_lines[i].set_data([x[0] * k, x[-1] * k], [sign * (data.size / 2 - cut_out) * k] * 2)

    def _draw_ladder(self, data: OverWires, kept: OverWires | None) -> None:
        k = self.look.length
        low, high = (r * k for r in data.readings)
        now = data.reading * k
        tolerance = high - low
        reach = nice(max(1.3 * tolerance, min(abs(now - (low + high) / 2), 4 * tolerance) + 0.3 * tolerance))
        middle = (low + high) / 2
        self.canvas.limits(self.right, (0.0, 1.0), (middle - reach, middle + reach))

        def rest() -> None:
            self.zone.set_xy(box(0.06, low, 0.42, high))
            for words, at, off in zip(self.zone_words, (high, low), (0.02, -0.02), strict=True):
                words.set_position((0.24, at + off * reach))

        self.canvas.when_changed("zone", (data.readings, reach), rest)
        at = min(max(now, middle - reach), middle + reach)
        self.mark.set_data([0.0, 0.5], [at, at])
        self.mark_words.set_position((0.53, at))
        self.mark_words.set_text("this part" if at == now else "off scale")
        alike = kept is not None and kept.designation == data.designation and abs(kept.wire - data.wire) < 1e-9
        before = kept.reading * k if kept is not None and alike else np.nan
        inside = abs(before - middle) <= reach
        self.kept_mark.set_data([0.0, 0.5], [before if inside else np.nan] * 2)

    def alt(self, data: OverWires, kept: OverWires | None) -> str:
        mm, fine = self.look.mm, self.look.digits + 1
        added = f"The lead adds {mm(data.lead_adds, fine)}, {'counted' if data.counted else 'left out'}."
        words = (
            f"Three wires of {mm(data.wire, fine)} in the grooves of {data.designation}, two above and one opposite; "
            f"the best wire is {mm(data.best, fine)}. The micrometer reads {mm(data.reading)} over them, so the pitch "
            f"diameter is {mm(data.size)}: {data.verdict}, {mm(data.limits[0])} to {mm(data.limits[1])}. The class "
            f"reads {mm(data.readings[0])} to {mm(data.readings[1])} over these wires. {added}"
        )
        return words if kept is None else f"{words} The kept reading is {mm(kept.reading)}."

    def table(self, data: OverWires) -> Table:
        unit, number = self.look.length_unit, self.look.number
        rows = (
            ("pitch diameter, smallest", number(data.limits[0]), number(data.readings[0])),
            ("this part", number(data.size), number(data.reading)),
            ("pitch diameter, largest", number(data.limits[1]), number(data.readings[1])),
            ("wire used", number(data.wire, 1), ""),
            ("best wire", number(data.best, 1), ""),
            ("smallest usable wire", number(data.smallest, 1), ""),
            ("largest usable wire", number(data.largest, 1), ""),
        )
        return Table(f"Over three wires, {data.designation}", ("", f"size [{unit}]", f"over wires [{unit}]"), rows)
