"""The size that comes out of a turning cut: force and bending in balance, under the tool as it moves."""

from __future__ import annotations

from typing import Any

import numpy as np

from latheworks.cutting.kernel import radial_force
from latheworks.cutting.plain_numbers import angle_in_degrees, pair
from latheworks.deflection.bend import check_place, check_setup
from latheworks.deflection.holding import BetweenCenters, ChuckAndCenter, Holding
from latheworks.deflection.kernel import Floats
from latheworks.deflection.moving_kernel import cut_down, under_tool
from latheworks.deflection.shaft import Shaft
from latheworks.deflection.size_door import (
    buckling,
    check_edge,
    check_height,
    check_tool,
    outside_at,
    pass_notes,
    range_notes,
    refuse_digging_in,
    sizes,
)
from latheworks.deflection.size_kernel import Give, run
from latheworks.deflection.size_result import SizeError
from latheworks.door import Door, given
from latheworks.errors import Impossible, OutOfRange, WrongUnit
from latheworks.materials import Material, pick
from latheworks.units import Q_, U

DIRECTIONS = ("toward the chuck", "away from the chuck")
_PER_N, _PER_NMM = U.mm / U.N, 1 / U.N
_DEPTH, _FEED = 'depth=Q_(0.5, "mm")', 'feed=Q_(0.1, "mm/rev")'


