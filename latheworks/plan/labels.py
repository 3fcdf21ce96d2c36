"""Plans that are being put together, as labels, and which of them are worth going on with."""

from __future__ import annotations

from typing import Any

from latheworks.plan.walk import Step

Measures = tuple[int, float, float, float]  # stops, minutes, cost, worst share of a tolerance
CLOSE = 1e-9
BEYOND = 1.0  # of a tolerance: a size that uses more would not hold, which is a stop


class Label:
    """A plan as far as it goes: what is done; the workpiece, by its number; how it is held now and was in each setup,
    by numbers; its place; the tool in the post; how warm it is; measures; steps that sizes still hang on; how often it
    goes from one feature to another; and where it came from."""

    __slots__ = (
        "done", "helds", "last", "marks", "measures", "moved", "opened", "parent", "place", "shape", "turns", "warm",
    )  # fmt: skip

    def __init__(self, done: int, shape: int, helds: tuple[int, ...], place: int, last: str | None, warm: float,
                 measures: Measures, marks: dict[str, Step], parent: Label | None, moved: tuple[int, int] | None,
                 opened: tuple[int, int] | None, turns: int = 0) -> None:  # fmt: skip
        self.turns = turns
        self.done, self.shape, self.helds, self.place, self.last = done, shape, helds, place, last
        self.warm, self.measures, self.marks = warm, measures, marks
        self.parent, self.moved, self.opened = parent, moved, opened

    def trail(self) -> tuple[tuple[int, int, int], ...]:
        """How it came about: (0, place, number of the setup there) and (1, task, way), in order."""
        found = []
        label: Label | None = self
        while label is not None:
            if label.opened is not None:
                found.append((0, *label.opened))
            if label.moved is not None:
                found.append((1, *label.moved))
            label = label.parent
        return tuple(reversed(found))


def dominates(one: Measures, other: Measures) -> bool:
    """Whether one is as good as the other in everything; stops count before all else."""
    if one[0] != other[0]:
        return one[0] < other[0]
    return one[1] <= other[1] + CLOSE and one[2] <= other[2] + CLOSE and one[3] <= other[3] + CLOSE


def beats(one: Label, other: Label) -> bool:
    """Whether one dominates the other; of equals, the one that goes less from feature to feature."""
    if not dominates(one.measures, other.measures):
        return False
    return one.turns <= other.turns or not dominates(other.measures, one.measures)


def surely_worse(measures: Measures, known: list[Measures], front: list[Any]) -> bool:
    """Whether something found already is better in one thing, and as good in all, than this can still become."""
    for one in (*known, *(each[0] for each in front)):
        if dominates(one, measures) and (one[0] < measures[0] or any(
                a < b - CLOSE for a, b in zip(one[1:], measures[1:], strict=True))):  # fmt: skip
            return True
    return False


def settled(measures: Measures) -> Measures:
    """Measures of a whole plan, a size that would not hold counted as a stop."""
    return (measures[0] + (1 if measures[3] > BEYOND else 0), *measures[1:])


def merge(front: list[Any], item: Any) -> None:
    """Put (measures, anything) into a front of those that none dominates; of equals the one with the smaller rest, so
    that it does not matter in which order they come."""
    if any(dominates(one[0], item[0]) and not (dominates(item[0], one[0]) and item[1:] < one[1:]) for one in front):
        return
    front[:] = [one for one in front if not dominates(item[0], one[0])]
    front.append(item)
