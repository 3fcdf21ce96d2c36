"""The wires bench: an external thread measured over three wires."""

import math
from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.errors import OutOfRange
from latheworks.pictures.over_wires import OverWires, WiresPicture
from latheworks.pictures.style import Look
from latheworks.threads import ThreeWires, three_wires
from latheworks.threads.wires_kernel import wire_factor
from latheworks.threads.wires_slips import slip_of
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Spec, Words
from latheworks.widgets.mating import drawable
from latheworks.widgets.sizes import Size

# The sliders reach just past what can be used: wires by this share, readings by this many tolerances.
BEYOND_WIRES, BEYOND_READINGS = 0.02, 1.2


class WiresBench(Bench):
    """A thread, the wires used, and the reading over them."""

    kind: ClassVar[str] = "wires"
    title: ClassVar[str] = "Measure it over three wires"
    picture_class = WiresPicture
    also: ClassVar[Mapping[str, str]] = {"designation": "thread", "tolerance class": "thread"}

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start, thin = self._opening, Q_(0.01, U.mm)
        wires = three_wires(start["thread"], start["wire"])
        (low, high), (least, most) = wire_ends(wires), reading_ends(wires)
        return (
            Words("thread", "Thread", start["thread"]),
            Size("wire", "Wires", "W", start["wire"], low, high, (0.01, 0.0005), thin, Q_(50.0, U.mm)),
            Size("reading", "Reading", "M", start["reading"], least, most, (0.01, 0.0005), thin),
        )

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        start = self._opening
        wires = three_wires(start["thread"], start["wire"])
        middle, width = wires.over_wires.mid, wires.over_wires.max - wires.over_wires.min
        large = (wires.best + wires.largest) / 2
        return {
            "Half way": {"reading": wires.over_wires.max + width},
            "In the middle": {"reading": middle},
            "Too deep": {"reading": wires.over_wires.min - width / 2},
            "Larger wires": {"wire": large, "reading": three_wires(start["thread"], large).over_wires.mid},
            "Acme": {"thread": "1-5 ACME-2G"},
        }

    def follow(self, changed: Names) -> None:
        wire, reading = self.controls["wire"], self.controls["reading"]
        named = drawable(self.controls["thread"].value, external=True)
        usual = three_wires(named)
        if "thread" in changed and "wire" not in changed:
            wire.put(usual.best)
        if (wire.low, wire.high) != wire_ends(usual):
            wire.run(*wire_ends(usual))
        self._refuse(usual, wire.value)
        found = three_wires(named, wire.value)
        if "reading" not in changed and "thread" in changed:
            reading.put(found.over_wires.mid)
        elif "reading" not in changed and "wire" in changed and self.picture_data is not None:
            # Other wires on the same part: its pitch diameter stays, and the reading moves.
            reading.put(over(found, Q_(self.picture_data.size, U.mm)))
        if (reading.low, reading.high) != reading_ends(found):
            reading.run(*reading_ends(found))

    def _refuse(self, wires: ThreeWires, wire: Any) -> None:
        """Say which wires can be used, in the units of the page."""
        if wires.smallest <= wire <= wires.largest:
            return
        unit = self.controls["wire"].written
        why = "smaller wires sink below the crests" if wire < wires.smallest else "larger ones rest on the crests"
        raise OutOfRange(
            f"Wires of {unit(wire)} cannot be used here: {why}. Usable are {unit(wires.smallest)} to "
            f"{unit(wires.largest)}. Type the best, {unit(wires.best)}."
        )

    def _size(self, wires: ThreeWires, reading: Any) -> Any:
        """The pitch diameter of a reading, or which slip would explain one that cannot be."""
        try:
            return wires.pitch_diameter_from(reading)
        except OutOfRange:
            unit, read = self.controls["reading"].written, wires.over_wires
            name, slip = wires.thread.designation, slip_for(wires, reading)
            raise OutOfRange(
                f"Reading: {unit(reading)} over these wires is no reading of {name}. {f'{slip} ' if slip else ''}"
                f"The class reads {unit(read.min)} to {unit(read.max)}. Type what the micrometer reads, such as "
                f"{unit(read.mid)}."
            ) from None

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, OverWires]:
        named = drawable(values["thread"], external=True)
        self._refuse(three_wires(named), values["wire"])
        wires = three_wires(named, values["wire"])
        size = self._size(wires, values["reading"])
        limits, mm = named.limits, U.mm
        flanks = limits.pitch_diameter
        root = limits.minor.max if limits.minor.max is not None else named.minor
        half = math.radians(named.included_angle.m_as(U.deg)) / 2
        data = OverWires(
            named.designation, named.pitch.m_as(mm), named.lead.m_as(mm) / 2, math.tan(half),
            ((limits.major.min + limits.major.max) / 2).m_as(mm), (root - flanks.max + size).m_as(mm),
            wires.wire.m_as(mm), wires.best.m_as(mm), wires.smallest.m_as(mm), wires.largest.m_as(mm),
            values["reading"].m_as(mm), float(size.m_as(mm)), (flanks.min.m_as(mm), flanks.max.m_as(mm)),
            (wires.over_wires.min.m_as(mm), wires.over_wires.max.m_as(mm)), wires.lead_correction.m_as(mm),
            wires.corrected, slip_far_off(wires, size, values["reading"]),
        )  # fmt: skip
        return wires, data

    def read(self, data: OverWires, look: Look) -> Reading:
        mm, fine = look.mm, look.digits + 1
        low, high = data.limits
        good = data.verdict == "inside the limits"
        if good:
            verdict = f"Inside the limits of {data.designation}: a pitch diameter of {mm(data.size)}."
        elif data.size > high:
            least, most = mm((data.size - high) / 2), mm((data.size - low) / 2)
            verdict = f"Still large: go {least} to {most} deeper, on the radius."
        else:
            verdict = f"Too small by {mm(low - data.size)}: no cut brings it back."
        facts = [
            ("pitch diameter", mm(data.size)),
            ("largest allowed", mm(high)),
            ("smallest allowed", mm(low)),
            ("over wires, largest", mm(data.readings[1])),
            ("over wires, smallest", mm(data.readings[0])),
            ("best wire", mm(data.best, fine)),
            ("the lead adds", f"{mm(data.lead_adds, fine)}, {'counted' if data.counted else 'left out'}"),
        ]
        if abs(data.wire - data.best) > 1e-4:
            off = wire_factor(math.atan(data.tan)) * (data.wire - data.best)
            facts.append(("taken for the best, off by", mm(off)))
        return Reading(good, verdict, tuple(facts), (data.slip or "The reading speaks for the pitch diameter alone.",))


