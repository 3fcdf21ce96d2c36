"""Infeed on plain floats: depths in mm and radial, areas in mm^2, forces in N; no quantities here.

The tool is a V with a flat at its point, of 60 degrees unless `tan`, the tangent of half its angle, says otherwise.
The flat follows from the depth, so that at full depth the groove is as wide at the pitch line as it should be:
flat = opening - 2 depth tan. Every pass is the same
trapezoid, set deeper and, but for straight infeed, set over along the axis by no more than step x tan; so each
pass holds the one before it wholly, and none reaches outside the last.
"""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from latheworks.cutting import kienzle

Floats = NDArray[np.float64]

TAN = math.tan(math.radians(30.0))  # half of the 60 degree thread angle
HEIGHT = math.cos(math.radians(30.0))  # of the sharp V of pitch 1: H = 0.866025 P

# Groove width at the surface where cutting starts, in pitches: a flat of P/8 is left on an external crest and
# P/4 on an internal one.
OPENING = {True: 7 / 8, False: 3 / 4}
DEPTHS = {"external": 17 / 24 * HEIGHT, "internal": 5 / 8 * HEIGHT, "external UNR": 11 / 16 * HEIGHT}
LAWS = ("equal area", "equal depth", "eased first pass")
METHODS = ("radial", "flank", "modified flank", "alternating flank")
MOST_PASSES = 200


def depth_kind(external: bool, root: str | None) -> str:
    """Which of DEPTHS a thread takes."""
    return ("external UNR" if root == "UNR" else "external") if external else "internal"


def share(law: str, k: Any, passes: Any) -> Any:
    """Share of the total depth reached after pass k of so many; 0 after pass 0 and exactly 1 after the last."""
    if law == "equal depth":
        return k / passes
    if law == "equal area":
        return np.sqrt(k / passes)
    return np.sqrt(np.where(k == 1, 0.3, np.maximum(k - 1.0, 0.0)) / (passes - 1.0))


def cumulative_depth(law: str, total: float, passes: int) -> Floats:
    """Depth reached after each pass."""
    return total * share(law, np.arange(1.0, passes + 1.0), float(passes))


def shifts(method: str, depth: Floats, slope: float) -> tuple[Floats, Floats]:
    """How far the tool is set over in the feed's direction after each pass, and from the finished groove's center.

    slope is the tangent of the compound's angle. Flank infeed moves along one flank, from the touch-off;
    alternating infeed moves along one flank and the other in turn, and comes home to the center at full depth.
    """
    if method == "radial":
        return np.zeros_like(depth), np.zeros_like(depth)
    moved = np.diff(depth, prepend=0.0) * slope
    if method == "alternating flank":
        moved[1::2] *= -1.0
        place = np.cumsum(moved)
        return place - place[-1], place - place[-1]
    place = np.cumsum(moved)
    return place, place - place[-1]


def groove_area(depth: Any, flat: Any, tan: float = TAN) -> Any:
    """Cross-section of the groove that a tool leaves at a depth: depth x (flat + depth tan)."""
    return depth * (flat + depth * tan)


def pass_areas(depth: Floats, flat: float, tan: float = TAN) -> Floats:
    """Area of the chip that each pass takes, for every method; the areas add up to the groove."""
    return np.diff(groove_area(depth, flat, tan), prepend=0.0)


def chip_force(before: Any, depth: Any, flat: float, slope: Any, specific: float, exponent: float,
               tan: float = TAN) -> Any:  # fmt: skip
    """Main cutting force of a pass [N]: Kienzle's form on the root, the leading and the trailing flank, added.

    With a half angle a, a step s, set over by s x slope, is s thick on the root, s cos a (tan a + slope) on the
    leading flank and s cos a (tan a - slope) on the trailing one; the flanks are (before + depth) / (2 cos a) long
    on average.
    """
    cos = 1 / math.hypot(1.0, tan)
    step, length = depth - before, (depth + before) / (2 * cos)
    lead, trail = step * cos * (tan + slope), step * cos * np.maximum(tan - slope, 0.0)
    return (
        kienzle(specific, exponent, flat, step)
        + kienzle(specific, exponent, length, lead)
        + kienzle(specific, exponent, length, trail)
    )


def pass_forces(depth: Floats, flat: float, slope: float, specific: float, exponent: float,
                tan: float = TAN) -> Floats:  # fmt: skip
    """Main cutting force of each pass [N]; in the first one both flanks cut, whatever the method."""
    slopes = np.full_like(depth, slope)
    slopes[0] = 0.0
    before = np.concatenate(([0.0], depth[:-1]))
    return chip_force(before, depth, flat, slopes, specific, exponent, tan)


def smallest_step(law: str, total: float, passes: Any) -> Any:
    """Smallest step of a schedule, for one number of passes or many (2 or more)."""
    second = share(law, 2.0, passes) - share(law, 1.0, passes)
    return total * np.minimum(1.0 - share(law, passes - 1.0, passes), second)


def most_passes(law: str, total: float, least_step: float) -> int:
    """The most passes of which each is at least so deep; 2 where not even two are."""
    passes = np.arange(2.0, MOST_PASSES + 1.0)
    deep_enough = passes[smallest_step(law, total, passes) >= least_step]
    return int(deep_enough[-1]) if deep_enough.size else 2


def choose_passes(law: str, total: float, flat: float, pitch: float, least_step: float, tan: float = TAN) -> int:
    """Fewest passes, 4 or more, that load the tool no more than a first cut of 0.25 mm x sqrt(pitch / 1 mm).

    Load is Kienzle's form with mc = 0.25, straight in, so that the choice hangs on neither material nor method. The
    least step goes first: where the two cannot both be had, the most passes that keep every step that large.
    """
    passes = np.arange(4.0, MOST_PASSES + 1.0)
    # No law loads the tool most anywhere but in its first three passes or its last.
    k = np.concatenate((np.array([[1.0], [2.0], [3.0]]) + 0 * passes, passes[None, :]))
    before, depth = total * share(law, k - 1.0, passes), total * share(law, k, passes)
    load = chip_force(before, depth, flat, 0.0, 1.0, 0.25, tan).max(axis=0)
    light = load <= chip_force(0.0, 0.25 * math.sqrt(pitch), flat, 0.0, 1.0, 0.25, tan)
    wanted = int(passes[np.argmax(light)]) if light.any() else MOST_PASSES
    return min(wanted, most_passes(law, total, least_step))
