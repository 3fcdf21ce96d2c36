"""The grip of a chuck on plain floats: N, mm, kg, rev/min."""

from __future__ import annotations

import math


def centrifugal(jaws: int, mass: float, radius: float, spindle: float) -> float:
    """Sum over the jaws of m r (pi n/30)^2 [N], for one jaw of m [kg] with its center of gravity at r [mm]."""
    return jaws * mass * radius / 1000.0 * (math.pi * spindle / 30.0) ** 2


def needed(tangential: float, axial: float, friction: float) -> float:
    """Grip that friction needs to hold a force around the part and one along it, both at the grip [N].

    Friction acts against their resultant, so mu F = sqrt(Ft^2 + Fa^2).
    """
    return math.hypot(tangential, axial) / friction


def required(hold: float, flung: float, inside: bool, safety: float) -> float:
    """Clamping force at rest that leaves `hold` at speed [N]: safety x (hold + flung), inside safety x (hold - flung).

    Gripping from inside, speed helps, but never count on so much of it that the grip at rest is below `hold`.
    """
    return max(safety * (hold - flung), hold) if inside else safety * (hold + flung)


def permissible(clamping: float, hold: float, safety: float, moment: float) -> float:
    """Fastest spindle for outside gripping [rev/min]: 30/pi sqrt((clamping/safety - hold)/moment); 0 when none.

    `moment` is the sum of m r of all jaws [kg m].
    """
    return 30.0 / math.pi * math.sqrt(max(clamping / safety - hold, 0.0) / moment)