def slip_for(wires: ThreeWires, reading: Any) -> str:
    """The slip that would explain a reading, in the thread's own units; empty when none does."""
    return slip_of(wires, float(reading.m_as(wires.thread.pitch.units)))


def slip_far_off(wires: ThreeWires, size: Any, reading: Any) -> str:
    """The same for a pitch diameter more than a tolerance off its limits, where a slip is likelier than the part."""
    limits = wires.thread.limits.pitch_diameter
    width = 1.01 * (limits.max - limits.min)
    return slip_for(wires, reading) if not limits.min - width <= size <= limits.max + width else ""


def wire_ends(wires: ThreeWires) -> tuple[Any, Any]:
    """Where the slider of the wires runs."""
    return wires.smallest * (1 - BEYOND_WIRES), wires.largest * (1 + BEYOND_WIRES)


def reading_ends(wires: ThreeWires) -> tuple[Any, Any]:
    """Where the slider of the reading runs."""
    beyond = BEYOND_READINGS * (wires.over_wires.max - wires.over_wires.min)
    return wires.over_wires.min - beyond, wires.over_wires.max + beyond


def over(wires: ThreeWires, size: Any) -> Any:
    """The reading of a pitch diameter, straight between those of the limits as the library has it [length]."""
    limits, read = wires.thread.limits.pitch_diameter, wires.over_wires
    share = ((size - limits.min) / (limits.max - limits.min)).m_as(U.one)
    return read.min + share * (read.max - read.min)


def wires_bench(thread: str = "1-12 UNF-2A", wire: Any = None, reading: Any = None) -> WiresBench:
    """Return a bench for measuring an external thread over three wires, drawn to scale.

    M = d2 + W (1 + csc a) - P cot a / 2 + c.

    Parameters, all optional, the thread of the soil corer's shoe by default: thread, an external designation; wire,
    the diameter of the wires used [length], the best when left out; reading, over the wires [length], the middle of
    the class when left out. Raises LatheworksError for what cannot be. Source: `latheworks.threads.three_wires`.

    >>> wires_bench("M24x1.5-6g").value("thread")
    'M24x1.5-6g'
    """
    with Door("wires_bench") as door:
        for name, value in (("wire", wire), ("reading", reading)):
            if value is not None:
                door.number(value, name, "mm", above=0.0, most=1000.0)
    found = three_wires(drawable(thread, external=True), wire)
    start = found.over_wires.mid if reading is None else reading
    return WiresBench({"thread": found.thread.designation, "wire": found.wire, "reading": start})
