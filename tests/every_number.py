"""Every set of numbers an exercise can give: a stand-in for a Variant that walks through all its menus in turn."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any

from latheworks.course.exercises import _builders
from latheworks.course.tasks import Task


class Walk:
    """Gives the choices of a Variant in turn, as the wheels of a counter do, and remembers the menus asked for."""

    def __init__(self) -> None:
        self._turn: list[list[int]] = []
        self._at = 0
        self.asked: list[tuple[str, Sequence[Any], int | None]] = []

    def pick(self, name: str, menu: Sequence[Any]) -> Any:
        """The entry whose turn it is."""
        return self._next(name, menu, None, list(menu))

    def several(self, name: str, menu: Sequence[Any], count: int) -> Any:
        """The entries whose turn it is."""
        return self._next(name, menu, count, list(combinations(menu, count)))

    def _next(self, name: str, menu: Sequence[Any], count: int | None, choices: list[Any]) -> Any:
        if self._at == len(self._turn):
            self._turn.append([0, len(choices)])
        place = self._turn[self._at][0]
        self._at += 1
        self.asked.append((name, tuple(menu), count))
        return choices[place]

    def step(self) -> bool:
        """Go on to the next set of choices; False after the last."""
        self._at, self.asked = 0, []
        while self._turn:
            self._turn[-1][0] += 1
            if self._turn[-1][0] < self._turn[-1][1]:
                return True
            self._turn.pop()
        return False


def walk(name: str) -> Iterator[tuple[Task, list[tuple[str, Sequence[Any], int | None]]]]:
    """Each task that the exercise of this name can be, with the menus it asked for."""
    build, numbers = _builders(name.partition(".")[0])[name], Walk()
    more = True
    while more:
        yield build(numbers), numbers.asked
        more = numbers.step()
