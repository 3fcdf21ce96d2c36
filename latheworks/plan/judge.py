"""One operation judged on the workpiece as it stands: a plain, pure function, kept by shape, setup and operation."""

from __future__ import annotations

from latheworks.plan.carry import take
from latheworks.plan.filled import eased, fill
from latheworks.plan.job import Held, Job, PlainOperation
from latheworks.plan.judge_boring import judge_boring
from latheworks.plan.judge_drill import judge_drill
from latheworks.plan.judge_groove import judge_groove
from latheworks.plan.judge_reach import reach_flaws, rest_flaws
from latheworks.plan.judge_thread import judge_thread
from latheworks.plan.judge_turning import judge_turning
from latheworks.plan.loads import spindle_flaws
from latheworks.plan.outcome import NO_DATA, Flaw, Judged
from latheworks.plan.shape import Shape
from latheworks.plan.times import BY_HAND
from latheworks.plan.tooling import ON_AXIS, SUITS, PlainTool
from latheworks.plan.wording import mm, say

JUDGES = {
    "face": judge_turning, "turn": judge_turning, "taper": judge_turning, "chamfer": judge_turning,
    "bore": judge_boring, "groove": judge_groove, "part off": judge_groove, "thread": judge_thread,
    "drill": judge_drill, "ream": judge_drill, "center drill": judge_drill,
}  # fmt: skip

EASINGS = 3  # times that data left out is made lighter, until spindle and jaws can do it


def judge(job: Job, held: Held, shape: Shape, op: PlainOperation) -> Judged:
    """What one operation does to a workpiece, what comes out and what is wrong: floats in, floats out, no state."""
    key = (shape.key(), held, op)
    found = job.cache.get(key)
    if found is None:
        found = job.cache[key] = _judged(job, held, shape, op)
    judged: Judged = found
    return judged


def _judged(job: Job, held: Held, shape: Shape, op: PlainOperation) -> Judged:
    tool = job.tool(op.tool)
    taken = take(job, held, shape, op, tool)
    taken = taken._replace(after=taken.after.tidy())
    if op.kind in BY_HAND:
        minutes = BY_HAND[op.kind] * max(len(op.features), 1)
        return Judged(taken, NO_DATA, (), (), minutes, 0.0, 0.0, 0.0, None)
    inside = any(cut.inside for cut in taken.cuts) or (not taken.cuts and op.kind in (*ON_AXIS, "bore"))
    wrong = tool_flaw(op, tool, inside)
    if wrong is not None or tool is None:
        return Judged(taken, NO_DATA, (), () if wrong is None else (wrong,), 0.0, 0.0, 0.0, 0.0, None)
    data = fill(job, held, shape, op, tool, taken.cuts)
    flaws = [*_cutting_flaws(job, op, taken.after), *reach_flaws(job, held, shape, op, tool, taken)]
    largest = float(shape.outer.max()) * 2
    flaws += [*spindle_flaws(job, held, data.spindle), *rest_flaws(held, shape, taken)]
    if largest > job.lathe.swing:
        flaws.append(
            Flaw(
                "stop",
                "does not swing",
                "the work touches the bed",
                None,
                say("it is {} across, the lathe swings {}", mm(largest, 0), mm(job.lathe.swing, 0)),
                say("{} too large", mm(largest - job.lathe.swing, 0)),
                "a larger lathe",
            )
        )
    judging = judge_boring if op.kind in ("chamfer", "taper") and tool.inside else JUDGES[op.kind]
    judged = judging(job, held, shape, op, tool, taken, data)
    for _ in range(EASINGS):
        easier = eased(job, judged)
        if easier is None:
            break
        judged = judging(job, held, shape, op, tool, taken, easier)
    return judged._replace(flaws=(*flaws, *judged.flaws))


def tool_flaw(op: PlainOperation, tool: PlainTool | None, inside: bool) -> Flaw | None:
    """A tool that is missing from the plan or the rack, or that does not do this."""
    if op.tool is None:
        return Flaw("stop", "no tool", f"{op.kind} names no tool", None, "nothing cuts without one", "",
                    "name a tool of the rack")  # fmt: skip
    if tool is None:
        return Flaw("stop", "tool missing", f"the rack has no {op.tool!r}", None, "a plan needs what is at hand", "",
                    "a tool of the rack, or put it in the rack's file")  # fmt: skip
    suits = SUITS[op.kind][inside]
    if tool.kind not in suits:
        words = " or ".join(kind.replace("_", " ") for kind in suits) or "no tool at all"
        side = "inside" if inside else "outside"
        return Flaw("stop", "wrong tool", f"{tool.name} does not {op.kind} {side}", None,
                    f"it is a {tool.kind.replace('_', ' ')}", "", f"a {words}")  # fmt: skip
    return None


def _cutting_flaws(job: Job, op: PlainOperation, after: Shape) -> list[Flaw]:
    """A material of no known force, and a wall cut through."""
    flaws = []
    if job.pair is None:
        flaws.append(
            Flaw(
                "caution",
                "no force known",
                f"no cutting force is known for {job.part.stuff.name}",
                None,
                "bending, power and grip are not worked out",
                "",
                "light cuts, measured between passes",
            )
        )
    if after.wall.size and float(after.wall.min()) < 1e-6:
        flaws.append(
            Flaw(
                "stop",
                "wall cut through",
                f"{op.kind} leaves no wall",
                None,
                "inside and outside meet",
                "",
                "another size, or another place",
            )
        )
    return flaws