def size_error(shaft: Shaft, holding: Holding, depth: Any, feed: Any, at: Any, *, material: Any = None,
               nose_radius: Any = None, entering_angle: Any = None, spring_passes: Any = 0, edge_force: Any = None,
               tool_stiffness: Any = None, off_center: Any = None, direction: Any = DIRECTIONS[0],
               stretch: Any = None, center_push: Any = None) -> SizeError:  # fmt: skip
    """Return how much too large an outside diameter comes out along the part, pass by pass.

    The tool is set to leave r0 = blank radius - depth. In balance r = sqrt((x + y_r)^2 + (e - y_t)^2), with x and e
    where the tool's point stands, y_r = f (Fp + Fe) + (Fp + Fe)/k_tool -/+ c Ff r_cut, y_t = f Fc, and the forces
    those of the depth really taken, blank radius - r. error = 2 (r - r0). With Fp = K depth alone it is
    2 depth K/(K + k), k = 1/f, and a spring pass leaves K/(K + k) of it; with an edge force never less than 2 f Fe.

    Parameters:
    shaft, the part as it stands BEFORE this cut; holding, `Chuck`, `ChuckAndCenter` or `BetweenCenters`;
    depth of cut, on the radius [mm, above 0, less than the wall there is], the same on every section of the stretch;
    feed [mm/rev, above 0 to 5]; at, one position or many from the chuck face or headstock center [mm, in the stretch];
    material, a name or a Material: the shaft's own when not given; nose_radius [mm, 0 to 20; 0.4 when not given];
    entering_angle between edge and axis [deg, 10 to 135; 90 when not given]; spring_passes at the same setting
    [0 to 20]; edge_force, radial, that is there at the thinnest cut [N; none when not given];
    tool_stiffness of tool and toolpost together [N/mm, 1 or more, may be infinite; rigid when not given];
    off_center, the tool's height above center [mm; 0 when not given], touched off on the blank; direction,
    "toward the chuck" (the feed force bends the part back to the tool, and between chuck and tool it has still
    its old diameter) or "away from the chuck"; stretch, (start, end) that is turned [mm; all when not given];
    center_push, of the tailstock along the part [N; none when not given].

    Raises LatheworksError with one message for all arguments that do not fit, and Impossible for a depth that leaves
    no part, a part that buckles, or a tool that digs in.
    Source: equilibrium (derivation); force by Kienzle's form and Colwell's chord, see `cutting_force`; flexibility as
    in `deflection`. Outside diameters only: a bore comes out small, and it is the bar that bends.

    >>> from latheworks.deflection import Chuck
    >>> from latheworks.units import show
    >>> barrel = Shaft.bar(Q_(200, "mm"), Q_(32, "mm"), Q_(20, "mm"), "6061-T6")
    >>> cut = size_error(barrel, Chuck(), Q_(0.5, "mm"), Q_(0.1, "mm/rev"), Q_([50.0, 200.0], "mm"), spring_passes=1)
    >>> show(cut.per_pass, "inch")
    '0.0001, 0.0021, 0.0000, 0.0003 in'
    """
    with Door("size_error") as door:
        length = check_setup(door, shaft, holding)
        cut = door.number(depth, "depth", "mm", above=0.0, most=1000.0, example=_DEPTH)
        advance = door.number(feed, "feed", "mm/rev", above=0.0, most=5.0, example=_FEED)
        start, end = _stretch(door, stretch, length)
        places = check_place(door, at, "at", length)
        stuff = _material(door, shaft, material)
        specific, exponent = pair(door, stuff)
        nose = 0.4 if nose_radius is None else door.number(nose_radius, "nose_radius", "mm", least=0.0, most=20.0)
        angle = 90.0 if entering_angle is None else angle_in_degrees(
            door, entering_angle, "entering_angle", least=10, most=135, example='entering_angle=Q_(90, "degree")'
        )  # fmt: skip
        springs = door.whole(spring_passes, "spring_passes", least=0, most=20)
        edge, soft = check_edge(door, edge_force), check_tool(door, tool_stiffness)
        height = check_height(door, off_center)
        way = door.choice(direction, "direction", DIRECTIONS)
        push = 0.0 if center_push is None else door.number(center_push, "center_push", "N", least=0.0)
        if push and not isinstance(holding, (ChuckAndCenter, BetweenCenters)):
            door.complain("center_push", given(center_push), "no push, since there is no center",
                          "holding=ChuckAndCenter(), or leave it out", Impossible)  # fmt: skip
        if not door.complaints:
            part = sizes(shaft)
            spots = places.ravel()
            _inside(door, spots, start, end)
            blank = outside_at(part, spots) / 2
            _enough_left(door, part, start, end, cut, height)

    toward = way == DIRECTIONS[0]
    modulus = float(shaft.elastic_modulus.m_as(U.MPa))
    finished = cut_down(part, modulus, start, end, cut)
    near, far = (shaft.beam, finished) if toward else (finished, shaft.beam)
    first, couple = under_tool(holding, near, far, spots)
    count = springs + 1
    sag, twist = np.tile(first, (count, 1)), np.tile(couple, (count, 1))
    if springs:
        sag[1:], twist[1:] = under_tool(holding, finished, finished, spots)
    # The feed force acts in the middle of the cut; a spring pass has next to no depth.
    lever = np.tile(blank - cut, (count, 1))
    lever[0] += cut / 2
    give = Give(sag + soft, sag, (-1.0 if toward else 1.0) * twist * lever)
    stand = np.sqrt(blank**2 - height**2) - cut
    stands = np.tile(stand, (count, 1))

    def force(_: Any, taken: Any) -> tuple[Any, Any, Any]:
        return radial_force(specific, exponent, taken, advance, nose, angle)

    passes = run(force, give, edge, blank, stands, height)
    refuse_digging_in("size_error", passes, spots, cut)
    notes = [
        buckling("size_error", holding, finished, push + float(passes.feed.max())),
        *range_notes(shaft, holding, float(part[1].max())),
        *pass_notes(passes, edge, springs),
    ]
    shape = places.shape
    per_pass = 2.0 * (passes.left - (blank - cut))

    def rows(values: Floats, unit: Any) -> Any:
        return Q_(values.reshape(count, *shape), unit)

    def row(values: Floats, unit: Any) -> Any:
        return Q_(values.reshape(shape) if shape else float(values[0]), unit)

    return SizeError(
        shaft=shaft, holding=holding, material=stuff, direction=way, set_depth=depth, feed=feed,
        nose_radius=Q_(nose, U.mm), entering_angle=Q_(angle, U.deg), edge_force=Q_(edge, U.N),
        tool_stiffness=Q_(1 / soft if soft else np.inf, U.N_per_mm), off_center=Q_(height, U.mm),
        spring_passes=springs, at=row(spots, U.mm), error=row(per_pass[-1], U.mm), per_pass=rows(per_pass, U.mm),
        depth=rows(passes.taken, U.mm), cutting_force=rows(passes.tangential, U.N), feed_force=rows(passes.feed, U.N),
        radial_force=rows(passes.radial, U.N), bend=rows(passes.away, U.mm), side_bend=rows(passes.side, U.mm),
        residual_ratio=passes.ratio.reshape(count, *shape), edge_limit=row(2 * edge * give.away[-1], U.mm),
        diameter=row(2 * (blank - cut), U.mm), flexibility=row(sag[-1], _PER_N),
        couple_flexibility=row(twist[-1], _PER_NMM),
        notes=tuple(note for note in notes if note),
    )  # fmt: skip


