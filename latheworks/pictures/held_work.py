"""The work in its holding, as a section: jaws, center, stop, the tool, and what it has just taken off."""

from typing import Any

import numpy as np

from latheworks.pictures.drafting import NOWHERE, Sheet, between, box, together
from latheworks.pictures.plan_data import HeldStep
from latheworks.pictures.style import FILL, INK, Look
from latheworks.pictures.workholding import centers

JAW = 24.0  # mm that jaws are drawn long
_BY_HAND = {"gage": "measured, spindle stopped", "deburr": "deburred by hand, spindle stopped"}
_BLADE = ("groove", "part off")
_ON_AXIS = ("drill", "center drill", "ream")


class HeldWork:
    """The part of a picture that shows one operation; the chuck stands on the left, as on the lathe."""

    def __init__(self, canvas: Any, axes: Any, look: Look, shape: float) -> None:
        self.canvas, self.axes, self.look, self._ratio = canvas, axes, look, shape
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        self.jaws = still.shapes("tool", 1.0)
        self.stop = still.area("tool", "tool", hatch="xxxx", width=0.8)
        self.rest = still.shapes("tool", 1.0)
        self.stickout = still.dimension()
        self.holding = still.words(fixed=True, across="left", up="top")
        self.holding.set_position((0.0, 1.0))
        self.wall = top.areas("work", "hatch", "////", width=0.0)
        self.removed = top.areas("result", "result", "....", width=0.8)
        self.edge = top.line("outline", width=1.3)
        self.threads = top.line("outline", width=0.7)
        self.axis = top.center_line()
        self.center = top.shapes("tool", 1.0)
        self.marks = top.line("result", width=3.0)
        self.measured = top.line("limit", "second", 3.0)
        self.tool = top.area("tool", "tool", width=1.1)
        self.words = top.words("", "result", fixed=True, across="right", up="bottom")
        self.words.set_position((1.0, 0.0))

    def put(self, step: HeldStep, blank: tuple[float, float]) -> None:
        """Draw an operation of a plan whose blank has this length and radius."""
        k = self.look.length
        length, radius = blank
        wide = max(1.34 * length, 5.4 * radius * self._ratio)
        left = -0.4 * (wide - length)
        high = wide / self._ratio
        self.canvas.limits(self.axes, (left * k, (left + wide) * k), (-0.5 * high * k, 0.5 * high * k))

        def hold() -> None:
            self._hold(step, left, wide, radius)

        u, outside, _ = step.outline
        grip = u <= step.jaws + 1e-9
        held = float(outside[grip].max(initial=1.0))
        key = (step.setup, step.jaws, step.stickout, step.holding, step.stop, step.rest, held, left, wide, float(u[0]))
        self._held, self._back = held, float(u[0])
        self.canvas.when_changed("held", key, hold)
        self._work(step, left, wide)
        self._support(step, wide)
        self._tool(step, left + wide, high)

    def _hold(self, step: HeldStep, left: float, wide: float, radius: float) -> None:
        k, face, r = self.look.length, step.jaws, self._held
        tall = 0.85 * radius
        if step.holding == "between centers":
            shapes = []
        elif step.holding == "collet":
            # A collet closes all round: a sleeve with a cone behind its face.
            sleeve = np.array([(face - JAW, r), (face, r), (face, r + 0.3 * tall), (face - JAW, r + 0.7 * tall)])
            shapes = [sleeve, sleeve * (1, -1)]
        else:
            body = box(max(face - 2.2 * JAW, left), 1.1 * radius, face - JAW, radius + 1.15 * tall)
            jaw = box(face - JAW, r, face, radius + 0.75 * tall)
            shapes = [each * sign for each in (jaw, body) for sign in ((1, 1), (1, -1))]
        self.jaws.set_verts([each * k for each in shapes])
        self.jaws.set_facecolor(FILL["tool"])
        behind = self._back
        self.stop.set_xy(box(behind - 0.012 * wide, -0.5 * r, behind, 0.5 * r) * k if step.stop else NOWHERE)
        fingers = []
        if step.rest is not None:
            at = face + step.rest
            finger = box(at - 4, r, at + 4, r + 0.8 * tall)
            fingers = [finger * k, finger * (1, -1) * k]
        self.rest.set_verts(fingers)
        self.rest.set_facecolor(FILL["tool"])
        words = self.look.mm(step.stickout, None if self.look.system == "inch" else 1)
        level = radius + 0.5 * tall
        self.stickout.put(face * k, (face + step.stickout) * k, level * k, f"{words} out", foot=radius * k)
        more = ", against a stop" if step.stop else ""
        self.holding.set_text(f"setup {step.setup}, {step.setup_name}: {step.held}{more}")

    def _work(self, step: HeldStep, left: float, wide: float) -> None:
        k = self.look.length
        u, outside, inside = (values * k for values in step.outline)
        half = between(u, inside, outside)
        self.wall.set_path(together([half, half * (1, -1)]))
        cut = [each * sign * k for each in step.removed for sign in ((1, 1), (1, -1))]
        self.removed.set_path(together(cut))
        bare = inside <= 1e-9
        # The line of the bore ends where there is none, but is drawn down to the axis at a blind end.
        lonely = bare & np.append(bare[1:], True) & np.insert(bare[:-1], 0, True)
        bore = np.where(lonely, np.nan, inside)
        ends = [np.array([(u[i], inside[i]), (u[i], outside[i])]) for i in (0, -1)]
        lines = [np.column_stack((u, outside)), np.column_stack((u, bore)), *ends]
        self.edge.set_data(*_mirrored(lines))
        self.threads.set_data(*_mirrored([each * k for each in step.threads]))
        self.axis.set_data([left * k, (left + 0.94 * wide) * k], [0, 0])
        worked = _mirrored([each * k for each in step.marks])
        none = (np.zeros(0), np.zeros(0))
        by_hand = step.kind in _BY_HAND
        self.marks.set_data(*(none if by_hand else worked))
        self.measured.set_data(*(worked if by_hand else none))
        taken = "just cut with" if step.marks else "nothing to cut for"
        self.words.set_text(_BY_HAND.get(step.kind, f"{taken}: {step.tool or 'no tool named'}"))
        self.words.set_color(INK["limit" if by_hand else "result"])

    def _support(self, step: HeldStep, wide: float) -> None:
        k = self.look.length
        u, outside, inside = step.outline
        shapes = []
        if step.support != "none" or step.holding == "between centers":
            head, tail = centers(0.35 * wide, float(u[-1]), float(outside[-1]), float(inside[-1]))
            shapes = [tail * k]
            if step.holding == "between centers":
                head, _ = centers(0.35 * wide, float(u[-1]), float(outside[0]), float(inside[0]))
                shapes.append((head + np.array((float(u[0]), 0))) * k)
        self.center.set_verts(shapes)
        self.center.set_facecolor(FILL["tool"])

    def _tool(self, step: HeldStep, right: float, high: float) -> None:
        k = self.look.length
        if step.tip is None:
            self.tool.set_xy(NOWHERE)
            return
        at, r = step.tip
        end = right - 0.16 * (right - step.outline[0][-1])
        if step.kind in _ON_AXIS:
            d = step.across / 2
            point = min(d / np.tan(np.radians(59)), max(end - at, 0.0))
            shape = [(at, 0), (at + point, d), (end, d), (end, -d), (at + point, -d)]
        elif step.inside:
            low = -r + step.stand_out
            shape = [(at, -r), (at + 1.5, low), (end, low), (end, low + step.across), (at - 0.5, low + step.across),
                     (at - 0.5, low)]  # fmt: skip
        else:
            tall, wide = 0.34 * high, step.across if step.kind in _BLADE else 0.075 * high
            if step.kind in _BLADE:
                shape = [(at, -r), (at + wide, -r), (at + wide, -r - tall), (at, -r - tall)]
            else:
                shape = [(at, -r), (at + wide, -r - 0.1 * tall), (at + wide, -r - tall), (at - wide, -r - tall),
                         (at - wide, -r - 0.5 * tall)]  # fmt: skip
        self.tool.set_xy(np.array(shape) * k)


def _mirrored(lines: list[np.ndarray]) -> tuple[np.ndarray, np.ndarray]:
    """Lines above the axis and below it as one, with gaps between."""
    if not lines:
        return np.zeros(0), np.zeros(0)
    gap = np.full((1, 2), np.nan)
    all_of = np.concatenate([part for line in lines for part in (line, gap, line * (1, -1), gap)])
    return all_of[:, 0], all_of[:, 1]
