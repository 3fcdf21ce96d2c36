"""Ways to a hole's size, side by side: what each makes, how surely, how long it takes and what must be on hand."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.door import Door
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Span, U, show

_SOURCES = "mh_oversize_memory+mh27_accuracy+and10387+tm1420+practice_hole_ways"
PRIORITIES = ("time", "accuracy", "tools on hand")
SURE = 0.9


@dataclass(frozen=True, slots=True)
class Way:
    """One way to the size: name; aim, the nominal size of what cuts it or the size set [mm]; size, the mean that comes
    out [mm]; spread, one standard deviation [mm]; likely, mean -+ 2 spreads; chance that the size holds [0 to 1];
    position, what the axis is off in 19 of 20 [mm]; position_chance that it holds [0 to 1]; time [s]; tools needed, and
    missing, those not on the rack; why_not, what forbids it in words, or nothing; notes."""

    name: str
    aim: Any
    size: Any
    spread: Any
    likely: Span
    chance: float
    position: Any
    position_chance: float
    time: Any
    tools: tuple[str, ...]
    missing: tuple[str, ...]
    why_not: str
    notes: tuple[str, ...]

    @property
    def holds(self) -> float:
        """The chance that size and position both hold."""
        return self.chance * self.position_chance


@dataclass(frozen=True, slots=True)
class WaysToSize(Result):
    """The ways to a hole's size: hole, in words; limits of the diameter; depth [mm]; material; allowed, how far the
    axis may be off [mm], or None; ways, drill, drill and ream, end mill, drill and bore, in that order."""

    hole: str
    limits: Span
    depth: Any
    material: str
    allowed: Any
    ways: tuple[Way, ...]

    def best(self, priority: Any = "accuracy") -> Way | None:
        """Return the way that wins under a priority, or None where every way is forbidden.

        "accuracy": the greatest chance to hold, then the least spread of size and place; "time": the least time, "tools
        on hand": the fewest tools missing, both among ways that hold in 9 of 10, or the surest where none does.
        Parameters: priority, "time", "accuracy" or "tools on hand". Raises LatheworksError for another word.
        Source: common practice, no source.

        >>> from latheworks.drilling import ways_to_size
        >>> from latheworks.units import Q_
        >>> ways_to_size(Span(Q_(16.0, "mm"), Q_(16.03, "mm")), Q_(30, "mm"), "brass").best("time").name
        'drill and ream'
        """
        with Door("WaysToSize.best") as door:
            chosen = door.choice(priority, "priority", PRIORITIES)
        open_ways = [way for way in self.ways if not way.why_not]
        good = [way for way in open_ways if way.holds >= SURE]
        if not open_ways:
            return None
        if chosen == "accuracy" or not good:
            return max(open_ways, key=lambda way: (round(way.holds, 2), -(2 * way.spread + way.position).m_as(U.mm)))
        if chosen == "time":
            return min(good, key=lambda way: way.time.m_as(U.s))
        return min(good, key=lambda way: (len(way.missing), way.time.m_as(U.s)))

    def why(self, priority: Any = "accuracy") -> str:
        """Return a sentence that says which way wins under a priority, and why.

        Parameters: priority, "time", "accuracy" or "tools on hand". Raises LatheworksError for another word.
        Source: common practice, no source.

        >>> from latheworks.drilling import ways_to_size
        >>> from latheworks.units import Q_
        >>> ways_to_size(Span(Q_(16.0, "mm"), Q_(16.03, "mm")), Q_(30, "mm"), "brass").why("tools on hand")
        'drill and bore holds in 94 of 100: every tool is on the rack'
        """
        way = self.best(priority)
        if way is None:
            return "no way is open: " + "; ".join(f"{other.name}: {other.why_not}" for other in self.ways)
        said = f"{way.name} holds in {100 * way.holds:.0f} of 100"
        if way.holds < SURE:
            return f"none is sure: {said}, the best there is; everything else holds less often"
        lack = f"lacks {', '.join(way.missing)}" if way.missing else "every tool is on the rack"
        quick, within = show(way.time, digits=0), show(2 * way.spread)
        reason = {
            "time": f"the quickest of those that are sure, {quick}",
            "accuracy": f"the surest, within {within} either way, its axis within {show(way.position)}",
            "tools on hand": lack,
        }[priority]
        return f"{said}: {reason}"

    def title(self) -> str:
        """The hole."""
        return f"ways to {self.hole} in {self.material}, {show(self.depth, digits=1)} deep"

    def facts(self) -> list[tuple[str, str]]:
        """The limits, each way, and which wins under each priority."""
        rows = [("limits", str(self.limits))]
        for way in self.ways:
            if way.why_not:
                rows.append((way.name, f"not open: {way.why_not}"))
                continue
            lack = f"; not on the rack: {', '.join(way.missing)}" if way.missing else ""
            rows.append((way.name, f"{way.likely}, holds in {100 * way.chance:.0f} of 100; axis within "
                                   f"{show(way.position)}; {show(way.time, digits=0)}{lack}"))  # fmt: skip
        rows += [(priority, self.why(priority)) for priority in PRIORITIES]
        notes = dict.fromkeys(note for way in self.ways for note in way.notes)
        return [*rows, *(("note", note) for note in notes), ("source", cite(_SOURCES))]

    def columns(self) -> dict[str, Any]:
        """A row a way."""
        return {
            "way": [way.name for way in self.ways],
            "size [mm]": np.array([way.size.m_as(U.mm) for way in self.ways]),
            "spread [mm]": np.array([way.spread.m_as(U.mm) for way in self.ways]),
            "holds [1]": np.array([way.holds for way in self.ways]),
            "position [mm]": np.array([way.position.m_as(U.mm) for way in self.ways]),
            "time [s]": np.array([way.time.m_as(U.s) for way in self.ways]),
            "missing": [", ".join(way.missing) for way in self.ways], "why not": [way.why_not for way in self.ways],
        }  # fmt: skip
