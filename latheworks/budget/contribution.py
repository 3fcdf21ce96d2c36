"""One contribution to a size error: its name, its known shift, how it spreads, and on what it is counted."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from latheworks.budget.kernel import DEVIATION, Part
from latheworks.door import Door, given, nearest
from latheworks.errors import Impossible, NotInTable, WrongUnit
from latheworks.results import Result
from latheworks.tables import cite, table
from latheworks.units import Q_, U, show

KINDS = tuple(DEVIATION)
# Times this the size of a plain diameter changes; what acts on a thread alone has its own place in fit_chance.
ON_SIZE = {"diameter": 1.0, "radius": 2.0}
ON_THREAD = ("layer", "lead", "virtual")
MOST = 50
LARGEST = 100.0  # mm: beyond it no error of size is meant
EXAMPLE = 'Contribution("instrument", spread=Q_(0.004, "mm"), kind="uniform")'


@dataclass(frozen=True, slots=True)
class Contribution(Result):
    """One cause of error in a size, in words, with what is known of it and what is not.

    Size error = factor x (shift + spread drawn by kind); standard deviation s, a / sqrt 3 (uniform) or a / sqrt 6
    (triangular). Name what you like, such as: deflection (shift: what `size_error` or `boring_bar_error` predicts;
    spread: what is not known of force and stiffness, easily a third of it), heat (shift from `thermal_growth`;
    spread from the guessed temperature), tool wear (growth between two corrections: half of it as shift, half as
    uniform spread), re-zeroing (setting the dial or touching off anew), re-chucking (the axis lands elsewhere: counts
    only on a surface of which a part was cut before), instrument (its own error and the feel of the hand).

    Parameters: name, 1 to 40 characters; shift, the known bias, above 0 for a larger size [length, -100 to 100 mm;
    0 when not given]; spread, what varies from part to part or is not known [length, 0 to 100 mm; 0 when not given];
    kind, "normal" (spread is the standard deviation), "uniform" or "triangular" (spread is the half-width), "fixed"
    (no spread); on, "diameter", "radius" (counts twice on the diameter); for threads also "layer" (thickness on a
    side: 2 / sin a times on the pitch diameter), "lead" (summed over the length engaged: cot a times, whatever its
    sign, on the virtual size alone) and "virtual" (on the virtual size alone). Raises LatheworksError.
    Source: JCGM 100:2008, 4.3 and 4.4 (a / sqrt 3, a / sqrt 6), from memory; what the causes mean: common practice.

    >>> wear = Contribution("tool wear", shift=Q_(0.005, "mm"), spread=Q_(0.005, "mm"), kind="uniform", on="radius")
    >>> show(wear.standard_deviation, digits=4)
    '0.0058 mm'
    """

    name: str
    shift: Any = None
    spread: Any = None
    kind: str = "normal"
    on: str = "diameter"

    def __post_init__(self) -> None:
        with Door("Contribution") as door:
            door.text(self.name, "name", longest=40, example="tool wear")
            bias = spread = 0.0
            if self.shift is not None:
                bias = door.number(self.shift, "shift", "mm", least=-LARGEST, most=LARGEST,
                                   example='shift=Q_(0.02, "mm")')  # fmt: skip
            if self.spread is not None:
                spread = door.number(self.spread, "spread", "mm", least=0, most=LARGEST,
                                     example='spread=Q_(0.01, "mm")')  # fmt: skip
            kind = door.choice(self.kind, "kind", KINDS)
            door.choice(self.on, "on", (*ON_SIZE, *ON_THREAD))
            if kind == "fixed" and spread > 0:
                door.complain("kind", f'"fixed" with a spread of {spread:.4g} mm', "no spread with a fixed shift",
                              'kind="uniform"', Impossible)  # fmt: skip
        unit = next((given.units for given in (self.shift, self.spread) if given is not None), U.mm)
        object.__setattr__(self, "shift", Q_(bias, U.mm).to(unit))
        object.__setattr__(self, "spread", Q_(spread, U.mm).to(unit))

    @property
    def factor(self) -> float:
        """How many times it counts on a diameter; 1 where it acts on a thread, which has its own factors."""
        return ON_SIZE.get(self.on, 1.0)

    @property
    def standard_deviation(self) -> Any:
        """Its standard deviation, with its factor [the unit of the spread]."""
        return self.factor * DEVIATION[self.kind] * self.spread

    @property
    def plain(self) -> Part:
        """The kernel's view: shift and spread in mm, kind, factor."""
        return (float(self.shift.m_as(U.mm)), float(self.spread.m_as(U.mm)), self.kind, self.factor)

    def title(self) -> str:
        return f"Contribution: {self.name}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = "inch" if self.shift.units in (U.inch, U.thou) else "metric"
        digits = 5 if system == "inch" else 4
        how = {"normal": "standard deviation", "fixed": "none"}.get(self.kind, "half-width")
        return (("shift", show(self.shift, system, digits)), ("spread", f"{show(self.spread, system, digits)}, {how}"),
                ("kind", self.kind), ("counts on", f"{self.on}, {self.factor:g} x"),
                ("standard deviation", show(self.standard_deviation, system, digits)))  # fmt: skip


