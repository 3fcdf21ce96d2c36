"""The corer's barrel made in another order: the socket and its thread last, when everything else is there."""

from __future__ import annotations

from dataclasses import replace

from latheworks.plan.examples import barrel_plan
from latheworks.plan.operation import Operation
from latheworks.plan.plan import Plan
from latheworks.plan.setup import Setup
from latheworks.units import Q_

LATE = ("socket", "thread relief", "thread chamfer", "socket thread")


def late_thread_plan() -> Plan:
    """Return the barrel's plan with the socket and its thread last, in a setup of their own with soft jaws.

    Everything else stays as it is in `barrel_plan`, so that the two can be set beside each other.
    Raises nothing. Source: invented for teaching.

    >>> late_thread_plan().setups[-1].operations[-3].title()
    'thread socket thread'
    """
    plan = barrel_plan()
    first, *others = plan.setups
    early: list[Operation] = []
    late: list[Operation] = []
    for each in first.operations:
        theirs = tuple(name for name in each.features if name in LATE)
        ours = tuple(name for name in each.features if name not in LATE)
        if theirs:
            late.append(replace(each, features=theirs))
        if ours:
            early.append(replace(each, features=ours))
    last = Setup("socket last", "A", Q_(70.0, "mm"), holding="soft jaws", stop=first.stop, operations=tuple(late),
                 tailstock_locked=first.tailstock_locked, quill_locked=first.quill_locked,
                 zero="face A against the stop")  # fmt: skip
    return Plan(plan.part, (replace(first, operations=tuple(early)), *others, last), name="thread last")
