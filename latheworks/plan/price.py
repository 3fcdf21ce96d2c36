"""What one feature of a part costs in time, money and risk, and what another drawing of it would save."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from latheworks.door import Door
from latheworks.errors import LatheworksError
from latheworks.plan.costs import costs_of
from latheworks.plan.economics import Rates, rates_at
from latheworks.plan.findings import Where, many
from latheworks.plan.operation import Operation
from latheworks.plan.plan import Plan
from latheworks.plan.precedence import touch
from latheworks.plan.redesign import redesigns, with_operations
from latheworks.plan.review import review
from latheworks.plan.review_result import Review
from latheworks.results import Result, money
from latheworks.units import Q_, U


@dataclass(frozen=True, slots=True)
class Measured(Result):
    """What a plan measures: time of one part [min]; cost; use, the largest share of a tolerance that the feature's own
    sizes use, None without; stops and cautions, how many the review finds."""

    time: Any
    cost: float
    use: float | None
    stops: int
    cautions: int

    @property
    def findings(self) -> str:
        """How many stops and cautions, in words."""
        return f"{many(self.stops, 'stop')}, {many(self.cautions, 'caution')}"

    def title(self) -> str:
        """All of it in one line."""
        use = "" if self.use is None else f", {100 * self.use:.0f} % of its tolerance"
        paid = f"{self.time.m_as(U.min):.2f} min, cost {money(self.cost)}"
        return f"{paid}{use}, {self.findings}"


@dataclass(frozen=True, slots=True)
class Redesign(Result):
    """Another drawing: what is changed; before and after, what the plans measure, after None where there is no such
    plan; why, in words, then; plan, that for the other drawing, or None."""

    what: str
    before: Measured
    after: Measured | None
    why: str
    plan: Plan | None

    @property
    def saved(self) -> float | None:
        """What it saves, negative where it costs more."""
        return None if self.after is None else self.before.cost - self.after.cost

    @property
    def saving(self) -> str:
        """What it saves, in words: something, nothing, or less than that."""
        saved = self.saved
        if saved is None:
            return "no such plan"
        if abs(saved) < 0.005:
            return "saves nothing"
        return f"saves {money(saved)}" if saved > 0 else f"costs {money(-saved)} more"

    def title(self) -> str:
        """What is changed."""
        return self.what

    def facts(self) -> list[tuple[str, str]]:
        """Before and after."""
        return [("before", self.before.title()), ("after", self.after.title() if self.after else self.why)]


@dataclass(frozen=True, slots=True)
class Price(Result):
    """What a feature costs.

    Fields: plan; feature, its name; with_it and without_it, what the plan measures with all its operations and without
    those that work on this feature alone; operations dropped, their titles; hangs_on_it, features that lie on it or
    beside it and would want another surface; redesigns, a `Redesign` each.
    """

    plan: Plan
    feature: str
    with_it: Measured
    without_it: Measured
    operations: tuple[str, ...]
    hangs_on_it: tuple[str, ...]
    redesigns: tuple[Redesign, ...]

    @property
    def time(self) -> Any:
        """What it takes of one part [min]."""
        return self.with_it.time - self.without_it.time

    @property
    def cost(self) -> float:
        """What it costs of one part."""
        return self.with_it.cost - self.without_it.cost

    def title(self) -> str:
        """The feature, its time and money."""
        minutes = f"{self.time.m_as(U.min):.2f} min"
        return f"price of {self.feature}: {minutes}, {self.cost:.2f} of {money(self.with_it.cost)}"

    def facts(self) -> list[tuple[str, str]]:
        """With and without it, and each redesign before and after."""
        rows = [("with it", self.with_it.title()), ("without it", self.without_it.title()),
                ("operations dropped", ", ".join(self.operations) or "none")]  # fmt: skip
        if self.hangs_on_it:
            rows.append(("on it or beside it", ", ".join(self.hangs_on_it)))
        for each in self.redesigns:
            rows.append((each.what, f"{each.saving}: {each.after.title()}" if each.after else each.why))
        return rows

    def columns(self) -> dict[str, Any]:
        """Each redesign before and after."""
        rows = self.redesigns

        def of(name: str, after: bool) -> list[Any]:
            found = [row.after if after else row.before for row in rows]
            values = [None if one is None else getattr(one, name) for one in found]
            return [value.m_as(U.min) if isinstance(value, Q_) else value for value in values]

        return {
            "redesign": [row.what for row in rows],
            "time before [min]": of("time", False),
            "time after [min]": of("time", True),
            "cost before [money]": of("cost", False),
            "cost after [money]": of("cost", True),
            "tolerance used before": of("use", False),
            "tolerance used after": of("use", True),
            "stops before": of("stops", False),
            "stops after": of("stops", True),
            "why not": [row.why for row in rows],
        }


def price_of(plan: Any, feature: Any, lathe_rate: Any = None, labor_rate: Any = None, stock_price: Any = None) -> Price:
    """Return what a feature costs in time, money and risk, and what another drawing of it would save.

    The plan is reviewed with and without the operations that work on this feature alone (findings that it is then
    missing are left out); and with each redesign that fits its kind: twice the tolerance, the coarse standard thread,
    a relief, a groove as wide as the blade or wider, a shorter part. A redesign keeps the plan's order and tools: what
    another order would save besides, `orders` finds.
    Parameters: plan, a Plan; feature, the name of a feature of its part; lathe_rate and labor_rate, an hour of the
    lathe and of the person, and stock_price, a kilogram of the bar [0 to 1e6 each, in any one currency; the teaching
    shop's, invented].
    Raises LatheworksError for what is no Plan, an unknown feature, and a rate outside its range.
    Source: differences of `review` and `costs`; redesigns common practice. Whether the part can still do its work with
    another drawing is for whoever drew it to say.

    >>> from latheworks.plan import barrel_plan
    >>> found = price_of(barrel_plan(), "grip grooves")
    >>> found.cost > 0, found.redesigns[1].saved > 0
    (True, True)
    """
    with Door("price_of") as door:
        chosen = door.instance(plan, "plan", Plan, "a Plan", "plan=barrel_plan()")
        names = [each.name for each in chosen.part.features] if isinstance(chosen, Plan) else ["body"]
        name = door.choice(feature, "feature", names)
        rates = rates_at(door, lathe_rate, labor_rate, stock_price)
    return _price(chosen, name, rates)


def _price(plan: Plan, name: str, rates: Rates) -> Price:
    whole = review(plan)
    with_it = measured(plan, whole, name, rates)
    dropped = [f"{Where(i, 10 * k)}: {one.title()}" for i, setup in enumerate(plan.setups, 1)
               for k, one in enumerate(setup.operations, 1) if one.features == (name,)]  # fmt: skip
    bare = without(plan, name)
    # What hangs on the feature is then in want of it as well: that is no price of its own.
    known = {(one.code, one.where.feature) for one in whole.findings}
    hangs = tuple(each.name for each in plan.part.features
                  if each.name != name and touch(each.plain, plan.part.feature(name).plain))  # fmt: skip
    without_it = measured(bare, review(bare), name, rates, {name, *hangs}, known)
    rows = []
    for what, other in redesigns(plan, name):
        if isinstance(other, str):
            rows.append(Redesign(what, with_it, None, other, None))
        else:
            rows.append(Redesign(what, with_it, measured(other, review(other), name, rates), "", other))
    return Price(plan, name, with_it, without_it, tuple(dropped), hangs, tuple(rows))


def measured(plan: Plan, found: Review, name: str, rates: Rates, spared: Any = (), known: Any = None) -> Measured:
    """What a review measures; findings on spared features count only where they are known from before."""
    counted = [one for one in found.findings
               if one.where.feature not in spared or (known is not None and (one.code, one.where.feature) in known
                                                      and one.where.feature != name)]  # fmt: skip
    uses = [row.use for row in found.sizes if row.name == name and row.use is not None]
    cost = costs_of(plan, rates)
    return Measured(cost.time, cost.cost, max(uses, default=None), sum(one.level == "stop" for one in counted),
                    sum(one.level == "caution" for one in counted))  # fmt: skip


def without(plan: Plan, name: str) -> Plan:
    """The plan without what it does to one feature, and the part without it where a part can be without."""

    def change(one: Operation) -> Any:
        left = tuple(each for each in one.features if each != name)
        if left or not one.features:
            yield replace(one, features=left)

    bare = with_operations(plan, change)
    try:
        features = tuple(replace(each, datum=None, runout=None) if each.datum == name else each
                         for each in plan.part.features if each.name != name)  # fmt: skip
        return replace(bare, part=replace(plan.part, features=features))
    except LatheworksError:
        return bare  # a surface that others lie on: the drawing cannot be without it
