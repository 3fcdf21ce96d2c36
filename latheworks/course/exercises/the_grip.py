"""The barrel's grip end and the tools at hand, for the exercises about reach. All sizes are invented."""

from typing import Any

from latheworks.passes import Groove, Profile, Split, TurningTool, split
from latheworks.units import Q_

START, APART, COUNT, LENGTH, OUTSIDE = 14.0, 9.0, 4, 60.0, 32.0
JAWS, CENTER = (Q_(0, "mm"), Q_(80, "mm")), (Q_(63, "mm"), Q_(46, "mm"))


def mm(value: float) -> Any:
    """A length [mm]."""
    return Q_(float(value), "mm")


def grooves(width: float = 4.0, deep: float = 1.5, floor: float = 0.4) -> Groove:
    """The grip grooves: width, depth on the radius and corner radius of the floor [mm]."""
    return Groove(mm(START), mm(width), mm(OUTSIDE - 2 * deep), COUNT, mm(APART), mm(floor), mm(0.3))


def barrel(cut: Groove | None = None, stock: float = OUTSIDE) -> Profile:
    """The grip end of the barrel, from a blank of this diameter [mm]."""
    points = [(mm(0), mm(OUTSIDE)), (mm(LENGTH), mm(OUTSIDE))]
    return Profile(points, stock=mm(stock), grooves=grooves() if cut is None else cut)


def sloped(stock: float) -> Profile:
    """The same grooves, with the wall away from the chuck laid back so far that a D insert comes down it."""
    points: list[tuple[float, float]] = [(0.0, OUTSIDE)]
    for k in range(COUNT):
        z = START + k * APART
        points += [(z, OUTSIDE), (z, OUTSIDE - 3), (z + 2.5, OUTSIDE - 3), (z + 5.3, OUTSIDE)]
    corners = {point + 4 * k: mm(0.4) for k in range(COUNT) for point in (2, 3)}
    return Profile([(mm(z), mm(d)) for z, d in [*points, (LENGTH, OUTSIDE)]], stock=mm(stock), fillets=corners)


def insert(letter: str = "D", entering: float = 93.0, nose: float = 0.4) -> TurningTool:
    """A right-hand tool with an insert."""
    return TurningTool(letter, Q_(entering, "degree"), mm(nose))


def blade(width: float = 3.0, corner: float = 0.2, out: float = 8.0, hand: str = "right") -> TurningTool:
    """A grooving blade on a shank of 20 mm."""
    return TurningTool(nose_radius=mm(corner), blade_width=mm(width), reach=mm(out), hand=hand)


def shared(profile: Profile) -> Split:
    """The grip end between a tool with a D insert and a blade that runs at half of the speed."""
    return split(profile, [insert(), blade()], Q_([100, 50], "m/min"), Q_([0.2, 0.05], "mm/rev"), Q_([1.5, 3.0], "mm"))
