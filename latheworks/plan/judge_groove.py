"""Grooves and cutting off, judged: the blade's width, reach and strength, bending under a plunge, load, time."""

from __future__ import annotations

import math

import numpy as np

from latheworks.cutting.kernel import THRUST_RATIO, kienzle
from latheworks.deflection.kernel import Floats
from latheworks.passes.groove_kernel import blade_load, plunges
from latheworks.plan.bending import as_parts, beam_of, places, sag
from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import Held, Job, PlainOperation
from latheworks.plan.judge_boring import bar_flaws, inside_give
from latheworks.plan.judge_turning import DULL
from latheworks.plan.loads import shares
from latheworks.plan.outcome import Cut, Data, Flaw, Judged, Size, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.times import APPROACH, RETURN, SET_PASS
from latheworks.plan.tooling import PlainTool
from latheworks.plan.wording import amount, mm, say

DWELL = 2  # turns that the blade stands at the floor: common practice
STRESS = 300.0  # MPa that a blade's root bears: common practice, as in `groove_passes`
TALL = 3.0  # a blade's height in widths
SPARE = 0.2  # mm that a blade stands out farther than its groove is deep: common practice
DEEPEST = 8.0  # widths in steel: a tool maker


def judge_groove(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, taken: Taken,
                 data: Data) -> Judged:  # fmt: skip
    """A groove outside or inside, repeated or not, or the part cut off."""
    flaws: list[Flaw] = []
    sizes: list[Size] = []
    worst, minutes, torque = 0.0, 0.0, 0.0
    blade = tool.blade or 3.0
    force = 0.0 if job.pair is None else float(kienzle(job.pair[0] * DULL, job.pair[1], blade, data.feed))
    for cut in taken.cuts:
        feature = job.features.get(cut.feature or "")
        flaws += _blade_flaws(cut, feature, tool, op, force)
        if cut.inside:
            flaws += bar_flaws(held, shape, cut, tool)
        minutes += _minutes(cut, feature, tool, data, op)
        torque = max(torque, force * max(cut.before, cut.after))
        if job.pair is None or feature is None or op.kind == "part off":
            continue
        give = _give(job, held, taken.after, cut, tool)
        if give is None:
            continue
        # In a plunge the force stays; at the floor each turn of dwell leaves K/(K + k) of what is bent.
        bent = THRUST_RATIO * force * give
        share = THRUST_RATIO * force / data.feed * give
        error = (-2.0 if cut.inside else 2.0) * bent * (share / (1.0 + share)) ** DWELL
        worst = max(worst, float(np.abs(2.0 * bent).max()))
        if op.leave <= 0.0 and cut.feature in taken.made:
            sizes.append(Size(feature.name, "diameter", as_parts(error)))
            if feature.length_low is not None or feature.length_high is not None:
                wide = 0.01 if blade < feature.end - feature.start - 1e-6 else 0.02
                sizes.append(Size(feature.name, "width", (("blade and slide", (0.0, wide, "uniform", 1.0)),)))
    power, slow, grip, more = shares(job, held, shape, torque, 0.0, data.spindle)
    return Judged(taken, data, tuple(sizes), (*flaws, *more), minutes, power, slow, grip, worst or None,
                  (), minutes / 2)  # fmt: skip


def _give(job: Job, held: Held, shape: Shape, cut: Cut, tool: PlainTool) -> Floats | None:
    """What gives under the blade, and bar where it works inside [mm/N]."""
    if cut.inside:
        return inside_give(job, held, shape, cut, tool)
    work = beam_of(job, held, shape)
    if work is None:
        return None
    return sag(held, work, work, places(held, cut.start, cut.end, work.length))[0]


def _blade_flaws(cut: Cut, feature: PlainFeature | None, tool: PlainTool, op: PlainOperation,
                 force: float) -> list[Flaw]:  # fmt: skip
    """A blade too wide, too short, too round at its corners, or too weak."""
    flaws = []
    blade, deep = tool.blade or 3.0, abs(cut.before - cut.after)
    reach = tool.tip if cut.inside else tool.reach
    if feature is not None and op.kind == "groove":
        width = feature.end - feature.start
        if blade > width + 1e-6:
            flaws.append(
                Flaw(
                    "stop",
                    "blade too wide",
                    f"{tool.name} is wider than the groove",
                    cut.feature,
                    say("the blade is {} wide, the groove {}", mm(blade), mm(width)),
                    say("{}", mm(blade - width, 2)),
                    "a narrower blade, or a wider groove",
                )
            )
        if tool.nose > feature.floor_radius + 1e-6 and feature.floor_radius > 0:
            flaws.append(
                Flaw(
                    "caution",
                    "corner too round",
                    f"{tool.name} leaves rounder corners than asked",
                    cut.feature,
                    say("its corners are {}, {} are asked", mm(tool.nose), mm(feature.floor_radius)),
                    say("{}", mm(tool.nose - feature.floor_radius, 2)),
                    "a blade with sharper corners",
                )
            )
    if reach > 0.0 and deep > reach - SPARE:
        flaws.append(
            Flaw(
                "stop",
                "tool too short",
                f"{tool.name} does not reach the floor",
                cut.feature,
                say("it stands out {}, the groove is {} deep", mm(reach), mm(deep, 2)),
                say("{} short, with {} to spare", mm(deep - reach + SPARE, 2), mm(SPARE)),
                "a blade with more reach",
            )
        )
    if deep > DEEPEST * blade:
        flaws.append(
            Flaw(
                "caution",
                "blade too slender",
                f"{deep / blade:.0f} blade widths deep",
                cut.feature,
                "past about 8 widths a blade wanders and breaks",
                say("{}", mm(deep, 1)),
                "a wider blade",
            )
        )
    stress, _ = blade_load(force, max(reach, deep, 1.0), blade, TALL * blade, 210_000.0)
    if stress > STRESS:
        flaws.append(
            Flaw(
                "caution",
                "blade overloaded",
                f"{tool.name} is bent hard",
                cut.feature,
                "a clamped blade with the cutting force at its end",
                say("{} at its root, {} are usual", amount("stress", float(stress)), amount("stress", STRESS)),
                "less feed, a wider blade",
            )
        )
    return flaws


def _minutes(cut: Cut, feature: PlainFeature | None, tool: PlainTool, data: Data, op: PlainOperation) -> float:
    """Plunges of a groove or of a cut off."""
    deep, repeats, count = abs(cut.before - cut.after), 1, 1
    blade = tool.blade or 3.0
    if feature is not None and op.kind == "groove":
        repeats = feature.repeats
        width = feature.end - feature.start
        count = len(plunges(width, min(blade, width), blade / 10, 0.0)[0])
    speed = data.feed * data.spindle
    if speed <= 0.0 or not math.isfinite(deep):
        return 0.0
    each = (deep + APPROACH / 2) / speed + DWELL / data.spindle + (deep + APPROACH) / RETURN + SET_PASS
    return repeats * count * each
