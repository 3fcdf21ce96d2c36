"""What there is to do to a part, and where it can be held for it: the pieces that an order is put together from."""

from __future__ import annotations

from typing import NamedTuple

from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import Job
from latheworks.plan.operation import Operation
from latheworks.plan.precedence import last
from latheworks.plan.setup import Setup
from latheworks.plan.tooling import PlainTool

OTHER = {"A": "B", "B": "A"}
LEAST_HELD = 8.0  # mm in the jaws, for work that leaves no more; else
USUAL_HELD = 0.8  # diameters, common practice
GAP = {"thread": 6.5, "groove": 4.0}  # mm between jaws and what is cut; a threading tool's body stands 6 mm before it
USUAL_GAP = 4.0


class Way(NamedTuple):
    """One way to do a task: the operation, and the free ends at which it is done so."""

    operation: Operation
    ends: tuple[str, ...]


class Task(NamedTuple):
    """Something to do once: its title and role, its features, the free ends it may be done at, and the ways; closes,
    the titles of tasks that are not needed once this is begun; makes, the features that are whole when it is done."""

    title: str
    role: str
    features: tuple[str, ...]
    ends: tuple[str, ...]
    ways: tuple[Way, ...]
    closes: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()


class Place(NamedTuple):
    """Somewhere to hold the work: the end gripped, where the jaws' face comes along the part [mm], whether the free end
    is supported; or a setup as it is written."""

    grips: str
    jaws: float
    supported: bool
    written: Setup | None = None

    @property
    def free(self) -> str:
        """The free end."""
        return OTHER[self.grips]


def ends_of(job: Job, feature: PlainFeature) -> tuple[str, ...]:
    """The free ends at which an outside feature can be cut whole, with enough left in the jaws; none where it takes
    half from each end."""
    for least in (USUAL_HELD, 0.0):
        found = tuple(end for end in ("A", "B") if held_for(job, feature, end) >= max(
            LEAST_HELD, least * 2.0 * float(job.finished.outer.max())))  # fmt: skip
        if found:
            return found
    return ()


def held_for(job: Job, feature: PlainFeature, end: str) -> float:
    """What is left for the jaws where a feature is cut whole at this free end [mm]."""
    gap = GAP.get(feature.kind, USUAL_GAP)
    return feature.start - gap if end == "B" else job.length - last(feature) - gap


def way_in(job: Job, feature: PlainFeature, end: str, drilled: float) -> tuple[float, float]:
    """How deep behind the free end an inside feature ends, and the narrowest bore up to there [mm], of the part or,
    where that is smaller, of the hole drilled for it."""
    deep = job.length - feature.start if end == "B" else last(feature)
    part = job.finished
    low, high = (feature.start, part.end) if end == "B" else (part.start, last(feature))
    bore = part.smallest_bore(low, high)
    return deep, min(bore, drilled) if drilled > 0.0 else bore


def entering(tools: list[PlainTool], deep: float, narrow: float) -> PlainTool | None:
    """The thickest tool that enters a bore and reaches its end; None where none does."""
    fits = [tool for tool in tools if tool.smallest_bore <= narrow + 1e-6 and tool.reach >= deep - 1e-6]
    return max(fits, key=lambda tool: (tool.diameter, -tool.reach), default=None)
