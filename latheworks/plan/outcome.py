"""What a judgment of one operation says, on plain floats: what it takes, its cutting data, its sizes, its flaws."""

from __future__ import annotations

from typing import NamedTuple

from latheworks.plan.shape import Shape
from latheworks.plan.wording import Words

Spread = tuple[float, float, str, float]  # shift, spread, kind, factor: a contribution as the budget counts it


class Flaw(NamedTuple):
    """A finding that does not know yet which operation of the plan it is about, nor in which units it will be read."""

    level: str
    code: str
    what: Words
    feature: str | None
    why: Words
    by: Words = ""
    helps: Words = ""


class Cut(NamedTuple):
    """What an operation takes of one feature, or between two places [mm]: from and to, the radii before at their
    largest (smallest inside) and after, the depth on the radius in all; feature is None for a plain face."""

    feature: str | None
    start: float
    end: float
    before: float
    after: float
    inside: bool

    @property
    def depth(self) -> float:
        """What there is to take on the radius [mm]; 0 where nothing is left."""
        return max(self.after - self.before if self.inside else self.before - self.after, 0.0)


class Taken(NamedTuple):
    """The workpiece after an operation, its cuts, features then whole and those only in part, and flaws."""

    after: Shape
    cuts: tuple[Cut, ...]
    made: tuple[str, ...]
    partly: tuple[str, ...]
    flaws: tuple[Flaw, ...]


class Data(NamedTuple):
    """Cutting data, given or filled: spindle [rev/min], surface speed [m/min], feed [mm/rev], deepest pass [mm],
    passes, spring passes, peck [mm]; filled names what was left out; finishing says that this is a last cut."""

    spindle: float
    speed: float
    feed: float
    depth: float
    passes: int
    springs: int
    peck: float
    filled: tuple[str, ...]
    finishing: bool


class Size(NamedTuple):
    """What one size of a feature comes out at: the contributions to it, by name, in mm on the measure itself."""

    feature: str
    measure: str
    parts: tuple[tuple[str, Spread], ...]
    finish: float | None = None


class Judged(NamedTuple):
    """One operation judged: all that a review and a search need of it. Minutes are those of the operation
    with its passes brought back and set, cutting those in the cut alone."""

    taken: Taken
    data: Data
    sizes: tuple[Size, ...]
    flaws: tuple[Flaw, ...]
    minutes: float
    power: float
    torque: float
    grip: float
    error: float | None
    depths: tuple[float, ...] = ()
    cutting: float = 0.0


NO_DATA = Data(0.0, 0.0, 0.0, 0.0, 0, 0, 0.0, (), False)
