"""Pecks: how far to drill before the flutes are cleared, less the deeper the hole."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import plain
from latheworks.door import Door
from latheworks.drilling import kernel
from latheworks.drilling.asked import size
from latheworks.errors import OutOfRange
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Q_, U, show

ONE_STEP = 3.0  # diameters that need no peck
FIRST, RATIO, LEAST = 2.0, 0.7, 1.0
BULK = 5.0  # in the flutes chips take about so many times the room of the solid: common practice, no source
MOST = 200


@dataclass(frozen=True, slots=True)
class Pecks(Result):
    """The pecks of a hole: diameter [mm]; steps, the length of each [mm]; depths, where each ends [mm]; chips, the
    chips of each in the flutes [cm^3], at about five times the solid."""

    diameter: Any
    steps: Any
    depths: Any
    chips: Any

    def __len__(self) -> int:
        return len(self.steps)

    def title(self) -> str:
        """The hole."""
        return f"pecks of a {show(self.diameter)} drill to {show(self.depths[-1])}"

    def facts(self) -> list[tuple[str, str]]:
        """How many, and where to draw the drill out."""
        if len(self) == 1:
            return [("pecks", "none: one step")]
        return [
            ("pecks", str(len(self))),
            ("draw out at", show(self.depths, digits=1)),
            ("chips in the flutes, largest", f"about {float(self.chips.magnitude.max()):.1f} cm³"),
            ("clear", "draw the drill out of the hole, brush the flutes, wet it; never with fingers"),
            ("source", cite("peck_tips+practice_pecks")),
        ]

    def columns(self) -> dict[str, Any]:
        """A row a peck."""
        return {"step [mm]": self.steps.magnitude, "depth [mm]": self.depths.magnitude,
                "chips in the flutes [cm**3]": self.chips.magnitude}  # fmt: skip


def peck_steps(diameter: float, depth: float, first: float = FIRST, ratio: float = RATIO,
               least: float = LEAST) -> np.ndarray:  # fmt: skip
    """The pecks of a hole on plain floats [mm]; one step where the hole is shallow."""
    if depth <= max(ONE_STEP, first) * diameter:
        return np.array([depth])
    return kernel.pecks(depth, diameter, first, ratio, least)


def peck_depths(diameter: Any, depth: Any, first: Any = FIRST, ratio: Any = RATIO, least: Any = LEAST) -> Pecks:
    """Return where to draw the drill out and clear its flutes: pecks that shrink with depth.

    Up to 3 diameters in one step; else first x D, then each `ratio` times the one before, never below least x D.
    Parameters: diameter [mm, 0.3 to 100]; depth that the point travels in the work [mm, above 0 to 2000]; first and
    least, in diameters [plain numbers, 0.1 to 10 and 0.1 to 5]; ratio of a peck to the one before [0.3 to 1].
    Raises LatheworksError for a wrong dimension, a value outside its range, or more than 200 pecks.
    Source: 3 diameters in one step and the first 2 before pecking, a drill maker's tips, read; the rest common
    practice, no source.

    >>> peck_depths(Q_(10, "mm"), Q_(60, "mm")).depths.round(1)
    <Quantity([20. 34. 44. 54. 60.], 'millimeter')>
    """
    with Door("peck_depths") as door:
        d = size(door, diameter)
        deep = door.number(depth, "depth", "mm", above=0, most=2000, example='depth=Q_(60, "mm")')
        start = plain(door, first, "first", least=0.1, most=10, example="first=2.0")
        less = plain(door, ratio, "ratio", least=0.3, most=1, example="ratio=0.7")
        end = plain(door, least, "least", least=0.1, most=5, example="least=0.5")
        if end > start:
            door.complain("least", f"{end:g}", f"no more than the first of {start:g}", f"least={start:g}", OutOfRange)
        elif deep > 0.8 * MOST * end * d:
            expected = f"{0.8 * MOST * end * d:g} mm at most with such short pecks"
            door.complain("depth", f"{deep:g} mm", expected, "a larger least, or a gun drill", OutOfRange)
    steps = peck_steps(d, deep, start, less, end)
    chips = BULK * np.pi / 4.0 * d * d * steps / 1000.0
    return Pecks(Q_(d, U.mm), Q_(steps, U.mm), Q_(np.cumsum(steps), U.mm), Q_(chips, "cm**3"))
