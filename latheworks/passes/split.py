"""Which tool takes what: the bulk to the stiffest, and only what it cannot reach to the weaker ones."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting import spindle_for
from latheworks.cutting.plain_numbers import machine, plain
from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.passes.profile import Profile
from latheworks.passes.profile_outline import area_between, height, ring_volume
from latheworks.passes.reach import LEAST_AREA, LEAST_HEIGHT, closed, reach
from latheworks.passes.reach_result import Reach
from latheworks.passes.reach_tool import TurningTool
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show

MOST_TOOLS = 10
_MM3 = U.mm2 * U.mm


@dataclass(frozen=True, slots=True)
class Share:
    """What one tool takes: tool, volume [mm^3], rate at which it removes [mm^3/min], time in the cut [min], and
    alone, the time it would need for everything it can reach, without the others [min]."""

    tool: TurningTool
    volume: Any
    rate: Any
    time: Any
    alone: Any


@dataclass(frozen=True, slots=True)
class Split(Result):
    """The work shared out among tools.

    Fields: profile; shares, in the order of work, the stiffest first, without tools that would take nothing; bulk, the
    Reach of the first; still_standing, the area in the section that none of them reaches [mm^2]; time, in the cut
    and for the changes of tool [min]; one_tool, the least time of a single tool that leaves no more, or None where no
    single tool does; saved against it, or None [min, negative where one tool is quicker]; feature_price, what the
    later tools' cuts and changes cost, so what a shape without those features would save; hourly_rate; system.
    """

    profile: Profile
    shares: tuple[Share, ...]
    bulk: Reach
    still_standing: Any
    time: Any
    one_tool: Any
    saved: Any
    feature_price: float
    hourly_rate: float
    system: str

    def title(self) -> str:
        """How many tools."""
        return f"{self.profile.side} profile, {len(self.shares)} tool{'s' if len(self.shares) != 1 else ''}"

    def facts(self) -> list[tuple[str, str]]:
        """Shares, times and price."""
        system = check_system(self.system)
        rows = [(share.tool.title(), f"{share.volume.m_as('cm**3'):.3f} cm³ in {share.time.m_as(U.min):.2f} min")
                for share in self.shares]  # fmt: skip
        rows.append(("in all, with tool changes", f"{self.time.m_as(U.min):.2f} min"))
        if self.saved is None:
            rows.append(("one tool for all", "none of them reaches as much alone"))
        else:
            word = "saved" if self.saved.m_as(U.min) >= 0 else "lost"
            rows.append((f"{word} against one tool", f"{abs(self.saved.m_as(U.min)):.2f} min"))
        rows.append(("price of what the first cannot reach", f"{self.feature_price:.2f}"))
        if self.still_standing.m_as(U.mm2) > LEAST_AREA:
            rows.append(("still standing", f"{show(self.still_standing, system)} that none of these tools reaches"))
        return rows

    def columns(self) -> dict[str, Any]:
        """A row a tool."""
        return {
            "tool": [share.tool.title() for share in self.shares],
            "volume [cm³]": [share.volume.m_as("cm**3") for share in self.shares],
            "removal rate [cm³/min]": [share.rate.m_as("cm**3/min") for share in self.shares],
            "time [min]": [share.time.m_as(U.min) for share in self.shares],
        }


def split(profile: Any, tools: Any, surface_speed: Any, feeds: Any, depths: Any, tool_change: Any = None,
          hourly_rate: Any = 30.0, lathe: Any = None, system: Any = "metric") -> Split:  # fmt: skip
    """Return which tool takes what of a profile: the bulk to the stiffest, the rest to those that reach further.

    Each tool takes all that it reaches and that is still there, in order of stiffness; volume of the rings over
    v f b gives its time in the cut, with b the depth of cut, or a blade's width. Approach, return and the finish pass
    are not in it.

    Parameters: profile, a Profile with its stock; tools, a list of 1 to 10 TurningTool; surface_speed of all or of
    each [m/min, above 0 to 5000]; feeds of each [mm/rev, above 0 to 2]; depths of cut of each, for a blade its
    plunging width, no more than the blade [mm, above 0 to 20]; tool_change, from one to the next [min, 0 to 60; 1
    when left out]; hourly_rate of lathe and person, in your money [0 to 10000]; lathe, the teaching lathe when left
    out; system, "metric" or "inch" for the text.
    Raises LatheworksError for lists of different length and tools that fit nowhere. Source: geometry; the order:
    common practice.

    >>> points = [(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(0, 30), (40, 30), (40, 24), (43, 24), (43, 30), (80, 30)]]
    >>> found = split(Profile(points, stock=Q_(32, "mm")), [TurningTool("D"), TurningTool(blade_width=Q_(3, "mm"))],
    ...               Q_(60, "m/min"), Q_([0.2, 0.05], "mm/rev"), Q_([1.0, 3.0], "mm"))
    >>> [share.tool.title() for share in found.shares]
    ['right-hand tool, insert D', 'blade 3.000 mm wide']
    """
    system = check_system(system)
    with Door("split") as door:
        shape = door.instance(profile, "profile", Profile, "a Profile", "a Profile with stock=...")
        cutters = _tools(door, tools)
        count = max(len(cutters), 1)
        speeds = _each(door, surface_speed, "surface_speed", "m/min", 5000, count, 'surface_speed=Q_(60, "m/min")')
        fed = _each(door, feeds, "feeds", "mm/rev", 2, count, f'feeds=Q_({[0.1] * count}, "mm/rev")')
        deep = _each(door, depths, "depths", "mm", 20, count, f'depths=Q_({[1.0] * count}, "mm")')
        change = 1.0 if tool_change is None else door.number(tool_change, "tool_change", "min", least=0, most=60,
                                                             example='tool_change=Q_(1, "min")')  # fmt: skip
        price = plain(door, hourly_rate, "hourly_rate", least=0, most=10_000, example="hourly_rate=30.0")
        chosen = machine(door, lathe)
        for tool, taken in zip(cutters, deep, strict=False):
            if tool.blade_width is not None and taken > tool.blade_width.m_as(U.mm) + 1e-9:
                door.complain("depths", f"{taken:g} mm for a {tool.title()}", "no more than the blade", "its width")
    found = [reach(shape, tool) for tool in cutters]  # refuses a bar outside and a shank inside
    z, wanted, lefts, top = _heights(shape, cutters)
    sign = -1.0 if shape.inside else 1.0
    size = shape.stock if not shape.inside else Q_(2 * float(shape.radius.max()), U.mm)
    real = [spindle_for(Q_(v, U.m_per_min), size, chosen).surface_speed.m_as(U.m_per_min) for v in speeds]
    rates = [1000.0 * v * f * b for v, f, b in zip(real, fed, deep, strict=True)]
    alone = [ring_volume(z, sign * top, sign * left) / rate for left, rate in zip(lefts, rates, strict=True)]
    shares, now, first = [], top, None
    for k in sorted(range(len(cutters)), key=lambda k: -cutters[k].stiffness.m_as(U.N_per_mm)):
        then = np.minimum(now, lefts[k])
        if area_between(z, then, now) <= LEAST_AREA:
            continue
        volume = ring_volume(z, sign * now, sign * then)
        shares.append(Share(cutters[k], Q_(volume, _MM3), Q_(rates[k], _MM3 / U.min), Q_(volume / rates[k], U.min),
                            Q_(alone[k], U.min)))  # fmt: skip
        now, first = then, k if first is None else first
    with Door("split") as door:
        if first is None:
            door.complain(
                "tools",
                f"{len(cutters)} that reach nothing of what is to come off",
                "one that gets at the stock, and stock larger than the profile",
                "another tool, or stock=...",
            )
    later = sum(share.time.m_as(U.min) for share in shares[1:]) + change * (len(shares) - 1)
    time = later + shares[0].time.m_as(U.min)
    standing = area_between(z, wanted, now)
    enough = [t for t, left in zip(alone, lefts, strict=True) if area_between(z, wanted, left) <= standing + LEAST_AREA]
    best = min(enough, default=None)
    return Split(shape, tuple(shares), found[first or 0], Q_(standing, U.mm2), Q_(time, U.min),
                 None if best is None else Q_(best, U.min), None if best is None else Q_(best - time, U.min),
                 later * price / 60.0, price, system)  # fmt: skip


def _tools(door: Door, tools: Any) -> list[TurningTool]:
    good = isinstance(tools, (list, tuple)) and all(isinstance(tool, TurningTool) for tool in tools)
    if not good or not 0 < len(tools) <= MOST_TOOLS:
        kind = OutOfRange if good else WrongUnit
        wanted = f"a list of 1 to {MOST_TOOLS} TurningTool"
        door.complain("tools", given(tools), wanted, 'tools=[TurningTool("D")]', kind)
        return []
    return list(tools)


def _each(door: Door, value: Any, name: str, unit: str, most: float, count: int, example: str) -> list[float]:
    """One number a tool; a single one stands for all."""
    numbers = np.atleast_1d(door.array(value, name, unit, above=0, most=most, example=example))
    if numbers.size not in (1, count):
        door.complain(name, f"{numbers.size} values for {count} tools", "one for all, or one each", example, WrongUnit)
        return [1.0] * count
    return [float(number) for number in np.broadcast_to(numbers, count)]


def _heights(shape: Profile, cutters: list[TurningTool]) -> tuple[np.ndarray, np.ndarray, list[np.ndarray], np.ndarray]:
    """All heights over the points of all closings together: wanted, left by each, and the stock's."""
    found = [closed(shape, tool) for tool in cutters]
    z = np.unique(np.concatenate([each.z for each in found]))
    wanted = np.interp(z, found[0].z, found[0].wanted)
    # As for reach: a hair left is arithmetic, and nobody changes a tool for it.
    lefts = [np.interp(z, each.z, each.left) for each in found]
    lefts = [np.where(left - wanted > LEAST_HEIGHT, left, wanted) for left in lefts]
    top = np.full(z.size, float(height(np.array(shape.stock.m_as(U.mm) / 2), shape.inside)))
    return z, wanted, lefts, top
