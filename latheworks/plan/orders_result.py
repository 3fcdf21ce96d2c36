"""What `orders` returns: plans that no other beats, each with its review, and how far the search went."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from latheworks.plan.findings import many
from latheworks.plan.part import Part
from latheworks.plan.plan import Plan
from latheworks.plan.review_result import Review
from latheworks.results import Result, money
from latheworks.units import Q_, U, show


@dataclass(frozen=True, slots=True, eq=False)
class Ranked(Result):
    """One plan that was found. Fields: plan; review of it; time of one part [min]; cost, in the currency of the rates;
    worst_use, the largest share of a tolerance that a size uses; stops and cautions, how many the review finds."""

    plan: Plan
    review: Review
    time: Any
    cost: float
    worst_use: float
    stops: int
    cautions: int

    def title(self) -> str:
        """The plan and its verdict."""
        return f"{self.plan.title()}: {self.review.verdict}"

    def facts(self) -> list[tuple[str, str]]:
        """Its measures, and its operations setup by setup."""
        rows = [("time of one part", f"{self.time.m_as(U.min):.1f} min"), ("cost of one part", money(self.cost)),
                ("most of a tolerance used", f"{100 * self.worst_use:.0f} %"), ("stops", str(self.stops)),
                ("cautions", str(self.cautions))]  # fmt: skip
        for setup in self.plan.setups:
            how = f"{show(setup.stickout, digits=0)} out, support: {setup.support}"
            rows.append((setup.title(), how))
            rows += [(f"  {10 * i}", one.title()) for i, one in enumerate(setup.operations, 1)]
        return rows


@dataclass(frozen=True, slots=True, eq=False)
class Orders(Result):
    """The trade between time, cost and tolerance.

    Fields: part; plans, `Ranked`, none of which another beats in time, cost and worst use at once, the quickest first;
    found, how many such plans there were before the list was cut; exact, True where nothing in the space was left out;
    least_time, which no plan of the space falls below [min]; labels, unfinished plans that were looked at;
    evaluations, operations judged; seconds, how long it took [s]; space, what was searched, in words; notes.
    """

    part: Part
    plans: tuple[Ranked, ...]
    found: int
    exact: bool
    least_time: Any
    labels: int
    evaluations: int
    seconds: float
    space: str
    notes: tuple[str, ...]

    @property
    def quickest(self) -> Ranked | None:
        """The plan of the least time; None where nothing was found."""
        return min(self.plans, key=lambda one: (one.stops, one.time.magnitude), default=None)

    @property
    def cheapest(self) -> Ranked | None:
        """The plan of the least cost; None where nothing was found."""
        return min(self.plans, key=lambda one: (one.stops, one.cost), default=None)

    @property
    def roomiest(self) -> Ranked | None:
        """The plan that leaves most room in its tightest tolerance; None where nothing was found."""
        return min(self.plans, key=lambda one: (one.stops, one.worst_use), default=None)

    def title(self) -> str:
        """Whose orders, and whether they are all."""
        word = "all of the space searched" if self.exact else "not all of the space searched"
        return f"orders for {self.part.name}: {many(len(self.plans), 'plan')}, {word}"

    def facts(self) -> list[tuple[str, str]]:
        """Each plan's measures, how far the search went, and what stands beside it."""
        rows = [(f"plan {i}", f"{one.time.m_as(U.min):.1f} min, cost {money(one.cost)}, {100 * one.worst_use:.0f} % "
                 f"of a tolerance, {many(one.stops, 'stop')}, {many(one.cautions, 'caution')}")
                for i, one in enumerate(self.plans, 1)]  # fmt: skip
        rows += [("no plan takes less than", f"{self.least_time.m_as(U.min):.1f} min"), ("searched", self.space)]
        return [*rows, *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """The trade, a row for each plan."""
        return {
            "time [min]": [one.time.m_as(U.min) for one in self.plans],
            "cost [money]": [one.cost for one in self.plans],
            "worst share of a tolerance": [one.worst_use for one in self.plans],
            "stops": [one.stops for one in self.plans],
            "cautions": [one.cautions for one in self.plans],
            "setups": [len(one.plan.setups) for one in self.plans],
            "operations": [one.plan.operations for one in self.plans],
        }


def ranked(plan: Plan, review: Review) -> Ranked:
    """A plan with what its review measures."""
    stops, cautions = (sum(one.level == level for one in review.findings) for level in ("stop", "caution"))
    minutes = Q_(float(review.time.m_as(U.min)), U.min)
    return Ranked(plan, review, minutes, review.cost, review.worst_use, stops, cautions)
