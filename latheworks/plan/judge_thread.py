"""Single-point threads outside and inside, judged: pitch diameter as the workpiece stands, passes, load, time."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.deflection.kernel import Floats
from latheworks.deflection.thread_error import RADIAL_SHARE
from latheworks.plan.bending import FAR, as_parts, balance, beam_of, places, sag, straight
from latheworks.plan.job import Held, Job, PlainOperation
from latheworks.plan.judge_boring import bar_flaws, inside_give
from latheworks.plan.judge_thread_place import Form, thread_flaws
from latheworks.plan.judge_turning import DULL
from latheworks.plan.loads import shares
from latheworks.plan.outcome import Cut, Data, Flaw, Judged, Size, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.times import APPROACH, RETURN, SET_PASS
from latheworks.plan.tooling import PlainTool
from latheworks.plan.wording import mm, say
from latheworks.threads.forms import form
from latheworks.threads.infeed_kernel import chip_force, choose_passes, cumulative_depth

LAW, LEAST_STEP = "equal area", 0.02
LOOKED_AT = 3  # the last cutting passes; what earlier ones leave has died away by then


def form_of(job: Job, name: str) -> Form:
    """The form of a thread of the part, kept with the job."""
    key = ("form", name)
    if key not in job.cache:
        shape = form(job.whole[name].thread)
        job.cache[key] = Form(shape.depth, shape.flat(shape.depth), shape.tan, shape.pitch, shape.half_angle)
    found: Form = job.cache[key]
    return found


def schedule(job: Job, op: PlainOperation, name: str) -> Floats:
    """The depth after each cutting pass [mm], as given or as `infeed` chooses."""
    cut = form_of(job, name)
    key = ("passes", name, op.passes)
    if key not in job.cache:
        count = op.passes or choose_passes(LAW, cut.depth, cut.flat, cut.pitch, LEAST_STEP, cut.tan)
        job.cache[key] = cumulative_depth(LAW, cut.depth, max(count, 2))
    found: Floats = job.cache[key]
    return found


def judge_thread(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, taken: Taken,
                 data: Data) -> Judged:  # fmt: skip
    """One or more threads."""
    flaws: list[Flaw] = []
    sizes: list[Size] = []
    worst, minutes, cutting, torque = 0.0, 0.0, 0.0, 0.0
    depths: Floats = np.zeros(0)
    for cut in taken.cuts:
        name = cut.feature or ""
        depths = schedule(job, op, name)
        mine = form_of(job, name)
        flaws += [*_fits(job, cut, tool, mine), *thread_flaws(job, held, shape, cut, mine, data.spindle)]
        if cut.inside:
            flaws += bar_flaws(held, shape, cut, tool)
        passes = len(depths) + data.springs
        speed = job.leads[name] * data.spindle
        way = cut.end - cut.start + APPROACH
        minutes += passes * (way / speed + way / RETURN + SET_PASS) if speed > 0 else 0.0
        cutting += passes * (cut.end - cut.start) / speed if speed > 0 else 0.0
        if job.pair is None:
            continue
        kc, mc = job.pair[0] * DULL, job.pair[1]
        before = np.concatenate(([0.0], depths[:-1]))
        main = chip_force(before, depths, mine.flat, 0.0, kc, mc, mine.tan)
        torque = max(torque, float(main.max()) * max(cut.before, 0.1))
        give = _give(job, held, taken.after, cut, tool, mine.depth)
        if give is None:
            continue
        error = _error(kc, mc, mine, depths, data.springs, give) * (-1.0 if cut.inside else 1.0)
        worst = max(worst, float(np.abs(error).max()))
        sizes.append(Size(name, "pitch diameter", as_parts(error)))
    power, slow, grip, more = shares(job, held, shape, torque, 0.0, data.spindle)
    data = data._replace(passes=len(depths) or data.passes, depth=float(np.diff(depths, prepend=0.0).max(initial=0.0)))
    return Judged(taken, data, tuple(sizes), (*flaws, *more), minutes, power, slow, grip, worst or None,
                  tuple(depths.tolist()), cutting)  # fmt: skip


def _error(kc: float, mc: float, mine: Form, depths: Floats, spring: int, give: Floats) -> Floats:
    """How far the pitch line is off after the last pass [mm on the diameter]."""
    looked = depths[-LOOKED_AT:]
    start = float(depths[-LOOKED_AT - 1]) if len(depths) > LOOKED_AT else 0.0
    steps = [*np.diff(looked, prepend=start).tolist(), *([0.0] * spring)]

    def force(met: Any, taken: Any) -> tuple[Any, Any, Any]:
        groove = np.maximum(start + FAR - met, 0.0)
        main = chip_force(groove, groove + taken, mine.flat, 0.0, kc, mc, mine.tan)
        return main, np.zeros_like(main), RADIAL_SHARE * main

    return 2.0 * balance(force, steps, straight(give, len(steps)), FAR)[-1]


def _give(job: Job, held: Held, shape: Shape, cut: Cut, tool: PlainTool, depth: float) -> Floats | None:
    """What gives under the tool, the part as thin as it is at the root [mm/N]."""
    inward = depth if cut.inside else -depth
    root = shape.cut(cut.start, cut.end, cut.after + inward, cut.after + inward, cut.inside)
    if cut.inside:
        return inside_give(job, held, root, cut, tool)
    work = beam_of(job, held, root)
    return None if work is None else sag(held, work, work, places(held, cut.start, cut.end, work.length))[0]


def _fits(job: Job, cut: Cut, tool: PlainTool, mine: Form) -> list[Flaw]:
    """A tool that is not for this pitch or angle, and a surface that is not there yet."""
    flaws = []
    if not tool.least_pitch - 1e-3 <= mine.pitch <= tool.largest_pitch + 1e-3:
        flaws.append(
            Flaw(
                "stop",
                "tool not for this pitch",
                f"{tool.name} does not cut this pitch",
                cut.feature,
                say("it is for {}", mm(tool.least_pitch, to=tool.largest_pitch)),
                say("{} asked", mm(mine.pitch, 3)),
                "another tool",
            )
        )
    if abs(tool.angle - 2 * mine.half) > 0.5:
        flaws.append(
            Flaw(
                "stop",
                "tool not for this thread",
                f"{tool.name} has another angle",
                cut.feature,
                f"its point is {tool.angle:g} degrees, the thread's flanks stand {2 * mine.half:g} degrees apart",
                f"{abs(tool.angle - 2 * mine.half):g} degrees",
                "a tool of the thread's angle",
            )
        )
    return flaws
