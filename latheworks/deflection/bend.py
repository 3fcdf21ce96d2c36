"""How far the part bends away from the tool."""

from __future__ import annotations

from typing import Any

from latheworks.deflection.holding import Holding
from latheworks.deflection.shaft import LONGEST, MOST_SECTIONS, Shaft
from latheworks.door import Door
from latheworks.errors import Impossible
from latheworks.units import Q_, U, show

_SHAFT = 'Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))'
_FORCE = 'force=Q_(150, "N")'
# A position worked out in inches may pass the end by a few units in the last place.
_SLACK = 1e-9


def check_setup(door: Door, shaft: Any, holding: Any) -> float:
    """Complain of a shaft, a holding or a rest that does not fit; return the length [mm]."""
    door.instance(shaft, "shaft", Shaft, "a Shaft", f"shaft={_SHAFT}")
    door.instance(holding, "holding", Holding, "Chuck, ChuckAndCenter or BetweenCenters", "holding=Chuck()")
    if not isinstance(shaft, Shaft):
        return LONGEST * MOST_SECTIONS
    rest = holding.rest_position if isinstance(holding, Holding) else None
    if rest is not None and rest > shaft.beam.length * (1 + _SLACK):
        door.complain(
            "rest", f"a rest at {rest:g} mm", f"a position on the part, which is {show(shaft.length)} long",
            f'rest=(Q_({shaft.beam.length / 2:g}, "mm"), Q_(20000, "N/mm"))', Impossible,
        )  # fmt: skip
    return shaft.beam.length


def check_force(door: Door, force: Any) -> float:
    """The push of the tool [N]."""
    return door.number(force, "force", "N", least=0.0, example=_FORCE)


def check_place(door: Door, place: Any, name: str, length: float, *, one: bool = False) -> Any:
    """Positions along the part [mm], or a single one as a float."""
    most, example = length * (1 + _SLACK), f'{name}=Q_({length / 2:g}, "mm")'
    if one:
        return min(door.number(place, name, "mm", least=0.0, most=most, example=example), length)
    return door.array(place, name, "mm", least=0.0, most=most, example=example).clip(0.0, length)


def deflection(shaft: Shaft, holding: Holding, force: Any, at: Any) -> Any:
    """Deflection under the tool as it stands at each position, positive away from the tool.

    y(a) = F f(a, a), with f(a, a) = 1/k_radial + a^2/k_tilt + int_0^a (a - s)^2/(E I) ds in a chuck; a center
    or a rest at s with stiffness k takes off f(a, s)^2/(f(s, s) + 1/k). The diameter is left 2 y too large.

    Parameters: shaft, a `Shaft`; holding, `Chuck`, `ChuckAndCenter` or `BetweenCenters`; force, the push of
    the tool square to the axis [N, 0 or more]; at, one position or an array of them, from the chuck face or
    the headstock center [mm, 0 to the length]. Returns [mm], of the shape of `at`.
    Raises WrongUnit, OutOfRange, or Impossible for a rest beyond the part.
    Source: force method on an Euler-Bernoulli beam (derivation), checked against the beam tables of named
    books. Small deflections only; below a length of about 3 diameters shear is not negligible.

    >>> from latheworks.deflection import Chuck, Shaft
    >>> bar = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    >>> rigid = Chuck(tilt=Q_(float("inf"), "N*mm/rad"), radial=Q_(float("inf"), "N/mm"))
    >>> show(deflection(bar, rigid, Q_(150, "N"), Q_(80, "mm")), digits=4)
    '0.0472 mm'
    """
    with Door("deflection") as door:
        length = check_setup(door, shaft, holding)
        push = check_force(door, force)
        places = check_place(door, at, "at", length)
    sag = push * holding.flexibility(shaft.beam)(places, places)
    return Q_(sag if sag.ndim else float(sag), U.mm)


def deflected_shape(shaft: Shaft, holding: Holding, force: Any, at: Any, along: Any) -> Any:
    """Deflection at every position `along` the part while the tool stands at one position.

    y(x) = F f(x, a), with f as in `deflection`.

    Parameters: shaft, holding and force as in `deflection`; at, the one position of the tool [mm]; along, one
    position or an array of them [mm], both 0 to the length. Returns [mm], of the shape of `along`; below
    nought where the part bends toward the tool. Raises and source as in `deflection`.

    >>> from latheworks.deflection import Chuck, Shaft
    >>> bar = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    >>> rigid = Chuck(tilt=Q_(float("inf"), "N*mm/rad"), radial=Q_(float("inf"), "N/mm"))
    >>> show(deflected_shape(bar, rigid, Q_(150, "N"), Q_(80, "mm"), Q_([0.0, 40.0, 80.0], "mm")), digits=4)
    '0.0000, 0.0148, 0.0472 mm'
    """
    with Door("deflected_shape") as door:
        length = check_setup(door, shaft, holding)
        push = check_force(door, force)
        tool = check_place(door, at, "at", length, one=True)
        places = check_place(door, along, "along", length)
    sag = push * holding.flexibility(shaft.beam)(places, tool)
    return Q_(sag if sag.ndim else float(sag), U.mm)
