"""Flexibility under a tool that changes the part's section as it goes, on plain floats: mm, N, MPa, rad.

The part is one beam up to the tool and another beyond it. Every unit load bends it by a moment that is a straight
line on either side of the load, m(s) = c0 + c1 s; so an integral of m_p m_q/(E I) needs no more than the running
integrals of 1/(E I), s/(E I) and s^2/(E I), and all tool positions go through at once.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from latheworks.deflection.holding import Holding
from latheworks.deflection.kernel import HELD_ALREADY, Beam, Floats, beam

Line = tuple[Any, Any]


class _Load(NamedTuple):
    """A unit load: its place, the moment's line before and beyond it, its pull on the two supports, its integrals."""

    place: Any
    before: Line
    beyond: Line
    pull: Line
    sums: Floats


def cut_down(part: tuple[Floats, Floats, Floats], modulus: float, start: float, end: float, depth: float) -> Beam:
    """The beam of a part (piece lengths, outsides, bores) turned down by a radial depth from `start` to `end`."""
    lengths, outsides, bores = part
    old = np.cumsum(lengths)
    ends = np.unique(np.concatenate((old, [start, end]))) if start > 0.0 or end < old[-1] else old
    # A sliver of an ulp or so, left where the cut ends at a step, is not a piece.
    ends = ends[np.diff(ends, prepend=0.0) > old[-1] * 1e-12]
    ends[-1] = old[-1]
    lengths = np.diff(ends, prepend=0.0)
    middle = ends - lengths / 2
    piece = np.searchsorted(old, middle)
    inside = (middle > start) & (middle < end)
    return beam(lengths, outsides[piece] - 2.0 * depth * inside, bores[piece], modulus)


def _sums(part: Beam, to: Any) -> Floats:
    """Integrals from 0 to each place of 1, s and s^2, each over E I: three rows."""
    to = np.asarray(to, dtype=float)
    i = np.minimum(np.searchsorted(part.ends, to, side="left"), len(part.ends) - 1)
    start, soft = part.starts, part.softness
    rows = []
    for power in (1, 2, 3):
        whole = soft * (part.ends**power - start**power) / power
        before = np.concatenate(([0.0], np.cumsum(whole)[:-1]))
        rows.append(before[i] + soft[i] * (to**power - start[i] ** power) / power)
    return np.array(rows)


def _product(one: Line, other: Line, sums: Floats) -> Any:
    """The integral of two straight lines multiplied, over E I."""
    return one[0] * other[0] * sums[0] + (one[0] * other[1] + one[1] * other[0]) * sums[1] + one[1] * other[1] * sums[2]


def under_tool(holding: Holding, near: Beam, far: Beam, at: Floats) -> tuple[Floats, Floats]:
    """Sag at the tool, away from it, for 1 N square to the axis there [mm/N] and for a couple of 1 N mm there [1/N].

    near is the part as it is between chuck and tool, far as it is beyond the tool; both are as long. The couple is
    positive where it lifts the far side away from the tool.
    """
    give, long = holding.compliances, near.length
    centers = "head" in give
    springs = (give["head"], give["tail"]) if centers else (give["radial"], give["tilt"])
    props, none = holding.props(long), np.zeros_like(at)
    near_at = _sums(near, at)
    far_at = near_at if near is far else _sums(far, at) if centers or props else none

    def sums(place: float) -> Floats:
        """The running integrals of the compound part up to one fixed place."""
        if near is far or place >= long:
            return near_at - far_at + _sums(far, place)[:, np.newaxis]
        return _sums(near, np.minimum(place, at)) + _sums(far, np.maximum(place, at)) - far_at

    def push(place: Any, running: Floats) -> _Load:
        if centers:
            share = place / long
            return _Load(place, (none, 1.0 - share), (place + none, -share), (1.0 - share, share), running)
        return _Load(place, (place, -1.0), (none, none), (1.0, place), running)

    couple = (
        _Load(at, (none, -1.0 / long), (1.0 + none, -1.0 / long), (-1.0 / long, 1.0 / long), near_at)
        if centers
        else _Load(at, (1.0, none), (none, none), (0.0, 1.0), near_at)
    )
    whole = sums(long) if centers else near_at
    loads = [push(at, near_at), couple, *(push(place, sums(place)) for _, place, _ in props)]

    def flexibility(p: _Load, q: _Load) -> Any:
        pulled = springs[0] * p.pull[0] * q.pull[0] + springs[1] * p.pull[1] * q.pull[1]
        first = p.place <= q.place
        low = p.sums if p.place is q.place else np.where(first, p.sums, q.sums)
        if not centers:
            # Beyond either load a part that is held at one end has no moment.
            return _product(p.before, q.before, low) + pulled
        high = np.where(first, q.sums, p.sums)
        between = np.where(
            first, _product(p.beyond, q.before, high - low), _product(p.before, q.beyond, high - low)
        )  # fmt: skip
        bent = _product(p.before, q.before, low) + between + _product(p.beyond, q.beyond, whole - high)
        return bent + pulled

    count = len(loads)
    f = {(i, j): flexibility(loads[i], loads[j]) for i in range(count) for j in range(i, count) if (i, j) != (1, 1)}
    for j, (_, _, softness) in enumerate(props, 2):
        unpropped = flexibility(loads[j], loads[j])
        pivot = f[j, j] + softness
        holds = pivot > HELD_ALREADY * unpropped
        share = np.where(holds, 1.0 / np.where(holds, pivot, 1.0), 0.0)
        row = {i: f[min(i, j), max(i, j)] for i in range(count) if i != j}
        for a, b in f:
            if j not in (a, b):
                f[a, b] = f[a, b] - row[a] * share * row[b]
    return np.asarray(f[0, 0] + none), np.asarray(f[0, 1] + none)


def euler_load(holding: Holding, part: Beam) -> float:
    """The axial push at which a part buckles [N], by Rayleigh's quotient with the bending of a uniform bar.

    Exact for one section on rigid supports: pi^2 E I/L^2 between centers, 20.19 E I/L^2 in a chuck with a center,
    pi^2 E I/(4 L^2) in a chuck alone. Springs of the supports are left out, and so is what a rest adds.
    """
    give, long = holding.compliances, part.length
    wave = (np.pi if "head" in give else 4.493409458 if "center" in give else np.pi / 2) / long
    # Moment as sin(wave x), x from the far end, where a center or nothing at all takes no moment.
    near, far = long - part.ends, long - part.starts
    squares = (far - near) / 2 - (np.sin(2 * wave * far) - np.sin(2 * wave * near)) / (4 * wave)
    return float(wave**2 * squares.sum() / (squares * part.softness).sum())
