"""A hole planned: the tool, the steps, what limits them, from one end or from both."""

import math
from typing import Any

from latheworks.cutting.plain_numbers import pair, plain
from latheworks.deflection import clamping_friction
from latheworks.deflection.grip_kernel import centrifugal, needed, required
from latheworks.door import Door, given
from latheworks.drilling import kernel
from latheworks.drilling.asked import drilled, shop, size
from latheworks.drilling.hole_result import DrilledHole, HoleStep, Meeting
from latheworks.drilling.hole_steps import OVERRUN, TURN_ROUND, Job, drill_step, spare_reach, tip
from latheworks.drilling.plain_shop import by_kind, plain_lathe, plain_tool
from latheworks.errors import Impossible, WrongUnit
from latheworks.materials import pick
from latheworks.shop import Lathe, Rack, Tool, cautions
from latheworks.units import Q_, U, show, ureg

PILOT_FROM = 12.0  # mm: larger drills get a pilot where the rack has one
PILOT_LEAST, PILOT_MOST = 0.2, 0.45  # of the diameter
NEAREST = 0.8  # of the diameter asked for: no smaller drill is offered for it
SAFETY = 1.5  # each of the two factors of VDI 3106
OVERLAP, RUNOUT, DRIFT = 3.0, 0.1, 0.1  # mm; mm; mm for each 100 mm


