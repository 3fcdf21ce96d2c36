"""Homework 1, the thread and its hole: limits, drill, travel, infeed, a speed that can be stopped, wires."""

from latheworks.course import slips
from latheworks.course.exercises.lesson_01 import both
from latheworks.course.exercises.the_tapped_hole import own_hole, reading_to_stop
from latheworks.course.tasks import Choice, Number, Reason, Slip
from latheworks.course.variant import Variant
from latheworks.threads import infeed, making, thread, three_wires
from latheworks.units import Q_, U, show

_METAL = "aluminum 6061-T6"


def pitch_limit(numbers: Variant) -> Number:
    """The smallest pitch diameter of the shoe's thread."""
    pairs = (
        ("1-12 UNF-2A", "1-12 UNF-3A"), ("7/8-14 UNF-2A", "7/8-14 UNF-3A"), ("3/4-16 UNF-2A", "3/4-16 UNF-3A"),
        ("1 1/8-12 UNF-2A", "1 1/8-12 UNF-3A"), ("M24x1.5-6g", "M24x1.5-6h"), ("M20x1.5-6g", "M20x1.5-6h"),
    )  # fmt: skip
    name, close = numbers.pick("thread", pairs)
    asked, mate, closer = thread(name), thread(name).mate(), thread(close)
    limits = asked.limits.pitch_diameter
    return Number(
        question=f"A shoe gets {name}. What is the smallest pitch diameter that the class allows? Give it to 0.0001 in "
        "or to 0.002 mm, with the unit.",
        right=limits.min,
        within=Q_(0.0001, "inch"),
        slips=(
            slips.other_limit(limits.max),
            slips.basic_size(asked.pitch_diameter),
            slips.other_thread(mate.limits.pitch_diameter.max, mate.designation, name),
            slips.other_class(closer.limits.pitch_diameter.min, closer.designation.rpartition("-")[2],
                              name.rpartition("-")[2]),
            Slip("minor for pitch diameter", asked.limits.minor.max,
                 "This is near the root. The pitch diameter lies where groove and ridge are equally wide."),
        ),
        hint="Print the thread, and read the line of the pitch diameter. The class belongs to the designation.",
        worked=lambda: asked.working,
        points=2,
    )  # fmt: skip


def in_one_turn(numbers: Variant) -> Number:
    """The lead of a thread with several starts."""
    name = numbers.pick("thread", (
        "1-12 UNF-2A (2 STARTS)", "1-20 UNEF-2A (3 STARTS)", "7/8-14 UNF-2A (2 STARTS)", "M24xPh3P1.5-6g",
        "M24xPh6P2-6g", "M20xPh4.5P1.5-6g",
    ))  # fmt: skip
    cut = thread(name)
    return Number(
        question=f"Sand wears the joint, so the shoe is to come off in fewer turns: {name}, with {cut.starts} starts. "
        "How far does the shoe move along the axis in one turn? Give it to 0.01 mm or 0.0005 in, with the unit.",
        right=cut.lead,
        within=Q_(0.01, "mm"),
        slips=(
            slips.pitch_for_lead(cut.pitch),
            Slip("starts taken twice", cut.starts * cut.lead, "The starts were counted twice: once is enough."),
            Slip("divided by the starts", cut.pitch / cut.starts,
                 "More starts lie side by side, so one turn carries further, not less far."),
        ),
        hint="The pitch is from one groove to the next. How many grooves does one turn go past?",
        worked=f"Lead = starts x pitch = {cut.starts} x {both(cut.pitch)} = {both(cut.lead)}.",
        points=2,
    )  # fmt: skip


def dial_to_bore(numbers: Variant) -> Number:
    """How far the cross slide goes out, from a drilled hole to the middle of the minor limits."""
    cut = thread(numbers.pick("thread", ("1-12 UNF-2B", "1-14 UNS-2B", "M24x1.5-6H", "1-16 UN-2B")))
    drilled, limits = Q_(numbers.pick("drilled", (18, 19, 20)), "mm"), cut.limits.minor
    middle = limits.mid.to("mm")
    right = (middle - drilled) / 2
    return Number(
        question=f"The hole in the barrel is drilled {show(drilled, digits=0)}. It is bored to the middle of the "
        f"minor diameter's limits of {cut.designation}. The dial of this cross slide counts the tool's own travel. How "
        "far does the tool go out in all, from the drilled wall? Give it to 0.02 mm, with the unit.",
        right=right,
        within=Q_(0.02, "mm"),
        slips=(
            slips.diameter(right),
            Slip("major for minor", (cut.major.to("mm") - drilled) / 2,
                 "This bores to the major diameter: no metal is left to cut a thread in."),
            Slip("pitch diameter for minor", (cut.pitch_diameter.to("mm") - drilled) / 2,
                 "This bores to the pitch diameter: the crests would be cut away."),
        ),
        hint="Two numbers: the middle of the limits, and how a change of diameter looks from one side.",
        worked=f"Limits {both(limits.min)} to {both(limits.max)}, middle {both(middle)}. The diameter grows by "
        f"{show(middle - drilled)}, and the tool goes half of it: {show(right)}.",
        points=2,
    )  # fmt: skip


