"""Making a thread, on plain floats and exact fractions: room for the tool, its side clearance, dial lines and gears.

Lengths are in mm, angles in degrees, speeds in rev/min.
"""

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import numpy as np

# Least root of an external 60 degree thread below its pitch line, and largest root of an internal one above it,
# in pitches on the diameter: a root of radius 0.125 P, and a root flat of P/24 (MH27 p. 1794: d3 min, D max).
ROOT_BELOW, ROOT_ABOVE = 0.616025, 0.793857


def lead_angle(lead: float, diameter: Any) -> Any:
    """Angle of the helix at a diameter: steeper the smaller the diameter."""
    return np.degrees(np.arctan(lead / (math.pi * np.asarray(diameter))))


def flank_clearance(relief: float, half_angle: float) -> float:
    """Side clearance that a tool gets from its relief under the point alone: tan c = tan(relief) tan a."""
    return math.degrees(math.atan(math.tan(math.radians(relief)) * math.tan(math.radians(half_angle))))


def fastest_into_relief(width: float, pitch: float, lead: float, reaction: float) -> float:
    """Spindle speed at which the carriage crosses the relief in the time it takes to react [min].

    The tool is about a pitch wide: its back has to leave the thread and its front must not reach the shoulder.
    """
    return max(width - pitch, 0.0) / (lead * reaction)


def least_bore(bar: float, projection: float, clearance: float) -> float:
    """Smallest bore that a bar with a tooth standing out enters, with clearance before the tooth and behind the bar."""
    return bar + projection + 2 * clearance


def dial_steps(lead: Fraction, screw: Fraction, teeth: int, lines: int) -> tuple[int, ...]:
    """Steps of the dial, from the line first used, at which half-nuts close and the tool falls into its groove.

    A step of k lines is a carriage shift of k/lines turns of the worm wheel. The half-nuts close only where that is
    a whole number of threads of the lead screw; the groove is met where it is a whole number of leads.
    """
    good = []
    for k in range(lines):
        threads = Fraction(k * teeth, lines)
        if threads.denominator == 1 and (threads * screw / lead).denominator == 1:
            good.append(k)
    return tuple(good)


def comes_round(lead: Fraction, screw: Fraction) -> Fraction:
    """Shortest shift of the carriage after which the half-nuts close and the tool is in its groove again."""
    return (lead / screw).numerator * screw


def gear_trains(ratio: Fraction, gears: Sequence[int], most: int) -> tuple[tuple[int, ...], ...]:
    """Trains that give a ratio of drivers over driven exactly: (a, b), then (a, b, c, d) for a/b x c/d."""
    # Bounded by the largest gears, so that whole numbers of numpy cannot overflow below.
    largest = max(gears) ** 2
    if ratio.numerator > largest or ratio.denominator > largest:
        return ()
    teeth = np.unique(np.asarray(gears, dtype=np.int64))
    owned = {int(gear): list(gears).count(int(gear)) for gear in teeth}
    a, b = (grid.ravel() for grid in np.meshgrid(teeth, teeth, indexing="ij"))
    simple = np.flatnonzero(a * ratio.denominator == b * ratio.numerator)
    found = [(int(a[i]), int(b[i])) for i in simple if a[i] != b[i] or owned[int(a[i])] > 1]
    found.sort(key=lambda train: (abs(sum(train) - 100), train))
    if len(found) >= most:
        return tuple(found[:most])
    apart = np.flatnonzero(a != b)
    a, b = a[apart], b[apart]
    # Each train once: the order of the drivers, and of the driven, changes nothing.
    one, two = np.triu_indices(len(a))
    exact = a[one] * a[two] * ratio.denominator == b[one] * b[two] * ratio.numerator
    trains: dict[tuple[tuple[int, ...], tuple[int, ...]], tuple[int, ...]] = {}
    for i, j in zip(one[exact], two[exact], strict=True):
        train = (int(a[i]), int(b[i]), int(a[j]), int(b[j]))
        fits = all(train.count(gear) <= owned[gear] for gear in train)
        if fits and train[0] != train[3] and train[1] != train[2]:
            trains.setdefault((tuple(sorted(train[::2])), tuple(sorted(train[1::2]))), train)
    compound = sorted(trains.values(), key=lambda train: (sum(train), train))
    return tuple([*found, *compound][:most])


def nearest_train(ratio: Fraction, gears: Sequence[int]) -> tuple[int, ...]:
    """The two pairs of gears that come nearest to a ratio; empty when there are not enough gears for two pairs."""
    teeth = np.unique(np.asarray(gears, dtype=np.int64))
    owned = {int(gear): list(gears).count(int(gear)) for gear in teeth}
    a, b = (grid.ravel() for grid in np.meshgrid(teeth, teeth, indexing="ij"))
    apart = np.flatnonzero(a != b)
    a, b = a[apart], b[apart]
    wanted = math.log(ratio.numerator) - math.log(ratio.denominator)
    values = np.log(a / b)
    one, two = np.triu_indices(len(a))
    error = np.abs(values[one] + values[two] - wanted)
    for place in np.argsort(error):
        i, j = one[place], two[place]
        train = (int(a[i]), int(b[i]), int(a[j]), int(b[j]))
        if all(train.count(gear) <= owned[gear] for gear in train):
            return train
    return ()
