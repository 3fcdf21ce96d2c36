"""A part, a lathe and a rack on plain floats (mm, N, MPa, min, rev): what every judgment of an operation reads."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from latheworks.drilling.asked import material_rows
from latheworks.plan.feature import Feature, PlainFeature
from latheworks.plan.operation import Operation
from latheworks.plan.part import GROUND, Part
from latheworks.plan.setup import Setup
from latheworks.plan.shape import Shape
from latheworks.plan.tooling import Kit, PlainTool
from latheworks.shop import Lathe, Rack
from latheworks.tables import table
from latheworks.units import U

_KEPT = 8
BEYOND, POINT = 1.5, 1.6643  # mm that a drill may go deeper; tangent of half of 118 degrees
SAME = 1e-6  # mm: below it two places, or two radii, are the same


class PlainLathe(NamedTuple):
    """The lathe: W at the work, rev/min, mm/min, mm, N, kg."""

    watts: float
    base: float
    slowest: float
    fastest: float
    rapid: float
    hole: float
    centers: float
    swing: float
    quill: float
    jaw_force: float
    jaw_mass: float
    jaw_radius: float


class PlainOperation(NamedTuple):
    """An operation as written, what was left out as None."""

    kind: str
    features: tuple[str, ...]
    tool: str | None
    spindle: float | None
    surface_speed: float | None
    feed: float | None
    depth: float | None
    passes: int | None
    spring_passes: int
    leave: float
    peck: float | None
    drill_depth: float | None
    method: str | None
    coolant: bool


class Held(NamedTuple):
    """A setup with the work in it: the jaws' face at `jaws` along the part, the work beyond it free.

    toward is +1 where the free end is end B and -1 where it is end A.
    """

    grips: str
    jaws: float
    stickout: float
    holding: str
    support: str
    rest: float | None
    jaw_force: float
    runout: float | None
    zero_error: float
    stop: bool
    tailstock_locked: bool
    quill_locked: bool
    tilt: float
    radial: float
    center: float

    @property
    def toward(self) -> float:
        """The direction from the jaws to the free end."""
        return 1.0 if self.grips == "A" else -1.0

    @property
    def supported(self) -> bool:
        """Whether a center carries the free end."""
        return self.support != "none" or self.holding == "between centers"

    def out(self, z: Any) -> Any:
        """How far a place lies from the jaws' face, toward the free end [mm]."""
        return (z - self.jaws) * self.toward


@dataclass(frozen=True, eq=False)
class Job:
    """What stays the same through a plan; `cache` holds judgments by shape, setup and operation."""

    part: Part
    lathe: PlainLathe
    rack: Rack
    kit: Kit
    modulus: float
    density: float
    growth: float
    heat: float
    pair: tuple[float, float] | None
    threading_speed: float
    features: dict[str, PlainFeature]
    whole: dict[str, Feature]
    leads: dict[str, float]
    finished: Shape
    spared: Shape
    cache: dict[Any, Any] = field(default_factory=dict, repr=False)

    def tool(self, name: str | None) -> PlainTool | None:
        """A tool of the rack on plain floats; None where there is none of that name."""
        return self.kit.tool(name)

    @cached_property
    def drilled(self) -> Any:
        """The material's row of the drilling table, or None."""
        return material_rows().get(self.part.stuff.name)

    @cached_property
    def length(self) -> float:
        """The part from end to end [mm]."""
        return self.finished.length


_jobs: OrderedDict[tuple[int, int, int], Job] = OrderedDict()


def job_of(part: Part, machine: Lathe, rack: Rack) -> Job:
    """The job of a part on a lathe with a rack; the last few are kept, with all that was judged of them."""
    key = (id(part), id(machine), id(rack))
    found = _jobs.get(key)
    # The kept job holds on to its part, so an id is not used again while it is kept.
    if found is not None and found.part is part and found.rack is rack:
        _jobs.move_to_end(key)
        return found
    _jobs[key] = found = _made(part, machine, rack)
    while len(_jobs) > _KEPT:
        _jobs.popitem(last=False)
    return found


def forget() -> None:
    """Drop all that was kept: the next review begins cold."""
    _jobs.clear()


def _made(part: Part, machine: Lathe, rack: Rack) -> Job:
    stuff = part.stuff
    pair = None
    if stuff.specific_cutting_force is not None and stuff.chip_thickness_exponent is not None:
        pair = float(stuff.specific_cutting_force.m_as(U.MPa)), stuff.chip_thickness_exponent
    heat = next((float(r["specific heat [J/(kg*K)]"]) for r in table("specific_heat") if r["name"] == stuff.name), 0.0)
    features = {each.name: each.plain for each in part.features}
    leads = {e.name: float(e.thread.lead.m_as(U.mm)) for e in part.features if e.thread is not None}
    done = aimed(part)
    return Job(
        part=part, lathe=_lathe(machine), rack=rack, kit=Kit(rack), modulus=float(stuff.elastic_modulus.m_as(U.MPa)),
        density=float(stuff.density.m_as("kg/mm**3")), growth=float(stuff.thermal_expansion.m_as("1/K")), heat=heat,
        pair=pair, threading_speed=float(stuff.threading_speed.m_as(U.m_per_min)), features=features,
        whole={each.name: each for each in part.features}, leads=leads, finished=done,
        spared=with_points(done),
    )  # fmt: skip


