"""The equilibrium of force and depth, pass by pass, on plain floats in mm and N.

The tool stands at a set distance from the spindle axis. The harder it cuts, the farther part and tool give way, and
the less is left to cut: each pass settles where the depth taken, put into the force, bends the part by just what the
depth falls short. Any force will do that is a function of the surface met and of the depth taken from it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np

from latheworks.deflection.kernel import Floats

# The radius of the surface a pass meets, and the depth it takes, to the tangential, feed and radial force.
Force = Callable[[Any, Any], tuple[Any, Any, Any]]

MOST_STEPS = 80
NEAR, SMALLEST = 1e-5, 1e-9


class Give(NamedTuple):
    """What part and tool give under the tool in each pass, for 1 N.

    away, square to the axis, part and tool, of the radial force; side, of the tangential force; turn, away from the
    tool, of the feed force at the surface, below 0 where it bends the part back.
    """

    away: Any
    side: Any
    turn: Any


def bent(force: Force, give: Give, edge: float, met: Any, taken: Any) -> tuple[Any, Any]:
    """How far the part bends away from the tool, and sideways [mm], while so much is taken; edge is the edge force."""
    tangential, feed, radial = force(met, taken)
    return give.away * (radial + edge) + give.turn * feed, give.side * tangential


def excess(away: Any, side: Any, stand: Any, height: float) -> Any:
    """How far the radius left lies above the tool's distance `stand`: sqrt((x + y_r)^2 + (e - y_t)^2) - x [mm]."""
    low = height - side
    reach = stand + away
    return away + low**2 / (np.hypot(reach, low) + reach)


def one_pass(force: Force, give: Give, edge: float, met: Floats, room: Floats, stand: Floats, height: float,
             start: Floats) -> Floats:  # fmt: skip
    """The depth that one pass takes from a surface of radius `met` that stands out by `room` [mm]; 0 where it rubs.

    Two steps as if the bending were in proportion to depth, the first from what a depth of `start` bends; then secant
    steps, kept between the last depths known to be too small and too large, halving where a step would leave them.
    """

    def short(taken: Any) -> Any:
        away, side = bent(force, give, edge, met, taken)
        return room - taken - excess(away, side, stand, height)

    # At depth 0 there is no force but that of the edge.
    cuts = room > excess(give.away * edge, 0.0, stand, height)
    room = np.where(cuts, room, 0.0)
    low, high = np.zeros_like(room), met
    first = np.where(cuts, start, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        left = short(first)
        second = room * first / (room - left)
        second = np.where((second > 0.0) & (second < high), second, first / 2)
        for _ in range(MOST_STEPS):
            right = short(second)
            small = right > 0.0
            low, high = np.where(small, second, low), np.where(small, high, second)
            new = second + right * (second - first) / (left - right)
            # Of rounding alone no step can be made.
            done = np.abs(right) <= 1e-3 * SMALLEST + 1e-13 * room
            new = np.where(done, second, np.where((new > low) & (new < high), new, (low + high) / 2))
            # A secant step that small leaves an error far smaller still.
            if (np.abs(new - second) <= NEAR * new + SMALLEST).all():
                break
            first, left, second = second, right, new
    return np.where(cuts, new, 0.0)


class Passes(NamedTuple):
    """Every pass, a row each: the surface met and the tool's distance [mm], depth taken, radius left, bending, forces.

    ratio is what a pass leaves of a small change of the surface it meets.
    """

    met: Floats
    taken: Floats
    left: Floats
    away: Floats
    side: Floats
    tangential: Floats
    feed: Floats
    radial: Floats
    ratio: Floats


def run(force: Force, give: Give, edge: float, blank: Floats, stands: Floats, height: float) -> Passes:
    """All passes one after the other; `stands` and every array of `give` have a row a pass."""
    met, taken, room = np.empty_like(stands), np.empty_like(stands), blank - stands[0]
    surface, share = blank, np.ones_like(blank)
    for k, stand in enumerate(stands):
        met[k] = surface
        part = Give(*(row[k] for row in give))
        taken[k] = one_pass(force, part, edge, surface, room, stand, height, share * np.maximum(room, 0.0))
        surface = surface - taken[k]
        share = np.where(taken[k] > 0.0, taken[k] / np.where(taken[k] > 0.0, room, 1.0), 1.0)
        # Not surface - stand, which would lose the digits of what little a spring pass finds.
        room = room - taken[k] + (stand - stands[min(k + 1, len(stands) - 1)])
    # One call for every pass, and for a hair less, which gives the slope of force against depth.
    hair = 1e-6
    tangential, feed, radial = force(met, np.stack((taken, taken * (1 - hair))))
    away, side = give.away * (radial + edge) + give.turn * feed, give.side * tangential
    over = excess(away, side, stands, height)
    cutting = taken > 0.0
    slope = (over[0] - over[1]) / np.where(cutting, hair * taken, 1.0)
    ratio = np.where(cutting, slope / (1.0 + slope), 1.0)
    # Where it cuts, the radius left follows from the bending: it keeps its digits when little is taken.
    left = np.where(cutting, stands + over[0], met)
    return Passes(met, taken, left, away[0], side[0], tangential[0], feed[0], radial[0], ratio)