def drill_hole(diameter: Any, depth: Any, material: Any, through: Any = True, from_both_ends: Any = "auto",
               lathe: Any = None, rack: Any = None, *, pilot: Any = "auto", grip_diameter: Any = None,
               stop: Any = False, friction: Any = None, wear: Any = 1.3, overlap: Any = None, runout: Any = None,
               drift: Any = None) -> DrilledHole:  # fmt: skip
    """Return the steps that make a hole from the tailstock, and what limits them.

    The largest drill of the rack not above the diameter is taken, behind a center drill and, from 12 mm, a pilot.
    Point and overrun count in the travel; the flutes have to stay 1 diameter out of the hole, else both ends are
    drilled, each to (depth + overlap)/2. There the step is expected as sqrt(e^2 + w1^2 + w2^2), at worst e + w1 + w2,
    with e half of the runout after re-chucking and w the drift of each hole; a bore on the new axis hides it when it
    is 2 max(sqrt(e^2 + w1^2), w2) larger, 2 max(e + w1, w2) to be sure. Each step's load is the published band, its
    highest counts; the jaws need 1.5 (1.5 sqrt((2 M/D)^2 + T^2)/mu + what speed takes off).

    Parameters: diameter [mm, 0.3 to 100]; depth, of the full diameter [mm, above 0 to 2000]; material, a name of
    `materials()` or a Material; through, True or False; from_both_ends, True, False or "auto"; lathe and rack, the
    teaching ones when not given; pilot, True, False or "auto"; grip_diameter [mm, more than the hole's, to 1000; when
    not given the hole's own, the worst lever]; stop, True when a shoulder or a stop takes the thrust; friction [plain
    number, 0.01 to 1; `clamping_friction()`, as in `grip`, when not given]; wear [1 to 2.5]; overlap
    [mm, 0 to 50; 3 when not given]; runout after re-chucking, whole reading [mm, 0 to 5; 0.1 when not given]; drift
    for each 100 mm [mm, 0 to 5; 0.1 when not given].
    Raises LatheworksError for a wrong dimension or a value outside its range, NotInTable for a material without
    published forces, Impossible where no drill of the rack reaches.
    Source: geometry; loads as in `drilling_load`; feeds, speeds and pecks as in `drill_feed` and `peck_depths`; grip
    VDI 3106 as in `grip`; times, pilot, runout and drift are starting values, common practice: measure your own.

    >>> hole = drill_hole(Q_(20, "mm"), Q_(250, "mm"), "aluminum 6061-T6", stop=True, grip_diameter=Q_(32, "mm"))
    >>> len(hole.steps), hole.meeting.step.round(3), hole.meeting.worst_allowance.round(3)
    (6, <Quantity(0.186, 'millimeter')>, <Quantity(0.353, 'millimeter')>)
    """
    with Door("drill_hole") as door:
        d, chosen = size(door, diameter), pick(door, material)
        deep = door.number(depth, "depth", "mm", above=0, most=2000, example='depth=Q_(60, "mm")')
        pairs, row = pair(door, chosen), drilled(door, chosen)
        machine, tools = shop(door, lathe, rack)
        goes, stands = (_either(door, value, name, ()) for value, name in ((through, "through"), (stop, "stop")))
        both = _either(door, from_both_ends, "from_both_ends", ("auto",))
        first = _either(door, pilot, "pilot", ("auto",))
        dull = plain(door, wear, "wear", least=1, most=2.5, example="wear=1.3")
        share = clamping_friction()
        if friction is not None:
            share = plain(door, friction, "friction", least=0.01, most=1, example="friction=0.2")
        held = d
        if grip_diameter is not None:
            held = door.number(grip_diameter, "grip_diameter", "mm", above=d, most=1000,
                               example=f'grip_diameter=Q_({2 * d:g}, "mm")')  # fmt: skip
        extra = [
            usual if value is None else door.number(value, name, "mm", least=0, most=most)
            for value, name, usual, most in ((overlap, "overlap", OVERLAP, 50), (runout, "runout", RUNOUT, 5),
                                             (drift, "drift", DRIFT, 5))
        ]  # fmt: skip
        if both is True and goes is False:
            door.complain("from_both_ends", "True for a blind hole", "a through hole", "through=True", Impossible)
        found = None if door.complaints else _choose(door, tools, d, deep, bool(goes), both, extra[0])
    assert found is not None
    tool, twice = found
    job = Job(chosen, pairs, row, machine, dull)
    full = (deep + extra[0]) / 2.0 if twice else deep
    steps: list[HoleStep] = []
    notes: list[str] = []
    for end in (1, 2) if twice else (1,):
        breaks = bool(goes) and (end == 2 or not twice)
        travel = full + tip(tool) + (OVERRUN if breaks else 0.0)
        steps += _one_end(job, tools, tool, end, travel, first, notes)
    meeting = _meeting(extra, full) if twice else None
    demand = max(_grip(step, machine, held, bool(stands), share) for step in steps)
    limits = [word for step in steps for word in step.limits]
    if demand > plain_lathe(machine).jaw_force:
        words = f"jaw grip: {demand:.0f} N needed at rest with friction {share:g}, {show(machine.jaw_force)} there"
        limits.insert(0, f"{words}: put the part against a shoulder or a stop, drill a pilot, or ease the feed")
    if twice:
        limits.append(f"flute length: {spare_reach(tool):.0f} mm from one end with the chips getting out")
        notes.append("turn the part round and set it true: what is left of runout is half of the step")
    if plain_tool(tool).diameter < d - 1e-6:
        notes.append(f"the rack's nearest is {tool.name}: {show(Q_(d, U.mm) - tool.diameter)} is left to ream or bore")
    if held == d:
        notes.append("no grip diameter given: the torque is counted at the hole's own diameter, the worst lever")
    notes += ["fed by hand the feed is yours to keep: even, easing as the point breaks through",
              *(line.text for line in cautions("drilling"))]  # fmt: skip
    seconds = sum(step.time.m_as(U.s) for step in steps) + (TURN_ROUND if twice else 0.0)
    return DrilledHole(chosen.name, Q_(d, U.mm), Q_(deep, U.mm), bool(goes), tool, tuple(steps), meeting,
                       Q_(spare_reach(tool), U.mm), Q_(seconds, U.s), Q_(demand, U.N), machine.jaw_force.to(U.N),
                       tuple(dict.fromkeys(limits)), tuple(dict.fromkeys(notes)))  # fmt: skip


def _either(door: Door, value: Any, name: str, words: tuple[str, ...]) -> Any:
    """True, False or one of the words."""
    if isinstance(value, bool) or (isinstance(value, str) and value in words):
        return value
    expected = "True or False" + "".join(f' or "{word}"' for word in words)
    door.complain(name, given(value), expected, f"{name}=True", WrongUnit)
    return True


