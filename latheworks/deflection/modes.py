"""First natural frequency and buckling load on plain floats, from the flexibility f(x, a) of a held shaft.

Both are the largest eigenvalue of a symmetric matrix made of f at a few dozen points, so stepped and hollow shafts,
springs and rests are all in it. mm, N, MPa, and t (1000 kg), which makes N = t mm/s^2.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from latheworks.deflection.kernel import Flexibility, Floats

# Points along the whole part; each section has a share of them by its length, and at least a few as long as the
# matrix stays small.
POINTS, MOST = 64, 200


@cache
def _gauss(count: int) -> tuple[Floats, Floats]:
    return np.polynomial.legendre.leggauss(count)


def _shares(lengths: Floats, least: int) -> list[int]:
    """How many points each section has; fewer each when there are many sections."""
    fewest = max(1, min(least, MOST // len(lengths)))
    return [max(fewest, round(POINTS * size)) for size in lengths / lengths.sum()]


def first_frequency(lengths: ArrayLike, line_mass: ArrayLike, flexibility: Flexibility) -> float:
    """First natural frequency [rad/s] of sections with a mass per length [t/mm].

    w(x) = omega^2 int f(x, a) m(a) w(a) da, with the integral by Gauss points in each section: no sag is assumed.
    """
    sizes, masses = np.asarray(lengths, dtype=float), np.asarray(line_mass, dtype=float)
    places, weights, start = [], [], 0.0
    for size, mass, count in zip(sizes, masses, _shares(sizes, 6), strict=True):
        at, weight = _gauss(count)
        places.append(start + size * (at + 1) / 2)
        weights.append(weight * size / 2 * mass)
        start += size
    x, root = np.concatenate(places), np.sqrt(np.concatenate(weights))
    matrix = root[:, np.newaxis] * flexibility(x[:, np.newaxis], x) * root
    return float(1.0 / np.sqrt(np.linalg.eigvalsh(matrix)[-1]))


def _buckling(lengths: Floats, flexibility: Flexibility, times: int) -> float:
    """Buckling load with straight pieces between nodes."""
    steps = np.concatenate([
        np.full(times * count, size / (times * count))
        for size, count in zip(lengths, _shares(lengths, 4), strict=True)
    ])  # fmt: skip
    x = np.concatenate(([0.0], np.cumsum(steps)))
    turned = np.diff(np.diff(flexibility(x[:, np.newaxis], x), axis=0), axis=1)
    root = np.sqrt(steps)
    return float(1.0 / np.linalg.eigvalsh(turned / root[:, np.newaxis] / root)[-1])


def buckling_load(lengths: ArrayLike, flexibility: Flexibility) -> float:
    """The axial force [N] at which a held shaft buckles (Euler), with the thrust along the line of the supports.

    A bent part feels P w'' as a side load, so w' = P int d2f/dx da w' da. Two grids, one twice as fine; their error
    falls with the square of the step, and (4 P_fine - P_coarse)/3 takes it out.
    """
    sizes = np.asarray(lengths, dtype=float)
    return (4.0 * _buckling(sizes, flexibility, 2) - _buckling(sizes, flexibility, 1)) / 3.0
