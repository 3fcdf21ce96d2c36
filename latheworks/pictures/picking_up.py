"""A tool that comes back into a groove, off its middle by an axial error, and how much the mate allows."""

import math
from dataclasses import dataclass

import numpy as np

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import Sheet, box
from latheworks.pictures.flanks import trapezoid
from latheworks.pictures.style import FILL, PAPER, Table

PITCHES = 1.35


@dataclass(frozen=True)
class PickedUpGroove:
    """What the picture needs: lengths in mm, angles in degrees.

    `depth` is that of the finished groove and `remaining` what is still to cut of it, on the radius; `error` is the
    tool's, along the axis; `allowed` and `limit` are for a groove at depth, and `free` is what the depth still to
    cut adds to both; `step` is how far the old part of one flank stands back, `lost` the
    share of its depth that does, `change` how much the groove alters the pitch diameter.
    """

    designation: str
    external: bool
    pitch: float
    lead: float
    tan: float  # of half the thread's angle
    flat: float
    depth: float
    remaining: float
    error: float
    allowed: float
    limit: float
    free: float
    step: float
    lost: float
    change: float

    @property
    def turn(self) -> float:
        """The spindle angle that the error equals."""
        return 360 * self.error / self.lead

    def turned(self, along: float) -> float:
        """The spindle angle that a length along the axis equals."""
        return 360 * along / self.lead

    @property
    def verdict(self) -> str:
        """What the mate makes of it."""
        if self.step > self.limit * (1 + 1e-9) + 1e-12:
            return "the tightest mate binds"
        return "inside the allowed error" if self.step <= self.allowed + 1e-12 else "past the allowed error"


