"""What pictures of a thread and its mate share: both in section with their zones, and their limits as a ladder."""

from typing import Any

from matplotlib.axes import Axes

from latheworks.pictures.canvas import Picture
from latheworks.pictures.drafting import Sheet
from latheworks.pictures.flanks import Ends
from latheworks.pictures.style import FILL

DIAMETERS = ("major", "pitch", "minor")
Place = tuple[float, float, float, float]
_METAL = {"external": "//", "internal": "\\\\"}
_ZONES = {"external": ("result", "\\\\\\"), "internal": ("limit", "///")}


class TwoThreadsPicture(Picture):
    """The section on the left, the ladder on the right; a picture of one kind adds what it is about."""

    left: Axes
    right: Axes

    def lay_out(self, left: Place, right: Place, ticks: list[float]) -> tuple[Sheet, Sheet]:
        """Make both axes, and the metal and zones of the section; return the sheets of what rests on the axes."""
        self.left, self.right = self.canvas.axes(*left, frame=False), self.canvas.axes(*right)
        self.right.set_xticks(ticks, DIAMETERS)
        self.right.tick_params(axis="x", length=0)
        still, ladder = Sheet(self.canvas, self.left, resting=True), Sheet(self.canvas, self.right, resting=True)
        self.metal = {kind: still.area("work", hatch=hatch, width=0.0) for kind, hatch in _METAL.items()}
        self.zones = {kind: still.area(fill, kind, hatch, width=0.8) for kind, (fill, hatch) in _ZONES.items()}
        return still, ladder

    def add_names(self, still: Sheet) -> None:
        """Make room for the name of each thread, in its own metal."""
        self.names = {}
        for kind, up, height in (("internal", "top", 0.985), ("external", "bottom", 0.015)):
            self.names[kind] = still.words(meaning=kind, fixed=True, across="left", up=up)
            self.names[kind].set_position((0.02, height))

    def put_names(self, data: Any) -> None:
        """Write the designations."""
        self.names["internal"].set_text(f"internal thread {data.internal}")
        self.names["external"].set_text(f"external thread {data.external}")

    def add_bars(self, ladder: Sheet, width: float) -> None:
        """Make the line of the basic diameters, and the bars of both threads."""
        self.zero = ladder.line("outline", width=1.0)
        self.bars = {kind: ladder.shapes(kind, width, hatch=hatch) for kind, (_, hatch) in _ZONES.items()}
        for kind, (fill, _) in _ZONES.items():
            self.bars[kind].set_facecolor(FILL[fill])

    def span(self, ends: Ends) -> str:
        """Both ends in words."""
        low, high = ("open" if each is None else self.look.mm(each) for each in ends)
        return f"{low} to {high}"

    def number(self, value: float | None) -> str:
        """An end without its unit, as the table has it."""
        return "open" if value is None else self.look.number(value)
