"""Which wires suit a thread, whether its lead counts, and what is worth saying about both."""

import math
from typing import Any

from latheworks.door import Door
from latheworks.threads.spec import NPT, PARALLEL_PIPE
from latheworks.threads.thread import Thread
from latheworks.threads.wires_kernel import best_wire, best_wire_with_lead, largest_wire, smallest_wire
from latheworks.units import Q_, U, show

# The formulas without lead are for lead angles up to 5 degrees; flanks of 30 degrees and less feel the lead sooner.
LARGE_LEAD_ANGLE, STEEP_FLANKS = 5.0, 30.0
ROUNDED_CREST = 0.073917  # of the pitch: how far below the crest of a 55 degree thread its flanks end
LOW_WIRE = (
    "where the major diameter is at its largest and the pitch diameter near its least, the crests stand above "
    "these wires: see that the micrometer touches wires and not crests"
)
ONLY_PITCH = (
    "a reading inside the limits speaks for the pitch diameter alone: the major and minor diameters, "
    "the angle and the lead are checked apart"
)


def counts_lead(t: Thread) -> bool:
    """Whether the lead is counted: steep flanks, several starts, or a large lead angle."""
    steep = t.included_angle.m_as("degree") <= STEEP_FLANKS
    return bool(steep or t.starts > 1 or t.lead_angle.m_as("degree") > LARGE_LEAD_ANGLE)


def best_of(t: Thread) -> Any:
    """The best wire."""
    half = math.radians(t.included_angle.m_as("degree")) / 2
    if t.lead_angle.m_as("degree") <= LARGE_LEAD_ANGLE:
        return Q_(best_wire(t.pitch.magnitude, half), t.pitch.units)
    mean = t.limits.pitch_diameter.mid.magnitude
    return Q_(best_wire_with_lead(mean, t.pitch.magnitude, t.lead.magnitude, half), t.pitch.units)


def usable(t: Thread) -> tuple[float, float]:
    """(smallest, largest) usable wire: top level with the crest at full size, contact at the corner of the lowest."""
    half, pitch = math.radians(t.included_angle.m_as("degree")) / 2, t.pitch.magnitude
    major, mean, root = t.limits.major, t.limits.pitch_diameter, t.limits.minor.max
    tall = (major.max - mean.max).magnitude / 2
    short = (major.min - mean.max).magnitude / 2 - (ROUNDED_CREST * pitch if t.system == PARALLEL_PIPE else 0.0)
    deep = (mean.max - (t.minor if root is None else root)).magnitude / 2
    return smallest_wire(pitch, half, tall, deep), largest_wire(pitch, half, short)


def sinks(t: Thread, wire: float) -> bool:
    """Whether the wire's top would lie below the largest crest when the pitch diameter is at its least."""
    half, pitch = math.radians(t.included_angle.m_as("degree")) / 2, t.pitch.magnitude
    tall = (t.limits.major.max - t.limits.pitch_diameter.min).magnitude / 2
    return wire < smallest_wire(pitch, half, tall, math.inf)


def notes_of(t: Thread, wire: float, middle: Any, counted: bool) -> tuple[str, ...]:
    """What a reader of the result has to know."""
    system = "inch" if t.pitch.units == U.inch else "metric"
    added = show(middle, system, 5 if system == "inch" else 4)
    lead = (f"without the lead correction the pitch diameter would seem {added} larger than it is" if counted else
            f"the lead adds {added} to the reading; for this thread the trade leaves it out")  # fmt: skip
    return (lead, *((LOW_WIRE,) if sinks(t, wire) else ()), ONLY_PITCH)


def measurable(door: Door, thread: Any) -> Thread | None:
    """The thread when wires can measure it; a complaint and None when not."""
    t = door.instance(thread, "thread", Thread, "a Thread or its designation", 'three_wires("1/2-13 UNC-2A")')
    if t is None:
        return None
    if t.system == NPT:
        door.complain("thread", t.designation, "a parallel thread: a tapered one is checked with a ring gage",
                      'three_wires("G 1/2 A") for a parallel pipe thread')  # fmt: skip
        return None
    if not t.external:
        door.complain("thread", f"{t.designation}, an internal thread", "an external one: wires rest on the outside",
                      "the mate, three_wires(thread.mate()), and a plug gage for the hole")  # fmt: skip
        return None
    return t


def to_copy(quantity: Any) -> str:
    """A quantity as a line to copy."""
    return f'Q_({quantity.magnitude:.5g}, "{quantity.units:~}")'
