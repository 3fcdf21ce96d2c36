"""Spreads on plain floats: standard deviations, sums, seeded draws and the chance of a normal size; no quantities.

A contribution is (shift, spread, kind, factor): its size is factor x (shift + a draw of the kind with that spread).
Contributions are independent of each other. Lengths in mm, though any one unit will do.
"""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

# Standard deviation over spread: the spread of a normal one is its standard deviation, of the others a half-width.
DEVIATION = {"normal": 1.0, "uniform": 1 / math.sqrt(3), "triangular": 1 / math.sqrt(6), "fixed": 0.0}
# A normal spread has no end; in the worst case it counts with this many standard deviations: common practice.
NORMAL_REACH = 3.0
REACH = {"normal": NORMAL_REACH, "uniform": 1.0, "triangular": 1.0, "fixed": 0.0}

Part = tuple[float, float, str, float]


def shift(parts: Sequence[Part]) -> float:
    """The sum of all shifts."""
    return sum(factor * bias for bias, _, _, factor in parts)


def deviations(parts: Sequence[Part]) -> np.ndarray:
    """The standard deviation of each: s, a / sqrt 3 or a / sqrt 6, times its factor."""
    return np.array([factor * spread * DEVIATION[kind] for _, spread, kind, factor in parts])


def reaches(parts: Sequence[Part]) -> np.ndarray:
    """How far each can stray from its shift: its half-width, or 3 s where it is normal, times its factor."""
    return np.array([factor * spread * REACH[kind] for _, spread, kind, factor in parts])


def root_sum_square(values: Any) -> float:
    """The standard deviation of the sum of independent errors."""
    return float(math.sqrt(float(np.sum(np.square(values)))))


def draw(parts: Sequence[Part], samples: int, generator: np.random.Generator) -> np.ndarray:
    """The summed error of each sample. Unit draws are scaled, so a changed spread moves the very same samples."""
    total = np.full(samples, shift(parts))
    for _, spread, kind, factor in parts:
        if kind == "normal":
            unit = generator.standard_normal(samples)
        elif kind == "uniform":
            unit = 2.0 * generator.random(samples) - 1.0
        elif kind == "triangular":
            unit = generator.random(samples) - generator.random(samples)
        else:
            continue
        unit *= factor * spread
        total += unit
    return total


def normal_below(x: float, mean: float, deviation: float) -> float:
    """The chance that a normal size lies below x: Phi((x - mean) / s); a step where s is 0."""
    if deviation == 0.0:
        return 1.0 if x > mean else 0.0
    return 0.5 * math.erfc((mean - x) / (deviation * math.sqrt(2.0)))


def sampling_error(chance: float, samples: int) -> float:
    """The standard deviation of a chance found from so many samples: sqrt(p (1 - p) / n)."""
    return math.sqrt(chance * (1.0 - chance) / samples)


def half_width_of(chance: float, samples: int) -> float:
    """Half of the band that holds the true chance 95 times in 100; 3 / n where all samples agree (rule of three)."""
    return max(1.96 * sampling_error(chance, samples), 3.0 / samples if chance in (0.0, 1.0) else 0.0)
