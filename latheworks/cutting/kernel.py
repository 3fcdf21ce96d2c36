"""The chip a round-nosed tool takes and the three forces on it, on plain floats in mm, mm/rev, MPa, degrees and N.

The nose is an arc of radius r; the straight edge goes on from it at the entering angle kappa, the angle between edge
and axis. Heights are measured from the finished surface outward, and along the axis in the direction of the feed.
"""

from typing import Any

import numpy as np

# In-plane push (feed and radial together) over the main force, for an edge with a rake near 0: common practice.
THRUST_RATIO = 0.5


def kienzle(specific: Any, exponent: Any, width: Any, thickness: Any) -> Any:
    """Fc = kc1.1 b h^(1 - mc) [N], for kc1.1 [MPa], chip width b and thickness h [mm]; 0 for a chip of no thickness."""
    return specific * width * np.power(thickness, 1.0 - exponent)


def section(depth: Any, feed: Any, nose_radius: Any, entering_angle: Any) -> tuple[Any, Any, Any, Any]:
    """The chip's area [mm^2], the engaged edge's length, and that edge's chord along and across the axis [mm].

    The arc takes all of the cut up to r (1 - cos kappa); a depth below the cusp height of the feed is the arc's own
    segment. The trailing arc reaches back to half of the feed, where the turn before left its cusp.
    """
    depth = np.asarray(depth, dtype=float)
    angle = np.radians(entering_angle)
    arc_top = nose_radius * (1.0 - np.cos(angle))
    low = np.minimum(depth, arc_top)
    # A sharp tool has no arc: any radius will do to divide by, since nothing of the cut lies on it. Not np.clip and
    # np.where: on small arrays they cost as much as all the rest, and an equilibrium calls this many times.
    safe = nose_radius + (np.equal(nose_radius, 0.0) * 1.0)
    lead = np.arccos(np.minimum(np.maximum(1.0 - low / safe, -1.0), 1.0))
    straight = (depth - low) / np.sin(angle)
    back_depth = np.minimum(depth, nose_radius)
    back = np.minimum(feed / 2.0, np.sqrt(back_depth * (2.0 * nose_radius - back_depth)))
    trail = np.arcsin(np.minimum(back / safe, 1.0))
    cusp = nose_radius * (1.0 - np.cos(trail))
    area = feed * (depth - cusp) + nose_radius**2 * (trail - np.sin(trail) * np.cos(trail))
    length = nose_radius * (lead + trail) + straight
    along = nose_radius * np.sin(lead) + straight * np.cos(angle) + back
    return area, length, along, depth - cusp


def radial_force(kc11: Any, mc: Any, depth: Any, feed: Any, nose_radius: Any, entering_angle: Any,
                 thrust_ratio: Any = THRUST_RATIO) -> tuple[Any, Any, Any]:  # fmt: skip
    """The tangential, feed and radial force [N] of a cut; 0 at depth 0.

    Each mm of the engaged edge gets the same force, kc1.1 he^(1 - mc), with he = area / length: along the surface
    speed, and thrust_ratio times it square to the edge. Summed, the thrust is perpendicular to the chord (Colwell).

    In depth: tangential and feed force never fall; the radial force never falls while kappa is at most 90 degrees.
    Beyond 90 the straight edge pulls gently the other way, as in the shop, and the radial force can fall with depth.
    """
    area, length, along, across = section(depth, feed, nose_radius, entering_angle)
    safe = np.where(length > 0.0, length, 1.0)
    per_mm = kc11 * np.power(np.maximum(area, 0.0) / safe, 1.0 - mc)
    return per_mm * length, thrust_ratio * per_mm * across, thrust_ratio * per_mm * along
