"""The exercises of lesson 06: what a tool can reach, and which tool takes what."""

from collections.abc import Mapping
from typing import Any

from latheworks.course import slips
from latheworks.course.exercises.the_grip import CENTER, JAWS, barrel, blade, grooves, insert, mm, shared, sloped
from latheworks.course.tasks import (
    Ask,
    Function,
    Number,
    Outcome,
    Prediction,
    Reason,
    Setting,
    Several,
    Slip,
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.errors import LatheworksError
from latheworks.passes import Groove, Profile, TurningTool, groove_passes, nose_shift, reach
from latheworks.passes.groove_kernel import blade_load
from latheworks.units import Q_, U, show

# Rules of this lesson, said in the question: common practice, no source.
_LEAST_FEED, _FARTHEST = Q_(0.02, "mm/rev"), 4.0


def guess_the_rest(numbers: Variant) -> Prediction:
    """The guess before the first bench."""
    found = reach(barrel(), insert())
    piece = found.standing[0]
    return Prediction(
        question="A right-hand tool with a D insert comes from the free end and feeds toward the chuck. It goes down "
        "into each of the grip grooves as far as it can. What does it leave in them?",
        options=("nothing", "metal at the wall next to the chuck", "metal at the wall away from the chuck",
                 "the same at both walls"),
        hint="",
        worked=f"{piece.count} times {show(piece.area)}, from {show(piece.start)} to {show(piece.end)} in the first "
        f"groove: at the wall away from the chuck, since {piece.why}.",
    )  # fmt: skip


def steepest_fall(numbers: Variant) -> Number:
    """180 degrees less the entering angle less the insert angle."""
    letter, kappa = numbers.pick("letter", ("D", "V", "T")), numbers.pick("kappa", (93, 95, 100))
    tool = insert(letter, kappa)
    eps = tool.insert_angle.m_as(U.deg)
    return Number(
        question=f"A tool holds an insert {letter}, with {eps:g} degrees at its corner, at an entering angle of "
        f"{kappa} degrees. How steep may a surface fall behind the nose, at most? Give it to 1 degree, with the unit.",
        right=tool.back_angle,
        within=Q_(0.5, "degree"),
        kind="angle",
        slips=(
            Slip("insert left out", Q_(180.0 - kappa, "degree"), "This leaves no room for the insert's own angle."),
            Slip("entering angle left out", Q_(180.0 - eps, "degree"), "This leaves out how the insert is turned in."),
            Slip("taken from 90", Q_(90.0 - eps, "degree"),
                 "This holds for an edge square to the axis; the entering angle is another one here."),
        ),
        hint="Main edge, insert and what is left behind it make up a straight line.",
        worked=lambda: tool.working,
    )  # fmt: skip


def other_insert(numbers: Variant) -> Number:
    """What an insert of another nose radius does to the diameter."""
    letter, after = numbers.pick("letter", ("D", "V")), numbers.pick("after", (0.8, 1.2))
    tool = insert(letter)
    found = nose_shift(tool, mm(after))
    grown = mm(after) - tool.nose_radius
    return Number(
        question=f"The tool with an insert {letter} at 93 degrees has a nose radius of "
        f"{show(tool.nose_radius, digits=1)} and cuts to size. You put in an insert with {show(mm(after), digits=1)} "
        "and leave the dial alone. By how much does the diameter come out larger? Give it to 0.01 mm, with the unit.",
        right=found.diameter,
        within=Q_(0.006, "mm"),
        slips=(
            slips.one_side(found.diameter),
            Slip("difference of the radii", grown, "The radius grew by this; the tip moves by another amount."),
            Slip("twice the difference", 2 * grown, "The tip does not move by the difference of the radii."),
        ),
        hint="The pocket holds the flanks, so the sharp corner stays; how far short of it does a round nose end?",
        worked=lambda: found.working,
    )  # fmt: skip


def clears_the_relief(numbers: Variant) -> Several:
    """Which tools leave nothing in a thread relief."""
    room, corner = numbers.pick("room", (3.0, 3.5, 4.0)), numbers.pick("corner", (0.4, 0.5))
    points = [(mm(z), mm(d)) for z, d in ((0, 32), (12, 32), (12, 25.4), (36, 25.4))]
    relief = Profile(points, grooves=Groove(mm(12), mm(room), mm(22.5), floor_radius=mm(corner)))

    def words(width: float, radius: float, out: float) -> str:
        sizes = (show(mm(value), digits=1) for value in (width, radius, out))
        return "blade {} wide, corners {}, {} out of its shank".format(*sizes)

    rack: dict[str, tuple[TurningTool, str]] = {
        words(2.5, 0.2, 8): (blade(2.5, 0.2, 8), "Compare its width, its corners and its depth with the relief."),
        words(room, corner, 8): (blade(room, corner, 8), "A blade may be just as wide as its groove."),
        words(room + 0.5, 0.2, 8): (blade(room + 0.5, 0.2, 8), "Compare its width with the relief."),
        words(2.5, corner + 0.3, 8): (blade(2.5, corner + 0.3, 8), "Compare its corners with those of the floor."),
        words(2.5, 0.2, 1): (blade(2.5, 0.2, 1), "How deep does it get before the shank touches the thread's outside?"),
        "tool with a D insert, nose 0.4 mm": (insert("D"), "Does its back clear the wall behind the nose?"),
        "tool with a V insert, nose 0.4 mm": (insert("V"), "Does its back clear the wall behind the nose?"),
        "round-nosed tool, nose 1.2 mm": (TurningTool("R", nose_radius=mm(1.2)), "Compare its nose with the corners."),
    }
    right = tuple(name for name, (tool, _) in rack.items() if reach(relief, tool).complete)
    return Several(
        question=f"Behind the shoe's thread, {show(mm(25.4), digits=1)} across, there is a relief "
        f"{show(mm(room), digits=1)} wide, down to {show(mm(22.5), digits=1)} across, with corners of "
        f"{show(mm(corner), digits=1)} at its floor, against a shoulder. Which of these tools cut all of it?",
        options=tuple(rack),
        right=right,
        slips=tuple(Slip(f"tool {i + 1}", name, f"{name}: {why}") for i, (name, (_, why)) in enumerate(rack.items())),
        hint="Four questions for each: back angle, nose or corners, width, and how far the tip stands out.",
        worked=lambda: "; ".join(f"{name}: {_verdict(reach(relief, tool))}" for name, (tool, _) in rack.items()) + ".",
    )


def _verdict(found: Any) -> str:
    return "all of it" if found.complete else found.standing[-1].why


def edge_sinks(numbers: Variant) -> Function:
    """How far an edge has sunk when the blade bears a given stress, written by the student."""
    most = numbers.pick("stress", (200, 250, 300))
    sizes = ((8, 12), (20, 20), (12, 10), (30, 26), (15, 16))
    inputs = tuple(
        {"stress": Q_(most, "MPa"), "out": mm(a), "height": mm(b), "modulus": Q_(210, "GPa")} for a, b in sizes
    )

    def reference(stress: Any, out: Any, height: Any, modulus: Any) -> Any:
        # The library's own blade, of any width and under any force: both drop out.
        borne, sunk = blade_load(100.0, out.m_as(U.mm), 3.0, height.m_as(U.mm), modulus.m_as(U.MPa))
        return mm(sunk * stress.m_as(U.MPa) / borne)

    def powers(stress: Any, out: Any, height: Any, modulus: Any) -> Any:
        return reference(stress, out, height, modulus) * float((out / height).m_as(U.one))

    def upside_down(*given: Any) -> Any:
        return 9 / 4 * reference(*given)

    def no_numbers(*given: Any) -> Any:
        return 3 / 2 * reference(*given)

    return Function(
        question="A blade is pushed down until its root bears a given stress. Write how far its edge has sunk then: "
        "from the stress, how far the blade stands out, its height and the elastic modulus of its steel. It is "
        "compared with the library.",
        reference=reference,
        inputs=inputs,
        slips=(
            Slip("powers", powers, "The stress has a length and two heights in it as well: take them off the sinking."),
            Slip("upside down", upside_down, "The 4 and the 6 changed places: the 4 belongs to the sinking."),
            Slip("numbers left out", no_numbers, "The 4 and the 6 of the working do not cancel."),
        ),
        hint="The working gives sigma and y from one force. Divide y by sigma: what drops out, and what is left?",
        worked="2 * stress * out**2 / (3 * modulus * height)",
    )


def guess_two_tools(numbers: Variant) -> Prediction:
    """The guess before the split."""
    thin, thick = shared(barrel(stock=33.0)), shared(barrel(stock=40.0))
    told = (f"{abs(each.saved.m_as(U.min)):.2f} min {'saved' if each.saved.m_as(U.min) > 0 else 'lost'}"
            for each in (thin, thick))  # fmt: skip
    return Prediction(
        question="A blade alone could cut the whole grip end, plunge by plunge. A tool with a D insert first and the "
        "blade after it costs one change of tool. For which blank does the change pay?",
        options=("for both, 33 mm and 40 mm", "for 40 mm alone", "for 33 mm alone", "for neither"),
        hint="",
        worked="From 33 mm: {}; from 40 mm: {}, against the blade alone.".format(*told),
    )


def mend_the_plan(numbers: Variant) -> Setting:
    """A plan for the grip grooves between jaws and center that fails; any plan that works passes."""
    room, deep = numbers.pick("room", (4.0, 4.5)), numbers.pick("deep", (1.5, 1.75))
    floor = numbers.pick("floor", (0.3, 0.4))
    cut = grooves(room, deep, floor)
    work = barrel(cut)

    def judge(values: Mapping[str, Any]) -> Outcome:
        width, corner, out, feed, hand = (values[name] for name in ("blade", "corner", "out", "feed", "hand"))
        if width > mm(room):
            return miss("too wide", f"A blade {show(width)} wide does not go into the groove.")
        if corner > mm(floor):
            return miss("corners too round", f"Corners of {show(corner)} leave metal in the corners of the floor.")
        if out > _FARTHEST * width:
            return miss("too far out", f"{show(out)} is more than {_FARTHEST:g} times the blade's width.")
        if feed < _LEAST_FEED:
            return miss("rubbing", f"At {show(feed)} the blade rubs.")
        try:
            tool = TurningTool(nose_radius=corner, blade_width=width, reach=out, hand=hand)
            left = reach(work, tool, JAWS, CENTER)
            if not left.complete:
                reasons = {piece.reason for piece in left.standing}
                if "center" in reasons:
                    return miss("center in the way", "At the last grooves the shank would touch the center.")
                if "jaws" in reasons:
                    return miss("jaws in the way", "At the first groove the shank would touch the jaws.")
                short = "holder" in reasons
                return miss("too short" if short else "something stays", f"Something stays: {left.standing[0].why}.")
            plan = groove_passes(cut, work.stock, tool, "aluminum 6061-T6", Q_(100, "m/min"), feed)
        except LatheworksError:
            return miss("cannot be", "There is no such blade: its sizes do not fit together.")
        if plan.feed < plan.feed_asked or plan.notes:
            return miss("overloaded", "The blade does not bear this feed.")
        many = plan.plunges.size
        return good(f"Nothing stays; {many} plunge{'s' * (many > 1)} a groove, {show(plan.force)} on the blade, "
                    f"{plan.time.m_as(U.min):.2f} min for all.")  # fmt: skip

    plain = {"blade": "3 mm", "corner": "0.2 mm", "out": "8 mm", "hand": "neutral", "feed": "0.05 mm/rev"}
    return Setting(
        question=f"A classmate's plan for the grip grooves, each {show(mm(room), digits=1)} wide and "
        f"{show(mm(deep), digits=2)} deep, with corners of {show(mm(floor), digits=1)} at the floor: a "
        "right-hand blade 3 mm wide with corners of 0.2 mm, 8 mm out of its shank, at 0.05 mm/rev, with the jaws on "
        "one side and the center on the other, as on the bench. Mend it: nothing may stay, 2 mm free of jaws and "
        "center, a feed of "
        f"{show(_LEAST_FEED, digits=2)} or more, and the blade no more than {_FARTHEST:g} times its width out (for "
        "this lesson). Any plan that keeps all of these is right.",
        asks=(
            Ask("blade", "Blade width", kind="length"),
            Ask("corner", "Corner radius", kind="length"),
            Ask("out", "Out of the shank", kind="length"),
            Ask("hand", "Blade's hand", options=("right", "left", "neutral")),
            Ask("feed", "Feed", kind="feed"),
        ),
        judge=judge,
        solved=plain,
        slips=(
            Slip("too wide", {**plain, "blade": "5 mm"}, ""),
            Slip("corners too round", {**plain, "corner": "0.6 mm"}, ""),
            Slip("too far out", {**plain, "out": "20 mm"}, ""),
            Slip("rubbing", {**plain, "feed": "0.01 mm/rev"}, ""),
            Slip("center in the way", {**plain, "hand": "right"}, ""),
            Slip("jaws in the way", {**plain, "hand": "left"}, ""),
            Slip("too short", {**plain, "out": "1 mm"}, ""),
        ),
        hint="Where is the shank when the blade stands in the first groove, and where in the last?",
        worked="Two that work: a neutral blade 3 mm wide with corners of 0.2 mm, 8 mm out; or the right-hand one 12 mm "
        "out, which passes over the center, and bends more than three times as much.",
    )


def square_or_sloped(numbers: Variant) -> Reason:
    """Keep the square grooves, or lay one wall back so that one tool cuts all."""
    stock = numbers.pick("stock", (36, 38, 40))
    square, laid_back = shared(barrel(stock=stock)), shared(sloped(stock))
    return Reason(
        question=f"From a blank of {stock} mm: the square grip grooves need a second tool. If the wall away from the "
        "chuck were laid back to 28 degrees, the D insert could cut them alone. The grip would feel the same one way, "
        "and slip the other way. Which one do you draw, for one barrel and for twenty? Two sentences, a number in "
        "each.",
        hint="What does the second tool cost a barrel, and how often is it changed if twenty barrels wait in a row?",
        worked=f"Square: {square.time.m_as(U.min):.2f} min, of which the later tool costs {square.feature_price:.2f} "
        f"in money, nearly all of it for the change. Laid back: {laid_back.time.m_as(U.min):.2f} min with "
        f"{len(laid_back.shares)} tool{'s' if len(laid_back.shares) > 1 else ''}. With twenty in a row each "
        "tool cuts all of them before it is changed, so the change costs a twentieth and the grip decides.",
    )


EXERCISES = (guess_the_rest, steepest_fall, other_insert, clears_the_relief, edge_sinks, guess_two_tools, mend_the_plan,
             square_or_sloped)  # fmt: skip
