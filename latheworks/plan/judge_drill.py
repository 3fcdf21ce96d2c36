"""Drills, reamers and center drills, judged: size, thrust and torque, quill, flutes, pecks, time."""

from __future__ import annotations

import math

import numpy as np

from latheworks.drilling import kernel
from latheworks.drilling.hole_steps import CLEARING, FLUTES_OUT, QUILL_SPEED
from latheworks.drilling.load import forms
from latheworks.drilling.pecking import peck_steps
from latheworks.drilling.ways_kernel import drilled, way_row
from latheworks.plan.carry_holes import NEAR
from latheworks.plan.job import Held, Job, PlainOperation, radii
from latheworks.plan.loads import shares
from latheworks.plan.outcome import Data, Flaw, Judged, Size, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.times import QUILL_SET
from latheworks.plan.tooling import PlainTool
from latheworks.plan.wording import mm, say

WEAR = 1.3  # as drills are usually used
APPROACH = 1.0
PILOT_FROM = 12.0  # mm: larger drills want a pilot or a slow start
STARTED = 1.0  # mm: a mouth this wide guides a point
REAMED = 0.6  # mm on the diameter that a reamer takes at most: common practice


def judge_drill(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, taken: Taken,
                data: Data) -> Judged:  # fmt: skip
    """A hole from the tailstock, at the free end."""
    flaws: list[Flaw] = []
    d = max(tool.diameter, 0.3)
    deep = sum(cut.end - cut.start for cut in taken.cuts)
    tip = float(kernel.point(d, tool.point)) if op.kind == "drill" else 0.0
    travel = deep + tip + APPROACH
    mouth, narrow = _holes(held, shape, deep)
    flaws += _reach_flaws(job, op, tool, deep, tip, travel)
    if op.kind == "drill" and mouth < STARTED:
        flaws.append(
            Flaw(
                "caution",
                "no center hole",
                f"{tool.name} starts on a plain face",
                _name(op),
                "a drill walks off where nothing guides its point",
                "",
                "center drill first",
            )
        )
    if op.kind == "ream" and (narrow >= d or narrow < d - REAMED):
        level = "stop" if narrow >= d or narrow == 0.0 else "caution"
        flaws.append(
            Flaw(
                level,
                "wrong hole to ream",
                say("{} has {} to take", tool.name, mm(d - narrow, 2)),
                _name(op),
                say("a reamer takes {} at most and follows the hole that is there", mm(REAMED)),
                say("a hole of {}", mm(narrow, 2)),
                say("a hole of {} or so first", mm(d - 0.25, 2)),
            )
        )
    thrust, torque = _load(job, op, tool, data.feed, narrow)
    settings = max(math.ceil(travel / job.lathe.quill - 1e-9), 1)
    minutes = _minutes(op, tool, data, deep + tip) + (settings - 1) * QUILL_SET
    power, slow, grip, more = shares(job, held, shape, torque, thrust, data.spindle)
    if settings > 1:
        flaws.append(
            Flaw(
                "note",
                "quill set again",
                f"the tailstock is set {settings} times",
                _name(op),
                say("the quill travels {}", mm(job.lathe.quill)),
                say("{} are asked", mm(travel, 0)),
                "a tailstock brought up close, or a shorter hole from each end",
            )
        )
    speed = data.feed * data.spindle
    cutting = (deep + tip) / speed if speed > 0.0 else 0.0
    return Judged(taken, data, _sizes(job, op, tool, d), (*flaws, *more), minutes, power, slow, grip, None, (),
                  cutting)  # fmt: skip


def _name(op: PlainOperation) -> str | None:
    return op.features[0] if op.features else None


def _holes(held: Held, shape: Shape, deep: float) -> tuple[float, float]:
    """The hole at the mouth, and the narrowest along the new hole, as it stands before [mm]."""
    if held.grips == "A":
        mouth, along = (shape.end - 0.01, shape.end), (shape.end - deep, shape.end)
    else:
        mouth, along = (shape.start, shape.start + 0.01), (shape.start, shape.start + deep)
    return 2 * radii(shape, *mouth, True)[1], 2 * radii(shape, *along, True)[0]


