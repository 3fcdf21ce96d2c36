"""What each operation of a plan takes and costs, and the speeds that would cost least and make most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from latheworks.cutting.economy import economic_speed
from latheworks.cutting.life import edges
from latheworks.door import Door
from latheworks.plan import times
from latheworks.plan.economics import Rates, edge_share, rates_at, setup_minutes
from latheworks.plan.findings import Where
from latheworks.plan.job import Job, job_of
from latheworks.plan.plan import Plan
from latheworks.plan.tooling import PlainTool
from latheworks.plan.walk import Step, walk
from latheworks.results import Result, money
from latheworks.units import Q_, U


@dataclass(frozen=True, slots=True)
class CostRow(Result):
    """What one thing takes and costs: setup, from 1, and operation, in tens, or None; what it is; time [min]; labor,
    lathe and person together, and edge_wear, price and changing, in the currency of the rates; surface_speed used,
    least_cost and highest_rate speed of that edge [m/min], None where no life of it is known."""

    setup: int | None
    operation: int | None
    what: str
    time: Any
    labor: float
    edge_wear: float
    surface_speed: Any = None
    least_cost: Any = None
    highest_rate: Any = None

    @property
    def cost(self) -> float:
        """All of it."""
        return self.labor + self.edge_wear

    def title(self) -> str:
        """What it is."""
        return self.what


@dataclass(frozen=True, slots=True)
class Costs(Result):
    """What a plan takes and costs for one part of its batch.

    Fields: rows, a `CostRow` for each setup, change of tool and operation, in order; stock, what the bar costs; time of
    one part [min]; cost of one part; quantity; rates, pairs of a rate in words and its value.
    """

    plan: Plan
    rows: tuple[CostRow, ...]
    stock: float
    time: Any
    cost: float
    quantity: int
    rates: tuple[tuple[str, str], ...]

    def title(self) -> str:
        """The plan, its time and its cost."""
        return f"cost of the {self.plan.title()}: {self.time.m_as(U.min):.1f} min, {money(self.cost)} a part"

    def facts(self) -> list[tuple[str, str]]:
        """What each takes and costs, and by which rates."""
        rows = [(row.what, f"{row.time.m_as(U.min):.2f} min, {money(row.cost)}") for row in self.rows]
        return [*rows, ("stock", money(self.stock)), ("batch", str(self.quantity)), *self.rates]

    def columns(self) -> dict[str, Any]:
        """A row for each."""

        def speed(value: Any) -> float | None:
            return None if value is None else float(value.m_as(U.m_per_min))

        return {
            "what": [row.what for row in self.rows],
            "time [min]": [row.time.m_as(U.min) for row in self.rows],
            "labor [money]": [row.labor for row in self.rows],
            "edges [money]": [row.edge_wear for row in self.rows],
            "speed [m/min]": [speed(row.surface_speed) for row in self.rows],
            "least cost [m/min]": [speed(row.least_cost) for row in self.rows],
            "highest rate [m/min]": [speed(row.highest_rate) for row in self.rows],
        }


def costs(plan: Any, lathe_rate: Any = None, labor_rate: Any = None, stock_price: Any = None) -> Costs:
    """Return what each setup, change of tool and operation of a plan takes and costs for one part.

    Time is that of the review. An edge's share is cutting time over its life by Taylor, of its price and of the
    minutes to change it; the speeds of least cost and highest rate are those of `economic_speed` for that edge.
    Parameters: plan, a Plan; lathe_rate and labor_rate, an hour of the lathe and of the person, and stock_price, a
    kilogram of the bar [0 to 1e6 each, in any one currency; the teaching shop's, invented].
    Raises LatheworksError for what is no Plan, and for a rate outside its range.
    Source: as in `economic_speed`; times common practice, rates invented for teaching.

    >>> from latheworks.plan import barrel_plan, review
    >>> abs(costs(barrel_plan()).cost - review(barrel_plan()).cost) < 1e-9
    True
    """
    with Door("costs") as door:
        chosen = door.instance(plan, "plan", Plan, "a Plan", "plan=barrel_plan()")
        rates = rates_at(door, lathe_rate, labor_rate, stock_price)
    return costs_of(chosen, rates)


def costs_of(plan: Plan, rates: Rates) -> Costs:
    """The same, of what is known to be good."""
    job = job_of(plan.part, plan.machine, plan.tools)
    found = walk(plan, job)
    rows, last = [], None
    for i, held, _ in found.setups:
        minutes = setup_minutes(i == 0, held.holding, held.supported, plan.part.quantity)
        rows.append(_row(i + 1, None, f"setup {i + 1}: putting in, setting up", minutes, 0.0, rates))
        for step in (each for each in found.steps if each.setup == i):
            tool = job.tool(step.op.tool)
            if step.op.tool is not None and step.op.tool != last:
                rows.append(_row(i + 1, None, f"to the {step.op.tool}", times.TOOL_CHANGE, 0.0, rates))
                last = step.op.tool
            rows.append(_operation(job, plan, step, tool, rates))
    stock = job.density * plan.part.stock.volume() * rates.stock
    minutes = sum(row.time.magnitude for row in rows)
    cost = sum(row.cost for row in rows) + stock
    return Costs(plan, tuple(rows), stock, Q_(minutes, U.min), cost, plan.part.quantity, rates.rows())


def _row(setup: int, operation: int | None, what: str, minutes: float, wear: float, rates: Rates,
         *speeds: Any) -> CostRow:  # fmt: skip
    return CostRow(setup, operation, what, Q_(minutes, U.min), minutes / 60.0 * rates.hourly, wear, *speeds)


def _operation(job: Job, plan: Plan, step: Step, tool: PlainTool | None, rates: Rates) -> CostRow:
    written = plan.setups[step.setup].operations[step.number]
    wear = 0.0 if tool is None else edge_share(job, tool, step.judged, rates.hourly)
    number, speeds = 10 * (step.number + 1), _speeds(job, step, tool, rates)
    what = f"{Where(step.setup + 1, number)}: {written.title()}"
    return _row(step.setup + 1, number, what, step.judged.minutes, wear, rates, *speeds)


def _speeds(job: Job, step: Step, tool: PlainTool | None, rates: Rates) -> tuple[Any, ...]:
    """The speed used, and those of least cost and of the highest rate."""
    used = step.judged.data.speed
    if tool is None or used <= 0.0:
        return ()
    name = edge_name(job, tool)
    if name is None or tool.change <= 0.0 or rates.hourly < 0.01:
        return (Q_(used, U.m_per_min),)
    best = economic_speed(name, Q_(tool.change, U.min), tool.price, rates.hourly)
    return Q_(used, U.m_per_min), best.least_cost, best.highest_rate


def edge_name(job: Job, tool: PlainTool) -> str | None:
    """The row of the table of tool life for an edge on the part's material; None where there is none."""
    stuff = job.part.stuff.name
    metal = "steel" if "steel" in stuff or "iron" in stuff else "nonferrous metal"
    return next((name for name in (f"{tool.edge} on {metal}", f"carbide on {metal}") if name in edges()), None)
