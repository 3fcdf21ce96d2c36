"""A row for every size of a part, on plain floats: what would come out, and what its tolerance is spent on."""

from __future__ import annotations

from typing import NamedTuple

from latheworks.plan.budget_of import Outcome, advised, heat, instruments, setting, spent, wear
from latheworks.plan.feature import PlainFeature
from latheworks.plan.judge_holding import squeeze
from latheworks.plan.loads import gripped
from latheworks.plan.outcome import Spread
from latheworks.plan.walk import Step, Walk
from latheworks.units import U

Parts = tuple[tuple[str, Spread], ...]
# Whole reading that work runs out by in a holding [mm]: twice the radius of `error_sources`, common practice.
RUNOUT = {"three-jaw chuck": 0.08, "soft jaws": 0.02, "four-jaw chuck": 0.02, "collet": 0.03, "between centers": 0.01}
SPINDLE = 0.005  # mm, whole reading of what is turned in one setup: common practice
READING = 0.02  # mm, half-width of a length set by the carriage's dial or stop: common practice


class SizeRow(NamedTuple):
    """One size of a feature [mm]: aim and limits, None where open; what comes out, None where it is not made or not
    known; its contributions; (setup, operation) that makes it last, from 0; the instrument; Ra at best [um]."""

    name: str
    measure: str
    aim: float
    low: float | None
    high: float | None
    outcome: Outcome | None
    parts: Parts
    made: tuple[int, int] | None
    instrument: str
    finish: float | None

    @property
    def use(self) -> float | None:
        """The share of the tolerance that is used; None without limits."""
        return None if self.outcome is None else self.outcome.use


def size_rows(found: Walk) -> tuple[tuple[SizeRow, ...], tuple[SizeRow, ...]]:
    """The main row of each feature, and the rows of lengths, widths and runouts asked for beside those."""
    main = tuple(main_row(found, feature) for feature in found.job.features.values())
    more = []
    for feature in found.job.features.values():
        own = [] if feature.kind == "face" else [length_row(found, feature, "length")]
        more += [row for row in (*own, width_row(found, feature), runout_row(found, feature.name)) if row is not None]
    return main, tuple(more)


def main_row(found: Walk, feature: PlainFeature) -> SizeRow:
    """The row of a feature: its diameter, pitch diameter or, of a face, its place."""
    if feature.kind == "face":
        return length_row(found, feature, "length") or _bare(found, feature, "length", feature.start, None, None, None)
    measure = "pitch diameter" if feature.kind == "thread" else "diameter"
    sizes = found.sizes.get((feature.name, measure), [])
    step = found.made.get(feature.name)
    if step is None or not sizes:
        return _bare(found, feature, measure, _aim(feature), feature.low, feature.high, step)
    outcomes = [(_parts(found, feature, one, size.parts), one, size.finish) for one, size in sizes]
    judged = [(spent(_aim(feature), feature.low, feature.high, parts), parts, one) for parts, one, _ in outcomes]
    worst = max(judged, key=lambda each: each[0].use or 0.0)
    whole = worst[0]._replace(low=min(each[0].low for each in judged), high=max(each[0].high for each in judged))
    finish = max((value for _, _, value in outcomes if value is not None), default=None)
    return _row(feature, measure, _aim(feature), feature.low, feature.high, whole, worst[1], worst[2], finish)


def _aim(feature: PlainFeature) -> float:
    if feature.kind == "thread" and feature.low is not None and feature.high is not None:
        return (feature.low + feature.high) / 2
    return feature.aim


def _parts(found: Walk, feature: PlainFeature, step: Step, own: Parts) -> Parts:
    """All contributions to a diameter: bending and what the tool does, setting, wear, heat, squeeze, measuring."""
    job = found.job
    parts = [*own]
    if step.op.kind not in ("drill", "ream"):
        parts += [*setting(), *wear(job, step, feature.inside)]
    parts += heat(job, step, feature.diameter)
    if feature.inside and step.op.kind in ("bore", "thread", "groove"):
        start, end = gripped(step.held, step.judged.taken.after)
        if feature.start < end and feature.end > start:
            out = squeeze(job, step.held, step.judged.taken.after)
            if out > 0.0:
                parts.append(("jaw squeeze", (0.0, out, "uniform", 1.0)))
    return (*parts, *instruments(_measured(feature))[0].parts)


def _measured(feature: PlainFeature) -> str:
    side = "inside" if feature.inside else "outside"
    return f"{side} thread" if feature.kind == "thread" else side