def _material(door: Door, shaft: Any, material: Any) -> Material:
    """What is cut: what was named, or what the shaft is made of."""
    if material is not None:
        return pick(door, material)
    own = getattr(shaft, "material", "6061-T6")
    if isinstance(own, Q_):
        door.complain("material", "none, and a shaft with an elastic modulus only", "a material to cut",
                      'material="6061-T6"', WrongUnit)  # fmt: skip
        own = "6061-T6"
    return pick(door, own)


def _stretch(door: Door, stretch: Any, length: float) -> tuple[float, float]:
    """The stretch that is turned [mm]."""
    if stretch is None:
        return 0.0, length
    example = f'stretch=(Q_({length / 4:g}, "mm"), Q_({length:g}, "mm"))'
    if not isinstance(stretch, (list, tuple)) or len(stretch) != 2:
        door.complain("stretch", given(stretch), "(start, end)", example, WrongUnit)
        return 0.0, length
    start = door.number(stretch[0], "stretch start", "mm", least=0.0, below=length, example=example)
    end = door.number(stretch[1], "stretch end", "mm", above=0.0, most=length * (1 + 1e-9), example=example)
    if start >= end and not door.complaints:
        door.complain("stretch", f"{start:g} to {end:g} mm", "the start nearer the chuck than the end", example)
    return start, min(end, length)


def _inside(door: Door, spots: Floats, start: float, end: float) -> None:
    """Complain of a position that the tool does not reach."""
    outside = (spots < start - 1e-9) | (spots > end + 1e-9)
    if outside.any():
        door.complain("at", f"{spots[outside.argmax()]:g} mm", f"positions in the stretch, {start:g} to {end:g} mm",
                      f'at=Q_({(start + end) / 2:g}, "mm")', OutOfRange)  # fmt: skip


def _enough_left(door: Door, part: tuple[Floats, Floats, Floats], start: float, end: float, depth: float,
                 height: float) -> None:  # fmt: skip
    """Complain of a depth that leaves no part, and of a tool so far off center that it misses it."""
    ends = np.cumsum(part[0])
    cut = (ends > start + 1e-9) & (ends - part[0] < end - 1e-9)
    wall = (part[1][cut] - part[2][cut]) / 2
    i = int(wall.argmin())
    if depth >= wall[i]:
        outside, bore = part[1][cut][i], part[2][cut][i]
        what = f"a bore of {bore:g} mm" if bore else "nothing inside it"
        expected = f"less than {wall[i]:g} mm, since a diameter of {outside:g} mm with {what} has no more to take"
        door.complain("depth", f"{depth:g} mm", expected, f'depth=Q_({wall[i] / 10:.3g}, "mm")', Impossible)
        return
    slimmest = float(part[1][cut].min()) / 2
    if abs(height) >= slimmest or np.sqrt(slimmest**2 - height**2) <= depth:
        door.complain("off_center", f"{height:g} mm", f"well below the radius left, {slimmest - depth:g} mm",
                      'off_center=Q_(0, "mm")', Impossible)  # fmt: skip
