"""A plan walked from the stock on: every operation judged on what the ones before it have left."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from latheworks.plan.job import SAME, Held, Job, PlainOperation, hold, plain_operation
from latheworks.plan.judge import judge
from latheworks.plan.judge_holding import holding_flaws
from latheworks.plan.outcome import Flaw, Judged, Size
from latheworks.plan.plan import Plan
from latheworks.plan.shape import Shape
from latheworks.plan.times import TOOL_CHANGE

HEAT_SHARE, COOLED = 0.1, 0.7  # of the heat into the work, Krar; of that what coolant takes: common practice
AIR = 20e-6  # W/(mm^2 K), a turning bar in still air: common practice, textbooks print 5 to 25 for free convection


class Step(NamedTuple):
    """One operation in its place: index of the setup and the operation from 0, the work before it, and how warm it is
    when the operation ends [K above the room]."""

    setup: int
    number: int
    op: PlainOperation
    held: Held
    before: Shape
    judged: Judged
    warm: float


@dataclass
class Walk:
    """A plan carried to its end: its steps, flaws of its setups, where each size was made, what stays."""

    job: Job
    steps: list[Step] = field(default_factory=list)
    setups: list[tuple[int, Held, tuple[Flaw, ...]]] = field(default_factory=list)
    made: dict[str, Step] = field(default_factory=dict)
    partly: dict[str, list[Step]] = field(default_factory=dict)
    sizes: dict[tuple[str, str], list[tuple[Step, Size]]] = field(default_factory=dict)
    end: Shape | None = None


def walk(plan: Plan, job: Job) -> Walk:
    """Carry the workpiece through a plan."""
    found = Walk(job)
    shape, warm = plan.part.stock, 0.0
    for i, setup in enumerate(plan.setups):
        held = hold(job, setup, shape)
        key = ("setup", shape.key(), held)
        flaws = job.cache.get(key)
        if flaws is None:
            flaws = job.cache[key] = tuple(holding_flaws(job, held, shape))
        found.setups.append((i, held, flaws))
        warm = 0.0  # turned round, set true and cleaned, it has cooled
        for k, written in enumerate(setup.operations):
            op = plain_operation(written)
            judged = judge(job, held, shape, op)
            warm = warmer(job, shape, op, judged, warm)
            step = Step(i, k, op, held, shape, judged, warm)
            found.steps.append(step)
            _note(found, step)
            shape = judged.taken.after
    found.end = shape
    return found


def _note(found: Walk, step: Step) -> None:
    """Remember what an operation has made."""
    for name in step.judged.taken.made:
        found.made[name] = step
    for name in step.judged.taken.partly:
        found.partly.setdefault(name, []).append(step)
    for size in step.judged.sizes:
        key = size.feature, size.measure
        others = found.sizes.get(key, [])
        # A later cut over the whole feature makes its size anew; one over another part of it adds to it.
        keep = (
            [one for one in others if one[0].setup != step.setup] if size.feature in _part_of(found.job, step) else []
        )
        found.sizes[key] = [*keep, (step, size)]


def _part_of(job: Job, step: Step) -> set[str]:
    """Features of which a step cut a part only, the rest being cut elsewhere."""
    found = set(step.judged.taken.partly)
    for cut in step.judged.taken.cuts:
        feature = job.features.get(cut.feature or "")
        if feature is None or feature.kind != "cylinder":
            continue
        if cut.end - cut.start < feature.end - feature.start - SAME:
            found.add(feature.name)
    return found


def warmer(job: Job, shape: Shape, op: PlainOperation, judged: Judged, warm: float) -> float:
    """How warm the work is when an operation ends: a share of the cut's heat in, some of it lost to the air [K]."""
    if job.heat <= 0.0:
        return 0.0
    mass = job.density * shape.volume()
    capacity = mass * job.heat
    if capacity <= 0.0:
        return 0.0
    area = float(np.sum(2 * math.pi * shape.outer.mean(axis=1) * np.diff(shape.z)))
    seconds = 60.0 * judged.minutes + (60.0 * TOOL_CHANGE if op.tool is not None else 0.0)
    share = 60.0 * judged.cutting / seconds if seconds > 0.0 else 0.0
    watts = share * judged.power * job.lathe.watts * HEAT_SHARE * (1.0 - COOLED if op.coolant else 1.0)
    rate = AIR * area / capacity  # 1/s
    even = watts / (AIR * area) if area > 0 else 0.0
    return even + (warm - even) * math.exp(-rate * seconds)