def length_row(found: Walk, feature: PlainFeature, measure: str) -> SizeRow | None:
    """The row of a length from end A, of a face or a shoulder; None where none is asked for."""
    low, high = feature.length_low, feature.length_high
    if (low is None and high is None) or feature.kind == "groove":
        return None
    aim = (low + high) / 2 if low is not None and high is not None else _near(feature, low, high)
    step = found.made.get(feature.name)
    if step is None:
        return _bare(found, feature, measure, aim, low, high, None)
    parts: list[tuple[str, Spread]] = [("reading", (0.0, READING, "uniform", 1.0))]
    other = _end_face(found, aim)
    if other is not None and other.setup != step.setup:
        later = max(step, other, key=lambda one: one.setup)
        parts.append(("finding zero again", (0.0, later.held.zero_error, "uniform", 1.0)))
    if other is None:
        parts.append(("end not faced", (0.0, 1.0, "uniform", 1.0)))
    parts += heat(found.job, step, max(aim, 0.0))
    every = (*parts, *instruments("length")[0].parts)
    return _row(feature, measure, aim, low, high, spent(aim, low, high, every), every, step, None)


def _near(feature: PlainFeature, low: float | None, high: float | None) -> float:
    """Which end of a feature a length with one limit means."""
    limit = low if low is not None else high
    assert limit is not None
    return min((feature.start, feature.end), key=lambda place: abs(place - limit))


def _end_face(found: Walk, aim: float) -> Step | None:
    """The step that faced end A, from which lengths are measured; None where none did."""
    faces = [f for f in found.job.features.values() if f.kind == "face" and abs(f.start) < 1e-6]
    return next((found.made[f.name] for f in faces if f.name in found.made), None)


def width_row(found: Walk, feature: PlainFeature) -> SizeRow | None:
    """The row of a groove's width; None where none is asked for."""
    if feature.kind != "groove" or (feature.length_low is None and feature.length_high is None):
        return None
    aim = feature.end - feature.start
    step = found.made.get(feature.name)
    sizes = found.sizes.get((feature.name, "width"), [])
    if step is None or not sizes:
        return _bare(found, feature, "width", aim, feature.length_low, feature.length_high, None)
    parts = (*sizes[-1][1].parts, *instruments("length")[0].parts)
    outcome = spent(aim, feature.length_low, feature.length_high, parts)
    return _row(feature, "width", aim, feature.length_low, feature.length_high, outcome, parts, step, None)


def runout_row(found: Walk, name: str) -> SizeRow | None:
    """The row of a runout to a datum; None where none is asked for."""
    whole = found.job.whole[name]
    if whole.runout is None:
        return None
    allowed, feature = float(whole.runout.m_as(U.mm)), found.job.features[name]
    step, datum = found.made.get(name), found.made.get(whole.datum or "")
    if step is None or (whole.datum is not None and datum is None):
        return _bare(found, feature, "runout", 0.0, None, allowed, None)
    parts: list[tuple[str, Spread]] = [("spindle", (0.0, SPINDLE, "uniform", 1.0))]
    if datum is not None and datum.setup != step.setup:
        first, last = sorted((datum.setup, step.setup))
        for i in range(first + 1, last + 1):
            held = found.setups[i][1]
            out = RUNOUT[held.holding] if held.runout is None else held.runout
            parts.append((f"putting in, setup {i + 1}", (0.0, out, "uniform", 1.0)))
    every = (*parts, *instruments("runout")[0].parts)
    outcome = spent(0.0, None, allowed, every)
    later = step if datum is None or step.setup >= datum.setup else datum
    return _row(feature, "runout", 0.0, None, allowed, outcome._replace(low=0.0), every, later, None)


def _row(feature: PlainFeature, measure: str, aim: float, low: float | None, high: float | None, outcome: Outcome,
         parts: Parts, step: Step, finish: float | None) -> SizeRow:  # fmt: skip
    instrument = _instrument(feature, measure, low, high)
    return SizeRow(feature.name, measure, aim, low, high, outcome, parts, (step.setup, step.number), instrument, finish)


def _instrument(feature: PlainFeature, measure: str, low: float | None, high: float | None) -> str:
    """The instrument advised for a measure and its tolerance."""
    tolerance = high - low if low is not None and high is not None else high if measure == "runout" else None
    what = measure if measure in ("length", "runout") else "length" if measure == "width" else _measured(feature)
    return advised(what, tolerance)


def _bare(found: Walk, feature: PlainFeature, measure: str, aim: float, low: float | None, high: float | None,
          step: Step | None) -> SizeRow:  # fmt: skip
    """A row of what is not made, or of which nothing can be worked out."""
    step = step or found.made.get(feature.name)
    made = None if step is None else (step.setup, step.number)
    instrument = _instrument(feature, measure, low, high)
    return SizeRow(feature.name, measure, aim, low, high, None, (), made, instrument, None)
