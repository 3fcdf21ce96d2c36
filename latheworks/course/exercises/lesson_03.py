"""The exercises of lesson 03: how the work is held, and how far it may stick out."""

from collections.abc import Mapping
from typing import Any

from latheworks.course import slips
from latheworks.course.exercises import the_barrel
from latheworks.course.exercises.the_barrel import BORE, FEED, LENGTH, OUTSIDE, barrel, most, stickout, turned
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
from latheworks.deflection import Chuck, ChuckAndCenter, Shaft, deflection
from latheworks.units import Q_, U, show

# Below this depth a fine cut rubs instead of cutting; a teaching value, said in the question.
_LEAST_DEPTH = Q_(0.05, "mm")
_CLEARANCE = Q_(5, "mm")
# How many diameters may stick out with nothing at the end: common practice, no source.
_FREE_RATIO = 4


def where_in_the_chuck(numbers: Variant) -> Prediction:
    """The guess before the first bench."""
    out, push = barrel(Q_(220, "mm")), Q_(100, "N")
    error, place = the_barrel.worst(out, Chuck(), push)
    return Prediction(
        question="The barrel is held in the chuck only. The tool cuts from the free end to the jaws at one setting "
        "of the dial. Where is the diameter left largest?",
        options=("next to the jaws", "in the middle", "at the free end", "the same all along"),
        hint="",
        worked=f"The most is {show(error)} ({show(error, 'inch')}), {show(place, digits=0)} from the jaws: at the free "
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


def after_spring_passes(numbers: Variant) -> Prediction:
    """The guess before the bench of the passes."""
    found = turned(barrel(Q_(220, "mm")), Q_(0.5, "mm"), springs=3)
    left = show(found.per_pass.max(axis=1))
    return Prediction(
        question="The cut has left the free end large. The dial stays where it is, and the tool goes over the part "
        "again, three times: three spring passes. What becomes of the error?",
        options=("each takes off the same", "the first takes most of it, and a rest never goes",
                 "the first takes all of it", "nothing changes, since the dial does not move"),
        hint="",
        worked=f"After the cut and each spring pass: {left}. The first takes most of it; the edge force leaves "
        f"{show(found.edge_limit.max())}, however many there are.",
    )  # fmt: skip


def helps_most(numbers: Variant) -> Choice:
    """Four ways to leave less at the free end, compared."""
    out, deeper = numbers.pick("out", (112, 118, 124)), numbers.pick("deeper", (12, 15, 60, 64))
    depth, length = Q_(0.5, "mm"), Q_(out, "mm")
    left = {
        f"{deeper} mm more of it in the jaws": most(turned(barrel(Q_(out - deeper, "mm")), depth)),
        "half the depth of cut": most(turned(barrel(length), depth / 2)),
        "turned before it is bored, so still solid": most(turned(barrel(length, Q_(0, "mm")), depth)),
        "one spring pass": most(turned(barrel(length), depth, springs=1)),
    }
    right = min(left, key=lambda way: left[way].m_as(U.mm))
    why = dict(zip(left, (
        "Less length helps with its cube, but this is not enough of it.",
        "So thin a cut pushes more sideways for its size, and the edge pushes as before.",
        "A bore takes little from the stiffness, so a solid bar gives little back.",
        "The spring pass still bends the bar: its edge pushes too.",
    ), strict=True))  # fmt: skip
    return Choice(
        question=f"The barrel sticks {out} mm out of the chuck, bored {show(BORE, digits=0)}; the cut is "
        f"{show(depth, digits=1)} deep at {show(FEED, digits=1)}, with no spring pass. You may change one thing. "
        "Which leaves the least error?",
        options=tuple(left),
        right=right,
        slips=tuple(
            Slip(way, way, f"This leaves {show(error)}; another way leaves less. {why[way]}")
            for way, error in left.items() if way != right
        ),
        hint="Bending goes with the cube of the length. On the bench, change one thing, look, and start again.",
        worked="As it is: " + show(most(turned(barrel(length), depth))) + ". Then: "
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
        return the_barrel.end_error(Shaft.bar(length, outside, bore, material=modulus), the_barrel.RIGID, push)

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
    error, place = the_barrel.worst(barrel(Q_(220, "mm")), ChuckAndCenter(), Q_(100, "N"))
    share = float((place / Q_(220, "mm")).m_as(U.one))
    return Prediction(
        question="Now a center carries the other end, in a plug. Where is the diameter left largest?",
        options=("next to the jaws", "exactly in the middle", "past the middle, nearer to the center", "at the center"),
        hint="",
        worked=f"The most is {show(error)}, at {show(place, digits=0)} from the jaws, {share:.2f} of the length: past "
        "the middle, since the jaws hold more than a center does.",
    )


def lost_at(numbers: Variant) -> Number:
    """The stickout at which the tolerance is used up by one cut."""
    depth, limit = Q_(numbers.pick("depth", (3, 4, 5)) / 10, "mm"), Q_(numbers.pick("limit", (10, 14, 18)) / 1000, "mm")

    right = stickout(limit, depth)
    found = {
        "one side": stickout(2 * limit, depth), "rigid": stickout(limit, depth, the_barrel.RIGID),
        "solid": stickout(limit, depth, bore=Q_(0, "mm")), "springs": stickout(limit, depth, springs=1),
    }  # fmt: skip
    return Number(
        question=f"The barrel in the chuck, bored {show(BORE, digits=0)}: one cut {show(depth, digits=1)} deep at "
        f"{show(FEED, digits=1)}, no spring pass. It may be left large by {show(limit)} at the free end, and "
        "no more. How far may it stick out? Give it to 1 mm, with the unit.",
        right=right,
        within=Q_(1, "mm"),
        slips=(
            Slip("one side only", found["one side"], "Here one side alone is held to it; the diameter has two."),
            Slip("rigid chuck", found["rigid"], "This takes the chuck for a wall; it tilts and shifts too."),
            Slip("bore left out", found["solid"], "This is a solid bar; the barrel is bored."),
            Slip("with a spring pass", found["springs"], "This counts a spring pass; the cut is alone here."),
        ),
        hint="On the bench of the passes, set the depth and no spring pass; move the stickout and read the size left.",
        worked=lambda: turned(barrel(right), depth).working,
    )


_FREE, _PLUG = "chuck, the other end free", "chuck, and a center in a plug"
_OPEN = "chuck, and a small center held in the open bore"


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan that loses the tolerance; any plan that keeps it passes."""
    cut, limit = Q_(numbers.pick("cut", (105, 110, 115)), "mm"), Q_(numbers.pick("limit", (9, 10, 12)) / 1000, "mm")
    wanted = OUTSIDE - Q_(1, "mm")

    def judge(values: Mapping[str, Any]) -> Outcome:
        grip, depth, hold, springs = values["grip"], values["depth"], values["hold"], values["springs"].m_as(U.one)
        if grip < OUTSIDE:
            return miss("short grip", f"{show(grip)} in the chuck is less than one diameter.")
        if hold == _FREE and LENGTH - grip > _FREE_RATIO * OUTSIDE:
            return miss(
                "free too far",
                f"{show(LENGTH - grip, digits=0)} with a free end is past the trade's limit.",
            )
        if LENGTH - grip < cut + _CLEARANCE:
            return miss(
                "jaws in the way", f"With {show(grip)} in the chuck, the tool meets the jaws before its cut is done."
            )
        if depth < _LEAST_DEPTH:
            return miss("rubbing", f"A last cut of {show(depth)} is under the least: the tool would rub, not cut.")
        if depth > (OUTSIDE - wanted) / 2:
            return miss("too deep", f"There is not {show(depth)} a side on the blank to take off.")
        if not 0 <= springs <= 6 or springs != int(springs):
            return miss("too many", "Plan from none to six whole spring passes: each costs as long as a cut.")
        if hold == _OPEN:
            return miss("nothing to sit on", "The small center goes into the open bore and touches nothing.")
        held = Chuck() if hold == _FREE else ChuckAndCenter()
        before = Shaft.bar(LENGTH - grip, wanted + 2 * depth, BORE, material="6061-T6")
        worst_error = most(turned(before, depth, held, int(springs)))
        reads = f"Bending leaves the diameter large by {show(worst_error)} at most"
        if worst_error > limit:
            return miss("tolerance lost", f"{reads}: more than the {show(limit)} allowed.")
        share = float((worst_error / limit).m_as(U.one))
        return good(f"{reads}: {share:.0%} of what is allowed. Another plan inside the limits would do as well.")

    plain = {"grip": "125 mm", "depth": "0.5 mm", "springs": "0"}
    return Setting(
        question=f"A classmate plans to turn {show(cut, digits=0)} of the {show(LENGTH, digits=0)} barrel from "
        f"{show(OUTSIDE, digits=0)} to {show(wanted, digits=0)}: 60 mm in the chuck, the other end free, one cut at "
        f"{show(FEED, digits=1)}, no spring pass. It may be left large by {show(limit)}. Mend the plan: one diameter "
        f"or more in the chuck, with a free end no more than {_FREE_RATIO} diameters out of it (both common practice, "
        f"no source), {show(_CLEARANCE, digits=0)} or more between tool and jaws, and a last cut of "
        f"{show(_LEAST_DEPTH, digits=2)} a side or more (for this lesson, the least that still cuts). The barrel may "
        "reach back through the chuck. Any plan that keeps all of these is right.",
        asks=(
            Ask("hold", "Holding", options=(_FREE, _OPEN, _PLUG)),
            Ask("grip", "Length in the chuck", kind="length"),
            Ask("depth", "Depth of the last cut, a side", kind="length"),
            Ask("springs", "Spring passes", kind="count"),
        ),
        judge=judge,
        solved={"hold": _PLUG, **plain},
        slips=(
            Slip("short grip", {**plain, "hold": _FREE, "grip": "20 mm"}, ""),
            Slip("free too far", {**plain, "hold": _FREE, "grip": "60 mm"}, ""),
            Slip("jaws in the way", {**plain, "hold": _PLUG, "grip": "148 mm"}, ""),
            Slip("rubbing", {**plain, "hold": _FREE, "depth": "0.01 mm"}, ""),
            Slip("too deep", {**plain, "hold": _PLUG, "depth": "1 mm"}, ""),
            Slip("too many", {**plain, "hold": _FREE, "springs": "9"}, ""),
            Slip("nothing to sit on", {**plain, "hold": _OPEN}, ""),
            Slip("tolerance lost", {**plain, "hold": _FREE}, ""),
        ),
        hint="Take the limits one by one: grip, room for the tool, a cut that cuts; then see what still gives way.",
        worked=lambda: f"Two that work, both with 125 mm in the chuck and one cut: {_PLUG}, "
        f"{show(most(turned(barrel(Q_(125, 'mm')), Q_(0.5, 'mm'), ChuckAndCenter())))}; or the other end free and one "
        f"spring pass, {show(most(turned(barrel(Q_(125, 'mm')), Q_(0.5, 'mm'), springs=1)))}.",
    )  # fmt: skip


def why_this_way(numbers: Variant) -> Reason:
    """Decide between deeper grip, center, lighter cut and spring passes, and say why."""
    depth, out = Q_(numbers.pick("depth", (4, 5, 6)) / 10, "mm"), Q_(125, "mm")
    alone, springs = barrel(out), turned(barrel(out), depth, springs=2)
    deeper, lighter = turned(barrel(out - Q_(20, "mm")), depth), turned(alone, depth / 2)
    center = turned(alone, depth, ChuckAndCenter())
    return Reason(
        question=f"Half of the barrel, {show(out, digits=0)}, sticks out of the chuck; the cut is "
        f"{show(depth, digits=1)} deep at {show(FEED, digits=1)}. Grip 20 mm deeper, cut half as deep, make two "
        "spring passes, or set a center in a plug: which one, and at what cost? Two sentences, a number in each.",
        hint="Set each of the four on the bench and read the error, then think of what each makes harder.",
        worked=f"As it is {show(springs.per_pass[0].max())}. Deeper: {show(most(deeper))}, but part of the outside is "
        f"now inside the jaws. Half the depth: {show(most(lighter))}, so not half the error, for one cut more. Two "
        f"spring passes: {show(most(springs))}, for three times the time, and {show(springs.edge_limit.max())} of it "
        f"stays for good. A center: {show(most(center))} at most, but a plug must be made and must run true, and the "
        "bore is closed while it sits there.",
    )


EXERCISES = (where_in_the_chuck, diameter_error, error_at_end, where_with_a_center, after_spring_passes, helps_most,
             lost_at, mend_the_plan, why_this_way)  # fmt: skip
