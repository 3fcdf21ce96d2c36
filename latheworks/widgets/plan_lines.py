"""From a review to what a picture of it needs: plain numbers, places from the back of the blank, surfaces."""

from typing import Any

import numpy as np

from latheworks.pictures.plan_data import HeldStep, PlanLine, SizeLine
from latheworks.plan import Plan, review
from latheworks.plan.feature import PlainFeature
from latheworks.plan.findings import Finding
from latheworks.plan.job import Held, Job, hold, job_of
from latheworks.plan.review_result import OperationRow, Review
from latheworks.plan.shape import Shape
from latheworks.units import U

NEAR = 1e-6
_INSIDE = ("bore", "drill", "ream", "center drill")


def plan_line(plan: Plan) -> tuple[Review, PlanLine]:
    """A plan reviewed, and the same for a picture."""
    found = review(plan)
    job = job_of(plan.part, plan.machine, plan.tools)
    stock = plan.part.stock
    order = {(row.setup, row.operation): i for i, row in enumerate(found.operations, 1)}
    steps: list[HeldStep] = []
    held: Held | None = None
    minutes = 0.0
    threads: list[PlainFeature] = []
    for i, row in enumerate(found.operations):
        setup = plan.setups[row.setup - 1]
        if held is None or row.setup != found.operations[i - 1].setup:
            held = hold(job, setup, row.before)
        minutes += float(row.time.m_as(U.min))
        if row.kind == "thread":
            threads += [job.features[name] for name in row.features if name in job.features]
        last = i == len(found.operations) - 1
        first = i == 0 or row.setup != found.operations[i - 1].setup
        faults = tuple(each for each in found.findings if _belongs(each, row, first, last))
        steps.append(_step(job, plan, row, held, stock, tuple(threads), minutes, faults))
    sizes = tuple(
        SizeLine(row.name, row.measure, _mm(row.aim) or 0.0, _mm(row.limits.min), _mm(row.limits.max),
                 _pair(row.predicted), row.use, order.get(row.made_in) if row.made_in else None,
                 row.budget[0][0] if row.budget else "")
        for row in found.sizes
    )  # fmt: skip
    line = PlanLine(plan.name, (stock.length, float(stock.outer.max())), tuple(steps), sizes,
                    float(found.time.m_as(U.min)), found.cost, found.verdict)  # fmt: skip
    return found, line


def _mm(value: Any) -> float | None:
    return None if value is None else float(value.m_as(U.mm))


def _pair(span: Any) -> tuple[float, float] | None:
    if span is None or span.min is None or span.max is None:
        return None
    return float(span.min.m_as(U.mm)), float(span.max.m_as(U.mm))


def _belongs(each: Finding, row: OperationRow, first: bool, last: bool) -> bool:
    """Whether a finding is told at this operation: of a setup at its first, of the whole plan at the last."""
    here = each.where
    if here.setup is None:
        return last
    return here.setup == row.setup and (first if here.operation is None else here.operation == row.operation)


def _step(job: Job, plan: Plan, row: OperationRow, held: Held, stock: Shape, threads: tuple[PlainFeature, ...],
          minutes: float, faults: tuple[Finding, ...]) -> HeldStep:  # fmt: skip
    setup, grips_a = plan.setups[row.setup - 1], held.grips == "A"
    tool = job.tool(row.tool)

    def turned(points: np.ndarray) -> np.ndarray:
        """From places of the part to places from the back of the blank, the chuck's side first."""
        if grips_a:
            return points - np.array((stock.start, 0.0))
        return (points * (-1, 1) + np.array((stock.end, 0.0)))[::-1]

    z = np.repeat(row.after.z, 2)[1:-1]
    outside, inside = (turned(np.column_stack((z, r.ravel()))) for r in (row.after.outer, row.after.inner))
    removed, marks = _taken(row.before, row.after)
    features = [job.features[name] for name in row.features if name in job.features]
    if not marks and row.kind in ("thread", "gage", "deburr", "groove", "chamfer"):
        marks = [line for one in features for line in _surface(row.after, one)]
    marks = [turned(line) for line in marks]
    in_bore = bool(features) and all(one.inside for one in features) and row.kind not in ("face", "part off")
    on_axis = row.kind in ("drill", "center drill", "ream")
    tip = None
    if row.kind not in ("gage", "deburr") and (marks or removed):
        places = np.concatenate(marks or [turned(each) for each in removed])
        at = int(np.argmin(places[:, 0]))
        tip = float(places[at, 0]), 0.0 if on_axis else float(places[at, 1])
    across = 4.0 if tool is None else tool.blade if tool.blade and not in_bore else tool.diameter or 8.0
    passes = f"{row.passes}" if row.passes else ""
    if row.passes and row.spring_passes:
        passes += f" and {row.spring_passes} spring"
    return HeldStep(
        row.setup, row.operation, setup.name, row.title_text, row.kind, in_bore, row.tool, across,
        tool.tip if tool is not None and in_bore else 2.0, (outside[:, 0], outside[:, 1], inside[:, 1]),
        tuple(turned(each) for each in removed), tuple(marks),
        tuple(turned(line) for one in threads for line in _root(job, row.after, one)), tip,
        held.jaws - stock.start if grips_a else stock.end - held.jaws, held.stickout, held.holding, held.support,
        held.rest, held.stop, minutes, _mm(row.diameter_error),
        None if row.spindle is None else float(row.spindle.m_as(U.rpm)),
        None if row.feed is None else float(row.feed.m_as(U.mm_per_rev)), passes, faults,
    )  # fmt: skip


