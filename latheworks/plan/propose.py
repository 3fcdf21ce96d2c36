"""The operations that make each feature of a part with the tools of a rack, and where the work can be held for them."""

from __future__ import annotations

from typing import Any

from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import Job, radii, to_aim
from latheworks.plan.judge_thread import form_of
from latheworks.plan.operation import Operation
from latheworks.plan.part import GROUND
from latheworks.plan.precedence import last, role_of
from latheworks.plan.propose_holes import Hole, hole_of, hole_tasks
from latheworks.plan.setup import Setup
from latheworks.plan.shape import Shape
from latheworks.plan.task import GAP, LEAST_HELD, OTHER, USUAL_GAP, Place, Task, Way, ends_of, entering, way_in
from latheworks.plan.tooling import PlainTool
from latheworks.tables import table
from latheworks.units import Q_, U

LEAVE, BAR_LEAVE = 0.3, 0.2  # mm on the radius for the last cut of a tool and of a bar: common practice
ROUGH_FROM = 0.5  # mm on the radius: more than this takes a rough cut first
SLENDER = 3.0  # diameters from where a center is looked at
CENTER_SIZE = 10.0  # mm: a larger mouth takes a cone


def tasks_of(job: Job) -> list[Task]:
    """Everything there is to do to a part."""
    hole = hole_of(job)
    more = {"coolant": True} if _wet(job) else {}
    found: list[Task] = []
    for feature in job.features.values():
        if feature.kind == "face":
            found += _face(job, feature, more)
    if hole is not None:
        found += hole_tasks(job, hole, more)
    for feature in (to_aim(each) for each in job.features.values()):
        if feature.kind in ("cylinder", "taper"):
            found += _bored(job, feature, hole, more) if feature.inside else _turned(job, feature, more)
        elif feature.kind != "face":
            found += _lying(job, feature, more)
    return found


def _wet(job: Job) -> bool:
    """Whether this material is usually turned with a fluid."""
    rows = [
        r for r in table("coolant") if job.part.stuff.name in r["material"].split(";") and r["operation"] == "turning"
    ]
    return any(row["fluid"] != "dry" for row in rows)


def _tools(job: Job, kind: str) -> list[PlainTool]:
    found = [job.kit.tool(tool.name) for tool in job.rack.tools if tool.kind == kind]
    return [tool for tool in found if tool is not None]


def _turning(job: Job) -> tuple[PlainTool | None, PlainTool | None]:
    """A tool for rough and one for last cuts: the roundest and the finest nose of those that leave square shoulders."""
    square = [t for t in _tools(job, "turning_tool") if t.hand == "right" and t.entering >= 90.0 and t.insert != "R"]
    if not square:
        return None, None
    return max(square, key=lambda t: t.nose), min(square, key=lambda t: (t.nose, t.entering))


def _face(job: Job, feature: PlainFeature, more: dict[str, Any]) -> list[Task]:
    rough, _ = _turning(job)
    end = "A" if feature.start < job.length / 2 else "B"
    if rough is None:
        return []
    one = Operation("face", (feature.name,), rough.name, **more)
    return [Task(f"face {feature.name}", "face", (feature.name,), (end,), (Way(one, (end,)),), (), (feature.name,))]


def _pair(kind: str, feature: PlainFeature, ends: tuple[str, ...], tools: tuple[PlainTool, PlainTool], leave: float,
          roughs: bool, more: dict[str, Any], suffix: str = "", makes: bool = True) -> list[Task]:  # fmt: skip
    """A rough cut and a last one, the last with and without a spring pass."""
    names, title = (feature.name,), f"{feature.name}{suffix}"
    found = []
    if roughs:
        one = Operation(kind, names, tools[0].name, leave=Q_(leave, U.mm), **more)
        found.append(Task(f"rough {kind} {title}", role_of(kind, feature.inside, True), names, ends,
                          (Way(one, ends),)))  # fmt: skip
    springs = (0, 1) if feature.low is not None or feature.high is not None else (0,)
    ways = tuple(Way(Operation(kind, names, tools[1].name, spring_passes=k, **more), ends) for k in springs)
    found.append(Task(f"{kind} {title}", role_of(kind, feature.inside, False), names, ends, ways, (),
                      names if makes else ()))  # fmt: skip
    return found


