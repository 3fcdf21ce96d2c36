"""Homework 2, holding and passes: speed, cuts, bending, what the jaws keep, the ridge that is left."""

import math
from typing import Any

from latheworks.course.exercises.the_held_bar import fault_in_setup, hold_and_finish, which_change
from latheworks.course.tasks import Number, Slip
from latheworks.course.variant import Variant
from latheworks.cutting import roughness
from latheworks.deflection import grip
from latheworks.shop import lathe
from latheworks.units import Q_, U, show


def spindle_for_speed(numbers: Variant) -> Number:
    """A spindle speed from a surface speed, to set before the first cut."""
    speed, across = numbers.pick("speed", (60, 75, 90, 110)), numbers.pick("across", (32, 35, 38, 40))
    after = across - 4
    right = 1000 * speed / (math.pi * across)
    return Number(
        question=f"The rough bar is {across} mm across, and {after} mm after the first cut. The outermost skin may "
        f"pass the tool at {speed} m/min. At what spindle speed do you start? Give it to 2 turns a minute, with the "
        "unit.",
        right=Q_(right, U.rpm),
        within=Q_(2, "rpm"),
        kind="spindle",
        slips=(
            Slip("radius for diameter", Q_(2 * right, U.rpm),
                 "The radius stands where the diameter belongs: twice as fast as the skin may go."),
            Slip("pi left out", Q_(math.pi * right, U.rpm), "One turn is pi times the diameter, not the diameter."),
            Slip("turn as radians", Q_(2 * math.pi * right, U.rpm), "These are radians in a minute, not turns."),
            Slip("diameter after the cut", Q_(right * across / after, U.rpm),
                 "This is worked out for the diameter after the cut; the skin before it is further out and faster."),
        ),
        hint="In one turn the skin goes once round: pi times its diameter. Mind meters and millimeters.",
        worked=f"n = v / (pi D) = {speed} m/min / (pi x {across} mm) = {show(Q_(right, U.rpm))}.",
        points=2,
    )  # fmt: skip


# Stock, size wanted, left for the finish on a side, deepest roughing cut on a side [mm]: so chosen that each slip
# comes to another count.
_CUTS = ((38, 32, 0.25, 1.45), (40, 32, 0.3, 1.3), (42, 34, 0.25, 0.95), (36, 30, 0.2, 0.95))


def roughing_cuts(numbers: Variant) -> Number:
    """How many roughing cuts, of equal depth, the tool and the lathe need."""
    stock, size, left, most = numbers.pick("cuts", _CUTS)
    deep = (stock - size) / 2
    right = math.ceil((deep - left) / most - 1e-9)

    def count(value: float) -> Any:
        return Q_(float(value), "dimensionless")

    return Number(
        question=f"From {stock} mm of stock to {size} mm: the roughing cuts leave {left:g} mm on a side for the "
        f"finish, and none may be deeper than {most:g} mm on a side. How many roughing cuts are needed at least?",
        right=count(right),
        within=count(0.25),
        kind="count",
        slips=(
            Slip("both sides for one", count(math.ceil((2 * deep - 2 * left) / most - 1e-9)),
                 "This shares out the change of diameter; depth of cut is counted on one side."),
            Slip("finish left out", count(math.ceil(deep / most - 1e-9)),
                 "What is left for the finish was cut away too: take it off first."),
            Slip("rounded down", count(math.floor((deep - left) / most)),
                 "Rounded down, each cut would be deeper than is allowed. Cuts are rounded up."),
        ),
        hint="On one side: what is there to take off, less what stays for the finish. Then share it.",
        worked=f"({stock} - {size}) / 2 - {left:g} = {deep - left:g} mm on a side; over {most:g} mm that is "
        f"{(deep - left) / most:.2f}, so {right} cuts of {(deep - left) / right:.3f} mm.",
        points=2,
    )  # fmt: skip


