"""What warmth does to size: a part measured warm is small when it is cold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import ratio
from latheworks.deflection.shaft import LONGEST, SMALLEST
from latheworks.door import Door, given
from latheworks.errors import Impossible, NotInTable, WrongUnit
from latheworks.materials import Material, pick
from latheworks.results import Result
from latheworks.tables import cite, table
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

# Beyond this a part glows or melts, and no one value of expansion holds.
HOTTEST = 1000.0
USUAL_SHARE = 0.1
_HEAT = 'power=Q_(500, "W"), time=Q_(60, "s"), mass=Q_(0.3, "kg")'
_WARM = 'warming=Q_(15, "K")'


def growth_of(size: Any, expansion: Any, warming: Any) -> Any:
    """Growth D alpha dT of a size, in the unit of the size."""
    return size * expansion * warming


def warming_of(power: Any, time: Any, mass: Any, specific: Any, share: Any, coolant: Any) -> Any:
    """dT = share (1 - coolant) P t/(m c) [K], of W, s, kg, J/(kg K); nothing is lost to the air or to the chuck."""
    return share * (1.0 - coolant) * power * time / (mass * specific)


def specific_heat(door: Door, material: Material) -> float:
    """Specific heat of a material [J/(kg K)]; complain where the table lists none."""
    rows = {row["name"]: float(row["specific heat [J/(kg*K)]"]) for row in table("specific_heat")}
    if material.name not in rows:
        door.complain("material", material.name, "a material with a specific heat", f"give {_WARM}", NotInTable)
        return 500.0
    return rows[material.name]


@dataclass(frozen=True, slots=True)
class ThermalGrowth(Result):
    """A part warmed evenly, and the size it has once it is cold.

    Fields: material; diameter, one or many [mm]; warming above the room [K]; growth of the diameter [mm]; cold_error,
    what a part turned and measured to size while warm is off by when it is cold, below nought: too small [mm]; heat
    that went into the part [J], share, coolant, power [W], time [s], mass [kg] and heat_capacity [J/(kg*K)], None
    where the warming was given.
    """

    material: Material
    diameter: Any
    warming: Any
    growth: Any
    cold_error: Any
    heat: Any
    share: float | None
    coolant: float | None
    power: Any
    time: Any
    mass: Any
    heat_capacity: Any

    def title(self) -> str:
        """One line that says what this is."""
        return f"{self.material.name}, {self.warming.m_as('K'):.1f} K above the room"

    def facts(self) -> list[tuple[str, str]]:
        """Warming, growth, and what is left when cold."""
        said = [("diameter", show(self.diameter))]
        if self.heat is not None:
            said.append(("heat into the part", f"{self.heat.m_as('J'):.0f} J, no losses"))
        return [
            *said,
            ("warming", f"{self.warming.m_as('K'):.1f} K"),
            ("larger while warm", show(self.growth, digits=4)),
            ("measured warm, when cold", f"{show(-self.cold_error, digits=4)} too small"),
            ("note", "Every size grows in the same proportion, bores too: a bore measured warm is small when cold."),
            ("note", "Let the part, and the gage, come to the same temperature before the last cut is measured."),
        ]

    @property
    def working(self) -> Working:
        """The lines from which warming and growth can be redone by hand."""
        warm = float(self.warming.m_as("K"))
        lines = []
        if self.share is not None and self.coolant is not None:
            power, time, mass = (float(v.m_as(u)) for v, u in ((self.power, "W"), (self.time, "s"), (self.mass, "kg")))
            specific = float(self.heat_capacity.m_as("J/(kg*K)"))
            numbers = f"{self.share:g} × (1 − {self.coolant:g}) × {power:g} × {time:g} / ({mass:g} × {specific:g})"
            formula = "share (1 − coolant) P t/(m c)"
            lines.append(Line("dT", formula, numbers, f"{warm:.6g} K", f"no losses; share {cite('krar_heat')}"))
        alpha = float(self.material.thermal_expansion.m_as("1/K"))
        first = float(np.ravel(self.diameter.m_as(U.mm))[0])
        grown = growth_of(first, alpha, warm)
        numbers = f"{first:g} × {alpha:.9g} × {warm:.9g}"
        lines.append(Line("growth", "D alpha dT", numbers, f"{grown:.6g} mm", self.material.source))
        return Working(self.title(), tuple(lines))


def thermal_growth(material: Any, diameter: Any, *, warming: Any = None, power: Any = None, time: Any = None,
                   mass: Any = None, heat_share: Any = USUAL_SHARE, coolant: Any = 0.0) -> ThermalGrowth:  # fmt: skip
    """Return how much a warm part has grown, so how small it is when cold if it was measured to size while warm.

    growth = D alpha dT; from the heat of a cut, dT = share (1 - coolant) P t/(m c), with no losses to the air or to
    the chuck, so the most it can be for that share.
    Parameters: material, a name from the table; diameter, one or many [mm, 0.01 mm to 10 m]; either warming above the
    room [K, 0 to 1000], or power of the cut [W, 0 or more], time of the cut [s, 0 or more] and mass of the part [kg,
    above 0], with heat_share, the part of the heat that goes into the work [plain number, 0 to 1; about 0.1, more at
    low speed], and coolant, the part of that which coolant takes away again [plain number, 0 to 1].
    Raises WrongUnit, OutOfRange, NotInTable, and Impossible when both ways or a warming above 1000 K are asked for.
    Source: share of heat, Krar as in notes of a course on manufacturing, read; expansion as in `material`; specific
    heat in latheworks/data/specific_heat.csv.

    >>> warm = thermal_growth("6061-T6", Q_(50, "mm"), warming=Q_(15, "K"))
    >>> show(warm.growth, digits=4), show(warm.cold_error, digits=4)
    ('0.0177 mm', '-0.0177 mm')
    """
    with Door("thermal_growth") as door:
        chosen = pick(door, material)
        sizes = door.array(diameter, "diameter", "mm", least=SMALLEST, most=LONGEST, example='diameter=Q_(32, "mm")')
        share = ratio(door, heat_share, "heat_share", least=0.0, most=1.0, example=USUAL_SHARE)
        cooled = ratio(door, coolant, "coolant", least=0.0, most=1.0, example=0.0)
        cut = {"power": power, "time": time, "mass": mass}
        watts = seconds = 0.0
        kilograms, specific = 1.0, 1.0
        if warming is not None:
            rise = door.number(warming, "warming", "K", least=0.0, most=HOTTEST, example=_WARM)
            for name, value in cut.items():
                if value is not None:
                    door.complain(name, given(value), "a warming, or power, time and mass, not both", _WARM)
        elif all(value is None for value in cut.values()):
            door.complain("warming", "None", "a warming, or power, time and mass", f"{_WARM}, or {_HEAT}", WrongUnit)
            rise = 0.0
        else:
            watts = door.number(power, "power", "W", least=0.0, example=_HEAT)
            seconds = door.number(time, "time", "s", least=0.0, example=_HEAT)
            kilograms = door.number(mass, "mass", "kg", least=1e-6, example=_HEAT)
            specific = specific_heat(door, chosen)
            rise = warming_of(watts, seconds, kilograms, specific, share, cooled)
            if rise > HOTTEST:
                expected = f"heat that warms the part by {HOTTEST:g} K at most"
                door.complain("power, time and mass", f"a warming of {rise:.3g} K", expected, _HEAT, Impossible)
    by_heat = warming is None
    grown = growth_of(sizes, float(chosen.thermal_expansion.m_as("1/K")), rise)[()]
    return ThermalGrowth(
        material=chosen,
        diameter=Q_(sizes[()], U.mm),
        warming=Q_(rise, "K"),
        growth=Q_(grown, U.mm),
        cold_error=Q_(-grown, U.mm),
        heat=Q_(share * (1 - cooled) * watts * seconds, "J") if by_heat else None,
        share=share if by_heat else None,
        coolant=cooled if by_heat else None,
        power=Q_(watts, "W") if by_heat else None,
        time=Q_(seconds, U.s) if by_heat else None,
        mass=Q_(kilograms, "kg") if by_heat else None,
        heat_capacity=Q_(specific, "J/(kg*K)") if by_heat else None,
    )
