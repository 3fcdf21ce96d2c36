"""What a bar that warms between its supports pushes with, and whether it buckles."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from latheworks.deflection.bend import check_setup
from latheworks.deflection.heat import HOTTEST
from latheworks.deflection.holding import BetweenCenters, ChuckAndCenter, Holding
from latheworks.deflection.modes import buckling_load
from latheworks.deflection.shaft import Shaft
from latheworks.door import Door, given
from latheworks.materials import pick
from latheworks.results import Result
from latheworks.shop import cautions
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

# From a tenth of the buckling load on, a side force bends the part by a tenth more and rising.
CLOSE = 0.1
_HOLDINGS = "ChuckAndCenter or BetweenCenters, which stop a part from growing"


def thrust_of(growth: float, eased: float, compliances: list[float]) -> float:
    """(growth - eased)/(sum of compliances) [N], of mm and mm/N; nothing while there is play."""
    return max(growth - eased, 0.0) / sum(compliances)


@dataclass(frozen=True, slots=True)
class CenterThrust(Result):
    """A warm bar between supports that do not let it grow.

    Fields: shaft; holding; warming [K]; growth, what it would grow when free [mm]; eased, the play given to it [mm];
    axial_stiffness behind the center [N/mm]; thrust along the axis [N]; buckling_load (Euler) of the part as it is
    held [N]; share of that load; stress in the thinnest section [MPa].
    """

    shaft: Shaft
    holding: Holding
    warming: Any
    growth: Any
    eased: Any
    axial_stiffness: Any
    thrust: Any
    buckling_load: Any
    stress: Any

    @property
    def share(self) -> float:
        """Thrust over buckling load."""
        return float((self.thrust / self.buckling_load).m_as(U.one))

    @property
    def finding(self) -> str:
        """ "stop" when the part buckles, "caution" from a tenth of that load on, else "note"."""
        return "stop" if self.share >= 1 else "caution" if self.share >= CLOSE else "note"

    @property
    def says(self) -> str:
        """The finding as a sentence, with what to do."""
        push, load = show(self.thrust), show(self.buckling_load)
        ease = f"Ease the center: {show(self.growth, digits=3)} of growth want room."
        if self.finding == "stop":
            return f"Stop: the bar would push with {push} and buckles at {load}. {ease}"
        if self.finding == "caution":
            more = 100 * (1 / (1 - self.share) - 1)
            return f"Caution: {push} along the axis, of the {load} it buckles at; it bends {more:.0f} % more. {ease}"
        return f"The bar pushes with {push}; it would buckle at {load}." + (f" {ease}" if self.thrust.magnitude else "")

    def title(self) -> str:
        """One line that says what this is."""
        return f"{self.holding.title()}, {self.warming.m_as('K'):.1f} K warmer than when it was set"

    def facts(self) -> list[tuple[str, str]]:
        """The sentence, the growth, the thrust and the load that buckles."""
        return [
            ("finding", self.says),
            ("free growth", show(self.growth, digits=4)),
            ("thrust", show(self.thrust)),
            ("buckles at", show(self.buckling_load)),
            ("share of that", f"{100 * self.share:.1f} %"),
            ("stress, thinnest section", show(self.stress)),
            ("note", str(cautions("holding")[-1])),
        ]

    @property
    def working(self) -> Working:
        """The lines from which the thrust can be redone by hand; the buckling load is an eigenvalue."""
        modulus, grown = float(self.shaft.elastic_modulus.m_as(U.MPa)), float(self.growth.m_as(U.mm))
        long, warm = self.shaft.beam.length, float(self.warming.m_as("K"))
        alpha = grown / (long * warm) if warm else 0.0
        lines = [Line("dL", "alpha dT L", f"{alpha:.9g} × {warm:g} × {long:g}", f"{grown:.6g} mm", "free growth")]
        texts, total = [], 0.0
        for size, outside, bore in _sizes(self.shaft):
            texts.append(f"{size:g} / ({modulus:g} × pi / 4 × ({outside:g}² − {bore:g}²))")
            total += size / (modulus * math.pi / 4 * (outside**2 - bore**2))
        stiffness = float(self.axial_stiffness.m_as(U.N_per_mm))
        if math.isfinite(stiffness):
            texts.append(f"1 / {stiffness:g}")
            total += 1 / stiffness
        lines.append(Line("c", "sum of L/(E A) + 1/k", " + ".join(texts), f"{total:.6g} mm/N", "in series"))
        room, push = float(self.eased.m_as(U.mm)), float(self.thrust.m_as(U.N))
        lines.append(Line("thrust", "(dL − eased)/c, not below 0", f"max({grown:.9g} − {room:g}, 0) / {total:.9g}",
                          f"{push:.6g} N", "any text on strength of materials"))  # fmt: skip
        return Working(self.title(), tuple(lines))


def center_thrust(shaft: Shaft, holding: Holding, warming: Any, *, axial_stiffness: Any = None,
                  eased: Any = None) -> CenterThrust:  # fmt: skip
    """Return the thrust of a bar that warms between supports which keep it from growing, and its buckling load.

    P = (alpha dT L - eased)/(1/k + sum L_i/(E A_i)): between rigid supports E A alpha dT, kilonewtons for a few
    kelvins. Buckling (Euler) at pi^2 EI/L^2 between centers and 20.19 EI/L^2 with a chuck at one end, when rigid;
    for steps, bores, springs and a rest, as the first eigenvalue of the part as it is held.
    Parameters: shaft, a `Shaft` of a material of the table; holding, `ChuckAndCenter` or `BetweenCenters`; warming
    since the center was set [K, 0 to 1000]; axial_stiffness behind the center, along the axis [N/mm, 1 or more, may
    be infinite; rigid when left out]; eased, the play given [mm, 0 to 10; none when left out].
    Raises WrongUnit, OutOfRange, and Impossible for a shaft without a named material or a part free at one end.
    A part that buckles is no error: the result says "stop". Source: any text on strength of materials; Gere and
    Goodno, Mechanics of Materials, 7th edition, columns, read. A spring-loaded or live center gives: state its k.

    >>> from latheworks.deflection import BetweenCenters
    >>> bar = Shaft.bar(Q_(250, "mm"), Q_(20, "mm"), material="6061-T6")
    >>> hot = center_thrust(bar, BetweenCenters(), Q_(15, "K"), axial_stiffness=Q_(20000, "N/mm"))
    >>> show(hot.thrust), show(hot.buckling_load)
    ('1438 N', '85577 N')
    """
    with Door("center_thrust") as door:
        check_setup(door, shaft, holding)
        if isinstance(holding, Holding) and not isinstance(holding, (ChuckAndCenter, BetweenCenters)):
            door.complain("holding", holding.title().lower(), _HOLDINGS, "holding=BetweenCenters()")
        alpha = 0.0
        if isinstance(shaft, Shaft):
            if isinstance(shaft.material, Q_):
                expected = "a shaft of a named material, which has a thermal expansion"
                copy = 'Shaft.bar(Q_(250, "mm"), Q_(20, "mm"), material="6061-T6")'
                door.complain("shaft", f"only an elastic modulus, {given(shaft.material)}", expected, f"shaft={copy}")
            else:
                alpha = float(pick(door, shaft.material).thermal_expansion.m_as("1/K"))
        rise = door.number(warming, "warming", "K", least=0.0, most=HOTTEST, example='warming=Q_(15, "K")')
        stiffness, play = float("inf"), 0.0
        if axial_stiffness is not None:
            copy = 'axial_stiffness=Q_(20000, "N/mm")'
            stiffness = door.number(axial_stiffness, "axial_stiffness", "N/mm", least=1.0, finite=False, example=copy)
        if eased is not None:
            play = door.number(eased, "eased", "mm", least=0.0, most=10.0, example='eased=Q_(0.05, "mm")')
    modulus, sizes = float(shaft.elastic_modulus.m_as(U.MPa)), _sizes(shaft)
    areas = [math.pi / 4 * (outside**2 - bore**2) for _, outside, bore in sizes]
    gives = [size[0] / (modulus * area) for size, area in zip(sizes, areas, strict=True)]
    grown = alpha * rise * shaft.beam.length
    push = thrust_of(grown, play, [*gives, 1 / stiffness])
    return CenterThrust(
        shaft=shaft,
        holding=holding,
        warming=Q_(rise, "K"),
        growth=Q_(grown, U.mm),
        eased=Q_(play, U.mm),
        axial_stiffness=Q_(stiffness, U.N_per_mm),
        thrust=Q_(push, U.N),
        buckling_load=Q_(buckling_load([size[0] for size in sizes], holding.flexibility(shaft.beam)), U.N),
        stress=Q_(push / min(areas), U.MPa),
    )


def _sizes(shaft: Shaft) -> list[tuple[float, float, float]]:
    """The sections as floats [mm]."""
    return [(float(a.m_as(U.mm)), float(b.m_as(U.mm)), float(c.m_as(U.mm))) for a, b, c in shaft.sections]