def further_out(numbers: Variant) -> Number:
    """What the same push does to a bar that sticks out further, held by a wall."""
    short = numbers.pick("short", (80, 90, 100))
    long = short + numbers.pick("more", (30, 40, 50))
    error = numbers.pick("error", (10, 12, 14, 16))
    ratio = long / short

    def left(power: float) -> Any:
        return Q_(error / 1000 * ratio**power, "mm")

    return Number(
        question=f"A bar that sticks out {short} mm was left {error} µm too large at its free end. The next part "
        f"sticks out {long} mm, and the rest stays: bar, tool, depth and feed. Take the chuck as rigid, and the push "
        "as the same. How much too large is its free end? Give it to 1 µm, with the unit.",
        right=left(3),
        within=Q_(1, "um"),
        slips=(
            Slip("in proportion", left(1), "The error does not grow in proportion to the length, but much faster."),
            Slip("square for cube", left(2), "Faster than the square: the lever grows, and the bend, and its reach."),
            Slip("fourth for cube", left(4), "The fourth power belongs to the diameter; the length has another one."),
            Slip("upside down", left(-3), "This gets smaller as the bar gets longer: the ratio stands upside down."),
        ),
        hint="How does the bend of a bar grow with its length? On the bench of lesson 03, double the stickout and see.",
        worked=f"Bending grows with the cube of the length: {error} µm x ({long} / {short})³ = {show(left(3))}. A real "
        "chuck tilts as well, and its share grows with the square.",
        points=2,
    )  # fmt: skip


def stiffness_left(numbers: Variant) -> Number:
    """How much of its stiffness a bored bar keeps."""
    outside, bore = numbers.pick("outside", (30, 32, 34, 36)), numbers.pick("bore", (20, 21, 22))
    part = bore / outside

    def percent(value: float) -> Any:
        return Q_(100 * value, "dimensionless")

    return Number(
        question=f"The barrel is {outside} mm across, and bored {bore} mm. What percentage of the solid bar's "
        "stiffness against bending does it keep? Give it as a plain number, to 1 percent.",
        right=percent(1 - part**4),
        within=Q_(1.0, "dimensionless"),
        kind="count",
        slips=(
            Slip("area for bending", percent(1 - part**2),
                 "That is the metal that is left. Bending asks how far out it lies, too."),
            Slip("lost for left", percent(part**4), "That is what boring takes away; the question asks what stays."),
            Slip("wall for bar", percent((1 - part) ** 4),
                 "The two diameters were taken apart first, and then raised; each is raised by itself."),
        ),
        hint="The metal near the axis hardly helps. Which power of the diameter counts?",
        worked=f"1 - ({bore} / {outside})⁴ = {1 - part**4:.3f}: the barrel keeps {100 * (1 - part**4):.0f} % with "
        f"{100 * (1 - part**2):.0f} % of the metal. Turn a thin tube before it is bored, and you gain little.",
        points=2,
    )  # fmt: skip


def jaws_at_speed(numbers: Variant) -> Number:
    """What the jaws still press at speed."""
    machine = lathe()
    clamped, turns = numbers.pick("clamped", (12, 14, 16)), numbers.pick("turns", (1000, 1200, 1400, 1600))
    found = grip(Q_(1000 * clamped, "N"), Q_(32, "mm"), Q_(turns, "rpm"), jaw_mass=machine.jaw_mass,
                 jaw_radius=machine.jaw_radius)  # fmt: skip
    rest, flung = Q_(1000.0 * clamped, "N"), found.centrifugal_force.to("N")
    return Number(
        question=f"Three jaws grip the barrel from outside with {clamped} kN in all, at rest. Each jaw weighs "
        f"{machine.jaw_mass.m_as('kg'):g} kg, with its center of gravity {show(machine.jaw_radius, digits=0)} from the "
        f"axis. How hard do they still press, in all, at {turns} turns a minute? Give it to 20 N, with the unit.",
        right=rest - flung,
        within=Q_(20, "N"),
        kind="force",
        slips=(
            Slip("one jaw only", rest - flung / 3, "One jaw was flung outward here; there are three."),
            Slip("added for taken off", rest + flung,
                 "Gripped from outside, the jaws are flung away from the work: they press less, not more."),
            Slip("lost for left", flung, "This is what the speed takes away; the question asks what is left."),
        ),
        hint="A mass on a circle pulls outward with m r ω², and ω counts radians in a second.",
        worked=f"m r ω² = {machine.jaw_mass.m_as('kg'):g} kg x {machine.jaw_radius.m_as('m'):g} m x (2 pi x {turns} / "
        f"60)² = {show(flung / 3)} on each jaw, {show(flung)} on three: {show(rest)} - {show(flung)} = "
        f"{show(rest - flung)}. Statics; the same in VDI 3106.",
        points=2,
    )  # fmt: skip


