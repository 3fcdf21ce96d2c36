"""Each way to a hole's size, worked out on its own."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.drilling import ways_kernel as kernel
from latheworks.drilling.feeds import plain_feed
from latheworks.drilling.hole_steps import TOOL_CHANGE, Job, drill_step, spare_reach, tip
from latheworks.drilling.plain_shop import by_kind, plain_tool
from latheworks.drilling.ways_result import Way
from latheworks.shop import Rack, Tool
from latheworks.units import Q_, Span, U

# Common practice, no source: what is left for each tool to take on the diameter, a bore's feed, cut and trial.
REAM_STOCK, REAM_MOST, BORE_STOCK, MILL_STOCK = 0.25, 1.0, 1.0, 2.0
BORE_FEED, BORE_DEPTH, TRIAL = 0.08, 0.5, 180.0
BAR_RULE = 4.0  # overhang of a steel bar in diameters
BORE_SPEED_SHARE, REAM_SPEED_SHARE = 1.0, 0.5  # of the drill's speed; reamers run at half (TM 1-420)
REAM_FEED, MILL_FEED_SHARE = 2.0, 0.5  # times the drill's feed


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of every way: low and high limits [mm], depth [mm], allowed off the axis [mm] or None, drift [mm a
    mm], job, rack, and (names, diameters [mm]) of all drills that can be bought."""

    low: float
    high: float
    depth: float
    allowed: float | None
    drift: float
    job: Job
    rack: Rack
    stock: tuple[tuple[str, ...], Any]

    @property
    def middle(self) -> float:
        """The middle of the limits."""
        return (self.low + self.high) / 2.0

    @property
    def axis(self) -> float:
        """How far a drilled axis strays, one standard deviation in each direction."""
        return float(np.hypot(kernel.way_row("start")[2], self.drift * self.depth))

    @property
    def shrinks(self) -> bool:
        """Whether the hole may come out smaller than the drill."""
        return bool(self.job.row["may shrink"] == "yes")


def all_ways(asked: Asked) -> tuple[Way, ...]:
    """The four ways, in the order of the shop's effort."""
    ways: tuple[Callable[[Asked], Way], ...] = (_drill, _ream, _end_mill, _bore)
    return tuple(way(asked) for way in ways)


def _way(asked: Asked, name: str, aim: float, shift: float, spread: float, axis: float, seconds: float,
         tools: list[str], missing: list[str], why_not: str, notes: tuple[str, ...] = ()) -> Way:  # fmt: skip
    mean = aim + shift
    near = 1.0 if asked.allowed is None else kernel.chance_near(asked.allowed, axis)
    return Way(name, Q_(aim, U.mm), Q_(mean, U.mm), Q_(spread, U.mm),
               Span(Q_(mean - 2 * spread, U.mm), Q_(mean + 2 * spread, U.mm)),
               kernel.chance_inside(asked.low, asked.high, mean, spread), Q_(kernel.off_in_19_of_20(axis), U.mm), near,
               Q_(seconds, U.s), tuple(tools), tuple(missing), why_not, notes)  # fmt: skip


def _reaching(asked: Asked, kind: str) -> list[Tool]:
    """The tools of a kind that reach the depth."""
    found = by_kind(asked.rack)[kind]
    if kind == "drill":
        return [tool for tool in found if spare_reach(tool) >= asked.depth + tip(tool)]
    return [tool for tool in found if plain_tool(tool).reach >= asked.depth]


def _surest(asked: Asked, sizes: Any, shift: Callable[[float], tuple[float, float]]) -> int:
    """Which of the sizes most likely ends between the limits."""
    chances = [kernel.chance_inside(asked.low, asked.high, d + shift(d)[0], shift(d)[1]) for d in sizes]
    best = max(chances)
    # Where no size has a chance, the nearest is as good as any to show.
    return int(np.argmax(chances)) if best > 1e-6 else int(np.argmin(np.abs(np.asarray(sizes) - asked.middle)))


def _predrill(asked: Asked, most: float, least: float) -> tuple[float, float, str, list[str]]:
    """A hole for another tool to finish, from least to most: its drill's diameter, time, name, and what is missing."""
    fits = [t for t in _reaching(asked, "drill") if least <= plain_tool(t).diameter <= most + 1e-6]
    if fits:
        step = drill_step(asked.job, "drill", 1, fits[-1], asked.depth + tip(fits[-1]))
        return plain_tool(fits[-1]).diameter, step.time.m_as(U.s) + TOOL_CHANGE, fits[-1].name, []
    names, sizes = asked.stock
    at = max(int(np.searchsorted(sizes, most + 1e-9)) - 1, 0)
    tool = _bought(names[at], float(sizes[at]), asked.depth)
    step = drill_step(asked.job, "drill", 1, tool, asked.depth + tip(tool))
    return float(sizes[at]), step.time.m_as(U.s) + TOOL_CHANGE, tool.name, [tool.name]


def _bought(name: str, size: float, depth: float) -> Tool:
    word = name if name.endswith("mm") else f"{name} ({size:.3f} mm)"
    return Tool("drill", f"{word} drill", Q_(size, U.mm), Q_(depth + 3 * size, U.mm), Q_(118.0, U.deg))


