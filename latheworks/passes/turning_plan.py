"""The passes of a turning job one after the other, on plain floats: levels, stretches, loads and times."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from latheworks.passes import turning_kernel as kernel
from latheworks.passes import turning_limits as limits
from latheworks.passes.turning_kernel import SAME, Floats
from latheworks.passes.turning_limits import Bounds, Cut

MOST_PASSES = 500
# A thinner cut than this rubs rather than cuts: common practice.
THINNEST = 0.02
ROUGH, SEMI, FINISH = "rough", "semi-finish", "finish"


class TooMany(ValueError):
    """A plan of more passes than anybody would cut, or a limit that leaves no cut; says which limit, and the depth."""

    def __init__(self, name: str, depth: float, height: float) -> None:
        super().__init__(name)
        self.name, self.depth, self.height = name, depth, height


class Job(NamedTuple):
    """What is turned and how: profile as z and height, stock height, allowances and tracks of the tool [mm]."""

    z: Floats
    height: Floats
    stock: float
    allowance: float
    rough: Cut
    finish: Cut
    bounds: Bounds
    approach: float
    overrun: float
    return_speed: float
    setting: float
    spots: Floats
    flexibility: Floats


class Pass(NamedTuple):
    """One pass: heights before and after, ends, and what it takes."""

    kind: str
    before: float
    after: float
    depth: float
    start: float
    end: float
    spindle: float
    surface: float
    feed: float
    tangential: float
    torque: float
    power: float
    removal: float
    volume: float
    cutting: float
    idle: float
    limit: str
    limit_depth: float
    allowed: dict[str, float]
    closed: bool


def plan(job: Job) -> tuple[list[Pass], dict[str, float]]:
    """Every pass in order, and the depth under each limit at the first cut."""
    passes: list[Pass] = []
    level, first = job.stock, limits.allowed(job.rough, _shares(job, job.rough, job.stock))
    for target in kernel.shelves(job.z, job.height, job.stock, job.allowance):
        while level > target + SAME:
            allowed = limits.allowed(job.rough, _shares(job, job.rough, level))
            name, most = limits.least(allowed)
            if most < THINNEST:
                raise TooMany(name, most, level)
            # Equal cuts down to the next cylinder: no sliver is left for the last.
            left = math.ceil((level - target) / most - SAME)
            if left + len(passes) > MOST_PASSES:
                raise TooMany(name, most, level)
            below = max(level - (level - target) / left, target)
            passes += _straight(job, level, below, allowed)
            level = below
    after = _stairs(job, passes)
    return passes + after + _finish(job, passes + after), first


def _shares(job: Job, cut: Cut, level: float) -> dict[str, Floats]:
    """The shares of every limit for a cut from this level, with the softest place that it passes."""
    soft = job.flexibility[np.interp(job.spots, job.z, job.height) <= level + SAME] if job.spots.size else job.spots
    return limits.shares(cut, job.bounds, level, float(soft.max()) if soft.size else 0.0)


def _straight(job: Job, level: float, below: float, allowed: dict[str, float]) -> list[Pass]:
    """The straight cuts from one level to the next, one for each stretch of the profile that lies under it."""
    depth, cut, turns = level - below, job.rough, job.bounds.turns
    name, most = limits.least(allowed)
    tangential, _, _ = limits.at_depth(cut, depth)
    big = 2.0 * max(abs(level), abs(below))
    spindle = float(kernel.turns_at(turns, big))
    torque = tangential * abs(level + below) / 2000.0
    area = math.pi * abs(level**2 - below**2)
    found = []
    for start, end in reversed(kernel.stretches(job.z, job.height, below - job.allowance, job.allowance)):
        length = end - start
        closed = end < job.z[-1] - SAME
        travel = length + job.approach + (job.overrun if start <= job.z[0] + SAME else 0.0)
        found.append(Pass(
            ROUGH, level, below, depth, start, end, spindle, math.pi * big * spindle / 1000.0, cut.feed, tangential,
            torque, limits.kilowatts(torque, spindle), area * cut.feed * spindle / 1000.0, area * length,
            travel / (cut.feed * spindle), travel / job.return_speed + job.setting, name, most, allowed, closed,
        ))  # fmt: skip
    return found


def _stairs(job: Job, passes: list[Pass]) -> list[Pass]:
    """One pass along the profile that takes the stairs off tapers and curves, where there are any."""
    if not passes or not kernel.slopes_below(job.z, job.height + job.allowance, job.stock):
        return []
    # Its stairs are as high as the cuts that left them, and it meets them where those cuts began.
    deepest = max(passes, key=lambda each: each.depth)
    volume = _volume(job, job.allowance) - sum(each.volume for each in passes)
    return [_contour(job, SEMI, job.rough, deepest.depth, job.allowance, max(volume, 0.0), deepest.before)]


def _finish(job: Job, before: list[Pass]) -> list[Pass]:
    """The last pass along the profile itself."""
    if job.allowance <= 0.0:
        return []
    volume = _volume(job, 0.0) - sum(each.volume for each in before)
    return [_contour(job, FINISH, job.finish, job.allowance, 0.0, max(volume, 0.0))]


def _volume(job: Job, above: float) -> float:
    """The volume between the stock and the profile raised by an allowance [mm^3]."""
    return kernel.ring(*kernel.cut_below(job.z, job.height + above, job.stock), job.stock)


def _contour(job: Job, kind: str, cut: Cut, depth: float, above: float, volume: float,
             level: float | None = None) -> Pass:  # fmt: skip
    """A pass along the profile raised by an allowance, from the free end to the chuck; deepest from a level down."""
    turns = job.bounds.turns
    za, zb, ha, hb = kernel.cut_below(job.z, job.height + above, job.stock)
    lower, higher = float(min(ha.min(), hb.min())), float(max(ha.max(), hb.max()))
    ends = float(za.min()), float(zb.max())
    cutting = float(np.sum(kernel.minutes(turns, np.hypot(zb - za, hb - ha), cut.feed, 2 * np.abs(hb), 2 * np.abs(ha))))
    extra = job.approach + (job.overrun if ends[0] <= job.z[0] + SAME else 0.0)
    cutting += float(kernel.minutes(turns, extra, cut.feed, 2 * abs(hb[-1]), 2 * abs(hb[-1])))
    tangential, _, _ = limits.at_depth(cut, depth)
    if level is None:
        level = depth + (lower if abs(lower) > abs(higher) else higher)
    big = 2.0 * max(abs(lower), abs(higher))
    spindle = float(kernel.turns_at(turns, big))
    at_level = float(kernel.turns_at(turns, 2.0 * max(abs(level), abs(level - depth))))
    torque = tangential * abs(level - depth / 2) / 1000.0
    allowed = limits.allowed(cut, _shares(job, cut, level))
    name, most = limits.least(allowed)
    return Pass(
        kind, lower + depth, lower, depth, *ends, spindle, math.pi * big * spindle / 1000.0, cut.feed, tangential,
        torque, limits.kilowatts(torque, at_level), volume / cutting / 1000.0, volume, cutting,
        (ends[1] - ends[0] + extra) / job.return_speed + job.setting, name, most, allowed, False,
    )  # fmt: skip
