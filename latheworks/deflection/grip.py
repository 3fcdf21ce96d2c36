"""Whether the jaws hold the part: their grip at speed against what the cut and the drill ask of it."""

from __future__ import annotations

from typing import Any

from latheworks.cutting.plain_numbers import ratio, yes_or_no
from latheworks.deflection import grip_kernel as kernel
from latheworks.deflection.grip_result import Grip
from latheworks.door import Door, given
from latheworks.tables import table
from latheworks.units import Q_, U

_SIDES = ("outside", "inside")
_CUT = 'cutting_force=Q_(400, "N"), cut_diameter=Q_(32, "mm")'


def clamping_friction(jaws: Any = "smooth", workpiece: Any = "machined") -> float:
    """Return the share of the grip that friction between jaws and a steel part holds.

    Left out, the jaws are smooth ones on a turned part: 0.10, what `grip`, `drill_hole` and all that build on them
    take when nobody says which jaws there are. Of the jaws in the table these hold least, so a plan errs to the safe
    side; who knows the jaws says so: hard, diamond-cut ones hold twice as much.
    Parameters: jaws, "smooth", "diamond" or "serrated"; workpiece, the surface in the jaws, "ground", "machined" or
    "unmachined". Returns a plain number. For other materials the same norm multiplies it: aluminum alloys 0.95,
    brass 0.90, grey iron 0.80. Raises NotInTable or WrongUnit for another word.
    Source: a chuck maker's norm for jaws, Table 4, read; other makers print 0.06 to 0.30.

    >>> clamping_friction("diamond", "machined")
    0.2
    """
    rows = {(row["jaws"], row["workpiece"]): float(row["friction [1]"]) for row in table("jaw_friction")}
    with Door("clamping_friction") as door:
        kind = door.choice(jaws, "jaws", tuple(dict.fromkeys(kind for kind, _ in rows)))
        surface = door.choice(workpiece, "workpiece", tuple(dict.fromkeys(surface for _, surface in rows)))
    return rows[kind, surface]


