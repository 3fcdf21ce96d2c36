"""The search: labels set from operation to operation, those kept that no other beats, bounded by what is left to do.

Exact in its space: a label is dropped only where another does all that it does, with the same workpiece held the same
way and as warm to a quarter of a kelvin, for no more time, cost or tolerance; or where a whole plan found already
beats the least that it can come to.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from latheworks.plan import times
from latheworks.plan.labels import Label, Measures, beats, merge, settled, surely_worse
from latheworks.plan.space import Space
from latheworks.plan.steps import WARM_STEP, Move, Steps

CHECK = 64  # labels between two looks at the clock
Trail = tuple[tuple[int, int, int], ...]
Found = list[tuple[Measures, int, Trail]]
Key = tuple[Any, ...]
Buckets = dict[Key, list[Label]]


@dataclass(eq=False)
class Search:
    """A search of one space, from the stock on; `first` is the place that its first setup is in, None for any."""

    space: Space
    steps: Steps
    stock: float
    first: int | None = None
    stops: bool = False
    deadline: float = float("inf")
    tell: Callable[[float], None] | None = None
    known: list[Measures] = field(default_factory=list)
    front: Found = field(default_factory=list)
    cut_off: bool = False
    labels: int = 0
    left_out: bool = False
    lefts: dict[int, tuple[float, set[str | None]]] = field(default_factory=dict)

    def run(self, width: int | None) -> bool:
        """Search with so many labels kept of each size of plan, or all; True where none was left out."""
        most = self.space.most_setups or 0
        self.left_out = False
        labels: Buckets = {}
        self._open(None, labels)
        for setup in range(most):
            labels = self._session(setup, labels, width)
            if self.cut_off:
                return False
        return not self.left_out

    def _session(self, setup: int, opened: Buckets, width: int | None) -> Buckets:
        """All that can be done in setups of one number; the labels opened for the next."""
        count, most = len(self.space.tasks), self.space.most_setups or 0
        layers: list[Buckets] = [{} for _ in range(count + 1)]
        for key, bucket in opened.items():
            layers[bucket[0].done.bit_count()][key] = bucket
        following: Buckets = {}
        for size in range(count + 1):
            labels = [label for each in layers[size].values() for label in each]
            layers[size] = {}
            if width is not None and len(labels) > width:
                self.left_out = True
                labels = sorted(labels, key=self._promise)[:width]
            for label in labels:
                self.labels += 1
                if self.labels % CHECK == 0 and time.monotonic() > self.deadline:
                    self.cut_off = True
                    return following
                if surely_worse(self._at_best(label), self.known, self.front):
                    continue
                if label.done == self.space.full:
                    merge(self.front, (settled(label.measures), label.turns, label.trail()))
                    continue
                for other in self._moves(label):
                    self._keep(layers[other.done.bit_count()], other)
                if label.moved is not None and setup + 1 < most:
                    self._open(label, following)
            if self.tell is not None:
                self.tell((setup + (size + 1) / (count + 1)) / most)
        return following

    def _key(self, label: Label) -> Key:
        """What decides over everything that can still come, beside the measures."""
        return (label.done, label.shape, label.helds[-1], label.place, label.last, round(label.warm / WARM_STEP),
                self._half_made(label))  # fmt: skip

    def _half_made(self, label: Label) -> Key:
        """Of sizes that two steps settle, those of which one is made: how the work was held since, and how warm."""
        found = []
        marks = label.marks
        for name, partner, measure in self.steps.partners:
            if (name in marks) == (partner in marks):
                continue
            step = marks[name] if name in marks else marks[partner]
            warm = round(step.warm / WARM_STEP) if measure == "length" and name in marks else 0
            found.append((name, label.helds[step.setup + 1 :], warm))
        return tuple(found)

    def _keep(self, buckets: Buckets, label: Label) -> None:
        """Keep a label where no other of its key dominates it, and drop those that it dominates."""
        bucket = buckets.setdefault(self._key(label), [])
        if not any(beats(one, label) for one in bucket):
            bucket[:] = [one for one in bucket if not beats(label, one)]
            bucket.append(label)

    def _at_best(self, label: Label) -> Measures:
        """The least that a label can still come to."""
        minutes = self.least_after(label.done, label.place, label.last)
        stops, taken, cost, worst = label.measures
        return settled((stops, taken + minutes, cost + minutes / 60.0 * self.steps.hourly, worst))

    def least_after(self, done: int, place: int, last: str | None) -> float:
        """The least minutes that what is not done yet takes, from a place on with a tool in the post."""
        space, left = self.space, self.space.full & ~done
        if left not in self.lefts:
            bits = [i for i in range(len(space.tasks)) if left >> i & 1]
            self.lefts[left] = sum(space.least[i] for i in bits), {space.only_tool[i] for i in bits} - {None}
        minutes, tools = self.lefts[left]
        setups = space.fewest(left & ~space.cover[place])
        return (minutes + times.TOOL_CHANGE * (len(tools) - (last in tools))
                + setups * (times.TURN_ROUND + times.SET_UP / space.job.part.quantity))  # fmt: skip

    def _promise(self, label: Label) -> tuple[float, ...]:
        """Where a label comes in a narrow search: those that may hold their tolerances, the quickest first."""
        best = self._at_best(label)
        return best[0], best[1], best[3]

    def _moves(self, label: Label) -> list[Label]:
        """The labels one operation on."""
        space, steps = self.space, self.steps
        held, free = label.helds[-1], space.places[label.place].free
        ready = space.cover[label.place] & ~label.done
        found = []
        i, bits = 0, ready
        while bits:
            if bits & 1 and not space.needs[i][free] & ~label.done:
                for way, choice in enumerate(space.choices[i]):
                    if free not in choice.ends:
                        continue
                    move = steps.move(label.shape, held, i, way)
                    if move.stops == 0 or self.stops:
                        found.append(self._moved(label, i, way, move))
            bits >>= 1
            i += 1
        return found

    def _moved(self, label: Label, task: int, way: int, move: Move) -> Label:
        steps = self.steps
        stops, minutes, cost, worst = label.measures
        took = move.minutes
        last = label.last
        if move.tool is not None and move.tool != last:
            took += times.TOOL_CHANGE
            last = move.tool
        warm = move.heat[0] + move.heat[1] * label.warm
        worst = max(worst, steps.use(move, warm))
        marks = label.marks
        fresh = [name for name in move.made if name in steps.marked]
        if fresh:
            step = steps.step(move, len(label.helds) - 1, warm)
            made = {**marks, **dict.fromkeys(fresh, step)}
            for name, partner, measure in steps.partners:
                if (name in fresh or partner in fresh) and name in made and partner in made:
                    worst = max(worst, steps.pair_use(name, partner, measure, made[name], made[partner],
                                                        label.helds))  # fmt: skip
            marks = made
        measures = (stops + move.stops, minutes + took, cost + took / 60.0 * steps.hourly + move.wear, worst)
        done = label.done | 1 << task | self.space.closes[task]
        tasks = self.space.tasks
        same = label.moved is not None and bool(set(tasks[label.moved[0]].features) & set(tasks[task].features))
        return Label(done, move.after, label.helds, label.place, last, warm, measures, marks, label, (task, way), None,
                     label.turns + (not same))  # fmt: skip

    def _open(self, label: Label | None, opened: Buckets) -> None:
        """The labels with the work put into each place where something is left to do."""
        space, steps = self.space, self.steps
        done, helds, last = (0, (), None) if label is None else (label.done, label.helds, label.last)
        shape = steps.number(space.job.part.stock) if label is None else label.shape
        marks = {} if label is None else label.marks
        stops, minutes, cost, worst = (0, 0.0, self.stock, 0.0) if label is None else label.measures
        left, more = space.full & ~done, (space.most_setups or 0) - len(helds) - 1
        for place, cover in enumerate(space.cover):
            if not cover & left or (label is None and self.first not in (None, place)):
                continue
            if space.fewest(left & ~cover) > more:
                continue
            for variant, one in enumerate(steps.openings(shape, place, len(helds))):
                if (one.stops and not self.stops) or (helds and one.held == helds[-1]):
                    continue
                measures = (stops + one.stops, minutes + one.minutes, cost + one.minutes / 60.0 * steps.hourly, worst)
                self._keep(opened, Label(done, shape, (*helds, one.held), place, last, 0.0, measures, marks, label,
                                         None, (place, variant), 0 if label is None else label.turns))  # fmt: skip