def _drill(asked: Asked) -> Way:
    def over(d: float) -> tuple[float, float]:
        return kernel.drilled(d, asked.shrinks)

    owned = _reaching(asked, "drill")
    sizes = [plain_tool(tool).diameter for tool in owned]
    names, stock = asked.stock
    near = np.flatnonzero(np.abs(stock - asked.middle) <= 0.5 + 0.1 * asked.middle)
    any_at = int(near[_surest(asked, stock[near], over)])
    tool, missing = _bought(names[any_at], float(stock[any_at]), asked.depth), [names[any_at]]
    if owned:
        own_at = _surest(asked, sizes, over)
        chances = [kernel.chance_inside(asked.low, asked.high, d + over(d)[0], over(d)[1])
                   for d in (sizes[own_at], float(stock[any_at]))]  # fmt: skip
        # A drill on the rack is taken unless one from the shop is much surer.
        if chances[0] >= min(0.95, chances[1] - 0.02):
            tool, missing = owned[own_at], []
    d = plain_tool(tool).diameter
    step = drill_step(asked.job, "drill", 1, tool, asked.depth + tip(tool))
    notes = ("a drilled hole is IT11 to IT12; in plastics and light metals it may shrink below the drill",)
    return _way(asked, "drill", d, *over(d), asked.axis, step.time.m_as(U.s) + TOOL_CHANGE,
                ["center drill", tool.name], [tool.name] if missing else [], "", notes)  # fmt: skip


def _ream(asked: Asked) -> Way:
    shift, spread, _ = kernel.way_row("reamer")
    owned = [t for t in _reaching(asked, "reamer") if asked.low <= plain_tool(t).diameter + shift <= asked.high]
    size = plain_tool(owned[0]).diameter if owned else round(2 * (asked.middle - shift)) / 2
    name = owned[0].name if owned else f"{size:g} mm reamer"
    hole, seconds, drill, missing = _predrill(asked, size - REAM_STOCK, size - REAM_MOST)
    feed, speed = plain_feed(asked.job.row, size, None)
    turns = max(1000.0 * REAM_SPEED_SHARE * speed / (np.pi * size), asked.job.machine.slowest_spindle.m_as(U.rpm))
    seconds += 120.0 * asked.depth / (REAM_FEED * feed * turns) + TOOL_CHANGE
    why = ""
    if size - hole > REAM_MOST + 1e-6:
        why = f"{drill} leaves {size - hole:.2f} mm, too much for a reamer: bore nearer first"
    if not asked.low <= size + shift <= asked.high:
        why = f"reamers come in whole and half millimeters, and {size:g} mm is outside the limits"
    special = [] if owned else [name]
    notes = ("a reamer follows the drilled hole: it makes the size, not the place",)
    return _way(asked, "drill and ream", size, shift, spread, asked.axis, seconds, ["center drill", drill, name],
                missing + special, why, notes)  # fmt: skip


def _end_mill(asked: Asked) -> Way:
    shift, spread, axis = kernel.way_row("end mill")
    owned = _reaching(asked, "end_mill")
    fits = [t for t in owned if asked.low - 2 * spread <= plain_tool(t).diameter + shift <= asked.high + 2 * spread]
    size = plain_tool(fits[0]).diameter if fits else round(2 * (asked.middle - shift)) / 2
    name = fits[0].name if fits else f"{size:g} mm end mill"
    _, seconds, drill, missing = _predrill(asked, size - MILL_STOCK, 0.6 * size)
    feed, speed = plain_feed(asked.job.row, size, None)
    turns = min(1000.0 * speed / (np.pi * size), asked.job.machine.fastest_spindle.m_as(U.rpm))
    seconds += 120.0 * asked.depth / (MILL_FEED_SHARE * feed * turns) + TOOL_CHANGE
    why = ""
    if not asked.low - 2 * spread <= size + shift <= asked.high + 2 * spread:
        why = f"{size:g} mm is the nearest end mill, and the tailstock does not move across to make another size"
    if not why and asked.depth > 3 * size:
        why = f"{asked.depth:g} mm is deeper than an end mill's flutes of about 3 diameters"
    notes = ("an end mill in the tailstock cuts on the axis only, its own size; good for a flat bottom",)
    return _way(asked, "end mill", size, shift, spread, axis, seconds, ["center drill", drill, name],
                missing + ([] if fits else [name]), why, notes)  # fmt: skip


def _bore(asked: Asked) -> Way:
    shift, spread, axis = kernel.way_row("bore")
    hole, seconds, drill, missing = _predrill(asked, asked.low - BORE_STOCK, 0.6 * asked.low)
    bars = [t for t in by_kind(asked.rack)["boring_bar"]
            if t.smallest_bore.m_as(U.mm) <= hole and plain_tool(t).reach >= asked.depth + 2.0]  # fmt: skip
    bar = bars[-1] if bars else None
    thick = plain_tool(bar).diameter if bar else 0.75 * hole
    name = bar.name if bar else f"boring bar of {thick:.3g} mm or less"
    _, speed = plain_feed(asked.job.row, asked.middle, None)
    turns = min(
        1000.0 * BORE_SPEED_SHARE * speed / (np.pi * asked.middle), asked.job.machine.fastest_spindle.m_as(U.rpm)
    )
    passes = int(np.ceil((asked.middle - hole) / 2.0 / BORE_DEPTH)) + 2  # a finishing and a spring pass
    seconds += 60.0 * passes * asked.depth / (BORE_FEED * turns) + TRIAL + TOOL_CHANGE
    why, ratio = "", (asked.depth + 2.0) / thick
    if ratio > 2 * BAR_RULE:
        why = f"the bar would stand out {ratio:.1f} diameters: it would chatter and spring"
    elif ratio > BAR_RULE:
        spread *= (ratio / BAR_RULE) ** 3
    notes = ("boring sets the size by trial cut and puts the hole on the spindle's axis, wherever the drill went",)
    return _way(asked, "drill and bore", asked.middle, shift, spread, axis, seconds, ["center drill", drill, name],
                missing + ([] if bar else [name]), why, notes)  # fmt: skip
