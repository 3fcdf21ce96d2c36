"""Drilling on plain floats: mm, mm/rev, MPa, N, N mm, degrees. Arrays go wherever a float does."""

from functools import cache
from typing import Any

import numpy as np

from latheworks.tables import table

INCH, POUND = 25.4, 4.4482216152605
STANDARD_CHISEL, SPLIT_CHISEL = 0.18, 0.03  # chisel edge over diameter, as the handbook counts them


def point(diameter: Any, point_angle: Any) -> Any:
    """Length of the point, from its tip to where the lips reach the full diameter: (D/2)/tan(angle/2)."""
    return np.asarray(diameter) / 2.0 / np.tan(np.radians(point_angle) / 2.0)


def travel(depth: Any, tip: Any, through: bool, approach: Any, overrun: Any) -> Any:
    """What the drill has to move: approach + depth + point, and the overrun where it goes through."""
    return approach + depth + tip + (overrun if through else 0.0)


@cache
def chisel_factors(chisel: float) -> tuple[float, float, float]:
    """A, B and J of the handbook's table for a chisel edge over diameter, straight lines between the rows."""
    rows = table("drill_chisel")
    at = [float(row["c/d"]) for row in rows]
    names = ("torque A", "thrust B", "thrust J")
    return tuple(float(np.interp(chisel, at, [float(r[n]) for r in rows])) for n in names)  # type: ignore[return-value]


def feed_factor(feed: Any) -> Any:
    """Ff = f^0.8, in/rev or mm/rev."""
    return np.power(feed, 0.8)


def thrust_factor(diameter: Any) -> Any:
    """FT = D^0.8, in or mm."""
    return np.power(diameter, 0.8)


def torque_factor(diameter: Any) -> Any:
    """FM = D^1.8, in or mm."""
    return np.power(diameter, 1.8)


def lips_left(pilot: Any) -> tuple[Any, Any]:
    """Torque and thrust of the lips outside a pilot hole, as shares of the lips to the center; pilot over diameter.

    (1 - q^2)/(1 + q)^0.2 and (1 - q)/(1 + q)^0.2, the lips' own terms by Shaw and Oxford, where q is also what the
    chisel edge takes.
    """
    below = np.power(1.0 + pilot, 0.2)
    return (1.0 - np.square(pilot)) / below, (1.0 - pilot) / below


def chisel_terms(chisel: Any) -> tuple[Any, Any, Any]:
    """Torque, thrust and squeezing term of a whole drill by Shaw and Oxford; the handbook's A, B and J round them."""
    torque, thrust = lips_left(chisel)
    return torque + 3.2 * np.power(chisel, 1.8), thrust + 2.2 * np.power(chisel, 0.8), np.square(chisel)


def handbook(torque_kd: Any, thrust_kd: Any, diameter: Any, feed: Any, factors: tuple[Any, Any, Any],
             wear: Any = 1.0) -> tuple[Any, Any]:  # fmt: skip
    """Thrust [N] and torque [N mm]: 0.05 Kd Ff FT B W + 0.007 Kd D^2 J W, and 0.000025 Kd Ff FM A W in N m."""
    a, b, j = factors
    own = feed_factor(feed) * wear
    thrust = 0.05 * thrust_kd * own * thrust_factor(diameter) * b + 0.007 * thrust_kd * np.square(diameter) * j * wear
    return thrust, 0.025 * torque_kd * own * torque_factor(diameter) * a


def with_pilot(pilot: Any, chisel: float) -> tuple[Any, Any, Any]:
    """The handbook's factors behind a pilot: A = B = 1 and J = 0 where it just clears the chisel edge, less beyond."""
    torque, thrust = lips_left(pilot)
    first_torque, first_thrust = lips_left(chisel)
    return torque / first_torque, thrust / first_thrust, 0.0


def kienzle(specific: Any, exponent: Any, diameter: Any, feed: Any, point_angle: Any, pilot: Any = 0.0,
            wear: Any = 1.0) -> tuple[Any, Any]:  # fmt: skip
    """Thrust [N] and torque [N mm] of the two lips: kc (D - d) f/4 sin(angle/2), and kc f (D^2 - d^2)/8.

    kc = kc1.1 h^-mc with h = f/2 sin(angle/2); the thrust is half of the main force, turned by the lips. The chisel
    edge is not in it, so the thrust of a drill without a pilot comes out low.
    """
    lean = np.sin(np.radians(point_angle) / 2.0)
    kc = specific * np.power(feed / 2.0 * lean, -exponent) * wear
    hole = pilot * diameter
    return 0.5 * kc * feed * (diameter - hole) / 2.0 * lean, kc * feed * (np.square(diameter) - np.square(hole)) / 8.0


def shaw_oxford(hardness: Any, diameter: Any, feed: Any, chisel: float, pilot: Any = 0.0,
                wear: Any = 1.0) -> tuple[Any, Any]:  # fmt: skip
    """Thrust [N] and torque [N mm], from M = 25200 f^0.8 d^1.8 and T = 57500 f^0.8 d^0.8 + 625 d^2 (in, lb, 200 HB).

    Scaled by hardness, and by the terms of the chisel edge or of a pilot.
    """
    d, f = np.asarray(diameter) / INCH, np.asarray(feed) / INCH
    usual = chisel_terms(STANDARD_CHISEL)
    here = (*lips_left(pilot), 0.0) if pilot > 0.0 else chisel_terms(chisel)
    share = hardness / 200.0 * wear
    torque = 25200.0 * share * feed_factor(f) * torque_factor(d) * here[0] / usual[0]
    thrust = (
        57500.0 * feed_factor(f) * thrust_factor(d) * here[1] / usual[1] + 625.0 * np.square(d) * here[2] / usual[2]
    )
    return thrust * share * POUND, torque * POUND * INCH


def power(torque: Any, spindle: Any) -> Any:
    """P = M 2 pi n [kW], for M [N mm] and n [rev/min]."""
    return torque * 2.0 * np.pi * spindle / 60.0e6


def pecks(depth: float, diameter: float, first: float, ratio: float, least: float) -> np.ndarray:
    """The pecks that make up a depth [mm]: the first, each next `ratio` times the one before, none below `least`.

    Lengths of first and least in diameters. What is left of the depth is the last peck, which may be short.
    """
    step, done, found = first * diameter, 0.0, []
    while done < depth - 1e-9:
        found.append(min(step, depth - done))
        done += found[-1]
        step = max(step * ratio, least * diameter)
    return np.array(found)


def peck_time(steps: np.ndarray, feed_speed: float, quill_speed: float, clearing: float) -> float:
    """Minutes to drill in pecks: the cut, out of the hole and back after each but the last, and clearing [min] then."""
    done = np.cumsum(steps)
    return float(done[-1] / feed_speed + 2.0 * done[:-1].sum() / quill_speed + clearing * (len(steps) - 1))


def meeting(eccentricity: float, drift: float, depths: tuple[float, float]) -> tuple[float, float, float, float]:
    """Where holes from both ends meet [mm]: expected step, worst step, expected and worst allowance on the diameter.

    The first hole is turned round with the part and lies off the new axis by the re-chucking and its own drift; the
    second by its drift alone. The step is the distance of their centers; a bore on the new axis clears both holes when
    it is twice the larger offset wider.
    """
    first, second = drift * depths[0], drift * depths[1]
    expected = float(np.sqrt(eccentricity**2 + first**2 + second**2))
    there = float(np.hypot(eccentricity, first))
    return expected, eccentricity + first + second, 2.0 * max(there, second), 2.0 * max(eccentricity + first, second)
