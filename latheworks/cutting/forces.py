"""The three forces of a turning cut, by Kienzle's form and the engaged edge, and by the handbook's unit power."""

from functools import cache
from typing import Any

import numpy as np

from latheworks.cutting import kernel
from latheworks.cutting.chip_result import CuttingForces, newtons
from latheworks.cutting.plain_numbers import angle_in_degrees, entering, pair, plain
from latheworks.cutting.unit_power import unit_power_force, unit_power_of
from latheworks.door import Door
from latheworks.materials import Material, pick
from latheworks.tables import cite, table
from latheworks.units import Q_, Span, U, check_system

# Where a material has one published pair only: makers' tables differ by about so much (common practice, no source).
SCATTER = 0.25


def cutting_forces(material: Any, depth: Any, feed: Any, nose_radius: Any = None, entering_angle: Any = None,
                   wear: Any = 1.0, rake: Any = None, thrust_ratio: Any = kernel.THRUST_RATIO,
                   system: Any = "metric") -> CuttingForces:  # fmt: skip
    """Return the tangential, feed and radial force of a turning cut, with the band of the published values.

    Fc = kc1.1 h^(1 - mc) L, with L the engaged edge's length, nose arc and all, and h = area / L the mean chip
    thickness. The thrust is a stated share of it, spread evenly along the edge and so perpendicular to its chord:
    a cut that the nose takes alone does not know the holder's angle and pushes mostly outward. Beside it stands the
    force by unit power, F = Kp C W f d. Neither knows edge rounding: see the notes of a thin chip.

    Parameters: material, a name of `materials()` or a Material; depth on the radius [mm, above 0 to 50]; feed [mm/rev,
    above 0 to 5]; nose_radius [mm, 0 to 20, 0.4 when not given]; entering_angle between edge and axis, 90 less the
    lead angle [deg, 10 to 135, 90 when not given]; wear, a factor for a dull edge [1 sharp, 1.1 finishing, 1.3 rough
    turning, up to 2]; rake [deg, -15 to 25, 0 when not given], by 1 % a degree from kc at 0; thrust_ratio, in-plane
    thrust over main force [0.1 to 2]; system, "metric" or "inch" for the text.

    Raises LatheworksError for a wrong dimension or a value outside its range, NotInTable for a material with no pair.
    Source: Kienzle's form from memory; pairs and unit powers carry theirs; direction, Colwell 1954, from memory;
    wear factors, Machinery's Handbook, from memory; rake, Sandvik Coromant, page on the specific cutting force.

    >>> found = cutting_forces("steel 1045", Q_(0.2, "mm"), Q_(0.1, "mm/rev"), nose_radius=Q_(0.8, "mm"))
    >>> found.tangential.round(0), found.radial.round(0), found.below_nose
    (<Quantity(64.0, 'newton')>, <Quantity(29.0, 'newton')>, True)
    """
    system = check_system(system)
    with Door("cutting_forces") as door:
        chosen = pick(door, material)
        first = pair(door, chosen)
        d = door.number(depth, "depth", "mm", above=0, most=50, example='depth=Q_(1.0, "mm")')
        f = door.number(feed, "feed", "mm/rev", above=0, most=5, example='feed=Q_(0.1, "mm/rev")')
        r = 0.4 if nose_radius is None else door.number(nose_radius, "nose_radius", "mm", least=0, most=20)
        degrees = entering(door, entering_angle)
        dull = plain(door, wear, "wear", least=1, most=2.5, example="wear=1.1")
        gamma = 0.0 if rake is None else angle_in_degrees(door, rake, "rake", least=-15, most=25)
        ratio = plain(door, thrust_ratio, "thrust_ratio", least=0.1, most=2, example="thrust_ratio=0.5")
    lean = 1.0 - gamma / 100.0
    known = published_pairs(chosen, first)
    values = [kernel.radial_force(kc * dull * lean, mc, d, f, r, degrees, ratio) for kc, mc, _ in known]
    bands = band([float(v[0]) for v in values]), band([float(v[2]) for v in values])
    area, length, along, across = (float(part) for part in kernel.section(d, f, r, degrees))
    unit = unit_power_of(chosen.name)
    shares = [] if unit is None else [unit.usual, unit.lowest, unit.highest]
    by_unit = [float(unit_power_force(kp, d, f, dull)) for kp in shares]
    main, push, out = (Q_(float(value), U.N) for value in values[0])
    return CuttingForces(
        material=chosen.name, depth=Q_(d, U.mm), feed=Q_(f, U.mm_per_rev), nose_radius=Q_(r, U.mm),
        entering_angle=Q_(degrees, U.deg), area=Q_(area, U.mm2), edge_length=Q_(length, U.mm),
        thickness=Q_(area / length, U.mm), effective_angle=Q_(float(np.degrees(np.arctan2(across, along))), U.deg),
        tangential=main, feed_force=push, radial=out, tangential_band=bands[0], radial_band=bands[1],
        unit_power_force=Q_(by_unit[0], U.N) if by_unit else None,
        unit_power_band=newtons(by_unit) if by_unit else None, wear=dull, rake_factor=lean, thrust_ratio=ratio,
        pairs=known, unit_power=unit, system=system,
    )  # fmt: skip


def published_pairs(material: Material, first: tuple[float, float]) -> tuple[tuple[float, float, str], ...]:
    """The pairs of kc1.1 and mc known for a material, each with its source, the one that is used first."""
    known = _pairs(material.name)
    # A material with values of its own, under whatever name, is not to be mixed with the table's.
    return known if known and known[0][:2] == first else ((*first, material.source),)


def band(forces: list[float]) -> Span:
    """Lowest to highest of the forces by all pairs; where there is one pair, the usual scatter to either side."""
    if len(forces) == 1:
        return newtons([forces[0] * (1.0 - SCATTER), forces[0] * (1.0 + SCATTER)])
    return newtons(forces)


@cache
def _pairs(material: str) -> tuple[tuple[float, float, str], ...]:
    rows = (row for row in table("specific_forces") if row["material"] == material)
    return tuple((float(row["kc1.1 [MPa]"]), float(row["mc"]), cite(row["source"])) for row in rows)
