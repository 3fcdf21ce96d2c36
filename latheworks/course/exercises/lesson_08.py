"""The exercises of lesson 08: do two threads go together, how often, and what do gages and wires say of it?"""

from collections.abc import Mapping
from typing import Any

from latheworks.budget import Contribution, error_source, fit_chance
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
from latheworks.threads import fit, thread, three_wires, virtual_pitch_diameter
from latheworks.threads.fit_kernel import axial_play
from latheworks.threads.wires_kernel import pitch_factor, wire_factor
from latheworks.units import Q_, U, show

SHOE, BARREL = "1-12 UNF-2A", "1-12 UNF-2B"
SHOES = ("1-12 UNF-2A", "1-8 UNC-2A", "3/4-16 UNF-2A", "M24x1.5-6g", "M20x1.5-6g", "M16x2-6g")
HALF = Q_(30, "degree").m_as("radian")
_BENT = Q_(0.1, "mm")
HOLDS = ("leave it in the chuck", "re-chucking in soft jaws", "re-chucking in three jaws")
_HELD = ("left in the chuck", "in soft jaws", "in three jaws")
WANTED = 0.95


def both(size: Any) -> str:
    """A size in both systems."""
    return f"{show(size)} ({show(size, 'inch')})"


def guess_the_fit(numbers: Variant) -> Prediction:
    """The guess before the first bench: refused by its gage, and yet it goes on."""
    found = fit(SHOE, BARREL).passes(_BENT)
    gage = "accepts" if found.go else "refuses"
    takes = "takes" if found.tightest_mate else "does not take"
    return Prediction(
        question=f"A shoe bends away from the tool. Its pitch diameter comes out {show(_BENT, digits=1)} above the "
        "middle of the limits of class 2A. What do the go ring and the barrels say?",
        options=("go accepts it, and every barrel takes it", "go refuses it, and no barrel takes it",
                 "go refuses it, and yet every good barrel takes it"),
        hint="",
        worked=f"Go {gage} it: {both(-found.margin)} too much. The smallest barrel of class 2B {takes} it, since the "
        "allowance lies between the two classes. The gage keeps that room free, for grease, sand and plating.",
    )  # fmt: skip


def loosest_pair(numbers: Variant) -> Number:
    """The play between the loosest pair that two classes allow."""
    outer = thread(numbers.pick("size", SHOES))
    joint = fit(outer)
    play, system = joint.clearance.pitch_diameter, "inch" if outer.system == "unified" else "metric"
    return Number(
        question=f"{outer.designation} goes into {joint.internal.designation}. How much play do the pitch diameters "
        "of the loosest pair have that both classes still allow? Give it to 0.0001 in or to 0.002 mm, with the unit.",
        right=play.max,
        within=Q_(0.0001, "inch"),
        slips=(
            slips.other_limit(play.min),
            Slip("allowance left out", play.max - play.min,
                 "These are the two tolerances added; between the two zones lies the allowance as well."),
            Slip("one side only", play.max / 2, "This is the gap on one side; the question is about diameters."),
            Slip("one tolerance", outer.limits.pitch_diameter.width, "This is the tolerance of one part alone."),
        ),
        hint="The loosest pair is the largest internal thread with the smallest external one.",
        worked=f"{show(joint.internal.limits.pitch_diameter.max, system)} - "
        f"{show(outer.limits.pitch_diameter.min, system)} = {show(play.max, system)}.",
    )  # fmt: skip


_FAULTS = {
    "the pitch diameter is too large": "Then the wires would read a pitch diameter above the upper limit.",
    "the pitch diameter is too small": "Then not-go would screw on, and the wires would read below the class.",
    "the lead or a flank angle is off": "It keeps go off while the wires see nothing of it. Is that so here?",
    "nothing, the part is good": "A good part lets go on, keeps not-go off, and reads inside the class.",
}


def read_the_gages(numbers: Variant) -> Choice:
    """What is wrong with a part, from what two rings and three wires say."""
    outer = thread(numbers.pick("size", SHOES))
    limits = outer.limits.pitch_diameter
    case = numbers.pick("case", (0, 1, 2))
    size, rings = (
        (limits.mid, "The go ring stops after two turns. Not-go does not screw on."),
        (limits.min - limits.width / 4, "The go ring screws on over the full length. Not-go screws on as well."),
        (limits.max + limits.width / 4, "The go ring does not screw on. Neither does not-go."),
    )[case]
    right = tuple(_FAULTS)[(2, 1, 0)[case]]
    return Choice(
        question=f"A part with {outer.designation} comes to the bench. {rings} Over three wires its pitch diameter is "
        f"{both(size)}; the class allows {both(limits.min)} to {both(limits.max)}. What is wrong with it?",
        options=tuple(_FAULTS),
        right=right,
        slips=tuple(Slip(f"not {name}", name, why) for name, why in _FAULTS.items() if name != right),
        hint="First the wires against the class. Then: what does go check that wires do not?",
        worked=f"It is this: {right}. "
        + ("Wires see the pitch diameter alone, go sees it with the errors of lead and angle." if case == 0 else
           "The wires say so, and the rings agree with them."),
    )  # fmt: skip


