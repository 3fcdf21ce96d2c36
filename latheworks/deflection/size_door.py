"""What `size_error` and `thread_size_error` check alike, and what they say of a model at the edge of its range."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from latheworks.deflection.holding import BetweenCenters, ChuckAndCenter, Holding
from latheworks.deflection.kernel import Beam, Floats
from latheworks.deflection.moving_kernel import euler_load
from latheworks.deflection.shaft import Shaft
from latheworks.deflection.size_kernel import Passes
from latheworks.door import Door, given
from latheworks.errors import Impossible, OutOfRange, WrongUnit
from latheworks.units import Q_, U, show

_TOOL = 'tool_stiffness=Q_(20000, "N/mm")'
# A cut thinner than the edge is round is rubbed, not cut: common practice, no source.
_RUBS = 0.005
# Shear adds 0.55 (D/L)^2 at the free end of a solid round (derivation): a share of 6 % at three diameters.
SHORT = 3.0


def sizes(shaft: Shaft) -> tuple[Floats, Floats, Floats]:
    """Lengths, outsides and bores of the sections [mm]."""
    rows = np.array([[float(size.m_as(U.mm)) for size in section] for section in shaft.sections])
    return rows[:, 0], rows[:, 1], rows[:, 2]


def outside_at(part: tuple[Floats, Floats, Floats], at: Any) -> Any:
    """The outside diameter at each position [mm]; at a step that of the piece nearer the chuck."""
    ends = np.cumsum(part[0])
    return part[1][np.minimum(np.searchsorted(ends, at * (1 - 1e-12), side="left"), len(ends) - 1)]


def check_edge(door: Door, edge_force: Any) -> float:
    """The force on the edge at the thinnest cut [N]; none when left out."""
    return 0.0 if edge_force is None else door.number(edge_force, "edge_force", "N", least=0.0)


def check_tool(door: Door, tool_stiffness: Any) -> float:
    """What tool and toolpost give [mm/N]; nothing when left out."""
    if tool_stiffness is None:
        return 0.0
    return 1.0 / door.number(tool_stiffness, "tool_stiffness", "N/mm", least=1.0, finite=False, example=_TOOL)


def check_height(door: Door, off_center: Any) -> float:
    """How far the tool stands above center height [mm]; on center when left out."""
    return 0.0 if off_center is None else door.number(off_center, "off_center", "mm", least=-1e3, most=1e3)


def check_ratio(door: Door, value: Any, name: str, least: float, most: float, usual: float) -> float:
    """A plain ratio within its bounds."""
    if isinstance(value, Q_) and value.dimensionless and value.units not in (U.deg, U.rad):
        value = value.m_as(U.one)
    plain = isinstance(value, (int, float, np.integer, np.floating)) and not isinstance(value, (bool, np.bool_))
    if plain and least <= value <= most:
        return float(value)
    kind = OutOfRange if plain else WrongUnit
    door.complain(name, given(value), f"a plain number from {least:g} to {most:g}", f"{name}={usual:g}", kind)
    return usual


def refuse_digging_in(function: str, passes: Passes, at: Floats, depth: float) -> None:
    """Refuse a cut in which the tool digs in: the feed force bends the part toward it faster than it cuts."""
    gone = passes.taken[0] > 2.0 * depth
    if gone.any():
        raise Impossible(
            f"{function}: at {at[gone.argmax()]:.4g} mm the feed force bends the part into the tool, which digs in "
            f"to more than twice the depth set: {passes.taken[0].max():.3g} mm for {depth:g} mm. Try a larger "
            "nose_radius, a smaller feed, or a center."
        )


def buckling(function: str, holding: Holding, part: Beam, push: float) -> str | None:
    """A note on the push along the part; Impossible where the part buckles under it."""
    limit = euler_load(holding, part)
    if push >= limit:
        raise Impossible(
            f"{function}: {holding.title().lower()} the part buckles under a push of {limit:.4g} N along it, and "
            f"feed and center push with {push:.4g} N. Try a smaller feed or depth, a lighter center_push, or a "
            "shorter or thicker part."
        )
    if push < 0.05 * limit:
        return None
    return (
        f"the push along the part, {push:.3g} N, is {100 * push / limit:.0f} % of its buckling load: it bends about "
        f"{100 / (1 - push / limit) - 100:.0f} % more than said here"
    )


def range_notes(shaft: Shaft, holding: Holding, widest: float) -> list[str]:
    """What the bending sums leave out of a short part, and what the stiffnesses are worth."""
    ratio = shaft.beam.length / widest
    # Carried at both ends a part is as stiff in bending as one of half its length, and shear counts four times.
    ends = 2 if isinstance(holding, (ChuckAndCenter, BetweenCenters)) else 1
    if ratio >= SHORT * ends:
        return []
    share = 100 * 0.55 * (ends / ratio) ** 2
    return [
        f"only {ratio:.2g} diameters long: bending by shear is left out, and would add up to about {share:.0f} % to "
        "what the part itself bends"
    ]


def pass_notes(passes: Passes, edge: float, springs: int) -> list[str]:
    """What the passes themselves show."""
    notes = []
    last = passes.taken[-1]
    if (last <= 0.0).all() and springs:
        notes.append("the last pass takes nothing: the edge force alone holds the part off, and the tool rubs")
    elif (last < _RUBS).any() and springs:
        notes.append(
            f"the last pass takes less than {_RUBS:g} mm in places: so thin a cut rubs rather than cuts "
            "(common practice, no source)"
        )
    if springs and math.isclose(edge, 0.0):
        notes.append("no edge force given, so the error shrinks with every spring pass; in the shop it stops sooner")
    return notes


def written_stiffness(value: Any) -> str:
    """A stiffness as a shop would write it."""
    return "rigid" if math.isinf(value.magnitude) else show(value)
