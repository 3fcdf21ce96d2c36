"""The bending sums on plain floats: mm, N, MPa, rad.

A flexibility f(x, a) is the sag at x, in mm, for 1 N pushing at a. Every piece of the shaft has a constant
section, so each integral of the force method is a polynomial per piece plus a running sum over the pieces
before it: exact, no mesh, and one array operation for all tool positions. Springs enter as compliances
(1/stiffness), so a stiffness that is infinite is simply a compliance of nought.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Flexibility = Callable[[ArrayLike, ArrayLike], Floats]

# A spring where the part is already held this firmly (share of its free flexibility) can add nothing.
HELD_ALREADY = 1e-12


class Beam(NamedTuple):
    """A stepped shaft: where the pieces begin and end, and 1/(E I) of each piece [1/(N mm^2)]."""

    starts: Floats
    ends: Floats
    softness: Floats
    length: float


def second_moment(outside: ArrayLike, bore: ArrayLike) -> Floats:
    """Second moment of area of a round section, pi/64 (D^4 - d^4) [mm^4].

    The factored form keeps its digits for a thin wall, where D^4 and d^4 nearly cancel.
    """
    big, small = np.asarray(outside, dtype=float), np.asarray(bore, dtype=float)
    return np.pi / 64 * (big - small) * (big + small) * (big**2 + small**2)


def beam(lengths: ArrayLike, outsides: ArrayLike, bores: ArrayLike, modulus: float) -> Beam:
    """Build a `Beam` from piece lengths and diameters [mm] and an elastic modulus [MPa]."""
    ends = np.cumsum(np.asarray(lengths, dtype=float))
    starts = np.concatenate(([0.0], ends[:-1]))
    return Beam(starts, ends, 1.0 / (modulus * second_moment(outsides, bores)), float(ends[-1]))


def _before(total: Floats) -> Floats:
    """Running sum of what lies before each piece."""
    return np.concatenate(([0.0], np.cumsum(total)[:-1]))


def _piece(shaft: Beam, at: Floats) -> NDArray[np.intp]:
    """Index of the piece that each position stands in (the earlier one at a step, the last one at the end)."""
    return np.minimum(np.searchsorted(shaft.ends, at, side="left"), len(shaft.ends) - 1)


def cantilever(shaft: Beam, tilt: float = 0.0, radial: float = 0.0) -> Flexibility:
    """Flexibility of a shaft held at x = 0 by a chuck with compliances `tilt` [rad/(N mm)], `radial` [mm/N].

    f(x, a) = radial + x a tilt + K2(m) + |x - a| K1(m) with m = min(x, a), where
    K1(m) = int_0^m (m - s)/(E I) ds and K2(m) = int_0^m (m - s)^2/(E I) ds: no term is ever subtracted.
    """
    size, soft = shaft.ends - shaft.starts, shaft.softness
    # By pieces: K0, K1, K2 at each piece's start, each from the one before it.
    k0 = _before(soft * size)
    k1 = _before(k0 * size + soft * size**2 / 2)
    k2 = _before(2 * k1 * size + k0 * size**2 + soft * size**3 / 3)

    def flexibility(x: ArrayLike, a: ArrayLike) -> Floats:
        x, a = np.asarray(x, dtype=float), np.asarray(a, dtype=float)
        near = np.minimum(x, a)
        i = _piece(shaft, near)
        t, c, turned, leaned = near - shaft.starts[i], soft[i], k0[i], k1[i]
        slope = leaned + t * (turned + c * t / 2)
        sag = k2[i] + t * (2 * leaned + t * (turned + c * t / 3))
        return np.asarray(radial + tilt * x * a + sag + np.abs(x - a) * slope)

    return flexibility


def between(shaft: Beam, head: float = 0.0, tail: float = 0.0) -> Flexibility:
    """Flexibility of a shaft on two springs at its ends, with compliances `head` and `tail` [mm/N].

    With x <= a: f(x, a) = [(L-x)(L-a) head + x a tail + (L-x)(L-a) int_0^x s^2/(E I) ds
    + x (L-a) int_x^a s (L-s)/(E I) ds + x a int_a^L (L-s)^2/(E I) ds] / L^2.
    """
    size, soft, long = shaft.ends - shaft.starts, shaft.softness, shaft.length
    start, togo = shaft.starts, long - shaft.ends

    def left(i: NDArray[np.intp] | slice, t: Floats) -> Floats:
        return np.asarray(soft[i] * t * (start[i] * (start[i] + t) + t**2 / 3))

    def middle(i: NDArray[np.intp] | slice, t: Floats) -> Floats:
        other = long - start[i]
        return np.asarray(soft[i] * t * (start[i] * other + (other - start[i]) * t / 2 - t**2 / 3))

    def right(i: NDArray[np.intp] | slice, t: Floats) -> Floats:
        return np.asarray(soft[i] * t * (togo[i] * (togo[i] + t) + t**2 / 3))

    every = slice(None)
    left_before, middle_before = _before(left(every, size)), _before(middle(every, size))
    right_after = _before(right(every, size)[::-1])[::-1]

    def flexibility(x: ArrayLike, a: ArrayLike) -> Floats:
        x, a = np.asarray(x, dtype=float), np.asarray(a, dtype=float)
        near, far = np.minimum(x, a), np.maximum(x, a)
        i, j = _piece(shaft, near), _piece(shaft, far)
        tn, tf = near - start[i], far - start[j]
        lefts = left_before[i] + left(i, tn)
        middles = middle_before[j] - middle_before[i] + middle(j, tf) - middle(i, tn)
        rights = right_after[j] + right(j, shaft.ends[j] - far)
        free = (long - near) * (long - far) * (head + lefts)
        bent = near * (long - far) * middles + near * far * (tail + rights)
        return np.asarray((free + bent) / long**2)

    return flexibility


def with_springs(free: Flexibility, springs: Sequence[tuple[float, float]]) -> Flexibility:
    """Flexibility after propping the part with springs, each (position [mm], compliance [mm/N]).

    One spring at s with compliance q takes R = f(s, a)/(f(s, s) + q) of each newton at a, so
    f'(x, a) = f(x, a) - f(x, s) f(s, a)/(f(s, s) + q). A further spring is the same step on f'.
    """
    if not springs:
        return free
    places = np.array([place for place, _ in springs])

    def flexibility(x: ArrayLike, a: ArrayLike) -> Floats:
        x, a = np.asarray(x, dtype=float), np.asarray(a, dtype=float)
        sag = free(x, a)
        along = free(x[..., np.newaxis], places)
        tool = free(a[..., np.newaxis], places)
        props = free(places[:, np.newaxis], places)
        unpropped = props.diagonal().copy()
        for j, (_, give) in enumerate(springs):
            pivot = props[j, j] + give
            if pivot <= HELD_ALREADY * unpropped[j]:
                continue
            sag = sag - along[..., j] * (tool[..., j] / pivot)
            share = props[j] / pivot
            along = along - along[..., j, np.newaxis] * share
            tool = tool - tool[..., j, np.newaxis] * share
            props = props - np.outer(props[j], share)
        return np.asarray(sag)

    return flexibility
