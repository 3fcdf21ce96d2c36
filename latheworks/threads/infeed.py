"""The passes of a single-point thread, checked at the door and computed by the infeed kernel."""

import math
from typing import Any

import numpy as np

from latheworks.cutting import angle_in_degrees
from latheworks.door import Door, given
from latheworks.errors import Impossible, LatheworksError, OutOfRange
from latheworks.materials import Material, pick
from latheworks.shop import Lathe
from latheworks.shop import lathe as teaching_lathe
from latheworks.threads import infeed_kernel as kernel
from latheworks.threads.forms import Form, form, longest, surface, usual_length
from latheworks.threads.infeed_notes import notes_for
from latheworks.threads.infeed_schedule import InfeedSchedule
from latheworks.threads.thread import Thread
from latheworks.threads.thread import thread as read_thread
from latheworks.units import Q_, U

# A teaching cap for single-point threading: common practice, no source.
CAP = 500.0
# How far under the half angle of the thread each method's compound stands, in degrees; None is the cross slide alone.
_UNDER = {"radial": None, "flank": 0.0, "modified flank": 0.5, "alternating flank": 0.0}
_MOST_UNDER = 5.0
_LENGTH = 'length=Q_(20, "mm")'
_PER_MIN = {"metric": U.mm_per_min, "inch": U.inch / U.min}
_AREA = {"metric": U.mm2, "inch": U.inch**2}


