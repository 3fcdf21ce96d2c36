"""Cutting a groove with a blade: plunges, floor and walls, and a load that the blade can bear."""

from typing import Any

import numpy as np

from latheworks.cutting import kienzle, pair, spindle_for
from latheworks.door import Door
from latheworks.errors import WrongUnit
from latheworks.materials import pick
from latheworks.passes import groove_kernel as kernel
from latheworks.passes.groove_result import GroovePasses
from latheworks.passes.profile import LARGEST, Groove
from latheworks.passes.reach_tool import STEEL, TurningTool
from latheworks.shop import Lathe
from latheworks.shop import lathe as teaching_lathe
from latheworks.units import Q_, U, check_system

# Common practice: a blade deeper in than this times its width feeds at half; and a maker's limit in steel.
DEEP, DEEPEST = 4.0, 8.0
MOST_STEPS = 2000
BACK = 1.0  # out of the cut before the blade goes in again [mm]
_GROOVE = 'groove=Groove(Q_(20, "mm"), Q_(3, "mm"), Q_(26, "mm"))'
_TOOL = 'tool=TurningTool(blade_width=Q_(2, "mm"), reach=Q_(8, "mm"))'


def groove_passes(groove: Any, diameter: Any, tool: Any, material: Any, surface_speed: Any, feed: Any = None,
                  overlap: Any = None, allowance: Any = None, peck: Any = None, speed_share: Any = None,
                  allowed_stress: Any = None, side: Any = "outside", lathe: Any = None,
                  system: Any = "metric") -> GroovePasses:  # fmt: skip
    """Return how a blade cuts a groove: plunges, pecks, the finish of walls and floor, load, time, and its limits.

    The first plunge goes in at the middle, the others step out over what is open by the overlap, all of them an
    allowance short of floor and walls; then the blade comes down each wall and along half of the floor. Slower than
    turning, since the chip is squeezed between walls, and with half of the feed where a blade is more than 4 times
    its width deep. The feed is cut further until the clamped blade bears its force: sigma = 6 F L / (w h^2).

    Parameters: groove, a Groove; diameter at its mouth [mm, above 0 to 10 m]; tool, a TurningTool with a
    blade_width; material, a name or a Material; surface_speed for turning this material [m/min, above 0 to 5000];
    feed [mm/rev, 0.01 to 1; 0.002 in a turn when left out]; overlap of a plunge with the one before [mm, 0 to less
    than the blade; a tenth of the blade]; allowance on floor and walls [mm, 0 to 2; 0.1, none for a blade as wide
    as the groove]; peck, deepest step before drawing back [mm, above 0; the blade's width]; speed_share of the
    turning speed [percent, 5 to 100; 50]; allowed_stress in the blade [MPa, 10 to 2000; 300]; side, "outside" or
    "inside"; lathe, the teaching lathe when left out; system, "metric" or "inch" for the text.

    Raises LatheworksError for a blade too wide, corners too round, a groove deeper than the reach, a blade that
    bears no feed, more than 2000 steps. Source: feed: a US training manual (army_parting); depth of 8 widths in
    steel: a tool maker (blade_depth); shares, overlap, pecks, stress: common practice; load: a clamped beam.

    >>> grip = Groove(Q_(200, "mm"), Q_(5, "mm"), Q_(29, "mm"), 3, Q_(10, "mm"))
    >>> blade = TurningTool(blade_width=Q_(3, "mm"), reach=Q_(8, "mm"))
    >>> groove_passes(grip, Q_(32, "mm"), blade, "6061", Q_(100, "m/min")).plunges.size
    3
    """
    system = check_system(system)
    with Door("groove_passes") as door:
        cut = door.instance(groove, "groove", Groove, "a Groove", _GROOVE)
        mouth = door.number(diameter, "diameter", "mm", above=0, most=LARGEST, example='diameter=Q_(32, "mm")')
        blade = door.instance(tool, "tool", TurningTool, "a TurningTool with a blade", _TOOL)
        if blade is not None and blade.blade_width is None:
            door.complain("tool", blade.title(), "a blade", _TOOL)
            blade = None
        width = 3.0 if blade is None else blade.blade_width.m_as(U.mm)
        stuff = pick(door, material)
        specific, exponent = pair(door, stuff)
        speed = door.number(surface_speed, "surface_speed", "m/min", above=0, most=5000,
                            example='surface_speed=Q_(60, "m/min")')  # fmt: skip
        asked = door.number(Q_(0.002, "in/rev") if feed is None else feed, "feed", "mm/rev", least=kernel.LEAST_FEED,
                            most=1, example='feed=Q_(0.05, "mm/rev")')  # fmt: skip
        over = door.number(Q_(width / 10, U.mm) if overlap is None else overlap, "overlap", "mm", least=0,
                           most=0.9 * width, example=f'overlap=Q_({width / 10:g}, "mm")')  # fmt: skip
        exact = cut is not None and cut.width.m_as(U.mm) - width < 0.05
        left = door.number(Q_(0.0 if exact else 0.1, U.mm) if allowance is None else allowance, "allowance", "mm",
                           least=0, most=2, example='allowance=Q_(0.1, "mm")')  # fmt: skip
        step = door.number(Q_(width, U.mm) if peck is None else peck, "peck", "mm", above=0, most=1000,
                           example=f'peck=Q_({width:g}, "mm")')  # fmt: skip
        share = door.number(Q_(50, "percent") if speed_share is None else speed_share, "speed_share", "percent",
                            least=5, most=100, example='speed_share=Q_(50, "percent")')  # fmt: skip
        stress = door.number(Q_(300.0, U.MPa) if allowed_stress is None else allowed_stress, "allowed_stress", "MPa",
                             least=10, most=2000, example='allowed_stress=Q_(300, "MPa")')  # fmt: skip
        inside = door.choice(side, "side", ("outside", "inside")) == "inside"
        machine = teaching_lathe() if lathe is None else door.instance(
            lathe, "lathe", Lathe, "a Lathe", 'lathe("my_lathe.toml"), or leave it out')  # fmt: skip
        deep = 0.0
        if cut is not None and blade is not None:
            deep = _fits(door, cut, mouth, blade, inside, left)
        if not door.complaints:
            across = 2 * (1 + int(cut.width.m_as(U.mm) / (width - over)))
            count = int(np.ceil(max(deep - left, 1e-9) / step - 1e-9)) * across
            if count > MOST_STEPS:
                door.complain("peck and overlap", f"some {count} steps", f"at most {MOST_STEPS}", "deeper pecks")
    lightest, reasons = asked, []
    if deep > DEEP * width:
        lightest = max(kernel.LEAST_FEED, asked / 2)
        reasons.append(f"halved: deeper than {DEEP:g} times the blade's width")
    height = _height(blade)
    bearable = stress * width * height**2 / (6 * _free(blade))
    most = kernel.feed_for(bearable, specific, exponent, width)
    with Door("groove_passes") as door:
        if most < kernel.LEAST_FEED:
            door.complain("tool", f"a blade {width:g} mm wide, {_free(blade):g} mm free, that bears {bearable:.0f} N",
                          f"one that bears a feed of {kernel.LEAST_FEED:g} mm a turn in {stuff.name}",
                          "a shorter reach or a stiffer holder")  # fmt: skip
    if most < lightest:
        lightest = most
        reasons.append("cut to what the blade bears")
    return _planned(cut, mouth, blade, (specific, exponent, stuff.name), (speed, share, asked, lightest, reasons),
                    (over, left, step, deep), inside, machine, system)  # fmt: skip


