"""The same part as a chain of beam elements with cubic shapes and their own mass: not a line shared with our kernel.

Sizes in mm, forces in N, masses in t; every stiffness may be infinite.
"""

import math
from itertools import pairwise

import numpy as np

RIGID = 1e13


def element(rigidity, line_mass, size):
    """Stiffness, mass and thrust matrices of one beam element, any text on finite elements."""
    a, b = size, size**2
    stiff = rigidity / size**3 * np.array([
        [12, 6 * a, -12, 6 * a], [6 * a, 4 * b, -6 * a, 2 * b], [-12, -6 * a, 12, -6 * a], [6 * a, 2 * b, -6 * a, 4 * b]
    ])  # fmt: skip
    mass = line_mass * size / 420 * np.array([
        [156, 22 * a, 54, -13 * a], [22 * a, 4 * b, 13 * a, -3 * b], [54, 13 * a, 156, -22 * a],
        [-13 * a, -3 * b, -22 * a, 4 * b]
    ])  # fmt: skip
    thrust = 1 / (30 * size) * np.array([
        [36, 3 * a, -36, 3 * a], [3 * a, 4 * b, -3 * a, -b], [-36, -3 * a, 36, -3 * a], [3 * a, -b, -3 * a, 4 * b]
    ])  # fmt: skip
    return stiff, mass, thrust


def chain(sections, modulus, density, springs, pieces=24):
    """Assembled matrices of sections (length, outside, bore); springs as (position, "side" or "tilt", stiffness)."""
    ends = np.cumsum([0.0, *(size for size, _, _ in sections)])
    spots = sorted({*ends, *(at for at, _, _ in springs)})
    nodes = np.unique(np.concatenate([np.linspace(a, b, pieces + 1) for a, b in pairwise(spots)]))
    total = [np.zeros((2 * len(nodes), 2 * len(nodes))) for _ in range(3)]
    for i, (near, far) in enumerate(pairwise(nodes)):
        _, outside, bore = sections[int(np.searchsorted(ends[1:], (near + far) / 2))]
        inertia, area = math.pi / 64 * (outside**4 - bore**4), math.pi / 4 * (outside**2 - bore**2)
        for matrix, part in zip(total, element(modulus * inertia, density * area, far - near), strict=True):
            matrix[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += part
    for at, kind, stiffness in springs:
        place = 2 * int(np.argmin(np.abs(nodes - at))) + (kind == "tilt")
        total[0][place, place] += RIGID if math.isinf(stiffness) else stiffness
    return total


def first(stiff, other):
    """The least eigenvalue of stiff x = value other x, by the roots of a symmetric matrix."""
    values = np.linalg.eigvals(np.linalg.solve(stiff, other)).real
    return 1.0 / values.max()


def frequency(sections, modulus, density, springs):
    stiff, mass, _ = chain(sections, modulus, density, springs)
    return math.sqrt(first(stiff, mass)) / (2 * math.pi)


def buckling(sections, modulus, springs):
    stiff, _, thrust = chain(sections, modulus, 0.0, springs)
    return first(stiff, thrust)
