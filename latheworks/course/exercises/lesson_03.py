"""The exercises of lesson 03: how the work is held, and how far it may stick out."""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

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
    Slip,
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.deflection import Chuck, ChuckAndCenter, Shaft, deflection, deflection_working
from latheworks.deflection.holding import Holding
from latheworks.units import Q_, U, show

OUTSIDE, BORE, LENGTH = Q_(32, "mm"), Q_(20, "mm"), Q_(250, "mm")
_RIGID = Chuck(tilt=Q_(math.inf, "N*mm/rad"), radial=Q_(math.inf, "N/mm"))
# Below this push a fine cut rubs instead of cutting; a teaching value, said in the question.
_LEAST_PUSH = Q_(30, "N")
_CLEARANCE = Q_(5, "mm")


def barrel(out: Any, bore: Any = BORE) -> Shaft:
    """What sticks out of the corer's barrel."""
    return Shaft.bar(out, OUTSIDE, bore, material="6061-T6")


def end_error(shaft: Shaft, holding: Holding, push: Any) -> Any:
    """The diameter left large at the far end [mm]."""
    return 2 * deflection(shaft, holding, push, shaft.length)


def worst(shaft: Shaft, holding: Holding, push: Any) -> tuple[Any, Any]:
    """The largest error of the diameter [mm] and where the tool stands then [mm]."""
    at = np.linspace(0.0, shaft.length.m_as(U.mm), 251)
    errors = 2 * deflection(shaft, holding, push, Q_(at, U.mm)).m_as(U.mm)
    return Q_(float(errors.max()), U.mm), Q_(float(at[errors.argmax()]), U.mm)


def where_in_the_chuck(numbers: Variant) -> Prediction:
    """The guess before the first bench."""
    out, push = barrel(Q_(220, "mm")), Q_(100, "N")
    most, place = worst(out, Chuck(), push)
    return Prediction(
        question="The barrel is held in the chuck only. The tool cuts from the free end to the jaws at one setting "
        "of the dial. Where is the diameter left largest?",
        options=("next to the jaws", "in the middle", "at the free end", "the same all along"),
        hint="",
        worked=f"The most is {show(most)} ({show(most, 'inch')}), {show(place, digits=0)} from the jaws: at the free "
        "end. Nothing holds it there, so the part comes out as a taper.",
    )


def diameter_error(numbers: Variant) -> Number:
    """Twice what the indicator shows."""
    out, push = numbers.pick("out", (150, 165, 180)), Q_(numbers.pick("push", (60, 80, 100)), "N")
    away = Q_(round(float(deflection(barrel(Q_(out, "mm")), Chuck(), push, Q_(out, "mm")).m_as(U.mm)), 3), U.mm)
    return Number(
        question=f"The tool stands at the free end and pushes with {show(push)}. An indicator on the other side of "
        f"the bar shows it going {show(away)} away from the tool. By how much is the diameter left large there? "
        "Give it to 0.001 mm, with the unit.",
        right=2 * away,
        within=Q_(0.001, "mm"),
        slips=(
            slips.one_side(2 * away),
            Slip("doubled twice", 4 * away, "This doubles twice. The indicator shows one side; there are two sides."),
        ),
        hint="The cut is too shallow on one side, and the bar turns round. What is left across the whole?",
        worked=f"The cut is too shallow by {show(away)} all the way round, so the diameter is large by twice that: "
        f"{show(2 * away)} ({show(2 * away, 'inch')}).",
    )


def helps_most(numbers: Variant) -> Choice:
    """Four ways to hold better, compared by the error that is left at the free end."""
    out, deeper = numbers.pick("out", (190, 200, 210)), numbers.pick("deeper", (25, 70, 75))
    push = Q_(numbers.pick("push", (80, 100)), "N")
    length = Q_(out, "mm")
    stiff = Chuck(tilt=2 * Chuck().tilt)
    left = {
        f"{deeper} mm more of it in the jaws": end_error(barrel(Q_(out - deeper, "mm")), Chuck(), push),
        "half the push": end_error(barrel(length), Chuck(), push / 2),
        "turned before it is bored, so still solid": end_error(barrel(length, Q_(0, "mm")), Chuck(), push),
        "a chuck that is twice as stiff against tilting": end_error(barrel(length), stiff, push),
    }
    right = min(left, key=lambda way: left[way].m_as(U.mm))
    why = dict(zip(left, (
        "Less length helps with its cube, but this is not enough of it.",
        "The error follows the push in step, and no more than in step.",
        "A bore takes little from the stiffness, so a solid bar gives little back.",
        "The chuck is only a part of what gives way; the bar bends as before.",
    ), strict=True))  # fmt: skip
    return Choice(
        question=f"The barrel sticks {out} mm out of the chuck, bored {show(BORE, digits=0)}, and the tool pushes with "
        f"{show(push)}. You may change one thing. Which leaves the least error at its free end?",
        options=tuple(left),
        right=right,
        slips=tuple(
            Slip(way, way, f"This leaves {show(error)}; another way leaves less. {why[way]}")
            for way, error in left.items() if way != right
        ),
        hint="Bending goes with the cube of the length, tilting with its square, and both in step with the push.",
        worked="As it is: " + show(end_error(barrel(length), Chuck(), push)) + ". Then: "
        + "; ".join(f"{way}, {show(error)}" for way, error in left.items()) + ".",
    )  # fmt: skip


