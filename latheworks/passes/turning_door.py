"""The door of `turning_passes`: the profile, the turns of the spindle, the jaws and what bends, as plain floats."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from latheworks.deflection.grip_result import Grip
from latheworks.deflection.holding import Holding
from latheworks.deflection.kernel import beam
from latheworks.door import Door, given
from latheworks.errors import Impossible, LatheworksError, OutOfRange, WrongUnit
from latheworks.passes.profile import Profile
from latheworks.passes.profile_outline import height
from latheworks.passes.turning_kernel import SAME, Floats, Turns
from latheworks.passes.turning_limits import Jaws
from latheworks.shop import Lathe
from latheworks.units import U

_LIST = 'profile=[(Q_(0, "mm"), Q_(28, "mm")), (Q_(60, "mm"), Q_(28, "mm"))]'
# A taper is bent as so many short cylinders; the tool is looked at in so many places.
_PIECES, _SPOTS = 6, 41


def read_profile(door: Door, profile: Any, side: Any, stock: Any) -> Profile | None:
    """The profile, built where a plain list was given; its own complaints become complaints of this door."""
    if isinstance(profile, Profile):
        if side is not None and side != profile.side:
            door.complain("side", given(side), f'"{profile.side}", as the profile says', "to leave side out")
        if stock is None or door.complaints:
            return profile
    elif not isinstance(profile, (list, tuple)):
        door.complain("profile", given(profile), "a Profile or a list of (z, diameter)", _LIST, WrongUnit)
        return None
    try:
        if isinstance(profile, Profile):
            return replace(profile, stock=stock)
        return Profile(profile, "outside" if side is None else side, stock)
    except LatheworksError as error:
        for each in error.complaints:
            name = each.name if each.name in ("side", "stock") else f"profile: {each.name}"
            door.complain(name, each.given, each.expected, each.hint, each.kind)
        return None


def turned(door: Door, shape: Profile | None) -> tuple[Floats, Floats, float]:
    """z and heights of the profile and the height of the stock [mm]; complains where there is nothing to cut."""
    if shape is None:
        return np.array([0.0, 1.0]), np.array([1.0, 1.0]), 2.0
    heights = height(shape.radius, shape.inside)
    level = shape.stock.m_as(U.mm) / 2 * (-1.0 if shape.inside else 1.0)
    if heights.min() >= level - SAME and not door.complaints:
        word = "smaller" if shape.inside else "larger"
        door.complain("stock", f"{2 * abs(level):g} mm, the profile's own size", f"stock {word} than the profile",
                      f'stock=Q_({2 * abs(level) + (-2 if shape.inside else 2):g}, "mm")', Impossible)  # fmt: skip
    if shape.inside and level > -0.5:
        door.complain("stock", f"{2 * abs(level):g} mm", "a hole of 1 mm or more for a boring bar to start in",
                      "to drill first", OutOfRange)  # fmt: skip
    return shape.z, heights, level


def read_turns(door: Door, surface_speed: Any, spindle: Any, most_spindle: Any, lathe: Lathe) -> Turns:
    """A constant surface speed with its clamp, or constant turns."""
    slowest, fastest = lathe.slowest_spindle.m_as(U.rpm), lathe.fastest_spindle.m_as(U.rpm)
    if (surface_speed is None) == (spindle is None):
        got = "neither" if spindle is None else "both"
        door.complain("surface_speed or spindle", got, "one of the two: a constant surface speed or constant turns",
                      'surface_speed=Q_(90, "m/min")', WrongUnit)  # fmt: skip
    most = fastest
    if most_spindle is not None:
        most = door.number(most_spindle, "most_spindle", "rev/min", least=slowest, most=fastest,
                           example=f'most_spindle=Q_({fastest:g}, "rev/min")')  # fmt: skip
    if spindle is not None:
        turns = door.number(spindle, "spindle", "rev/min", least=slowest, most=most,
                            example=f'spindle=Q_({min(600, most):g}, "rev/min")')  # fmt: skip
        return Turns(0.0, turns, turns)
    if surface_speed is None:
        return Turns(0.0, most, most)
    speed = door.number(surface_speed, "surface_speed", "m/min", above=0, most=5000,
                        example='surface_speed=Q_(90, "m/min")')  # fmt: skip
    return Turns(speed, min(slowest, most), most)


def read_jaws(door: Door, held: Any) -> Jaws | None:
    """The grip, as `grip` found it at some spindle above 0."""
    if held is None:
        return None
    example = "held=grip(...)"
    found = door.instance(held, "held", Grip, "what grip(...) returns", example)
    if found is None:
        return None
    turns = found.spindle.m_as(U.rpm)
    if turns <= 0:
        door.complain("held", "a grip at rest", "a grip found at a spindle above 0", example, OutOfRange)
        return None
    return Jaws(
        found.clamping_force.m_as(U.N), found.centrifugal_force.m_as(U.N), turns, found.gripping == "inside",
        found.friction, found.grip_diameter.m_as(U.mm), found.machining_safety, found.clamping_safety, found.shoulder,
    )  # fmt: skip


def read_softness(door: Door, shape: Profile | None, holding: Any, other_diameter: Any, tool_stiffness: Any,
                  modulus: float) -> tuple[Floats, Floats]:  # fmt: skip
    """Places along the profile, and what part and tool give there for 1 N [mm]; both empty where nothing is known."""
    soft = 0.0
    if tool_stiffness is not None:
        soft = 1.0 / door.number(tool_stiffness, "tool_stiffness", "N/mm", least=1.0, most=1e9,
                                 example='tool_stiffness=Q_(20000, "N/mm")')  # fmt: skip
    inside = shape is not None and shape.inside
    other = 0.0
    if other_diameter is not None:
        other = door.number(other_diameter, "other_diameter", "mm", least=0, most=10_000,
                            example='other_diameter=Q_(20, "mm")')  # fmt: skip
    if holding is not None:
        door.instance(holding, "holding", Holding, "Chuck, ChuckAndCenter or BetweenCenters", "holding=Chuck()")
        if inside and other_diameter is None:
            door.complain("other_diameter", "nothing", "the outside diameter around the bore, to know how it bends",
                          'other_diameter=Q_(32, "mm")', WrongUnit)  # fmt: skip
    if shape is None or door.complaints:
        return np.empty(0), np.empty(0)
    _wall(door, shape, other if other_diameter is not None or not inside else None)
    spots = np.linspace(shape.z[0], shape.z[-1], _SPOTS)
    if holding is None:
        return (spots, np.full(_SPOTS, soft)) if soft else (np.empty(0), np.empty(0))
    if shape.z[0] < 0:
        door.complain("profile", f"a point {-shape.z[0]:g} mm behind the chuck face", "z from the chuck face outward",
                      _LIST, Impossible)  # fmt: skip
    elif holding.rest_position is not None and holding.rest_position > shape.z[-1]:
        door.complain("holding", f"a rest at {holding.rest_position:g} mm", "a rest on the part", "another position")
    if door.complaints:
        return np.empty(0), np.empty(0)
    long, outer, inner = _sections(shape, other)
    return spots, holding.flexibility(beam(long, outer, inner, modulus))(spots, spots) + soft


def _wall(door: Door, shape: Profile, other: float | None) -> None:
    """Complain where the other surface leaves no wall."""
    if other is None:
        return
    worst = float(2 * (shape.radius.max() if shape.inside else shape.radius.min()))
    if (other <= worst) if shape.inside else (other >= worst > 0 or (other > 0 and worst <= 0)):
        which = "more" if shape.inside else "less"
        door.complain("other_diameter", f"{other:g} mm", f"{which} than the profile's {worst:g} mm, to leave a wall",
                      f'other_diameter=Q_({worst * (1.2 if shape.inside else 0.6):g}, "mm")', Impossible)  # fmt: skip


def _sections(shape: Profile, other: float) -> tuple[Floats, Floats, Floats]:
    """The finished part as cylinders from the chuck face: the stock up to the profile, then the profile."""
    fine = np.linspace(0.0, 1.0, _PIECES + 1)
    z0, z1, r0, r1 = shape.z[:-1], shape.z[1:], shape.radius[:-1], shape.radius[1:]
    long, sizes = [], []
    if shape.z[0] > SAME:
        long.append(float(shape.z[0]))
        sizes.append(shape.stock.m_as(U.mm))
    # Many short pieces are straight enough as they are.
    count = 1 if z0.size > 100 else _PIECES
    for a, b, ra, rb in zip(z0.tolist(), z1.tolist(), r0.tolist(), r1.tolist(), strict=True):
        if b - a <= SAME:
            continue
        parts = 1 if abs(rb - ra) <= SAME else count
        middles = 0.5 if parts == 1 else (fine[:-1] + fine[1:]) / 2
        long += [(b - a) / parts] * parts
        sizes += np.atleast_1d(2 * (ra + (rb - ra) * middles)).tolist()
    lengths, size, rest = np.array(long), np.array(sizes), np.full(len(long), other)
    outer, inner = (rest, size) if shape.inside else (size, rest)
    return lengths, np.maximum(outer, inner + 0.01), inner
