"""The pitch diameter that comes out of single-point threading: infeed, threading force and bending in balance."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.cutting.plain_numbers import pair
from latheworks.deflection.bend import check_place, check_setup
from latheworks.deflection.holding import Holding
from latheworks.deflection.kernel import Floats
from latheworks.deflection.moving_kernel import cut_down, under_tool
from latheworks.deflection.shaft import Shaft
from latheworks.deflection.size_door import check_edge, check_ratio, check_tool, pass_notes, range_notes, sizes
from latheworks.deflection.size_kernel import Give, run
from latheworks.deflection.thread_result import ThreadSizeError
from latheworks.door import Door, given
from latheworks.errors import Impossible, LatheworksError
from latheworks.materials import Material
from latheworks.threads.forms import form
from latheworks.threads.infeed import infeed
from latheworks.threads.infeed_kernel import chip_force
from latheworks.threads.infeed_schedule import InfeedSchedule
from latheworks.threads.thread import Thread
from latheworks.units import Q_, U

# Radial over main force of a V tool fed straight in: between what the angle of the flanks gives and one to one.
RADIAL_SHARE = 0.5
_SCHEDULE = 'schedule=infeed("M30x2-6g", length=Q_(25, "mm"))'


def thread_size_error(schedule: Any, shaft: Shaft, holding: Holding, at: Any = None, *, start: Any = None,
                      radial_share: Any = RADIAL_SHARE, edge_force: Any = None,
                      tool_stiffness: Any = None) -> ThreadSizeError:  # fmt: skip
    """Return how much too large the pitch diameter of an external thread comes out along the thread, pass by pass.

    In balance the groove's root radius r = sqrt((r0 + y_r)^2 + y_t^2), r0 the blank radius - depth set,
    y_r = (f + 1/k_tool) (share Fc + Fe), y_t = f Fc, and Fc that of the chip really taken: from the groove the pass
    before has left to r. The part bends with the root diameter of the thread all along the thread. error = 2 (r - r0),
    since a groove that lacks y on the radius carries the pitch line out by y.

    Parameters:
    schedule, an InfeedSchedule of `infeed`, or a thread or its designation, which then takes infeed's defaults and
    the shaft's material; shaft, the part before threading, its outside the major diameter where the thread comes to
    be; holding, as in `size_error`; at, one position or many on the thread, from the chuck face or headstock center
    [mm; 51 along the thread when not given]; start of the thread, its end nearer the chuck [mm; the thread ends at
    the part's free end when not given]; radial_share, radial over main cutting force [0 to 2; 0.5 when not given];
    edge_force, radial, there at the thinnest cut [N; none when not given]; tool_stiffness of tool and toolpost
    [N/mm, 1 or more, may be infinite; rigid when not given].

    Raises LatheworksError with one message for all arguments that do not fit, and Impossible for an internal or a
    taper thread, and for a thread that does not lie on the part.
    Source: equilibrium (derivation); force as in `infeed`; root diameter and radial share are common practice, no
    source: the radial force is of the order of the main one, and was found nowhere in numbers.

    >>> from latheworks.deflection import Chuck
    >>> from latheworks.units import show
    >>> bar = Shaft.bar(Q_(60, "mm"), Q_(16, "mm"), material="6061-T6")
    >>> cut = thread_size_error(infeed("M16x1.5-6g", passes=6), bar, Chuck(), Q_(60, "mm"))
    >>> show(cut.per_pass)
    '0.067, 0.064, 0.064, 0.064, 0.065, 0.066, 0.025, 0.011 mm'
    """
    with Door("thread_size_error") as door:
        length = check_setup(door, shaft, holding)
        plan = _schedule(door, schedule, shaft)
        share = check_ratio(door, radial_share, "radial_share", 0.0, 2.0, RADIAL_SHARE)
        edge, soft = check_edge(door, edge_force), check_tool(door, tool_stiffness)
        specific, exponent = pair(door, plan.material)
        span = float(plan.length.m_as(U.mm))
        low = length - span if start is None else door.number(start, "start", "mm", least=0.0)
        if not door.complaints and (low < -1e-9 or low + span > length * (1 + 1e-9)):
            door.complain("start", f"a thread from {low:g} to {low + span:g} mm",
                          f"a thread that lies on the part, 0 to {length:g} mm",
                          f'infeed(..., length=Q_({length / 2:g}, "mm")), or another start', Impossible)  # fmt: skip
        low, high = max(low, 0.0), min(low + span, length)
        asked = Q_(np.linspace(low, high, 51), U.mm) if at is None else at
        places = check_place(door, asked, "at", length)
        depths = plan.depth.m_as(U.mm)
        if not door.complaints:
            part, spots = sizes(shaft), places.ravel()
            major = float(plan.thread.major.m_as(U.mm))
            _fits(door, part, plan, spots, (low, high), major)

    modulus = float(shaft.elastic_modulus.m_as(U.MPa))
    count = len(depths)
    sag = np.empty((count, len(spots)))
    for k in range(count):
        if k and depths[k] - depths[k - 1] < 1e-12:
            sag[k] = sag[k - 1]
            continue
        bar = cut_down(part, modulus, low, high, float(depths[k]))
        sag[k], _ = under_tool(holding, bar, bar, spots)
    shape, slope = form(plan.thread), float(np.tan(plan.compound_angle.m_as(U.rad)))
    flat, tan, half = float(plan.flat.m_as(U.mm)), shape.tan, major / 2

    def force(met: Any, taken: Any) -> tuple[Any, Any, Any]:
        before = np.maximum(half - met, 0.0)
        lean = np.where(before > 0.0, slope, 0.0)  # in the first pass both flanks cut, whatever the method
        main = chip_force(before, before + taken, flat, lean, specific, exponent, tan)
        return main, np.zeros_like(main), share * main

    give = Give(sag + soft, sag, np.zeros_like(sag))
    stands = half - np.repeat(depths[:, None], len(spots), axis=1)
    passes = run(force, give, edge, np.full(len(spots), half), stands, 0.0)
    springs = plan.spring_passes
    notes = [*range_notes(shaft, holding, float(part[1].max())), *pass_notes(passes, edge, springs)]
    if plan.method != "radial":
        notes.append(f"{plan.method} infeed pushes along the axis too; that part of the force is left out")
    form_of = places.shape

    def rows(values: Floats, unit: Any) -> Any:
        return Q_(values.reshape(count, *form_of), unit)

    def row(values: Floats, unit: Any) -> Any:
        return Q_(values.reshape(form_of) if form_of else float(values[0]), unit)

    per_pass = 2.0 * (passes.left - stands)
    return ThreadSizeError(
        shaft=shaft, holding=holding, schedule=plan, radial_share=share, edge_force=Q_(edge, U.N),
        tool_stiffness=Q_(1 / soft if soft else np.inf, U.N_per_mm), start=Q_(low, U.mm), at=row(spots, U.mm),
        error=row(per_pass[-1], U.mm), per_pass=rows(per_pass, U.mm), depth=rows(half - passes.left, U.mm),
        cutting_force=rows(passes.tangential, U.N), radial_force=rows(passes.radial, U.N),
        bend=rows(passes.away, U.mm), residual_ratio=passes.ratio.reshape(count, *form_of),
        edge_limit=row(2 * edge * give.away[-1], U.mm), flexibility=row(sag[-1], U.mm / U.N), notes=tuple(notes),
    )  # fmt: skip


def _schedule(door: Door, value: Any, shaft: Any) -> InfeedSchedule:
    """The schedule given, or infeed's own for a thread."""
    if isinstance(value, InfeedSchedule):
        found = value
    elif isinstance(value, (str, Thread)):
        stuff = getattr(shaft, "material", None)
        try:
            found = infeed(value, material=stuff) if isinstance(stuff, (str, Material)) else infeed(value)
        except LatheworksError as error:
            door.complain(
                "schedule", given(value), f"a thread to cut ({str(error).rstrip('.')})", _SCHEDULE, type(error)
            )
            return infeed("M10x1.5-6g")
    else:
        door.instance(value, "schedule", InfeedSchedule, "an InfeedSchedule or a thread", _SCHEDULE)
        return infeed("M10x1.5-6g")
    if not found.thread.external:
        door.complain("schedule", f"{found.thread.designation}, internal", "an external thread: in a bore it is the "
                      "bar that bends, and the thread comes out small", _SCHEDULE, Impossible)  # fmt: skip
    elif found.thread.planes is not None:
        door.complain(
            "schedule", f"{found.thread.designation}, a taper thread", "a parallel thread", _SCHEDULE, Impossible
        )
    return found


def _fits(door: Door, part: tuple[Floats, Floats, Floats], plan: InfeedSchedule, spots: Floats,
          stretch: tuple[float, float], major: float) -> None:  # fmt: skip
    """Complain of positions off the thread, of a blank that is not the major diameter, and of a wall cut through."""
    low, high = stretch
    off = (spots < low - 1e-9) | (spots > high + 1e-9)
    if off.any():
        door.complain("at", f"{spots[off.argmax()]:g} mm", f"positions on the thread, {low:g} to {high:g} mm",
                      f'at=Q_({(low + high) / 2:g}, "mm")', Impossible)  # fmt: skip
    ends = np.cumsum(part[0])
    under = (ends > low + 1e-9) & (ends - part[0] < high - 1e-9)
    wrong = np.abs(part[1][under] - major) > 0.25 * float(plan.thread.pitch.m_as(U.mm))
    if wrong.any():
        outside = float(part[1][under][wrong.argmax()])
        door.complain("shaft", f"{outside:g} mm across where the thread comes to be",
                      f"the major diameter of {plan.thread.designation}, {major:g} mm, within a quarter of the pitch",
                      "a section of that diameter, or another thread", Impossible)  # fmt: skip
    root, bore = major - 2 * float(plan.total_depth.m_as(U.mm)), float(part[2][under].max())
    if root <= bore:
        door.complain("shaft", f"a bore of {bore:g} mm under the thread", f"less than its root of {root:.4g} mm",
                      "a smaller bore, or a finer thread", Impossible)  # fmt: skip
