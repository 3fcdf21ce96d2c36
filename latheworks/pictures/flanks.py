"""Straight flanks and flat crests: the profile of a thread with any angle, for the pictures that draw one."""

import numpy as np

Ends = tuple[float | None, float | None]


def ridges(x: np.ndarray, pitch: float, tan: float, major: float, middle: float, minor: float) -> np.ndarray:
    """Radius of a thread along the axis, a crest at nought; `tan` is the tangent of half the angle.

    On the diameter `middle` ridge and groove are equally wide, half a pitch each.
    """
    from_crest = np.abs((x + pitch / 2) % pitch - pitch / 2)
    return np.clip(middle / 2 + (pitch / 4 - from_crest) / tan, minor / 2, major / 2)


def end(limits: Ends, which: int, otherwise: float) -> float:
    """One end of the limits, the other where it is open, another size where both are."""
    found = limits[which] if limits[which] is not None else limits[1 - which]
    return otherwise if found is None else found


def trapezoid(depth: float, center: float, flat: float, tan: float, sign: float, surface: float = 0.0) -> np.ndarray:
    """The groove that a tool has cut to a depth: from the surface down to its flat and up again."""
    wide = flat / 2 + depth * tan
    x = np.array([center - wide, center - flat / 2, center + flat / 2, center + wide])
    return np.column_stack([x, surface + sign * depth * np.array([0.0, 1.0, 1.0, 0.0])])
