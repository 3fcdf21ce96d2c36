"""The first natural frequency of a part as it is held."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from latheworks.deflection.bend import check_setup
from latheworks.deflection.holding import Holding
from latheworks.deflection.modes import first_frequency
from latheworks.deflection.shaft import Shaft
from latheworks.door import Door, given
from latheworks.results import Result
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

_SHAFT = 'Shaft.bar(Q_(150, "mm"), Q_(20, "mm"), material="6061-T6")'


@dataclass(frozen=True, slots=True)
class NaturalFrequency(Result):
    """How fast a held part swings sideways when it is struck.

    Fields: shaft; holding; frequency [Hz], swings in a second; spindle, the speed at which one push each turn, as of
    a heavy side or a flat, meets it [rev/min].
    """

    shaft: Shaft
    holding: Holding
    frequency: Any
    spindle: Any

    def title(self) -> str:
        """One line that says what this is."""
        return f"First natural frequency, {self.holding.title().lower()}"

    def facts(self) -> list[tuple[str, str]]:
        """The frequency, and the spindle speed that meets it."""
        return [
            ("frequency", f"{self.frequency.m_as('Hz'):.1f} Hz"),
            ("one push a turn meets it at", show(self.spindle)),
            ("note", "Chatter rings near this frequency at any speed; a stiffer hold or a shorter stickout raises it."),
            ("note", "Without damping, and for a slender part; below 5 diameters or so the real one is lower."),
        ]

    @property
    def working(self) -> Working:
        """The factor (beta L)^2 of a plain bar of the first section, to set beside the tables of books."""
        section, modulus = self.shaft.sections[0], float(self.shaft.elastic_modulus.m_as(U.MPa))
        outside, bore = (float(size.m_as(U.mm)) for size in section[1:])
        long, density = self.shaft.beam.length, float(self.shaft.density.m_as("Mg/mm**3"))
        inertia, area = math.pi / 64 * (outside**4 - bore**4), math.pi / 4 * (outside**2 - bore**2)
        scale = math.sqrt(modulus * inertia / (density * area)) / (2 * math.pi * long**2)
        hertz = float(self.frequency.m_as("Hz"))
        numbers = f"({modulus:g} × {inertia:.9g} / ({density:.9g} × {area:.9g}))^0.5 / (2 × pi × {long:g}²)"
        books = "plain bar, rigid: 3.516 chuck, 15.418 chuck and center, 9.870 between centers (Thomson)"
        return Working(self.title(), (
            Line("f1 of a plain bar over (beta L)²", "sqrt(EI/(rho A))/(2 pi L²)", numbers, f"{scale:.6g} Hz", ""),
            Line("(beta L)²", "f/that", f"{hertz:.9g} / {scale:.9g}", f"{hertz / scale:.6g}", books),
        ))  # fmt: skip


def natural_frequency(shaft: Shaft, holding: Holding) -> NaturalFrequency:
    """Return the first natural frequency of a part held in a lathe, sideways.

    f = sqrt(1/lambda)/(2 pi), with lambda the largest eigenvalue of w(x) = omega^2 int f(x, a) m(a) w(a) da, f the
    flexibility as in `deflection` and m the mass per length. A plain bar with rigid supports has
    f = c/(2 pi L^2) sqrt(EI/(rho A)), c = 3.516 in a chuck, 15.418 with a center, 9.870 between centers.
    Parameters: shaft, a `Shaft` of a material with a density; holding, `Chuck`, `ChuckAndCenter` or
    `BetweenCenters`, with a rest or without. Springs of the holding count, their mass does not.
    Raises WrongUnit, and Impossible for a shaft made with an elastic modulus only, or a rest beyond the part.
    Source: derivation; the plain bar, W. T. Thomson, Theory of Vibration with Applications, table 9.5-1, read.
    No damping, no shear and no turning inertia: below a length of about 5 diameters the real one is lower.

    >>> from latheworks.deflection import Chuck
    >>> bar = Shaft.bar(Q_(150, "mm"), Q_(20, "mm"), material="6061-T6")
    >>> round(natural_frequency(bar, Chuck()).frequency.m_as("Hz"))
    581
    """
    with Door("natural_frequency") as door:
        check_setup(door, shaft, holding)
        if isinstance(shaft, Shaft) and shaft.density is None:
            expected = "a shaft of a named material, which has a density"
            door.complain("shaft", f"only an elastic modulus, {given(shaft.material)}", expected, f"shaft={_SHAFT}")
    density = float(shaft.density.m_as("Mg/mm**3"))
    sizes = [[float(size.m_as(U.mm)) for size in section] for section in shaft.sections]
    masses = [density * math.pi / 4 * (big**2 - small**2) for _, big, small in sizes]
    omega = first_frequency([size[0] for size in sizes], masses, holding.flexibility(shaft.beam))
    hertz = omega / (2 * math.pi)
    return NaturalFrequency(shaft, holding, Q_(hertz, "Hz"), Q_(60.0 * hertz, U.rpm))
