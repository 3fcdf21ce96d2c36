"""The lead screw: which lines of the threading dial to engage on, and which change gears give a lead."""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from latheworks.door import Door, given
from latheworks.errors import Impossible, LatheworksError, OutOfRange, WrongUnit
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads import making_kernel as kernel
from latheworks.threads.thread import Thread
from latheworks.threads.thread import thread as read_thread
from latheworks.units import Q_, U, show, ureg
from latheworks.working import Line, Working

INCH = Fraction(127, 5)  # mm
USUAL_GEARS = (*range(20, 125, 5), 127)
_MOST_TRAINS = 12
_PER_INCH = ureg.parse_units("1/inch")


@dataclass(frozen=True, slots=True)
class ThreadingDial(Result):
    """Where to close the half-nuts so that the tool meets its groove again.

    Fields: lead, of the thread; leadscrew, its pitch; teeth, of the dial's worm wheel; divisions, lines on the dial;
    steps, the lines that serve, counted on from the line first used, which is step 0; anywhere, whether the half-nuts
    may be closed at any moment; keep_closed, whether no line serves (not even the same one), so that the half-nuts
    stay closed and the spindle is reversed; comes_round, the shortest shift of the carriage that serves.
    """

    lead: Any
    leadscrew: Any
    teeth: int
    divisions: int
    steps: tuple[int, ...]
    anywhere: bool
    keep_closed: bool
    comes_round: Any

    @property
    def lines(self) -> tuple[int, ...]:
        """The lines that serve when the first pass was started on line 1."""
        return tuple(step + 1 for step in self.steps)

    @property
    def rule(self) -> str:
        """The rule in words."""
        if self.keep_closed:
            return "keep the half-nuts closed and reverse the spindle"
        if self.anywhere:
            return "close the half-nuts at any moment"
        if len(self.steps) == self.divisions:
            return "any line"
        if len(self.steps) == 1:
            return "the same line every time"
        return f"one line in {self.divisions // len(self.steps)}, counted from the one first used"

    def title(self) -> str:
        return "Threading dial"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = "inch" if self.lead.units == U.inch else "metric"
        lines = "none" if self.keep_closed else ", ".join(str(line) for line in self.lines)
        return (("lead", show(self.lead, system)), ("lead screw", f"pitch {show(self.leadscrew, system)}"),
                ("dial", f"{self.teeth} teeth, {self.divisions} lines"), ("rule", self.rule),
                ("lines, first pass on 1", lines), ("comes round after", show(self.comes_round, system)),
                ("note", "Keep the change gears and the speed levers that drive them as they are until the thread is "
                         "done."))  # fmt: skip

    @property
    def working(self) -> Working:
        """The shift of a line, and where it is both whole threads of the lead screw and whole leads."""
        system = "inch" if self.lead.units == U.inch else "metric"
        turn = self.teeth * self.leadscrew
        return Working(self.title(), (
            Line("one turn of the dial", "teeth x pitch of the lead screw",
                 f"{self.teeth} x {show(self.leadscrew, system)}", show(turn, system), "geometry"),
            Line("one line", "turn / lines", "", show(turn / self.divisions, system), "geometry"),
            Line("serves", "whole leads, and whole threads of the lead screw", "", self.rule, cite("jones_turning")),
        ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class ChangeGears(Result):
    """Change gears that give a lead.

    Fields: lead; leadscrew, its pitch; ratio, drivers over driven, exact; trains, each (driver, driven) or (driver,
    driven, driver, driven), that give it exactly, simple trains first; nearest, the nearest train when none is exact;
    nearest_lead, the lead it cuts.
    """

    lead: Any
    leadscrew: Any
    ratio: Fraction
    trains: tuple[tuple[int, ...], ...]
    nearest: tuple[int, ...]
    nearest_lead: Any

    @property
    def exact(self) -> bool:
        """Whether any train gives the lead exactly."""
        return bool(self.trains)

    def title(self) -> str:
        return "Change gears"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = "inch" if self.lead.units == U.inch else "metric"
        error = (self.nearest_lead / self.lead).m_as(U.one) - 1
        last = ("nearest", f"{_train(self.nearest)}, lead off by {1e6 * error:+.0f} parts in a million")
        return (("lead", show(self.lead, system)), ("lead screw", f"pitch {show(self.leadscrew, system)}"),
                ("drivers / driven", str(self.ratio)),
                ("exact trains", "; ".join(_train(train) for train in self.trains[:4]) or "none of these gears"),
                *(() if self.exact else (last,)),
                ("note", "Spindle to lead screw, with a stud gear that turns as the spindle does: see the machine's "
                         "manual. An idler between changes the direction, not the ratio."),
                ("note", "Stop the lathe and lock it off before a hand goes near the gears."))  # fmt: skip

    def columns(self) -> dict[str, Any]:
        return {"drivers / driven": [_train(train) for train in self.trains]}

    @property
    def working(self) -> Working:
        """The ratio."""
        system = "inch" if self.lead.units == U.inch else "metric"
        numbers = f"{show(self.lead, system)} / {show(self.leadscrew, system)}"
        return Working(self.title(), (
            Line("drivers / driven", "lead / pitch of the lead screw", numbers, str(self.ratio), cite("jones_turning")),
        ))  # fmt: skip


def threading_dial(thread: Any, leadscrew: Any, teeth: Any = 16, lines: Any = 8) -> ThreadingDial:
    """Return the lines of the threading dial on which the half-nuts may be closed for the next pass.

    A step of k lines shifts the carriage by k/lines turns of the worm wheel, k x teeth / lines threads of the lead
    screw. It serves where that is a whole number of threads (the half-nuts close) and a whole number of leads (the
    tool is in its groove). All in whole numbers and fractions; an inch is 127/5 mm, so a metric thread on an inch
    lead screw comes round only after many turns of the dial: keep the half-nuts closed.
    Parameters: thread, a Thread, its designation, its lead [length] or threads per inch [1/inch]; leadscrew, its
    pitch [length] or threads per inch [1/inch]; teeth, of the dial's worm wheel [4 to 200]; lines, on the dial [1 to
    64]. Lengths from 0.05 to 100 mm. Raises LatheworksError.
    Source: condition of whole numbers F. D. Jones, Turning and Boring, 1914 (read); checked against the charts of
    three lathes' manuals.

    >>> threading_dial(Q_(18, "1/inch"), Q_(8, "1/inch")).lines
    (1, 3, 5, 7)
    >>> threading_dial("M16x1.5-6g", Q_(8, "1/inch")).keep_closed
    True
    """
    with Door("threading_dial") as door:
        lead, unit = _lead(door, thread)
        screw, _ = _exact(door, leadscrew, "leadscrew")
        wheel = door.whole(teeth, "teeth", least=4, most=200)
        divisions = door.whole(lines, "lines", least=1, most=64)
    steps = kernel.dial_steps(lead, screw, wheel, divisions)
    round_again = kernel.comes_round(lead, screw)
    # Step 0 is a whole turn of the dial from one pass to the next, so it has to serve as well.
    turn_serves = (wheel * screw / lead).denominator == 1
    return ThreadingDial(_length(lead, unit), _length(screw, unit), wheel, divisions, steps if turn_serves else (),
                         round_again == screw, not turn_serves, _length(round_again, unit))  # fmt: skip


def change_gears(thread: Any, leadscrew: Any, gears: Any = USUAL_GEARS) -> ChangeGears:
    """Return change gears, spindle to lead screw, that give the lead of a thread.

    drivers / driven = lead / pitch of the lead screw (threads per inch of the lead screw / threads per inch to cut
    for one start); multi-start threads need the lead, not the pitch. Exact trains first; where no train of these
    gears is exact, the nearest and the lead it cuts.
    Parameters: thread, a Thread, its designation, its lead [length] or threads per inch [1/inch]; leadscrew, its
    pitch [length] or threads per inch [1/inch]; gears, the teeth of the gears at hand [2 to 40 gears of 10 to 200
    teeth; 20 to 120 in fives and one of 127 when not given, common practice]. Raises LatheworksError.
    Source: F. D. Jones, Turning and Boring, 1914; J. Rose, Modern Machine-Shop Practice, 1887 (both read).

    >>> change_gears(Q_(3, "mm"), Q_(6, "1/inch")).trains[0]
    (90, 127)
    """
    with Door("change_gears") as door:
        lead, unit = _lead(door, thread)
        screw, _ = _exact(door, leadscrew, "leadscrew")
        owned = _gears(door, gears)
    ratio = lead / screw
    trains = kernel.gear_trains(ratio, owned, _MOST_TRAINS)
    nearest = trains[0] if trains else kernel.nearest_train(ratio, owned)
    if not nearest:
        with Door("change_gears") as door:
            door.complain("gears", given(list(owned)), "gears that make at least one train", "gears=(20, 40, 60, 80)")
    got = screw * math.prod(nearest[::2]) / math.prod(nearest[1::2])
    return ChangeGears(_length(lead, unit), _length(screw, unit), ratio, trains, nearest, _length(got, unit))


def _lead(door: Door, value: Any) -> tuple[Fraction, Any]:
    """The exact lead in mm of a thread, a designation, a length or threads per inch; and the unit to show it in."""
    if isinstance(value, str):
        try:
            value = read_thread(value)
        except LatheworksError as error:
            door.complain("thread", given(value), f"a designation ({str(error).rstrip('.')})",
                          'thread="M16x1.5-6g"', type(error))  # fmt: skip
            return Fraction(1), U.mm
    if isinstance(value, Thread):
        # Inch pitches are kept as decimals; threads per inch are the exact number.
        pitch, unit = _exact(door, value.pitch, "thread")
        return value.starts * pitch, unit
    return _exact(door, value, "thread")


def _exact(door: Door, value: Any, name: str) -> tuple[Fraction, Any]:
    """A length or threads per inch as an exact fraction of mm, and the unit to show it in."""
    fill_in = Fraction(127, 40), U.inch
    example = f'{name}=Q_(8, "1/inch") or {name}=Q_(3, "mm")'
    if not isinstance(value, Q_) or not (value.is_compatible_with(U.mm) or value.is_compatible_with(_PER_INCH)):
        expected = "a pitch or lead, or threads per inch" + (", or a Thread or its designation" * (name == "thread"))
        door.complain(name, given(value), expected, example, WrongUnit)
        return fill_in
    before = len(door.complaints)
    if value.is_compatible_with(_PER_INCH):
        count = door.number(value, name, "1/inch", least=0.254, most=508, example=example)
        size, unit, mm = Fraction(count).limit_denominator(64), U.inch, 25.4 / count
        exact = INCH / size
    elif value.units == U.inch:
        mm = door.number(value, name, "mm", least=0.05, most=100, example=example)
        # Threads per inch where they come out whole or nearly so, else the decimal as written.
        size, unit = Fraction(25.4 / mm).limit_denominator(64), U.inch
        exact = INCH / size
        if abs(float(exact) / mm - 1) > 1e-9:
            exact = Fraction(value.magnitude).limit_denominator(10_000) * INCH
    else:
        mm = door.number(value, name, "mm", least=0.05, most=100, example=example)
        exact, unit = Fraction(mm).limit_denominator(10_000), U.mm
    if len(door.complaints) > before:
        return fill_in
    if abs(float(exact) / mm - 1) > 1e-6:
        door.complain(
            name, given(value), "a lead or pitch that gears can make: at most four decimals", example, Impossible
        )
        return fill_in
    return exact, unit


def _gears(door: Door, gears: Any) -> tuple[int, ...]:
    """The teeth of the gears at hand."""
    if not isinstance(gears, (tuple, list)) or not 2 <= len(gears) <= 40:
        door.complain("gears", given(gears), "a list of 2 to 40 gears by their teeth", "gears=(20, 40, 60, 127)",
                      OutOfRange if isinstance(gears, (tuple, list)) else WrongUnit)  # fmt: skip
        return USUAL_GEARS
    return tuple(door.whole(teeth, "gears", least=10, most=200) for teeth in gears)


def _length(millimeters: Fraction, unit: Any) -> Any:
    """An exact length as a quantity."""
    return Q_(float(millimeters / INCH), U.inch) if unit == U.inch else Q_(float(millimeters), U.mm)


def _train(train: tuple[int, ...]) -> str:
    return " x ".join(f"{a}/{b}" for a, b in zip(train[::2], train[1::2], strict=True))