def _choose(door: Door, tools: Rack, d: float, deep: float, through: bool, both: Any,
            overlap: float) -> tuple[Tool, bool] | None:  # fmt: skip
    """The largest drill that is near enough and reaches, and whether from both ends; a complaint where none does."""
    near = [t for t in by_kind(tools)["drill"] if NEAREST * d <= plain_tool(t).diameter <= d + 1e-6]
    if not near:
        owned = ", ".join(f"{plain_tool(t).diameter:g}" for t in by_kind(tools)["drill"]) or "none"
        expected = f"a drill of the rack from {NEAREST * d:.3g} to {d:g} mm; it has {owned}"
        why = ("the rack has no drill from ", Q_(NEAREST * d, U.mm), " to ", Q_(d, U.mm))
        door.complain("diameter", f"{d:g} mm", expected[:200], "a size of the rack, or a rack with such a drill",
                      value=Q_(d, U.mm), because=why)  # fmt: skip
        return None
    for tool in sorted(near, key=lambda t: (-plain_tool(t).diameter, -plain_tool(t).reach)):
        end = tip(tool) + (OVERRUN if through else 0.0)
        if both is not True and deep + end <= spare_reach(tool):
            return tool, False
        if through and both is not False and (deep + overlap) / 2.0 + end <= spare_reach(tool):
            return tool, True
    ends = "both ends" if through and both is not False else "one end"
    room = {t.name: spare_reach(t) - tip(t) - (OVERRUN if through else 0.0) for t in near}
    name = max(room, key=lambda each: room[each])
    # Down to a tenth, so that what is said to be allowed is.
    best = math.floor(10.0 * (2.0 * room[name] - overlap if ends == "both ends" else room[name])) / 10.0
    door.complain("depth", f"{deep:g} mm", f"no more than {best:g} mm from {ends} with {name}",
                  "a longer drill in the rack, or a shorter hole", Impossible, value=Q_(deep, U.mm),
                  most=Q_(best, U.mm), because=(f"{name} reaches no further from {ends}",))  # fmt: skip
    return None


def _one_end(
    job: Job, tools: Rack, tool: Tool, end: int, travel: float, pilot: Any, notes: list[str]
) -> list[HoleStep]:
    """Center drill, pilot and drill, from one end."""
    d, steps, hole = plain_tool(tool).diameter, [], 0.0
    starts = [t for t in by_kind(tools)["center_drill"] if plain_tool(t).diameter <= d]
    if starts:
        steps.append(drill_step(job, "center drill", end, starts[-1], plain_tool(starts[-1]).reach))
    else:
        notes.append("no center drill small enough in the rack: the drill will walk where it starts")
    if pilot is True or (pilot == "auto" and d >= PILOT_FROM):
        fits = [t for t in by_kind(tools)["drill"] if PILOT_LEAST <= plain_tool(t).diameter / d <= PILOT_MOST]
        fits = [t for t in fits if spare_reach(t) >= travel]
        if fits:
            hole = plain_tool(fits[0]).diameter
            steps.append(drill_step(job, "pilot", end, fits[0], travel))
        else:
            notes.append(
                f"no drill in the rack from {PILOT_LEAST * d:.1f} to {PILOT_MOST * d:.1f} mm reaches as a pilot"
            )
    return [*steps, drill_step(job, "drill", end, tool, travel, hole)]


def _meeting(extra: list[float], full: float) -> Meeting:
    over, tir, rate = extra
    step, worst, allow, sure = kernel.meeting(tir / 2.0, rate / 100.0, (full, full))
    return Meeting(Q_(over, U.mm), Q_(tir, U.mm), Q_(rate, ureg.dimensionless), Q_([full, full], U.mm), Q_(step, U.mm),
                   Q_(worst, U.mm), Q_(allow, U.mm), Q_(sure, U.mm))  # fmt: skip


def _grip(step: HoleStep, machine: Lathe, held: float, stands: bool, friction: float) -> float:
    """What the jaws need at rest for a step, at its speed and its highest load [N]."""
    jaws = plain_lathe(machine)
    flung = centrifugal(3, jaws.jaw_mass, jaws.jaw_radius, step.spindle.m_as(U.rpm))
    around = 2000.0 * step.torque.max.m_as("N*m") / held
    hold = needed(around, 0.0 if stands else step.thrust.max.m_as(U.N), friction)
    return required(SAFETY * hold, flung, False, SAFETY)