def _turned(job: Job, feature: PlainFeature, more: dict[str, Any]) -> list[Task]:
    """An outside cylinder or taper."""
    rough, fine = _turning(job)
    if rough is None or fine is None:
        return []
    kind = "turn" if feature.kind == "cylinder" else "taper"
    deep = float(job.part.stock.outer.max()) - min(feature.diameter, feature.end_diameter) / 2
    ends = ends_of(job, feature)
    if ends:
        return _pair(kind, feature, ends, (rough, fine), LEAVE, deep > ROUGH_FROM, more)
    return [task for end in ("A", "B") for task in
            _pair(kind, feature, (end,), (rough, fine), LEAVE, deep > ROUGH_FROM, more, f", at end {end}", end == "B")
            ]  # fmt: skip


def _bored(job: Job, feature: PlainFeature, hole: Hole | None, more: dict[str, Any]) -> list[Task]:
    """An inside cylinder or taper that no drill makes."""
    if hole is not None and feature.name in hole.made:
        return []
    kind = "bore" if feature.kind == "cylinder" else "taper"
    there = 2.0 * float(job.part.stock.inner.max()) if hole is None else hole.drill.diameter
    if there <= 0.0:
        return []
    by_end = {end: entering(_tools(job, "boring_bar"), *way_in(job, feature, end, there)) for end in ("A", "B")}
    ends = tuple(end for end, tool in by_end.items() if tool is not None)
    deep = (max(feature.diameter, feature.end_diameter) - there) / 2
    found = [_pair(kind, feature, (end,), (tool, tool), BAR_LEAVE, deep > ROUGH_FROM, more)
             for end, tool in by_end.items() if tool is not None]  # fmt: skip
    if not found:
        return []
    return [each[0]._replace(ends=ends, ways=tuple(way for one in each for way in one.ways))
            for each in zip(*found, strict=True)]  # fmt: skip


def _lying(job: Job, feature: PlainFeature, more: dict[str, Any]) -> list[Task]:
    """A groove, a chamfer or a thread, outside or inside."""
    kinds = {"groove": "grooving_tool", "chamfer": "chamfer_tool", "thread": "threading_tool"}
    tools = _tools(job, f"inside_{kinds[feature.kind]}" if feature.inside else kinds[feature.kind])
    tools = [tool for tool in tools if _suits(job, feature, tool)]
    if feature.kind == "groove":
        tools = sorted(tools, key=lambda t: -t.blade)
    ways: list[Way] = []
    ends = ("A", "B") if feature.inside else ends_of(job, feature)
    for end in ends:
        fits = tools
        if feature.inside:
            deep, narrow = way_in(job, feature, end, 0.0)
            fits = [t for t in tools if t.smallest_bore <= narrow + 1e-6 and t.reach >= deep - 1e-6]
            if feature.kind != "groove":
                fits = sorted(fits, key=lambda t: -t.diameter)
        if fits:
            springs = (1, 2) if feature.kind == "thread" else (0,)
            ways += [Way(Operation(feature.kind, (feature.name,), fits[0].name, spring_passes=k, **more), (end,))
                     for k in springs]  # fmt: skip
    if not ways:
        return []
    names = (feature.name,)
    return [Task(f"{feature.kind} {feature.name}", role_of(feature.kind, feature.inside, False), names,
                 tuple(dict.fromkeys(end for way in ways for end in way.ends)), tuple(ways), (), names)]  # fmt: skip