def _free(blade: TurningTool) -> float:
    """How far the blade stands out [mm]."""
    return float(blade.reach.m_as(U.mm))


def _height(blade: TurningTool) -> float:
    """The blade's height: of the shank outside, of the bar inside [mm]."""
    return float(blade.shank.m_as(U.mm))


def _fits(door: Door, cut: Groove, mouth: float, blade: TurningTool, inside: bool, left: float) -> float:
    """Refuse a blade that cannot cut this groove; return the depth on the radius [mm]."""
    width, room = blade.blade_width.m_as(U.mm), cut.width.m_as(U.mm)
    deep = (cut.diameter.m_as(U.mm) - mouth) / 2 * (1.0 if inside else -1.0)
    if deep <= 0:
        door.complain("diameter", f"{mouth:g} mm at the mouth and {cut.diameter.m_as(U.mm):g} mm at the floor",
                      "a floor deeper than the mouth", f'side="{"outside" if inside else "inside"}"')  # fmt: skip
        return 0.0
    if width > room + 1e-9:
        door.complain("tool", f"a blade {width:g} mm wide for a groove of {room:g} mm", "one no wider than the groove",
                      f'TurningTool(blade_width=Q_({0.7 * room:.2g}, "mm"))')  # fmt: skip
    elif width + 2 * left > room + 1e-9 and left > 0:
        door.complain("allowance", f"{left:g} mm at both walls, with a blade of {width:g} mm in {room:g} mm",
                      "room for the blade between them", 'allowance=Q_(0, "mm")')  # fmt: skip
    if left >= deep:
        door.complain("allowance", f"{left:g} mm in a groove {deep:g} mm deep", "less than the depth",
                      f'allowance=Q_({deep / 10:.2g}, "mm")')  # fmt: skip
    if deep > blade.reach.m_as(U.mm) + 1e-9:
        door.complain("tool", f"a reach of {blade.reach.m_as(U.mm):g} mm for a groove {deep:g} mm deep",
                      "a blade that stands out further", f'reach=Q_({deep + 1:.3g}, "mm")')  # fmt: skip
    if (blade.bar_length is None) == inside:
        door.complain("tool", f"{blade.title()} on a {'shank' if inside else 'bar'}",
                      f"a blade on a {'bar inside a bore' if inside else 'shank outside'}",
                      "bar_length of the tool", WrongUnit)  # fmt: skip
    nose, corner = blade.nose_radius.m_as(U.mm), cut.floor_radius.m_as(U.mm)
    if nose > corner + 1e-9:
        door.complain("tool", f"corners of {nose:g} mm for {corner:g} mm in the groove", "corners no rounder than the "
                      "groove's", f'nose_radius=Q_({corner:g}, "mm")')  # fmt: skip
    return deep


