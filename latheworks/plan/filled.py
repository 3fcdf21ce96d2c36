"""Cutting data that a plan leaves out, from the tables: speeds, feeds, depths and passes."""

from __future__ import annotations

import math
from functools import cache

from latheworks.drilling.feeds import plain_feed
from latheworks.drilling.pecking import FIRST, ONE_STEP
from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import Held, Job, PlainOperation
from latheworks.plan.outcome import Cut, Data, Judged
from latheworks.plan.shape import Shape
from latheworks.plan.tooling import ON_AXIS, PlainTool
from latheworks.tables import table

FEET, INCH = 0.3048, 25.4
# Common practice, no source: a rough pass on a light lathe, a bar's, a last pass, and shares of the turning speed.
ROUGH_DEPTH, BAR_DEPTH, FINISH_DEPTH = 1.0, 0.5, 0.4
SHARE = {"groove": 0.5, "part off": 0.4, "chamfer": 0.7, "bore": 0.8, "taper": 1.0, "face": 1.0, "turn": 1.0}
REAM_SPEED, REAM_FEED = 0.5, 2.0  # of a drill's: common practice
ROUND = 10.0  # rev/min: a spindle is set to tens
IDEAL = 32.0  # Ra = f^2 / (32 r)
REAL = 2.0  # how many times the ideal Ra comes out: Groover, from memory
THREAD_CAP = 500.0  # rev/min, as in `infeed`
SPARE_POWER, SPARE_GRIP = 0.9, 0.95  # of what there is, that data left out may use
LEAST_SHARE = 0.25  # of a printed feed: below it a tool rubs
FALLS = 1.0 / 0.7  # no force falls slower with the feed than f^0.7


@cache
def turning_speed(material: str, edge: str) -> float | None:
    """The surface speed [m/min] of the tables: the middle for high-speed steel, the low end for carbide, since a light
    lathe has no more."""
    carbide = edge != "high-speed steel"
    for row in table("turning_speeds"):
        if row["material"] == material and (row["edge"] == "carbide") == carbide:
            low, high = (float(row[f"{end} speed [ft/min]"]) * FEET for end in ("low", "high"))
            return low if carbide else (low + high) / 2
    return None


@cache
def turning_feed(cut: str, edge: str) -> tuple[float, float]:
    """Low and high feed [mm/rev] of a "rough", "finish" or "part" cut."""
    kind = "high-speed steel" if edge == "high-speed steel" else "carbide"
    row = next(r for r in table("turning_feeds") if r["cut"] == cut and r["edge"] == kind)
    return float(row["low feed [in/rev]"]) * INCH, float(row["high feed [in/rev]"]) * INCH


def fill(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, cuts: tuple[Cut, ...]) -> Data:
    """The cutting data of one operation, what was written first, and what was left out."""
    filled = []
    features = [job.features[name] for name in op.features if name in job.features]
    finishing = op.leave <= 0.0 and op.kind not in ON_AXIS
    depth_all = max((cut.end - cut.start if op.kind == "face" else cut.depth for cut in cuts), default=0.0)
    feed = op.feed
    if feed is None:
        feed = _feed(job, op, tool, features, finishing, depth_all)
        filled.append("feed")
    largest = _largest(shape, op, tool, cuts)
    spindle = op.spindle
    if spindle is None:
        wanted = op.surface_speed
        if wanted is None:
            wanted = _speed(job, op, tool, depth_all)
            filled.append("surface_speed")
        exact = 1000.0 * wanted / (math.pi * largest)
        top = job.lathe.fastest
        if op.kind == "thread":
            top = min(top, THREAD_CAP, job.lathe.rapid / max(feed, 1e-9))
        # Down to tens, and never above what the lathe has: a speed that was left out asks for no more than there is.
        spindle = max(min(math.floor(exact / ROUND) * ROUND, top), job.lathe.slowest)
        filled.append("spindle")
    depth, passes = _passes(op, tool, depth_all, filled)
    return Data(spindle, math.pi * largest * spindle / 1000.0, feed, depth, passes, op.spring_passes, _peck(op, tool),
                tuple(filled), finishing)  # fmt: skip


def _largest(shape: Shape, op: PlainOperation, tool: PlainTool, cuts: tuple[Cut, ...]) -> float:
    """The largest diameter at which an edge cuts [mm]."""
    if op.kind in ON_AXIS:
        return max(tool.diameter, 0.1)
    sizes = [2 * max(cut.before, cut.after) for cut in cuts] or [2 * float(shape.outer.max())]
    return max(*sizes, 0.1)


