"""How far a boring bar bends, and how small the bore comes out: the bar gives here, not the part."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.deflection.boring_bar_result import BoringBarError
from latheworks.deflection.kernel import second_moment
from latheworks.deflection.series import series
from latheworks.door import Door, given
from latheworks.errors import WrongUnit
from latheworks.tables import table
from latheworks.units import Q_, U

_FORCE = 'force=Q_(150, "N")'
_DEPTH = 'depth=Q_(0.5, "mm"), cutting_stiffness=Q_(300, "N/mm")'


def bar_stiffness(overhang: Any, diameter: Any, hole: Any, modulus: Any) -> Any:
    """3 E I/L^3 of a bar clamped at one end [N/mm], of mm and MPa."""
    return 3.0 * modulus * second_moment(diameter, hole) / np.power(overhang, 3)


def left_by_pass(depth: float, cutting: float, stiffness: float, edge: float, passes: int) -> np.ndarray:
    """What each pass leaves standing, on the radius [mm].

    The bar is set to the full depth and yields by y, so it takes r - y of the r before it: with force = cutting x
    (r - y) + edge = stiffness x y, y = (cutting r + edge)/(cutting + stiffness). An edge force that bends the bar by
    more than there is to take leaves the bore as it was.
    """
    left, before = [], depth
    for _ in range(passes):
        before = min(before, (cutting * before + edge) / (cutting + stiffness))
        left.append(before)
    return np.array(left)


def boring_bar_error(overhang: Any, diameter: Any, bar: Any = "steel", *, hole: Any = None, force: Any = None,
                     depth: Any = None, cutting_stiffness: Any = None, edge_force: Any = None,
                     spring_passes: int = 0, holder: Any = None) -> BoringBarError:  # fmt: skip
    """Return how small a bore comes out because the boring bar bends away from the wall.

    y = F/k, with 1/k = L^3/(3 E I) + 1/k_holder of the BAR; the bore is 2 y too small, and by the same amount all
    along, since the clamp fixes the overhang: the bar makes no taper. From a depth instead of a force, the bar lowers
    its own cut: y = (Kr a + Fe)/(Kr + k). A spring pass leaves Kr/(Kr + k) of the rest, and never less than Fe/k.
    Parameters: overhang from clamp to edge [mm, 0.1 mm to 5 m]; diameter of the bar [mm, 0.5 to 500]; bar, "steel",
    "heavy metal" or "carbide", or an elastic modulus [MPa, 1 MPa to 10 000 GPa]; hole through the bar [mm, less than
    the diameter; solid when left out]; and either force, the push square to the axis of the bore [N, 0 or more], or
    depth of cut on the radius [mm, above 0] with cutting_stiffness Kr, that push for each mm of depth [N/mm, above
    0]; with these, edge_force Fe, the push of an edge that only rubs [N, 0 or more] and spring_passes [0 to 20];
    holder, the stiffness behind the clamp [N/mm, 1 or more, may be infinite; rigid when left out].
    Raises WrongUnit, OutOfRange, NotInTable, and Impossible for a hole as large as the bar, or a bar that would bend
    by more than a tenth of its overhang.
    Source: E. Isakov, Boring: calculating deflection (2019), read; equilibrium of force and depth, derivation. The
    bar is a slender one: below 3 diameters of overhang shear adds 0.55 (D/L)^2 and more, and is left out.

    >>> from latheworks.units import show
    >>> bore = boring_bar_error(Q_(64, "mm"), Q_(16, "mm"), force=Q_(80, "N"))
    >>> show(bore.deflection, digits=4), show(bore.diameter_error, digits=4)
    ('0.0105 mm', '-0.0210 mm')
    """
    with Door("boring_bar_error") as door:
        long = door.number(overhang, "overhang", "mm", least=0.1, most=5000.0, example='overhang=Q_(64, "mm")')
        across = door.number(diameter, "diameter", "mm", least=0.5, most=500.0, example='diameter=Q_(16, "mm")')
        through = 0.0
        if hole is not None:
            through = door.number(hole, "hole", "mm", least=0.0, most=500.0, example=f'hole=Q_({across / 4:g}, "mm")')
            if through >= across:
                expected = f"less than the bar's diameter of {across:g} mm"
                door.complain("hole", given(hole), expected, f'hole=Q_({across / 4:g}, "mm")')
                through = 0.0
        modulus, name = _modulus(door, bar)
        behind = float("inf")
        if holder is not None:
            behind = door.number(holder, "holder", "N/mm", least=1.0, finite=False, example='Q_(50000, "N/mm")')
        push, cut, cutting, edge = _load(door, force, depth, cutting_stiffness, edge_force)
        passes = 1 + door.whole(spring_passes, "spring_passes", least=0, most=20)
        if force is not None and passes > 1:
            door.complain(
                "spring_passes", given(spring_passes), "0 with a force that is given", _DEPTH + ", spring_passes=2"
            )
    own = float(bar_stiffness(long, across, through, modulus))
    stiffness = series([own, behind])
    left = np.array([push / stiffness]) if force is not None else left_by_pass(cut, cutting, stiffness, edge, passes)
    if left[0] > long / 10:
        with Door("boring_bar_error") as door:
            got = f"a bar that bends by {left[0]:.3g} mm over {long:g} mm"
            door.complain("force", got, "a tenth of the overhang at most", "a lighter cut or a thicker, shorter bar")
    return BoringBarError(
        overhang=Q_(long, U.mm),
        diameter=Q_(across, U.mm),
        hole=Q_(through, U.mm),
        bar=name,
        elastic_modulus=Q_(modulus, U.MPa),
        bar_stiffness=Q_(own, U.N_per_mm),
        holder=Q_(behind, U.N_per_mm),
        stiffness=Q_(stiffness, U.N_per_mm),
        depth=None if force is not None else Q_(cut, U.mm),
        cutting_stiffness=None if force is not None else Q_(cutting, U.N_per_mm),
        edge_force=Q_(edge, U.N),
        force=Q_(float(left[0] * stiffness), U.N),
        deflection=Q_(float(left[-1]), U.mm),
        diameter_error=Q_(-2.0 * float(left[-1]), U.mm),
        per_pass=Q_(-2.0 * left, U.mm),
    )


def _modulus(door: Door, bar: Any) -> tuple[float, str]:
    """Elastic modulus of the bar [MPa], and what to call it."""
    if isinstance(bar, Q_):
        return door.number(bar, "bar", "MPa", least=1.0, most=1e7, example='bar="carbide"'), "bar of a given modulus"
    rows = {row["name"]: row for row in table("boring_bars")}
    name = door.choice(bar, "bar", tuple(rows))
    return 1000.0 * float(rows[name]["elastic modulus [GPa]"]), name


def _load(door: Door, force: Any, depth: Any, cutting_stiffness: Any, edge_force: Any) -> tuple[float, ...]:
    """Force [N], depth [mm], cutting stiffness [N/mm] and edge force [N]: a force, or the three that make one."""
    push = cut = edge = 0.0
    cutting = 1.0
    if force is not None:
        push = door.number(force, "force", "N", least=0.0, example=_FORCE)
        more = {"depth": depth, "cutting_stiffness": cutting_stiffness, "edge_force": edge_force}
        for name, value in more.items():
            if value is not None:
                door.complain(name, given(value), "a force, or a depth and a cutting stiffness, not both", _FORCE)
        return push, cut, cutting, edge
    if depth is None and cutting_stiffness is None:
        door.complain(
            "force", "None", "a force, or a depth and a cutting stiffness", f"{_FORCE}, or {_DEPTH}", WrongUnit
        )
        return push, cut, cutting, edge
    cut = door.number(depth, "depth", "mm", above=0.0, most=100.0, example=_DEPTH)
    cutting = door.number(cutting_stiffness, "cutting_stiffness", "N/mm", above=0.0, example=_DEPTH)
    if edge_force is not None:
        edge = door.number(edge_force, "edge_force", "N", least=0.0, example='edge_force=Q_(10, "N")')
    return push, cut, cutting, edge
