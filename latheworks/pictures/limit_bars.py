"""What each limit allows a pass to be deep, as bars beside each other, and how deep it is."""

import math
from typing import Any

from latheworks.pictures.drafting import Sheet, box
from latheworks.pictures.pass_layers import PassLayers
from latheworks.pictures.style import FILL, Look

ROWS = 4
_FLOORS = tuple(0.79 - 0.22 * n for n in range(ROWS))
_SHORT = {"the tool's own depth": "the tool"}


class LimitBars:
    """A bar a limit; the one that is met first is filled and says so."""

    def __init__(self, canvas: Any, axes: Any) -> None:
        self._canvas, self.axes = canvas, axes
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        self.title = still.words("depth each limit allows", fixed=True, across="left", up="bottom")
        self.title.set_position((0.0, 1.025))
        self.open = top.shapes("limit", 1.0, "second")
        self.bars = top.shapes("limit", 1.0)
        self.bars.set_facecolor(FILL["limit"])
        self.least = top.shapes("limit", 1.6, hatch="////")
        self.least.set_facecolor(FILL["limit"])
        self.words = [top.words(across="left", up="bottom", backed=False) for _ in range(ROWS)]
        self.taken = top.line("result", width=2.4)
        self.kept = top.line("kept", "kept", 1.6)
        self.taken_words = top.words(meaning="result", across="left", up="bottom")

    def put(self, data: PassLayers, kept: PassLayers | None, look: Look) -> None:
        """Draw the limits of the pass shown."""
        self._canvas.limits(self.axes, (0.0, 1.12), (0.0, 1.0))
        i, whole = data.now, max(data.tool_depth, float(data.depth.max()))
        limits = data.allowed[i]
        shapes: dict[str, list[Any]] = {"open": [], "bar": [], "least": []}
        for n, (words, (name, deep)) in enumerate(zip(self.words, limits.items(), strict=True)):
            floor = _FLOORS[n]
            least = name == data.limited_by[i]
            kind = "least" if least else "open" if deep is None else "bar"
            shapes[kind].append(box(0.0, floor, (data.tool_depth if deep is None else deep) / whole, floor + 0.07))
            words.set_position((0.0, floor + 0.09))
            words.set_text(_line(name, deep, least, data.tool_depth, look))
        self.open.set_verts(shapes["open"])
        self.bars.set_verts(shapes["bar"])
        self.least.set_verts(shapes["least"])
        at = float(data.depth[i]) / whole
        self.taken.set_data(*_ticks(at))
        self.taken_words.set_position((at, 0.0))
        self.taken_words.set_ha("right" if at > 0.5 else "left")
        self.taken_words.set_text(f"taken {look.mm(data.depth[i])}")
        self.kept.set_data([], [])
        if kept is not None:
            beside = float(kept.depth[kept.now]) / whole
            self.kept.set_data(*_ticks(beside))

    @staticmethod
    def said(data: PassLayers, look: Look) -> str:
        """The same in words."""
        i = data.now
        rows = (
            f"{name} more than {look.mm(data.tool_depth)}" if deep is None else f"{name} {look.mm(deep)}"
            for name, deep in data.allowed[i].items()
        )
        return f"Depths allowed: {', '.join(rows)}. What limits it first is {data.limited_by[i]}."


def _line(name: str, deep: float | None, least: bool, tool: float, look: Look) -> str:
    reads = f"over {look.mm(tool)}" if deep is None else look.mm(deep)
    return f"{named(name)}{' limits' if least else ''}: {reads}"


def named(limit: str) -> str:
    """A limit in a few letters, for where there is little room."""
    return _SHORT.get(limit, limit)


def _ticks(at: float) -> tuple[list[float], list[float]]:
    """A mark across each bar, broken between them where the words stand."""
    heights = [value for floor in _FLOORS for value in (floor - 0.015, floor + 0.085, math.nan)]
    return [at, at, math.nan] * len(_FLOORS), heights
