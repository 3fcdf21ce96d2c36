"""Making a thread: what to turn or bore first, relief and chamfer, side clearance of the tool, speed, and starts."""

import math
from typing import Any

from latheworks.cutting import angle_in_degrees
from latheworks.door import Door
from latheworks.shop import Lathe
from latheworks.shop import lathe as teaching_lathe
from latheworks.threads import making_kernel as kernel
from latheworks.threads.fit_door import own, parallel_thread
from latheworks.threads.forms import form
from latheworks.threads.infeed import spindle_limit
from latheworks.threads.making_result import Making
from latheworks.threads.thread import Thread
from latheworks.units import Q_, Span, U

_CHAMFER, _CLEARANCE = Q_(45.0, U.deg), Q_(3.0, U.deg)
_RELIEF = {True: Q_(10.0, U.deg), False: Q_(15.0, U.deg)}
_REACTION = Q_(0.5, U.s)


def making(thread: Thread | str, lathe: Any = None, *, relief_width: Any = None, chamfer_angle: Any = _CHAMFER,
           tool_relief: Any = None, least_clearance: Any = _CLEARANCE,
           reaction: Any = _REACTION) -> Making:  # fmt: skip
    """Return the sizes to prepare for a single-point thread, the clearance its tool needs, and its speed limits.

    Blank: the class's major limits (external), its minor limits (internal). Relief: 3 P wide, its diameter 0.1 P
    clear of the deepest root that the limits allow. Chamfer: from that root on the end face (inside: from the
    largest root) up to the blank. Lead angle at d: atan(lead / (pi d)). Clearance of the leading flank: lead angle
    at the minor diameter + least_clearance; of the trailing flank: least_clearance - lead angle at the major
    diameter. A tool with relief under its point alone has atan(tan(relief) tan a) on both flanks. To stop by hand
    in the relief: (width - P) / (lead x reaction), since the tool itself is about a pitch wide.
    Parameters: thread, a parallel Thread or its designation; lathe, a Lathe, the teaching lathe when not given;
    relief_width [length, 1 to 20 pitches; 3 pitches when not given]; chamfer_angle from the axis [deg, 15 to 75];
    tool_relief under the point, square to the axis [deg, 0 to 30; 10 outside, 15 inside when not given];
    least_clearance between flank and tool [deg, 0 to 15]; reaction, time to open the half-nuts or to stop [s, 0.1
    to 10]. Raises LatheworksError, also for a tapered thread.
    Source: limits of the class; relief, chamfer, least_clearance and reaction common practice, no source; deepest
    roots Machinery's Handbook 27th ed. p. 1794; flank clearance and relief of 10 and 15 degrees read in a tool
    maker's manual on thread turning, p. 116.

    >>> from latheworks.units import show
    >>> plan = making("M16x1.5-6g")
    >>> show(plan.blank.max), show(plan.relief_width), show(plan.lead_angles[1])
    ('15.968 mm', '4.500 mm', '1.82°')
    """
    with Door("making") as door:
        cut = parallel_thread(door, thread, "thread")
        pitch, lead = cut.pitch.m_as(U.mm), cut.lead.m_as(U.mm)
        machine = teaching_lathe()
        if lathe is not None:
            machine = (
                door.instance(lathe, "lathe", Lathe, "a Lathe", 'lathe("my_lathe.toml"), or leave it out') or machine
            )
        width = 3 * pitch
        if relief_width is not None:
            width = door.number(relief_width, "relief_width", "mm", least=pitch * (1 - 1e-9), most=20 * pitch,
                                example=f'relief_width=Q_({width:.3g}, "mm")')  # fmt: skip
        chamfer = angle_in_degrees(door, chamfer_angle, "chamfer_angle", least=15, most=75,
                                   example='chamfer_angle=Q_(45, "degree")')  # fmt: skip
        relief = _RELIEF[cut.external] if tool_relief is None else tool_relief
        under = angle_in_degrees(door, relief, "tool_relief", least=0, most=30, example='tool_relief=Q_(10, "degree")')
        slack = angle_in_degrees(door, least_clearance, "least_clearance", least=0, most=15,
                                 example='least_clearance=Q_(3, "degree")')  # fmt: skip
        minutes = door.number(
            reaction, "reaction", "min", least=0.1 / 60, most=10 / 60, example='reaction=Q_(0.5, "s")'
        )
    limits = cut.limits
    blank = limits.major if cut.external else limits.minor
    root = deepest_root(cut)
    end = blank.min if cut.external else blank.max
    deep = abs(root - end.m_as(U.mm)) / 2
    small, large = smallest_and_largest(cut, root)
    angles = kernel.lead_angle(lead, [large, cut.pitch_diameter.m_as(U.mm), small])
    plain = kernel.flank_clearance(under, cut.included_angle.m_as(U.deg) / 2)
    top, reason = spindle_limit(machine, lead)
    return Making(
        thread=cut,
        blank=Span(blank.min, blank.max),
        under_nominal=cut.major - blank.max if cut.external else None,
        relief_width=own(cut, width),
        relief_diameter=own(cut, root - 0.1 * pitch if cut.external else root + 0.1 * pitch),
        chamfer_diameter=own(cut, root),
        chamfer_length=own(cut, deep / math.tan(math.radians(chamfer))),
        chamfer_angle=Q_(chamfer, U.deg),
        depth=own(cut, form(cut).depth),
        lead_angles=(Q_(float(angles[0]), U.deg), Q_(float(angles[1]), U.deg), Q_(float(angles[2]), U.deg)),
        leading_clearance=Q_(float(angles[2]) + slack, U.deg),
        trailing_clearance=Q_(slack - float(angles[0]), U.deg),
        tool_clearance=Q_(plain, U.deg),
        left_leading=Q_(plain - float(angles[2]), U.deg),
        tilt=Q_(float(angles[1]), U.deg),
        spindle_limit=Q_(top, U.rpm),
        spindle_reason=reason,
        relief_spindle=Q_(kernel.fastest_into_relief(width, pitch, lead, minutes), U.rpm),
        start_shift=own(cut, pitch if cut.starts > 1 else 0.0),
        start_turn=Q_(360.0 / cut.starts if cut.starts > 1 else 0.0, U.deg),
        lathe=machine,
        least_clearance=Q_(slack, U.deg),
        tool_relief=Q_(under, U.deg),
    )


