"""Tap drills: how much thread each drill leaves, and whether its hole lies inside the class's minor limits."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from latheworks.door import Door
from latheworks.drill_sets import SETS, drill_stock
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads import taps_pipe
from latheworks.threads.forms import NPT_HEIGHT, WHITWORTH_HEIGHT
from latheworks.threads.spec import METRIC, NPT, PARALLEL_PIPE, UNIFIED
from latheworks.threads.thread import Thread
from latheworks.threads.thread import thread as read_thread
from latheworks.units import Q_, Span, U, show, ureg
from latheworks.working import Line, Working

# Twice the full height in pitches: 3/4 H is 0.6495 P a side, 5/8 H is 0.5413 P a side.
HEIGHTS = {"3/4 H": 1.29903811, "5/8 H": 1.08253175}
# Pipe threads have the one height of their form each, which is not asked for.
FORM_HEIGHTS = {"full form": 2 * WHITWORTH_HEIGHT, "full form at the small end": 2 * NPT_HEIGHT}
# A hole that leaves less than half a thread, or none of the clearance, is no tap drill.
LEAST_PERCENT, MOST_PERCENT = 50.0, 100.0
WANTED = Q_(75.0, "percent")


def percent_thread(major: float, pitch: float, hole: Any, height: str) -> Any:
    """Percent of full thread that a hole leaves: 100 (D - hole) / (height x P). Plain numbers in one unit."""
    return 100.0 * (major - np.asarray(hole, dtype=float)) / (HEIGHTS[height] * pitch)


class TapDrill(NamedTuple):
    """One row: the drill's name, its diameter, the percent thread it leaves, and whether the hole is in limits."""

    name: str
    diameter: Any
    percent_thread: Any
    within_limits: bool


@dataclass(frozen=True, slots=True, eq=False)
class TapDrills(Result):
    """Drills for tapping a thread, best first; arrays in the order of the ranking, and `minor`, the limits.

    Ranking: holes inside the minor limits come first, then the nearer to the wanted percent of thread.
    """

    thread: Thread
    sets: tuple[str, ...]
    height: str
    wanted: Any
    name: tuple[str, ...]
    diameter: Any
    percent_thread: Any
    within_limits: np.ndarray
    notes: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.name)

    @property
    def minor(self) -> Span:
        """The limits of the hole: the minor diameter of the internal thread."""
        return taps_pipe.hole(self.thread) if self.thread.system == NPT else self.thread.limits.minor

    def _limits(self) -> tuple[str, str]:
        """The two limits as the standard prints them, its digits and no more."""
        printed = {name: (low, high) for name, low, high in self.thread.printed}
        system = "inch" if self.thread.pitch.units == U.inch else "metric"
        return printed.get("minor diameter") or (show(self.minor.min, system), show(self.minor.max, system))

    @property
    def convention(self) -> str:
        """What 100 percent means here."""
        if self.height in FORM_HEIGHTS:
            where = ", where hand-tight engagement ends" if self.thread.system == NPT else ""
            return f"100 % is the whole form, {FORM_HEIGHTS[self.height] / 2:.4f} P a side{where}"
        depth = HEIGHTS[self.height] / 2
        return f"100 % is a thread {self.height} deep a side, {depth:.4f} P; D - {HEIGHTS[self.height]:.4f} P leaves it"

    @property
    def rows(self) -> tuple[TapDrill, ...]:
        """The ranked rows, one drill each."""
        cells = zip(self.name, self.diameter, self.percent_thread, self.within_limits.tolist(), strict=True)
        return tuple(TapDrill(*row) for row in cells)

    @property
    def best(self) -> TapDrill | None:
        """The first row, or None when no drill in the sets comes near."""
        if not self.name:
            return None
        return TapDrill(self.name[0], self.diameter[0], self.percent_thread[0], bool(self.within_limits[0]))

    def title(self) -> str:
        return f"Tap drills for {self.thread.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = "inch" if self.thread.pitch.units == U.inch else "metric"
        best = self.best
        first = "none in these sets" if best is None else (
            f"{best.name}, {show(best.diameter, system)}, {best.percent_thread.m_as('percent'):.1f} %, "
            f"{'inside' if best.within_limits else 'outside'} the limits"
        )  # fmt: skip
        limits = " to ".join(self._limits())
        return (("best", first), ("hole limits", limits), ("inside", f"{int(self.within_limits.sum())} of {len(self)}"),
                ("percent", self.convention), *(("note", note) for note in self.notes))  # fmt: skip

    def columns(self) -> dict[str, Any]:
        return {
            "name": self.name,
            f"diameter [{self.diameter.units:~}]": self.diameter.magnitude,
            "thread [%]": self.percent_thread.magnitude,
            "within limits": self.within_limits,
        }

    @property
    def working(self) -> Working:
        """The percent of thread of the best drill, worked out, and the limits that its hole must keep."""
        best = self.best
        if best is None:
            return Working(self.title(), ())
        t, factor = self.thread, {**HEIGHTS, **FORM_HEIGHTS}[self.height]
        unit = f"{best.diameter.units:~}"
        major, pitch, hole = (q.m_as(best.diameter.units) for q in (taps_pipe.crest(t), t.pitch, best.diameter))
        numbers = f"100 ({major:g} - {hole:.4f})/({factor:.4f} x {pitch:.6g})"
        result = f"{best.percent_thread.magnitude:.2f} %"
        why = cite("tap_percent_formula") if self.height in HEIGHTS else "the same share of the form's own height"
        percent = Line("% thread", f"100 (D - hole)/({factor:.4f} P)", numbers, result, why)
        side = "inside" if best.within_limits else "outside"
        ends = " to ".join(self._limits())
        keys = {UNIFIED: "b11_limits", METRIC: "iso965", NPT: "b1201"}.get(t.system, "iso228")
        limit = Line("hole", "D1 min to D1 max", ends, f"{hole:.4f} {unit}, {side}", cite(keys))
        return Working(self.title(), (percent, limit))


