"""Turning outside, judged on the workpiece as it stands: bending, load, finish, time."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.cutting.kernel import radial_force
from latheworks.deflection.size_kernel import Give
from latheworks.plan.bending import as_parts, beam_of, passes_left, places, sag
from latheworks.plan.filled import surface
from latheworks.plan.job import Held, Job, PlainOperation
from latheworks.plan.loads import shares
from latheworks.plan.outcome import Cut, Data, Flaw, Judged, Size, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.times import cut_minutes, in_cut
from latheworks.plan.tooling import PlainTool

GIVES_WAY = 0.5  # of a pass left standing: there the cut is as stiff as the work
DULL = 1.2  # wear of an edge in use, on the force: between finishing and roughing, Machinery's Handbook, from memory


def judge_turning(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, taken: Taken,
                  data: Data) -> Judged:  # fmt: skip
    """A turned or tapered outside, a face or a chamfer."""
    flaws: list[Flaw] = []
    sizes: list[Size] = []
    worst, minutes, cutting, torque, axial = 0.0, 0.0, 0.0, 0.0, 0.0
    before = shape
    entering = 90.0 if op.kind in ("face", "chamfer") else tool.entering
    for cut in taken.cuts:
        depth = (abs(cut.end - cut.start) if op.kind == "face" else cut.depth) / data.passes
        long = abs(cut.end - cut.start) if op.kind != "face" else cut.before - cut.after
        minutes += cut_minutes(long, data, data.passes + data.springs)
        cutting += in_cut(long, data, data.passes)
        if job.pair is None or depth <= 0.0:
            continue
        main, along, _ = (float(f) for f in radial_force(job.pair[0] * DULL, job.pair[1], depth, data.feed, tool.nose,
                                                         entering))  # fmt: skip
        arm = max(cut.before - (0.0 if op.kind == "face" else depth / 2), 0.0)
        torque, axial = max(torque, main * arm), max(axial, along)
        if op.kind in ("face", "chamfer") or cut.inside:
            continue
        error = _error(job, held, before, taken.after, cut, tool, data, depth, op, flaws)
        if error is None:
            continue
        worst = max(worst, float(np.abs(error).max()))
        if cut.feature in (*taken.made, *taken.partly) and cut.feature is not None and op.leave <= 0.0:
            sizes.append(Size(cut.feature, "diameter", as_parts(error), surface(data.feed, tool.nose)))
    power, slow, grip, more = shares(job, held, shape, torque, axial, data.spindle)
    return Judged(taken, data, tuple(sizes), (*flaws, *more), minutes, power, slow, grip, worst or None,
                  tuple(data.depth * (k + 1) for k in range(min(data.passes, 200))), cutting)  # fmt: skip


def _error(job: Job, held: Held, before: Shape, after: Shape, cut: Cut, tool: PlainTool, data: Data, depth: float,
           op: PlainOperation, flaws: list[Flaw]) -> Any:  # fmt: skip
    """The error of the diameter at places along a cut [mm]; None where the work cannot be told as a beam.

    The last two passes and all spring passes are worked out; what earlier ones leave has died away by then.
    """
    final = beam_of(job, held, after)
    last = depth if data.passes > 1 else cut.depth
    rough = before.cut(cut.start, cut.end, cut.after + last, cut.after + last, False) if data.passes > 1 else before
    first = beam_of(job, held, rough)
    if final is None or first is None:
        return None
    at = places(held, cut.start, cut.end, final.length)
    toward = tool.hand != "left"
    near, far = (first, final) if toward else (final, first)
    away, couple = sag(held, near, far, at)
    cuts = min(data.passes, 2)
    rows = cuts + data.springs
    give_away, twist = np.tile(away, (rows, 1)), np.tile(couple, (rows, 1))
    if data.springs:
        give_away[cuts:], twist[cuts:] = sag(held, final, final, at)
    lever = (-1.0 if toward else 1.0) * (cut.after + last / 2)
    give = Give(give_away, give_away, twist * lever)
    steps = [depth] * cuts + [0.0] * data.springs
    left = passes_left(job, tool.nose, tool.entering, data.feed, steps, give, cut.after + depth * cuts, DULL)
    error = 2.0 * left[-1]
    lost = float(left[0].max()) / depth
    if lost > GIVES_WAY or not np.isfinite(error).all():
        flaws.append(
            Flaw(
                "stop",
                "work gives way",
                "the work bends away from most of the cut",
                cut.feature,
                "it is softer than the cut is hard: what comes off is chance, and it chatters or climbs",
                f"{100 * lost:.0f} % of a pass is left standing",
                "a center, a shorter stickout, a lighter cut",
            )
        )
    return error
