"""Measuring an external thread over three wires: which wires, what to read, and the pitch diameter back from it."""

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import OutOfRange
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads.thread import Thread
from latheworks.threads.thread import thread as read_thread
from latheworks.threads.wires_choice import ONLY_PITCH, best_of, counts_lead, measurable, notes_of, to_copy, usable
from latheworks.threads.wires_kernel import (
    best_wire,
    handbook_lead_term,
    lead_term,
    over_wires,
    pitch_factor,
    wire_factor,
)
from latheworks.threads.wires_slips import slip_of
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working

CHECK = "Check the wires, their seat on the flanks, and the designation."


@dataclass(frozen=True, slots=True, eq=False)
class ThreeWires(Result):
    """What to read over three wires of one size, and the wires that can be used.

    `over_wires` is the Span of readings for the class's limits of pitch diameter. `lead_correction` is what the
    lead adds to a reading; `corrected` says whether `over_wires` and `pitch_diameter_from` count it, and
    `without_correction` is the Span that leaves it out. Without the correction where it is due, the pitch
    diameter comes out too large by that much.
    """

    thread: Thread
    wire: Any
    best: Any
    smallest: Any
    largest: Any
    over_wires: Span
    without_correction: Span
    lead_correction: Any
    corrected: bool
    notes: tuple[str, ...]
    terms: tuple[float, float] = field(repr=False)

    def pitch_diameter_from(self, reading: Any) -> Any:
        """Return the pitch diameter that a reading over this wire shows: d2 = M - W (1 + csc a) + P cot a / 2 - c.

        Parameter: reading [length], one value or an array. c is the lead correction where `corrected` says so.
        Raises LatheworksError for a reading that no pitch diameter of this thread could give, with the slip that
        would explain it. Source: as for three_wires.

        >>> wires = three_wires("1/2-13 UNC-2A", wire=Q_(0.045, "in"))
        >>> show(wires.pitch_diameter_from(Q_(0.5140, "in")), "inch")
        '0.4456 in'
        """
        unit = self.thread.pitch.units
        with Door("pitch_diameter_from") as door:
            name = "in" if unit == U.inch else "mm"
            read = door.array(reading, "reading", name, above=0, example=f"reading={to_copy(self.over_wires.mid)}")
        found = self._pitch_diameter(read)
        low, high = self.thread.minor.magnitude, self.thread.major.magnitude
        wrong = (found <= low) | (found >= high)
        if np.any(wrong):
            first = float(np.ravel(read)[np.argmax(np.ravel(wrong))])
            shown = float(np.ravel(found)[np.argmax(np.ravel(wrong))])
            raise OutOfRange(
                f"pitch_diameter_from: reading: got {first:g} {name}, which would be a pitch diameter of {shown:.4f} "
                f"{name}; expected one between the minor and the major diameter, {low:g} and {high:g} {name}, and "
                f"{self.over_wires.min.magnitude:.4f} to {self.over_wires.max.magnitude:.4f} {name} over the wires "
                f"for the class. {slip_of(self, first)} {CHECK}"
            )
        return Q_(found if read.ndim else float(found), unit)

    def judge(self, reading: Any) -> str:
        """Say what one reading means for the class's limits of pitch diameter, and what is left to cut.

        Parameter: reading [length]. Raises LatheworksError as pitch_diameter_from does. Source: derivation.

        >>> three_wires("1/2-13 UNC-2A").judge(Q_(0.5171, "in"))
        'pitch diameter 0.4505 in: still large: 0.0010 in to 0.0035 in more radial depth is left to cut'
        """
        with Door("judge") as door:
            name = f"{self.thread.pitch.units:~}"
            value = door.number(reading, "reading", name, above=0, example=f"reading={to_copy(self.over_wires.mid)}")
        found = self.pitch_diameter_from(Q_(value, self.thread.pitch.units))
        limits = self.thread.limits.pitch_diameter
        system = "inch" if self.thread.pitch.units == U.inch else "metric"
        text = f"pitch diameter {show(found, system)}: "
        if limits.holds(found):
            return text + "inside the limits; " + ONLY_PITCH
        far = found > limits.max + limits.width or found < limits.min - limits.width
        slip = slip_of(self, value) if far else ""
        if found > limits.max:
            least, most = (found - limits.max) / 2, (found - limits.min) / 2
            text += f"still large: {show(least, system)} to {show(most, system)} more radial depth is left to cut"
        else:
            text += f"too small by {show(limits.min - found, system)}: no cut brings it back"
        return f"{text}. {slip}" if slip else text

    def _pitch_diameter(self, reading: Any) -> Any:
        """The pitch diameter of plain readings; the lead term runs straight between its values at both limits."""
        t = self.thread
        half = math.radians(t.included_angle.m_as("degree")) / 2
        plain = reading - float(over_wires(0.0, t.pitch.magnitude, self.wire.magnitude, half))
        if not self.corrected:
            return plain
        low, high = t.limits.pitch_diameter.min.magnitude, t.limits.pitch_diameter.max.magnitude
        slope = (self.terms[1] - self.terms[0]) / (high - low)
        return (plain - self.terms[0] + slope * low) / (1.0 + slope)

    def title(self) -> str:
        return f"Three wires on {self.thread.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        inch = self.thread.pitch.units == U.inch
        system, fine = ("inch", 5) if inch else ("metric", 4)
        read, left_out = self.over_wires, self.without_correction
        rows = [
            ("wire used", show(self.wire, system, fine)),
            ("best wire", show(self.best, system, fine)),
            ("usable wires", f"{show(self.smallest, system, fine)} to {show(self.largest, system, fine)}"),
            ("over wires", f"{show(read.min, system)} to {show(read.max, system)}"),
            ("lead adds", f"{show(self.lead_correction, system, fine)}, {'counted' if self.corrected else 'left out'}"),
        ]
        if self.corrected:
            rows.append(("without it", f"{show(left_out.min, system)} to {show(left_out.max, system)}"))
        return (*rows, *(("note", note) for note in self.notes))

    def columns(self) -> dict[str, Any]:
        unit = f"{self.thread.pitch.units:~}"
        limits = self.thread.limits.pitch_diameter
        return {
            "limit": ("min", "max"),
            f"pitch diameter [{unit}]": tuple(float(q.magnitude) for q in (limits.min, limits.max)),
            f"over wires [{unit}]": tuple(float(q.magnitude) for q in (self.over_wires.min, self.over_wires.max)),
        }

    @property
    def working(self) -> Working:
        """The best wire, the reading for the largest pitch diameter, and the lead's part in it."""
        t, half = self.thread, math.radians(self.thread.included_angle.m_as("degree")) / 2
        unit, p, w = f"{t.pitch.units:~}", t.pitch.magnitude, self.wire.magnitude
        top = t.limits.pitch_diameter.max.magnitude
        k, q, a = wire_factor(half), pitch_factor(half), f"{math.degrees(half):g}"
        handbook = cite("mh31_wires")
        ends = f"{self.smallest.magnitude:.5f} to {self.largest.magnitude:.5f} {unit}"
        lines = [
            Line("W best", "P/(2 cos a)", f"{p:.6g}/(2 cos {a})", f"{best_wire(p, half):.5f} {unit}", handbook),
            Line("W usable", "top above the crest, contact below the crest's corner", "at the limits of d and d2", ends,
                 "worked out here from the form; " + cite("wire_limits")),
            Line("M max", "d2 max + W (1 + csc a) - P cot a / 2", f"{top:g} + {k:.5f} x {w:.5g} - {q:.6f} x {p:.6g}",
                 f"{self.without_correction.max.magnitude:.5f} {unit}", handbook),
            Line("c", "contact of a straight wire with the helical flanks", f"lead angle {show(t.lead_angle)}",
                 f"{self.lead_correction.magnitude:.5f} {unit}, {'counted' if self.corrected else 'left out'}",
                 "worked out here, checked against " + cite("mh31_wires_lead")),
            Line("c, roughly", "W tan^2 B cos a cot a / 2", f"B {show(t.lead_angle)}",
                 f"{handbook_lead_term(top, t.lead.magnitude, w, half):.5f} {unit}", handbook),
        ]  # fmt: skip
        if self.corrected:
            lines.append(Line("M max with c", "M max + c", "", f"{self.over_wires.max.magnitude:.5f} {unit}", handbook))
        return Working(self.title(), tuple(lines))