def _taken(before: Shape, after: Shape) -> tuple[list[np.ndarray], list[np.ndarray]]:
    """What was cut off between two shapes, as closed shapes above the axis, and the new surfaces."""
    removed, marks = [], []
    for end, side in ((after.start, -1), (after.end, 1)):
        gone = (before.start, end) if side < 0 else (end, before.end)
        if gone[1] - gone[0] > NEAR:
            fine = before.split_at([end])
            keep = (fine.z[:-1] >= gone[0] - NEAR) & (fine.z[1:] <= gone[1] + NEAR)
            z = np.column_stack((fine.z[:-1], fine.z[1:]))[keep].ravel()
            removed.append(_closed(z, fine.inner[keep].ravel(), fine.outer[keep].ravel()))
            rows = (after.inner[0, 0], after.outer[0, 0]) if side < 0 else (after.inner[-1, 1], after.outer[-1, 1])
            marks.append(np.array([(end, rows[0]), (end, rows[1])]))
    low, high = max(before.start, after.start), min(before.end, after.end)
    places = np.unique(np.concatenate((before.z, after.z, (low, high))))
    z = places[(places >= low - NEAR) & (places <= high + NEAR)]
    if len(z) < 2:
        return removed, marks
    for old, new, sign in ((before.outer, after.outer, 1.0), (before.inner, after.inner, -1.0)):
        was, now = before.between(z, old), after.between(z, new)
        cut = (sign * (was - now) > NEAR).any(axis=1)
        edges = np.flatnonzero(np.diff(np.concatenate(([0], cut.astype(int), [0]))))
        for i, j in zip(edges[::2], edges[1::2], strict=True):
            along = np.column_stack((z[i:j], z[i + 1 : j + 1])).ravel()
            removed.append(_closed(along, now[i:j].ravel(), was[i:j].ravel()))
            marks.append(np.column_stack((along, now[i:j].ravel())))
    return removed, marks


def _closed(z: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    return np.concatenate((np.column_stack((z, low)), np.column_stack((z, high))[::-1]))


def _surface(shape: Shape, one: PlainFeature) -> list[np.ndarray]:
    """The surface of a feature as it stands, all of its repeats; of a face its line across the end."""
    found = []
    for k in range(one.repeats):
        start, end = one.start + k * one.spacing, one.end + k * one.spacing
        if one.kind == "face":
            end = start + 1.0 if start < (shape.start + shape.end) / 2 else start
            start = end - 1.0
        low, high = max(start, shape.start), min(end, shape.end)
        if high - low <= NEAR:
            continue
        fine = shape.split_at([low, high])
        keep = (fine.z[:-1] >= low - NEAR) & (fine.z[1:] <= high + NEAR)
        if one.kind == "face":
            i = int(np.flatnonzero(keep)[0])
            at, j = (fine.z[i], 0) if one.start <= fine.z[i] + NEAR else (fine.z[i + 1], 1)
            found.append(np.array([(at, fine.inner[i, j]), (at, fine.outer[i, j])]))
            continue
        z = np.column_stack((fine.z[:-1], fine.z[1:]))[keep].ravel()
        found.append(np.column_stack((z, (fine.inner if one.inside else fine.outer)[keep].ravel())))
    return found


def _root(job: Job, shape: Shape, one: PlainFeature) -> list[np.ndarray]:
    """The thin line of a thread on a drawing: at its root."""
    deep = 0.54127 * one.pitch * (1 if one.inside else -1)
    low, high = max(one.start, shape.start), min(one.end, shape.end)
    if high - low <= NEAR:
        return []
    return [np.array([(low, one.diameter / 2 + deep), (high, one.diameter / 2 + deep)])]
