"""What `size_error` returns: the error along the part, pass by pass, with the forces that made it, and its working."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.kernel import THRUST_RATIO, section
from latheworks.deflection.holding import Holding
from latheworks.deflection.shaft import Shaft
from latheworks.deflection.size_door import written_stiffness
from latheworks.door import Door
from latheworks.materials import Material
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working


def along(error: Any, at: Any, system: str) -> list[tuple[str, str]]:
    """The largest and the smallest error and where they are, in words."""
    values, places = np.atleast_1d(error.m_as(U.mm)), np.atleast_1d(at.m_as(U.mm))
    found = []
    for word, i in (("largest error", values.argmax()), ("smallest error", values.argmin())):
        size, place = show(Q_(values[i], U.mm), system), show(Q_(places[i], U.mm), system)
        found.append((word, f"{size} on the diameter, at {place}"))
    return found if len(values) > 1 else found[:1]


@dataclass(frozen=True, slots=True, eq=False)
class SizeError(Result):
    """How much too large a turned diameter comes out along the part, pass by pass.

    Arrays of the shape of `at`: error, on the diameter after the last pass, positive where the outside is left large;
    edge_limit, where spring passes stop. Arrays with a row a pass, the cut first and then the spring passes:
    per_pass, the error after it; depth, really taken; cutting_force, feed_force and radial_force; bend, of part and
    tool away from each other, and side_bend, of the part along the surface speed; residual_ratio, what the pass
    leaves of a small error of the surface it meets, K/(K + k) with K the slope of the radial force against depth.

    Also shaft, holding, material, direction, set_depth, feed, nose_radius, entering_angle, edge_force,
    tool_stiffness, off_center, spring_passes, diameter wanted, flexibility [mm/N] and couple_flexibility [1/N]
    under the tool in the last pass, notes.
    """

    shaft: Shaft
    holding: Holding
    material: Material
    direction: str
    set_depth: Any
    feed: Any
    nose_radius: Any
    entering_angle: Any
    edge_force: Any
    tool_stiffness: Any
    off_center: Any
    spring_passes: int
    at: Any
    error: Any
    per_pass: Any
    depth: Any
    cutting_force: Any
    feed_force: Any
    radial_force: Any
    bend: Any
    side_bend: Any
    residual_ratio: Any
    edge_limit: Any
    diameter: Any
    flexibility: Any
    couple_flexibility: Any
    notes: tuple[str, ...]

    @property
    def system(self) -> str:
        """How lengths are written: as the depth was given, "metric" or "inch"."""
        return "inch" if self.set_depth.units in (U.inch, U.thou) else "metric"

    def title(self) -> str:
        """What was cut and how it was held."""
        return f"Size error, {self.holding.title().lower()}, cutting {self.direction}"

    def facts(self) -> list[tuple[str, str]]:
        """The cut, the largest and smallest error after the last pass, and the error of each pass where it is worst."""
        system, worst = self.system, int(np.atleast_1d(self.error.magnitude).argmax())
        rows = self.per_pass.magnitude.reshape(self.spring_passes + 1, -1)
        said = [
            ("material", self.material.name),
            ("set depth, on the radius", show(self.set_depth, system)),
            ("feed", show(self.feed, system)),
            ("nose radius", show(self.nose_radius, system)),
            ("tool and toolpost", written_stiffness(self.tool_stiffness)),
            *along(self.error, self.at, system),
        ]
        for k, row in enumerate(rows):
            said.append((f"spring pass {k}" if k else "the cut", "leaves " + show(Q_(row[worst], U.mm), system)))
        return [*said, *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """A row a position: where, the error after each pass, depth taken and forces of the cut."""
        count = self.spring_passes + 1

        def flat(values: Any) -> Any:
            return values.magnitude.reshape(count, -1)

        found = {"at [mm]": np.atleast_1d(self.at.magnitude)}
        for k, row in enumerate(flat(self.per_pass)):
            found[f"error after spring pass {k} [mm]" if k else "error after the cut [mm]"] = row
        return found | {
            "depth taken [mm]": flat(self.depth)[0],
            "cutting force [N]": flat(self.cutting_force)[0],
            "feed force [N]": flat(self.feed_force)[0],
            "radial force [N]": flat(self.radial_force)[0],
        }

    def copied(self, error: Any) -> Any:
        """Return what each pass leaves of an error of the blank, such as a taper or a radius out of round.

        e_n = e_0 eps_1 eps_2 ... eps_n, with eps the `residual_ratio` of each pass.

        Parameters: error of the blank's diameter [mm], one value or one for each position. Returns [mm], a row a
        pass. Raises WrongUnit or OutOfRange. For errors small beside the depth.
        Source: error copying, textbooks on the accuracy of machining, from memory.

        >>> from latheworks.deflection import Chuck, Shaft, size_error
        >>> bar = Shaft.bar(Q_(120, "mm"), Q_(20, "mm"), material="6061-T6")
        >>> cut = size_error(bar, Chuck(), Q_(0.5, "mm"), Q_(0.1, "mm/rev"), Q_(120, "mm"), spring_passes=1)
        >>> show(cut.copied(Q_(0.2, "mm")), digits=4)
        '0.0018, 0.0002 mm'
        """
        with Door("SizeError.copied") as door:
            blank = door.array(error, "error", "mm", least=-100.0, most=100.0, example='error=Q_(0.1, "mm")')
            if blank.ndim and blank.shape != np.shape(self.at.magnitude):
                got, hint = f"{blank.size} errors for {np.size(self.at.magnitude)} positions", "one error for all"
                door.complain("error", got, "one value, or one for each position", hint)
        return Q_(blank * np.cumprod(self.residual_ratio, axis=0), U.mm)

    @property
    def working(self) -> Working:
        """The balance of the last pass where the error is largest, to be redone by hand."""
        worst = int(np.atleast_1d(self.error.magnitude).argmax())

        def last(values: Any) -> float:
            return float(np.asarray(values).reshape(self.spring_passes + 1, -1)[-1, worst])

        def spot(values: Any) -> float:
            return float(np.atleast_1d(values)[worst])

        def n(value: float) -> str:
            return f"({value:.6g})" if value < 0 else f"{value:.6g}"

        depth, radius = last(self.depth.magnitude), spot(self.diameter.m_as(U.mm)) / 2
        feed, nose = float(self.feed.m_as(U.mm_per_rev)), float(self.nose_radius.m_as(U.mm))
        area, edge, chord, across = (
            float(v) for v in section(depth, feed, nose, float(self.entering_angle.m_as(U.deg)))
        )
        specific = float(self.material.specific_cutting_force.m_as(U.MPa))
        power, thick = 1.0 - (self.material.chip_thickness_exponent or 0.0), area / edge if edge else 0.0
        main, along_axis, radial = (last(f.magnitude) for f in (self.cutting_force, self.feed_force, self.radial_force))
        away, side, off = last(self.bend.magnitude), last(self.side_bend.magnitude), self.off_center.m_as(U.mm)
        left = radius + last(self.per_pass.magnitude) / 2
        f, turn = spot(self.flexibility.magnitude), spot(self.couple_flexibility.magnitude)
        turn = -turn if self.direction.startswith("toward") else turn
        soft, edge_force = 1.0 / float(self.tool_stiffness.m_as(U.N_per_mm)), float(self.edge_force.m_as(U.N))
        lever = radius + (0.0 if self.spring_passes else float(self.set_depth.m_as(U.mm)) / 2)
        stand = float(np.sqrt((radius + float(self.set_depth.m_as(U.mm))) ** 2 - off**2)) - float(
            self.set_depth.m_as(U.mm)
        )
        how = f"{area:.6g} mm² over an edge of {edge:.6g} mm"
        split = f"{THRUST_RATIO:g} Fc x chord / edge: the push is square to the chord of the edge"
        lines = (
            Line("he", "A / edge", how, f"{thick:.6g} mm", "geometry of the round nose"),
            Line("Fc", "kc1.1 x edge x he^(1 - mc)", f"{specific:g} x {edge:.6g} x {thick:.6g}^{power:g}",
                 f"{main:.6g} N", cite("kienzle")),
            Line("Fp", split, f"{THRUST_RATIO:g} x {n(main)} x {n(chord)} / {n(edge)}", f"{radial:.6g} N",
                 "Colwell's rule; the share is common practice"),
            Line("Ff", "the same, across the axis", f"{THRUST_RATIO:g} x {n(main)} x {n(across)} / {n(edge)}",
                 f"{along_axis:.6g} N", "Colwell's rule; the share is common practice"),
            Line("y_r", "(f + 1/k_tool) (Fp + Fe) " + ("-" if turn < 0 else "+") + " c Ff r_cut",
                 f"({f:.6g} + {soft:.6g}) x ({n(radial)} + {edge_force:g}) + {n(turn)} x {n(along_axis)} x {lever:.6g}",
                 f"{away:.6g} mm", "flexibility and couple flexibility under the tool, see deflection_working"),
            Line("y_t", "f Fc", f"{f:.6g} x {n(main)}", f"{side:.6g} mm", "the same, along the surface speed"),
            Line("r", "sqrt((x + y_r)² + (e - y_t)²)", f"sqrt(({stand:.9g} + {n(away)})² + ({n(off)} - {n(side)})²)",
                 f"{left:.9g} mm", "geometry"),
            Line("depth taken", "radius met - r", "the depth that was put in", f"{depth:.6g} mm", "balance"),
            Line("error", "2 (r - radius wanted)", f"2 x ({left:.9g} - {radius:.9g})",
                 f"{2 * (left - radius):.4g} mm", "definition"),
        )  # fmt: skip
        place = spot(self.at.magnitude)
        return Working(f"{self.title()}: pass {self.spring_passes + 1} at {place:g} mm", lines)