def three_wires(thread: Thread | str, wire: Any = None) -> ThreeWires:
    """Return what an external thread reads over three wires, at both limits of its pitch diameter.

    M = d2 + W (1 + csc a) - P cot a / 2 + c, a half the angle of the thread: d2 + 3 W - 0.866025 P at 60 degrees,
    d2 + 4.99393 W - 1.933357 P at 29, d2 + 4.86370 W - 1.866025 P at 30, d2 + 3.16568 W - 0.960491 P at 55.
    Best wire P/(2 cos a), which touches at the pitch line; where the lead angle is over 5 degrees, the one that
    touches the helical flanks there. The smallest has its top level with the crests of a thread at its upper limits,
    the largest touches at the corner of the lowest crest. c, from the contact of a straight wire with the helix, is
    counted for flanks of 30 degrees and less, for several starts, and for lead angles over 5 degrees; elsewhere the
    trade leaves it out, and `lead_correction` shows it.
    Parameters: thread, an external Thread or its designation; wire, the wire really used [length, smallest to
    largest usable] or None for the best one. Raises LatheworksError; internal and tapered threads are refused.
    Source: Machinery's Handbook 31st ed., pp. 2129 to 2136; usable wires and c derived, and checked against it.

    >>> wires = three_wires("1/2-13 UNC-2A")
    >>> show(wires.best, "inch", 5), show(wires.over_wires.min, "inch"), show(wires.over_wires.max, "inch")
    ('0.04441 in', '0.5101 in', '0.5151 in')
    """
    if isinstance(thread, str):
        thread = read_thread(thread)
    with Door("three_wires") as door:
        t = measurable(door, thread)
        name = "mm" if t is None or t.pitch.units == U.mm else "in"
        asked = None
        if wire is not None:
            asked = door.number(wire, "wire", name, above=0, example=f"wire={to_copy(best_of(t))}" if t else None)
        if t is not None:
            low, high = usable(t)
            if asked is not None and not door.complaints and not low <= asked <= high:
                door.complain("wire", given(wire), f"{low:.5g} to {high:.5g} {name}: a smaller wire sinks "
                              "below the crests, a larger one rests on their corners", f"wire={to_copy(best_of(t))}",
                              OutOfRange)  # fmt: skip
    assert t is not None
    unit, half = t.pitch.units, math.radians(t.included_angle.m_as("degree")) / 2
    used = asked if asked is not None else float(best_of(t).magnitude)
    pitch, lead, limits = t.pitch.magnitude, t.lead.magnitude, t.limits.pitch_diameter
    ends = (limits.min.magnitude, limits.max.magnitude)
    plain = [float(over_wires(end, pitch, used, half)) for end in ends]
    terms = (lead_term(ends[0], pitch, lead, used, half), lead_term(ends[1], pitch, lead, used, half))
    counted = counts_lead(t)
    read = [m + c if counted else m for m, c in zip(plain, terms, strict=True)]
    middle = Q_((terms[0] + terms[1]) / 2, unit)
    return ThreeWires(
        thread=t,
        wire=Q_(used, unit),
        best=best_of(t),
        smallest=Q_(low, unit),
        largest=Q_(high, unit),
        over_wires=Span(*(Q_(value, unit) for value in read)),
        without_correction=Span(*(Q_(value, unit) for value in plain)),
        lead_correction=middle,
        corrected=counted,
        notes=notes_of(t, used, middle, counted),
        terms=terms,
    )