def tap_drills(thread: Thread | str, sets: Sequence[str] | None = None, *, wanted: Any = WANTED,
               height: str = "3/4 H") -> TapDrills:  # fmt: skip
    """Return the drills for tapping an internal thread, ranked.

    percent = 100 (D - drill)/(1.29904 P), which takes 3/4 H a side as full; height="5/8 H" divides by 1.0825 P.
    Parameters: thread, a Thread or its designation (for an external one its mate is used, and `.notes` says so);
    sets, any of "number", "letter", "fractional", "metric" (all by default); wanted, the percent of thread
    aimed at [percent, 50 to 100]; height, "3/4 H" or "5/8 H". Listed are drills that leave 50 to 100 percent
    of 3/4 H or whose hole is within limits; the first are inside the limits, then nearest to `wanted`. The hole
    is taken as large as the drill, though a drill cuts a little over its size. For the pipe threads NPT and G the one
    drill that handbooks list is returned, and sets, wanted and height have no part in it. Raises LatheworksError, also
    for ACME and trapezoidal threads, which are bored: no tap drill is tabled for them.
    Source: percent by tap makers' formula; drill sizes ASME B94.11M and ISO 235; ranking common practice, no source.

    >>> best = tap_drills("1/4-20 UNC-2B", sets=("number",)).best
    >>> best.name, f"{best.percent_thread.magnitude:.1f} %", best.within_limits
    ('#7', '75.4 %', True)
    """
    if isinstance(thread, str):
        thread = read_thread(thread)
    with Door("tap_drills") as door:
        given = door.instance(thread, "thread", Thread, "a Thread or its designation", 'tap_drills("1/4-20 UNC-2B")')
        chosen = _sets(door, sets)
        aim = door.number(wanted, "wanted", "percent", least=50, most=100, example='Q_(75, "percent")')
        height = door.choice(height, "height", tuple(HEIGHTS))
    notes: tuple[str, ...] = ()
    if given.external:
        internal = given.mate()
        notes += (f"{given.designation} is external; these are drills for its mate, {internal.designation}",)
        given = internal
    if given.system in (NPT, PARALLEL_PIPE):
        return _pipe(given, chosen, notes)
    if given.system not in (UNIFIED, METRIC):
        raise taps_pipe.not_tabled(given)
    names, stock = drill_stock(chosen)
    unit = given.pitch.units
    diameters = stock / (25.4 if unit == U.inch else 1.0)
    major, pitch = given.major.magnitude, given.pitch.magnitude
    low, high = given.limits.minor.min.magnitude, given.limits.minor.max.magnitude
    slack = 1e-9 * major  # a drill exactly on the limit is inside it, whatever unit it came in
    inside = (diameters >= low - slack) & (diameters <= high + slack)
    full = percent_thread(major, pitch, diameters, "3/4 H")
    keep = np.flatnonzero(inside | ((full >= LEAST_PERCENT) & (full <= MOST_PERCENT)))
    percent = percent_thread(major, pitch, diameters[keep], height)
    order = np.lexsort((diameters[keep], np.round(np.abs(percent - aim), 9), ~inside[keep]))
    keep, percent = keep[order], percent[order]
    if not inside.any():
        notes += ("no drill in these sets makes a hole inside the limits: bore the hole to them",)
    return TapDrills(given, chosen, height, Q_(aim, ureg.percent), tuple(names[i] for i in keep),
                     Q_(diameters[keep], unit), Q_(percent, ureg.percent), inside[keep], notes)  # fmt: skip


def _pipe(given: Thread, chosen: tuple[str, ...], notes: tuple[str, ...]) -> TapDrills:
    """The drill that handbooks list for a pipe thread."""
    name, size, note = taps_pipe.listed(given)
    height = "full form" if given.system == PARALLEL_PIPE else "full form at the small end"
    major, pitch = taps_pipe.crest(given).magnitude, given.pitch.magnitude
    percent = 100 * (major - size) / (FORM_HEIGHTS[height] * pitch)
    limits = taps_pipe.hole(given)
    inside = limits.min.magnitude <= size <= limits.max.magnitude
    return TapDrills(given, chosen, height, WANTED, (name,), Q_(np.array([size]), given.pitch.units),
                     Q_(np.array([percent]), ureg.percent), np.array([inside]), (*notes, note))  # fmt: skip


def _sets(door: Door, sets: Any) -> tuple[str, ...]:
    """The chosen sets in their usual order, each once."""
    if sets is None:
        return SETS
    if isinstance(sets, str) or not isinstance(sets, (tuple, list)) or not sets:
        kind = f'sets=("{sets}",)' if isinstance(sets, str) and sets in SETS else 'sets=("number", "letter")'
        door.complain("sets", repr(sets)[:60], "a list of one or more of " + ", ".join(SETS), kind)
        return SETS
    chosen = {door.choice(name, "sets", SETS) for name in sets[:20]}
    return tuple(name for name in SETS if name in chosen)
