"""What `boring_bar_error` returns."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import U, show
from latheworks.working import Line, Working

SLENDER = 3.0


@dataclass(frozen=True, slots=True)
class BoringBarError(Result):
    """How a boring bar gives and what it does to the bore.

    Fields: overhang, diameter and hole of the bar [mm]; bar, its material; elastic_modulus [MPa]; bar_stiffness,
    holder and stiffness, of the bar, of what holds it and of both in series [N/mm]; depth [mm] and cutting_stiffness
    [N/mm], None where a force was given; edge_force and force, that of the first pass [N]; deflection, on the radius,
    after the last pass [mm]; diameter_error, below nought since the bore is left small [mm]; per_pass, the same after
    each pass [mm].
    """

    overhang: Any
    diameter: Any
    hole: Any
    bar: str
    elastic_modulus: Any
    bar_stiffness: Any
    holder: Any
    stiffness: Any
    depth: Any
    cutting_stiffness: Any
    edge_force: Any
    force: Any
    deflection: Any
    diameter_error: Any
    per_pass: Any

    @property
    def overhang_ratio(self) -> float:
        """Overhang over diameter."""
        return float((self.overhang / self.diameter).m_as(U.one))

    def title(self) -> str:
        """One line that says what this is."""
        return f"Boring bar, {self.bar}, {show(self.diameter)} across, {show(self.overhang)} out"

    def facts(self) -> list[tuple[str, str]]:
        """Stiffness, force, and the size that comes out."""
        said = [
            ("overhang", f"{self.overhang_ratio:.1f} diameters"),
            ("stiffness of the bar", show(self.bar_stiffness)),
        ]
        if math.isfinite(self.holder.magnitude):
            said.append(("with what holds it", show(self.stiffness)))
        said += [
            ("force", show(self.force)),
            ("bends", show(self.deflection, digits=4)),
            ("bore", f"{show(-self.diameter_error, digits=4)} too small, the same all along"),
        ]
        if len(self.per_pass) > 1:
            said.append(("too small after each pass", show(-self.per_pass, digits=4)))
        return [*said, *(("note", note) for note in self.notes)]

    @property
    def notes(self) -> tuple[str, ...]:
        """What to mind about this result."""
        said = ["The bar is clamped at one overhang, so it makes no taper; look for a taper elsewhere."]
        if self.overhang_ratio < SLENDER:
            said.append("Shorter than 3 diameters: shear, left out here, is no longer small beside bending.")
        if self.depth is not None and self.deflection >= self.depth:
            said.append("The edge force bends the bar by the whole depth: it rubs and cuts nothing.")
        return tuple(said)

    def columns(self) -> dict[str, Any]:
        """The size after each pass."""
        errors = self.per_pass.m_as(U.mm)
        return {"pass": list(range(1, len(errors) + 1)), "diameter error [mm]": errors.tolist()}

    @property
    def working(self) -> Working:
        """The lines from which the error can be redone by hand."""
        d, b, long = (float(size.m_as(U.mm)) for size in (self.diameter, self.hole, self.overhang))
        modulus, own = float(self.elastic_modulus.m_as(U.MPa)), float(self.bar_stiffness.m_as(U.N_per_mm))
        k, source = float(self.stiffness.m_as(U.N_per_mm)), cite("isakov_boring")
        inertia = own * long**3 / (3 * modulus)
        lines = [
            Line("I", "pi/64 (D⁴ − d⁴)", f"pi / 64 × ({d:g}⁴ − {b:g}⁴)", f"{inertia:.6g} mm⁴", source),
            Line("k_bar", "3 E I/L³", f"3 × {modulus:g} × {inertia:.9g} / {long:g}³", f"{own:.6g} N/mm", source),
        ]
        if math.isfinite(self.holder.magnitude):
            behind = float(self.holder.m_as(U.N_per_mm))
            numbers = f"1 / (1 / {own:.9g} + 1 / {behind:.9g})"
            lines.append(Line("k", "1/(1/k_bar + 1/k_holder)", numbers, f"{k:.6g} N/mm", "springs in series"))
        if self.depth is None:
            push = float(self.force.m_as(U.N))
            numbers, y = f"{push:.9g} / {k:.9g}", push / k
            lines.append(Line("y", "F/k", numbers, f"{y:.6g} mm", source))
        else:
            cutting, edge = float(self.cutting_stiffness.m_as(U.N_per_mm)), float(self.edge_force.m_as(U.N))
            before = float(self.depth.m_as(U.mm))
            for i, after in enumerate(-self.per_pass.m_as(U.mm) / 2, 1):
                numbers = f"min({before:.9g}, ({cutting:.9g} × {before:.9g} + {edge:g}) / ({cutting:.9g} + {k:.9g}))"
                formula = "(Kr r + Fe)/(Kr + k), and no more than r"
                lines.append(Line(f"y{i}", formula, numbers, f"{after:.6g} mm", "equilibrium (derivation)"))
                before = float(after)
            y = before
        lines.append(Line("error", "−2 y", f"−2 × {y:.9g}", f"{-2 * y:.6g} mm", "the bar moves away from the wall"))
        return Working(self.title(), tuple(lines))