def first_pass(numbers: Variant) -> Number:
    """The depth of the first pass by equal areas."""
    name, passes = numbers.pick("thread", ("1-12 UNF-2A", "1-8 UNC-2A", "M24x1.5-6g", "M24x2-6g")), numbers.pick(
        "passes", (6, 7, 9))  # fmt: skip
    plan = infeed(name, passes, "equal area", material=_METAL)
    right, total = plan.depth[0], plan.total_depth
    return Number(
        question=f"{name} is cut straight in, in {passes} passes whose chips have equal areas. How deep is the first "
        "pass, on the radius? Give it to 0.01 mm or 0.5 thou, with the unit.",
        right=right,
        within=Q_(0.01, "mm"),
        slips=(
            slips.diameter(right),
            Slip("equal steps", total / passes, "This shares the depth equally, and the last chips come out heaviest."),
            Slip("last pass for first", plan.step[passes - 1], "This is the step of the last pass; the first is "
                                                               "larger."),
            Slip("whole depth", total, "This is the whole depth, reached by the last pass."),
        ),
        hint="The depth reached grows with the root of the share of passes done. How deep is the whole groove?",
        worked=f"The whole groove is 0.6134 P = {both(total)} deep. After pass k of n, h sqrt(k / n) of it is reached: "
        f"{both(total)} x sqrt(1 / {passes}) = {both(right)}. Geometry of the V.",
        points=2,
    )  # fmt: skip


def speed_to_stop(numbers: Variant) -> Number:
    """The fastest spindle at which the tool still stops in its relief."""
    name = numbers.pick("thread", ("M24xPh3P1.5-6g", "1-12 UNF-2A (2 STARTS)", "M20xPh3P1.5-6g"))
    wide, wait = Q_(numbers.pick("wide", (5, 6, 7)), "mm"), Q_(numbers.pick("wait", (1.0, 1.5)), "s")
    cut = thread(name)
    pitch, lead = cut.pitch.m_as(U.mm), cut.lead.m_as(U.mm)
    room, per = wide.m_as(U.mm) - pitch, 60 / wait.m_as(U.s)
    right = Q_(room / lead * per, U.rpm)
    return Number(
        question=f"{name} runs out into a relief {show(wide, digits=0)} wide, before a shoulder. The tool is one pitch "
        f"wide itself. A person needs {show(wait, digits=1)} to see the end and open the half-nuts (given here). How "
        "fast may the spindle turn at most? Give it to 1 turn a minute, with the unit.",
        right=right,
        within=Q_(1, "rpm"),
        kind="spindle",
        slips=(
            Slip("pitch for lead", Q_(room / pitch * per, U.rpm),
                 "This takes one pitch a turn; with several starts the carriage goes one lead."),
            Slip("tool's width left out", Q_(wide.m_as(U.mm) / lead * per, U.rpm),
                 "The tool takes up a part of the relief itself, so it has less way to run."),
            Slip("turns a second", right / 60, "These are turns in a second; the spindle is set in turns a minute."),
        ),
        hint="How many turns fit into the free way, and how many of these in the time that a person needs?",
        worked=f"({show(wide)} - {show(cut.pitch.to('mm'))}) / {show(cut.lead.to('mm'))} a turn = "
        f"{room / lead:.2f} turns in {show(wait, digits=1)}: {show(right)}.",
        points=2,
    )  # fmt: skip


def over_wires(numbers: Variant) -> Number:
    """The reading over three wires at the small end of the class."""
    name = numbers.pick("thread", ("1-12 UNF-2A", "7/8-14 UNF-2A", "3/4-16 UNF-2A", "M24x1.5-6g", "M20x1.5-6g"))
    cut, wires = thread(name), three_wires(name)
    limits, wire, smallest = wires.over_wires, wires.wire, cut.limits.pitch_diameter.min
    return Number(
        question=f"You measure {name} over three of the best wires. What is the smallest reading that is still inside "
        "the class? Give it to 0.0001 in or to 0.002 mm, with the unit.",
        right=limits.min,
        within=Q_(0.0001, "inch"),
        slips=(
            Slip("other limit", limits.max, "This is the largest reading; the smallest is asked."),
            Slip("pitch diameter for reading", smallest,
                 "This is the pitch diameter itself; over wires the micrometer reads more."),
            Slip("one wire short", limits.min - wire, "A wire is missing: the formula takes three wires' width."),
            Slip("pitch left in", limits.min + 0.866025 * cut.pitch,
                 "The wires sink into the grooves: a share of the pitch comes off again."),
        ),
        hint="Print three_wires of the thread: it names the best wire and both readings.",
        worked=f"M = E + 3 W - 0.866025 P, with the smallest pitch diameter E {both(smallest)}, the best wire W "
        f"P / (2 cos 30) = {both(wire)} and the pitch P {both(cut.pitch)}: {both(limits.min)}. Machinery's Handbook, "
        "31st edition, measuring screw threads.",
        points=2,
    )  # fmt: skip


