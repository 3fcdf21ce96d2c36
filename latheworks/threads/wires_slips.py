"""Which slip would explain a reading over wires that no pitch diameter of the thread could give."""

from math import radians
from typing import TYPE_CHECKING

from latheworks.threads.wires_kernel import wire_factor
from latheworks.units import U

if TYPE_CHECKING:
    from latheworks.threads.wires import ThreeWires


def slip_of(wires: "ThreeWires", reading: float) -> str:
    """A sentence with the slip that turns the reading into a likely one; empty when none does."""
    t = wires.thread
    inch = t.pitch.units == U.inch
    low, high = wires.over_wires.min.magnitude, wires.over_wires.max.magnitude
    tolerance = high - low
    crest = t.limits.major
    top = (crest.min.magnitude + crest.max.magnitude) / 2
    slack = (crest.max.magnitude - crest.min.magnitude) / 2 + tolerance / 10
    turn, other = (0.025, 25.4) if inch else (0.5, 1 / 25.4)
    unit, other_unit = ("in", "mm") if inch else ("mm", "in")

    def likely(value: float) -> bool:
        return low - tolerance <= value <= high + tolerance

    if abs(reading - top) <= slack:
        return "That is the major diameter, read without wires: put the wires in the grooves."
    if likely(2 * reading - top):
        return "It would fit a reading with wires on one side only: put one wire opposite the other two."
    if likely(reading / other):
        return f"The number fits a reading in {other_unit}: give it that unit."
    for turns in (1, -1, 2, -2):
        if likely(reading + turns * turn):
            size = f"{abs(turns) * turn:g} {unit}"
            return f"It is {size} off, {abs(turns)} turn{'s'[: abs(turns) - 1]} of the thimble: read the sleeve again."
    half = radians(t.included_angle.m_as("degree")) / 2
    guess = wires.wire.magnitude + (reading - (low + high) / 2) / wire_factor(half)
    if wires.smallest.magnitude <= guess <= wires.largest.magnitude:
        return f"It would fit wires of about {guess:.4f} {unit}: measure the wires, and give that size as wire=."
    return ""
