"""What a size is spent on, and how much of its tolerance that takes, by the kernels of the error budget."""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

from latheworks.budget import kernel
from latheworks.plan.filled import turning_speed
from latheworks.plan.job import Job
from latheworks.plan.outcome import Spread
from latheworks.plan.walk import Step
from latheworks.tables import table

COVERAGE = 2.0  # standard deviations: what is likely, 19 times in 20
WORN = 0.037  # mm on the radius that an edge has lost at the end of its life: a land of 0.3 mm (ISO 3685, from memory)
# behind an edge with 7 degrees of clearance: 0.3 tan 7 degrees, geometry
ALONG = ("bending",)  # what is not left to chance: it lies along every part
RULE = 10.0  # of the tolerance: rule of ten


class Instrument(NamedTuple):
    """An instrument: name, half-width and standard deviation of its error, and its step [mm]."""

    name: str
    half: float
    deviation: float
    step: float

    @property
    def parts(self) -> tuple[tuple[str, Spread], ...]:
        """Its contributions."""
        return (("instrument", (0.0, self.half, "uniform", 1.0)), ("measuring", (0.0, self.deviation, "normal", 1.0)))


class Outcome(NamedTuple):
    """What a size comes out at [mm]: likely low and high, share of the tolerance used, shares of the contributions."""

    low: float
    high: float
    use: float | None
    shares: tuple[tuple[str, float], ...]


@cache
def instruments(what: str) -> tuple[Instrument, ...]:
    """The instruments for outside, inside, outside thread, ..., the finest first."""
    rows = [row for row in table("instruments") if row["for"] == what]
    found = [Instrument(row["instrument"], float(row["half-width [mm]"]), float(row["standard deviation [mm]"]),
                        float(row["step [mm]"])) for row in rows]  # fmt: skip
    return tuple(sorted(found, key=lambda one: one.step))


def advised(what: str, tolerance: float | None) -> str:
    """The handiest instrument that steps by a tenth of the tolerance at most; the finest where none does."""
    known = instruments(what)
    if tolerance is None:
        return known[-1].name
    fits = [one for one in known if one.step <= tolerance / RULE + 1e-12]
    return (fits[-1] if fits else known[0]).name


@cache
def dial() -> float:
    """How well a cross slide comes back to a reading: half-width on the radius [mm]."""
    return next(float(r["spread [mm]"]) for r in table("error_sources") if r["name"] == "re-zeroing the cross slide")


def setting() -> tuple[tuple[str, Spread], ...]:
    """Setting a size by the dial."""
    return (("setting the dial", (0.0, dial(), "uniform", 2.0)),)


def life(job: Job, edge: str, speed: float) -> float | None:
    """How long an edge lasts at a surface speed [min], by Taylor's equation; None where the table has no such edge."""
    name = job.part.stuff.name
    metal = "steel" if "steel" in name or "iron" in name else "nonferrous metal"
    row = _taylor().get(f"{edge} on {metal}") or _taylor().get(f"carbide on {metal}")
    if row is None or speed <= 0.0 or turning_speed(name, edge) is None:
        return None
    n, constant = row
    return float(min((constant / speed) ** (1.0 / n), 1e6))


@cache
def _taylor() -> dict[str, tuple[float, float]]:
    return {row["edge"]: (float(row["n"]), float(row["speed for one minute [m/min]"])) for row in table("tool_life")}


def wear(job: Job, step: Step, inside: bool) -> tuple[tuple[str, Spread], ...]:
    """What the edge loses while it cuts this: half as a shift, half as a spread, on the radius."""
    tool = job.tool(step.op.tool)
    lasts = None if tool is None else life(job, tool.edge, step.judged.data.speed)
    if lasts is None:
        return ()
    half = WORN * min(step.judged.cutting / lasts, 1.0) / 2.0
    return (("edge wear", (-half if inside else half, half, "uniform", 2.0)),)


def heat(job: Job, step: Step, size: float) -> tuple[tuple[str, Spread], ...]:
    """What a size turned warm lacks when it is cold; how warm it is, is known to a half."""
    shrinks = job.growth * step.warm * size
    return (("heat", (-shrinks, shrinks / 2.0, "uniform", 1.0)),) if shrinks > 0.0 else ()


def spent(aim: float, low: float | None, high: float | None, parts: tuple[tuple[str, Spread], ...]) -> Outcome:
    """What contributions come to, against limits either of which may be open.

    Bending lies along every part, so all of its range counts; the rest by the root of the sum of squares, twice.
    """
    chance = [part for name, part in parts if name not in ALONG]
    along = sum(factor * spread for name, (_, spread, _, factor) in parts if name in ALONG)
    shift = kernel.shift([part for _, part in parts])
    half = along + COVERAGE * kernel.root_sum_square(kernel.deviations(chance)) if parts else 0.0
    rooms = []
    if high is not None:
        rooms.append((shift + half, high - aim))
    if low is not None:
        rooms.append((half - shift, aim - low))
    use = max((max(need, 0.0) / room if room > 1e-9 else math.inf for need, room in rooms), default=None)
    if use is not None:
        use = min(use, 999.0)
    weights = [
        (name, factor * (abs(bias) + spread * (1.0 if name in ALONG else COVERAGE * kernel.DEVIATION[kind])))
        for name, (bias, spread, kind, factor) in parts
    ]
    total = sum(weight for _, weight in weights)
    merged: dict[str, float] = {}
    for name, weight in weights:
        merged[name] = merged.get(name, 0.0) + (weight / total if total > 0 else 0.0)
    return Outcome(aim + shift - half, aim + shift + half, use, tuple(sorted(merged.items(), key=lambda one: -one[1])))