def fault_in_plan(numbers: Variant) -> Choice:
    """One line of somebody's plan for the shoe's screw is at fault; which one differs."""
    name = numbers.pick("thread", ("M24xPh3P1.5-6g", "1-12 UNF-2A (2 STARTS)"))
    fault = numbers.pick("fault", ("blank", "relief", "lead", "speed", "slide"))
    wide = Q_(6, "mm")
    cut, plan = thread(name), making(name, relief_width=wide)
    slow = plan.relief_spindle.m_as("rpm") // 10 * 10
    lines = {
        "blank": (f"The blank is turned to {both(cut.limits.major.mid)}.", f"The blank is turned to {both(cut.major)}.",
                  "The blank keeps to the class's limits."),
        "relief": (f"The relief is turned to {both(plan.relief_diameter)}.",
                   f"The relief is turned to {both(cut.pitch_diameter)}.", "The relief lies below the deepest root."),
        "lead": (f"The lathe is geared for {both(cut.lead)} a turn.", f"The lathe is geared for {both(cut.pitch)} a "
             "turn.",
                 "Starts times pitch: that fits."),
        "speed": (f"The spindle turns {slow:g} times a minute.", "The spindle turns 600 times a minute.",
                  "At that speed a person can stop inside the relief."),
        "slide": ("The thread is right-hand: the tool runs toward the chuck as the spindle turns forward.",
                  "The thread is right-hand: the tool runs away from the chuck as the spindle turns forward.",
                  "That is how a right-hand thread comes about."),
    }  # fmt: skip
    shown = {key: line[1] if key == fault else line[0] for key, line in lines.items()}
    why = {
        "blank": f"Class limits end at {both(cut.limits.major.max)}, below the basic size.",
        "relief": f"The root reaches down to {both(cut.limits.minor.max)} and below: the tool would end in solid "
        f"metal. The relief must be at {both(plan.relief_diameter)} or so.",
        "lead": f"With {cut.starts} starts one turn is one lead, {both(cut.lead)}.",
        "speed": f"By hand nobody stops in {show(wide, digits=0)} at that speed; {show(plan.relief_spindle)} is the "
        "most.",
        "slide": "Away from the chuck with the spindle forward cuts a left-hand thread.",
    }[fault]
    return Choice(
        question=f"A classmate plans the shoe's screw, {name}, with a relief {show(wide, digits=0)} wide behind it, "
        "stopped by hand. One line is at fault. Which one?",
        options=tuple(shown.values()),
        right=shown[fault],
        slips=tuple(Slip(f"sound {key}", shown[key], f"{lines[key][2]} Look at another line.")
                    for key in lines if key != fault),
        hint="Print the thread and what `making` says of it, and lay the plan beside them.",
        worked=why,
        points=3,
    )  # fmt: skip


def tap_or_single_point(numbers: Variant) -> Reason:
    """Decide and justify, for a person to read."""
    name = numbers.pick("thread", ("1-12 UNF-2B", "1-8 UNC-2B", "M24x1.5-6H"))
    cut, plan = thread(name), infeed(name, material=_METAL)
    return Reason(
        question=f"The barrel's {name} could be tapped, or cut with a single-point tool. Which, for one corer, and "
        "which for thirty? Two or three sentences, with two numbers that speak for your choice.",
        hint="",
        worked=f"For one: single point. It takes {plan.passes} passes and {plan.spring_passes} spring passes, "
        f"{show(plan.time, digits=0)} by the numbers, runs true with the bore cut in the same setup, and any bore from "
        f"{both(cut.limits.minor.min)} to {both(cut.limits.minor.max)} will do. For thirty a tap earns its price, but "
        "so large a tap needs a strong holder and follows the hole it is started in. Either can be defended.",
    )


EXERCISES = (pitch_limit, in_one_turn, dial_to_bore, reading_to_stop, own_hole, first_pass, speed_to_stop, over_wires,
             fault_in_plan, tap_or_single_point)  # fmt: skip
