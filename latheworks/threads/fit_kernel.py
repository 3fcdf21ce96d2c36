"""Fits on plain floats: what plating, lead error and flank angle error do to a pitch diameter; no quantities here.

Angles are in radians. A flank shifted along the axis by s on each side changes the diameter at which the thread is
as wide as its groove by 2 s cot a, with a the angle between flank and square to the axis (30 degrees for M and UN).
"""

import math
from typing import Any

import numpy as np


def plating_factor(leading: float, trailing: float) -> float:
    """Change of the pitch diameter over the thickness of a plating: 4 at 60 degrees, 2/sin a for like flanks."""
    return 2 * (1 / math.cos(leading) + 1 / math.cos(trailing)) / (math.tan(leading) + math.tan(trailing))


def lead_growth(error: Any, half_angle: float) -> Any:
    """How much a lead error, summed over the length engaged, adds to the virtual size: |error| cot a."""
    return np.abs(error) / math.tan(half_angle)


def angle_growth(error: Any, half_angle: float, above: float, below: float) -> Any:
    """How much the angle error of one flank adds to the virtual size: 2 r |error| / sin 2a.

    A flank turns about the pitch line. A flank angle that is too large stands out on the side of the root of an
    external thread, as far as the mate's crest reaches below the pitch line (`below`); one too small stands out on
    the side of the crest (`above`). For an internal thread the two change places. So r depends on the sign.
    """
    reach = np.where(np.asarray(error) > 0, below, above)
    return 2 * reach * np.abs(error) / math.sin(2 * half_angle)


def axial_play(gap: Any, half_angle: float) -> Any:
    """Travel along the axis that a gap between pitch diameters leaves: gap tan a."""
    return gap * math.tan(half_angle)
