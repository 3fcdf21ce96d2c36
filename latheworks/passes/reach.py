"""What a tool can reach: the profile that it leaves of the one wanted."""

from dataclasses import replace
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import WrongUnit
from latheworks.passes.profile import LARGEST, Profile
from latheworks.passes.profile_outline import area_between, height, ring_volume
from latheworks.passes.reach_kernel import HAIR, Closing, closing
from latheworks.passes.reach_result import Reach, Standing
from latheworks.passes.reach_shape import extent
from latheworks.passes.reach_tool import TurningTool
from latheworks.units import Q_, U, check_system

# Less than this on the radius, or in the section, is no material left but arithmetic.
LEAST_HEIGHT = 0.005
LEAST_AREA = 2e-4
_MM3 = U.mm2 * U.mm
_TOOL = 'tool=TurningTool("D")'
_PROFILE = 'profile=Profile([(Q_(0, "mm"), Q_(30, "mm")), (Q_(80, "mm"), Q_(30, "mm"))])'


def reach(profile: Any, tool: Any, jaws: Any = None, center: Any = None, clearance: Any = None,
          system: Any = "metric") -> Reach:  # fmt: skip
    """Return the profile that a tool can leave, with what stays standing and why.

    The closing of the wanted profile by the tool's shape: every place that the nose can take without any piece of
    insert, shank or bar cutting into the wanted profile, jaws or center, and what those places together leave. A fall
    behind the nose steeper than 180 - entering angle - insert angle, a corner tighter than the nose, a groove
    narrower than the blade or deeper than its reach all stay. Beyond both ends of the profile there is nothing but
    jaws and center. An inside tool is a bar that comes in from the open end, away from the chuck. Edges of an insert
    are taken as long as the reach: look at its real edge too.

    Parameters: profile, a Profile; tool, a TurningTool, with a bar_length for an inside profile; jaws, (where their
    face is, their outside diameter) [mm]; center, (where it begins, its diameter) [mm]; clearance kept to jaws and
    center [mm, 0 to 100; 2 when left out]; system, "metric" or "inch" for the text. Jaws and center are for an
    outside profile. Heights below 0.005 mm are not called standing.

    Raises LatheworksError for what is no profile or tool, a bar for the outside or a shank for the inside.
    Source: grey closing, from memory of any text on mathematical morphology; the clearance: common practice.

    >>> step = Profile([(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(0, 20), (30, 20), (30, 30), (60, 30)]])
    >>> found = reach(step, TurningTool("D", Q_(93, "degree"), Q_(0.4, "mm")))
    >>> found.standing[0].why
    'the surface falls more steeply than the back of the insert clears'
    """
    system = check_system(system)
    with Door("reach") as door:
        shape = door.instance(profile, "profile", Profile, "a Profile", _PROFILE)
        cutter = door.instance(tool, "tool", TurningTool, "a TurningTool", _TOOL)
        gap = 2.0 if clearance is None else door.number(clearance, "clearance", "mm", least=0, most=100,
                                                        example='clearance=Q_(2, "mm")')  # fmt: skip
        chuck, point = _block(door, jaws, "jaws"), _block(door, center, "center")
        if shape is not None and cutter is not None:
            _suits(door, shape, cutter)
            if shape.inside and (chuck or point):
                door.complain("jaws and center", "given for an inside profile", "None inside: the bar comes from the "
                              "open end", "to leave them out", WrongUnit)  # fmt: skip
    return _reach(shape, cutter, chuck, point, gap, system)


def _suits(door: Door, profile: Profile, tool: TurningTool) -> None:
    """A bar for the inside, a shank for the outside."""
    if profile.inside and tool.bar_length is None:
        door.complain("tool", f"{tool.title()}, on a shank", "a boring tool for an inside profile",
                      'TurningTool("C", shank=Q_(12, "mm"), reach=Q_(3, "mm"), bar_length=Q_(60, "mm"))')  # fmt: skip
    if not profile.inside and tool.bar_length is not None:
        door.complain("tool", f"{tool.title()}, on a bar", "a tool on a shank for an outside profile", _TOOL)


def _block(door: Door, value: Any, name: str) -> tuple[float, float] | None:
    """Where a block begins and its radius [mm]."""
    if value is None:
        return None
    example = f'{name}=(Q_(0, "mm"), Q_(80, "mm"))'
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        door.complain(name, given(value), "a pair (where it begins, its diameter)", example, WrongUnit)
        return None
    where = door.number(value[0], f"{name}, place", "mm", least=-LARGEST, most=LARGEST, example=example)
    size = door.number(value[1], f"{name}, diameter", "mm", above=0, most=LARGEST, example=example)
    return where, size / 2


def closed(profile: Profile, tool: TurningTool, jaws: tuple[float, float] | None = None,
           center: tuple[float, float] | None = None, gap: float = 0.0) -> Closing:  # fmt: skip
    """The closing on plain floats, nothing left above the stock."""
    z, f = profile.z, height(profile.radius, profile.inside)
    before, behind = extent(tool.parts)
    wide = max(max(abs(part.start), abs(part.end)) for part in tool.parts) + before + behind
    wide = min(wide, 500.0)
    steps = np.linspace(0.0, wide, 200)
    blocks = []
    if jaws is not None:
        blocks.append(("jaws", jaws[0] + gap - steps[::-1], np.full(200, jaws[1] + gap)))
    if center is not None:
        blocks.append(("center", center[0] - gap + steps, np.full(200, center[1] + gap)))
    limit = None
    if profile.inside:
        limit = _way_in(profile, tool)
    blind = profile.inside and profile.radius[0] == 0.0
    top = height(np.array(profile.stock.m_as(U.mm) / 2), profile.inside)
    found = closing(z, f, tool.parts, blind, tuple(blocks), limit, float(top))
    return replace(found, left=np.minimum(found.left, top))


