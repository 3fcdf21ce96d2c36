"""Time and cost of a plan that was walked through, by the rates of the teaching shop or one's own."""

from __future__ import annotations

from latheworks.plan import times
from latheworks.plan.economics import Rates, edge_share, setup_minutes, usual_rates
from latheworks.plan.job import Job
from latheworks.plan.walk import Walk

RATES = usual_rates()


def handling(found: Walk, quantity: int) -> float:
    """Minutes of one part beside cutting: putting in, turning round, centers, tools, its share of setting up."""
    minutes = sum(setup_minutes(i == 0, held.holding, held.supported, quantity) for i, held, _ in found.setups)
    last: str | None = None
    for step in found.steps:
        if step.op.tool is not None and step.op.tool != last:
            minutes += times.TOOL_CHANGE
            last = step.op.tool
    return minutes


def edges(job: Job, found: Walk, hourly: float) -> float:
    """What the edges cost that one part wears."""
    tools = ((job.tool(step.op.tool), step.judged) for step in found.steps)
    return sum(edge_share(job, tool, judged, hourly) for tool, judged in tools if tool is not None)


def charge(job: Job, found: Walk, rates: Rates = RATES) -> tuple[float, float]:
    """Minutes and cost of one part."""
    quantity = job.part.quantity
    minutes = sum(step.judged.minutes for step in found.steps) + handling(found, quantity)
    kilograms = job.density * job.part.stock.volume()
    return minutes, minutes / 60.0 * rates.hourly + edges(job, found, rates.hourly) + kilograms * rates.stock