def wire_guess(numbers: Variant) -> Prediction:
    """The guess before the second bench: what larger wires do to the reading."""
    best = three_wires(SHOE)
    other = three_wires(SHOE, best.best * 1.1)
    more, read = other.wire - best.wire, other.over_wires.mid - best.over_wires.mid
    return Prediction(
        question="The best wires are not in the drawer; those that are there are larger by some amount. The shoe is "
        "the same. By how much more does the micrometer read?",
        options=("by nothing: it is the same shoe", "by as much as the wires are larger", "by twice as much",
                 "by three times as much"),
        hint="",
        worked=f"Wires larger by {show(more, digits=4)} read {show(read, digits=4)} more, "
        f"{(read / more).m_as(U.one):.2f} times as much: they are thicker themselves, and ride higher in the groove.",
    )  # fmt: skip


def _taking(wires: float, pitches: float) -> Any:
    """A formula for the pitch diameter that takes so many wires off, and adds so many pitches."""
    return lambda reading, wire, pitch: reading - wires * wire + pitches * pitch


def pitch_from_wires(numbers: Variant) -> Function:
    """The pitch diameter back from a reading, written by the student."""
    inputs = []
    for name in numbers.several("size", ("1-12 UNF-2A", "M24x1.5-6g", "3/4-10 UNC-2A", "M16x2-6g"), 2):
        for share in (1.0, 1.1):
            wires = three_wires(name, three_wires(name).best * share)
            inputs.append({"reading": wires.over_wires.max, "wire": wires.wire, "pitch": wires.thread.pitch})
    k, q = wire_factor(HALF), pitch_factor(HALF)
    wrong = (
        ("one wire", 1.0, q, "This takes one wire off. Wires lie on both sides, and they ride in grooves."),
        ("two wires", 2.0, q, "Two wires lie across the thread, and yet more comes off: they do not sit at the pitch "
         "line with their middles."),
        ("pitch taken off", k, -q, "The term with the pitch goes the other way: solve the formula for d2 once more."),
        ("pitch left out", k, 0.0, "This leaves out how deep the groove lets the wires in: the term with the pitch."),
    )  # fmt: skip
    return Function(
        question="Write pitch_diameter(reading, wire, pitch) for a thread of 60 degrees with a small lead angle. All "
        "three come with their units. Use 0.866025 for the factor of the pitch.",
        reference=_taking(k, q),
        inputs=tuple(inputs),
        within=1e-5,
        slips=tuple(Slip(name, _taking(a, b), sentence) for name, a, b, sentence in wrong),
        hint="Solve M = d2 + 3 W - 0.866025 P for d2.",
        worked="reading - 3 * wire + 0.866025 * pitch",
    )


def most_lead_error(numbers: Variant) -> Number:
    """The largest lead error that go still passes, for a part in the middle of its limits."""
    outer = thread(numbers.pick("size", SHOES))
    limits = outer.limits.pitch_diameter
    room = limits.max - limits.mid
    right = axial_play(room, HALF)
    check = virtual_pitch_diameter(outer, lead_error=right)
    return Number(
        question=f"A part with {outer.designation} reads just the middle of its limits over wires, and its flanks "
        "stand true. How large may its lead error be, summed over the length of the ring, before go refuses it? Give "
        "it to 0.001 mm or to 0.00005 in, with the unit.",
        right=right,
        within=Q_(0.001, "mm"),
        slips=(
            Slip("diameter for lead", room, "This is the room on the diameter. An error along the axis takes up more "
                 "of it than its own size."),
            Slip("turned over", room * (room / right).m_as(U.one), "The factor stands on the wrong side: a lead error "
                 "grows when it becomes a diameter."),
            Slip("whole tolerance", 2 * right, "This uses the whole tolerance; the part already stands in its middle."),
        ),
        hint="Find the room from the middle to the go limit. A lead error adds 1.732 times itself to the virtual size.",
        worked=f"Room {show(room)} ({show(room, 'inch', 5)}), over 1.732: {show(right)} ({show(right, 'inch', 5)}). "
        f"With it go meets {both(check.virtual)}, the limit.",
    )  # fmt: skip


def spreads(hold: str, bent: Any) -> tuple[Contribution, ...]:
    """What a shoe's pitch diameter suffers: bending, a third of it unknown, the dial, the jaws and the wires."""
    known = Contribution("deflection", bent, abs(bent) / 3)
    rest = (error_source("re-zeroing the cross slide"), error_source("three wires and micrometer"))
    return (known, *rest) if hold == HOLDS[0] else (known, *rest, error_source(hold))


