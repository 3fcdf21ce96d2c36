"""What lesson 00 shows: the turn that counts as 2 pi in a stock unit registry, and what the reader says to a size."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from latheworks.door import Door
from latheworks.errors import LatheworksError
from latheworks.reading import read_size
from latheworks.results import Result
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class TwoSpeeds(Result):
    """The surface speed of a turning bar, and the speed that comes out when a turn is read as 2 pi radians."""

    diameter: Any
    spindle: Any
    surface_speed: Any
    with_turn_as_angle: Any

    def title(self) -> str:
        """One line that says what this is."""
        return f"A bar of {show(self.diameter)} at {show(self.spindle)}"

    def facts(self) -> Sequence[tuple[str, str]]:
        """Both speeds."""
        return (
            ("surface speed, a turn being one turn", show(self.surface_speed)),
            ("what comes out when a turn is 2 pi radians", show(self.with_turn_as_angle)),
            ("too large by a factor of", f"{(self.with_turn_as_angle / self.surface_speed).m_as(U.one):.2f}"),
        )

    @property
    def working(self) -> Working:
        """The line from which the right speed can be redone."""
        numbers = f"pi x {show(self.diameter)} x {show(self.spindle)}"
        return Working(self.title(), (Line("v", "pi x D x n", numbers, show(self.surface_speed), "geometry"),))


def turn_trap(diameter: Any, spindle: Any) -> TwoSpeeds:
    """Return the surface speed of a bar, rightly and with the mistake of counting a turn as 2 pi radians.

    v = pi D n; the mistaken one is 2 pi times as large. Parameters: diameter [length, above 0 to 2000 mm];
    spindle [rev/min, above 0 to 10000]. Raises LatheworksError for anything else. Source: geometry.

    >>> show(turn_trap(Q_(50, "mm"), Q_(600, "rpm")).surface_speed)
    '94.2 m/min'
    """
    with Door("turn_trap") as door:
        across = door.number(diameter, "diameter", "mm", above=0, most=2000)
        turns = door.number(spindle, "spindle", "rpm", above=0, most=10_000)
    speed = Q_(math.pi * across * turns, U.mm_per_min)
    return TwoSpeeds(diameter, spindle, speed, 2 * math.pi * speed)


def reader_says(text: str) -> str:
    """Return what the reader of typed sizes makes of a text: the size in both systems, or why it is refused.

    Parameters: text, as typed into a size box [no unit]. Raises nothing for text; a refusal is the answer.
    Source: our own grammar, `latheworks.reading`.

    >>> reader_says("1 1/4 in")
    '1 1/4 in: 31.750 mm or 1.2500 in'
    """
    try:
        size = read_size(text)
    except LatheworksError as error:
        return f"{text}: refused. {error}"
    return f"{text}: {show(size)} or {show(size, 'inch')}"
