"""The exercises of lesson 00: units, typed sizes, and a setting of one's own."""

import math
from collections.abc import Mapping
from typing import Any

from latheworks.course.first_steps import turn_trap
from latheworks.course.tasks import Ask, Choice, Number, Outcome, Prediction, Setting, Several, Slip, good, miss
from latheworks.course.variant import Variant
from latheworks.errors import LatheworksError
from latheworks.reading import read_size
from latheworks.units import Q_, Span, U, show

ALUMINUM = "aluminum 6061-T6"


def twice_as_far(numbers: Variant) -> Prediction:
    """A guess: how the bend grows with the length that stands out."""
    from latheworks.deflection import Chuck, Shaft, deflection  # the others here work where there is no numpy

    short = numbers.pick("length", (80, 100, 120))
    near, far = (Q_(float(length), "mm") for length in (short, 2 * short))
    bends = [
        deflection(Shaft.bar(at, Q_(32.0, "mm"), Q_(20.0, "mm"), material=ALUMINUM), Chuck(), Q_(100.0, "N"), at)
        for at in (near, far)
    ]
    ratio = (bends[1] / bends[0]).m_as(U.one)
    return Prediction(
        question=f"The barrel stands {show(near, digits=0)} out of the chuck and the tool pushes at its free end. "
        f"Then it stands {show(far, digits=0)} out, twice as far, with the same push. "
        "How much more does it bend at the tool?",
        options=("just as much", "twice as much", "about four times as much", "more than four times as much"),
        hint="",
        worked=f"It bends {show(bends[0])}, and then {show(bends[1])}: {ratio:.1f} times as much. In a stiff grip a "
        "bar alone bends with the cube of its length, eight times; a chuck that gives a little makes the first bend "
        "larger too, so the growth comes out smaller than that.",
    )


def inch_or_metric(numbers: Variant) -> Number:
    """A fraction of an inch, in millimeters."""
    top, bottom = numbers.pick("size", ((7, 16), (9, 16), (5, 8), (11, 16), (3, 8), (13, 32)))
    right = read_size(f"{top}/{bottom} in").to("mm")
    return Number(
        question=f"A length on the shoe's drawing is {top}/{bottom} in. What should a metric caliper read there? "
        "Give it to 0.01 mm, with the unit.",
        right=right,
        within=Q_(0.01, "mm"),
        slips=(
            Slip(
                "fraction upside down",
                Q_(bottom / top, "inch"),
                "The fraction stands on its head: divide the upper number by the lower one.",
            ),
            Slip("10 mm for an inch", Q_(top / bottom * 10, "mm"), "An inch was taken as 10 mm; it is longer."),
        ),
        hint="Divide the upper number by the lower one, then multiply by the millimeters in one inch.",
        worked=f"{top}/{bottom} in = {top / bottom:.4f} in; times 25.4 mm in an inch: {show(right)}.",
    )


def surface_speed(numbers: Variant) -> Choice:
    """The turn that counts as 2 pi, met in a choice of speeds."""
    across = Q_(numbers.pick("diameter", (32, 30, 36, 40)), "mm")
    spindle = Q_(numbers.pick("spindle", (500, 600, 700)), "rpm")
    both = turn_trap(across, spindle)
    right = show(both.surface_speed)
    half, trap, no_pi = (show(q) for q in (
        both.surface_speed / 2, both.with_turn_as_angle, both.surface_speed / math.pi
    ))  # fmt: skip
    options = (no_pi, half, right, trap)
    return Choice(
        question=f"A bar, {show(across, digits=0)} across, turns at {show(spindle)}. "
        "How fast does its skin pass the tool?",
        options=options,
        right=right,
        slips=(
            Slip(
                "turn as 2 pi", trap, "Here each turn was counted as 2 pi; the pi x D already is the whole way round."
            ),
            Slip("radius for diameter", half, "This uses the radius; once round is pi times the diameter."),
            Slip("pi left out", no_pi, "This is the diameter times the turns; once round is longer than once across."),
        ),
        hint="How long a strip would peel off in one turn? How many turns are there in a minute?",
        worked=lambda: both.working,
    )


def readable_sizes(numbers: Variant) -> Several:
    """Which typed sizes are read, decided by the reader itself."""
    inch = numbers.pick("inch", ("1 1/4 in", "1 3/8 in", "2 1/8 in"))
    comma = numbers.pick("comma", ("31,75 mm", "34,9 mm", "12,5 mm"))
    thou = numbers.pick("thou", ("5 thou", "8 thou", "12 thou"))
    why = {
        inch: "A mixed number and one unit, as the trade writes it: it is read.",
        comma: "A comma is a decimal mark in some countries and a thousands mark in others: it is refused.",
        thou: "A thou is a thousandth of an inch: it is read.",
        thou.replace("thou", "mil"): "To some a mil is a thousandth of an inch, to others a millimeter: it is refused.",
        '7/16"': "Two marks mean inches: it is read.",
        "12 + 3 mm": "Sums are not worked out in the box: it is refused.",
    }
    right = tuple(text for text in why if _is_read(text))
    return Several(
        question="Which of these would the size box of a bench read? Tick all that it reads.",
        options=tuple(why),
        right=right,
        slips=tuple(Slip(f"reading {text}", text, sentence) for text, sentence in why.items()),
        hint="One number, fraction or mixed number, and one unit that means one thing only.",
        worked="Read: " + ", ".join(right) + ". Type the others into a bench to see what it says to each.",
    )


def own_speed(numbers: Variant) -> Setting:
    """A spindle speed of one's own; any that keeps the surface speed in a span passes."""
    across = Q_(numbers.pick("diameter", (32, 30, 36, 40)), "mm")
    low = numbers.pick("speed", (50, 60, 70))
    span = Span(Q_(low, "m/min"), Q_(low + 20, "m/min"))
    middle = (span.mid / (math.pi * across / U.rev)).to("rpm")

    def judge(values: Mapping[str, Any]) -> Outcome:
        speed = turn_trap(across, values["spindle"]).surface_speed
        reads = f"At {show(values['spindle'])} the skin passes the tool at {show(speed)}"
        if speed < span.min:
            return miss("too slow", f"{reads}, which is below the span.")
        if speed > span.max:
            return miss("too fast", f"{reads}, which is above the span.")
        return good(f"{reads}, inside the span. Another speed inside it would do as well.")

    return Setting(
        question=f"Set a spindle speed for a bar of {show(across, digits=0)}, so that its skin passes the tool at "
        f"{show(span.min, digits=0)} to {show(span.max, digits=0)} (a span invented for this lesson). "
        "Any speed inside the span is right.",
        asks=(Ask("spindle", "Spindle speed", kind="spindle"),),
        judge=judge,
        solved={"spindle": f"{middle.m:.0f} rpm"},
        slips=(
            Slip("too slow", {"spindle": f"{middle.m / 3:.0f} rpm"}, ""),
            Slip("too fast", {"spindle": f"{middle.m * 3:.0f} rpm"}, ""),
        ),
        hint="Turn v = pi x D x n round, so that n stands alone; mind meters and millimeters.",
        worked=f"n = v / (pi x D); with the middle of the span, {show(span.mid)}, it is {show(middle)}.",
    )


def _is_read(text: str) -> bool:
    try:
        read_size(text)
    except LatheworksError:
        return False
    return True


EXERCISES = (twice_as_far, inch_or_metric, surface_speed, readable_sizes, own_speed)
