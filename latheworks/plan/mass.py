"""What parts weigh and where they balance, one alone or several put together on one axis."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import Impossible, OutOfRange, WrongUnit
from latheworks.plan.feature import LARGEST, Feature
from latheworks.plan.part import GROUND, NEAR, Part
from latheworks.plan.shape import Floats, Shape
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show, ureg
from latheworks.working import Line, Working

MOST_PIECES = 20
_KG_PER_MM3 = ureg.parse_units("kg/mm**3")
_PIECES = 'pieces=[(corer_barrel(), Q_(0, "mm"), False)]'


@dataclass(frozen=True, slots=True)
class Balance(Result):
    """What an assembly weighs and where it balances, from the place where z is 0.

    Fields: names of the parts; masses [kg]; centers, the center of gravity of each [mm]; mass of all [kg]; center, the
    balance point of all [mm]; system of the text.
    """

    names: tuple[str, ...]
    masses: Any
    centers: Any
    mass: Any
    center: Any
    system: str

    def title(self) -> str:
        """What is weighed."""
        return "balance of " + " and ".join(self.names)

    def facts(self) -> list[tuple[str, str]]:
        """Mass and balance point, of each and of all."""
        rows = [
            (name, f"{show(mass, self.system)}, balances at {show(center, self.system)}")
            for name, mass, center in zip(self.names, self.masses, self.centers, strict=True)
        ]
        return [*rows, ("all", f"{show(self.mass, self.system)}, balances at {show(self.center, self.system)}")]

    @property
    def working(self) -> Working:
        """The moment sum."""
        grams, at = self.masses.m_as("g"), self.centers.m_as(U.mm)
        sums = " + ".join(f"{g:.1f} x {z:.2f}" for g, z in zip(grams, at, strict=True))
        center = f"{self.center.m_as(U.mm):.2f} mm"
        line = Line("z", "sum of m z over sum of m", f"({sums}) / {grams.sum():.1f}", center,
                    "statics: moments about z = 0")  # fmt: skip
        return Working(self.title(), (line,))


def balance(pieces: Any, system: Any = "metric") -> Balance:
    """Return what parts on one axis weigh and where they balance: z = sum(m z) / sum(m).

    Every part is its solid of revolution, exact for cylinders and cones; a thread counts at its pitch diameter, where
    the metal of its ridges fills its grooves.
    Parameters: pieces, a Part, or a list of 1 to 20 of (Part, place of its end A [mm, -10 m to 10 m], turned: True when
    its end B points to smaller z); system, "metric" or "inch" for the text.
    Raises LatheworksError naming every argument that does not fit. Source: statics; geometry of cones.

    >>> from latheworks.plan.examples import corer_barrel
    >>> print(balance(corer_barrel()).facts()[-1][1])
    0.304 kg, balances at 120.453 mm
    """
    system = check_system(system)
    with Door("balance") as door:
        items = _pieces(door, pieces)
    weights = [plain_mass(part) for part, _, _ in items]
    masses = np.array([mass for mass, _ in weights])
    centers = np.array([place + (-own if turned else own)
                        for (_, own), (_, place, turned) in zip(weights, items, strict=True)])  # fmt: skip
    names, total = tuple(part.name for part, _, _ in items), float(masses.sum())
    center = float((masses * centers).sum()) / total
    return Balance(names, Q_(masses, ureg.kg), Q_(centers, U.mm), Q_(total, ureg.kg), Q_(center, U.mm), system)


def length_for_balance(pieces: Any, part: Any, feature: Any, wanted: Any, least: Any = None, most: Any = None) -> Any:
    """Return how long a cylinder of one part must be for the whole to balance at a wanted place [mm].

    What lies beyond the cylinder moves along with its end. Found by halving, since each added length pulls the balance
    point the same way.
    Parameters: pieces, as in `balance`; part, the name of the one that changes; feature, the name of its outside
    cylinder; wanted, the balance point [mm]; least [mm, above 0; 1] and most [mm, to 10 m; 1000] of its length.
    Raises LatheworksError naming what does not fit, Impossible where no length between them balances there, with the
    places that they would reach. Source: statics.

    >>> from latheworks.plan.examples import corer_barrel, cutting_shoe
    >>> both = [(corer_barrel(), Q_(0, "mm"), False), (cutting_shoe(), Q_(230, "mm"), False)]
    >>> round(length_for_balance(both, "cutting shoe", "collar", Q_(200, "mm")).m_as("mm"), 1)
    52.7
    """
    with Door("length_for_balance") as door:
        items = _pieces(door, pieces)
        names = [each.name for each, _, _ in items]
        chosen = names.index(door.choice(part, "part", names or ["barrel"])) if names else 0
        target = door.number(wanted, "wanted", "mm", least=-LARGEST, most=LARGEST, example='wanted=Q_(200, "mm")')
        ends = [door.number(Q_(usual, U.mm) if value is None else value, name, "mm", above=0, most=LARGEST)
                for value, name, usual in ((least, "least", 1.0), (most, "most", 1000.0))]  # fmt: skip
        if not door.complaints:
            grows = [f.name for f in items[chosen][0].features if f.kind == "cylinder" and f.side == "outside"]
            door.choice(feature, "feature", grows)
        if ends[0] >= ends[1]:
            door.complain("least and most", f"{ends[0]:g} and {ends[1]:g} mm", "the least below the most",
                          'most=Q_(1000, "mm")')  # fmt: skip

    def off(length: float) -> float:
        new = [(lengthened(each, feature, length) if i == chosen else each, Q_(place, U.mm), turned)
               for i, (each, place, turned) in enumerate(items)]  # fmt: skip
        return float(balance(new).center.m_as(U.mm)) - target

    low, high = ends
    at_low, at_high = off(low), off(high)
    if at_low * at_high > 0:
        raise Impossible(
            f"length_for_balance: a {feature} of {low:g} to {high:g} mm balances at {at_low + target:.1f} to "
            f"{at_high + target:.1f} mm, and {target:g} mm was wanted. Try a place between them, a denser material, or "
            "a thicker part."
        )
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if off(middle) * at_low > 0 else (low, middle)
    return Q_((low + high) / 2, U.mm)


def lengthened(part: Part, feature: str, length: float) -> Part:
    """The part with one outside cylinder of another length [mm]; all beyond its end moves with it, the stock too."""
    grown = part.feature(feature).plain
    by = length - (grown.end - grown.start)

    def moved(each: Feature) -> Feature:
        f = each.plain
        shift = by if f.start >= grown.end - NEAR else 0.0
        # What spans the end of the cylinder, such as the bore below it, grows with it.
        stretch = by if f.kind in GROUND and f.start < grown.end - NEAR <= f.end else shift
        return replace(each, start=Q_(f.start + shift, U.mm), end=Q_(f.end + stretch, U.mm), length_limits=None)

    return replace(part, features=tuple(map(moved, part.features)), stock_length=part.stock_length + Q_(by, U.mm))


def plain_mass(part: Part) -> tuple[float, float]:
    """The mass [kg] and center of gravity from end A [mm] of a part."""
    shape = part.shape
    for each in part.features:
        if each.thread is not None:
            pitch = float(each.thread.pitch_diameter.m_as(U.mm)) / 2
            shape = shape.cut(each.plain.start, each.plain.end, pitch, pitch, each.plain.inside)
    volume = shape.volume()
    mass = volume * float(part.stuff.density.m_as(_KG_PER_MM3))
    return mass, first_moment(shape) / volume


def first_moment(shape: Shape) -> float:
    """The integral of pi (R^2 - r^2) z dz [mm^4]: a cubic in each piece, so Simpson's rule is exact."""
    long, middle = np.diff(shape.z), (shape.z[1:] + shape.z[:-1]) / 2

    def at(z: Floats, outer: Floats, inner: Floats) -> Floats:
        return np.asarray(np.pi * (outer**2 - inner**2) * z)

    ends = at(shape.z[:-1], shape.outer[:, 0], shape.inner[:, 0]) + at(
        shape.z[1:], shape.outer[:, 1], shape.inner[:, 1]
    )
    halfway = at(middle, shape.outer.mean(axis=1), shape.inner.mean(axis=1))
    return float(np.sum(long / 6 * (ends + 4 * halfway)))


def _pieces(door: Door, pieces: Any) -> list[tuple[Part, float, bool]]:
    """The parts with their places [mm]."""
    if isinstance(pieces, Part):
        return [(pieces, 0.0, False)]
    good = isinstance(pieces, (list, tuple)) and all(
        isinstance(row, (list, tuple)) and len(row) == 3 and isinstance(row[0], Part) and isinstance(row[2], bool)
        for row in pieces
    )
    if not good or not 0 < len(pieces) <= MOST_PIECES:
        door.complain("pieces", given(pieces), f"a Part, or 1 to {MOST_PIECES} of (Part, place, turned)", _PIECES,
                      OutOfRange if good else WrongUnit)  # fmt: skip
        return []
    return [(row[0], door.number(row[1], f"place of {row[0].name}", "mm", least=-LARGEST, most=LARGEST), row[2])
            for row in pieces]  # fmt: skip
