"""The forces of a turning cut as a result: with their band, the second route, and the working."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.unit_power import TO_MPA, UnitPower, feed_factor
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Q_, Span, U, check_system, show
from latheworks.working import Line, Working

THIN = 0.05


@dataclass(frozen=True, slots=True)
class CuttingForces(Result):
    """The forces of one turning cut, and the chip they come from.

    Fields: material, its name; depth, on the radius [mm]; feed [mm/rev]; nose_radius [mm]; entering_angle of the
    holder [deg]; area of the chip's section [mm^2]; edge_length in the cut [mm]; thickness, the area over the edge
    [mm]; effective_angle between the engaged edge's chord and the axis [deg]; tangential, feed_force and radial [N];
    tangential_band and radial_band, from the lowest to the highest published pair of kc1.1 and mc [N];
    unit_power_force, the tangential force by the handbook's unit power [N], with its own unit_power_band [N], both
    None where no unit power is known; wear, rake_factor and thrust_ratio as used; pairs of (kc1.1, mc, source), the
    one that is used first; unit_power, the handbook's, or None; system.
    """

    material: str
    depth: Any
    feed: Any
    nose_radius: Any
    entering_angle: Any
    area: Any
    edge_length: Any
    thickness: Any
    effective_angle: Any
    tangential: Any
    feed_force: Any
    radial: Any
    tangential_band: Span
    radial_band: Span
    unit_power_force: Any
    unit_power_band: Span | None
    wear: float
    rake_factor: float
    thrust_ratio: float
    pairs: tuple[tuple[float, float, str], ...]
    unit_power: UnitPower | None
    system: str

    @property
    def below_nose(self) -> bool:
        """Whether the nose arc takes the whole depth, so that the holder's angle has no effect."""
        top = self.nose_radius.m_as(U.mm) * (1.0 - np.cos(self.entering_angle.m_as(U.rad)))
        return bool(self.depth.m_as(U.mm) <= top)

    @property
    def radial_share(self) -> Any:
        """The radial force over the tangential one."""
        return self.radial / self.tangential

    def title(self) -> str:
        """What cut this is."""
        depth, feed = show(self.depth, self.system), show(self.feed, self.system)
        return f"{self.material}, {depth} deep at {feed}"

    def facts(self) -> list[tuple[str, str]]:
        """The chip, the three forces with their band, the second route, and what limits their worth."""
        check_system(self.system)
        unit = "no unit power known for this material"
        if self.unit_power_force is not None and self.unit_power_band is not None:
            times = (self.unit_power_force / self.tangential).m_as(U.one)
            unit = f"{self._n(self.unit_power_force)}, {self._span(self.unit_power_band)}; {times:.2f} times the first"
        facts = [
            ("area of the chip", show(self.area, self.system)),
            ("edge in the cut", show(self.edge_length, self.system)),
            ("chip thickness", show(self.thickness, self.system)),
            ("angle of the engaged edge", f"{show(self.effective_angle)} (holder {show(self.entering_angle)})"),
            ("tangential force", f"{self._n(self.tangential)}, {self._span(self.tangential_band)}"),
            ("feed force", self._n(self.feed_force)),
            ("radial force", f"{self._n(self.radial)}, {self._span(self.radial_band)}"),
            ("tangential by unit power", unit),
        ]
        return [*facts, *(("note", note) for note in self.notes)]

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know before the numbers are used."""
        notes = []
        if self.below_nose:
            notes.append("the nose takes the whole depth: the holder's angle has no effect, the radial share is large")
        if self.thickness.m_as(U.mm) < THIN:
            notes.append(
                "the chip is thinner than 0.05 mm: the edge's own rounding pushes as well, so the thrust can reach or "
                "pass the main force (common practice, no source); the published pairs do not reach here"
            )
        if self.radial.magnitude < 0:
            notes.append("the straight edge leans past square and pulls the part toward the tool")
        if len(self.pairs) == 1:
            notes.append("one published pair only: the band is 25 % to either side (common practice, no source)")
        return tuple(notes)

    @property
    def working(self) -> Working:
        """The lines from which the forces can be redone by hand."""
        kc, mc, source = self.pairs[0]
        source += f"; rake: {cite('sandvik_kc')}" if self.rake_factor != 1 else ""
        area, edge, chip = self.area.m_as(U.mm2), self.edge_length.m_as(U.mm), self.thickness.m_as(U.mm)
        main, factor = self.tangential.m_as(U.N), self.wear * self.rake_factor
        angle = self.effective_angle.m_as(U.deg)
        share = np.hypot(self.feed_force.m_as(U.N), self.radial.m_as(U.N))
        lines = (
            Line("A", "chip's section, from the edge and its place one turn before", "see the geometry",
                 f"{area:.4f} mm²", "geometry"),
            Line("h", "A / length of the engaged edge", f"{area:.4f} / {edge:.4f}", f"{chip:.4f} mm", "geometry"),
            Line("Fc", "kc1.1 h^(1 - mc) length x wear x rake",
                 f"{kc:g} x {chip:.4f}^{1 - mc:.2f} x {edge:.4f} x {factor:.3f}", f"{main:.1f} N", source),
            Line("F thrust", "ratio x Fc x chord / length", f"{self.thrust_ratio:g} x {main:.1f} x chord / length",
                 f"{share:.1f} N", f"{cite('practice_thrust')}; direction: {cite('colwell')}"),
            Line("Ff", "F thrust x sin(angle of the chord)", f"{share:.1f} x sin {angle:.2f}°",
                 f"{self.feed_force.m_as(U.N):.1f} N", "geometry"),
            Line("Fp", "F thrust x cos(angle of the chord)", f"{share:.1f} x cos {angle:.2f}°",
                 f"{self.radial.m_as(U.N):.1f} N", "geometry"),
        )  # fmt: skip
        return Working(self.title(), lines + self._second_route())

    def _second_route(self) -> tuple[Line, ...]:
        """The line of the force by unit power, where there is one."""
        if self.unit_power is None:
            return ()
        feed, depth = self.feed.m_as(U.mm_per_rev), self.depth.m_as(U.mm)
        kp, factor = self.unit_power.usual, float(feed_factor(feed))
        put_in = f"{TO_MPA:.1f} x {kp:g} x {factor:.3f} x {self.wear:g} x {feed:g} x {depth:g}"
        line = Line("Fc, second route", "Kp C W f depth, with 1 hp/(in³/min) = 2730.3 N/mm²", put_in,
                    f"{self.unit_power_force.m_as(U.N):.1f} N", self.unit_power.source)  # fmt: skip
        return (line,)

    def _n(self, force: Any) -> str:
        return show(force, self.system)

    def _span(self, band: Span) -> str:
        low = show(band.min, self.system).split()[0]
        return f"published values from {low} to {show(band.max, self.system)}"


def newtons(values: Any) -> Span:
    """The lowest and the highest of some forces as a Span [N]."""
    return Span(Q_(float(np.min(values)), U.N), Q_(float(np.max(values)), U.N))
