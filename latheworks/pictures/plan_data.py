"""A plan as pictures show it, on plain numbers: its operations in their holding, and what each size would come to."""

from dataclasses import dataclass

import numpy as np

from latheworks.plan.findings import LEVELS, Finding


@dataclass(frozen=True)
class SizeLine:
    """One size [mm]: limits, of which one may be open (None); what is likely, None where it is not known; the share of
    the tolerance used; `made`, after how many operations it is there, None for never; what most of it is spent on."""

    name: str
    measure: str
    aim: float
    low: float | None
    high: float | None
    got: tuple[float, float] | None
    use: float | None
    made: int | None
    spent: str

    @property
    def title(self) -> str:
        """Feature and measure, short."""
        measure = {"diameter": "\u2300", "pitch diameter": "pitch \u2300"}.get(self.measure, self.measure)
        name = self.name if len(self.name) <= 17 else f"{self.name[:16]}\u2026"
        return f"{name}, {measure}"

    def share(self, value: float) -> float:
        """Where a value lies between the limits: 0 at the lower, 1 at the upper; with one limit, from the aim on."""
        low = self.aim if self.low is None else self.low
        high = self.aim if self.high is None else self.high
        if self.low is not None and self.high is None:
            low, high = self.low, 2 * self.aim - self.low
        return (value - low) / (high - low) if high > low else 0.5


@dataclass(frozen=True, eq=False)
class HeldStep:
    """One operation with the work as it stands in its holding; places along the axis from the back of the blank [mm].

    `outline` is the section after it: places, outside and inside radii; `removed` the closed shapes it takes off above
    the axis; `marks` the surfaces that it works on, as polylines; `threads` lines at the roots of the threads that are
    there; `tip` the place and radius where the tool ends, None for work by hand; spindle [rpm] and feed [mm/rev], None
    where there is none; passes in words.
    """

    setup: int
    operation: int
    setup_name: str
    title: str
    kind: str
    inside: bool
    tool: str | None
    across: float
    stand_out: float
    outline: tuple[np.ndarray, np.ndarray, np.ndarray]
    removed: tuple[np.ndarray, ...]
    marks: tuple[np.ndarray, ...]
    threads: tuple[np.ndarray, ...]
    tip: tuple[float, float] | None
    jaws: float
    stickout: float
    holding: str
    support: str
    rest: float | None
    stop: bool
    minutes: float
    error: float | None
    spindle: float | None
    feed: float | None
    passes: str
    faults: tuple[Finding, ...]

    @property
    def number(self) -> str:
        """Setup and operation in words: with a point between them they would look like a size."""
        return f"setup {self.setup}, operation {self.operation}"

    @property
    def level(self) -> str | None:
        """The gravest level found here, None where nothing was found."""
        return next((level for level in LEVELS if any(each.level == level for each in self.faults)), None)

    @property
    def held(self) -> str:
        """How the work is held, in words."""
        words = self.holding if self.support == "none" else f"{self.holding} and {self.support}"
        return words if self.rest is None else f"{words}, steady rest"


@dataclass(frozen=True, eq=False)
class PlanLine:
    """A plan from its blank to its end: `blank` its length and radius [mm]; time of one part with its share of setting
    up [min], cost, the verdict."""

    name: str
    blank: tuple[float, float]
    steps: tuple[HeldStep, ...]
    sizes: tuple[SizeLine, ...]
    minutes: float
    cost: float
    verdict: str

    @property
    def count(self) -> int:
        """How many operations."""
        return len(self.steps)

    def made(self, at: int) -> tuple[SizeLine, ...]:
        """The sizes that are there after so many operations and have limits."""
        return tuple(each for each in self.sizes if each.use is not None and each.made is not None and each.made <= at)

    def worst(self, at: int) -> SizeLine | None:
        """The size that uses most of its tolerance after so many operations."""
        return max(self.made(at), key=lambda each: each.use or 0.0, default=None)

    def worst_uses(self) -> np.ndarray:
        """The largest share used after 0, 1, ... operations."""
        uses = np.zeros(self.count + 1)
        for each in self.made(self.count):
            assert each.made is not None
            uses[each.made :] = np.maximum(uses[each.made :], each.use or 0.0)
        return uses


@dataclass(frozen=True)
class Played:
    """One plan or two, the one that is shown, and how many operations are done."""

    plans: tuple[PlanLine, ...]
    active: int
    at: int

    @property
    def plan(self) -> PlanLine:
        """The plan that is shown."""
        return self.plans[self.active]

    @property
    def step(self) -> HeldStep:
        """The operation that is shown."""
        return self.plan.steps[self.at - 1]