def _planned(cut: Groove, mouth: float, blade: TurningTool, stuff: tuple[float, float, str],
             rates: tuple[float, float, float, float, list[str]], steps: tuple[float, float, float, float],
             inside: bool, machine: Lathe, system: str) -> GroovePasses:  # fmt: skip
    specific, exponent, name = stuff
    speed, share, asked, feed, reasons = rates
    over, left, peck, deep = steps
    width, room = blade.blade_width.m_as(U.mm), cut.width.m_as(U.mm)
    largest = max(mouth, cut.diameter.m_as(U.mm))
    turning = spindle_for(Q_(speed * share / 100, U.m_per_min), Q_(largest, U.mm), machine)
    turns = turning.spindle.m_as(U.rpm)
    places, taken = kernel.plunges(room, width, over, left)
    stops = kernel.pecks(deep - left, peck)
    rapid = machine.largest_feed.m_as("mm/min")
    each = kernel.plunge_time(stops, feed, turns, rapid, BACK) * places.size
    finish = 0.0
    if left > 0:
        finish = (2 * deep + (room - width)) / (feed * turns) + 4 * (deep + BACK) / rapid
    # From one groove to the next the blade goes over at the rapid.
    minutes = cut.count * (each + finish) + (cut.count - 1) * cut.spacing.m_as(U.mm) / rapid
    force = float(kienzle(specific, exponent, width, feed))
    free, high = _free(blade), _height(blade)
    stress, sag = kernel.blade_load(force, free, width, high, STEEL)
    side_force = float(kienzle(specific, exponent, left, feed)) if left > 0 else 0.0
    bend = kernel.sideways(side_force / 2, free, width, high, STEEL)
    notes = []
    if deep > DEEPEST * width:
        notes.append(f"{deep / width:.1f} blade widths deep; a maker of blades says at most {DEEPEST:g} in steel")
    if turning.limited_by:
        notes.append(turning.limited_by)
    middle = cut.start.m_as(U.mm) + room / 2
    return GroovePasses(
        cut, blade, name, Q_(middle + places, U.mm), Q_(taken, U.mm), Q_(stops, U.mm), Q_(deep, U.mm), Q_(left, U.mm),
        Q_(turns, U.rpm), turning.surface_speed, Q_(feed, U.mm_per_rev), Q_(asked, U.mm_per_rev), "; ".join(reasons),
        Q_(force, U.N), Q_(stress, U.MPa), Q_(sag, U.mm), Q_(bend, U.mm), Q_(minutes, U.min), tuple(notes), system,
    )  # fmt: skip
