"""The thread bench: a thread and its mate, their limits of size, and the hole to tap."""

from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.errors import NotInTable
from latheworks.pictures.flanks import Ends
from latheworks.pictures.style import Look
from latheworks.pictures.thread_form import ThreadForm, ThreadPicture
from latheworks.threads import TapDrills, Thread, tap_drills, thread
from latheworks.threads.spec import METRIC, UNIFIED
from latheworks.threads.taps import percent_thread
from latheworks.units import Q_, Span, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec, Words
from latheworks.widgets.sizes import Size

RACKS: dict[str, tuple[str, ...]] = {
    "metric drills": ("metric",),
    "fractional drills": ("fractional",),
    "number and letter drills": ("number", "letter"),
    "all drills": ("number", "letter", "fractional", "metric"),
}
LISTED = 8


class ThreadBench(Bench):
    """A designation, a rack of drills, and a hole."""

    kind: ClassVar[str] = "thread"
    title: ClassVar[str] = "Pick the thread and its hole"
    picture_class = ThreadPicture
    also: ClassVar[Mapping[str, str]] = {"tolerance class": "designation"}

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start, hole = self._opening, self._opening["hole"]
        return (
            Words("designation", "Thread", start["designation"], 60),
            Choice("drills", "Drills from", tuple(RACKS), start["drills"]),
            Size("hole", "Hole", "d", hole, hole * 0.9, hole * 1.1, (0.05, 0.002), Q_(0.5, U.mm),
                 Q_(400.0, U.mm)),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        inch = "fractional drills"
        return {
            "Coarse": {"designation": "1-8 UNC-2B", "drills": inch},
            "Finer": {"designation": "1-20 UNEF-2B", "drills": inch},
            "Closer class": {"designation": "1-12 UNF-3B", "drills": inch},
            "Metric": {"designation": "M24x1.5-6H", "drills": "metric drills"},
            "Small": {"designation": "1/4-20 UNC-2B", "drills": "number and letter drills"},
        }

    def follow(self, changed: Names) -> None:
        if self.result is not None and not changed & {"designation", "drills"}:
            return
        internal, _ = pair(self.controls["designation"].value)
        hole = self.controls["hole"]
        if changed and "hole" not in changed:
            hole.put(usual_hole(internal, RACKS[self.controls["drills"].value]))
        # From more than a whole thread to hardly any.
        hole.run(internal.major - 1.5 * internal.pitch, internal.major - 0.15 * internal.pitch)

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, ThreadForm]:
        internal, external = pair(values["designation"])
        found = tap_drills(internal, RACKS[values["drills"]])
        hole, pitch, major = (q.m_as(U.mm) for q in (values["hole"], internal.pitch, internal.major))
        rows = tuple((_sold(row.name), row.diameter.m_as(U.mm), float(row.percent_thread.m_as("percent")),
                      row.within_limits)
                     for row in found.rows[:LISTED])  # fmt: skip
        data = ThreadForm(
            internal.designation, external.designation, pitch,
            (major, internal.pitch_diameter.m_as(U.mm), internal.minor.m_as(U.mm)),
            _limits(internal), _limits(external), hole, _name(found, hole),
            float(percent_thread(major, pitch, hole, "3/4 H")), rows,
        )  # fmt: skip
        return found, data

    def read(self, data: ThreadForm, look: Look) -> Reading:
        low, high = (look.mm(end) if end is not None else "open" for end in data.internal_limits[2])
        side = "inside" if data.inside else "outside"
        facts = [("hole", look.mm(data.hole)), ("made with", data.drill), ("thread left", f"{data.percent:.1f} %"),
                 ("smallest hole", low), ("largest hole", high), ("pitch", look.mm(data.pitch))]  # fmt: skip
        if data.drills:
            facts.append(("best of the rack", data.drills[0][0]))
        clear = (data.internal_limits[1][0] or 0.0) - (data.external_limits[1][1] or 0.0)
        facts.append(("least play, pitch dia.", look.mm(max(clear, 0.0))))
        notes = ("100 % is a thread 3/4 H deep a side; 65 to 77 % is usual for tapping (common practice, no source).",)
        return Reading(data.inside, f"The hole is {side} the limits of {data.internal}.", tuple(facts), notes)


def pair(designation: str) -> tuple[Thread, Thread]:
    """The internal and the external thread of a designation, whichever of the two it names."""
    named = thread(designation)
    if named.system not in (UNIFIED, METRIC):
        raise NotInTable(
            f"{named.designation} is not drawn on this bench: it shows the 60 degree form of Unified and ISO metric "
            "threads. Type M24x1.5-6H or 1/2-13 UNC-2B."
        )
    return (named.mate(), named) if named.external else (named, named.mate())


def usual_hole(internal: Thread, sets: tuple[str, ...]) -> Any:
    """The best drill's size, or the middle of the limits where no drill comes near."""
    best = tap_drills(internal, sets).best
    return internal.limits.minor.mid if best is None else best.diameter


def _limits(each: Thread) -> tuple[Ends, Ends, Ends]:
    def ends(span: Span) -> Ends:
        low, high = (None if end is None else float(end.m_as(U.mm)) for end in (span.min, span.max))
        return low, high

    return ends(each.limits.major), ends(each.limits.pitch_diameter), ends(each.limits.minor)


def _name(found: TapDrills, hole: float) -> str:
    """The drill that makes a hole, or what to do instead."""
    for row in found.rows:
        if abs(row.diameter.m_as(U.mm) - hole) < 0.0006:
            return f"drill {_sold(row.name)}"
    return "bored, no drill"


def _sold(name: str) -> str:
    """A drill's name; a fraction is one of an inch."""
    return f"{name} in" if name.replace("/", "").replace(" ", "").isdigit() else name


def thread_bench(designation: str = "1-12 UNF-2B", drills: str | None = None, hole: Any = None) -> ThreadBench:
    """Return a bench for a thread and its mate in section, with limits of size and the hole to bore or to tap.

    percent of thread = 100 (D - hole) / (1.29904 P).

    Parameters, all optional, the thread in the soil corer's barrel by default: designation, as a drawing has it,
    internal or external; drills, "metric drills", "fractional drills", "number and letter drills" or "all drills",
    those of the thread's own system when left out;
    hole, its diameter [mm], that of the best drill when left out. Raises LatheworksError for what cannot be.
    Source: `latheworks.threads.thread` and `latheworks.threads.tap_drills`.

    >>> thread_bench("M10x1.5-6H")
    Pick the thread and its hole (bench): The hole is inside the limits of M10x1.5-6H.
    """
    with Door("thread_bench") as door:
        if drills is not None:
            door.choice(drills, "drills", tuple(RACKS))
        if hole is not None:
            door.number(hole, "hole", "mm", above=0.0, most=400.0)
    internal, _ = pair(designation)
    rack = drills or ("metric drills" if internal.system == METRIC else "fractional drills")
    size = usual_hole(internal, RACKS[rack]) if hole is None else hole
    return ThreadBench({"designation": designation, "drills": rack, "hole": size})
