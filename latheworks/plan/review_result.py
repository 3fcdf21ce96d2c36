"""What `review` returns: findings, a row for each size and operation, time, cost, a verdict that never says safe."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from latheworks.door import Door
from latheworks.plan.findings import LEVELS, Finding, Where
from latheworks.plan.plan import Plan
from latheworks.plan.shape import Shape
from latheworks.plan.wording import amount, from_to
from latheworks.results import Result, money
from latheworks.shop import cautions
from latheworks.tables import table
from latheworks.units import Span, U, show

CLEAR = "clear of findings"
MEASURES = ("diameter", "pitch diameter", "length", "width", "runout")


@dataclass(frozen=True, slots=True)
class FeatureRow(Result):
    """One size of a feature: what is aimed at, what would come out, and what its tolerance is spent on.

    Fields: name of the feature; measure, "diameter", "pitch diameter", "length", "width" or "runout"; aim [mm];
    limits, a Span whose ends may be None; predicted, a Span of what is likely, 19 times in 20, over the whole feature
    [mm], or None where it is not made or cannot be worked out; budget, pairs of a contribution and its share of all
    that is spent, largest first; use, the share of the tolerance used on the side used most, None without limits;
    made_in, (setup, operation) that makes it last, or None; instrument advised for it; parts, the contributions as
    `latheworks.budget` counts them: name, (shift, spread, kind, factor) [mm]; finish, Ra at best [um] or None; system
    of the text.
    """

    name: str
    measure: str
    aim: Any
    limits: Span
    predicted: Span | None
    budget: tuple[tuple[str, float], ...]
    use: float | None
    made_in: tuple[int, int] | None
    instrument: str
    parts: tuple[tuple[str, tuple[float, float, str, float]], ...] = ()
    finish: Any = None
    system: str = "metric"

    def title(self) -> str:
        """The size."""
        return f"{self.name}, {self.measure}"

    def facts(self) -> list[tuple[str, str]]:
        """Aim, limits, what would come out and what it is spent on."""
        rows = [("aim", show(self.aim, self.system)), ("limits", from_to(self.limits, self.system))]
        out = "not made" if self.predicted is None else from_to(self.predicted, self.system)
        rows.append(("would come out", out))
        if self.use is not None:
            rows.append(("tolerance used", f"{100 * self.use:.0f} %"))
        return [*rows, *((name, f"{100 * share:.0f} % of that") for name, share in self.budget),
                ("measure with", self.instrument)]  # fmt: skip


@dataclass(frozen=True, slots=True)
class OperationRow(Result):
    """One operation as it would run.

    Fields: setup, from 1; operation, in tens; title; kind; features it works on; tool, its name or None; spindle
    [rev/min]; surface_speed at the largest diameter cut [m/min]; feed [mm/rev]; depth of the deepest pass on the radius
    [mm]; passes; spring_passes; peck [mm]; each None where it has no meaning; time [min]; power_share, torque_share and
    grip_share of what there is, 0 where nothing is asked; diameter_error, the largest bending error along the cut [mm]
    or None; cautions, lines to show; filled, the names of cutting data that were left
    out and filled from tables, and "eased" where they were made lighter than there; before and after, the workpiece
    (`Shape`); pass_depths, the radial depth reached after each pass [mm], of a thread or of a turned size; system of
    the text; limits, what limits it, in words.
    """

    setup: int
    operation: int
    title_text: str
    kind: str
    features: tuple[str, ...]
    tool: str | None
    spindle: Any
    surface_speed: Any
    feed: Any
    depth: Any
    passes: int
    spring_passes: int
    peck: Any
    time: Any
    power_share: float
    torque_share: float
    grip_share: float
    diameter_error: Any
    cautions: tuple[str, ...]
    filled: tuple[str, ...]
    before: Shape = field(repr=False)
    after: Shape = field(repr=False)
    pass_depths: Any = None
    system: str = "metric"

    @property
    def limits(self) -> str:
        """What limits it: the scarcest of power, torque and grip, and the bending."""
        most, word = max((self.power_share, "power"), (self.torque_share, "torque"), (self.grip_share, "jaw grip"))
        said = [f"{word} at {100 * most:.0f} %"] if most > 0.0 else []
        if self.diameter_error is not None:
            bent = amount("small", float(self.diameter_error.m_as(U.mm)))
            said.append(f"bending of {bent.written(self.system)} on the diameter")
        return "; ".join(said)

    def title(self) -> str:
        """Its place in the plan and what it does."""
        return f"{Where(self.setup, self.operation)}: {self.title_text}"

    def facts(self) -> list[tuple[str, str]]:
        """Tool, cutting data and loads."""
        rows = [("tool", self.tool or "none")]
        for name in ("spindle", "surface_speed", "feed", "depth", "peck", "diameter_error"):
            value = getattr(self, name)
            if value is not None:
                from_table = ", from the tables" if name in self.filled else ""
                rows.append((name.replace("_", " "), show(value, self.system) + from_table))
        rows.append(("time", f"{self.time.m_as(U.min):.2f} min"))
        if self.passes:
            rows.append(("passes", f"{self.passes} and {self.spring_passes} spring passes"))
        for name in ("power", "torque", "grip"):
            rows.append((f"{name} used", f"{100 * getattr(self, name + '_share'):.0f} %"))
        return [*rows, ("what limits", self.limits)] if self.limits else rows


@dataclass(frozen=True, slots=True, eq=False)
class Review(Result):
    """What would come out of a plan.

    Fields: plan; findings, gravest first; features, one `FeatureRow` for each feature of the part, in its order (the
    diameter, of a thread the pitch diameter, of a face its place); more_sizes, rows for lengths, widths and runouts
    asked for beside those; operations, one `OperationRow` each, in order; time of one part with its share of setting
    up [min]; cost of one part, in the currency of the rates; rates, pairs of a rate or a time in words and its value,
    that both were reckoned with; finished, the workpiece at the end; system of the text of all of these.
    """

    plan: Plan
    findings: tuple[Finding, ...]
    features: tuple[FeatureRow, ...]
    more_sizes: tuple[FeatureRow, ...]
    operations: tuple[OperationRow, ...]
    time: Any
    cost: float
    rates: tuple[tuple[str, str], ...]
    finished: Shape = field(repr=False)
    system: str = "metric"

    @property
    def sizes(self) -> tuple[FeatureRow, ...]:
        """All rows of sizes."""
        return self.features + self.more_sizes

    @property
    def worst_use(self) -> float:
        """The largest share of a tolerance that any size uses; 0 where none has limits."""
        return max((row.use for row in self.sizes if row.use is not None), default=0.0)

    @property
    def verdict(self) -> str:
        """ "stop", "caution" or "clear of findings": never more than that."""
        levels = {each.level for each in self.findings}
        return next((level for level in LEVELS[:2] if level in levels), CLEAR)

    @property
    def left_to_person(self) -> tuple[tuple[str, str], ...]:
        """Pairs of a decision of the job and why it, or this part of it, is left to the person."""
        rows = table("decisions")
        return tuple((row["decision"], row["left to the person"]) for row in rows if row["left to the person"])

    def of(self, level: Any) -> tuple[Finding, ...]:
        """Return the findings of one level.

        Parameters: level, "stop", "caution" or "note". Raises LatheworksError for another. Source: the review.

        >>> from latheworks.plan import barrel_plan, review
        >>> len(review(barrel_plan()).of("note")) > 0
        True
        """
        with Door("Review.of") as door:
            chosen = door.choice(level, "level", LEVELS)
        return tuple(each for each in self.findings if each.level == chosen)

    def row(self, name: Any) -> FeatureRow:
        """Return the main row of a feature.

        Parameters: name of a feature of the part. Raises LatheworksError with the names there are. Source: the review.

        >>> from latheworks.plan import barrel_plan, review
        >>> review(barrel_plan()).row("socket thread").measure
        'pitch diameter'
        """
        with Door("Review.row") as door:
            chosen = door.choice(name, "name", [row.name for row in self.features])
        return next(row for row in self.features if row.name == chosen)

    def title(self) -> str:
        """The plan and the verdict."""
        return f"review of the {self.plan.title()}: {self.verdict}"

    def facts(self) -> list[tuple[str, str]]:
        """Findings, sizes, time and cost."""
        rows = [("verdict", self.verdict), ("time of one part", f"{self.time.m_as(U.min):.1f} min"),
                ("cost of one part", money(self.cost)),
                ("most of a tolerance used", f"{100 * self.worst_use:.0f} %")]  # fmt: skip
        rows += [(each.level, f"{each.what} ({each.where})") for each in self.findings]
        return [*rows, ("note", str(cautions("turning")[-1]))]

    def columns(self) -> dict[str, Any]:
        """The sizes, a row each."""
        rows = self.sizes
        ends = [(None, None) if r.predicted is None else (r.predicted.min, r.predicted.max) for r in rows]
        unit, name = (U.inch, "in") if self.system == "inch" else (U.mm, "mm")
        return {
            "feature": [r.name for r in rows],
            "measure": [r.measure for r in rows],
            f"aim [{name}]": [r.aim.m_as(unit) for r in rows],
            f"from [{name}]": [None if low is None else low.m_as(unit) for low, _ in ends],
            f"to [{name}]": [None if high is None else high.m_as(unit) for _, high in ends],
            "tolerance used": [r.use for r in rows],
            "measure with": [r.instrument for r in rows],
        }


__all__ = ["CLEAR", "MEASURES", "FeatureRow", "Finding", "OperationRow", "Review", "Where"]