def _suits(job: Job, feature: PlainFeature, tool: PlainTool) -> bool:
    """Whether a blade goes into a groove, or a tool is for a pitch."""
    if feature.kind == "thread":
        form = form_of(job, feature.name)
        right = abs(tool.angle - 2 * form.half) < 0.5
        return right and tool.least_pitch - 1e-3 <= form.pitch <= tool.largest_pitch + 1e-3
    if feature.kind != "groove":
        return True
    round_floor = feature.floor_radius > 0.0 and tool.nose > feature.floor_radius + 1e-6
    lies_on = [f for f in map(to_aim, job.features.values()) if f.kind in GROUND and f.inside == feature.inside
               and f.start < last(feature) and f.end > feature.start]  # fmt: skip
    sizes = [size for f in lies_on for size in (f.diameter, f.end_diameter)]
    deep = max((abs(size - feature.diameter) / 2 for size in sizes), default=0.0)
    reach = tool.tip if feature.inside else tool.reach
    return tool.blade <= feature.end - feature.start + 1e-6 and not round_floor and (reach <= 0 or deep <= reach - 0.2)


def places_of(job: Job, tasks: list[Task]) -> list[Place]:
    """Where the work can be held: for each end, out so far that all its outside work is free, and out as little as
    leaves free the nearest of it; each with and, where it is slender, also without support."""
    found: list[Place] = []
    for end in ("B", "A"):
        mine = [task for task in tasks if end in task.ends]
        if not mine:
            continue
        for jaws in _jaws(job, mine, end):
            out = job.length - jaws if end == "B" else jaws
            found.append(Place(OTHER[end], jaws, False))
            if out > SLENDER * 2.0 * float(job.finished.outer.max()):
                found.append(Place(OTHER[end], jaws, True))
    return found


def _jaws(job: Job, tasks: list[Task], end: str) -> list[float]:
    """Where the jaws' face may come along the part for the outside work at a free end [mm], the shortest first."""
    outside = [job.features[name] for task in tasks for name in task.features
               if not job.features[name].inside and job.features[name].kind not in ("face", "chamfer")]  # fmt: skip
    wanted = []
    for f in outside:
        gap = GAP.get(f.kind, USUAL_GAP)
        wanted.append(f.start - gap if end == "B" else last(f) + gap)
    length = job.length
    least = LEAST_HELD if end == "B" else length - LEAST_HELD
    # A feature that takes half from each end: out a little farther than its middle, so that the halves meet.
    half = length / 2 - USUAL_GAP if end == "B" else length / 2 + USUAL_GAP
    wanted = [w if LEAST_HELD <= w <= length - LEAST_HELD else half for w in wanted]
    wanted = wanted or [length - 15.0 if end == "B" else 15.0]
    wanted = [max(w, least) if end == "B" else min(w, least) for w in wanted]
    nearest, farthest = (max(wanted), min(wanted)) if end == "B" else (min(wanted), max(wanted))
    return [nearest] if abs(nearest - farthest) < 1.0 else [nearest, farthest]


def openings(job: Job, place: Place, shape: Shape, number: int) -> list[Setup]:
    """The setups, without operations yet, in which a workpiece as it stands is held in a place."""
    if place.written is not None:
        return [place.written]
    out = shape.end - place.jaws if place.grips == "A" else place.jaws - shape.start
    if out <= 0.0:
        return []
    support = "none"
    if place.supported:
        end = shape.inner[-1, 1] if place.grips == "A" else shape.inner[0, 0]
        if end <= 0.0:
            return []
        support = "center" if 2.0 * end <= CENTER_SIZE else "cone center"
    low, high = (shape.start, place.jaws) if place.grips == "A" else (place.jaws, shape.end)
    if high - low < 1.0:
        return []
    raw = radii(shape, low, high, False)[1] >= float(job.part.stock.outer.max()) - 1e-6
    holdings = ("three-jaw chuck",) if raw else ("soft jaws", "three-jaw chuck")
    return [Setup(f"setup {number}: end {place.free}", place.grips, Q_(round(out, 3), U.mm), holding, support,
                  stop=True, tailstock_locked=True, quill_locked=True) for holding in holdings]  # fmt: skip
