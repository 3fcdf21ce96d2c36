"""Holes from the free end, carried: a center hole, a drilled hole with its cone, a reamed one."""

from __future__ import annotations

import math

from latheworks.plan.carry_ends import end_is_free, over_cut
from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import SAME, Held, Job, PlainOperation, radii
from latheworks.plan.outcome import Cut, Flaw, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.tooling import PlainTool

# A center drill's countersink: its mouth in diameters of the pilot, and how deep the pilot goes beyond it.
MOUTH, PILOT = 2.1, 1.0
NEAR = 0.5  # mm on the diameter: a drill that is farther off only opens the way for another tool


def centered(held: Held, shape: Shape, tool: PlainTool | None, flaws: list[Flaw]) -> Taken:
    """A center hole in the free end."""
    d = tool.diameter if tool is not None and tool.diameter > 0 else 3.15
    cone = (MOUTH - 1.0) * d / 2 / math.tan(math.radians(30.0))
    flaws += end_is_free(held, "a center drill")
    return _bored_from_end(held, shape, [(cone, MOUTH * d / 2, d / 2), (PILOT * d, d / 2, d / 2)], None, flaws)


def _bored_from_end(held: Held, shape: Shape, steps: list[tuple[float, float, float]], name: str | None,
                    flaws: list[Flaw]) -> Taken:  # fmt: skip
    """Stretches cut inside one behind the other from the free end: length and the radii at both ends."""
    free, sign = (shape.end, -1.0) if held.grips == "A" else (shape.start, 1.0)
    at, before = free, 0.0
    cuts = []
    for long, near, far in steps:
        to = at + sign * long
        if sign < 0:
            start, end, first, final = to, at, far, near
        else:
            start, end, first, final = at, to, near, far
        low, _ = radii(shape, max(start, shape.start), min(end, shape.end), True)
        before = low
        shape = shape.cut(start, end, first, final, True)
        cuts.append(Cut(name, start, end, before, max(first, final), True))
        at = to
    return Taken(shape, tuple(cuts), (), (), tuple(flaws))


def holed(job: Job, held: Held, shape: Shape, op: PlainOperation, wanted: list[PlainFeature],
           tool: PlainTool | None, flaws: list[Flaw]) -> Taken:  # fmt: skip
    """A hole drilled or reamed from the free end, with its cone at the bottom."""
    if not wanted:
        return Taken(shape, (), (), (), tuple(flaws))
    flaws += end_is_free(held, "a drill" if op.kind == "drill" else "a reamer")
    free = shape.end if held.grips == "A" else shape.start
    far = min(f.start for f in wanted) if held.grips == "A" else max(f.end for f in wanted)
    deep = abs(free - far) if op.drill_depth is None else op.drill_depth
    size = tool.diameter if tool is not None and tool.diameter > 0 else min(f.diameter for f in wanted)
    cone = size / 2 / math.tan(math.radians(tool.point if tool is not None else 118.0) / 2)
    steps = [(deep, size / 2, size / 2), *([(cone, size / 2, 0.0)] if op.kind == "drill" else [])]
    taken = _bored_from_end(held, shape, steps, wanted[0].name, flaws)
    after = taken.after
    near = [f for f in wanted if f.kind == "cylinder" and abs(f.diameter - size) < NEAR and op.leave <= SAME]
    done = [f.name for f in near if _through(after, f, size)]
    return taken._replace(cuts=taken.cuts[:1], made=tuple(done), flaws=(*flaws, *over_cut(job, after)),
                          partly=tuple(f.name for f in wanted if f.name not in done))  # fmt: skip


def _through(shape: Shape, feature: PlainFeature, size: float) -> bool:
    """Whether a hole goes all along a feature."""
    start, end = max(feature.start, shape.start), min(feature.end, shape.end)
    return end - start > SAME and radii(shape, start, end, True)[0] >= size / 2 - SAME
