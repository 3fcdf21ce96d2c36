"""Roughing and finishing a profile, outside or inside, each cut as deep as what limits it first."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import angle_in_degrees, machine, pair, plain
from latheworks.door import Door
from latheworks.errors import Impossible, NotInTable
from latheworks.materials import pick
from latheworks.passes import turning_plan as kernel
from latheworks.passes.turning_chips import chip_volume
from latheworks.passes.turning_door import read_jaws, read_profile, read_softness, read_turns, turned
from latheworks.passes.turning_limits import DEFLECTION, GRIP, Bounds, forces
from latheworks.passes.turning_result import TurningPlan
from latheworks.units import Q_, U, check_system

_TRY = {
    GRIP: "more clamping force or a smaller feed", DEFLECTION: "a center or a rest, or a smaller feed",
}  # fmt: skip
# What a file of Pass holds, the result's name for it, and its unit; diameters are put in apart.
_ROWS = {
    "depth": U.mm, "start": U.mm, "end": U.mm, "spindle": U.rpm, "surface": U.m_per_min, "feed": U.mm_per_rev,
    "tangential": U.N, "cutting": U.min, "idle": U.min, "limit_depth": U.mm,
}  # fmt: skip
_NM, _KW, _CM3 = (Q_(1.0, unit).units for unit in ("N*m", "kW", "cm**3"))
_RATE = Q_(1.0, "cm**3/min").units


def turning_passes(profile: Any, material: Any, feed: Any, *, side: Any = None, stock: Any = None,
                   surface_speed: Any = None, spindle: Any = None, most_spindle: Any = None,
                   finish_allowance: Any = None, finish_feed: Any = None, most_depth: Any = None,
                   nose_radius: Any = None, entering_angle: Any = None, wear: Any = 1.3, held: Any = None,
                   holding: Any = None, other_diameter: Any = None, tool_stiffness: Any = None,
                   most_deflection: Any = None, approach: Any = None, overrun: Any = None, return_speed: Any = None,
                   setting_time: Any = None, lathe: Any = None, system: Any = "metric") -> TurningPlan:  # fmt: skip
    """Return the passes that turn a profile out of its stock, with what limits each, its load and its time.

    Depth: the least under T <= Mn(n) (power or torque), sqrt((2T/Dg)^2 + Ff^2)/mu <= what the jaws keep at speed, and
    Fp f <= most_deflection. Cuts are equal from cylinder to cylinder, each left with the allowance on every surface;
    n = 1000 v/(pi D) in its clamp; t = path/(f n), integrated exactly along tapers; Q = pi/4 |D^2 - d^2| f n. A bore
    is cut from the hole outward.

    Parameters: profile, a Profile or a list of (z from the chuck face [mm], diameter [mm]); material; feed [mm/rev,
    above 0 to 5]; side and stock diameter [mm] of a plain list; surface_speed [m/min, above 0 to 5000] or else
    spindle, constant [rev/min]; most_spindle, its clamp [rev/min; the lathe's]; finish_allowance on the radius [mm, 0
    to 5 and to most_depth; 0.25]; finish_feed [mm/rev; half the feed]; most_depth of the tool [mm, 0.05 to 50; 3];
    nose_radius [mm, 0 to 20; 0.4]; entering_angle [deg, 10 to 135; 90]; wear, a factor on force [1 to 2.5]; held, of
    `grip(...)` at a spindle above 0; holding, to bend the finished part by; other_diameter, the bore in a turned part
    or the outside around a bore [mm]; tool_stiffness, as of a boring bar [N/mm, 1 to 1e9]; most_deflection under
    roughing [mm, above 0 to 10; half the allowance, else 0.05]; approach [mm, 0 to 1000; 2] and overrun [mm, 0 to
    1000; 0] of a cut; return_speed [mm/min, 1 to 100000; the lathe's largest feed]; setting_time a pass [min, 0 to
    1000; 0]; lathe; system, "metric" or "inch" for the text.
    Raises LatheworksError for what does not fit, a profile that crosses itself or leaves the stock, more than 500
    passes, or a limit that leaves less than 0.02 mm. Limits never asked for (held, holding) are not kept: see notes.
    Source: mechanics and geometry; forces as in `cutting_forces`; the values in brackets: common practice.

    >>> steps = [(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(10, 28), (50, 28), (50, 20), (80, 20)]]
    >>> plan = turning_passes(steps, "steel 1018", Q_(0.2, "mm/rev"), stock=Q_(32, "mm"), surface_speed=Q_(90, "m/min"))
    >>> plan.passes, plan.limit, plan.depth.round(3)[:3]
    (6, 'power', <Quantity([0.875 0.875 1.333], 'millimeter')>)
    """
    system = check_system(system)

    def size(value: Any, name: str, unit: str, usual: float, most: float, *, least: float = 0.0) -> float:
        hint = f'{name}=Q_({usual:g}, "{unit}")'
        return usual if value is None else door.number(value, name, unit, least=least, most=most, example=hint)

    with Door("turning_passes") as door:
        shape = read_profile(door, profile, side, stock)
        z, heights, level = turned(door, shape)
        chosen = pick(door, material)
        known, machine_tool = pair(door, chosen), machine(door, lathe)
        advance = door.number(feed, "feed", "mm/rev", above=0, most=5, example='feed=Q_(0.2, "mm/rev")')
        turns = read_turns(door, surface_speed, spindle, most_spindle, machine_tool)
        fine = size(finish_feed, "finish_feed", "mm/rev", advance / 2, 5, least=1e-4)
        deepest = size(most_depth, "most_depth", "mm", 3.0, 50, least=0.05)
        allowance = size(finish_allowance, "finish_allowance", "mm", min(0.25, deepest), min(5.0, deepest))
        nose = size(nose_radius, "nose_radius", "mm", 0.4, 20)
        angle = (
            90.0
            if entering_angle is None
            else angle_in_degrees(
                door, entering_angle, "entering_angle", least=10, most=135, example='entering_angle=Q_(90, "degree")'
            )
        )
        dull = plain(door, wear, "wear", least=1, most=2.5, example="wear=1.3")
        jaws = read_jaws(door, held)
        spots, soft = read_softness(door, shape, holding, other_diameter, tool_stiffness,
                                    float(chosen.elastic_modulus.m_as(U.MPa)))  # fmt: skip
        bend = size(most_deflection, "most_deflection", "mm", allowance / 2 if allowance else 0.05, 10, least=1e-6)
        lead, past = size(approach, "approach", "mm", 2.0, 1000), size(overrun, "overrun", "mm", 0.0, 1000)
        back = size(return_speed, "return_speed", "mm/min", machine_tool.largest_feed.m_as(U.mm_per_min), 1e5, least=1)
        setting = size(setting_time, "setting_time", "min", 0.0, 1000)
        _along(door, machine_tool, advance, turns.most)
        if not door.complaints:
            rough, last = (forces(known, deepest, f, nose, angle, dull) for f in (advance, fine))
            job = kernel.Job(z, heights, level, allowance, rough, last, Bounds(machine_tool, turns, jaws, bend), lead,
                             past, back, setting, spots, soft)  # fmt: skip
            try:
                rows, first = kernel.plan(job)
            except kernel.TooMany as many:
                _too_many(door, many)
    return _result(shape, chosen.name, rows, first, turns.surface, allowance, _notes(job, rows, jaws, turns), system)


def _along(door: Door, lathe: Any, feed: float, turns: float) -> None:
    """Complain of a feed that the carriage cannot follow at the fastest spindle of the plan."""
    most = lathe.largest_feed.m_as(U.mm_per_min)
    if feed * turns > most * (1 + 1e-9) and not door.complaints:
        door.complain("feed", f"{feed:g} mm/rev at up to {turns:g} rev/min",
                      f"at most {most:g} mm/min, the lathe's largest carriage feed",
                      f'feed=Q_({most / turns:.3g}, "mm/rev") or a lower most_spindle', Impossible)  # fmt: skip


def _too_many(door: Door, many: kernel.TooMany) -> None:
    """Say which limit leaves so little."""
    got = f"{many.depth:.3g} mm a cut at {2 * abs(many.height):.4g} mm, limited by {many.name}"
    expected = f"cuts of {kernel.THINNEST:g} mm or more, and at most {kernel.MOST_PASSES} passes"
    door.complain(
        "profile", got, expected, _TRY.get(many.name, "a smaller feed, a deeper tool or stock nearer to size")
    )


def _notes(job: kernel.Job, rows: list[kernel.Pass], jaws: Any, turns: Any) -> tuple[str, ...]:
    """What was not looked at, and what the plan cannot promise."""
    notes = []
    if jaws is None:
        notes.append("jaw grip is not looked at: give held=grip(...)")
    if not job.spots.size:
        notes.append("deflection is not looked at: give holding=, or tool_stiffness= of a boring bar")
    if any(row.closed for row in rows):
        notes.append("some cuts begin in the solid behind a larger diameter: see reach(...) and groove_passes(...)")
    over = [row.kind for row in rows if row.kind != kernel.ROUGH and row.depth > row.limit_depth * (1 + 1e-9)]
    if over:
        notes.append(f"the {over[0]} pass is deeper than its limit allows: take a smaller allowance or feed")
    if turns.surface and any(row.surface < 0.99 * turns.surface for row in rows):
        notes.append(
            f"the spindle stays at its fastest, {turns.most:g} rev/min, and the surface runs slower than asked"
        )
    return tuple(notes)


def _result(shape: Any, material: str, rows: list[kernel.Pass], first: dict[str, float], surface: float,
            allowance: float, notes: tuple[str, ...], system: str) -> TurningPlan:  # fmt: skip
    """Everything with its unit."""
    table = {
        name: np.array([getattr(row, name) for row in rows])
        for name in kernel.Pass._fields
        if name not in ("kind", "allowed")
    }
    known = {name: Q_(table[name], unit) for name, unit in _ROWS.items()}
    volume = table["volume"] / 1000.0
    try:
        chips = chip_volume(material, Q_(float(volume.sum()), _CM3))
    except NotInTable:
        chips = None
    return TurningPlan(
        profile=shape, material=material, kinds=tuple(row.kind for row in rows),
        before=Q_(2 * np.abs(table["before"]), U.mm), after=Q_(2 * np.abs(table["after"]), U.mm),
        depth=known["depth"], start=known["start"], end=known["end"], spindle=known["spindle"],
        surface_speed=known["surface"], feed=known["feed"], tangential=known["tangential"],
        torque=Q_(table["torque"], _NM), power=Q_(table["power"], _KW),
        removal_rate=Q_(table["removal"], _RATE), volume=Q_(volume, _CM3), cutting_time=known["cutting"],
        idle_time=known["idle"], limited_by=tuple(row.limit for row in rows), depth_limit=known["limit_depth"],
        limits=tuple((name, Q_(depth, U.mm)) for name, depth in sorted(first.items(), key=lambda item: item[1])),
        allowed=tuple({name: Q_(depth, U.mm) for name, depth in row.allowed.items()} for row in rows),
        entered_from_above=tuple(i for i, row in enumerate(rows) if row.closed),
        constant="surface speed" if surface else "turns", finish_allowance=Q_(allowance, U.mm), chips=chips,
        notes=notes, system=system,
    )  # fmt: skip
