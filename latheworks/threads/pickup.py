"""Picking up a lost start, and why a pass can be stopped and taken up again while the part stays in the chuck."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting import angle_in_degrees
from latheworks.door import Door, given
from latheworks.errors import WrongUnit
from latheworks.results import Result
from latheworks.threads.fit import gap
from latheworks.threads.fit_door import own, pair, parallel_thread, system_of, written
from latheworks.threads.fit_kernel import axial_play
from latheworks.threads.forms import form
from latheworks.threads.thread import Thread
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working

_CONTACT = ("Picked up wrong, the new groove cuts into one flank and leaves the other: the mate bears on one flank in "
            "the old part and on the other in the new one, and binds when their play is used up.")  # fmt: skip

_LOST = (
    "Out of the chuck the part has lost its angle to the spindle, and its center.",
    "The groove comes out deep on one side and shallow on the other; cutting deeper all round does not bring it back "
    "to center. Dial the part in first, then pick up the start.",
)
_KEPT = (
    "The carriage moves one lead for each turn of the spindle, through gears that cannot slip: part, spindle, lead "
    "screw and carriage keep their places, so stop at any point.",
    "It holds while the part stays in the chuck, the gears stay as they are, and the half-nuts stay closed or are "
    "closed again where the threading dial says. Start in the direction of the feed, ahead of the thread, so that all "
    "backlash is taken up.",
)


@dataclass(frozen=True, slots=True)
class PickUp(Result):
    """How exactly a lost start has to be picked up. Lengths are in the thread's own unit.

    Fields: external, internal; cut, the one that is picked up; gap, clearance between the pitch diameters, tightest
    to loosest pair; play along the axis, the same; limit, axial error at which the tightest mate begins to bind
    across old and new thread (its whole play); allowed, half of that, which leaves the other half for errors of
    lead and angle; turn, the spindle angle that `allowed` equals [deg]; remaining, depth still to cut; free, axial
    error that the remaining depth cuts away on both flanks.
    """

    external: Thread
    internal: Thread
    cut: Thread
    gap: Span
    play: Span
    limit: Any
    allowed: Any
    turn: Any
    remaining: Any
    free: Any

    def after(self, error: Any) -> "PickedUp":
        """Return what an axial error of the pick-up does to the flanks.

        Parameters: error along the axis, one or many [length, at most half a pitch either way]. Raises
        LatheworksError. Source: geometry, worked out here.

        >>> pick_up("M16x1.5-6g").after(Q_(0.03, "mm")).binds.tolist()
        True
        """
        with Door("after") as door:
            most = self.cut.pitch.m_as(U.mm) / 2
            size = door.array(error, "error", "mm", least=-most, most=most, example='error=Q_(0.02, "mm")')
        half = math.radians(self.cut.included_angle.m_as(U.deg)) / 2
        deep, left = form(self.cut).depth, self.remaining.m_as(U.mm)
        step = np.maximum(np.abs(size) - left * math.tan(half), 0.0)
        lost = np.where(step > 1e-12, (deep - left) / deep, 0.0)
        sign = -1.0 if self.cut.external else 1.0
        binds = step > self.limit.m_as(U.mm) * (1 + 1e-9)
        return PickedUp(self.cut, own(self.cut, size), own(self.cut, step), Q_(lost[()], U.one),
                        own(self.cut, sign * step / math.tan(half)), np.asarray(binds))  # fmt: skip

    def title(self) -> str:
        return f"Picking up {self.cut.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.cut)
        digits = 4 if system == "metric" else 5
        return (("gap between pitch diameters", written(self.gap, system)),
                ("play along the axis", written(self.play, system)),
                ("allowed error", f"± {show(self.allowed, system, digits)} along the axis, or ± {show(self.turn)} of "
                 "the spindle"),
                ("binds at", show(self.limit, system, digits)),
                ("cut away by the depth still to go", f"± {show(self.free, system)}, straight infeed"),
                ("note", _CONTACT),
                ("note", "A thread cut again over its whole length only gets looser: its grooves are wider by the "
                         "error."),
                ("note", "Half the play is a rule of thumb (common practice, no source). Come into the groove in the "
                         "direction of the feed, with the spindle stopped and all backlash taken up."))  # fmt: skip

    @property
    def working(self) -> Working:
        """Gap, play, allowed error, and the spindle angle."""
        system, half = system_of(self.cut), self.cut.included_angle.m_as(U.deg) / 2
        digits = 4 if system == "metric" else 5
        return Working(self.title(), (
            Line("gap", "D2 min - d2 max", "", show(self.gap.min, system), "limits of the two classes"),
            Line("play", "gap tan a", f"{show(self.gap.min, system)} x tan {half:g}",
                 show(self.limit, system, digits), "geometry of the flanks"),
            Line("allowed", "play / 2", "", f"± {show(self.allowed, system, digits)}", "common practice, no source"),
            Line("spindle", "360 x allowed / lead", f"lead {show(self.cut.lead, system)}", f"± {show(self.turn)}",
                 "definition of lead"),
        ))  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class PickedUp(Result):
    """What an error of the pick-up did; arrays of the shape asked for.

    Fields: thread; error along the axis; flank_step, how far the old part of one flank stands back; flank_lost, the
    share of that flank's depth that stands back; pitch_diameter_change, of the groove, as wires or a mate see it;
    binds, whether the tightest mate binds where it sits on old and new thread.
    """

    thread: Thread
    error: Any
    flank_step: Any
    flank_lost: Any
    pitch_diameter_change: Any
    binds: np.ndarray

    def title(self) -> str:
        return f"{self.thread.designation} picked up off its groove"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.thread)
        return (("error", show(self.error, system)), ("step in the flank", show(self.flank_step, system)),
                ("share of the flank", show(self.flank_lost, digits=2)),
                ("pitch diameter changes by", show(self.pitch_diameter_change, system)),
                ("tightest mate binds",
                 ", ".join("yes" if b else "no" for b in np.atleast_1d(self.binds))))  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class CarryOn(Result):
    """Whether a thread can be carried on with after a stop, and what is lost. Lengths are in the thread's own unit.

    Fields: thread; taken_out, whether the part left the chuck; phase_error, the worst axial error of the start;
    run_out, full indicator reading after re-chucking; angle around the turn [deg]; depth_error there, on the radius
    (positive: deeper); worst_depth, its largest size; flank_shift, what that does to a flank along the axis;
    needs_pick_up, whether the start has to be picked up again.
    """

    thread: Thread
    taken_out: bool
    phase_error: Any
    run_out: Any
    angle: Any
    depth_error: Any
    worst_depth: Any
    flank_shift: Any
    needs_pick_up: bool

    def title(self) -> str:
        where = "after re-chucking" if self.taken_out else "the part still in the chuck"
        return f"Carrying on with {self.thread.designation}, {where}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.thread)
        said = [("start off by up to", show(self.phase_error, system)), ("depth off by up to",
                 f"± {show(self.worst_depth, system)} around the turn"),
                ("pick up the start again", "yes" if self.needs_pick_up else "no")]  # fmt: skip
        said += [("note", line) for line in (_LOST if self.taken_out else _KEPT)]
        return tuple(said)

    def columns(self) -> dict[str, Any]:
        unit = f"{self.depth_error.units:~}"
        return {"angle [deg]": self.angle.magnitude, f"depth error [{unit}]": self.depth_error.magnitude}

    @property
    def working(self) -> Working:
        """Where the carriage is for a turn of the spindle, and what is lost."""
        system = system_of(self.thread)
        lost = "an unmarked part: half a pitch to the nearest groove; a marked one: lead x mark / 360"
        return Working(self.title(), (
            Line("carriage", "lead x turns of the spindle", f"{show(self.thread.lead, system)} a turn", "", "geared"),
            Line("start", lost if self.taken_out else "kept", "", show(self.phase_error, system), "definition of lead"),
            Line("depth around the turn", "runout / 2 x cos(angle)", show(self.run_out, system),
                 f"± {show(self.worst_depth, system)}", "eccentricity is half the indicator reading"),
        ))  # fmt: skip


def pick_up(external: Thread | str, internal: Thread | str | None = None, *, cutting: Any = "external",
            remaining: Any = None) -> PickUp:  # fmt: skip
    """Return how exactly a lost start has to be picked up for the mate still to go on.

    Play along the axis = gap tan a, the gap between the pitch diameters of the tightest pair. A mate that sits on
    thread cut before and after the pick-up binds when the two are off by the whole play; half of it is allowed.
    Spindle angle = 360 x allowed / lead. A groove not yet at depth is wider at the end than now: with straight
    infeed the depth still to cut takes up remaining x tan a on both flanks.
    Parameters: external, an external Thread or its designation; internal, the one it goes into, or None for the
    usual mate; cutting, which one is picked up, "external" or "internal"; remaining, depth on the radius still to
    cut [length, 0 to the depth of the thread; 0 when not given]. Raises LatheworksError.
    Source: geometry of the flanks; half the play common practice, no source.

    >>> found = pick_up("M16x1.5-6g", "M16x1.5-6H")
    >>> show(found.limit), show(found.allowed), show(found.turn, digits=1)
    ('0.018 mm', '0.009 mm', '2.2°')
    """
    with Door("pick_up") as door:
        outer, inner = pair(door, external, internal)
        cut = outer if door.choice(cutting, "cutting", ("external", "internal")) == "external" else inner
        deep = form(cut).depth
        left = 0.0
        if remaining is not None:
            left = door.number(remaining, "remaining", "mm", least=0, most=deep, example='remaining=Q_(0.2, "mm")')
    half = math.radians(cut.included_angle.m_as(U.deg)) / 2
    room = gap(outer.limits.pitch_diameter, inner.limits.pitch_diameter)
    play = Span(axial_play(room.min, half), axial_play(room.max, half))
    limit = max(play.min, 0 * play.min)  # classes without allowance can leave none
    turn = 360.0 * (limit / 2 / cut.lead).m_as(U.one)
    return PickUp(outer, inner, cut, room, play, limit, limit / 2, Q_(turn, U.deg), own(cut, left),
                  own(cut, left * math.tan(half)))  # fmt: skip


def carry_on(thread: Thread | str, taken_out: Any = False, *, run_out: Any = None, mark: Any = None) -> CarryOn:
    """Return whether a stopped thread can be carried on with, and what re-chucking the part has cost.

    In the chuck: the carriage is geared to the spindle, one lead a turn, so nothing is lost. Taken out: the start is
    off by up to half a pitch from the nearest groove, or by lead x mark / 360 where the part was marked to the jaws;
    and the center is off by half the runout, so that the depth changes by runout / 2 x cos(angle) around the turn,
    and a flank by that x tan a along the axis.
    Parameters: thread, a parallel Thread or its designation; taken_out, True or False; run_out, full indicator
    reading of the part after re-chucking [length, 0 to the depth of the thread; 0 when not given], for a part taken
    out; mark, how closely its angle was found again [deg, 0 to 180; unmarked when not given], for a part taken out.
    Raises LatheworksError. Source: geometry, worked out here.

    >>> show(carry_on("M16x1.5-6g").phase_error)
    '0.000 mm'
    >>> show(carry_on("M16x1.5-6g", taken_out=True, run_out=Q_(0.06, "mm")).worst_depth)
    '0.030 mm'
    """
    with Door("carry_on") as door:
        cut = parallel_thread(door, thread, "thread")
        gone = isinstance(taken_out, (bool, np.bool_)) and bool(taken_out)
        if not isinstance(taken_out, (bool, np.bool_)):
            door.complain("taken_out", given(taken_out), "True or False", "taken_out=True", WrongUnit)
        elif not gone:
            for name, value in (("run_out", run_out), ("mark", mark)):
                if value is not None:
                    expected = "nothing while the part stays in the chuck: it loses neither center nor angle"
                    door.complain(name, given(value), expected, f"taken_out=True with {name}, or leave it out")
        pitch, lead, deep = cut.pitch.m_as(U.mm), cut.lead.m_as(U.mm), form(cut).depth
        reading = 0.0
        if run_out is not None:
            reading = door.number(run_out, "run_out", "mm", least=0, most=deep, example='run_out=Q_(0.05, "mm")')
        phase = pitch / 2
        if mark is not None:
            degrees = angle_in_degrees(door, mark, "mark", least=0, most=180, example='mark=Q_(5, "degree")')
            phase = min(lead * degrees / 360, pitch / 2)
    half = math.radians(cut.included_angle.m_as(U.deg)) / 2
    angle = np.arange(0.0, 361.0, 5.0)
    center = reading / 2
    if not gone:
        phase = 0.0
    allowed = pick_up(cut if cut.external else cut.mate(), cut.mate() if cut.external else cut).allowed.m_as(U.mm)
    return CarryOn(cut, bool(gone), own(cut, phase), own(cut, 2 * center), Q_(angle, U.deg),
                   own(cut, center * np.cos(np.radians(angle))), own(cut, center), own(cut, center * math.tan(half)),
                   bool(phase > allowed + 1e-12))  # fmt: skip
