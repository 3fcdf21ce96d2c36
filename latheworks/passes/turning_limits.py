"""How deep a cut may be: power, torque, jaw grip, deflection and the tool's own limit, on plain floats."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from latheworks.cutting.kernel import radial_force
from latheworks.cutting.power import spindle_curve
from latheworks.passes.turning_kernel import Floats, Turns, turns_at
from latheworks.shop import Lathe

POWER, TORQUE, GRIP, DEFLECTION, TOOL = "power", "torque", "jaw grip", "deflection", "the tool's own depth"
_STEPS = 257


class Jaws(NamedTuple):
    """A grip at rest and what speed does to it [N], at one spindle; what else `grip` needs."""

    clamping: float
    flung: float
    spindle: float
    inside: bool
    friction: float
    diameter: float
    machining_safety: float
    clamping_safety: float
    shoulder: bool

    def share(self, tangential: Any, feed: Any, arm: Any, turns: Any) -> Any:
        """What a cut needs of the grip over what the safeties leave of it; 1e9 where nothing is left."""
        along = 0.0 if self.shoulder else feed
        needed = np.hypot(tangential * 2.0 * arm / self.diameter, along) / self.friction
        flung = self.flung * (turns / self.spindle) ** 2
        rest = self.clamping / self.clamping_safety
        # As `grip` asks: from inside speed helps, but never below what holds at rest.
        left = np.minimum(self.clamping, rest + flung) if self.inside else rest - flung
        left = left / self.machining_safety
        return np.where(left > 0.0, needed / np.where(left > 0.0, left, 1.0), np.where(needed > 0.0, 1e9, 0.0))


class Cut(NamedTuple):
    """Forces of every depth of the table at one feed [N], and that feed."""

    depth: Floats
    tangential: Floats
    feed_force: Floats
    radial: Floats
    feed: float


class Bounds(NamedTuple):
    """All that limits a depth: the lathe and its turns, the jaws, what bends for 1 N and how far it may [mm]."""

    lathe: Lathe
    turns: Turns
    jaws: Jaws | None
    most_deflection: float


def forces(pair: tuple[float, float], most: float, feed: float, nose: float, angle: float, wear: float) -> Cut:
    """The forces of depths from 0 to the most."""
    depth = np.linspace(0.0, most, _STEPS)
    tangential, along, radial = radial_force(pair[0] * wear, pair[1], depth, feed, nose, angle)
    return Cut(depth, tangential, along, radial, feed)


def at_depth(cut: Cut, depth: float) -> tuple[float, float, float]:
    """Tangential, feed and radial force at a depth of the table [N]."""
    return tuple(float(np.interp(depth, cut.depth, row)) for row in cut[1:4])  # type: ignore[return-value]


def shares(cut: Cut, bounds: Bounds, height: float, flexibility: float) -> dict[str, Floats]:
    """How much of each limit every depth would use, from a height down [mm]; the key names the limit."""
    low = height - cut.depth
    turns = np.asarray(turns_at(bounds.turns, 2.0 * np.maximum(abs(height), np.abs(low))))
    given, base = spindle_curve(bounds.lathe, turns)
    middle = np.abs(height + low) / 2.0  # of the chip, from the axis
    torque = cut.tangential * middle / 1000.0
    used = torque / given
    found = {TORQUE if float(turns[0]) < base else POWER: used}
    if bounds.jaws is not None:
        found[GRIP] = bounds.jaws.share(cut.tangential, cut.feed_force, middle, turns)
    if flexibility > 0.0:
        found[DEFLECTION] = cut.radial * flexibility / bounds.most_deflection
    return found


def allowed(cut: Cut, used: dict[str, Floats]) -> dict[str, float]:
    """The greatest depth under each limit [mm]; the tool's own where a limit is never reached."""
    depths = {TOOL: float(cut.depth[-1])}
    for name, share in used.items():
        over = share > 1.0
        if not over.any():
            continue
        i = int(over.argmax())
        if i == 0:
            depths[name] = 0.0
            continue
        low, high = float(share[i - 1]), float(share[i])
        depths[name] = float(cut.depth[i - 1] + (cut.depth[i] - cut.depth[i - 1]) * (1.0 - low) / (high - low))
    return depths


def least(depths: dict[str, float]) -> tuple[str, float]:
    """The limit that is reached first, and its depth."""
    return min(depths.items(), key=lambda item: item[1])


def kilowatts(torque: float, turns: float) -> float:
    """Power of a torque [N m] at a spindle [kW]."""
    return torque * 2.0 * math.pi * turns / 60_000.0
