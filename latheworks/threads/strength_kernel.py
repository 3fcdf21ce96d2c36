"""Areas of a threaded joint: plain numbers in one unit of length, half angle of the flanks in radians."""

import math
from typing import NamedTuple

SHEAR_SHARE = 0.5  # shear strength as a share of tensile strength, which is where the 2 in Le = 2 At/As comes from
# Stress diameter: the mean of the pitch diameter and of a root, of the sharp V in inch threads, H/6 up in metric ones.
UNIFIED_RADIUS = 0.16238  # of the pitch, 3/16 H: how far the stress radius lies below the pitch radius
METRIC_ROOT = 0.938194  # of the pitch: how far the stress diameter lies below the major diameter


class Sizes(NamedTuple):
    """Least-material sizes: pitch and major diameter of the external thread, minor and pitch of the internal one."""

    d2: float
    d: float
    minor: float
    pitch: float


def external_thickness(sizes: Sizes, pitch: float, half_angle: float) -> float:
    """Axial thickness of the external thread where the internal one's crest would shear it."""
    return pitch / 2.0 + math.tan(half_angle) * (sizes.d2 - sizes.minor)


def internal_thickness(sizes: Sizes, pitch: float, half_angle: float) -> float:
    """Axial thickness of the internal thread where the external one's crest would shear it."""
    return pitch / 2.0 + math.tan(half_angle) * (sizes.d - sizes.pitch)


def external_shear(sizes: Sizes, pitch: float, half_angle: float) -> float:
    """Shear area of the external thread in one unit of length: pi D1max (P/2 + tan a (d2min - D1max))/P."""
    return math.pi * sizes.minor * external_thickness(sizes, pitch, half_angle) / pitch


def internal_shear(sizes: Sizes, pitch: float, half_angle: float) -> float:
    """Shear area of the internal thread in one unit of length: pi dmin (P/2 + tan a (dmin - D2max))/P."""
    return math.pi * sizes.d * internal_thickness(sizes, pitch, half_angle) / pitch


def inch_stress_area(pitch_diameter: float, pitch: float) -> float:
    """Stress area of a Unified thread, pi (d2/2 - 0.16238 P)^2."""
    return math.pi * (pitch_diameter / 2.0 - UNIFIED_RADIUS * pitch) ** 2


def metric_stress_area(major: float, pitch: float) -> float:
    """Stress area of an ISO metric thread, pi/4 (d - 0.938194 P)^2."""
    return math.pi / 4.0 * (major - METRIC_ROOT * pitch) ** 2


def mean_stress_area(pitch_diameter: float, root: float) -> float:
    """Stress area of a power thread, pi ((d2 + d3)/4)^2."""
    return math.pi * ((pitch_diameter + root) / 4.0) ** 2
