"""The review of a plan: what would come out, what would go wrong, how long it takes and what it costs."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

from latheworks.door import Door
from latheworks.plan.charge import RATES, charge
from latheworks.plan.feature_rows import SizeRow, size_rows
from latheworks.plan.findings import ranked
from latheworks.plan.job import job_of
from latheworks.plan.plan import Plan
from latheworks.plan.review_result import FeatureRow, OperationRow, Review
from latheworks.plan.said import plan_findings, size_findings
from latheworks.plan.walk import Step, walk
from latheworks.shop import cautions
from latheworks.units import Q_, SYSTEMS, Span, U

CAUTIONS = {"thread": "threading", "drill": "drilling", "ream": "drilling", "center drill": "drilling"}
_PLAN = "plan=barrel_plan()"


def review(plan: Any, system: Any = "metric") -> Review:
    """Return what would come out of a plan: findings, sizes with their budgets, loads, time and cost.

    The workpiece is carried from operation to operation, and each is judged on the shape as it stands then: bending by
    the balance of force and depth, part and bar together inside; power and torque of the spindle; grip by VDI 3106;
    what a tool reaches; what is held, and how. A size uses (|shift| + range of bending + 2 s of the rest) over the room
    between aim and limit. An outside size is set by the dial and not corrected by measuring between passes.
    Parameters: plan, a Plan, good or bad; system, "metric" or "inch" for the text. A bad plan is no error: its faults
    are findings. Raises LatheworksError for what is no Plan. Source: as in the rooms that it stands on; what has no
    source is common practice and says so. A planning aid for training: shop rules, the machine's manual and qualified
    staff decide.

    >>> from latheworks.plan import barrel_plan
    >>> review(barrel_plan()).verdict in ("stop", "caution", "clear of findings")
    True
    """
    with Door("review") as door:
        chosen = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        shown = door.choice(system, "system", SYSTEMS)
    assert chosen is not None
    job = job_of(chosen.part, chosen.machine, chosen.tools)
    found = walk(chosen, job)
    main, more = size_rows(found)
    minutes, cost = charge(job, found)
    assert found.end is not None
    return Review(
        plan=chosen, findings=ranked([*plan_findings(found, shown), *size_findings(job, main + more, shown)]),
        features=tuple(_size(row, shown) for row in main), more_sizes=tuple(_size(row, shown) for row in more),
        operations=tuple(_operation(chosen, step, shown) for step in found.steps), time=Q_(minutes, U.min),
        cost=cost, rates=RATES.rows(), finished=found.end, system=shown,
    )  # fmt: skip


@cache
def _cautions(kind: str) -> tuple[str, ...]:
    return tuple(str(line) for line in cautions(kind))


def _operation(plan: Plan, step: Step, system: str) -> OperationRow:
    """The row of an operation, with its units."""
    judged, data, op = step.judged, step.judged.data, step.op
    written = plan.setups[step.setup].operations[step.number]

    def some(value: float, unit: Any) -> Any:
        return Q_(value, unit) if value > 0.0 and math.isfinite(value) else None

    return OperationRow(
        step.setup + 1, 10 * (step.number + 1), written.title(), op.kind, op.features, op.tool,
        some(data.spindle, U.rpm), some(data.speed, U.m_per_min), some(data.feed, U.mm_per_rev), some(data.depth, U.mm),
        data.passes, data.springs, some(data.peck, U.mm), Q_(judged.minutes, U.min), judged.power, judged.torque,
        judged.grip, None if judged.error is None else Q_(judged.error, U.mm),
        _cautions(CAUTIONS.get(op.kind, "turning")), data.filled, step.before, judged.taken.after,
        Q_(list(judged.depths), U.mm) if judged.depths else None, system,
    )  # fmt: skip


def _size(row: SizeRow, system: str) -> FeatureRow:
    """The row of a size, with its units."""

    def some(value: float | None, unit: Any = U.mm) -> Any:
        return None if value is None or not math.isfinite(value) else Q_(value, unit)

    out = row.outcome
    return FeatureRow(
        row.name, row.measure, Q_(row.aim, U.mm), Span(some(row.low), some(row.high)),
        None if out is None else Span(some(out.low), some(out.high)), () if out is None else out.shares, row.use,
        None if row.made is None else (row.made[0] + 1, 10 * (row.made[1] + 1)), row.instrument, row.parts,
        some(row.finish, U.um), system,
    )  # fmt: skip
