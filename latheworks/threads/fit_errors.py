"""Lead and flank angle errors: how much larger a screw, or smaller a nut, they make a thread for its mate."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting import angle_in_degrees
from latheworks.door import Door
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads.fit_door import own, parallel_thread, system_of
from latheworks.threads.fit_kernel import angle_growth, lead_growth
from latheworks.threads.thread import Thread
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

_MOST_ANGLE = 5.0  # degrees: beyond it the tool is the wrong one


@dataclass(frozen=True, slots=True, eq=False)
class VirtualPitchDiameter(Result):
    """The pitch diameter a perfect mate meets. Lengths are in the thread's own unit, of the shape of the lead error.

    Fields: thread; pitch_diameter, as wires measure it; lead_error; leading_error and trailing_error [deg]; by_lead
    and by_angle, what each adds; growth, their sum; virtual, the virtual pitch diameter (pitch diameter + growth of
    an external thread, - growth of an internal one).
    """

    thread: Thread
    pitch_diameter: Any
    lead_error: Any
    leading_error: Any
    trailing_error: Any
    by_lead: Any
    by_angle: Any
    growth: Any
    virtual: Any

    def title(self) -> str:
        return f"Virtual pitch diameter of {self.thread.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.thread)
        kind = "larger" if self.thread.external else "smaller"
        go = self.thread.limits.pitch_diameter.max if self.thread.external else self.thread.limits.pitch_diameter.min
        return (("pitch diameter", show(self.pitch_diameter, system)), ("from the lead", show(self.by_lead, system)),
                ("from the flanks", show(self.by_angle, system)),
                ("virtual pitch diameter", f"{show(self.virtual, system)}, {kind}"), ("go limit", show(go, system)),
                ("note", "A lead too long and one too short take up the same room: either way the thread binds at "
                         "both ends of the length engaged."),
                ("note", "A flank angle too large binds at the root of an external thread, one too small at its crest; "
                         "the crest reaches farther from the pitch line, so too small costs more. Inside it is the "
                         "other way round."))  # fmt: skip

    @property
    def working(self) -> Working:
        """What lead and flanks add, and the sum."""
        system, half = system_of(self.thread), self.thread.included_angle.m_as(U.deg) / 2
        sign = "+" if self.thread.external else "-"
        return Working(self.title(), (
            Line("by lead", "|error| cot a", f"cot {half:g} = {1 / math.tan(math.radians(half)):.4f}",
                 show(self.by_lead, system), cite("thread_errors")),
            Line("by angle", "sum of 2 r |error| / sin 2a", f"{show(self.leading_error)}, {show(self.trailing_error)}",
                 show(self.by_angle, system), cite("thread_errors") + "; r by sign: derived here"),
            Line("virtual", f"E {sign} growth",
                 f"{show(self.pitch_diameter, system)} {sign} {show(self.growth, system)}",
                 show(self.virtual, system), "definition"),
        ))  # fmt: skip


def virtual_pitch_diameter(thread: Thread | str, pitch_diameter: Any = None, *, lead_error: Any = None,
                           leading_error: Any = None, trailing_error: Any = None) -> VirtualPitchDiameter:  # fmt: skip
    """Return the pitch diameter that go and a perfect mate meet: the measured one with lead and angle errors.

    By lead: |error| cot a = 1.732 |error| at 60 degrees. By angle: sum over both flanks of 2 r |error| / sin 2a,
    with r = H/4 for a half angle too large and 3H/8 for one too small on an external 60 degree thread, the other
    way round on an internal one; on the mean, 5/8 H x (sum of errors) / sin 2a. Both make a screw larger and a nut
    smaller, whatever their sign; wires do not show either.
    Parameters: thread, a parallel Thread or its designation; pitch_diameter, the measured one [length, within a
    tenth of basic; the middle of the limits when not given]; lead_error, summed over the length engaged, one or many
    [length, at most the pitch / 4 either way; 0 when not given]; leading_error and trailing_error, of the half
    angles, positive when too large [deg, -5 to 5; 0 when not given]. Raises LatheworksError.
    Source: cot a for the lead and h (sum of errors) / sin 2a for the flanks read in lecture notes on the
    measurement of screw threads; 1.732 and 0.36 P a minute of arc read in a worked example; r by sign derived.

    >>> found = virtual_pitch_diameter("M16x1.5-6g", lead_error=Q_(0.02, "mm"))
    >>> show(found.growth), show(found.virtual)
    ('0.035 mm', '14.959 mm')
    """
    with Door("virtual_pitch_diameter") as door:
        cut = parallel_thread(door, thread, "thread")
        basic, pitch = cut.pitch_diameter.m_as(U.mm), cut.pitch.m_as(U.mm)
        size = cut.limits.pitch_diameter.mid.m_as(U.mm)
        if pitch_diameter is not None:
            size = door.number(pitch_diameter, "pitch_diameter", "mm", least=0.9 * basic, most=1.1 * basic,
                               example=f'pitch_diameter=Q_({size:.3f}, "mm")')  # fmt: skip
        lead: Any = np.asarray(0.0)
        if lead_error is not None:
            lead = door.array(lead_error, "lead_error", "mm", least=-pitch / 4, most=pitch / 4,
                              example='lead_error=Q_(0.01, "mm")')  # fmt: skip
        flanks = [_error(door, value, name) for value, name in
                  ((leading_error, "leading_error"), (trailing_error, "trailing_error"))]  # fmt: skip
    half = math.radians(cut.included_angle.m_as(U.deg)) / 2
    above, below = reach(cut)
    by_lead = lead_growth(lead, half)
    by_angle = sum(float(angle_growth(math.radians(error), half, above, below)) for error in flanks)
    growth = by_lead + by_angle
    virtual = size + growth if cut.external else size - growth
    return VirtualPitchDiameter(
        thread=cut,
        pitch_diameter=own(cut, size),
        lead_error=own(cut, lead[()]),
        leading_error=Q_(flanks[0], U.deg),
        trailing_error=Q_(flanks[1], U.deg),
        by_lead=own(cut, by_lead[()]),
        by_angle=own(cut, by_angle),
        growth=own(cut, growth[()]),
        virtual=own(cut, virtual[()]),
    )


def reach(cut: Thread) -> tuple[float, float]:
    """How far from the pitch line [mm] the flanks meet, for an angle error below 0 and above 0."""
    pitch = cut.pitch.m_as(U.mm)
    if cut.included_angle.m_as(U.deg) == 60:
        height = pitch * math.cos(math.radians(30))
        crest, mate = 3 / 8 * height, height / 4
    else:
        crest = mate = (cut.major - cut.pitch_diameter).m_as(U.mm) / 2
    return (crest, mate) if cut.external else (mate, crest)


def _error(door: Door, value: Any, name: str) -> float:
    """The error of a half angle in degrees; 0 when not given."""
    if value is None:
        return 0.0
    return angle_in_degrees(
        door, value, name, least=-_MOST_ANGLE, most=_MOST_ANGLE, example=f'{name}=Q_(0.5, "degree")'
    )
