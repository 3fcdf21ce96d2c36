"""The ways to hold a part in a lathe, each a set of springs that may be rigid."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar

from latheworks.deflection.kernel import Beam, Flexibility, between, cantilever, with_springs
from latheworks.door import Door, given
from latheworks.errors import WrongUnit
from latheworks.results import Result
from latheworks.tables import table
from latheworks.units import Q_, U, show

# For each support: its unit, the least stiffness that still holds anything, and a value to copy. Softer
# springs than these would also drown the bending of the part in the arithmetic.
_RADIAL = ("N/mm", 1.0, 'Q_(50000, "N/mm")')
_TILT = ("N*mm/rad", 1000.0, 'Q_(1e8, "N*mm/rad")')
_REST = 'rest=(Q_(100, "mm"), Q_(20000, "N/mm"))'


def usual(support: str, name: str) -> Any:
    """The stated teaching default of a support: its tilt stiffness [N*mm/rad] or its radial one [N/mm]."""
    column, unit = ("tilt [N*mm/rad]", U.Nmm_per_rad) if name == "tilt" else ("radial [N/mm]", U.N_per_mm)
    return next(Q_(float(row[column]), unit) for row in table("stiffness") if row["name"] == support)


def _compliance(door: Door, value: Any, name: str, kind: tuple[str, float, str] = _RADIAL) -> float:
    """What a spring gives for one unit of load; nothing when it is rigid."""
    unit, least, example = kind
    return 1.0 / door.number(value, name, unit, least=least, finite=False, example=f"{name}={example}")


def _written(stiffness: Any) -> str:
    """A stiffness as a shop would write it."""
    if math.isinf(stiffness.magnitude):
        return "rigid"
    if stiffness.is_compatible_with(U.N_per_mm):
        return show(stiffness)
    return f"{stiffness.m_as(U.Nmm_per_rad) / 1e6:g} kN·m/rad"


@dataclass(frozen=True)
class Holding(Result):
    """What every holding shares. Its springs are compliances inside, so that rigid is exact."""

    # Each stiffness of the class and the row of the stiffness table that gives its default.
    supports: ClassVar[Mapping[str, str]] = {}

    compliances: Mapping[str, float] = field(init=False, repr=False, compare=False)
    rest_position: float | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        put, place, give = object.__setattr__, None, {}
        with Door(type(self).__name__) as door:
            for name, support in self.supports.items():
                if getattr(self, name) is None:
                    put(self, name, usual(support, name))
                give[name] = _compliance(door, getattr(self, name), name, _TILT if name == "tilt" else _RADIAL)
            rest = getattr(self, "rest", None)
            if isinstance(rest, (list, tuple)) and len(rest) == 2:
                place = door.number(rest[0], "rest position", "mm", above=0.0, example=_REST)
                give["rest"] = _compliance(door, rest[1], "rest stiffness")
                put(self, "rest", tuple(rest))
            elif rest is not None:
                door.complain("rest", given(rest), "(position, stiffness)", _REST, WrongUnit)
        put(self, "compliances", give)
        put(self, "rest_position", place)

    def base(self, shaft: Beam) -> Flexibility:
        """The flexibility of the part on its statically determinate supports alone."""
        give = self.compliances
        if "head" in give:
            return between(shaft, give["head"], give["tail"])
        return cantilever(shaft, give["tilt"], give["radial"])

    def props(self, length: float) -> list[tuple[str, float, float]]:
        """The supports beyond those: (name, position [mm], compliance [mm/N])."""
        give = self.compliances
        far = [("center", length, give["center"])] if "center" in give else []
        return far if self.rest_position is None else [*far, ("rest", self.rest_position, give["rest"])]

    def flexibility(self, shaft: Beam) -> Flexibility:
        """The flexibility f(x, a) of a shaft held this way [mm/N]."""
        return with_springs(self.base(shaft), [(place, give) for _, place, give in self.props(shaft.length)])

    def facts(self) -> Sequence[tuple[str, str]]:
        """Each stiffness, and the rest where there is one."""
        facts = [(f"{name} stiffness", _written(getattr(self, name))) for name in self.supports]
        rest = getattr(self, "rest", None)
        return facts if rest is None else [*facts, ("rest", f"at {show(rest[0])}, {_written(rest[1])}")]


@dataclass(frozen=True)
class Chuck(Holding):
    """Held in a chuck at one end, the other end free.

    Parameters: tilt, the moment that turns the grip by one radian [N*mm/rad, 1000 or more, may be infinite];
    radial, the force that shifts it by one length [N/mm, 1 or more, may be infinite]; rest, None or
    (position from the chuck face [mm], stiffness [N/mm]). Left out, they are the stated teaching defaults.
    Raises WrongUnit or OutOfRange. Source: defaults invented for teaching; published stiffnesses of chucks
    scatter about fourfold (latheworks/data/stiffness.csv), so measure yours where it matters.

    >>> print(Chuck(radial=Q_(float("inf"), "N/mm")))
    In a chuck
      tilt stiffness    100 kN·m/rad
      radial stiffness  rigid
    """

    tilt: Any = None
    radial: Any = None
    rest: Any = None

    supports: ClassVar[Mapping[str, str]] = {"tilt": "chuck", "radial": "chuck"}

    def title(self) -> str:
        """One line that says what this is."""
        return "In a chuck"


@dataclass(frozen=True)
class ChuckAndCenter(Holding):
    """Held in a chuck at one end and carried by a center at the other.

    Parameters: tilt [N*mm/rad] and radial [N/mm] of the chuck, and rest, as in `Chuck`; center, the stiffness
    of the tailstock center [N/mm, 1 or more, may be infinite]. Left out, they are the stated teaching
    defaults. Raises WrongUnit or OutOfRange. Source: as for `Chuck`.

    >>> show(ChuckAndCenter().center)
    '30.0 N/µm'
    """

    tilt: Any = None
    radial: Any = None
    center: Any = None
    rest: Any = None

    supports: ClassVar[Mapping[str, str]] = {"tilt": "chuck", "radial": "chuck", "center": "tail center"}

    def title(self) -> str:
        """One line that says what this is."""
        return "In a chuck, with a center"


@dataclass(frozen=True)
class BetweenCenters(Holding):
    """Carried by a center at each end, free to tilt on both.

    Parameters: head and tail, the stiffness of the headstock and of the tailstock center [N/mm, 1 or more,
    may be infinite]; rest, None or (position from the headstock center [mm], stiffness [N/mm]). Left out,
    they are the stated teaching defaults. Raises WrongUnit or OutOfRange. Source: as for `Chuck`.

    >>> BetweenCenters().facts()
    [('head stiffness', '50.0 N/µm'), ('tail stiffness', '30.0 N/µm')]
    """

    head: Any = None
    tail: Any = None
    rest: Any = None

    supports: ClassVar[Mapping[str, str]] = {"head": "head center", "tail": "tail center"}

    def title(self) -> str:
        """One line that says what this is."""
        return "Between centers"