def guess_the_chance(numbers: Variant) -> Prediction:
    """The guess before the budget of the pair: it goes together more often than its gages say."""
    found = fit_chance(SHOE, BARREL, spreads(HOLDS[2], Q_(0.04, "mm")), spreads(HOLDS[2], Q_(-0.04, "mm")))
    ring = found.gages[0]
    return Prediction(
        question="Both parts were taken out of the chuck once, and put back into three jaws for the last passes. A "
        "shoe and a barrel are picked at random. What is the chance that they screw together, and that go accepts the "
        "shoe?",
        options=("both nearly certain", "they go together nearly always, and go refuses about one shoe in four",
                 "they go together about every other time, and go accepts nearly every shoe"),
        hint="",
        worked=f"With {show(Q_(0.04, 'mm'), digits=2)} of bending on each part: together {100 * found.together:.0f} "
        f"of 100, and the {ring.name} accepts {100 * ring.chance:.0f} of 100. The allowance and the other part's "
        "tolerance are room for the pair, and no room for a part.",
    )  # fmt: skip


def work_on_first(numbers: Variant) -> Setting:
    """A plan that brings enough shoes inside their limits; judged by the chance that comes out."""
    outer = thread(numbers.pick("size", ("1-12 UNF-2A", "M24x1.5-6g", "3/4-16 UNF-2A")))
    width = outer.limits.pitch_diameter.width.to("mm")
    bent = Q_(round(numbers.pick("share", (0.35, 0.4, 0.45)) * width.m_as("mm"), 3), "mm")

    def accepted(hold: str, deeper: Any) -> float:
        budget = (*spreads(hold, bent), Contribution("dial", -deeper))
        return fit_chance(outer, None, budget, samples=20_000).external_accepted

    def judge(values: Mapping[str, Any]) -> Outcome:
        hold, deeper = values["hold"], values["deeper"]
        far = abs(deeper) > Q_(1, "mm")
        chance = 0.0 if far else accepted(hold, deeper)
        said = f"Both gages accept {100 * chance:.1f} of 100 shoes."
        if chance >= WANTED:
            return good(f"{said} What is left of the spread is work for the micrometer, part by part.")
        if accepted(hold, bent) < WANTED and abs(deeper - bent) <= width / 4:
            return miss("jaws", f"{said} The mean stands well; the spread is too wide. Which square is the largest?")
        if deeper < bent:
            return miss("still large", f"{said} On the mean the shoes still come out large: a known shift is dialed "
                        "out first.")  # fmt: skip
        return miss("too deep", f"{said} Now they come out small on the mean. The dial takes off what bending leaves, "
                    "no more.")  # fmt: skip

    typed = show(bent, digits=3)
    return Setting(
        question=f"A shoe with {outer.designation} is aimed at the middle of its limits. Deflection leaves it "
        f"{both(bent)} large on the diameter, a third of that unknown. It was tried on and put back into three jaws. "
        f"Plan the next batch so that both gages accept at least {100 * WANTED:.0f} of 100. The tolerance of the pitch "
        f"diameter is {both(width)}.",
        asks=(Ask("hold", "Before the last passes", options=HOLDS),
              Ask("deeper", "Set deeper than the middle, on the diameter")),
        judge=judge,
        solved={"hold": HOLDS[0], "deeper": typed},
        slips=(
            Slip("still large", {"hold": HOLDS[0], "deeper": "0 mm"}, ""),
            Slip("too deep", {"hold": HOLDS[0], "deeper": show(3 * bent, digits=3)}, ""),
            Slip("jaws", {"hold": HOLDS[2], "deeper": typed}, ""),
        ),
        hint="Set the bench to these sizes. Dial out the shift first, then look at the largest share of the squares.",
        worked=lambda: f"Set {both(bent)} deeper, and the known shift is gone. Both gages then accept, of 100 shoes: "
        + "; ".join(f"{words} {100 * accepted(hold, bent):.0f}" for hold, words in zip(HOLDS, _HELD, strict=True))
        + ". Of the squares, the one of three jaws is the largest by far.",
    )  # fmt: skip


def what_to_do(numbers: Variant) -> Reason:
    """Decide what becomes of a part that its gage refuses; kept for a person."""
    found = fit(SHOE, BARREL).passes(_BENT)
    return Reason(
        question=f"Go refuses the shoe: it is {both(-found.margin)} too large. Yet it screws into the one barrel on "
        "the bench, and class ends in ten minutes. Hand it over, cut it again, or make a new one? Decide, and justify "
        "it in two sentences, with a number and with what happens when the barrel is replaced.",
        hint="",
        worked=f"One that can be defended: cut it again, while it is still in the chuck: {both(-found.margin / 2)} "
        "or a little more on the radius brings it inside. Handed over as it is, it works in this barrel, has less room "
        "for sand and grease than was planned, and the next barrel may be the smallest one. Out of the chuck it needs "
        "its start picked up again, and a new shoe may be quicker.",
    )


EXERCISES = (guess_the_fit, loosest_pair, read_the_gages, wire_guess, pitch_from_wires, most_lead_error,
             guess_the_chance, work_on_first, what_to_do)  # fmt: skip
