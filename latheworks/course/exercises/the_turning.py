"""Set-ups for turning the corer, as lesson 05 and its bench hold them: the part, the stock and what holds it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from latheworks.deflection import Chuck, ChuckAndCenter, grip
from latheworks.deflection.grip_result import Grip
from latheworks.deflection.holding import Holding
from latheworks.passes import Profile, TurningPlan, turning_passes
from latheworks.shop import lathe
from latheworks.units import Q_, U

SURFACE, TURNS = "constant surface speed", "constant turns"
MODES = (SURFACE, TURNS)
NOSE = Q_(0.4, "mm")
# A steel boring bar of 12 mm, 52 mm out of its holder: 3 E I/L³.
_BAR = Q_(4500, "N/mm")


@dataclass(frozen=True)
class SetUp:
    """A part in the lathe: wanted profile with its stock, material, holding, the diameter in the jaws [mm], how hard
    they close [N], the other side of the wall [mm, 0 for a solid bar] and, in a bore, how stiff the bar is."""

    part: str
    profile: Profile
    material: str
    holding: Holding
    gripped: float
    jaw_force: float
    other: float = 0.0
    bar: Any = None

    @property
    def center(self) -> bool:
        """Whether a center carries the free end."""
        return isinstance(self.holding, ChuckAndCenter)

    @property
    def inside(self) -> bool:
        """Whether it is a bore."""
        return bool(self.profile.inside)


def _profile(stock: float, *points: tuple[float, float], side: str = "outside") -> Profile:
    return Profile([(Q_(float(z), U.mm), Q_(float(d), U.mm)) for z, d in points], side, Q_(stock, U.mm))


BARREL = _profile(38.0, (10, 32), (195, 32), (195, 30), (229, 30), (231, 26))
SHOE = _profile(38.0, (6, 34), (34, 34), (46, 22))
SCREW = _profile(38.0, (6, 34), (34, 34), (34, 25.2), (54.5, 25.2), (56, 22.2))
SOCKET = _profile(17.0, (20, 20), (46, 20), (46, 23.4), (69, 23.4), (70, 25.4), side="inside")
SETUPS = {
    "barrel, chuck and center": SetUp("barrel", BARREL, "aluminum 6061-T6", ChuckAndCenter(), 38.0, 16_000.0),
    "barrel, chuck alone": SetUp("barrel", BARREL, "aluminum 6061-T6", Chuck(), 38.0, 16_000.0),
    "steel barrel, center": SetUp("barrel", BARREL, "steel 1018", ChuckAndCenter(), 38.0, 16_000.0),
    "steel shoe, cutting edge": SetUp("cutting shoe", SHOE, "steel 1018", Chuck(), 38.0, 16_000.0),
    "steel shoe, jaws at half": SetUp("cutting shoe", SHOE, "steel 1018", Chuck(), 38.0, 8_000.0),
    "steel shoe, screw end": SetUp("cutting shoe", SCREW, "steel 1018", Chuck(), 38.0, 16_000.0),
    "stainless shoe, screw end": SetUp("cutting shoe", SCREW, "stainless steel 304", Chuck(), 38.0, 16_000.0),
    "barrel, its socket": SetUp("socket", SOCKET, "aluminum 6061-T6", Chuck(), 32.0, 8_000.0, 32.0, _BAR),
}  # fmt: skip


@cache
def held(gripped: float, jaw_force: float) -> Grip:
    """The jaws of the teaching lathe on a diameter [mm], closed with a force [N]."""
    machine = lathe()
    return grip(Q_(jaw_force, U.N), Q_(gripped, U.mm), Q_(800.0, U.rpm), jaw_mass=machine.jaw_mass,
                jaw_radius=machine.jaw_radius)  # fmt: skip


def largest(setup: SetUp) -> float:
    """The largest diameter that the tool turns [mm]: the stock's outside, the finished bore's inside."""
    return 2 * float(setup.profile.radius.max()) if setup.inside else float(setup.profile.stock.m_as(U.mm))


def turns_for(setup: SetUp, speed: Any) -> Any:
    """The constant turns that give a surface speed at the largest diameter, within the lathe's spindle [rev/min]."""
    machine = lathe()
    wanted = 1000.0 * speed.m_as(U.m_per_min) / (math.pi * largest(setup))
    fastest, slowest = machine.fastest_spindle.m_as(U.rpm), machine.slowest_spindle.m_as(U.rpm)
    return Q_(min(max(wanted, slowest), fastest), U.rpm)


def planned(setup: SetUp, depth: Any, feed: Any, speed: Any, constant: str = SURFACE, **more: Any) -> TurningPlan:
    """The passes of a setup with a tool's own depth, a feed and a surface speed; every limit is looked at."""
    turns: Mapping[str, Any] = {"surface_speed": speed} if constant == SURFACE else {"spindle": turns_for(setup, speed)}
    options = {
        "most_depth": depth, "nose_radius": NOSE, "held": held(setup.gripped, setup.jaw_force),
        "holding": setup.holding, "tool_stiffness": setup.bar,
    }  # fmt: skip
    if setup.other:
        options["other_diameter"] = Q_(setup.other, U.mm)
    return turning_passes(setup.profile, setup.material, feed, **turns, **{**options, **more})
