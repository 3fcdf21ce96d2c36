"""How pictures look: one color for each meaning, and the size and unit system they are drawn in."""

from dataclasses import dataclass
from typing import Any

from latheworks.units import Q_, U, check_system, show

PAPER = "#ffffff"

# One color for each meaning. Two hues only, blue and burnt orange, which color-blind eyes keep apart; all else
# is ink and gray. No meaning rests on color alone: each has its line style, its hatch or its label as well.
INK: dict[str, str] = {
    "outline": "#1b1b1b",  # edges of parts, dimensions, words
    "quiet": "#595959",  # center lines, axes, what is only for reference
    "hatch": "#757575",  # the section hatch of cut metal
    "tool": "#333333",  # tools and work holding
    "limit": "#00497a",  # a limit or a tolerance zone
    "internal": "#00497a",  # the internal thread and its limits
    "external": "#bd470f",  # the external thread and its limits
    "result": "#bd470f",  # what the present setting gives
    "kept": "#595959",  # what a setting kept for comparison gives
}
FILL: dict[str, str] = {"work": "#eceff1", "tool": "#d2d2d2", "limit": "#d3e5f2", "result": "#f6d5c3"}
LINE: dict[str, Any] = {
    "outline": "-",
    "result": "-",
    "limit": "-",
    "center line": (0, (12, 3, 3, 3)),
    "kept": (0, (6, 3)),
    "finished": (0, (2, 2)),
    "first": "-",
    "second": (0, (7, 2)),
    "third": (0, (5, 2, 1, 2)),
}
# Meanings that meet in one picture and must stay apart for every eye.
TOGETHER = (("limit", "result"), ("internal", "external"), ("outline", "result"), ("kept", "result"))


@dataclass(frozen=True)
class Look:
    """What a picture is drawn for: the unit system, and a desk or a projector."""

    system: str = "metric"
    projector: bool = False

    def __post_init__(self) -> None:
        check_system(self.system)

    @property
    def dpi(self) -> float:
        """Dots per inch of figure; everything in a picture grows with it."""
        return 110.0 if self.projector else 100.0

    @property
    def points(self) -> float:
        """Size of the words [points]; from the back of a room words must grow more than lines."""
        return 11.8 if self.projector else 9.0

    @property
    def length(self) -> float:
        """What a length in mm is multiplied by to be shown."""
        return 1.0 / 25.4 if self.system == "inch" else 1.0

    @property
    def length_unit(self) -> str:
        """The unit that lengths are shown in."""
        return "in" if self.system == "inch" else "mm"

    @property
    def digits(self) -> int:
        """Decimals of a length in a table: to a micrometer, or to a tenth of a thousandth of an inch."""
        return 4 if self.system == "inch" else 3

    def number(self, value: float, more: int = 0) -> str:
        """A length in mm without its unit, as a table has it; with so many more digits where it is finer."""
        return f"{value * self.length:.{self.digits + more}f}"

    @property
    def area(self) -> float:
        """What an area in mm² is multiplied by to be shown."""
        return self.length**2

    def mm(self, value: float, digits: int | None = None) -> str:
        """A length in mm, written with its unit in this look's system."""
        return show(Q_(float(value), U.mm), self.system, digits)

    def mm2(self, value: float) -> str:
        """An area in mm², written with its unit."""
        # A finishing chip is a few thousandths of a mm²: one more digit than a shop usually writes.
        return show(Q_(float(value), U.mm2), self.system, 6 if self.system == "inch" else 4)

    def cm3(self, value: float) -> str:
        """A volume in cm³, written with its unit."""
        return f"{value / 2.54**3:.2f} in³" if self.system == "inch" else f"{value:.1f} cm³"

    def liter(self, value: float) -> str:
        """A volume in liters, written with its unit."""
        return f"{value * 1000 / 2.54**3:.0f} in³" if self.system == "inch" else f"{value:.1f} liter"

    def newton(self, value: float) -> str:
        """A force in N, written with its unit."""
        return show(Q_(float(value), U.N), self.system)


@dataclass(frozen=True)
class Table:
    """The numbers of a picture as a table: headings carry the units."""

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Shown:
    """A picture as drawn: the image, what it says in words, and the numbers in it."""

    png: bytes
    alt: str
    table: Table
    width: int
    height: int
