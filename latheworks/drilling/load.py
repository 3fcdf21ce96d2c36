"""Thrust, torque and power of a drill, by the handbook's form, Kienzle's, and Shaw and Oxford's."""

from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import pair, plain
from latheworks.door import Door
from latheworks.drilling import kernel
from latheworks.drilling.asked import angle, drilled, size
from latheworks.drilling.load_result import SOURCES, DrillingLoad, newton_span
from latheworks.errors import Impossible
from latheworks.materials import pick
from latheworks.units import Q_, Span, U, check_system

POINTS = {"standard": kernel.STANDARD_CHISEL, "split": kernel.SPLIT_CHISEL}


def drilling_load(diameter: Any, feed: Any, material: Any, *, pilot: Any = None, point: Any = "standard",
                  point_angle: Any = None, wear: Any = 1.0, hardness: Any = None, spindle: Any = None,
                  system: Any = "metric") -> DrillingLoad:  # fmt: skip
    """Return thrust, torque and power of a drill by three published forms, and the band that they make.

    Handbook: T = 0.05 Kd Ff FT B W + 0.007 Kd D^2 J W [N], M = 0.000025 Kd Ff FM A W [N m], Ff = f^0.8, FT = D^0.8,
    FM = D^1.8, with A, B and J of the chisel edge. Kienzle: M = kc f D^2/8, kc = kc1.1 h^-mc, h = f/2 sin(angle/2).
    Shaw and Oxford: T = 57500 f^0.8 d^0.8 + 625 d^2, M = 25200 f^0.8 d^1.8 (in, lb) for steel of 200 HB, scaled by
    hardness. The spindle's speed hardly matters to either. A pilot takes off the chisel edge's terms and the lips'
    inner part: much of the thrust, little of the torque.

    Parameters: diameter [mm, 0.3 to 100]; feed [mm/rev, above 0 to 2]; material, a name of `materials()` or a
    Material; pilot, the hole already there [mm, from the chisel edge to less than the diameter; none when not given];
    point, "standard" (chisel edge 0.18 D) or "split" (0.03 D); point_angle [deg, 60 to 180; 118 when not given]; wear
    W [1 sharp, 1.3 as drills are usually used, up to 2.5]; hardness [plain number, HB, 20 to 700; the table's when not
    given]; spindle [rev/min, above 0 to 100000], for the power; system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension or a value outside its range, NotInTable for a material without
    published forces, Impossible for a pilot that does not clear the chisel edge.
    Source: Machinery's Handbook, 31st edition, pages 1152 and 1153, read; Kd, Kienzle's form, and Shaw and Oxford's
    numbers of 1957 from memory. They scatter: take the band, not a number.

    >>> load = drilling_load(Q_(10, "mm"), Q_(0.2, "mm/rev"), "steel 1018")
    >>> load.thrust.round(0), round(load.torque.m_as("N*m"), 1), load.thrust_band.min.round(0)
    (<Quantity(3335.0, 'newton')>, 11.3, <Quantity(969.0, 'newton')>)
    """
    system = check_system(system)
    with Door("drilling_load") as door:
        d, tip = size(door, diameter), angle(door, point_angle)
        f = door.number(feed, "feed", "mm/rev", above=0, most=2, example='feed=Q_(0.2, "mm/rev")')
        chosen = pick(door, material)
        kc11, mc = pair(door, chosen)
        row = drilled(door, chosen)
        chisel = POINTS[door.choice(point, "point", tuple(POINTS))]
        dull = plain(door, wear, "wear", least=1, most=2.5, example="wear=1.3")
        hard = float(row["hardness [HB]"] or 200)
        if hardness is not None:
            hard = plain(door, hardness, "hardness", least=20, most=700, example="hardness=200")
        q = 0.0
        if pilot is not None:
            hole = door.number(pilot, "pilot", "mm", above=0, most=100, example=f'pilot=Q_({0.25 * d:.3g}, "mm")')
            q = hole / d
            if not chisel <= q < 1 and not door.complaints:
                expected = f"from the chisel edge of {chisel * d:.3g} mm to less than the drill's {d:g} mm"
                hint = f'pilot=Q_({0.25 * d:.3g}, "mm")'
                door.complain("pilot", f"{hole:g} mm", expected, hint, Impossible)
        turns = None
        if spindle is not None:
            turns = door.number(spindle, "spindle", "rev/min", above=0, most=1e5, example='spindle=Q_(600, "rev/min")')
    kd = [float(row[f"{what} Kd"]) for what in ("torque", "thrust")]
    thrusts, torques, factors = forms(kd, (kc11, mc), hard, d, f, tip, chisel, q, dull)
    band = Span(Q_(float(torques.min()), "N*m"), Q_(float(torques.max()), "N*m"))
    power = removal = span = None
    if turns is not None:
        power = Q_(kernel.power(1000.0 * float(torques[0]), turns), "kW")
        span = Span(*(Q_(kernel.power(1000.0 * float(end), turns), "kW") for end in (torques.min(), torques.max())))
        removal = Q_(np.pi / 4.0 * d * d * (1.0 - q * q) * f * turns / 1000.0, "cm**3/min")
    return DrillingLoad(
        chosen.name, Q_(d, U.mm), Q_(f, U.mm_per_rev), Q_(q * d, U.mm) if q else None, point == "split",
        Q_(tip, U.deg), dull, hard, None if turns is None else Q_(turns, U.rpm), tuple(SOURCES), Q_(thrusts, U.N),
        Q_(torques, "N*m"), Q_(float(thrusts[0]), U.N), Q_(float(torques[0]), "N*m"), newton_span(thrusts), band,
        power, span, removal, system, _constants(kd, (kc11, mc), f, tip, chisel, q, dull, factors),
    )  # fmt: skip


def forms(kd: Any, kienzle: tuple[float, float], hardness: float, d: float, f: float, tip: float, chisel: float,
          q: float, wear: float) -> tuple[np.ndarray, np.ndarray, tuple[Any, Any, Any]]:  # fmt: skip
    """Thrust [N] and torque [N m] by each form, and the handbook's factors, on plain floats."""
    factors = kernel.with_pilot(q, chisel) if q else kernel.chisel_factors(chisel)
    pairs = (
        kernel.handbook(kd[0], kd[1], d, f, factors, wear),
        kernel.kienzle(*kienzle, d, f, tip, q, wear),
        kernel.shaw_oxford(hardness, d, f, chisel, q, wear),
    )
    return np.array([float(t) for t, _ in pairs]), np.array([float(m) for _, m in pairs]) / 1000.0, factors


def _constants(kd: Any, kienzle: tuple[float, float], f: float, tip: float, chisel: float, q: float, wear: float,
               factors: Any) -> dict[str, float]:  # fmt: skip
    """The numbers that the working shows."""
    lean = float(np.sin(np.radians(tip) / 2.0))
    usual = kernel.chisel_terms(kernel.STANDARD_CHISEL)
    own = (*kernel.lips_left(q), 0.0) if q else kernel.chisel_terms(chisel)
    shaw = {name: float(mine / theirs) for name, mine, theirs in zip(("sa", "sb", "sj"), own, usual, strict=True)}
    h = f / 2.0 * lean
    return {"torque_kd": kd[0], "thrust_kd": kd[1], **dict(zip("abj", map(float, factors), strict=True)), "q": q,
            "kc11": kienzle[0], "mc": kienzle[1], "h": h, "kc": kienzle[0] * h ** -kienzle[1] * wear, "lean": lean,
            **shaw}  # fmt: skip