def _lathe(lathe: Lathe) -> PlainLathe:
    watts = lathe.power.m_as("W") * lathe.drive_efficiency.m_as(U.one)
    return PlainLathe(
        float(watts), lathe.base_spindle.m_as(U.rpm), lathe.slowest_spindle.m_as(U.rpm),
        lathe.fastest_spindle.m_as(U.rpm), lathe.largest_feed.m_as(U.mm_per_min), lathe.through_hole.m_as(U.mm),
        lathe.center_distance.m_as(U.mm), lathe.swing.m_as(U.mm), lathe.quill_travel.m_as(U.mm),
        lathe.jaw_force.m_as(U.N), lathe.jaw_mass.m_as("kg"), lathe.jaw_radius.m_as(U.mm),
    )  # fmt: skip


def to_aim(feature: PlainFeature) -> PlainFeature:
    """A feature with its diameter where a plan aims at; of a thread its crest, for the limits are the pitch line's."""
    if feature.kind in ("thread", "taper", "chamfer", "face"):
        return feature
    return feature._replace(diameter=feature.aim, end_diameter=feature.aim)


def aimed(part: Part) -> Shape:
    """The part with every size in the middle of its limits."""
    plain = [to_aim(each.plain) for each in part.features]
    ground = [f for f in plain if f.kind in GROUND]
    widest = max(max(f.diameter, f.end_diameter) for f in ground if not f.inside) / 2
    shape = Shape.bar(part.shape.start, part.shape.end, widest, 0.0)
    rest = [f for f in plain if f.kind in ("groove", "chamfer")]
    for one in [*ground, *rest]:
        shape = shape.with_feature(one)
    return shape


def with_points(part: Shape) -> Shape:
    """The part with what a drill may take besides: its point, and a little more, beyond the bottom of a blind hole."""
    shape = part
    for k in range(len(part.inner) - 1):
        left, right = float(part.inner[k, 1]), float(part.inner[k + 1, 0])
        size, place = max(left, right), float(part.z[k + 1])
        if min(left, right) > SAME or size <= SAME:
            continue
        shape = _pointed(shape, place, size, left > right)
    return shape


def _pointed(shape: Shape, place: float, size: float, onward: bool) -> Shape:
    """A hole of a radius carried on beyond a place by a little and a point."""
    sign = 1.0 if onward else -1.0
    middle, end = place + sign * BEYOND, place + sign * (BEYOND + size / POINT)
    shape = shape.cut(min(place, middle), max(place, middle), size, size, True)
    return shape.cut(min(middle, end), max(middle, end), *((size, 0.0) if onward else (0.0, size)), True)


def _mm(value: Any, unit: Any = U.mm) -> float | None:
    return None if value is None else float(value.m_as(unit))


def plain_operation(one: Operation) -> PlainOperation:
    """An operation on plain floats."""
    return PlainOperation(
        one.kind, one.features, one.tool, _mm(one.spindle, U.rpm), _mm(one.surface_speed, U.m_per_min),
        _mm(one.feed, U.mm_per_rev), _mm(one.depth), one.passes, one.spring_passes, _mm(one.leave) or 0.0,
        _mm(one.peck), _mm(one.drill_depth), one.method, bool(one.coolant),
    )  # fmt: skip


def hold(job: Job, setup: Setup, shape: Shape) -> Held:
    """A setup with the work put in as it stands."""
    out = float(setup.stickout.m_as(U.mm))
    between = setup.holding == "between centers"
    if setup.grips == "A":
        jaws = shape.start if between else shape.end - out
    else:
        jaws = shape.end if between else shape.start + out
    force = _mm(setup.jaw_force, U.N)
    springs = [_mm(getattr(setup, name), unit) for name, unit in
               (("tilt", U.Nmm_per_rad), ("radial", U.N_per_mm), ("center", U.N_per_mm))]  # fmt: skip
    usual = usual_springs()
    return Held(
        setup.grips, jaws, shape.length if between else out, setup.holding, setup.support, _mm(setup.rest),
        job.lathe.jaw_force if force is None else force, _mm(setup.runout), _zero(setup), setup.stop,
        setup.tailstock_locked, setup.quill_locked,
        *(chosen if given is None else given for given, chosen in zip(springs, usual, strict=True)),
    )  # fmt: skip


def _zero(setup: Setup) -> float:
    found = _mm(setup.zero_error)
    return 0.05 if found is None else found


def usual_springs() -> tuple[float, float, float]:
    """Tilt of a chuck, its radial stiffness, and that of a tail center: the stated teaching defaults."""
    if not _springs:
        rows = {row["name"]: row for row in table("stiffness")}
        _springs.append((float(rows["chuck"]["tilt [N*mm/rad]"]), float(rows["chuck"]["radial [N/mm]"]),
                         float(rows["tail center"]["radial [N/mm]"])))  # fmt: skip
    return _springs[0]


_springs: list[tuple[float, float, float]] = []


def radii(shape: Shape, start: float, end: float, inside: bool) -> tuple[float, float]:
    """The smallest and the largest radius of the surface between two places [mm]."""
    keep = (shape.z[1:] > start + 1e-9) & (shape.z[:-1] < end - 1e-9)
    side = shape.inner if inside else shape.outer
    if not keep.any():
        return 0.0, 0.0
    return float(np.min(side[keep])), float(np.max(side[keep]))
