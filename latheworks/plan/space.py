"""The space that orders are searched in: tasks, places, what comes before what, and the least that remains."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from latheworks.door import nearest
from latheworks.errors import Impossible, NotInTable
from latheworks.plan import times
from latheworks.plan.carry import MAKES
from latheworks.plan.carry_ends import JAW_GAP
from latheworks.plan.filled import fill
from latheworks.plan.job import Held, Job, PlainOperation, plain_operation, to_aim
from latheworks.plan.outcome import Cut
from latheworks.plan.plan import Plan
from latheworks.plan.precedence import Node, cycle, edges, last, masks, named, role_of
from latheworks.plan.propose import places_of, tasks_of
from latheworks.plan.task import OTHER, Place, Task, Way
from latheworks.plan.tooling import BY_HAND, ON_AXIS

PILOT_SHARE = 0.75  # of the size it is drilled for: a thinner drill is a pilot
FREE_END = ("face", *ON_AXIS)


class Choice(NamedTuple):
    """A way of a task on plain floats: its operation and the free ends."""

    op: PlainOperation
    ends: tuple[str, ...]


@dataclass(eq=False)
class Space:
    """Tasks and places of a job, with what has to come before what; `before` are pairs of titles that a person asks
    for beside the table."""

    job: Job
    tasks: list[Task]
    places: list[Place]
    before: tuple[tuple[str, str], ...] = ()
    most_setups: int | None = None
    choices: list[list[Choice]] = field(init=False)
    needs: list[dict[str, int]] = field(init=False)
    closes: list[int] = field(init=False)
    cover: list[int] = field(init=False)
    halved: list[bool] = field(init=False)
    _fewest: dict[int, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        tasks, names = self.tasks, [task.title for task in self.tasks]
        self.choices = [[Choice(plain_operation(way.operation), way.ends) for way in task.ways] for task in tasks]
        found = edges([Node(t.role, t.features, t.ends) for t in tasks], self.job.features)
        self.needs = masks(len(tasks), found)
        pairs = [(edge.before, edge.after) for edge in found]
        for one, other in self.before:
            missing = next((name for name in (one, other) if name not in names), None)
            if missing is not None:
                near = nearest(missing, names) or next(iter(names), "")
                raise NotInTable(f"orders: before: got {missing!r:.60}, expected the title of something to do. Try "
                                 f"{near!r}; there are: {', '.join(names)}."[:900])  # fmt: skip
            i, k = names.index(one), names.index(other)
            pairs.append((i, k))
            for end in ("A", "B"):
                self.needs[k][end] |= 1 << i
        ring = cycle(len(tasks), pairs)
        if ring is not None:
            raise Impossible(f"orders: the order has a ring: {named(ring, names)}. Try to leave one of them out.")
        self.halved = [self._halves(task) for task in tasks]
        self.closes = [sum(1 << i for i, name in enumerate(names) if name in task.closes) for task in tasks]
        self.cover = [sum(1 << i for i, _ in enumerate(tasks) if self._can(place, i)) for place in self.places]
        if self.most_setups is None:
            self.most_setups = self.fewest(self.full) + 1

    @cached_property
    def full(self) -> int:
        """The bits of all tasks."""
        return (1 << len(self.tasks)) - 1

    def _can(self, place: Place, i: int) -> bool:
        """Whether a task can be done in a place, by where its features lie."""
        task = self.tasks[i]
        if place.free not in task.ends:
            return False
        if task.role in ("face", "center drill", "pilot drill", "drill", "ream"):
            return not place.supported
        if place.written is not None:
            return True  # where its jaws come along the part depends on the work as it stands
        gap = JAW_GAP - 1e-6
        for name in task.features:
            f = self.job.features[name]
            if f.inside:
                if place.supported:
                    return False
                continue
            room = f.start - place.jaws if place.grips == "A" else place.jaws - last(f)
            if room < gap and (f.kind != "cylinder" or not self.halved[i]):
                return False
        return True

    def _halves(self, task: Task) -> bool:
        """Whether a feature is cut half from each end."""
        return sum(t.role == task.role and t.features == task.features for t in self.tasks) > 1

    def fewest(self, remaining: int) -> int:
        """The least number of setups that what remains takes, if nothing else stood in the way; 99 where none does."""
        if remaining == 0:
            return 0
        if remaining not in self._fewest:
            self._fewest[remaining] = 99
            first = remaining & -remaining
            best = 98
            for cover in dict.fromkeys(self.cover):
                if cover & first:
                    best = min(best, self.fewest(remaining & ~cover))
            self._fewest[remaining] = min(best + 1, 99)
        return self._fewest[remaining]

    @cached_property
    def least(self) -> list[float]:
        """The least minutes that each task can take: fed once along its features at the speed of their finished
        size, with no more than its own spring passes."""
        return [min(self._least(choice) for choice in each) for each in self.choices]

    def _least(self, choice: Choice) -> float:
        op, job = choice.op, self.job
        tool = job.tool(op.tool)
        wanted = [to_aim(job.features[name]) for name in op.features if name in job.features]
        if op.kind in BY_HAND:
            return times.BY_HAND[op.kind] * max(len(op.features), 1)
        if tool is None or not wanted or op.kind in ("face", "groove", "part off", "center drill"):
            return 0.0
        # The spindle turns the faster the smaller it is cut, and a rough bore is smaller than the bore.
        sizes = [(f, f.diameter / 2 - (op.leave if f.inside else 0.0)) for f in wanted
                 if op.kind in ON_AXIS or f.kind in MAKES[op.kind]]  # fmt: skip
        cuts = tuple(Cut(f.name, f.start, f.end, radius, radius, f.inside) for f, radius in sizes)
        data = fill(job, _NOWHERE, job.finished, op, tool, cuts)
        speed = data.feed * data.spindle
        if speed <= 0.0:
            return 0.0
        if op.kind in ON_AXIS:
            return (op.drill_depth or 0.0) / speed
        if op.kind == "thread":
            return 0.0
        # Half of an outside may be cut in another setup.
        share = 0.0 if any(f.kind == "cylinder" and not f.inside for f in wanted) and self._split(op) else 1.0
        return share * sum(times.cut_minutes(c.end - c.start, data, 1 + data.springs) for c in cuts)

    def _split(self, op: PlainOperation) -> bool:
        return sum(any(c.op.kind == op.kind and c.op.features == op.features and (c.op.leave > 0) == (op.leave > 0)
                       for c in each) for each in self.choices) > 1  # fmt: skip

    @cached_property
    def only_tool(self) -> list[str | None]:
        """The tool that a task takes, where all its ways take the same."""
        found = []
        for each in self.choices:
            names = {choice.op.tool for choice in each}
            found.append(names.pop() if len(names) == 1 else None)
        return found


_NOWHERE = Held("A", 0.0, 0.0, "three-jaw chuck", "none", None, 1.0, None, 0.0, True, True, True, 1.0, 1.0, 1.0)


def space_of_part(job: Job, before: tuple[tuple[str, str], ...] = (), most_setups: int | None = None) -> Space:
    """The space of all that is proposed for a part."""
    tasks = tasks_of(job)
    return Space(job, tasks, places_of(job, tasks), before, most_setups)


def space_of_plan(job: Job, plan: Plan, before: tuple[tuple[str, str], ...] = (),
                  most_setups: int | None = None) -> Space:  # fmt: skip
    """The space of a plan's own setups and operations, each operation at the end where the plan does it."""
    tasks: list[Task] = []
    places: list[Place] = []
    for setup in plan.setups:
        free = OTHER[setup.grips]
        places.append(Place(setup.grips, 0.0, setup.support != "none" or setup.holding == "between centers", setup))
        for one in setup.operations:
            if one.kind in BY_HAND:
                continue
            known = [job.features[name] for name in one.features if name in job.features]
            inside = any(f.inside for f in known)
            tool, narrow = job.tool(one.tool), min((f.diameter for f in known), default=0.0)
            pilots = one.kind == "drill" and tool is not None and tool.diameter < PILOT_SHARE * narrow and any(
                o.kind == "drill" and o.tool != one.tool and free == OTHER[s.grips] for s in plan.setups
                for o in s.operations)  # fmt: skip
            role = role_of(one.kind, inside, one.leave is not None and one.leave.magnitude > 0, pilots)
            title = f"{one.title()} end {free}"
            same = sum(task.title.startswith(title) for task in tasks)
            title = title if not same else f"{title}, {same + 1}"
            tasks.append(Task(title, role, one.features, (free,), (Way(one, (free,)),), (), one.features))
    return Space(job, tasks, places, before, most_setups or len(plan.setups))
