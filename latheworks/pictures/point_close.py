"""The drill's point close up, in section: its angle, the chips behind it, thrust and torque, and the step it meets."""

from typing import Any

import numpy as np

from latheworks.drilling.load_result import written_torque
from latheworks.pictures.drafting import Sheet, between
from latheworks.pictures.drill_shapes import chip_curls, drill_body, edges, flute_edges, hollowed
from latheworks.pictures.style import Look
from latheworks.units import Q_

# The paper in drill diameters, and how far left of the tip it begins.
_HIGH, _LEFT = 2.15, 1.55
_ROUND = np.linspace(-0.42, 0.42, 15) * np.pi


class ClosePoint:
    """Around the point, to scale; sideways errors are drawn larger, and it says so."""

    def __init__(self, canvas: Any, axes: Any, look: Look) -> None:
        self.canvas, self.axes, self.look = canvas, axes, look
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        self.title = top.words("the point, close up", fixed=True, across="left", up="bottom")
        self.title.set_position((0.0, 1.01))
        self.walls = [top.area("work", hatch="////", width=0.0) for _ in range(2)]
        self.outline = top.line("outline", width=1.4)
        self.axis = top.center_line()
        self.body = top.area(None, "tool", width=1.4)
        self.body.set_facecolor("white")
        self.flutes = top.line("tool", width=1.0)
        self.chips = top.line("result", width=1.4)
        self.bore = top.line("limit", "finished", 1.6)
        self.bore_words = top.words(meaning="limit", across="left", up="bottom")
        self.angle_lines = top.line("outline", width=0.8)
        self.angle_words = top.words(across="right")
        self.point_size = top.dimension()
        self.thrust = top.line("result", width=2.0)
        self.thrust_head = top.line("result", marker="<", markersize=8)
        self.thrust_words = top.words(meaning="result", fixed=True, across="left", up="top")
        self.thrust_words.set_position((0.0, -0.03))
        self.twist = top.line("result", width=2.0)
        self.twist_head = top.line("result", marker="v", markersize=8)
        self.twist_words = top.words(meaning="result", fixed=True, across="left", up="top")
        self.twist_words.set_position((0.0, -0.165))
        self.since_words, self.chip_words = (
            top.words(meaning="result", fixed=True, across=side, up="top") for side in ("left", "right")
        )
        self.since_words.set_position((0.0, -0.3))
        self.chip_words.set_position((1.0, -0.3))
        between_them = still.words("since cleared; chips in the flutes", "result", fixed=True, across="left", up="top")
        between_them.set_position((0.27, -0.3))

    def put(self, data: Any, larger: float, wide: float) -> None:
        """Draw the stage with sideways errors so many times larger; `wide` is the paper's width over its height."""
        k, d, r = self.look.length, data.drill, data.drill / 2
        high = _HIGH * d
        left, right = -_LEFT * d, high * wide - _LEFT * d
        self.canvas.limits(self.axes, (left * k, right * k), (-high / 2 * k, high / 2 * k))
        tip, long, half = data.part - data.inside, data.part, data.outside / 2
        hollows = data.hollows(larger)
        x, top, bottom = hollowed(hollows, max(0.0, tip + left), min(long, tip + right))
        here = x - tip
        self.walls[0].set_xy(between(here, top, half) * k)
        self.walls[1].set_xy(between(here, -half, bottom) * k)
        hole_x, hole_y = edges(here, top, bottom)
        ends = [here[0], here[-1], np.nan] * 2
        rims = [half, half, np.nan, -half, -half, np.nan]
        # A face of the part stands in the paper near either end of the hole.
        for n, place in ((0, 0.0), (-1, long)):
            if abs(x[n] - place) < 1e-5:
                ends += [here[n], here[n], np.nan, here[n], here[n], np.nan]
                rims += [half, top[n], np.nan, bottom[n], -half, np.nan]
        self.outline.set_data(np.concatenate([ends, hole_x]) * k, np.concatenate([rims, hole_y]) * k)
        self.axis.set_data([left * k, right * k], [0, 0])
        lean = -larger * data.meets.drift if data.meets and data.end == 2 else 0.0

        def leaned(x_: Any, y_: Any) -> np.ndarray:
            """The drill goes where its hole went."""
            x_, y_ = np.asarray(x_, dtype=float), np.asarray(y_, dtype=float)
            return np.column_stack([x_, y_ + lean * np.clip(data.inside - x_, 0.0, None)]) * k

        self.body.set_xy(leaned(*drill_body(r, data.tip, min(data.flutes, right)).T))
        self.flutes.set_data(*leaned(*flute_edges(r, data.tip, min(data.flutes, right))).T)
        full = float(data.stops[0])
        self.chips.set_data(*leaned(*chip_curls(r, data.tip, data.since / full * (right - data.tip))).T)
        self._draw_words(data, larger, float(lean * data.inside), (right, high), hollows)

    def _draw_words(self, data: Any, larger: float, off: float, paper: tuple[float, float], hollows: Any) -> None:
        k, r, look = self.look.length, data.drill / 2, self.look
        right, high = paper
        # The lips drawn on beyond the point, and the angle between them there.
        out = np.array([(-0.95 * data.tip, -0.95 * r), (0.0, 0.0), (-0.95 * data.tip, 0.95 * r)])
        half = np.radians(data.point_angle / 2)
        arc = np.linspace(np.pi - half, np.pi + half, 21)
        ring = 0.8 * r * np.column_stack([np.cos(arc), np.sin(arc)])
        lines = np.concatenate([out, [(np.nan, np.nan)], ring]) + np.array([0.0, off])
        self.angle_lines.set_data(*(lines * k).T)
        self.angle_words.set_position((-0.95 * r * k, (off + 0.28 * r) * k))
        self.angle_words.set_text(f"{data.point_angle:.0f}°")
        level = -0.405 * high
        self.point_size.put(0.0, data.tip * k, level * k, f"point {look.mm(data.tip)}", foot=0.0,
                            at=1.25 * data.tip * k, across="left")  # fmt: skip
        start, end = -0.55 * data.drill, -1.3 * data.drill
        self.thrust.set_data([start * k, end * k], [(off - 0.3 * r) * k] * 2)
        self.thrust_head.set_data([end * k], [(off - 0.3 * r) * k])
        low, most = (look.newton(value) for value in data.thrust)
        self.thrust_words.set_text(f"thrust {low} to {most}")
        at = 0.86 * right
        ring = np.column_stack([0.22 * r * np.cos(_ROUND), 1.25 * r * np.sin(_ROUND)]) + np.array([at, off])
        self.twist.set_data(*(ring * k).T)
        self.twist_head.set_data(*(ring[:1] * k).T)
        low, most = (written_torque(Q_(value, "N*m"), look.system) for value in data.torque)
        self.twist_words.set_text(f"torque {low} to {most}")
        self.since_words.set_text(look.mm(data.since))
        self.chip_words.set_text(look.cm3(data.chips))
        self._draw_meeting(data, larger, right)

    def _draw_meeting(self, data: Any, larger: float, right: float) -> None:
        self.bore.set_data([], [])
        self.bore_words.set_text("")
        if data.meets is None or data.end == 1:
            self.title.set_text("the point, close up")
            return
        k, mm = self.look.length, self.look.mm
        wide = (data.drill + larger * data.meets.worst_allowance) / 2
        left = max(-_LEFT * data.drill, data.inside - data.part)
        end = min(right, data.inside)
        self.bore.set_data(
            np.array([left, end, np.nan, left, end]) * k, np.array([wide, wide, np.nan, -wide, -wide]) * k
        )
        self.bore_words.set_position((-_LEFT * data.drill * k, (wide + 0.03 * data.drill) * k))
        self.bore_words.set_text(f"bore {mm(data.meets.worst_allowance)} larger")
        self.title.set_text(f"close up; sideways {larger:g} times larger, at worst")
