"""Tap drills of pipe threads, as handbooks list them; ACME and trapezoidal threads have none."""

from functools import cache
from typing import Any

from latheworks.errors import LatheworksError, NotInTable
from latheworks.tables import Row, cite, table
from latheworks.threads.forms import NPT_HEIGHT
from latheworks.threads.spec import INCH_SYSTEMS, NPT
from latheworks.threads.thread import Thread
from latheworks.units import Span, show


@cache
def _listed() -> dict[tuple[str, str], Row]:
    return {(row["system"], row["size"]): row for row in table("pipe_tap_drills")}


def crest(thread: Thread) -> Any:
    """The diameter that percent of thread counts from: the major one; of a fitting for NPT, that at its small end."""
    if thread.planes is None:
        return thread.major
    return thread.planes.e0 + NPT_HEIGHT * thread.pitch


def hole(thread: Thread) -> Span:
    """The limits of the hole: those of the minor diameter; for a taper tap, its minor diameter at both ends.

    A straight hole for a taper tap lies between the minor diameter where hand-tight engagement ends and that at the
    opening, so that the tap cuts all along.
    """
    if thread.planes is None:
        return thread.limits.minor
    height = NPT_HEIGHT * thread.pitch
    return Span(thread.planes.e0 - height, thread.planes.e1 - height)


def listed(thread: Thread) -> tuple[str, float, str]:
    """(name of the drill, its diameter in the thread's unit, a note with the source)."""
    row = _listed().get((thread.system, thread.size.removeprefix("G ")))
    if row is None:
        raise not_tabled(thread)
    kind = "straight, without reaming to the taper first" if thread.system == NPT else "for a parallel tap"
    return row["drill"], float(row["diameter"]), f"the drill that handbooks list, {kind}: {cite(row['source'])}"


def not_tabled(thread: Thread) -> LatheworksError:
    """The error for a thread without a tabled tap drill, with the hole to bore instead."""
    system = "inch" if thread.system in INCH_SYSTEMS else "metric"
    limits = hole(thread)
    return NotInTable(
        f"tap_drills: thread: got {thread.designation!r}, expected a thread that handbooks list a tap drill for: "
        f"Unified, ISO metric, NPT up to 4 or G up to 2. Try boring the hole to {show(limits.min, system)} to "
        f"{show(limits.max, system)}, the limits of its minor diameter."
    )
