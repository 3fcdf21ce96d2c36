"""A turned part: material, stock, and its features from end A to end B."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.materials import Material, pick
from latheworks.plan.feature import LARGEST, Feature
from latheworks.plan.shape import Shape
from latheworks.results import Result
from latheworks.units import Q_, U, show

MOST_FEATURES = 60
GROUND = ("cylinder", "taper")  # what a surface is made of; grooves, threads and chamfers lie on these
NEAR = 1e-6


@dataclass(frozen=True)
class Part(Result):
    """A turned part as its drawing shows it. z is 0 at end A and grows to end B.

    Parameters: name [1 to 60 characters]; material, a name of `materials()` or a Material; features, a list of 1 to 60
    `Feature`, each with its own name: cylinders and tapers cover the outside from end to end without a gap or an
    overlap, the inside where there is a bore; grooves, threads and chamfers lie on them; stock_diameter and
    stock_length of the bar that it is made of [mm]; stock_bore, of a tube [mm, 0 to less than the diameter; 0];
    stock_before, how much of the stock lies before end A [mm; half of what it is longer than the part]; quantity
    [1 to 100000]; note.
    Raises LatheworksError naming every argument that does not fit, and the place where features overlap or leave a gap.
    Source: geometry.

    >>> body = Feature("body", "cylinder", Q_(0, "mm"), Q_(60, "mm"), Q_(20, "mm"))
    >>> Part("pin", "steel 1018", [body], Q_(22, "mm"), Q_(62, "mm")).length
    <Quantity(60.0, 'millimeter')>
    """

    name: str
    material: Any
    features: tuple[Feature, ...]
    stock_diameter: Any
    stock_length: Any
    stock_bore: Any = None
    stock_before: Any = None
    quantity: int = 1
    note: str = ""
    stuff: Material = field(init=False, repr=False, compare=False)
    shape: Shape = field(init=False, repr=False, compare=False)
    stock: Shape = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        none = Q_(0.0, U.mm)
        with Door("Part") as door:
            door.text(self.name, "name", longest=60, example="barrel")
            if not isinstance(self.note, str) or len(self.note) > 2000:
                door.complain("note", given(self.note), "up to 2000 characters", 'note=""', WrongUnit)
            stuff = pick(door, self.material)
            items = _listed(door, self.features)
            wide = door.number(self.stock_diameter, "stock_diameter", "mm", above=0, most=LARGEST,
                               example='stock_diameter=Q_(35, "mm")')  # fmt: skip
            long = door.number(self.stock_length, "stock_length", "mm", above=0, most=LARGEST,
                               example='stock_length=Q_(254, "mm")')  # fmt: skip
            hole = door.number(none if self.stock_bore is None else self.stock_bore, "stock_bore", "mm", least=0,
                               below=wide, example='stock_bore=Q_(0, "mm")')  # fmt: skip
            door.whole(self.quantity, "quantity", least=1, most=100_000)
            if not door.complaints:
                part = _shape(door, items)
            if not door.complaints:
                extra = long - part.length
                before = extra / 2 if self.stock_before is None else door.number(
                    self.stock_before, "stock_before", "mm", least=0, most=max(extra, 0.0)
                )  # fmt: skip
                _room(door, part, wide, long, hole)
        put = object.__setattr__
        put(self, "features", tuple(items))
        put(self, "stuff", stuff)
        put(self, "shape", part)
        put(self, "stock", Shape.bar(-before, long - before, wide / 2, hole / 2))

    @property
    def length(self) -> Any:
        """From end A to end B [mm]."""
        return Q_(self.shape.length, U.mm)

    def feature(self, name: str) -> Feature:
        """Return the feature of a name. Raises LatheworksError with the names there are.

        >>> body = Feature("body", "cylinder", Q_(0, "mm"), Q_(60, "mm"), Q_(20, "mm"))
        >>> Part("pin", "brass", [body], Q_(22, "mm"), Q_(62, "mm")).feature("body").kind
        'cylinder'
        """
        with Door("feature") as door:
            chosen = door.choice(name, "name", [each.name for each in self.features])
        return next(each for each in self.features if each.name == chosen)

    def title(self) -> str:
        """Its name and material."""
        return f"{self.name}, {self.stuff.name}"

    def facts(self) -> list[tuple[str, str]]:
        """Length, stock and features."""
        rows = [("length", show(self.length)), ("stock", f"{show(self.stock_diameter)} x {show(self.stock_length)}"),
                ("quantity", str(self.quantity))]  # fmt: skip
        return [*rows, *((each.name, f"{each.side} {each.kind}") for each in self.features)]


def _listed(door: Door, features: Any) -> list[Feature]:
    good = isinstance(features, (list, tuple)) and all(isinstance(each, Feature) for each in features)
    if not good or not 0 < len(features) <= MOST_FEATURES:
        door.complain("features", given(features), f"a list of 1 to {MOST_FEATURES} Feature",
                      'features=[Feature("body", "cylinder", ...)]', OutOfRange if good else WrongUnit)  # fmt: skip
        return []
    names = [each.name for each in features]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        door.complain("features", f"{twice!r:.60} twice", "a name of its own for each", f'"{twice[:34]}, 2nd"')
    for each in features:
        if each.datum is not None and each.datum not in names:
            door.complain(f"datum of {each.name}", each.datum, "the name of another feature", f'datum="{names[0]}"')
    return list(features)


def _shape(door: Door, items: list[Feature]) -> Shape:
    """The part's shape out of its features; a complaint names the gap, the overlap, or what does not fit."""
    outer = sorted((f.plain for f in items if f.kind in GROUND and not f.plain.inside), key=lambda f: f.start)
    inner = sorted((f.plain for f in items if f.kind in GROUND and f.plain.inside), key=lambda f: f.start)
    fallback = Shape.bar(0.0, 1.0, 1.0, 0.0)
    if not outer or abs(outer[0].start) > NEAR:
        door.complain("features", "nothing outside at end A" if outer else "no outside cylinder or taper",
                      "cylinders and tapers from z = 0 on", 'start=Q_(0, "mm")')  # fmt: skip
        return fallback
    for row, gaps in ((outer, True), (inner, False)):
        for one, two in pairwise(row):
            if two.start < one.end - NEAR or (gaps and two.start > one.end + NEAR):
                word = "overlap" if two.start < one.end else "leave a gap"
                door.complain("features", f"{one.name} and {two.name}, which {word} at {one.end:g} mm",
                              "each to begin where the last ends", f'start=Q_({one.end:g}, "mm")')  # fmt: skip
    length = outer[-1].end
    for each in items:
        if each.plain.start < -NEAR or each.last_end > length + NEAR:
            door.complain(f"feature {each.name}", f"{each.plain.start:g} to {each.last_end:g} mm",
                          f"a place on the part, 0 to {length:g} mm", f'end=Q_({length:g}, "mm")',
                          OutOfRange)  # fmt: skip
    if door.complaints:
        return fallback
    shape = Shape.bar(0.0, length, max(max(f.diameter, f.end_diameter) for f in outer) / 2, 0.0)
    for f in [*outer, *inner, *(g.plain for g in items if g.kind in ("groove", "thread", "chamfer"))]:
        shape = shape.with_feature(f)
    wall = shape.wall
    if (wall <= NEAR).any():
        where = float(shape.z[int(np.argmin(wall))])
        door.complain("features", f"no wall left at {where:g} mm", "an inside smaller than the outside everywhere",
                      "a smaller bore or a larger diameter")  # fmt: skip
    return shape


def _room(door: Door, part: Shape, wide: float, long: float, hole: float) -> None:
    """Complain of a stock that the part does not fit in."""
    if float(part.outer.max()) * 2 > wide + NEAR:
        need = float(part.outer.max()) * 2
        door.complain("stock_diameter", f"{wide:g} mm", f"at least {need:g} mm, the part's largest",
                      f'stock_diameter=Q_({need + 2:g}, "mm")', OutOfRange)  # fmt: skip
    if part.length > long + NEAR:
        door.complain("stock_length", f"{long:g} mm", f"at least {part.length:g} mm, the part's length",
                      f'stock_length=Q_({part.length + 2:g}, "mm")', OutOfRange)  # fmt: skip
    if hole > float(part.inner.min()) * 2 + NEAR:
        least = float(part.inner.min()) * 2
        door.complain("stock_bore", f"{hole:g} mm", f"at most {least:g} mm, the part's smallest bore",
                      f'stock_bore=Q_({least:g}, "mm")', OutOfRange)  # fmt: skip