def infeed(thread: Any, passes: Any = None, law: Any = "equal area", method: Any = "radial", *,
           compound_angle: Any = None, least_depth: Any = None, spring_passes: Any = 2, spindle: Any = None,
           material: Any = "aluminum 6061-T6", lathe: Any = None, depth: Any = None,
           length: Any = None) -> InfeedSchedule:  # fmt: skip
    """Return the passes that cut a thread with a single-point tool, with chip, force, speed limit and time.

    Depth after pass k of n: equal area h sqrt(k/n); equal depth h k/n; eased first pass h sqrt(psi/(n - 1)) with
    psi = 0.3, 1, 2, 3, ... Compound travel = depth / cos(angle), side shift = depth tan(angle). Chip areas are exact
    for a tool of the thread's angle (60, 29, 30 or 55 degrees) with a flat; force by Kienzle's form on root and
    flanks. Run-in = v^2/(2a).

    Parameters:
    thread, a Thread or its designation; passes [2 to 200]: when not given, the fewest from 4 up that load the tool no
    more than a first cut of 0.25 mm x sqrt(pitch/1 mm) straight in (common practice, no source);
    law, "equal area", "equal depth" or "eased first pass"; method, "radial", "flank", "modified flank" or
    "alternating flank"; compound_angle from the cross slide's direction [deg]: 0 radial, half the thread's angle for
    flank (30 for 60), up to 5 less for modified flank (half a degree less when not given: 29.5 for 60; the tool's
    included angle stays the thread's), either for alternating flank;
    least_depth, the smallest step allowed [mm, above 0; 0.02 mm when not given, below which a tool tends to rub:
    common practice]; spring_passes at full depth [0 to 10], of no nominal chip; spindle [rev/min, from the lathe's
    slowest to the limit; when not given, the material's threading speed at the major diameter, rounded down to tens
    and within the limit]; material, a name or a Material; lathe, a Lathe, the teaching lathe when not given;
    depth of the groove on the radius [mm; 17/24 H = 0.6134 P external, 5/8 H = 0.5413 P internal, 11/16 H = 0.5954 P
    with the UNR root; ACME and trapezoidal P/2 and the clearance; NPT 0.8 P, G 0.6403 P, when not given]; length of
    the thread [mm, above 0; one major diameter when not given; NPT: L2, or L1 + L3 in a fitting, and at most L4].
    A taper thread is cut from a blank of the same taper; `start_diameter` and `finish_diameter` are where the tool's
    point starts and ends each pass.

    The spindle limit is the least of the carriage's largest feed / lead, 500 rev/min (a teaching cap: common
    practice, no source) and the lathe's top speed. A speed above it is refused, never lowered for you.
    Raises LatheworksError with one message for all arguments that do not fit.
    Source: square root law from the geometry of a V; eased first pass, Sandvik Coromant manual on thread turning
    p. 114; V chip in three zones, Akyildiz 2013.

    >>> schedule = infeed("M16x1.5-6g", passes=6)
    >>> schedule.depth[:6].round(3).magnitude.tolist()
    [0.376, 0.531, 0.651, 0.751, 0.84, 0.92]
    """
    with Door("infeed") as door:
        cut = _thread(door, thread)
        known = not door.complaints
        law = door.choice(law, "law", kernel.LAWS)
        method = door.choice(method, "method", kernel.METHODS)
        shape = form(cut)
        angle = _angle(door, compound_angle, method, shape.half_angle)
        stuff = pick(door, material)
        machine = _lathe(door, lathe)
        pitch, lead, major = cut.pitch.m_as(U.mm), cut.lead.m_as(U.mm), cut.major.m_as(U.mm)
        total, flat = _depth(door, depth, shape, known)
        least = (
            0.02
            if least_depth is None
            else door.number(least_depth, "least_depth", "mm", above=0, example='least_depth=Q_(0.02, "mm")')
        )
        count = _passes(door, passes, law, total, flat, shape, least)
        spring = door.whole(spring_passes, "spring_passes", most=10)
        span = (
            usual_length(cut)
            if length is None
            else door.number(
                length,
                "length",
                "mm",
                above=0,
                most=longest(cut) * (1 + 1e-9),
                example=f'length=Q_({usual_length(cut):.4g}, "mm")' if cut.planes else _LENGTH,
            )
        )
        limit, reason = spindle_limit(machine, lead) if known else (math.inf, "")
        turns = _spindle(door, spindle, machine, limit, reason, stuff, major)

    depths = kernel.cumulative_depth(law, total, count)
    slope = math.tan(math.radians(angle))
    shift, from_center = kernel.shifts(method, depths, slope)
    areas = kernel.pass_areas(depths, flat, shape.tan)
    along = method in ("flank", "modified flank")
    travel = depths / math.cos(math.radians(angle)) if along else depths
    force = None
    if stuff.specific_cutting_force is not None and stuff.chip_thickness_exponent is not None:
        specific = stuff.specific_cutting_force.m_as(U.MPa)
        force = kernel.pass_forces(depths, flat, slope, specific, stuff.chip_thickness_exponent, shape.tan)
    feed = turns * lead
    run_in = (feed / 60) ** 2 / (2 * machine.acceleration.m_as("mm/s**2"))
    way = span + run_in
    seconds = 60 * cut.starts * (count + spring) * (way / feed + way / machine.largest_feed.m_as(U.mm_per_min))

    cuts_in = -2.0 if cut.external else 2.0
    metric = cut.pitch.units == U.mm
    system, unit, scale = ("metric", U.mm, 1.0) if metric else ("inch", U.inch, 1 / 25.4)

    def held(values: np.ndarray) -> np.ndarray:
        return np.concatenate((values, np.full(spring, values[-1])))

    def still(values: np.ndarray) -> np.ndarray:
        return np.concatenate((values, np.zeros(spring)))

    return InfeedSchedule(
        thread=cut, law=law, method=method, total_depth=Q_(total * scale, unit), passes=count, spring_passes=spring,
        depth=Q_(held(depths) * scale, unit), step=Q_(still(np.diff(depths, prepend=0.0)) * scale, unit),
        start_diameter=Q_((surface(cut, 0.0) + cuts_in * held(depths)) * scale, unit),
        finish_diameter=Q_((surface(cut, span) + cuts_in * held(depths)) * scale, unit),
        side_shift=Q_(held(shift) * scale, unit), from_center=Q_(held(from_center) * scale, unit),
        slide_travel=Q_(held(travel) * scale, unit), area=Q_(still(areas) * scale**2, _AREA[system]),
        force=None if force is None else Q_(still(force), U.N), flat=Q_(flat * scale, unit),
        compound_angle=Q_(angle, U.deg), spindle=Q_(turns, U.rpm), spindle_limit=Q_(limit, U.rpm),
        spindle_reason=reason, feed=Q_(feed * scale, _PER_MIN[system]), run_in=Q_(run_in * scale, unit),
        start_shift=Q_(pitch * scale if cut.starts > 1 else 0.0, unit),
        start_turn=Q_(360.0 / cut.starts if cut.starts > 1 else 0.0, U.deg),
        length=Q_(span * scale, unit), time=Q_(seconds, U.s), material=stuff, lathe=machine,
        notes=notes_for(cut, law, method, stuff, passes is None, depth is None, spindle is None),
    )  # fmt: skip


def spindle_limit(machine: Lathe, lead: float) -> tuple[float, str]:
    """The highest spindle speed [rev/min] for a lead [mm] on a lathe, and why it is that one."""
    feed = machine.largest_feed.m_as(U.mm_per_min)
    return min(
        (feed / lead, f"the carriage: at most {feed:g} mm/min, over {lead:.4g} mm a turn"),
        (CAP, f"a teaching cap of {CAP:g} turns a minute for single-point threading (common practice, no source)"),
        (machine.fastest_spindle.m_as(U.rpm), "the lathe's top speed"),
    )


def _thread(door: Door, value: Any) -> Thread:
    """The thread asked for, or a fill-in after a complaint."""
    fill_in = read_thread("M10x1.5-6g")
    if isinstance(value, str):
        try:
            found = read_thread(value)
        except LatheworksError as error:
            door.complain("thread", given(value), f"a designation ({str(error).rstrip('.')})",
                          'thread="M10x1.5-6g"', type(error))  # fmt: skip
            return fill_in
    else:
        hint = 'thread("1/2-13 UNC-2A")'
        found = door.instance(value, "thread", Thread, "a Thread or its designation", hint) or fill_in
    return found