def _speed(job: Job, op: PlainOperation, tool: PlainTool, deep: float) -> float:
    """The surface speed of the tables [m/min]."""
    name = job.part.stuff.name
    if op.kind == "thread":
        return job.threading_speed
    if op.kind in ON_AXIS and job.drilled is not None:
        speed = plain_feed(job.drilled, tool.diameter, _hole(op, deep))[1]
        return speed * (REAM_SPEED if op.kind == "ream" else 1.0)
    usual = turning_speed(name, tool.edge)
    return (30.0 if usual is None else usual) * SHARE.get(op.kind, 1.0)


def _hole(op: PlainOperation, deep: float) -> float | None:
    return op.drill_depth if op.drill_depth is not None else None


def _feed(job: Job, op: PlainOperation, tool: PlainTool, features: list[PlainFeature], finishing: bool,
          deep: float) -> float:  # fmt: skip
    """The feed of the tables [mm/rev]; a finishing one as the roughness asks."""
    if op.kind == "thread":
        return next((job.leads.get(f.name, f.pitch) for f in features if f.pitch), 1.0)
    if op.kind in ON_AXIS:
        feed = 0.1 if job.drilled is None else plain_feed(job.drilled, max(tool.diameter, 0.3), _hole(op, deep))[0]
        return feed * (REAM_FEED if op.kind == "ream" else 1.0)
    if op.kind in ("groove", "part off"):
        return turning_feed("part", tool.edge)[0]
    low, high = turning_feed("finish" if finishing else "rough", tool.edge)
    if finishing and tool.nose > 0:
        asked = min((f.finish for f in features if f.finish is not None), default=None)
        if asked is not None:
            high = min(high, math.sqrt(IDEAL * asked / REAL / 1000.0 * tool.nose))
        return max(min((low + high) / 2, high), 0.03)
    return low  # of the range: this is a light lathe


def _passes(op: PlainOperation, tool: PlainTool, deep: float, filled: list[str]) -> tuple[float, int]:
    """The deepest pass on the radius [mm] and how many there are, all alike."""
    if op.kind in ("groove", "part off", *ON_AXIS, "thread"):
        return deep, 1
    if deep <= 0.0:
        return 0.0, 1
    if op.passes is not None:
        return deep / op.passes, op.passes
    filled.append("passes")
    most = op.depth
    if most is None:
        filled.append("depth")
        most = BAR_DEPTH if tool.inside else ROUGH_DEPTH
        if op.kind == "chamfer":
            most = deep
    count = max(math.ceil(deep / most - 1e-9), 1)
    return deep / count, count


def _peck(op: PlainOperation, tool: PlainTool) -> float:
    """The first peck [mm]; 0 where there is none."""
    if op.kind != "drill":
        return 0.0
    if op.peck is not None:
        return op.peck
    deep = op.drill_depth or 0.0
    return FIRST * tool.diameter if deep > ONE_STEP * tool.diameter else 0.0


def surface(feed: float, nose: float) -> float | None:
    """The ideal Ra [um], f^2/(32 r); None for a sharp corner."""
    return 1000.0 * feed**2 / (IDEAL * nose) if nose > 0 else None


def eased(job: Job, judged: Judged) -> Data | None:
    """Lighter data where spindle or jaws cannot do what the tables say; None where they can, or all was given."""
    data = judged.data
    over = max(judged.power / SPARE_POWER, judged.torque / SPARE_POWER, judged.grip / SPARE_GRIP)
    if over <= 1.0:
        return None
    # Above its base speed a spindle has more torque the slower it turns, and jaws hold better.
    if "spindle" in data.filled and data.spindle > job.lathe.base and judged.torque <= SPARE_POWER:
        slower = max(math.floor(data.spindle / max(judged.power / SPARE_POWER, 1.05) / ROUND) * ROUND, job.lathe.base)
        if judged.power > SPARE_POWER:
            return data._replace(spindle=slower, speed=data.speed * slower / data.spindle)
    if "feed" in data.filled and "eased" not in data.filled:
        share = max(over**-FALLS, LEAST_SHARE)
        return data._replace(feed=data.feed * share, filled=(*data.filled, "eased"))
    return None
