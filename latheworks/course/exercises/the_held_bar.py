"""The barrel held and finished, as homework 2 asks about it: a plan of one's own, a fault, a decision."""

from collections.abc import Mapping
from typing import Any

from latheworks.course.exercises.the_barrel import BORE, EDGE, LENGTH, OUTSIDE, barrel, most, turned
from latheworks.course.tasks import Ask, Choice, Outcome, Reason, Setting, Slip, good, miss
from latheworks.course.variant import Variant
from latheworks.cutting import roughness
from latheworks.deflection import Chuck, ChuckAndCenter, Shaft, size_error
from latheworks.units import Q_, U, show

_FREE, _CONE = "chuck, the other end free", "chuck, and a cone center in the bore"
_SMALL = "chuck, and a small center in the open bore"
_NOSES = {"0.4 mm": 0.4, "0.8 mm": 0.8}
# Said in the question: the trade's rule of thumb, and what a thin cut or a tight corner needs.
_FREE_RATIO, _LEAST_DEPTH, _LEAST_FEED, _CLEARANCE = 4, Q_(0.1, "mm"), Q_(0.05, "mm/rev"), Q_(5, "mm")


def _um(ra: Any) -> str:
    return f"{ra.m_as('um'):.1f} µm"


def hold_and_finish(numbers: Variant) -> Setting:
    """A finishing cut with its holding: any that keeps size, surface and the trade's limits."""
    cut, limit = Q_(numbers.pick("cut", (105, 110, 115)), "mm"), Q_(numbers.pick("limit", (9, 10, 11)) / 1000, "mm")
    finish = Q_(numbers.pick("finish", (1.6, 2.5)), "um")

    def judge(values: Mapping[str, Any]) -> Outcome:
        held, depth, feed = values["grip"], values["depth"], values["feed"]
        nose, hold = Q_(_NOSES[values["nose"]], "mm"), values["hold"]
        if held < OUTSIDE:
            return miss("short grip", f"{show(held)} in the jaws is less than one diameter.")
        if LENGTH - held < cut + _CLEARANCE:
            return miss("jaws in the way", f"With {show(held)} in the chuck the tool meets the jaws.")
        if hold == _FREE and LENGTH - held > _FREE_RATIO * OUTSIDE:
            return miss("free too far", f"{show(LENGTH - held, digits=0)} with a free end is past the trade's limit.")
        if hold == _SMALL:
            return miss("nothing to sit on", "The small center goes into the open bore and touches nothing.")
        if depth < _LEAST_DEPTH or feed < _LEAST_FEED:
            return miss("rubbing", "So thin a chip rubs more than it is cut.")
        if depth > Q_(1, "mm") or feed * U.rev >= nose:
            return miss("no finishing cut", "That is a roughing cut: less depth, or a feed well under the nose radius.")
        ra = roughness(feed, nose).expected.max
        if ra > finish:
            return miss("too rough", f"Reckon with a roughness Ra up to {_um(ra)}: more than allowed.")
        blank = Shaft.bar(LENGTH - held, OUTSIDE + 2 * depth, BORE, material="6061-T6")
        place = Chuck() if hold == _FREE else ChuckAndCenter()
        spots = blank.length - Q_([0.0, 0.25, 0.5, 0.75, 1.0], "dimensionless") * cut
        found = size_error(blank, place, depth, feed, spots, nose_radius=nose, edge_force=EDGE)
        if most(found) > limit:
            return miss("tolerance lost", f"Bending leaves the diameter {show(most(found))} large: over the limit.")
        return good(f"Bending leaves it {show(most(found))} large at most, and Ra is to be reckoned with up to "
                    f"{_um(ra)}. Another plan inside the limits would do as well.")  # fmt: skip

    works = {"hold": _CONE, "grip": "120 mm", "nose": "0.4 mm", "depth": "0.2 mm", "feed": "0.07 mm/rev"}
    return Setting(
        question=f"Plan the finishing cut along {show(cut, digits=0)} of the {show(LENGTH, digits=0)} barrel, to "
        f"{show(OUTSIDE, digits=0)}, bored {show(BORE, digits=0)}, with no spring pass. Bending may leave it "
        f"{show(limit)} large anywhere along the cut, at an edge force of {show(EDGE)}; Ra, as one has to reckon with "
        f"it, at most {_um(finish)}. One diameter or more in the jaws, and a free end no more than {_FREE_RATIO} "
        f"diameters out of them (common practice, no source); {show(_CLEARANCE, digits=0)} or more between tool and "
        f"jaws; depth {show(_LEAST_DEPTH, digits=1)} a side or more, feed {show(_LEAST_FEED, digits=2)} or more (given "
        "here). The barrel may reach back through the chuck. Any plan that keeps all of these is right.",
        asks=(
            Ask("hold", "Holding", options=(_FREE, _SMALL, _CONE)), Ask("grip", "Length in the jaws"),
            Ask("nose", "Nose radius", options=tuple(_NOSES)), Ask("depth", "Depth, a side"),
            Ask("feed", "Feed", kind="feed"),
        ),
        judge=judge,
        solved=works,
        slips=(
            Slip("short grip", {**works, "grip": "25 mm"}, ""),
            Slip("jaws in the way", {**works, "grip": "148 mm"}, ""),
            Slip("free too far", {**works, "hold": _FREE, "grip": "60 mm"}, ""),
            Slip("nothing to sit on", {**works, "hold": _SMALL}, ""),
            Slip("rubbing", {**works, "depth": "0.02 mm"}, ""),
            Slip("no finishing cut", {**works, "depth": "2 mm"}, ""),
            Slip("too rough", {**works, "feed": "0.25 mm/rev"}, ""),
            Slip("tolerance lost", {**works, "hold": _FREE, "grip": "122 mm", "depth": "0.5 mm"}, ""),
        ),
        hint="Holding and grip first. Then the feed that the surface allows, and last the depth that bending allows.",
        worked="One that works: " + ", ".join(works.values()) + ".",
        points=4,
    )  # fmt: skip


