"""The whole of a hole being drilled, to scale: the part in the chuck, the drill, the quill and the tailstock."""

import math
from typing import Any

import numpy as np

from latheworks.pictures.drafting import Sheet, between, box
from latheworks.pictures.drill_shapes import drill_body, edges, flute_edges, hollowed
from latheworks.pictures.style import FILL, Look

# How far the part stands out of the jaws, in its own diameters, and how large jaws and quill are: for the picture.
_OUT, _JAW, _BODY, _QUILL = 0.9, 0.45, 0.6, 0.8


class WholeHole:
    """The part in section with the drill in it; nothing here is enlarged."""

    def __init__(self, canvas: Any, axes: Any, look: Look) -> None:
        self.canvas, self.axes, self.look = canvas, axes, look
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        self.chuck = still.shapes("tool", 1.0)
        self.depth_size = still.dimension()
        self.what = still.words(fixed=True, across="left", up="top")
        self.what.set_position((0.0, 1.0))
        self.walls = [top.area("work", hatch="////", width=0.0) for _ in range(2)]
        self.outline = top.line("outline", width=1.2)
        self.axis = top.center_line()
        self.tail = top.area("tool", "tool")
        self.quill = top.area("tool", "tool")
        self.shank = top.area("tool", "tool")
        self.drill = top.area(None, "tool", width=1.2)
        self.drill.set_facecolor("white")
        self.flutes = top.line("tool", width=0.8)
        self.stops = top.line("outline", "outline", 0.0, marker="|", markersize=8)
        self.done = top.line("result", "outline", 0.0, marker="|", markersize=11, markeredgewidth=2.4)
        # Short words for what changes at every move: letters are what a picture spends most of its time on.
        self.point_words = top.words(meaning="result", fixed=True, across="left", up="bottom")
        self.point_words.set_position((0.0, 0.0))
        self.peck_words = top.words(meaning="result", fixed=True, across="left", up="bottom")
        self.peck_words.set_position((0.0, 0.09))
        self.out_words, self.spare_words = (top.words(fixed=True, across="right", up="bottom") for _ in range(2))
        self.out_words.set_position((0.66, 0.09))
        self.spare_words.set_position((0.66, 0.0))
        self.of_words, self.needed_words = (top.words(fixed=True, across="left", up="bottom") for _ in range(2))
        self.of_words.set_position((0.67, 0.09))
        self.needed_words.set_position((0.67, 0.0))

    def put(self, data: Any, wide: float) -> None:
        """Draw the stage; `wide` is the paper's width over its height."""
        k, long, half = self.look.length, data.part, data.outside / 2
        right = long + data.flutes + 0.25 * data.outside
        span = 20.0 * math.ceil(max(1.06 * right, 3.4 * data.outside * wide) / 20.0)
        left = -0.05 * right
        high = span / wide
        self.canvas.limits(self.axes, (left * k, (left + span) * k), (-0.54 * high * k, 0.46 * high * k))
        mm = self.look.mm

        def rest() -> None:
            face = max(long - _OUT * data.outside, 0.25 * long)
            jaw, tall = _JAW * data.outside, _BODY * data.outside
            body = face - 0.6 * jaw
            shapes = [
                box(face - jaw, half, face, half + 0.75 * tall),
                box(face - jaw, -half - 0.75 * tall, face, -half),
            ]
            # The chuck and the spindle are bored: the part reaches back through them.
            shapes += [box(left, 1.12 * half, body, half + tall), box(left, -half - tall, body, -1.12 * half)]
            self.chuck.set_verts([shape * k for shape in shapes])
            self.chuck.set_facecolor(FILL["tool"])
            self.depth_size.put((long - data.depth) * k, long * k, (half + tall + 0.045 * high) * k, mm(data.depth),
                                foot=half * k)  # fmt: skip
            kind = "through" if data.through else "blind, to the full diameter"
            self.what.set_text(f"{data.material} ⌀{mm(data.outside)}, hole ⌀{mm(data.wanted)} {kind}")

        self.canvas.when_changed(
            "whole", (data.material, data.outside, data.wanted, data.depth, data.through, span), rest
        )
        x, top, bottom = hollowed(data.hollows(), 0.0, long)
        self.walls[0].set_xy(between(x, top, half) * k)
        self.walls[1].set_xy(between(x, -half, bottom) * k)
        hole_x, hole_y = edges(x, top, bottom)
        frame = [0.0, long, np.nan, 0.0, long, np.nan], [half, half, np.nan, -half, -half, np.nan]
        mouths = self._ends(x, top, bottom, half)
        self.outline.set_data(np.concatenate([frame[0], mouths[0], hole_x]) * k,
                              np.concatenate([frame[1], mouths[1], hole_y]) * k)  # fmt: skip
        self.axis.set_data([left * k, (left + span) * k], [0, 0])
        self._draw_drill(data, long - data.inside, left + span, k)
        stops = long - data.stops[:-1]
        level = -half - 0.05 * high
        past = data.stops[:-1] <= data.inside + 1e-9
        self.stops.set_data(stops[~past] * k, np.full((~past).sum(), level * k))
        self.done.set_data(stops[past] * k, np.full(past.sum(), level * k))
        pecks = "one step, no pecks" if len(data.stops) == 1 else f"peck {data.peck} of {len(data.stops)}"
        ends = ["", "end 1 of 2, ", "end 2 of 2, "][data.end if len(data.travels) == 2 else 0]
        self.peck_words.set_text(ends + pecks)
        self.point_words.set_text(f"point {self.short(data.inside)} deep")

    @staticmethod
    def _ends(x: np.ndarray, top: np.ndarray, bottom: np.ndarray, half: float) -> tuple[list[float], list[float]]:
        """The faces of the part, open where a hole comes out."""
        xs: list[float] = []
        ys: list[float] = []
        for n in (0, -1):
            xs += [float(x[n]), float(x[n]), np.nan, float(x[n]), float(x[n]), np.nan]
            ys += [half, float(top[n]), np.nan, float(bottom[n]), -half, np.nan]
        return xs, ys

    def _draw_drill(self, data: Any, tip: float, edge: float, k: float) -> None:
        radius = data.drill / 2
        self.drill.set_xy((drill_body(radius, data.tip, data.flutes) + np.array([tip, 0.0])) * k)
        x, y = flute_edges(radius, data.tip, data.flutes)
        self.flutes.set_data((x + tip) * k, y * k)
        end = tip + data.flutes
        nose = end + 0.6 * data.drill
        self.shank.set_xy(box(end, -0.8 * radius, nose, 0.8 * radius) * k)
        setting = min(int((data.inside - 1e-9) // data.quill), data.settings - 1) if data.inside > 0 else 0
        out = data.inside - setting * data.quill
        wide = max(_QUILL * radius * 2, 0.3 * data.outside)
        self.quill.set_xy(box(nose, -0.75 * wide, nose + out + 4 * wide, 0.75 * wide) * k)
        self.tail.set_xy(box(nose + out + 0.3 * wide, -1.15 * wide, edge + 10, 1.15 * wide) * k)
        short = self.short
        times = f", setting {setting + 1} of {data.settings}" if data.settings > 1 else ""
        self.out_words.set_text(f"quill out {short(out)}")
        self.of_words.set_text(f"of {short(data.quill)}{times}")
        self.spare_words.set_text(f"flutes still out {short(data.spare)}")
        self.needed_words.set_text(f"{short(data.flutes_out)} needed")

    def short(self, value: float) -> str:
        """A length in mm, as finely as a quill is read."""
        return self.look.mm(value, 2 if self.look.system == "inch" else 1)
