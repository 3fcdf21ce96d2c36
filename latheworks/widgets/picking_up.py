"""The pick-up bench: a tool that comes back into a groove, and how far off its middle it may stand."""

from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.pictures.picking_up import PickedUpGroove, PickUpPicture
from latheworks.pictures.style import Look
from latheworks.threads import PickUp, pick_up
from latheworks.threads.forms import form
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Spec, Words
from latheworks.widgets.mating import NOTHING, drawable
from latheworks.widgets.sizes import Size


class PickUpBench(Bench):
    """A thread with some depth still to cut, and the tool's error along the axis or as an angle of the spindle."""

    kind: ClassVar[str] = "pickup"
    title: ClassVar[str] = "Pick up the start again"
    picture_class = PickUpPicture
    also: ClassVar[Mapping[str, str]] = {"designation": "thread", "tolerance class": "thread"}

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start, deg, mm = self._opening, U.deg, U.mm
        named = drawable(start["thread"])
        return (
            Words("thread", "Thread", start["thread"]),
            Size("remaining", "Still to cut", "", start["remaining"], NOTHING, Q_(form(named).depth, mm),
                 (0.01, 0.0005), NOTHING),
            Size("error", "Axial error", "", start["error"], Q_(-0.06, mm), Q_(0.06, mm), (0.001, 0.0001)),
            Size("turn", "As an angle", "", angle(start["error"], named), Q_(-15.0, deg), Q_(15.0, deg),
                 (0.1, 0.1), Q_(-360.0, deg), Q_(360.0, deg), kind="angle"),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        found = found_for(self._opening["thread"], NOTHING)
        return {
            "Well picked up": {"error": 0.5 * found.allowed},
            "Just allowed": {"error": found.allowed},
            "It binds": {"error": 1.5 * found.limit},
            "Far off": {"error": 5 * found.limit},
            "Depth still to cut": {"error": 1.5 * found.limit, "remaining": Q_(0.1, U.mm)},
        }

    def follow(self, changed: Names) -> None:
        named = drawable(self.controls["thread"].value)
        error, turn, left = (self.controls[name] for name in ("error", "turn", "remaining"))
        if "turn" in changed and "error" not in changed:
            error.put(Q_(turn.value.m_as(U.deg) / 360 * named.lead.m_as(U.mm), U.mm))
        elif changed:
            turn.put(angle(error.value, named))
        deep = Q_(form(named).depth, U.mm)
        if left.high != deep:
            left.run(NOTHING, deep)

    def compute(self, values: Mapping[str, Any]) -> tuple[PickUp, PickedUpGroove]:
        named = drawable(values["thread"])
        shape, mm = form(named), U.mm
        found = found_for(named.designation, values["remaining"])
        after = found.after(values["error"])
        data = PickedUpGroove(
            named.designation, named.external, named.pitch.m_as(mm), named.lead.m_as(mm), shape.tan,
            shape.flat(shape.depth), shape.depth, values["remaining"].m_as(mm), values["error"].m_as(mm),
            found.allowed.m_as(mm), found.limit.m_as(mm), found.free.m_as(mm), float(after.flank_step.m_as(mm)),
            float(after.flank_lost.m_as(U.one)), abs(float(after.pitch_diameter_change.m_as(mm))),
        )  # fmt: skip
        return found, data

    def read(self, data: PickedUpGroove, look: Look) -> Reading:
        fine = look.digits + 1

        most = data.allowed + data.free
        step, allowed = look.mm(data.step, fine), look.mm(data.allowed, fine)
        if data.verdict == "the tightest mate binds":
            verdict = (
                f"It binds: one flank steps back by {step}, and the tightest mate has {look.mm(data.limit, fine)}."
            )
        elif data.verdict == "past the allowed error":
            verdict = f"Past what is allowed: one flank steps back by {step}, and {allowed} is half the play."
        elif data.step == 0:
            why = "The depth still to cut takes the error away" if data.error else "On the middle"
            verdict = f"{why}: both flanks come out whole."
        else:
            verdict = f"Inside: one flank steps back by {step}, and {allowed} is allowed."
        facts = (
            ("allowed now", f"\u00b1 {look.mm(most, fine)}"),
            ("or of the spindle", f"\u00b1 {data.turned(most):.2f}\u00b0"),
            ("binds now at", f"\u00b1 {look.mm(data.limit + data.free, fine)}"),
            ("step in one flank", step),
            ("share of the flank", f"{100 * data.lost:.0f} %"),
            ("pitch dia. changes by", look.mm(data.change)),
        )
        note = "Allowed is half the play along the axis of the tightest pair (common practice, no source)."
        return Reading(data.verdict == "inside the allowed error", verdict, facts, (note,))


def angle(error: Any, named: Any) -> Any:
    """The spindle angle that an error along the axis equals [deg]."""
    return Q_(360 * (error / named.lead).m_as(U.one), U.deg)


def found_for(designation: str, remaining: Any) -> PickUp:
    """What is allowed of a thread, external or internal, with its usual mate."""
    named = drawable(designation)
    if named.external:
        return pick_up(named, remaining=remaining)
    return pick_up(named.mate(), named, cutting="internal", remaining=remaining)


def pickup_bench(thread: str = "1-12 UNF-2A", remaining: Any = NOTHING, error: Any = NOTHING) -> PickUpBench:
    """Return a bench for picking up a lost start: the tool in the old groove, and how far off it may stand.

    Allowed: half the play along the axis of the tightest pair, gap tan a / 2, and what the depth still to cut takes
    away, remaining x tan a. Spindle angle = 360 x error / lead.

    Parameters, all optional, the thread of the soil corer's shoe by default: thread, a designation, external or
    internal; remaining, depth on the radius still to cut [length, 0 to the depth]; error, of the tool along the axis
    [length, at most half a pitch either way]. Raises LatheworksError for what cannot be.
    Source: `latheworks.threads.pick_up`.

    >>> pickup_bench("M24x1.5-6g").value("thread")
    'M24x1.5-6g'
    """
    with Door("pickup_bench") as door:
        door.number(remaining, "remaining", "mm", least=0.0, most=100.0)
        door.number(error, "error", "mm", least=-100.0, most=100.0)
    named = drawable(thread)
    found_for(named.designation, remaining).after(error)
    return PickUpBench({"thread": named.designation, "remaining": remaining, "error": error})
