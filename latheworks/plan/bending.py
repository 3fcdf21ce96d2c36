"""What the workpiece gives under the tool as it stands and is held, on plain floats."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np

from latheworks.cutting.kernel import radial_force
from latheworks.deflection.holding import BetweenCenters, Chuck, ChuckAndCenter, Holding
from latheworks.deflection.kernel import Beam, Floats, beam
from latheworks.deflection.moving_kernel import under_tool
from latheworks.deflection.size_kernel import Give, run
from latheworks.plan.job import Held, Job
from latheworks.plan.outcome import Spread
from latheworks.plan.shape import Shape
from latheworks.units import Q_, U

REST = 20_000.0  # N/mm, a steady rest: invented for teaching, as published stiffnesses of rests were not found
PLACES = 5  # along a cut
LEAST = 0.01  # mm: a wall thinner than this is not there
UNKNOWN = 1.0 / 3.0  # one standard deviation of what is not known of force and stiffness, as a share: common practice
FAR = 100.0  # mm: a radius for cuts whose tangential force is not looked at


@lru_cache(maxsize=64)
def holding_of(between: bool, center: bool, tilt: float, radial: float, tail: float, rest: float | None) -> Holding:
    """A holding with these springs."""
    prop = None if rest is None else (Q_(rest, U.mm), Q_(REST, U.N_per_mm))
    head, end = Q_(radial, U.N_per_mm), Q_(tail, U.N_per_mm)
    if between:
        return BetweenCenters(head, end, prop)
    if center:
        return ChuckAndCenter(Q_(tilt, U.Nmm_per_rad), head, end, prop)
    return Chuck(Q_(tilt, U.Nmm_per_rad), head, prop)


def springs(held: Held, length: float) -> Holding:
    """The holding of a setup, with its rest where the work reaches it."""
    rest = held.rest if held.rest is not None and held.rest < length else None
    return holding_of(held.holding == "between centers", held.support != "none", held.tilt, held.radial, held.center,
                      rest)  # fmt: skip


def free(held: Held, shape: Shape) -> tuple[Floats, Floats, Floats] | None:
    """Lengths, outsides and bores of what sticks out, from the jaws on; None where nothing does."""
    start, end = (max(held.jaws, shape.start), shape.end) if held.grips == "A" else (
        shape.start, min(held.jaws, shape.end))  # fmt: skip
    if end - start < LEAST:
        return None
    long, outside, bore = shape.pieces(start, end)
    keep = long > 1e-7
    long, outside, bore = long[keep], outside[keep], bore[keep]
    if (outside - bore < LEAST).any():
        return None
    return (long, outside, bore) if held.grips == "A" else (long[::-1], outside[::-1], bore[::-1])


def beam_of(job: Job, held: Held, shape: Shape) -> Beam | None:
    """What sticks out as a beam; None where there is none."""
    part = free(held, shape)
    return None if part is None else beam(*part, job.modulus)


def places(held: Held, start: float, end: float, length: float, count: int = PLACES) -> Floats:
    """Places along a cut, from the jaws [mm]."""
    low, high = sorted((float(held.out(start)), float(held.out(end))))
    return np.clip(np.linspace(low, high, count), 0.0, length)


def sag(held: Held, near: Beam, far: Beam, at: Floats) -> tuple[Floats, Floats]:
    """Give at the tool for 1 N square to the axis [mm/N], and for a couple of 1 N mm there."""
    # Two beams of the same work may differ by rounding of their ends.
    if near is not far and abs(near.length - far.length) > 1e-9:
        far = near
    return under_tool(springs(held, near.length), near, far, np.minimum(at, near.length))


def passes_left(job: Job, nose: float, entering: float, feed: float, steps: list[float], give: Give, radius: float,
                wear: float = 1.0) -> Floats:  # fmt: skip
    """What stands above the tool's distance after each pass, set in by each of `steps` in turn [mm on the radius]."""
    assert job.pair is not None
    kc, mc = job.pair[0] * wear, job.pair[1]

    def force(_: Any, taken: Any) -> tuple[Any, Any, Any]:
        return radial_force(kc, mc, taken, feed, nose, entering)

    return balance(force, steps, give, radius)


def balance(force: Any, steps: list[float], give: Give, radius: float) -> Floats:
    """What stands after each pass of any force of the depth taken."""
    count = give.away.shape[1]
    blank = np.full(count, radius)
    stands = radius - np.cumsum(steps)[:, np.newaxis] * np.ones((1, count))
    return np.asarray(run(force, give, 0.0, blank, stands, 0.0).left - stands)


def straight(away: Floats, rows: int) -> Give:
    """The same give in each of so many passes, of what only bends away."""
    each = np.tile(away, (rows, 1))
    none = np.zeros_like(each)
    return Give(each, none, none)


def as_parts(error: Floats) -> tuple[tuple[str, Spread], ...]:
    """An error of a diameter along a feature as two contributions: what bends, and what is not known of it."""
    low, high = float(error.min()), float(error.max())
    most = max(abs(low), abs(high))
    return (
        ("bending", ((low + high) / 2, (high - low) / 2, "uniform", 1.0)),
        ("force and stiffness", (0.0, UNKNOWN * most, "normal", 1.0)),
    )
