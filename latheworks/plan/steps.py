"""What one more operation does to a plan that is being put together: kept, so that it is judged once."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np

from latheworks.plan import times
from latheworks.plan.carry import take
from latheworks.plan.economics import edge_share, setup_minutes
from latheworks.plan.feature_rows import length_row, main_row, runout_row, width_row
from latheworks.plan.job import Held, Job, PlainOperation, hold
from latheworks.plan.judge import judge
from latheworks.plan.judge_holding import holding_flaws
from latheworks.plan.loads import gripped
from latheworks.plan.outcome import Flaw, Judged
from latheworks.plan.propose import openings
from latheworks.plan.setup import Setup
from latheworks.plan.shape import Shape
from latheworks.plan.space import Choice, Space
from latheworks.plan.tooling import ON_AXIS
from latheworks.plan.walk import Step, Walk, warmer

WARM_STEP = 0.25  # K: how fine the heat of the work is told apart; on 32 mm of aluminum a step is 0.2 µm
HAND_KINDS = ("thread", "groove")


class Move(NamedTuple):
    """One operation on a workpiece as it stands: the number of the shape after it; minutes; what edges it costs; the
    heat as a line, warm after = heat[0] + heat[1] warm before; stops; tool; features that are whole then; sizes that
    it settles; the judgment, the workpiece before, and how it is held."""

    after: int
    minutes: float
    wear: float
    heat: tuple[float, float]
    stops: int
    tool: str | None
    made: tuple[str, ...]
    judged: Judged
    before: Shape
    held: Held
    op: PlainOperation
    uses: dict[int, float]


class Opening(NamedTuple):
    """A setup opened on a workpiece as it stands: without its operations, the number of its holding, its stops and
    minutes."""

    setup: Setup
    held: int
    stops: int
    minutes: float


@dataclass(eq=False)
class Steps:
    """All moves of a space that were ever asked for."""

    space: Space
    hourly: float
    avoid: frozenset[str] = frozenset()
    shapes: list[Shape] = field(default_factory=list)
    keys: dict[bytes, int] = field(default_factory=dict)
    moves: dict[Any, Move] = field(default_factory=dict)
    opened: dict[Any, list[Opening]] = field(default_factory=dict)
    judged: dict[Any, Judged] = field(default_factory=dict)
    seen: dict[Any, bytes] = field(default_factory=dict)
    pairs: dict[Any, float] = field(default_factory=dict)
    helds: list[Held] = field(default_factory=list)
    held_numbers: dict[Held, int] = field(default_factory=dict)
    evaluations: int = 0

    def __post_init__(self) -> None:
        job: Job = self.space.job
        features = job.features.values()
        self.hand = {f.name: self._by_hand(f.name) for f in features}
        lengths = [f.name for f in features if f.kind != "groove" and (f.length_low, f.length_high) != (None, None)]
        first = [f.name for f in features if f.kind == "face" and abs(f.start) < 1e-6]
        # Rows that two steps settle: a length with the face of end A, a runout with its datum.
        self.partners = [(name, first[0] if first else name, "length") for name in lengths]
        self.partners += [(name, job.whole[name].datum or name, "runout") for name in job.whole
                          if job.whole[name].runout is not None]  # fmt: skip
        self.marked = {name for one in self.partners for name in one[:2]}
        # A hole that is bored later has its size from the bar.
        bored = {name for task in self.space.tasks if task.role in ("bore", "ream") for name in task.features}
        self.settles = [frozenset(task.features) - (bored if task.role in ("drill", "pilot drill") else set())
                        for task in self.space.tasks]  # fmt: skip

    def _stops(self, flaw: Flaw) -> bool:
        """Whether a flaw is one that a plan has to do without."""
        return flaw.level == "stop" or flaw.code in self.avoid

    def _by_hand(self, name: str) -> float:
        """Minutes of deburring and gaging a feature."""
        gaged, burred = by_hand(self.space.job, name)
        return times.BY_HAND["gage"] * gaged + times.BY_HAND["deburr"] * burred

    def number(self, shape: Shape) -> int:
        """The number of a shape, the same for the same shape."""
        key = shape.key()
        found = self.keys.get(key)
        if found is None:
            found = self.keys[key] = len(self.shapes)
            self.shapes.append(shape)
        return found

    def openings(self, shape: int, place: int, number: int) -> list[Opening]:
        """The setups in which a workpiece can be held in a place."""
        key = (shape, place, number == 0)
        found = self.opened.get(key)
        if found is None:
            job, work = self.space.job, self.shapes[shape]
            found = []
            for setup in openings(job, self.space.places[place], work, number + 1):
                held = hold(job, setup, work)
                stops = sum(map(self._stops, holding_flaws(job, held, work)))
                minutes = setup_minutes(number == 0, held.holding, held.supported, job.part.quantity)
                if held not in self.held_numbers:
                    self.held_numbers[held] = len(self.helds)
                    self.helds.append(held)
                found.append(Opening(setup, self.held_numbers[held], stops, minutes))
            self.opened[key] = found
        return found

    def move(self, shape: int, held: int, task: int, way: int) -> Move:
        """What a way of a task does to a workpiece, held in a way of this number."""
        key = (shape, held, task, way)
        found = self.moves.get(key)
        if found is None:
            found = self.moves[key] = self._move(shape, held, task, self.space.choices[task][way])
        return found

    def _move(self, shape: int, number: int, task: int, choice: Choice) -> Move:
        job, work, held, op = self.space.job, self.shapes[shape], self.helds[number], choice.op
        view = (shape, number, op.kind in ON_AXIS)
        if view not in self.seen:
            self.seen[view] = _seen(held, work, view[2])
        judged = self._judged(held, work, op, (number, op, self.seen[view]))
        after = self.number(judged.taken.after)
        cold, warm = warmer(job, work, op, judged, 0.0), warmer(job, work, op, judged, 1.0)
        tool = job.tool(op.tool)
        wear = 0.0 if tool is None else edge_share(job, tool, judged, self.hourly)
        whole = not self.space.halved[task]
        stops = sum(self._stops(flaw) or (whole and flaw.code == "partly cut")
                    for flaw in (*judged.taken.flaws, *judged.flaws))  # fmt: skip
        made = tuple(name for name in judged.taken.made if name in self.settles[task])
        minutes = judged.minutes + sum(self.hand.get(name, 0.0) for name in made)
        keep = tuple(size for size in judged.sizes if size.feature in self.settles[task])
        return Move(after, minutes, wear, (cold, warm - cold), stops, op.tool, made, judged._replace(sizes=keep), work,
                    held, op, {})  # fmt: skip

    def _judged(self, held: Held, work: Shape, op: PlainOperation, key: Any) -> Judged:
        """A judgment, kept by what it can see of the work: what sticks out, and what lies in the jaws."""
        found = self.judged.get(key)
        if found is None:
            self.evaluations += 1
            found = self.judged[key] = judge(self.space.job, held, work, op)
            return found
        taken = take(self.space.job, held, work, op, self.space.job.tool(op.tool))
        return found._replace(taken=taken._replace(after=taken.after.tidy()))

    def step(self, move: Move, setup: int, warm: float) -> Step:
        """A move as a step of the walk through a plan."""
        return Step(setup, 0, move.op, move.held, move.before, move.judged, warm)

    def use(self, move: Move, warm: float) -> float:
        """The largest share of a tolerance that the sizes which a move settles alone use."""
        bucket = round(warm / WARM_STEP)
        found = move.uses.get(bucket)
        if found is None:
            found = move.uses[bucket] = self._use(move, warm)
        return found

    def _use(self, move: Move, warm: float) -> float:
        job, step, worst = self.space.job, self.step(move, 0, warm), 0.0
        for size in move.judged.sizes:
            feature = job.features[size.feature]
            alone = Walk(job, steps=[step], made={feature.name: step},
                         sizes={(size.feature, size.measure): [(step, size)]})  # fmt: skip
            row = width_row(alone, feature) if size.measure == "width" else main_row(alone, feature)
            if row is not None and row.use is not None:
                worst = max(worst, row.use)
        return worst

    def pair_use(self, name: str, partner: str, measure: str, one: Step, other: Step, helds: tuple[int, ...]) -> float:
        """The share of the tolerance that a length or a runout uses, which two steps settle together."""
        first, last = sorted((one.setup, other.setup))
        since = helds[first + 1 : last + 1]
        key = (name, measure, one.setup - other.setup, since, round(one.warm / WARM_STEP))
        found = self.pairs.get(key)
        if found is None:
            job = self.space.job
            pair = Walk(job, steps=[one, other], made={partner: other, name: one},
                        setups=[(i, held, ()) for i, held in enumerate(self.helds[k] for k in helds)])  # fmt: skip
            row = length_row(pair, job.features[name], "length") if measure == "length" else runout_row(pair, name)
            found = self.pairs[key] = 0.0 if row is None or row.use is None else row.use
        return found


def by_hand(job: Job, name: str) -> tuple[bool, bool]:
    """Whether a feature is gaged, and whether it is deburred, before the work is taken out."""
    feature, whole = job.features[name], job.whole[name]
    ends = (feature.low, feature.high, feature.length_low, feature.length_high, whole.runout)
    burred = feature.kind in HAND_KINDS or (feature.inside and feature.kind == "cylinder")
    return any(end is not None for end in ends), burred


def _seen(held: Held, work: Shape, on_axis: bool) -> bytes:
    """What an operation can see of the work, as bytes: a drill sees the hole and the jaws, all others what sticks out
    with what lies in the jaws."""
    start, end = gripped(held, work)
    low, high = (start, work.end) if held.grips == "A" else (work.start, end)
    if high - low <= 1e-6:
        return work.key()
    fine = work.split_at([low, high])
    keep = (fine.z[:-1] >= low - 1e-9) & (fine.z[1:] <= high + 1e-9)
    z = np.concatenate((fine.z[:-1][keep], fine.z[1:][keep][-1:]))
    outer, inner = fine.outer[keep], fine.inner[keep]
    if on_axis:
        jaws = work.largest(start, end)
        joined = Shape(z, np.full_like(inner, 1e3), inner).tidy()
        return joined.key() + np.float64(jaws).tobytes()
    return Shape(z, outer, inner).tidy().key()