def _load(job: Job, op: PlainOperation, tool: PlainTool, feed: float, hole: float) -> tuple[float, float]:
    """The highest published thrust [N] and torque [N mm]; a reamer takes next to nothing."""
    row, d = job.drilled, max(tool.diameter, 0.3)
    if row is None or job.pair is None or not row["torque Kd"] or op.kind == "ream":
        return 0.0, 0.0
    q = hole / d
    if q >= 1.0:
        return 0.0, 0.0
    q = q if q >= kernel.STANDARD_CHISEL else 0.0
    kd = [float(row["torque Kd"]), float(row["thrust Kd"])]
    thrusts, torques, _ = forms(kd, job.pair, float(row["hardness [HB]"]), d, feed, tool.point,
                                kernel.STANDARD_CHISEL, q, WEAR)  # fmt: skip
    return float(thrusts.max()), 1000.0 * float(torques.max())


def _reach_flaws(job: Job, op: PlainOperation, tool: PlainTool, deep: float, tip: float,
                 travel: float) -> list[Flaw]:  # fmt: skip
    """Flutes that end before the hole does."""
    flaws = []
    spare = tool.reach - (FLUTES_OUT * tool.diameter if op.kind == "drill" else 0.0)
    if deep + tip > tool.reach + 1e-6 and op.kind != "center drill":
        flaws.append(
            Flaw(
                "stop",
                "tool too short",
                f"{tool.name} does not reach",
                _name(op),
                say("it works {} deep, {} are asked with its point", mm(tool.reach), mm(deep + tip, 1)),
                say("{} short", mm(deep + tip - tool.reach, 1)),
                "a longer drill, or half from each end",
            )
        )
    elif deep + tip > spare + 1e-6 and op.kind == "drill":
        flaws.append(
            Flaw(
                "caution",
                "chips do not get out",
                f"the flutes of {tool.name} end inside the hole",
                _name(op),
                "with less than a diameter of flute outside, chips jam and the drill twists off",
                say("{} too deep for that", mm(deep + tip - spare, 1)),
                "draw out often, or a longer drill",
            )
        )
    if travel > 3 * job.lathe.quill:
        flaws.append(
            Flaw(
                "caution",
                "quill too short",
                say("the hole takes {} of travel", mm(travel, 0)),
                _name(op),
                say("the quill has {}: each new setting of the tailstock can shift the axis", mm(job.lathe.quill)),
                f"{travel / job.lathe.quill:.1f} quill travels",
                "half from each end, or bore it",
            )
        )
    return flaws


def _minutes(op: PlainOperation, tool: PlainTool, data: Data, deep: float) -> float:
    if deep <= 0.0 or data.feed * data.spindle <= 0.0:
        return 0.0
    speed = data.feed * data.spindle
    if op.kind != "drill":
        return deep / speed + deep / QUILL_SPEED
    first = data.peck / max(tool.diameter, 0.3) if data.peck > 0.0 else 2.0
    steps = peck_steps(max(tool.diameter, 0.3), deep, max(first, 0.2), 0.7, min(1.0, max(first, 0.2)))
    return kernel.peck_time(np.asarray(steps), speed, QUILL_SPEED, CLEARING / 60.0) + APPROACH / speed


def _sizes(job: Job, op: PlainOperation, tool: PlainTool, d: float) -> tuple[Size, ...]:
    """What a drill or a reamer makes of each feature that it is named for."""
    sizes = []
    for name in op.features:
        feature = job.features.get(name)
        if feature is None or feature.kind != "cylinder" or op.leave > 0.0 or op.kind == "center drill":
            continue
        if abs(feature.aim - d) >= NEAR:
            continue  # opened up later; the drill is not what makes its size
        if op.kind == "ream":
            mean, spread, _ = way_row("reamer")
        else:
            shrinks = job.drilled is not None and job.drilled["may shrink"] == "yes"
            mean, spread = drilled(d, shrinks)
        parts = (("size of the tool", (d - feature.aim, 0.0, "fixed", 1.0)),
                 ("cutting over size", (mean, spread, "normal", 1.0)))  # fmt: skip
        sizes.append(Size(name, "diameter", parts))
    return tuple(sizes)
