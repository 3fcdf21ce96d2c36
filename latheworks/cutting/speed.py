"""Surface speed and spindle speed, and what the lathe's own range makes of them."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import machine
from latheworks.door import Door
from latheworks.errors import WrongUnit
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class SpindleSpeed(Result):
    """A spindle speed for a surface speed.

    Fields: spindle, as the lathe can turn [rev/min]; wanted, by the formula [rev/min]; surface_speed, which comes of
    the spindle [m/min]; asked, the surface speed asked for [m/min]; diameter [mm]; limited_by, in words, or nothing.
    """

    spindle: Any
    wanted: Any
    surface_speed: Any
    asked: Any
    diameter: Any
    limited_by: str
    system: str

    def title(self) -> str:
        """What it is for."""
        return f"spindle speed for {show(self.diameter, self.system)}"

    def facts(self) -> list[tuple[str, str]]:
        """Wanted and possible, and what limits."""
        check_system(self.system)
        facts = [
            ("spindle", show(self.spindle)),
            ("wanted by the formula", show(self.wanted)),
            ("surface speed", f"{show(self.surface_speed, self.system)} (asked {show(self.asked, self.system)})"),
        ]
        return [*facts, *([("limited by", self.limited_by)] if self.limited_by else [])]

    @property
    def working(self) -> Working:
        """The formula with its numbers."""
        v, d, n = self.asked.m_as(U.m_per_min), self.diameter.m_as(U.mm), self.wanted.m_as(U.rpm)
        line = Line("n", "1000 v / (pi D)", f"1000 x {v:.4g} / (pi x {d:.4g})", f"{n:.1f} rev/min", "geometry")
        return Working(self.title(), (line,))


def surface_speed(spindle: Any, diameter: Any) -> Any:
    """Return the speed of the surface under the tool.

    v = pi D n. At a constant spindle speed it falls with the diameter, to nothing at the center.
    Parameters: spindle [rev/min, 0 to 100000, one or many]; diameter [mm, 0 to 10000, one or many].
    Returns the speed [m/min], of the shape that both make together.
    Raises LatheworksError for a wrong dimension, a value outside its range, or shapes that do not fit.
    Source: geometry.

    >>> surface_speed(Q_(600, "rev/min"), Q_(50, "mm")).round(2)
    <Quantity(94.25, 'meter / minute')>
    """
    with Door("surface_speed") as door:
        turns = door.array(spindle, "spindle", "rev/min", least=0, most=1e5, example='spindle=Q_(600, "rev/min")')
        sizes = door.array(diameter, "diameter", "mm", least=0, most=1e4, example='diameter=Q_(50, "mm")')
        if turns.ndim and sizes.ndim and turns.shape != sizes.shape:
            got = f"{turns.size} speeds and {sizes.size} diameters"
            door.complain("spindle and diameter", got, "one of them single, or as many of each", "one speed", WrongUnit)
            turns = np.asarray(1.0)
    return Q_((np.pi * sizes * turns / 1000.0)[()], U.m_per_min)


def spindle_for(surface_speed: Any, diameter: Any, lathe: Any = None, system: Any = "metric") -> SpindleSpeed:
    """Return the spindle speed that gives a surface speed, held to what the lathe can turn.

    n = 1000 v / (pi D), or 12 v / (pi D) = 3.82 v / D in ft/min and inches. The rule 4 v / D is 4.7 % fast.

    Parameters: surface_speed [m/min, above 0 to 5000]; diameter of the surface under the tool [mm, above 0 to 10000];
    lathe, a Lathe, the teaching lathe when not given; system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension or a value outside its range. Source: geometry.

    >>> spindle_for(Q_(100, "ft/min"), Q_(1.0, "in")).spindle.round(0)
    <Quantity(382.0, 'rpm')>
    """
    system = check_system(system)
    with Door("spindle_for") as door:
        speed = door.number(surface_speed, "surface_speed", "m/min", above=0, most=5000,
                            example='surface_speed=Q_(30, "m/min")')  # fmt: skip
        size = door.number(diameter, "diameter", "mm", above=0, most=1e4, example='diameter=Q_(50, "mm")')
        chosen = machine(door, lathe)
    wanted = 1000.0 * speed / (np.pi * size)
    slowest, fastest = chosen.slowest_spindle.m_as(U.rpm), chosen.fastest_spindle.m_as(U.rpm)
    turns, reason = wanted, ""
    if wanted > fastest:
        turns, reason = fastest, f"the lathe's fastest speed, {fastest:g} rev/min: the surface runs slower than asked"
    elif wanted < slowest:
        turns, reason = slowest, f"the lathe's slowest speed, {slowest:g} rev/min: the surface runs faster than asked"
    reached = np.pi * size * turns / 1000.0
    return SpindleSpeed(Q_(turns, U.rpm), Q_(wanted, U.rpm), Q_(reached, U.m_per_min), Q_(speed, U.m_per_min),
                        Q_(size, U.mm), reason, system)  # fmt: skip
