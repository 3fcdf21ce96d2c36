"""The wanted shape of a turned surface, outside or inside, and the grooves that repeat in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.passes.profile_outline import Corner, flaw, with_corners, with_groove
from latheworks.results import Result
from latheworks.units import Q_, U, show

MOST_POINTS = 5000
MOST_GROOVES = 200
LARGEST = 10_000.0
SIDES = ("outside", "inside")
_POINTS = 'points=[(Q_(0, "mm"), Q_(30, "mm")), (Q_(80, "mm"), Q_(30, "mm"))]'
_PAIR = '(Q_(0, "mm"), Q_(30, "mm"))'


@dataclass(frozen=True, slots=True)
class Groove(Result):
    """One kind of groove with straight walls, cut once or repeated: one feature with a spacing and a count.

    Parameters: start, of the wall nearest to the chuck [mm, -10 m to 10 m]; width [mm, above 0 to 200]; diameter of
    the floor [mm, 0 to 10 m]; count, how many [1 to 200]; spacing, from one to the next [mm, more than the width, 0
    or left out for one]; floor_radius in both corners of the floor [mm, 0 to half of the width]; edge_chamfer at
    both edges [mm, 0 to 20].
    Raises LatheworksError naming every argument that does not fit. Source: geometry.

    >>> Groove(Q_(20, "mm"), Q_(3, "mm"), Q_(26, "mm"), 5, Q_(8, "mm")).length
    <Quantity(35.0, 'millimeter')>
    """

    start: Any
    width: Any
    diameter: Any
    count: int = 1
    spacing: Any = None
    floor_radius: Any = None
    edge_chamfer: Any = None

    def __post_init__(self) -> None:
        none = Q_(0.0, U.mm)
        with Door("Groove") as door:
            start = door.number(self.start, "start", "mm", least=-LARGEST, most=LARGEST, example='start=Q_(20, "mm")')
            width = door.number(self.width, "width", "mm", above=0, most=200, example='width=Q_(3, "mm")')
            floor = door.number(self.diameter, "diameter", "mm", least=0, most=LARGEST,
                                example='diameter=Q_(26, "mm")')  # fmt: skip
            count = door.whole(self.count, "count", least=1, most=MOST_GROOVES)
            apart = door.number(none if self.spacing is None else self.spacing, "spacing", "mm", least=0,
                                most=LARGEST, example=f'spacing=Q_({2 * width:g}, "mm")')  # fmt: skip
            radius = door.number(none if self.floor_radius is None else self.floor_radius, "floor_radius", "mm",
                                 least=0, most=width / 2, example='floor_radius=Q_(0.2, "mm")')  # fmt: skip
            chamfer = door.number(none if self.edge_chamfer is None else self.edge_chamfer, "edge_chamfer", "mm",
                                  least=0, most=20, example='edge_chamfer=Q_(0.3, "mm")')  # fmt: skip
            if count > 1 and apart <= width:
                door.complain("spacing", f"{apart:g} mm for {count} grooves {width:g} mm wide",
                              "more than the width, so that a wall stays",
                              f'spacing=Q_({2 * width:g}, "mm")')  # fmt: skip
        values = {"start": start, "width": width, "diameter": floor, "spacing": apart, "floor_radius": radius,
                  "edge_chamfer": chamfer}  # fmt: skip
        for name, value in values.items():
            object.__setattr__(self, name, Q_(value, U.mm))
        object.__setattr__(self, "count", count)

    @property
    def length(self) -> Any:
        """From the first wall to the last [mm]."""
        return (self.count - 1) * self.spacing + self.width

    @property
    def starts(self) -> np.ndarray:
        """Where each begins, plain numbers [mm]."""
        return self.start.m_as(U.mm) + self.spacing.m_as(U.mm) * np.arange(self.count)

    def title(self) -> str:
        """How many of what."""
        name = "groove" if self.count == 1 else f"{self.count} grooves, {show(self.spacing)} apart,"
        return f"{name} {show(self.width)} wide to {show(self.diameter)}"

    def facts(self) -> list[tuple[str, str]]:
        """Place and corners."""
        return [("starts at", show(self.start)), ("radius at the floor", show(self.floor_radius)),
                ("chamfer at the edges", show(self.edge_chamfer))]  # fmt: skip


@dataclass(frozen=True)
class Profile(Result):
    """The shape wanted, as points along the axis with their diameters and straight pieces between them.

    z grows away from the chuck. Two points at the same z make a wall. A tool on the lathe comes from outside, or out
    of the bore, so the points never go back along z.

    Parameters: points, a list of (z [mm], diameter [mm, 0 to 10 m]), 2 to 5000; side, "outside" or "inside"; stock,
    the diameter there is before the cut [mm; the largest wanted outside, the smallest inside when left out];
    chamfers, point number to size along both sides, such as {1: Q_(1, "mm")} [mm]; fillets, point number to radius
    [mm]; points are counted from 0; grooves, a Groove or a list of them.
    Raises LatheworksError for points that go back or cross, a profile outside the stock, a corner or groove that does
    not fit. Source: geometry.

    >>> step = Profile([(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(0, 30), (40, 30), (40, 20), (60, 20)]])
    >>> print(step)
    outside profile, 4 points, 60.000 mm long
      diameters  20.000 mm to 30.000 mm
      stock      30.000 mm
    """

    points: Sequence[tuple[Any, Any]]
    side: str = "outside"
    stock: Any = None
    chamfers: Mapping[int, Any] | None = None
    fillets: Mapping[int, Any] | None = None
    grooves: Groove | Sequence[Groove] | None = None
    z: np.ndarray = field(init=False, repr=False, compare=False)
    radius: np.ndarray = field(init=False, repr=False, compare=False)
    inside: bool = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        with Door("Profile") as door:
            z, d = _points(door, self.points)
            self._finish(door, z, d)

    @classmethod
    def along(cls, z: Any, diameter: Any, side: Any = "outside", stock: Any = None) -> Profile:
        """A profile from two arrays, for a curve of many points.

        Parameters: z, never falling [mm, 2 to 5000 values]; diameter [mm, 0 to 10 m, as many]; side and stock [mm],
        as in `Profile`. Raises as `Profile` does.

        >>> Profile.along(Q_([0.0, 40.0], "mm"), Q_([30.0, 26.0], "mm")).stock
        <Quantity(30.0, 'millimeter')>
        """
        with Door("Profile.along") as door:
            places = np.atleast_1d(door.array(z, "z", "mm", least=-LARGEST, most=LARGEST,
                                              example='z=Q_([0.0, 40.0], "mm")'))  # fmt: skip
            sizes = np.atleast_1d(door.array(diameter, "diameter", "mm", least=0, most=LARGEST,
                                             example='diameter=Q_([30.0, 30.0], "mm")'))  # fmt: skip
            if not door.complaints and not (2 <= places.size == sizes.size <= MOST_POINTS):
                door.complain("z and diameter", f"{places.size} and {sizes.size} values",
                              f"2 to {MOST_POINTS}, as many of each", 'z=Q_([0.0, 40.0], "mm")',
                              OutOfRange)  # fmt: skip
            made = cls.__new__(cls)
            for name in ("chamfers", "fillets", "grooves"):
                object.__setattr__(made, name, None)
            object.__setattr__(made, "side", side)
            object.__setattr__(made, "stock", stock)
            made._finish(door, places, sizes)
        pairs = zip(places.tolist(), sizes.tolist(), strict=True)
        object.__setattr__(made, "points", tuple((Q_(a, U.mm), Q_(b, U.mm)) for a, b in pairs))
        return made

    def _finish(self, door: Door, z: np.ndarray, d: np.ndarray) -> None:
        """Check the whole, cut grooves and corners, and keep the outline."""
        side = door.choice(self.side, "side", SIDES)
        inside = side == "inside"
        cut, rounded = _corners(door, self.chamfers, "chamfers"), _corners(door, self.fillets, "fillets")
        corners = cut | rounded
        if cut.keys() & rounded.keys():
            door.complain("chamfers and fillets", f"both at point {min(cut.keys() & rounded.keys())}",
                          "one or the other at a point", "another point")  # fmt: skip
        grooves = _grooves(door, self.grooves)
        if door.complaints:
            return
        fault = flaw(z, d)
        if fault:
            door.complain("points", f"point {fault[0]}, at z = {z[fault[0]]:g} mm, {fault[1]}",
                          "points in order along the axis, away from the chuck", _POINTS)  # fmt: skip
            return
        whole = float(d.min() if inside else d.max())
        stock = whole if self.stock is None else door.number(self.stock, "stock", "mm", least=0, most=LARGEST,
                                                             example=f'stock=Q_({whole:g}, "mm")')  # fmt: skip
        if (stock > whole + 1e-9 if inside else stock < whole - 1e-9) and not door.complaints:
            door.complain("stock", f"{stock:g} mm for a profile {'from' if inside else 'up to'} {whole:g} mm",
                          f"stock with the profile in it, {'at most' if inside else 'at least'} {whole:g} mm",
                          f'stock=Q_({whole:g}, "mm")')  # fmt: skip
        z, r = z.copy(), d / 2
        try:
            z, r = _cut(z, r, corners, grooves, inside)
        except ValueError as error:
            door.complain("chamfers, fillets or grooves", str(error), "corners and grooves with room for them",
                          "smaller ones")  # fmt: skip
        for name, value in (("z", z), ("radius", r), ("inside", inside), ("grooves", grooves)):
            object.__setattr__(self, name, value)
        object.__setattr__(self, "stock", Q_(stock, U.mm))
        for kept in (z, r):
            kept.setflags(write=False)

    @property
    def length(self) -> Any:
        """Along the axis [mm]."""
        return Q_(float(self.z[-1] - self.z[0]), U.mm)

    def title(self) -> str:
        """Which side, how long."""
        return f"{self.side} profile, {len(self.points)} points, {show(self.length)} long"

    def facts(self) -> list[tuple[str, str]]:
        """Sizes, stock and grooves."""
        low, high = (Q_(2 * float(end), U.mm) for end in (self.radius.min(), self.radius.max()))
        rows = [("diameters", f"{show(low)} to {show(high)}"), ("stock", show(self.stock))]
        return [*rows, *(("groove", groove.title()) for groove in self.grooves or ())]  # type: ignore[union-attr]


def _points(door: Door, points: Any) -> tuple[np.ndarray, np.ndarray]:
    """The points as two arrays [mm]; a fill-in after a complaint."""
    fill = np.array([0.0, 1.0]), np.array([1.0, 1.0])
    if not isinstance(points, (list, tuple)) or isinstance(points, str):
        door.complain("points", given(points), "a list of (z, diameter)", _POINTS, WrongUnit)
        return fill
    if not 2 <= len(points) <= MOST_POINTS:
        door.complain("points", f"{len(points)} points", f"2 to {MOST_POINTS} points", _POINTS, OutOfRange)
        return fill
    places, sizes = [], []
    for number, pair in enumerate(points):
        if not isinstance(pair, (list, tuple)) or len(pair) != 2:
            door.complain(f"point {number}", given(pair), "a pair (z, diameter)", _PAIR, WrongUnit)
            return fill
        before = len(door.complaints)
        places.append(door.number(pair[0], f"z of point {number}", "mm", least=-LARGEST, most=LARGEST, example=_PAIR))
        sizes.append(door.number(pair[1], f"diameter of point {number}", "mm", least=0, most=LARGEST, example=_PAIR))
        if len(door.complaints) > before:
            return fill  # one bad point is enough to say
    return np.array(places), np.array(sizes)


def _corners(door: Door, value: Any, name: str) -> dict[int, Corner]:
    """Chamfers or fillets by point number."""
    if value is None:
        return {}
    example = f'{name}={{1: Q_(1.0, "mm")}}'
    if not isinstance(value, Mapping) or any(not isinstance(k, int) or isinstance(k, bool) for k in value):
        door.complain(name, given(value), "point numbers with their sizes", example, WrongUnit)
        return {}
    sizes = {int(point): door.number(size, f"{name}, point {point}", "mm", above=0, most=LARGEST, example=example)
             for point, size in list(value.items())[:MOST_POINTS]}  # fmt: skip
    return {point: (name.removesuffix("s"), size) for point, size in sizes.items()}


def _grooves(door: Door, value: Any) -> tuple[Groove, ...]:
    if value is None or isinstance(value, Groove):
        return () if value is None else (value,)
    listed = isinstance(value, (list, tuple)) and 0 < len(value) <= MOST_GROOVES
    if listed and all(isinstance(each, Groove) for each in value):
        return tuple(value)
    door.complain("grooves", given(value), f"a Groove or a list of 1 to {MOST_GROOVES}",
                  'grooves=[Groove(Q_(20, "mm"), Q_(3, "mm"), Q_(26, "mm"))]', WrongUnit)  # fmt: skip
    return ()


def _cut(z: np.ndarray, r: np.ndarray, corners: dict[int, Corner], grooves: tuple[Groove, ...], inside: bool) -> tuple[
        np.ndarray, np.ndarray]:  # fmt: skip
    """Round the corners of the points, then cut each groove, nearest to the chuck first, and round its own."""
    z, r = with_corners(z, r, corners)
    single = sorted(((float(start), g) for g in grooves for start in g.starts), key=lambda pair: pair[0])
    end = -np.inf
    for start, groove in single:
        width, floor = groove.width.m_as(U.mm), groove.diameter.m_as(U.mm) / 2
        if start <= end:
            raise ValueError(f"the grooves at {start:g} mm and before it run into each other")
        end = start + width
        z, r, first = with_groove(z, r, start, width, floor, inside)
        own: dict[int, Corner] = {}
        radius, chamfer = groove.floor_radius.m_as(U.mm), groove.edge_chamfer.m_as(U.mm)
        if radius > 0:
            own |= {first + 1: ("fillet", radius), first + 2: ("fillet", radius)}
        if chamfer > 0:
            own |= {first: ("chamfer", chamfer), first + 3: ("chamfer", chamfer)}
        z, r = with_corners(z, r, own)
    return z, r