def _way_in(profile: Profile, tool: TurningTool) -> tuple[str, float]:
    """How far toward the chuck a bar gets: by its length, or by the first bore too small for bar and tip together."""
    end = float(profile.z[-1])
    before, _ = extent(tool.parts)
    limit = ("bar length", end - tool.bar_length.m_as(U.mm) + before)
    needs = tool.shank.m_as(U.mm) + tool.reach.m_as(U.mm)
    narrow = np.flatnonzero(2 * profile.radius < needs - 1e-9)
    if narrow.size:
        last = int(narrow[-1])
        stop = float(profile.z[last])
        if last + 1 < profile.z.size:  # a taper: where it comes down to what the bar needs
            run, rise = profile.z[last + 1] - stop, profile.radius[last + 1] - profile.radius[last]
            stop += float(run * (needs / 2 - profile.radius[last]) / rise)
        if stop + before > limit[1]:
            limit = ("bore", stop + before)
    return limit


def _reach(profile: Profile, tool: TurningTool, jaws: tuple[float, float] | None, center: tuple[float, float] | None,
           gap: float, system: str) -> Reach:  # fmt: skip
    found = closed(profile, tool, jaws, center, gap)
    sign = -1.0 if profile.inside else 1.0
    pieces = _grouped(profile, _pieces(found, sign))
    area = sum(piece.area.m_as(U.mm2) * piece.count for piece in pieces)
    volume = sum(piece.volume.m_as(_MM3) * piece.count for piece in pieces)
    return Reach(profile, tool, Q_(found.z, U.mm), Q_(2 * sign * found.wanted, U.mm), Q_(2 * sign * found.left, U.mm),
                 pieces, Q_(area, U.mm2), Q_(volume, _MM3), Q_(found.place, U.mm), Q_(2 * sign * found.lowest, U.mm),
                 tuple(found.names[k] for k in found.stopped_by), system)  # fmt: skip


def _pieces(found: Closing, sign: float) -> list[Standing]:
    """Each unbroken run of material left."""
    z, gap = found.z, found.left - found.wanted
    over = np.concatenate([[False], gap > LEAST_HEIGHT, [False]])
    starts, stops = np.flatnonzero(over[1:] & ~over[:-1]), np.flatnonzero(~over[1:] & over[:-1])
    share = np.gradient(z) * gap if z.size > 1 else gap
    pieces = []
    for i, j in zip(starts, stops, strict=True):
        low, high = max(i - 1, 0), min(j + 1, z.size)
        part = slice(low, high)
        area = area_between(z[part], found.wanted[part], found.left[part])
        if area < LEAST_AREA:
            continue
        volume = ring_volume(z[part], sign * found.wanted[part], sign * found.left[part])
        reason = _reason(found, np.arange(i, j), share)
        pieces.append(Standing(Q_(float(z[i]), U.mm), Q_(float(z[j - 1]), U.mm), Q_(area, U.mm2),
                               Q_(float(gap[i:j].max()), U.mm), Q_(volume, _MM3), reason, 1))  # fmt: skip
    return pieces


def _reason(found: Closing, run: np.ndarray, share: np.ndarray) -> str:
    """What keeps the tool out of a piece: of all reasons along it, the one for most of the area."""
    weight: dict[str, float] = {}
    names = np.array(found.names)
    formed, held = names[found.formed_by[run]], names[found.held_by[run]]
    for by, on, area in zip(formed, held, share[run], strict=True):
        # What holds the tool up tells more than the edge that shapes the rest, but the nose nearly always touches.
        word = on if on not in ("nose", "floor") else by
        word = "blade" if word == "floor" else word
        weight[word] = weight.get(word, 0.0) + float(area)
    return str(max(weight, key=lambda word: weight[word]))


def _grouped(profile: Profile, pieces: list[Standing]) -> tuple[Standing, ...]:
    """The pieces, those that come again in each of a row of grooves told once with their count."""
    told: list[Standing] = []
    for piece in pieces:
        for groove in profile.grooves or ():  # type: ignore[union-attr]
            apart = groove.spacing.m_as(U.mm)
            first, last = groove.starts[0] - HAIR, groove.starts[-1] + groove.width.m_as(U.mm) + HAIR
            start = piece.start.m_as(U.mm)
            if groove.count == 1 or not first <= start <= last:
                continue
            for k, other in enumerate(told):
                steps = (start - other.start.m_as(U.mm)) / apart
                same = abs(steps - round(steps)) < 0.05 and other.reason == piece.reason
                if same and abs(piece.area.m_as(U.mm2) / other.area.m_as(U.mm2) - 1.0) < 0.02 and round(steps) > 0:
                    told[k] = Standing(other.start, other.end, other.area, other.height, other.volume, other.reason,
                                       other.count + 1)  # fmt: skip
                    break
            else:
                continue
            break
        else:
            told.append(piece)
    return tuple(told)