def deepest_root(cut: Thread) -> float:
    """Diameter [mm] of the deepest root inside the limits: the least of an external, the largest of an internal.

    Where the standard leaves that end open: at 60 degrees from the pitch diameter, as for the form of the root; for
    other forms the root lies as much deeper than its other limit as the pitch diameter may.
    """
    limits, pitch = cut.limits, cut.pitch.m_as(U.mm)
    flanks, sixty = limits.pitch_diameter, cut.included_angle.m_as(U.deg) == 60
    width = (flanks.max - flanks.min).m_as(U.mm)
    if cut.external:
        if limits.minor.min is not None:
            return float(limits.minor.min.m_as(U.mm))
        root = flanks.min.m_as(U.mm) - kernel.ROOT_BELOW * pitch if sixty else limits.minor.max.m_as(U.mm) - width
    else:
        if limits.major.max is not None:
            return float(limits.major.max.m_as(U.mm))
        root = flanks.max.m_as(U.mm) + kernel.ROOT_ABOVE * pitch if sixty else limits.major.min.m_as(U.mm) + width
    return float(root)


def smallest_and_largest(cut: Thread, root: float) -> tuple[float, float]:
    """The smallest and the largest diameter [mm] at which the tool's flanks meet the thread."""
    if cut.external:
        return root, float(cut.limits.major.max.m_as(U.mm))
    return float(cut.limits.minor.min.m_as(U.mm)), root
