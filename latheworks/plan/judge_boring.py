"""Boring, judged on the workpiece as it stands: the bar bends, and so does the part that it bores."""

from __future__ import annotations

import numpy as np

from latheworks.cutting.kernel import radial_force
from latheworks.deflection.boring_bar import bar_stiffness
from latheworks.deflection.kernel import Floats
from latheworks.plan.bending import FAR, as_parts, beam_of, passes_left, places, sag, straight
from latheworks.plan.filled import surface
from latheworks.plan.job import Held, Job, PlainOperation, radii
from latheworks.plan.judge_turning import DULL
from latheworks.plan.loads import shares
from latheworks.plan.outcome import Cut, Data, Flaw, Judged, Size, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.times import cut_minutes, in_cut
from latheworks.plan.tooling import BAR, PlainTool, bar_free
from latheworks.plan.wording import mm, say

SLENDER = 4.0  # diameters of a steel bar: tool makers' rule, the computed error beside it


def into(held: Held, shape: Shape, cut: Cut) -> float:
    """How deep a cut lies behind the free end [mm]."""
    return shape.end - cut.start if held.grips == "A" else cut.end - shape.start


def way_in(held: Held, shape: Shape, cut: Cut) -> float:
    """The smallest bore that a bar passes to the end of a cut, as it stands before it [mm]."""
    start, end = (cut.start, shape.end) if held.grips == "A" else (shape.start, cut.end)
    return 2.0 * radii(shape, start, end, True)[0]


def bar_flaws(held: Held, shape: Shape, cut: Cut, tool: PlainTool) -> list[Flaw]:
    """A bar that does not enter, or is too short."""
    flaws = []
    deep, narrow = into(held, shape, cut), way_in(held, shape, cut)
    if narrow < tool.smallest_bore - 1e-6:
        flaws.append(
            Flaw(
                "stop",
                "bar does not enter",
                f"{tool.name} does not go into the bore",
                cut.feature,
                say("it needs {}, there are {}", mm(tool.smallest_bore), mm(narrow, 2)),
                say("{} too narrow", mm(tool.smallest_bore - narrow, 2)),
                "a larger hole first, or a thinner bar",
            )
        )
    if deep > tool.reach + 1e-6:
        flaws.append(
            Flaw(
                "stop",
                "tool too short",
                f"{tool.name} does not reach",
                cut.feature,
                say("it reaches {}, the cut ends {} behind the face", mm(tool.reach), mm(deep, 1)),
                say("{} short", mm(deep - tool.reach, 1)),
                "a longer bar, or work from the other end",
            )
        )
    return flaws


def inside_give(job: Job, held: Held, shape: Shape, cut: Cut, tool: PlainTool) -> Floats | None:
    """What bar and part give together for 1 N that pushes them apart, at places along a cut [mm/N]."""
    work = beam_of(job, held, shape)
    free = bar_free(tool, into(held, shape, cut))
    bar = 1.0 / float(bar_stiffness(free, tool.diameter, 0.0, BAR))
    if work is None:
        return None
    if max(held.out(cut.start), held.out(cut.end)) <= 0.0:
        return np.array([bar])
    at = places(held, cut.start, cut.end, work.length)
    return np.asarray(sag(held, work, work, at)[0] + bar)


def judge_boring(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, taken: Taken,
                 data: Data) -> Judged:  # fmt: skip
    """A bore, or the inside chamfer of one."""
    flaws: list[Flaw] = []
    sizes: list[Size] = []
    worst, minutes, cutting, torque, axial = 0.0, 0.0, 0.0, 0.0, 0.0
    for cut in taken.cuts:
        flaws += bar_flaws(held, shape, cut, tool)
        depth = cut.depth / data.passes
        minutes += cut_minutes(cut.end - cut.start, data, data.passes + data.springs)
        cutting += in_cut(cut.end - cut.start, data, data.passes)
        if job.pair is None or depth <= 0.0:
            continue
        angle = 90.0 if op.kind == "chamfer" else tool.entering
        main, along, _ = (float(f) for f in radial_force(job.pair[0] * DULL, job.pair[1], depth, data.feed, tool.nose,
                                                         angle))  # fmt: skip
        torque, axial = max(torque, main * (cut.after - depth / 2)), max(axial, along)
        free = bar_free(tool, into(held, shape, cut))
        if free > SLENDER * tool.diameter and op.kind == "bore":
            ratio = free / tool.diameter
            flaws.append(
                Flaw(
                    "caution",
                    "slender bar",
                    f"the bar stands out {ratio:.1f} diameters",
                    cut.feature,
                    "from about 4 diameters on a steel bar tends to chatter, whatever its error",
                    say("{} of a bar of {}", mm(free, 0), mm(tool.diameter)),
                    "a thicker or a shorter bar",
                )
            )
        give = None if op.kind == "chamfer" else inside_give(job, held, taken.after, cut, tool)
        if give is None or cut.feature is None:
            continue
        cuts = min(data.passes, 2)
        steps = [depth] * cuts + [0.0] * data.springs
        left = passes_left(job, tool.nose, tool.entering, data.feed, steps, straight(give, len(steps)), FAR, DULL)
        error = -2.0 * left[-1]
        worst = max(worst, float(np.abs(error).max()))
        if op.leave <= 0.0 and cut.feature in (*taken.made, *taken.partly):
            sizes.append(Size(cut.feature, "diameter", as_parts(error), surface(data.feed, tool.nose)))
    power, slow, grip, more = shares(job, held, shape, torque, axial, data.spindle)
    return Judged(taken, data, tuple(sizes), (*flaws, *more), minutes, power, slow, grip, worst or None,
                  tuple(data.depth * (k + 1) for k in range(min(data.passes, 200))), cutting)  # fmt: skip
