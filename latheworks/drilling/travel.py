"""The point of a drill and the travel it costs."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import yes_or_no
from latheworks.door import Door
from latheworks.drilling import kernel
from latheworks.drilling.asked import angle, size
from latheworks.results import Result
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class HoleTravel(Result):
    """What the drill moves for a hole: travel [mm], of approach, depth of the full diameter, point and overrun [mm];
    through, or blind."""

    travel: Any
    approach: Any
    depth: Any
    point: Any
    overrun: Any
    through: bool

    def title(self) -> str:
        """The hole."""
        return f"travel for a {'through' if self.through else 'blind'} hole {show(self.depth)} deep"

    def facts(self) -> list[tuple[str, str]]:
        """The travel and its parts."""
        parts = [("travel", self.travel), ("approach", self.approach), ("depth", self.depth), ("point", self.point)]
        return [(name, show(value)) for name, value in parts] + (
            [("overrun", show(self.overrun))] if self.through else [("bottom", "a cone of the point's length below")]
        )

    def time(self, feed: Any, spindle: Any) -> Any:
        """Return the time of the travel at one feed: travel/(f n).

        Parameters: feed [mm/rev, above 0 to 5]; spindle [rev/min, above 0 to 100000]. Returns the time [s].
        Raises LatheworksError for a wrong dimension or a value outside its range. Source: geometry.

        >>> hole_travel(Q_(10, "mm"), Q_(57, "mm")).time(Q_(0.2, "mm/rev"), Q_(600, "rev/min")).round(1)
        <Quantity(30.0, 'second')>
        """
        with Door("HoleTravel.time") as door:
            f = door.number(feed, "feed", "mm/rev", above=0, most=5, example='feed=Q_(0.2, "mm/rev")')
            n = door.number(spindle, "spindle", "rev/min", above=0, most=1e5, example='spindle=Q_(500, "rev/min")')
        return Q_(60.0 * self.travel.m_as(U.mm) / (f * n), U.s)

    @property
    def working(self) -> Working:
        """The sum, with its numbers."""
        parts = [self.approach, self.depth, self.point, *([self.overrun] if self.through else [])]
        numbers = " + ".join(f"{part.m_as(U.mm):.4g}" for part in parts)
        formula = "approach + depth + point" + (" + overrun" if self.through else "")
        return Working(self.title(), (Line("travel", formula, numbers, show(self.travel), "geometry"),))


def point_length(diameter: Any, point_angle: Any = None) -> Any:
    """Return the length of a drill's point, from the tip to where the full diameter begins.

    p = (D/2)/tan(angle/2): 0.300 D at 118 degrees, 0.207 D at 135, 0.5 D at 90, nothing at 180.
    Parameters: diameter [mm, 0.3 to 100, one or many]; point_angle, between the lips [deg, 60 to 180; 118 when not
    given]. Returns the length [mm]. Raises LatheworksError for a wrong dimension or a value outside its range.
    Source: geometry.

    >>> point_length(Q_(10, "mm")).round(3), point_length(Q_(10, "mm"), Q_(135, "degree")).round(3)
    (<Quantity(3.004, 'millimeter')>, <Quantity(2.071, 'millimeter')>)
    """
    with Door("point_length") as door:
        sizes = door.array(diameter, "diameter", "mm", least=0.3, most=100, example='diameter=Q_(10, "mm")')
        degrees = angle(door, point_angle)
    return Q_(np.maximum(kernel.point(sizes, degrees), 0.0)[()], U.mm)


def hole_travel(diameter: Any, depth: Any, through: Any = True, point_angle: Any = None, approach: Any = None,
                overrun: Any = None) -> HoleTravel:  # fmt: skip
    """Return how far the drill has to move for a hole, its point counted.

    Through: approach + depth + point + overrun. Blind: approach + depth of the full diameter + point.
    Parameters: diameter [mm, 0.3 to 100]; depth, that the full diameter reaches [mm, above 0 to 2000]; through, True
    or False; point_angle [deg, 60 to 180; 118 when not given]; approach from where the feed begins [mm, 0 to 100; 0
    when not given]; overrun beyond a through hole [mm, 0 to 100; 0 when not given].
    Raises LatheworksError for a wrong dimension or a value outside its range. Source: geometry.

    >>> hole_travel(Q_(15, "mm"), Q_(50, "mm"), approach=Q_(2, "mm"), overrun=Q_(2, "mm")).travel.round(2)
    <Quantity(58.51, 'millimeter')>
    """
    with Door("hole_travel") as door:
        d, tip = size(door, diameter), angle(door, point_angle)
        deep = door.number(depth, "depth", "mm", above=0, most=2000, example='depth=Q_(50, "mm")')
        goes = yes_or_no(door, through, "through")
        before, beyond = (
            0.0 if value is None else door.number(value, name, "mm", least=0, most=100)
            for name, value in (("approach", approach), ("overrun", overrun))
        )
    cone = float(kernel.point(d, tip))
    whole = float(kernel.travel(deep, cone, goes, before, beyond))
    return HoleTravel(Q_(whole, U.mm), Q_(before, U.mm), Q_(deep, U.mm), Q_(cone, U.mm),
                      Q_(beyond if goes else 0.0, U.mm), goes)  # fmt: skip