def error_at_end(numbers: Variant) -> Function:
    """The formula for a tube in a rigid chuck, written by the student."""
    push = numbers.pick("push", (60, 80, 100))
    sizes = ((100, 32, 0, 69), (200, 32, 22, 69), (60, 10, 0, 207), (150, 25, 12, 207), (90, 20, 15, 97))
    inputs = tuple(
        {"push": Q_(push, "N"), "length": Q_(a, "mm"), "outside": Q_(b, "mm"), "bore": Q_(c, "mm"),
         "modulus": Q_(d, "GPa")}
        for a, b, c, d in sizes
    )  # fmt: skip

    def reference(push: Any, length: Any, outside: Any, bore: Any, modulus: Any) -> Any:
        return end_error(Shaft.bar(length, outside, bore, material=modulus), _RIGID, push)

    def one_side(*given: Any) -> Any:
        return reference(*given) / 2

    def no_bore(push: Any, length: Any, outside: Any, bore: Any, modulus: Any) -> Any:
        return reference(push, length, outside, 0 * bore, modulus)

    def from_wall(push: Any, length: Any, outside: Any, bore: Any, modulus: Any) -> Any:
        return reference(push, length, outside - bore, 0 * bore, modulus)

    def radius_formula(*given: Any) -> Any:
        return reference(*given) / 16

    return Function(
        question="Write the error of the diameter at the free end of a tube in a rigid chuck, from the push, the "
        "length, the outside, the bore and the elastic modulus. It is compared with the library.",
        reference=reference,
        inputs=inputs,
        slips=(
            Slip("one side only", one_side, "This is how far the bar goes away; the diameter feels it on both sides."),
            Slip("bore left out", no_bore, "This fits the solid bars; take the bore's fourth power off as well."),
            Slip(
                "difference to the fourth", from_wall,
                "The bore was taken off before raising to the fourth power; raise each of the two first.",
            ),
            Slip("radius formula", radius_formula, "pi/4 goes with radii; diameters need another number under pi."),
        ),
        hint="A push at the end of a bar: F L cubed over 3 E I; then think of the diameter. I is in the working above.",
        worked="2 * push * length**3 / (3 * modulus * np.pi / 64 * (outside**4 - bore**4))",
    )  # fmt: skip


def where_with_a_center(numbers: Variant) -> Prediction:
    """The guess before the second bench."""
    most, place = worst(barrel(Q_(220, "mm")), ChuckAndCenter(), Q_(100, "N"))
    share = float((place / Q_(220, "mm")).m_as(U.one))
    return Prediction(
        question="Now a center carries the other end, in a plug. Where is the diameter left largest?",
        options=("next to the jaws", "exactly in the middle", "past the middle, nearer to the center", "at the center"),
        hint="",
        worked=f"The most is {show(most)}, at {show(place, digits=0)} from the jaws, {share:.2f} of the length: past "
        "the middle, since the jaws hold more than a center does.",
    )


def lost_at(numbers: Variant) -> Number:
    """The stickout at which the tolerance is used up."""
    push, limit = Q_(numbers.pick("push", (60, 80, 100)), "N"), Q_(numbers.pick("limit", (4, 5, 6)) / 100, "mm")
    at = np.linspace(1.0, 250.0, 4981)

    def stickout(allowed: Any, holding: Holding = Chuck(), bore: Any = BORE) -> Any:  # noqa: B008
        # Beyond the tool a free end carries nothing, so one long bar stands for every shorter one.
        errors = 2 * deflection(barrel(LENGTH, bore), holding, push, Q_(at, U.mm))
        return Q_(float(np.interp(allowed.m_as(U.mm), errors.m_as(U.mm), at)), U.mm)

    right = stickout(limit)
    return Number(
        question=f"The barrel in the chuck, bored {show(BORE, digits=0)}, a push of {show(push)}. The diameter may be "
        f"left large by {show(limit, digits=2)} at the free end, and no more. How far may it stick out? "
        "Give it to 1 mm, with the unit.",
        right=right,
        within=Q_(1, "mm"),
        slips=(
            Slip("one side only", stickout(2 * limit), "Here one side alone is held to it; the diameter has two."),
            Slip("rigid chuck", stickout(limit, _RIGID), "This takes the chuck for a wall; it tilts and shifts too."),
            Slip("bore left out", stickout(limit, bore=Q_(0, "mm")), "This is a solid bar; the barrel is bored."),
        ),
        hint="Move the length on the first bench until its verdict turns, or print the error at several positions.",
        worked=lambda: deflection_working(barrel(right), Chuck(), push, right),
    )


