"""Holes as they are usually made: center drill, pilot, drill, from one end or from both, then bars."""

from __future__ import annotations

from typing import Any, NamedTuple

from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import Job, to_aim
from latheworks.plan.judge_drill import PILOT_FROM
from latheworks.plan.operation import Operation
from latheworks.plan.task import OTHER, Task, Way
from latheworks.plan.tooling import PlainTool
from latheworks.units import Q_, U

ALLOWANCE = 0.8  # mm on the diameter that a drill leaves for a bar at least: common practice
OVERLAP = 2.0  # mm that halves of a hole drill past the middle
THROUGH = 1.0  # mm past the far face
PILOT = (0.2, 0.4)  # of the drill's diameter: about its web, common practice


class Hole(NamedTuple):
    """A hole to drill: the features that it is drilled for, the narrowest first; those that the drill makes; the drill,
    its pilot or None; and the depths from end A and from end B [mm], one of which is 0 where it is drilled whole from
    the other; whole says that either end will do."""

    features: tuple[PlainFeature, ...]
    made: tuple[str, ...]
    drill: PlainTool
    pilot: PlainTool | None
    depths: dict[str, float]
    whole: bool


def hole_of(job: Job) -> Hole | None:
    """The hole to drill for the inside of a part; None where there is nothing inside, or no drill for it."""
    inside = sorted((to_aim(f) for f in job.features.values() if f.inside and f.kind in ("cylinder", "taper")),
                    key=lambda f: min(f.diameter, f.end_diameter))  # fmt: skip
    if not inside or float(job.part.stock.inner.max()) > 0.0:
        return None
    narrow = inside[0]
    low, high = min(f.start for f in inside), max(f.end for f in inside)
    through = low < 1e-6 and high > job.length - 1e-6
    deep = {"A": high, "B": job.length - low}
    drills = [job.kit.tool(t.name) for t in job.rack.tools if t.kind == "drill"]
    for drill in sorted((d for d in drills if d is not None), key=lambda d: -d.diameter):
        to_size = _makes(narrow, drill) and not _can_be_bored(job, narrow)
        if not to_size and drill.diameter > narrow.diameter - ALLOWANCE:
            continue
        ends = _depths(job, drill, deep, low, high, through)
        if ends is None:
            continue
        made = tuple(f.name for f in inside if to_size and _makes(f, drill))
        pilot = _pilot(job, drill, max(ends.values()))
        return Hole(tuple(inside), made, drill, pilot, ends, through and ends["A"] >= job.length)
    return None


def _makes(feature: PlainFeature, drill: PlainTool) -> bool:
    """Whether a drill leaves a feature within its limits."""
    if feature.kind != "cylinder":
        return False
    low = feature.low if feature.low is not None else feature.diameter - 0.1
    high = feature.high if feature.high is not None else feature.diameter + 0.1
    return low - 1e-6 <= drill.diameter <= high


def _can_be_bored(job: Job, feature: PlainFeature) -> bool:
    """Whether a bar of the rack reaches all of a feature from an end."""
    deep = min(job.length - feature.start, feature.end)
    bars = [job.kit.tool(t.name) for t in job.rack.tools if t.kind == "boring_bar"]
    return any(bar is not None and bar.reach >= deep and bar.smallest_bore < feature.diameter for bar in bars)


def _depths(job: Job, drill: PlainTool, deep: dict[str, float], low: float, high: float,
            through: bool) -> dict[str, float] | None:  # fmt: skip
    """How deep to drill from each end [mm]; None where the drill is too short."""
    reach = drill.reach - 0.35 * drill.diameter
    if through:
        if job.length + THROUGH <= reach:
            return {"A": job.length + THROUGH, "B": job.length + THROUGH}
        half = job.length / 2 + OVERLAP
        return {"A": half, "B": half} if half <= reach else None
    end = "A" if low < job.length - high else "B"
    return {end: deep[end], OTHER[end]: 0.0} if deep[end] <= reach else None


def _pilot(job: Job, drill: PlainTool, deep: float) -> PlainTool | None:
    """A thin drill for the web of a large one; None where none is wanted or none reaches."""
    if drill.diameter < PILOT_FROM:
        return None
    found = [job.kit.tool(t.name) for t in job.rack.tools if t.kind == "drill"]
    fits = [t for t in found if t is not None and t.reach >= deep + 0.35 * t.diameter
            and PILOT[0] * drill.diameter <= t.diameter <= PILOT[1] * drill.diameter]  # fmt: skip
    return max(fits, key=lambda t: t.diameter, default=None)


def hole_tasks(job: Job, hole: Hole, more: dict[str, Any]) -> list[Task]:
    """Center drill, pilot and drill from each end that the hole is drilled from."""
    center = next((t for t in job.rack.tools if t.kind == "center_drill"), None)
    names = tuple(f.name for f in hole.features)
    name = hole.features[0].name
    tasks = []
    ends = [end for end in ("A", "B") if hole.depths[end] > 0.0]
    steps: list[tuple[str, str, str | None]] = [("center drill", "center drill", center.name if center else None),
                                                ("pilot drill", "drill", hole.pilot.name if hole.pilot else None),
                                                ("drill", "drill", hole.drill.name)]  # fmt: skip
    steps = [step for step in steps if step[2] is not None]
    for end in ends:
        other = OTHER[end]
        closed = tuple(f"{role} end {other}" for role, _, _ in steps) if hole.whole else ()
        for role, kind, tool in steps:
            depth = None if kind == "center drill" else Q_(hole.depths[end], U.mm)
            # A drill names only what it makes to size; what is bored later it opens up in passing.
            own = (hole.made or (name,)) if role == "drill" else (name,)
            one = Operation(kind, own, tool, drill_depth=depth, **more)
            makes = hole.made if role == "drill" and (hole.whole or end == ends[-1]) else ()
            tasks.append(Task(f"{role} end {end}", role, own if role == "drill" else names, (end,),
                              (Way(one, (end,)),), closed, makes))  # fmt: skip
    return tasks