def grip(clamping_force: Any, grip_diameter: Any, spindle: Any, *, jaw_mass: Any, jaw_radius: Any, jaws: Any = 3,
         gripping: Any = "outside", friction: Any = None, cutting_force: Any = None, cut_diameter: Any = None,
         torque: Any = None, thrust: Any = None, shoulder: Any = False, machining_safety: Any = 1.5,
         clamping_safety: Any = 1.5) -> Grip:  # fmt: skip
    """Return how hard the jaws still grip at speed, whether that holds the cut, and the fastest spindle that does.

    At speed F = F0 - S(m r) (pi n/30)^2 when gripping from outside, plus when from inside. The cut needs Fz =
    sqrt(Ft^2 + Fa^2)/mu, with Ft = 2 T/D_grip, T = Fc D_cut/2 or as given, and Fa the thrust: a small grip on a large
    cut needs D_cut/D_grip times the force. Required at rest: F0 = Sk (Sz Fz + Fcent), inside Sk (Sz Fz - Fcent) and
    never less than Sz Fz. Fastest: n = 30/pi sqrt((F0/Sk - Sz Fz)/S(m r)).
    Parameters: clamping_force F0 of all jaws together, at rest [N, above 0]; grip_diameter [mm, 0.1 or more]; spindle
    [rev/min, 0 to 20 000]; jaw_mass of one jaw with all that moves with it [kg, 0.001 to 100]; jaw_radius of its
    center of gravity from the axis [mm, 0.1 mm to 1 m]; jaws [2 to 12]; gripping, "outside" or "inside"; friction mu
    [plain number, 0.01 to 1; left out, `clamping_friction()`]; cutting_force along the surface speed [N] with
    cut_diameter [mm], or torque [N*m, 0 or more], as of a drill; thrust along the axis, of a drill or a feed [N, 0 or
    more]; shoulder, True when the part stands against the jaws or a stop that takes the thrust; machining_safety Sz
    and clamping_safety Sk [plain numbers, 1 to 10; 1.5 or more each by VDI 3106].
    Raises WrongUnit, OutOfRange or NotInTable. A part that would slip or fly out is no error: the result says "stop".
    Source: VDI 3106 as in manuals of chuck makers, read; the resultant of both forces as in a chuck maker's norm.
    The chuck's own speed mark and gripping length go first, whatever is computed.

    >>> held = grip(Q_(12, "kN"), Q_(32, "mm"), Q_(800, "rpm"), jaw_mass=Q_(0.8, "kg"), jaw_radius=Q_(45, "mm"),
    ...             cutting_force=Q_(300, "N"), cut_diameter=Q_(32, "mm"))
    >>> held.finding, held.effective_force.round(0), held.permissible_spindle.round(0)
    ('holds', <Quantity(11242.0, 'newton')>, <Quantity(1719.0, 'rpm')>)
    """
    with Door("grip") as door:
        rest = door.number(clamping_force, "clamping_force", "N", above=0.0, example='clamping_force=Q_(12, "kN")')
        held_at = door.number(grip_diameter, "grip_diameter", "mm", least=0.1, example='grip_diameter=Q_(32, "mm")')
        turns = door.number(spindle, "spindle", "rev/min", least=0.0, most=20_000.0, example='spindle=Q_(800, "rpm")')
        mass = door.number(jaw_mass, "jaw_mass", "kg", least=0.001, most=100.0, example='jaw_mass=Q_(0.8, "kg")')
        radius = door.number(jaw_radius, "jaw_radius", "mm", least=0.1, most=1000.0, example='jaw_radius=Q_(45, "mm")')
        count = door.whole(jaws, "jaws", least=2, most=12)
        inside = door.choice(gripping, "gripping", _SIDES) == "inside"
        share = clamping_friction()
        if friction is not None:
            share = ratio(door, friction, "friction", least=0.01, most=1.0, example=0.1)
        twist, cut = _torque(door, cutting_force, cut_diameter, torque)
        push = 0.0
        if thrust is not None:
            push = door.number(thrust, "thrust", "N", least=0.0, example='thrust=Q_(500, "N")')
        stop = yes_or_no(door, shoulder, "shoulder")
        cutting = ratio(door, machining_safety, "machining_safety", least=1.0, most=10.0, example=1.5)
        clamping = ratio(door, clamping_safety, "clamping_safety", least=1.0, most=10.0, example=1.5)
    flung = kernel.centrifugal(count, mass, radius, turns)
    hold = kernel.needed(2.0 * twist / held_at, 0.0 if stop else push, share)
    left = rest + flung if inside else rest - flung
    # From inside, the grip is least at rest, so speed sets no limit of its own: it holds at rest or at no speed.
    fastest = None if inside else kernel.permissible(rest, cutting * hold, clamping, count * mass * radius / 1000.0)
    return Grip(
        gripping="inside" if inside else "outside",
        jaws=count,
        spindle=Q_(turns, U.rpm),
        clamping_force=Q_(rest, U.N),
        centrifugal_force=Q_(flung, U.N),
        effective_force=Q_(left, U.N) if left > 0 else None,
        cut_ratio=None if cut is None else cut / held_at,
        friction=share,
        torque=Q_(twist / 1000.0, "N*m"),
        grip_diameter=Q_(held_at, U.mm),
        thrust=Q_(push, U.N),
        shoulder=stop,
        needed_force=Q_(hold, U.N),
        machining_safety=cutting,
        clamping_safety=clamping,
        required_force=Q_(kernel.required(cutting * hold, flung, inside, clamping), U.N),
        permissible_spindle=None if fastest is None else Q_(fastest, U.rpm),
    )


def _torque(door: Door, cutting_force: Any, cut_diameter: Any, torque: Any) -> tuple[float, float | None]:
    """The torque that the grip must carry [N mm], and the diameter of the cut [mm] where there is one."""
    if torque is not None:
        for name, value in {"cutting_force": cutting_force, "cut_diameter": cut_diameter}.items():
            if value is not None:
                door.complain(name, given(value), "a torque, or a cutting force at a diameter, not both", _CUT)
        return 1000.0 * door.number(torque, "torque", "N*m", least=0.0, example='torque=Q_(6, "N*m")'), None
    if cutting_force is None and cut_diameter is None:
        return 0.0, None
    push = door.number(cutting_force, "cutting_force", "N", least=0.0, example=_CUT)
    across = door.number(cut_diameter, "cut_diameter", "mm", least=0.1, example=_CUT)
    return push * across / 2.0, across