_FREE, _PLUG = "chuck, the other end free", "chuck, and a center in a plug"
_OPEN = "chuck, and a small center held in the open bore"


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan that loses the tolerance; any plan that keeps it passes."""
    cut, limit = Q_(numbers.pick("cut", (190, 195, 200)), "mm"), Q_(numbers.pick("limit", (3, 4, 5)) / 100, "mm")
    push = numbers.pick("push", (90, 110, 130))

    def judge(values: Mapping[str, Any]) -> Outcome:
        grip, force, hold = values["grip"], values["push"], values["hold"]
        if grip < OUTSIDE:
            return miss("short grip", f"{show(grip)} in the jaws is less than one diameter.")
        if LENGTH - grip < cut + _CLEARANCE:
            return miss(
                "jaws in the way", f"With {show(grip)} in them, the tool meets the jaws before its cut is done."
            )
        if force < _LEAST_PUSH:
            return miss("rubbing", f"A push of {show(force)} is under the least: the tool would rub, not cut.")
        if hold == _OPEN:
            return miss("nothing to sit on", "The small center goes into the open bore and touches nothing.")
        most, place = worst(barrel(LENGTH - grip), Chuck() if hold == _FREE else ChuckAndCenter(), force)
        reads = f"Bending alone leaves the diameter large by {show(most)}, {show(place, digits=0)} from the jaws"
        if most > limit:
            return miss("tolerance lost", f"{reads}: more than the {show(limit, digits=2)} allowed.")
        share = float((most / limit).m_as(U.one))
        return good(f"{reads}: {share:.0%} of what is allowed. Another plan inside the limits would do as well.")

    return Setting(
        question=f"A classmate plans to turn {show(cut, digits=0)} of the {show(LENGTH, digits=0)} barrel: 20 mm in "
        f"the chuck, the other end free, a push of {push} N. It may be left large by {show(limit, digits=2)}. "
        f"Mend the plan: {show(_CLEARANCE, digits=0)} or more between tool and jaws, one diameter or more in them "
        f"(common practice, no source), and no push under {show(_LEAST_PUSH)} (for this lesson, the least that still "
        "cuts). Any plan that keeps all of these is right.",
        asks=(
            Ask("hold", "Holding", options=(_FREE, _OPEN, _PLUG)),
            Ask("grip", "Length in the jaws", kind="length"),
            Ask("push", "Push of the tool", kind="force"),
        ),
        judge=judge,
        solved={"hold": _PLUG, "grip": "40 mm", "push": f"{push} N"},
        slips=(
            Slip("short grip", {"hold": _FREE, "grip": "20 mm", "push": f"{push} N"}, ""),
            Slip("jaws in the way", {"hold": _PLUG, "grip": "80 mm", "push": f"{push} N"}, ""),
            Slip("rubbing", {"hold": _FREE, "grip": "40 mm", "push": "5 N"}, ""),
            Slip("nothing to sit on", {"hold": _OPEN, "grip": "40 mm", "push": f"{push} N"}, ""),
            Slip("tolerance lost", {"hold": _FREE, "grip": "40 mm", "push": "30 N"}, ""),
        ),
        hint="Take the limits one by one: grip, room for the tool, a push that cuts; then see what still gives way.",
        worked=f"One that works: {_PLUG}, 40 mm in the jaws, {push} N. With the end free, even "
        f"{show(_LEAST_PUSH)} on the shortest stickout leaves "
        f"{show(worst(barrel(cut + _CLEARANCE), Chuck(), _LEAST_PUSH)[0])}.",
    )


def why_this_way(numbers: Variant) -> Reason:
    """Decide between deeper grip, center and lighter push, and say why."""
    push = Q_(numbers.pick("push", (80, 100, 120)), "N")
    out = Q_(200, "mm")
    held, lighter = end_error(barrel(out), Chuck(), push), end_error(barrel(out), Chuck(), push / 2)
    deeper, center = end_error(barrel(out - Q_(20, "mm")), Chuck(), push), worst(barrel(out), ChuckAndCenter(), push)[0]
    return Reason(
        question=f"You hold 50 mm of the barrel and {show(out, digits=0)} sticks out; the push is {show(push)}. Grip "
        "20 mm deeper, push half as hard, or set a center in a plug: which one, and what does it cost you? Two "
        "sentences, with a number in each.",
        hint="Work out the error for each of the three, then think of what each makes harder.",
        worked=f"As it is {show(held)}. Deeper: {show(deeper)}, but part of the outside is now inside the jaws. Half "
        f"the push: {show(lighter)}, for twice the cuts or more. A center: {show(center)} at most, but a plug must be "
        "made and must run true, and the bore is closed while it sits there.",
    )  # fmt: skip


EXERCISES = (where_in_the_chuck, diameter_error, helps_most, error_at_end, where_with_a_center, lost_at, mend_the_plan,
             why_this_way)  # fmt: skip