def listed(door: Door, value: Any, name: str, allowed: Sequence[str]) -> tuple[Contribution, ...]:
    """The contributions of a list, each counted on something that is allowed here; () after a complaint."""
    items = getattr(value, "contributions", value)
    items = (items,) if isinstance(items, Contribution) else items
    good = isinstance(items, (list, tuple)) and items and all(isinstance(item, Contribution) for item in items)
    if not good or len(items) > MOST:
        got = f"{len(items)} contributions" if good else given(value)
        door.complain(name, got, f"a list of 1 to {MOST} contributions", f"{name}=[{EXAMPLE}]", WrongUnit)
        return ()
    names = [item.name for item in items]
    twice = next((word for word in names if names.count(word) > 1), None)
    if twice is not None:
        door.complain(name, f'"{twice}" twice', "a name of its own for each", f'"{twice}, second"', Impossible)
    for item in items:
        if item.on not in allowed:
            words = " or ".join(f'"{word}"' for word in allowed)
            door.complain(name, f'"{item.name}" on "{item.on}"', f"one counted on {words}; the others need a thread",
                          f'on="{allowed[0]}", or fit_chance', Impossible)  # fmt: skip
    return tuple(items)


def error_sources() -> tuple[str, ...]:
    """Return the names of the typical spreads in the table, to start a budget from.

    They are starting values of common practice or from memory, as their source says; your own machine, instrument
    and hands decide. Raises nothing. Source: as each row of the table says, common practice or from memory.

    >>> error_sources()[:2]
    ('touching off on paper', 're-zeroing the cross slide')
    """
    return tuple(row["name"] for row in table("error_sources"))


def error_source(name: str) -> Contribution:
    """Return a typical contribution from the table, without a shift.

    Parameter: name, one of `error_sources()`. Raises NotInTable for another. Source: `error_source_note(name)`
    says it: common practice or from memory, never a promise; measure your own.

    >>> found = error_source("outside micrometer")
    >>> show(found.spread), found.kind, found.on
    ('0.004 mm', 'uniform', 'diameter')
    """
    row = _row(name)
    return Contribution(row["name"], spread=Q_(float(row["spread [mm]"]), U.mm), kind=row["kind"], on=row["on"])


def error_source_note(name: str) -> str:
    """Return what a typical contribution means and where its value comes from.

    Parameter: name, one of `error_sources()`. Raises NotInTable for another. Source: the row's own.

    >>> print(error_source_note("outside micrometer").split("; ")[0])
    largest permitted error of the instrument over its first 50 mm or so
    """
    row = _row(name)
    return f"{row['meaning']}; {cite(row['source'])}"


def _row(name: Any) -> Any:
    rows = {row["name"]: row for row in table("error_sources")}
    with Door("error_source") as door:
        if not isinstance(name, str) or name not in rows:
            near = nearest(name, rows) or next(iter(rows))
            door.complain("name", given(name), "a name in error_sources()", f'"{near}"',
                          NotInTable if isinstance(name, str) else WrongUnit)  # fmt: skip
    return rows[name]
