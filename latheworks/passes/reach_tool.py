"""A lathe tool as its shape in the plane of the cut: insert or blade, holder, and which way it looks."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import Any

from latheworks.cutting import angle_in_degrees
from latheworks.door import Door, given
from latheworks.errors import NotInTable, WrongUnit
from latheworks.passes.reach_shape import Part, blade, pointed
from latheworks.results import Result
from latheworks.tables import table
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

HANDS = ("right", "left", "neutral")
# Of the holder's steel, as for boring bars [MPa].
STEEL = 210_000.0


@cache
def insert_angles() -> MappingProxyType[str, float]:
    """Return the included angle [deg] of each insert shape by its letter; 0 for R, the round one.

    Raises nothing. Source: ISO 1832 as makers' catalogs print it, latheworks/data/insert_shapes.csv.

    >>> insert_angles()["D"]
    55.0
    """
    return MappingProxyType({row["letter"]: float(row["included angle [degree]"]) for row in table("insert_shapes")})


@dataclass(frozen=True)
class TurningTool(Result):
    """A turning, boring, grooving or round-nosed tool, as far as its shape decides what it can reach.

    The back edge stands at 180 - entering_angle - insert_angle degrees to the axis; a surface that falls more steeply
    behind the nose is out of its reach. A right-hand tool feeds toward the chuck, a left-hand one away from it.

    Parameters: insert, a letter of ISO 1832, left out for a blade; entering_angle, between main edge and axis
    [deg, 10 to 150; 93 when left out, half of what the insert leaves for a neutral tool, none for R and blades];
    nose_radius, of R the insert's own, of a blade its corners' [mm, 0 to 50]; blade_width [mm, above 0 to 50];
    shank, side of the square shank, or diameter of a boring bar [mm, 1 to 200]; reach, how far the tip stands out of
    the shank, toward the work [mm, above 0 to 500]; hand, "right", "left" or "neutral"; bar_length, for a boring tool
    the free length of its bar [mm, above 0 to 2000]; name, for text.
    Raises LatheworksError for what does not fit, NotInTable for another letter, and Impossible for an insert whose
    back would rub. Source: the angles: geometry; letters: `insert_angles`.

    >>> TurningTool("D", Q_(93, "degree"), Q_(0.4, "mm")).back_angle
    <Quantity(32.0, 'degree')>
    """

    insert: str | None = None
    entering_angle: Any = None
    nose_radius: Any = None
    blade_width: Any = None
    shank: Any = None
    reach: Any = None
    hand: str = "right"
    bar_length: Any = None
    name: str | None = None
    parts: tuple[Part, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        with Door("TurningTool") as door:
            values = self._checked(door)
        shank, reach, bar = values["shank"], values["reach"], values["bar_length"]
        r, width = values["nose_radius"], values["blade_width"]
        if width is not None or self.insert == "R":
            parts = blade(width if width is not None else 2 * r, r, reach, shank, self.hand, bar)
        else:
            kappa = values["entering_angle"]
            parts = pointed(kappa, insert_angles()[str(self.insert)], r, reach, shank, self.hand, bar)
        put = object.__setattr__
        for key, value in values.items():
            put(self, key, None if value is None else Q_(value, U.deg if key == "entering_angle" else U.mm))
        put(self, "parts", parts)

    def _checked(self, door: Door) -> dict[str, Any]:
        """All sizes as numbers [mm, deg], after every check."""
        hand = door.choice(self.hand, "hand", HANDS)
        if self.name is not None:
            door.text(self.name, "name", longest=60, example="roughing tool")
        is_blade = self.blade_width is not None
        if is_blade == (self.insert is not None):
            door.complain("insert or blade_width", "both" if is_blade else "neither",
                          "one of the two: an insert or a blade",
                          'insert="D", or blade_width=Q_(3, "mm")', WrongUnit)  # fmt: skip
        angle = None if self.insert is None else self._letter(door)
        round_nose = is_blade or angle == 0.0
        width = door.number(self.blade_width, "blade_width", "mm", above=0, most=50,
                            example='blade_width=Q_(3, "mm")') if is_blade else None  # fmt: skip
        usual = Q_(0.0 if is_blade else (3.0 if round_nose else 0.4), U.mm)
        nose = door.number(usual if self.nose_radius is None else self.nose_radius, "nose_radius", "mm",
                           least=0, most=width / 2 if width else 50, example='nose_radius=Q_(0.4, "mm")')  # fmt: skip
        if angle == 0.0 and nose == 0.0:
            door.complain("nose_radius", "0 for a round insert", "half of its diameter", 'nose_radius=Q_(3, "mm")')
        kappa = self._entering(door, angle or 60.0, round_nose, hand)
        shank = door.number(Q_(20.0, U.mm) if self.shank is None else self.shank, "shank", "mm", least=1, most=200,
                            example='shank=Q_(20, "mm")')  # fmt: skip
        reach = door.number(Q_(10.0, U.mm) if self.reach is None else self.reach, "reach", "mm", above=0, most=500,
                            example='reach=Q_(10, "mm")')  # fmt: skip
        if reach <= nose:
            door.complain("reach", f"{reach:g} mm with a nose radius of {nose:g} mm", "more than the nose radius",
                          f'reach=Q_({4 * nose:g}, "mm")')  # fmt: skip
        bar = None if self.bar_length is None else door.number(self.bar_length, "bar_length", "mm", above=0, most=2000,
                                                               example='bar_length=Q_(60, "mm")')  # fmt: skip
        if kappa is not None and angle and kappa + angle > 180.0 - 1e-9:
            door.complain("entering_angle", f"{kappa:g} degrees with an insert of {angle:g} degrees",
                          f"less than {180 - angle:g} degrees, or the back of the insert rubs on what it has cut",
                          f'entering_angle=Q_({180 - angle - 5:g}, "degree")')  # fmt: skip
        return {"entering_angle": kappa, "nose_radius": nose, "blade_width": width, "shank": shank, "reach": reach,
                "bar_length": bar}  # fmt: skip

    def _letter(self, door: Door) -> float:
        known = insert_angles()
        if isinstance(self.insert, str) and self.insert in known:
            return known[self.insert]
        kind = NotInTable if isinstance(self.insert, str) else WrongUnit
        letters = " ".join(known)
        door.complain("insert", given(self.insert), f"a letter of ISO 1832, one of {letters}", 'insert="D"', kind)
        return 55.0

    def _entering(self, door: Door, angle: float, round_nose: bool, hand: str) -> float | None:
        if round_nose:
            if self.entering_angle is not None:
                door.complain("entering_angle", given(self.entering_angle), "none for a blade or a round insert",
                              "to leave it out", WrongUnit)  # fmt: skip
            return None
        even = (180.0 - angle) / 2
        if self.entering_angle is None:
            return even if hand == "neutral" else min(93.0, 180.0 - angle - 5.0)
        kappa = angle_in_degrees(door, self.entering_angle, "entering_angle", least=10, most=150,
                                 example='entering_angle=Q_(93, "degree")')  # fmt: skip
        if hand == "neutral" and abs(kappa - even) > 1e-6:
            door.complain("entering_angle", f"{kappa:g} degrees on a neutral tool",
                          f"{even:g} degrees, the same on both sides", 'hand="right"')  # fmt: skip
        return kappa

    @property
    def insert_angle(self) -> Any:
        """The included angle of the insert [deg]; None for a blade."""
        return None if self.insert is None else Q_(insert_angles()[self.insert], U.deg)

    @property
    def back_angle(self) -> Any:
        """The steepest fall behind the nose that the back edge clears [deg]; 90 for a blade and a round insert."""
        if self.entering_angle is None:
            return Q_(90.0, U.deg)
        return Q_(min(90.0, 180.0 - self.entering_angle.m_as(U.deg) - insert_angles()[str(self.insert)]), U.deg)

    def copying_angle(self, free_angle: Any = None) -> Any:
        """Return the steepest fall to plan with: the back angle less a free angle.

        Parameters: free_angle between insert and work [deg, 0 to 30; 2 when left out, the least; 7 is advised for
        finish and tool life]. Returns [deg], 0 at least. Raises LatheworksError for what is no angle.
        Source: a tool maker's page on internal turning (insert_free_angle).

        >>> TurningTool("V", Q_(93, "degree")).copying_angle(Q_(7, "degree"))
        <Quantity(45.0, 'degree')>
        """
        with Door("copying_angle") as door:
            free = 2.0 if free_angle is None else angle_in_degrees(door, free_angle, "free_angle", least=0, most=30,
                                                                   example='free_angle=Q_(2, "degree")')  # fmt: skip
        return Q_(max(0.0, self.back_angle.m_as(U.deg) - free), U.deg)

    @property
    def stiffness(self) -> Any:
        """Force over bending of the free part in its weaker direction, a clamped steel bar 3 E I / L^3 [N/mm]."""
        shank, free = self.shank.m_as(U.mm), (self.bar_length or self.reach).m_as(U.mm)
        if self.bar_length is not None:
            inertia = math.pi * shank**4 / 64
        else:
            inertia = shank * (shank if self.blade_width is None else self.blade_width.m_as(U.mm)) ** 3 / 12
        return Q_(3 * STEEL * inertia / free**3, U.N_per_mm)

    def title(self) -> str:
        """Its name, or what it is."""
        if self.name:
            return self.name
        if self.blade_width is not None:
            return f"blade {show(self.blade_width)} wide"
        return f"{self.hand}-hand tool, insert {self.insert}"

    def facts(self) -> list[tuple[str, str]]:
        """The shape, and what follows from it."""
        rows = [("nose radius", show(self.nose_radius)), ("shank", show(self.shank)), ("reach", show(self.reach))]
        if self.entering_angle is not None:
            rows = [("insert", f"{self.insert}, {show(self.insert_angle)}"),
                    ("entering angle", show(self.entering_angle)),
                    ("steepest fall behind the nose", show(self.back_angle)), *rows]  # fmt: skip
        return [*rows, *([("free length of the bar", show(self.bar_length))] if self.bar_length is not None else [])]

    @property
    def working(self) -> Working:
        """The back angle, for a tool that has one."""
        if self.entering_angle is None:
            return Working(self.title(), ())
        kappa, eps = self.entering_angle.m_as(U.deg), self.insert_angle.m_as(U.deg)
        line = Line("back angle", "180 - entering angle - insert angle", f"180 - {kappa:g} - {eps:g}",
                    f"{180 - kappa - eps:g} degree", "geometry")  # fmt: skip
        return Working(self.title(), (line,))