class PickUpPicture(Picture):
    """The groove in section with the tool in it, to scale; beside it the spindle's angle, and the error's limits."""

    def build(self) -> None:
        look = self.look
        self.left = self.canvas.axes(0.01, 0.02, 0.6, 0.96, frame=False)
        self.face = self.canvas.axes(0.72, 0.64, 0.27, 0.36, frame=False)
        self.face.set_aspect("equal")
        self.canvas.limits(self.face, (-1.5, 1.5), (-1.25, 1.25))
        self.right = self.canvas.axes(0.745, 0.03, 0.25, 0.5)
        self.right.set_xticks([])
        self.right.spines["bottom"].set_visible(False)
        still, ladder = Sheet(self.canvas, self.left, resting=True), Sheet(self.canvas, self.right, resting=True)
        self.metal = still.area("work", hatch="//", width=0.0)
        self.title = still.words(fixed=True, across="left", up="top")
        self.title.set_position((0.01, 1.0))
        still.words("tinted: what the tool cuts anew", fixed=True, across="left", up="top").set_position((0.01, 0.88))
        still.words("the center line is below", "quiet", fixed=True, up="bottom").set_position((0.5, 0.0))
        ladder.words(f"along the axis [{look.length_unit}]", fixed=True, across="right", up="bottom").set_position(
            (1.0, 1.04)
        )
        self.zero = ladder.line("quiet", "center line", 0.8)
        self.binds = ladder.shapes("outline", 0.8, "finished")
        self.allowed = ladder.area("limit", "limit", "///", width=1.0)
        self.zone_words = [ladder.words("allowed", "limit"), ladder.words("binds", backed=False)]
        dial = Sheet(self.canvas, self.face, resting=True)
        self.rim = dial.line("outline", width=1.2)
        self.sector = dial.area("limit", "limit", width=1.0)
        dial.words("the spindle", fixed=True, up="bottom").set_position((0.5, -0.06))
        sheet, side, turn = (Sheet(self.canvas, axes) for axes in (self.left, self.right, self.face))
        self.chip = sheet.area("result", "outline", width=0.8)
        self.groove = sheet.area(None, "outline", width=1.4)
        self.groove.set_facecolor(PAPER)
        self.tool = sheet.line("tool", width=2.0)
        self.body = sheet.area("tool", "tool", width=1.2)
        self.middles = [sheet.line("quiet", "center line", 0.8), sheet.line("result", width=1.0)]
        self.now = sheet.words(meaning="result", fixed=True, across="left", up="top")
        self.now.set_position((0.01, 0.94))
        self.body_words = sheet.words("tool", "tool", backed=False)
        self.kept_mark = side.line("kept", "kept", 1.6)
        self.mark = side.line("result", width=2.6)
        self.mark_words = side.words("tool", "result", across="right")
        self.hand = turn.line("result", width=2.0)
        self.hand_words = turn.words(meaning="result", fixed=True)
        self.hand_words.set_position((0.5, 0.28))

    def update(self, data: PickedUpGroove, kept: PickedUpGroove | None) -> None:
        k = self.look.length
        sign = -1.0 if data.external else 1.0
        half = PITCHES / 2 * data.pitch
        high = 2 * half * (0.96 * self.height) / (0.6 * self.width)
        surface = -sign * 0.08 * high
        self.canvas.limits(self.left, (-half * k, half * k), (-high / 2 * k, high / 2 * k))

        def rest() -> None:
            far = sign * high
            self.metal.set_xy(k * box(-2 * half, min(surface, far), 2 * half, max(surface, far)))
            kind = "external" if data.external else "internal"
            self.title.set_text(f"{data.designation}, {kind} thread, to scale")

        self.canvas.when_changed("metal", (data.designation, data.external, data.pitch), rest)
        old = trapezoid(data.depth - data.remaining, 0.0, data.flat, data.tan, sign, surface)
        new = trapezoid(data.depth, data.error, data.flat, data.tan, sign, surface)
        self.groove.set_xy(k * old)
        self.chip.set_xy(k * new)
        # Over the old groove's open side as well, so that the tool's own outline is seen whole.
        self.tool.set_data(k * new[:, 0], k * new[:, 1])
        up = surface - sign * 0.17 * high
        rise = 0.17 * high * data.tan
        self.body.set_xy(k * np.array([new[0], new[3], (new[3, 0] + rise, up), (new[0, 0] - rise, up)]))
        self.body_words.set_position((k * (data.error - 0.22 * data.pitch), k * (surface - sign * 0.085 * high)))
        tall = sorted((surface - sign * 0.2 * high, surface + sign * (data.depth + 0.1 * high)))
        for line, x in zip(self.middles, (0.0, data.error), strict=True):
            line.set_data([k * x, k * x], [k * tall[0], k * tall[1]])
        self.now.set_text(f"off the middle of the old groove by {self.look.mm(abs(data.error))}")
        self._draw_spindle(data)
        self._draw_ladder(data, kept)

    def _draw_spindle(self, data: PickedUpGroove) -> None:
        most = math.radians(data.turned(data.allowed + data.free))

        def rest() -> None:
            around = np.linspace(0, 2 * math.pi, 121)
            self.rim.set_data(np.sin(around), np.cos(around))
            arc = np.linspace(-min(most, math.pi), min(most, math.pi), 41)
            self.sector.set_xy(np.column_stack([np.append(np.sin(arc), 0.0), np.append(np.cos(arc), 0.0)]))

        self.canvas.when_changed("spindle", most, rest)
        angle = math.radians(data.turn)
        self.hand.set_data([0, 1.12 * math.sin(angle)], [0, 1.12 * math.cos(angle)])
        self.hand_words.set_text(f"{data.turn:.2f}\u00b0".replace("-", "\u2212"))

    def _draw_ladder(self, data: PickedUpGroove, kept: PickedUpGroove | None) -> None:
        k = self.look.length
        allowed, limit = (data.allowed + data.free) * k, (data.limit + data.free) * k
        now = data.error * k
        reach = 1.15 * nice(max(1.3 * limit, min(abs(now), 3 * limit), 1e-4 * data.pitch * k))
        self.canvas.limits(self.right, (0.0, 1.0), (-reach, reach))

        def rest() -> None:
            self.zero.set_data([0, 1], [0, 0])
            self.allowed.set_xy(box(0.06, -allowed, 0.58, allowed))
            self.binds.set_verts([box(0.06, limit, 0.58, 2 * reach), box(0.06, -2 * reach, 0.58, -limit)])
            self.binds.set_facecolor([FILL["tool"]] * 2)
            self.zone_words[0].set_position((0.32, -0.5 * allowed))
            self.zone_words[1].set_position((0.32, -(limit + reach) / 2))

        self.canvas.when_changed("zones", (allowed, limit, reach), rest)
        at = min(max(now, -reach), reach)
        self.mark.set_data([0.0, 0.66], [at, at])
        self.mark_words.set_position((1.0, at))
        self.mark_words.set_va("top" if at > 0.85 * reach else "center")
        self.mark_words.set_text("tool" if at == now else "off scale")
        before = np.nan if kept is None or abs(kept.error * k) > reach else kept.error * k
        self.kept_mark.set_data([0.0, 0.66], [before, before])

    def alt(self, data: PickedUpGroove, kept: PickedUpGroove | None) -> str:
        mm, fine = self.look.mm, self.look.digits + 1
        kind = "external" if data.external else "internal"
        words = (
            f"The groove of {data.designation}, {kind} thread, in section, with {mm(data.remaining)} of its depth "
            f"still to cut, and the tool {mm(data.error, fine)} off its middle along the axis, {data.turn:.2f}\u00b0 "
            f"of the spindle. One flank ends up with a step of {mm(data.step, fine)}; the mate allows "
            f"{mm(data.allowed, fine)} and binds at {mm(data.limit, fine)}: {data.verdict}."
        )
        return words if kept is None else f"{words} The kept error is {mm(kept.error, fine)}."

    def table(self, data: PickedUpGroove) -> Table:
        unit, number = self.look.length_unit, self.look.number
        sizes = (("the tool's error", data.error), ("allowed, at depth", data.allowed),
                 ("binds, at depth", data.limit), ("cut away by the depth still to go", data.free),
                 ("step left in a flank", data.step))  # fmt: skip
        rows = tuple((words, number(size, 1), f"{data.turned(size):.2f}")
                     for words, size in sizes)  # fmt: skip
        return Table(f"Picking up {data.designation}", ("", f"along the axis [{unit}]", "spindle [\u00b0]"), rows)
