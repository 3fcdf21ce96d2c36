"""Three wires in a thread's grooves: plain numbers in one unit of length, half angle of the flanks in radians."""

import math
from functools import lru_cache
from typing import Any

import numpy as np

STEP = 1e-7  # in pitches: for slopes by difference


def best_wire(pitch: float, half_angle: float) -> float:
    """The wire that touches the flanks at the pitch line of a thread without lead: P/(2 cos a)."""
    return pitch / (2.0 * math.cos(half_angle))


def wire_factor(half_angle: float) -> float:
    """What one wire diameter adds to the reading: 1 + csc a, which is 3 at 60 degrees."""
    return 1.0 + 1.0 / math.sin(half_angle)


def pitch_factor(half_angle: float) -> float:
    """What one pitch takes off the reading: cot a / 2, which is 0.866025 at 60 degrees."""
    return 0.5 / math.tan(half_angle)


def over_wires(pitch_diameter: Any, pitch: float, wire: Any, half_angle: float) -> Any:
    """The reading without regard to the lead: M = d2 + W (1 + csc a) - P cot a / 2."""
    return pitch_diameter + wire * wire_factor(half_angle) - pitch * pitch_factor(half_angle)


def smallest_wire(pitch: float, half_angle: float, crest: float, root: float) -> float:
    """The wire whose top is level with the crest, or the one that just touches the root when that is larger.

    Parameters: crest and root, their height and depth from the pitch line, (d - d2)/2 and (d2 - d1)/2. Measured
    from the point where the flanks would meet, the wire's top is at W (csc a + 1)/2 and its bottom at
    W (csc a - 1)/2; the pitch line is at P cot a / 4.
    """
    pitch_line, cosecant = pitch / (4.0 * math.tan(half_angle)), 1.0 / math.sin(half_angle)
    return max(2.0 * (pitch_line + crest) / (cosecant + 1.0), 2.0 * (pitch_line - root) / (cosecant - 1.0))


def largest_wire(pitch: float, half_angle: float, crest: float) -> float:
    """The wire that touches the flanks where they end at the crest: W cos^2 a / (2 sin a) is its contact's height."""
    pitch_line = pitch / (4.0 * math.tan(half_angle))
    return 2.0 * (pitch_line + crest) * math.sin(half_angle) / math.cos(half_angle) ** 2


def handbook_lead_term(pitch_diameter: float, lead: float, wire: float, half_angle: float) -> float:
    """The usual approximation of what the lead adds to the reading: W tan^2 B cos a cot a / 2, B the lead angle."""
    slope = lead / (math.pi * pitch_diameter)
    return 0.5 * wire * slope**2 * math.cos(half_angle) / math.tan(half_angle)


def lead_term(pitch_diameter: float, pitch: float, lead: float, wire: float, half_angle: float) -> float:
    """What the lead adds to the reading, from the contact of a straight wire with the helical flanks."""
    reading, _ = _contact(pitch_diameter, pitch, lead, half_angle, wire)
    return reading - float(over_wires(pitch_diameter, pitch, wire, half_angle))


def best_wire_with_lead(pitch_diameter: float, pitch: float, lead: float, half_angle: float) -> float:
    """The wire that touches the helical flanks on the pitch cylinder."""
    return _contact(pitch_diameter, pitch, lead, half_angle, None)[1]


@lru_cache(maxsize=512)
def _contact(pitch_diameter: float, pitch: float, lead: float, half_angle: float,
             wire: float | None) -> tuple[float, float]:  # fmt: skip
    """(reading over wires, wire) for a straight wire that rests in the helical groove.

    Seen from the groove's middle, a flank is z = h t + s(r), with h = lead/(2 pi) and half the groove's width
    s(r) = P/4 + (r - d2/2) tan a. The wire's axis stands at right angles to the radius, tilted by b. It touches
    where its distance from the thread's axis is largest over (r, t), and tilts until both touching points lie
    opposite each other, which lets it sink deepest. Newton's method on (r, t, b), the lead raised in steps from
    none; without a wire, W is a fourth unknown and r = d2/2 the fourth equation. Lengths are in pitches.
    """
    radius, rise, slope = pitch_diameter / (2.0 * pitch), lead / (2.0 * math.pi * pitch), math.tan(half_angle)
    first = best_wire(1.0, half_angle) if wire is None else wire / pitch
    depth = radius + 0.5 * first * math.cos(half_angle) ** 2 / math.sin(half_angle) - 0.25 / slope
    unknown = np.array([depth, 0.0, 0.0] if wire is not None else [radius, 0.0, 0.0, first])

    def touch(v: np.ndarray, h: float) -> tuple[float, np.ndarray]:
        r, turn, tilt = (float(x) for x in v[:3])
        half = 0.5 * (float(v[3]) if wire is None else first)
        y, z = r * math.sin(turn), h * turn + 0.25 + (r - radius) * slope
        across = z * math.cos(tilt) - y * math.sin(tilt)
        up = math.sqrt(max(half * half - across * across, 1e-12))
        by_r = slope * math.cos(tilt) - math.sin(turn) * math.sin(tilt)
        by_turn = h * math.cos(tilt) - r * math.cos(turn) * math.sin(tilt)
        rows = [math.cos(turn) - across * by_r / up, -math.sin(turn) - across * by_turn / (up * r),
                y * math.cos(tilt) + z * math.sin(tilt), r - radius]  # fmt: skip
        return r * math.cos(turn) + up, np.array(rows[: len(v)])

    steps = 1 + int(math.degrees(math.atan(rise / radius)) / 3.0)
    for share in range(1, steps + 1):
        h = rise * share / steps
        for _ in range(30):
            _, here = touch(unknown, h)
            shifted = [touch(unknown + STEP * row, h)[1] for row in np.eye(len(unknown))]
            move = np.linalg.solve((np.array(shifted) - here).T / STEP, here)
            unknown = unknown - move
            if float(np.abs(move).max()) < 1e-11:
                break
    found = first if wire is not None else float(unknown[3])
    return (2.0 * touch(unknown, rise)[0] + found) * pitch, found * pitch