def fault_in_setup(numbers: Variant) -> Choice:
    """One line of a setup is at fault; which one differs."""
    out, fault = numbers.pick("out", (140, 150, 160)), numbers.pick(
        "fault", ("grip", "center", "quill", "reach", "speed"))  # fmt: skip
    skin, safe = Q_(90, "m/min"), 800
    lines = {
        "grip": ("The barrel lies 60 mm deep in the jaws.", "The barrel lies 12 mm deep in the jaws.",
                 "That is well over one diameter."),
        "center": (f"It sticks out {out} mm, and a cone center carries its bored end.",
                   f"It sticks out {out} mm, and its bored end stays free.",
                   "So far out it needs support, and a cone sits in a bore."),
        "quill": ("The tailstock is clamped to the bed, and the quill is clamped too.",
                  "The tailstock is clamped to the bed, and the quill stays loose.",
                  "Both are to be clamped before the spindle starts."),
        "reach": ("The chuck was turned round by hand, and jaws, carriage and tool clear it.",
                  "The carriage's end at the jaws was judged by eye, with the spindle turning slowly.",
                  "Turning it round by hand is how it is done."),
        "speed": (f"For a skin of {show(skin, digits=0)} on 32 mm the spindle turns {safe} times a minute.",
                  f"For a skin of {show(skin, digits=0)} on 32 mm the spindle turns {2 * safe} times a minute.",
                  "The skin stays under that speed."),
    }  # fmt: skip
    shown = {key: line[1] if key == fault else line[0] for key, line in lines.items()}
    why = {
        "grip": "12 mm is far less than one diameter: the part can climb out of the jaws and fly.",
        "center": f"{out} mm is more than {_FREE_RATIO} diameters of 32 mm: it whips, chatters and comes out tapered.",
        "quill": "A loose quill creeps back, and the work comes off its center at speed.",
        "reach": "Look with the spindle stopped, and turn the chuck by hand; a slow chuck strikes too.",
        "speed": "That takes the radius for the diameter: the skin goes nearly twice as fast as it may.",
    }[fault]
    return Choice(
        question="A classmate is ready to turn the barrel, 32 mm across and bored through; it may reach back through "
        "the chuck. Here is the setup, read out. One line must be changed before the spindle starts. Which one?",
        options=tuple(shown.values()),
        right=shown[fault],
        slips=tuple(Slip(f"sound {key}", shown[key], f"{lines[key][2]} Look at another line.")
                    for key in lines if key != fault),
        hint="Ask of each line: what moves, or comes loose, if this is all that holds it?",
        worked=f"{why} The shop's rules and the instructor decide whether the spindle starts.",
        points=3,
    )  # fmt: skip


def which_change(numbers: Variant) -> Reason:
    """Decide between a center, a spring pass and a deeper grip, for a person to read."""
    out = numbers.pick("out", (115, 120, 125))
    depth = Q_(0.4, "mm")
    free, spring = barrel(Q_(out, "mm")), turned(barrel(Q_(out, "mm")), depth, springs=1)
    deeper, center = turned(barrel(Q_(out - 15, "mm")), depth), turned(free, depth, ChuckAndCenter())
    return Reason(
        question=f"The barrel sticks {out} mm out and its free end comes out {show(most(turned(free, depth)))} too "
        "large. You may grip it 15 mm deeper, add a spring pass, or set a cone center. Which do you choose, and what "
        "does it cost in time, in metal you cannot reach, or in risk? Three sentences, with numbers.",
        hint="",
        worked=f"15 mm deeper leaves {show(most(deeper))}, and so much less of the outside can be turned. A spring "
        f"pass leaves {show(most(spring))}, for one more run of the cut. A center leaves {show(most(center))}; the "
        "bore is closed then, and the center must be watched as the work warms. Any of the three can be defended.",
    )
