"""The exercises of lesson 01: which thread, with what limits, and what hole."""

from collections.abc import Callable, Mapping
from typing import Any

from latheworks.course import slips
from latheworks.course.tasks import (
    Ask,
    Choice,
    Function,
    Number,
    Outcome,
    Prediction,
    Reason,
    Setting,
    Several,
    Slip,  # fmt: skip
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.threads import Thread, thread
from latheworks.threads.taps import HEIGHTS
from latheworks.units import Q_, show

OUTSIDE, BORE = Q_(32, "mm"), Q_(20, "mm")
SHOE_BORE = Q_(19, "mm")
SCREW = "#10-24 UNC-2B"
# What a boring bar of the school may be off by; a teaching value, said in the question.
_MARGIN = Q_(0.05, "mm")


def wall(across: Any, hole: Any) -> Any:
    """What is left of a tube on one side, between its outside and a hole or a groove [length]."""
    return ((across - hole) / 2).to("mm")


def both(size: Any) -> str:
    """A size in both systems."""
    return f"{show(size)} ({show(size, 'inch')})"


def wall_guess(numbers: Variant) -> Prediction:
    """The guess before the first bench."""
    coarse, fine = thread("1-8 UNC-2B"), thread("1-20 UNEF-2B")
    left, left_fine = wall(OUTSIDE, coarse.limits.major.min), wall(OUTSIDE, fine.limits.major.min)
    holes = [show(t.limits.minor.min) for t in (coarse, fine)]
    return Prediction(
        question="The barrel's thread stays 1 inch. You go from 8 threads per inch to 20. What happens to the wall "
        "between the bottom of the groove and the outside of the barrel?",
        options=("it gets thicker", "it gets thinner", "it stays the same"),
        hint="",
        worked=f"The groove of an internal thread reaches out to the major diameter, and that is the size, whatever "
        f"the pitch. With 8 threads per inch {show(left)} is left, with 20 {show(left_fine)}. What the pitch changes "
        f"is the hole: at least {holes[0]} against {holes[1]}.",
    )


def coarse_or_fine(numbers: Variant) -> Several:
    """Two pitches of one size, compared statement by statement."""
    pair = numbers.pick("pair", (("1-8 UNC", "1-12 UNF"), ("1-12 UNF", "1-20 UNEF"), ("1-8 UNC", "1-20 UNEF")))
    name, than = numbers.pick("order", (pair, pair[::-1]))
    shoe, other = thread(f"{name}-2A"), thread(f"{than}-2A")
    hole, other_hole = (t.mate().limits for t in (shoe, other))
    judged = {
        f"The hole for {name} is larger than for {than}.": (
            hole.minor.min > other_hole.minor.min,
            "The hole follows the internal minor diameter: the size less a share of the pitch.",
        ),
        f"{name} leaves the barrel a thicker wall outside its groove than {than}.": (
            hole.major.min < other_hole.major.min,
            "The barrel's groove reaches out to the major diameter. Does the pitch come into that?",
        ),
        f"{name} leaves the shoe more steel under its thread than {than}.": (
            shoe.limits.minor.max > other.limits.minor.max,
            "The shoe's root lies one thread deep below its outside. Which pitch cuts deeper?",
        ),
        f"One turn carries the shoe further with {name} than with {than}.": (
            shoe.lead > other.lead,
            "With one start, a turn carries the shoe by one pitch. More threads in an inch mean a shorter pitch.",
        ),
        "The shoe's blank may be turned to the same largest diameter for both.": (
            shoe.limits.major.max == other.limits.major.max,
            "The largest blank is the size less the allowance, and the allowance is made from the pitch too.",
        ),
    }
    right = tuple(text for text, (true, _) in judged.items() if true)
    return Several(
        question=f"The corer's joint could be {name} or {than}: same size, another pitch. Which of these are true? "
        "Tick all that are.",
        options=tuple(judged),
        right=right,
        slips=tuple(Slip(f"statement {i}", t, why) for i, (t, (_, why)) in enumerate(judged.items(), 1)),
        hint="Print both threads and both mates, and compare pitch, lead, major max, minor max and minor min.",
        worked="\n".join(
            f"{t.designation}: lead {show(t.lead, 'inch')}, blank at most {both(t.limits.major.max)}, root at most "
            f"{both(t.limits.minor.max)}; hole in {t.mate().designation} at least {both(t.mate().limits.minor.min)}, "
            f"groove out to {both(t.mate().limits.major.min)}."
            for t in (shoe, other)
        ),
    )


def blank_size(numbers: Variant) -> Number:
    """The largest blank of an external thread."""
    names = (
        "1-8 UNC-2A",
        "1-12 UNF-2A",
        "1-20 UNEF-2A",
        "7/8-14 UNF-2A",
        "3/4-16 UNF-2A",
        "1 1/8-12 UNF-2A",
        "M24x1.5-6g",
        "M20x1.5-6g",
    )
    t = thread(numbers.pick("size", names))
    return Number(
        question=f"A drawing for another shoe says {t.designation}. To what largest diameter may its blank be turned "
        "before the thread is cut? Give it to 0.0001 in or to 0.002 mm, with the unit.",
        right=t.limits.major.max,
        within=Q_(0.0001, "inch"),
        slips=(
            slips.basic_size(t.major),
            slips.other_limit(t.limits.major.min),
            Slip("allowance added", t.major + t.allowance, "The allowance makes the outside smaller, not larger."),
            Slip("pitch diameter", t.limits.pitch_diameter.max, "This is half way down the thread, not at its crests."),
        ),
        hint="Classes 2A and 6g lie below the basic size by the allowance. A cell of your own with "
        f'print(thread("{t.designation}")) shows the limits; read which one is asked.',
        worked=lambda: t.working,
    )


def own_bore(numbers: Variant) -> Setting:
    """A hole of one's own for the barrel's thread; any that keeps clear of both limits passes."""
    t = thread(numbers.pick("size", ("1-12 UNF-2B", "1-20 UNEF-2B", "1-14 UNS-2B", "M24x1.5-6H")))
    limits = t.limits.minor
    least, most = limits.min + _MARGIN, limits.max - _MARGIN

    def judge(values: Mapping[str, Any]) -> Outcome:
        hole = values["hole"]
        over, under = show(hole - limits.min), show(limits.max - hole)
        if hole >= t.limits.major.min:
            return miss(
                "major for hole", "A hole that large lets the shoe slide in: nothing is left to cut a thread in."
            )
        if hole > limits.max:
            return miss("above the limits", f"Above the class by {show(hole - limits.max)}: the crests are too short.")
        if hole < limits.min:
            return miss("below the limits", f"Below the class by {show(limits.min - hole)}: the shoe may not go in.")
        if not least <= hole <= most:
            return miss("too near a limit", f"Inside the class, {over} above one end and {under} below the other: "
                        "a bar that cuts a little off would leave it.")  # fmt: skip
        return good(f"{over} above the smallest and {under} below the largest hole of {t.designation}. "
                    "Other diameters between would do as well.")  # fmt: skip

    return Setting(
        question=f"The barrel gets {t.designation}, cut with a single point. To what diameter do you bore before "
        f"threading? Stay at least {show(_MARGIN, digits=2)} ({show(_MARGIN, 'inch', digits=3)}) inside both limits, "
        "for a bar that does not repeat exactly (a teaching value). Any such diameter is right.",
        asks=(Ask("hole", "Bore to"),),
        judge=judge,
        solved={"hole": f"{limits.mid.m_as('mm'):.2f} mm"},
        slips=(
            Slip("major for hole", {"hole": f"{t.major.m_as('mm') + 0.1:.3f} mm"}, ""),
            Slip("above the limits", {"hole": f"{(t.major - 0.75 * t.pitch).m_as('mm'):.3f} mm"}, ""),
            Slip("below the limits", {"hole": f"{(t.major - HEIGHTS['3/4 H'] * t.pitch).m_as('mm'):.3f} mm"}, ""),
            Slip("too near a limit", {"hole": f"{limits.min.m_as('mm') + 0.01:.3f} mm"}, ""),
        ),
        hint="The hole of an internal thread is its minor diameter. Print the class's limits for it.",
        worked=f"The minor diameter of {t.designation} lies from {both(limits.min)} to {both(limits.max)}; the middle "
        f"is {both(limits.mid)}.",
    )


def drill_guess(numbers: Variant) -> Prediction:
    """The guess before the second bench."""
    t = thread(SCREW)
    hole = hole_for(t.major, t.pitch, 50)
    side = "inside them" if t.limits.minor.holds(hole) else "too large"
    return Prediction(
        question=f"Some charts list a drill for 50 percent thread, since the tap turns easily in it. Does a hole of "
        f"that size lie inside the limits of {SCREW}?",
        options=("yes, it is inside", "no, it is too large", "no, it is too small"),
        hint="",
        worked=f"Half of full thread asks for a hole of {both(hole)}. The class allows {both(t.limits.minor.min)} to "
        f"{both(t.limits.minor.max)}: it is {side}.",
    )


def hole_for(major: Any, pitch: Any, percent: float) -> Any:
    """The hole that leaves a percent of full thread, by the tap makers' convention [length]."""
    return major - percent / 100 * HEIGHTS["3/4 H"] * pitch


def _taking(factor: float) -> Callable[..., Any]:
    """A wrong formula for the hole, which takes another share of the pitch off."""
    return lambda major, pitch, percent: major - percent * factor * pitch


def hole_for_percent(numbers: Variant) -> Function:
    """The tap makers' formula turned round."""
    names = numbers.several("size", ("#10-24 UNC-2B", "1/4-20 UNC-2B", "5/16-18 UNC-2B", "3/8-16 UNC-2B", "M6-6H"), 2)
    inputs = tuple(
        {"major": t.major, "pitch": t.pitch, "percent": percent}
        for t in map(thread, names)
        for percent in numbers.several("percent", (60, 65, 70, 75, 80), 3)
    )
    wrong = (
        ("percent of the pitch", 1 / 100, "This takes a percent of the pitch. A full thread is deeper, on both sides."),
        ("other convention", HEIGHTS["5/8 H"] / 100, "This calls 5/8 H a side full thread; the question takes 3/4 H."),
        ("one side only", HEIGHTS["3/4 H"] / 200, "This takes the thread off one side only; a hole has two."),
        ("percent as a fraction", HEIGHTS["3/4 H"], "Percent came as 75 and was used as if it were 0.75."),
    )
    return Function(
        question="Write hole_for_percent(major, pitch, percent): the hole that leaves this percent of full thread, "
        "by the convention that calls 3/4 H a side 100 percent. Major and pitch come with their units, percent as a "
        "plain number such as 75. Use 1.29904 for the factor.",
        reference=hole_for,
        inputs=inputs,
        within=1e-4,
        slips=tuple(Slip(name, _taking(factor), sentence) for name, factor, sentence in wrong),
        hint="Turn percent = 100 (D - hole) / (1.29904 P) round so that hole stands alone.",
        worked="hole = major - percent / 100 * 1.29904 * pitch",
    )


def fault_in_plan(numbers: Variant) -> Choice:
    """One line of somebody's plan is at fault; which one differs per student."""
    name, tpi, wrong = numbers.pick("size", (("1-12", "UNF", "UNEF"), ("1-20", "UNEF", "UNF"), ("1-8", "UNC", "UNF")))
    fault = numbers.pick("fault", ("series", "mate", "blank", "bore", "lead"))
    shoe = thread(f"{name} {tpi}-2A (2 STARTS)")
    hole = shoe.mate().limits.minor
    lines = {
        "series": (f"The drawing says {name} {tpi}.", f"The drawing says {name} {wrong}.",
                   "Size, threads per inch and series belong together here."),
        "mate": ("The shoe gets class 2A and the barrel class 2B.", "The shoe gets class 2A and the barrel class 2A.",
                 "The letter tells the outside part from the inside part; these two are told apart."),
        "blank": (f"The shoe's blank is turned to {both(shoe.limits.major.max)}.",
                  f"The shoe's blank is turned to {both(shoe.major)}.",
                  "The blank keeps to the limits of class 2A."),
        "bore": (f"The barrel is bored to {both(hole.mid)}.",
                 f"The barrel is bored to {both(shoe.major - 0.75 * shoe.pitch)}.",
                 "The hole keeps to the minor limits of class 2B."),
        "lead": (f"Both threads have 2 starts, so the lathe is geared for {both(shoe.lead)} a turn.",
                 f"Both threads have 2 starts, and the lathe is geared for {both(shoe.pitch)} a turn.",
                 "Two starts at this pitch do travel that far in one turn."),
    }  # fmt: skip
    shown = {key: line[1] if key == fault else line[0] for key, line in lines.items()}
    why = {
        "series": f"{name} is {tpi}, not {wrong}: the standard has one number of threads per inch for each.",
        "mate": "A is for the external part. The barrel is internal, so its class ends in B.",
        "blank": f"Class 2A lies below the basic size: at most {both(shoe.limits.major.max)}.",
        "bore": f"The hole must lie from {both(hole.min)} to {both(hole.max)}; taking off 0.75 P leaves it too large.",
        "lead": f"The lathe is geared for the lead, starts x pitch: {both(shoe.lead)}.",
    }[fault]
    return Choice(
        question="A friend plans the corer's joint with two starts, so that the shoe comes off in few turns. "
        "One line of the plan is at fault. Which one?",
        options=tuple(shown.values()),
        right=shown[fault],
        slips=tuple(
            Slip(f"sound {key}", shown[key], f"{lines[key][2]} Look at another line.") for key in lines if key != fault
        ),
        hint="Read the designation into the library, print it and its mate, and lay the plan beside them.",
        worked=why,
    )


def which_thread(numbers: Variant) -> Reason:
    """Decide and justify; kept for a person."""
    names = ("1-8 UNC-2A", "1-12 UNF-2A", "1-20 UNEF-2A")
    return Reason(
        question="1-8 UNC, 1-12 UNF or 1-20 UNEF for the corer, or another thread? Decide, and give your reasons in "
        "two sentences: one about the metal that is left, with numbers, and one about sand, wear and use.",
        hint="",
        worked=lambda: "\n".join(
            [
                "One choice that can be defended is 1-12 UNF: it leaves more steel in the shoe than 1-8, and its "
                "threads are deeper and bear more grit and wear in aluminum than those of 1-20. So can others.",
                *(_metal_left(thread(name)) for name in names),
            ]
        ),
    )


def _metal_left(shoe: Thread) -> str:
    hole = shoe.mate().limits
    return (
        f"{shoe.designation}: barrel's wall at most {show(wall(OUTSIDE, hole.major.min))}, shoe's wall at most "
        f"{show(wall(shoe.limits.minor.max, SHOE_BORE))}, hole {show(hole.minor.min)} to {show(hole.minor.max)} "
        f"against the barrel's bore of {show(BORE, digits=0)}."
    )


EXERCISES = (wall_guess, coarse_or_fine, blank_size, own_bore, drill_guess, hole_for_percent, fault_in_plan,
             which_thread)  # fmt: skip
