"""How a blade takes a groove, and what the cut does to the blade, on plain floats in mm, N, MPa, min, rev."""

import math

import numpy as np

# A blade rubs instead of cutting below such a feed [mm/rev]: common practice.
LEAST_FEED = 0.01


def plunges(width: float, blade: float, overlap: float, wall: float) -> tuple[np.ndarray, np.ndarray]:
    """Places of the blade's middle from the middle of the groove, in the order cut, and the width each takes.

    The first goes in at the middle, full width; the others step out on either side in turn, each over what is open
    already by at least `overlap`, the last ones `wall` short of the walls.
    """
    side = (width - blade) / 2 - wall
    if side <= 1e-9:
        return np.zeros(1), np.array([blade])
    each = math.ceil(side / (blade - overlap) - 1e-9)
    step = side / each
    places = np.concatenate([[0.0], np.repeat(np.arange(1, each + 1), 2) * np.tile([-step, step], each)])
    return places, np.concatenate([[blade], np.full(2 * each, step)])


def pecks(depth: float, peck: float) -> np.ndarray:
    """Depths at which one plunge draws back, equal and at most `peck` apart, the last one the full depth."""
    return depth * np.arange(1, (count := math.ceil(depth / peck - 1e-9)) + 1) / count


def blade_load(force: float, free: float, width: float, height: float, modulus: float) -> tuple[float, float]:
    """Stress at the root [MPa] and how far the edge sinks [mm] of a clamped blade with the force down on its end.

    sigma = 6 F L / (w h^2), y = 4 F L^3 / (E w h^3).
    """
    return 6 * force * free / (width * height**2), 4 * force * free**3 / (modulus * width * height**3)


def sideways(force: float, free: float, width: float, height: float, modulus: float) -> float:
    """How far a force along the axis bends the blade, the weak way [mm]: y = 4 F L^3 / (E h w^3)."""
    return 4 * force * free**3 / (modulus * height * width**3)


def feed_for(force: float, specific: float, exponent: float, width: float) -> float:
    """The feed [mm/rev] at which a blade meets a main force [N]: f = (F / (kc1.1 b))^(1 / (1 - mc))."""
    return (force / (specific * width)) ** (1.0 / (1.0 - exponent))


def plunge_time(depths: np.ndarray, feed: float, spindle: float, rapid: float, back: float) -> float:
    """Minutes of one plunge: each peck at the feed, then out by `back` and in again at the rapid."""
    cut = float(depths[-1]) / (feed * spindle)
    return cut + float(np.sum(2.0 * (depths + back))) / rapid
