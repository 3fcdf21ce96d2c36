"""Drill, ream, end mill or bore: which way makes a hole of a wanted size."""

from typing import Any

from latheworks.cutting.plain_numbers import pair
from latheworks.door import Door, given
from latheworks.drill_sets import SETS, drill_stock
from latheworks.drilling.asked import drilled, shop
from latheworks.drilling.hole_steps import Job
from latheworks.drilling.way_by_way import Asked, all_ways
from latheworks.drilling.ways_result import WaysToSize
from latheworks.errors import Impossible, WrongUnit
from latheworks.materials import pick
from latheworks.threads.thread import Thread, thread
from latheworks.units import Q_, Span, U

_HOLE = 'Span(Q_(16.0, "mm"), Q_(16.018, "mm")), or "M16x1.5-6H"'


def ways_to_size(hole: Any, depth: Any, material: Any, *, position: Any = None, drift: Any = None, lathe: Any = None,
                 rack: Any = None) -> WaysToSize:  # fmt: skip
    """Return the ways to a hole's size compared: drill; drill and ream; end mill in the tailstock; drill and bore.

    Each gives a normal size. Drill: the size plus the published oversize, in light metals and plastics perhaps less;
    the axis starts where the center drill does and drifts with depth. Ream: follows the drilled axis. End mill: on the
    axis only, for the tailstock does not move across, so its own diameter is the only size it makes. Bore: aimed at the
    middle of the limits, on the spindle's axis. A tool of the rack is taken where one suits; else what to get is named.

    Parameters: hole, an internal Thread or its designation, whose minor diameter counts, or the limits of a diameter, a
    Span [mm, 0.5 to 100, both ends]; depth [mm, above 0 to 500]; material, a name of `materials()` or a Material;
    position, how far off the axis may be [mm, 0.001 to 10; free when not given]; drift for each 100 mm of depth [mm, 0
    to 5; 0.1 when not given]; lathe and rack, the teaching ones when not given. Raises LatheworksError for a wrong
    dimension or a value outside its range, Impossible for an external thread or limits that are crossed.
    Source: oversize of drills, Machinery's Handbook, from memory; minus of light metals AND10387, read, and the
    handbook's text on accuracy, read; reamed, milled and bored sizes, and times: common practice, measure your own.

    >>> ways = ways_to_size("M16x1.5-6H", Q_(20, "mm"), "aluminum 6061-T6")
    >>> ways.best("time").name, ways.best("accuracy").name, round(ways.ways[0].chance, 2)
    ('drill', 'drill and bore', 0.94)
    """
    with Door("ways_to_size") as door:
        words, low, high = _limits(door, hole)
        deep = door.number(depth, "depth", "mm", above=0, most=500, example='depth=Q_(20, "mm")')
        chosen = pick(door, material)
        pairs, row = pair(door, chosen), drilled(door, chosen)
        allowed = None
        if position is not None:
            allowed = door.number(position, "position", "mm", least=0.001, most=10, example='position=Q_(0.05, "mm")')
        rate = 0.1 if drift is None else door.number(drift, "drift", "mm", least=0, most=5)
        machine, tools = shop(door, lathe, rack)
    asked = Asked(low, high, deep, allowed, rate / 100.0, Job(chosen, pairs, row, machine, 1.3), tools,
                  drill_stock(SETS))  # fmt: skip
    return WaysToSize(words, Span(Q_(low, U.mm), Q_(high, U.mm)), Q_(deep, U.mm), chosen.name,
                      None if allowed is None else Q_(allowed, U.mm), all_ways(asked))  # fmt: skip


def _limits(door: Door, hole: Any) -> tuple[str, float, float]:
    """What the hole is, and its limits in mm."""
    if isinstance(hole, str) and 0 < len(hole.strip()) <= 80:
        hole = thread(hole)
    if isinstance(hole, Thread):
        if hole.external:
            door.complain("hole", hole.designation, "an internal thread", f'"{hole.mate().designation}"', Impossible)
            return "", 10.0, 10.1
        minor = hole.limits.minor
        low, high = (float(end.m_as(U.mm)) for end in (minor.min, minor.max))
        return f"the minor diameter of {hole.designation}", low, high
    if not isinstance(hole, Span) or hole.min is None or hole.max is None:
        got = "a Span open at one end" if isinstance(hole, Span) else given(hole)
        door.complain("hole", got, "limits of a diameter, or an internal thread", _HOLE, WrongUnit)
        return "", 10.0, 10.1
    ends = [door.number(end, "hole", "mm", least=0.5, most=100, example=_HOLE) for end in (hole.min, hole.max)]
    if ends[0] >= ends[1] and not door.complaints:
        door.complain("hole", f"limits of {ends[0]:g} and {ends[1]:g} mm", "the smaller first", _HOLE, Impossible)
    return f"a hole of {ends[0]:g} to {ends[1]:g} mm", ends[0], ends[1]