def _angle(door: Door, value: Any, method: str, half: float) -> float:
    """The compound's angle in degrees that a method works at, for a thread of so much half angle."""
    under = _UNDER[method]
    usual = 0.0 if under is None else half - under
    if value is None:
        return usual
    hint, before = f'compound_angle=Q_({usual:g}, "degree")', len(door.complaints)
    degrees = angle_in_degrees(door, value, "compound_angle", least=0, most=90, example=hint)
    low = half - _MOST_UNDER
    least, most = {"radial": (0.0, 0.0), "flank": (half, half)}.get(method, (low, half))
    good = least - 1e-9 <= degrees <= most + 1e-9 and not (method == "modified flank" and degrees > half - 1e-6)
    if not good and len(door.complaints) == before:
        near = half - 0.5
        wanted = {
            "radial": "0 degrees or nothing: radial infeed moves the cross slide alone",
            "flank": f'exactly {half:g} degrees for "flank"; {half - 1:g} to {near:g} is method="modified flank"',
            "modified flank": f"{low:g} up to below {half:g} degrees from the cross slide's direction, usually "
            f"{half - 1:g} to {near:g}: less goes in nearly straight, more cuts into the flank that stays; a dial "
            f"counted from the axis shows {90 - near:g} for {near:g}",
        }.get(method, f"{low:g} to {half:g} degrees: less goes in nearly straight, more cuts into the flank that stays")
        door.complain("compound_angle", given(value), wanted, hint, OutOfRange)
        return usual
    return degrees if good else usual


def _lathe(door: Door, value: Any) -> Lathe:
    """The lathe asked for, or the teaching lathe."""
    if value is None:
        return teaching_lathe()
    hint = 'lathe("my_lathe.toml"), or leave it out'
    return door.instance(value, "lathe", Lathe, "a Lathe", hint) or teaching_lathe()


def _depth(door: Door, value: Any, shape: Form, known: bool) -> tuple[float, float]:
    """Depth of the groove and flat of the tool that leaves the groove as wide as the form asks, both in mm."""
    usual = shape.depth
    if value is None:
        return usual, shape.flat(usual)
    hint = f'depth=Q_({usual:.4g}, "mm"), or leave it out'
    total, deepest = door.number(value, "depth", "mm", above=0, example=hint), shape.opening / (2 * shape.tan)
    if total > deepest * (1 + 1e-9) and known:
        expected = f"at most {deepest:.4g} mm, where even a sharp point leaves the groove too wide"
        door.complain("depth", given(value), expected, hint, OutOfRange)
        return usual, shape.flat(usual)
    return total, shape.flat(total)


def _passes(door: Door, value: Any, law: str, total: float, flat: float, shape: Form, least: float) -> int:
    """The number of passes, given or chosen, each of them at least the least depth."""
    if value is None:
        count = kernel.choose_passes(law, total, flat, shape.pitch, least, shape.tan)
    else:
        count = door.whole(value, "passes", least=2, most=kernel.MOST_PASSES)
    smallest = float(kernel.smallest_step(law, total, float(count)))
    # After another complaint the numbers here may be fill-ins, and a second complaint about them would mislead.
    if smallest < least * (1 - 1e-9) and not door.complaints:
        most = kernel.most_passes(law, total, least)
        fits = kernel.smallest_step(law, total, float(most)) >= least
        hint = f"passes={most}, or a smaller least_depth" if fits else f'least_depth=Q_({smallest / 2:.2g}, "mm")'
        got = f"{count}, whose smallest step is {smallest:.2g} mm"
        expected = f"no step below the least depth of {least:.4g} mm, since a tool rubs there"
        door.complain("passes", got, expected, hint, Impossible, value=count, most=most if fits else None,
                      because=("the thinnest step would be ", Q_(smallest, U.mm), ", and below ", Q_(least, U.mm),
                               " a tool rubs instead of cutting"))  # fmt: skip
    return count


def _spindle(door: Door, value: Any, machine: Lathe, limit: float, reason: str, stuff: Material, major: float) -> float:
    """The spindle speed in rev/min: as given and allowed, or from the material's threading speed."""
    slowest = machine.slowest_spindle.m_as(U.rpm)
    if limit < slowest:
        door.complain("lathe", f"slowest spindle {slowest:g} rev/min", f"at most {limit:.4g} ({reason})",
                      "a lathe with a slower spindle, or a smaller lead", Impossible)  # fmt: skip
        return slowest
    if value is None:
        by_speed = stuff.threading_speed.m_as(U.mm_per_min) / (math.pi * major)
        return max(slowest, min(math.floor(by_speed / 10) * 10.0, limit))
    turns = door.number(value, "spindle", "rev/min", least=slowest, example=f'spindle=Q_({slowest:g}, "rev/min")')
    if turns > limit * (1 + 1e-12):
        door.complain("spindle", given(value), f"at most {limit:.4g} rev/min, set by {reason}",
                      f'spindle=Q_({math.floor(min(limit, CAP))}, "rev/min") or less', OutOfRange,
                      value=value, most=Q_(float(math.floor(limit)), U.rpm), because=(reason,))  # fmt: skip
    return turns