def grip_for_cut(numbers: Variant) -> Number:
    """The grip that a cut asks for, on a diameter larger than the grip."""
    cut, held = numbers.pick("cut", (36, 38, 40)), numbers.pick("held", (24, 26, 28))
    force, rub, safe = numbers.pick("force", (600, 700, 800)), numbers.pick("friction", (0.15, 0.2)), 3.0
    found = grip(Q_(12000, "N"), Q_(held, "mm"), Q_(1, "rpm"), jaw_mass=lathe().jaw_mass, jaw_radius=lathe().jaw_radius,
                 friction=rub, cutting_force=Q_(force, "N"), cut_diameter=Q_(cut, "mm"), shoulder=True)  # fmt: skip
    plain = found.needed_force.to("N")
    ratio = cut / held
    return Number(
        question=f"The shoe is held on the blank of its screw, {held} mm across, and turned at {cut} mm. The cut "
        f"pulls with {force} N along the surface; a shoulder takes the thrust. Between jaws and work the friction is "
        f"{rub:g} (given). How hard must the jaws press in all, {safe:g} times what would just hold it? "
        "Give it to 50 N, with the unit.",
        right=safe * plain,
        within=Q_(50, "N"),
        kind="force",
        slips=(
            Slip("levers left out", safe * plain / ratio,
                 "The cut has the longer lever: the same force at a larger diameter twists more."),
            Slip("levers upside down", safe * plain / ratio**2,
                 "The ratio of the diameters stands upside down: a small grip has it harder, not easier."),
            Slip("safety left out", plain, "This would just hold it, on a good day; the safety is missing."),
            Slip("friction multiplied", safe * force * ratio * Q_(rub, "N"),
                 "Friction gives back only a share of what the jaws press, so they must press more, not less."),
        ),
        hint="The cut's twist: force times its lever. The jaws hold with friction times their force, on their own "
             "lever.",
        worked=f"The cut twists with {force} N on a lever of {cut} / 2 mm, the jaws hold with {rub:g} of their force "
        f"on {held} / 2 mm: {safe:g} x {force} N x {cut} / {held} / {rub:g} = {show(safe * plain)}. Statics.",
        points=2,
    )  # fmt: skip


def ridge_left(numbers: Variant) -> Number:
    """The height of the ridges between two turns of the finishing cut."""
    feed, nose = numbers.pick("feed", (0.15, 0.2, 0.25)), numbers.pick("nose", (0.4, 0.8))
    found = roughness(Q_(feed, "mm/rev"), Q_(nose, "mm"))
    right = found.rt
    return Number(
        question=f"The finishing tool has a nose radius of {nose:g} mm and is fed {feed:g} mm a turn. How high are the "
        "ridges that it leaves at best, from valley to peak? Give it to 0.5 µm, with the unit.",
        right=right,
        within=Q_(0.55, "um"),
        slips=(
            Slip("average for height", found.ra,
                 "This is the average, as drawings give it; from valley to peak it is about four times as much."),
            Slip("diameter for radius", right / 2, "The nose's diameter stands where its radius belongs."),
            Slip("radius and feed exchanged", Q_(nose**2 / (8 * feed), "mm"),
                 "Feed and radius changed places: a rounder nose makes lower ridges."),
        ),
        hint="A circle of the nose radius, and a chord as long as the feed: how high is the arc over it?",
        worked=f"Nearly f² / (8 r) = {feed:g}² / (8 x {nose:g}) mm = {1000 * feed**2 / (8 * nose):.1f} µm; exactly "
        f"r - sqrt(r² - f² / 4) = {right.m_as('um'):.1f} µm. Geometry.",
        points=2,
    )  # fmt: skip


EXERCISES = (spindle_for_speed, roughing_cuts, further_out, stiffness_left, jaws_at_speed, grip_for_cut, ridge_left,
             hold_and_finish, fault_in_setup, which_change)  # fmt: skip
