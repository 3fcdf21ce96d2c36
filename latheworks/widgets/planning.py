"""The plan bench: a slider plays the plan, the bar becomes the part, and each size fills its tolerance."""

from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.errors import OutOfRange
from latheworks.pictures.plan_data import Played
from latheworks.pictures.plan_play import PlanPicture, minutes, percent, short
from latheworks.pictures.style import Look
from latheworks.plan import Plan, Review, barrel_plan
from latheworks.units import Q_, U, show
from latheworks.widgets.bench import Bench, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.plan_lines import plan_line
from latheworks.widgets.sizes import Size

_SAID = 3  # findings of one operation that stand in the reading; the rest is counted


class PlanBench(Bench):
    """One plan, or two beside each other, played operation by operation."""

    kind: ClassVar[str] = "plan"
    title: ClassVar[str] = "Play the plan"
    picture_class = PlanPicture

    def __init__(self, plans: tuple[Plan, ...], at: int) -> None:
        # Once for each plan: moving the slider only draws.
        both = [plan_line(each) for each in plans]
        self.reviews: tuple[Review, ...] = tuple(each for each, _ in both)
        self._lines = tuple(line for _, line in both)
        self._names = tuple(f"{i}: {short(each.name, 40)}" for i, each in enumerate(plans, 1))
        self._at = at
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        count = self._lines[0].count
        which = (Choice("plan", "Plan", self._names, self._names[0]),) if len(self._names) > 1 else ()
        return (*which, Size("at", "Operation", "", self._at, 1, count, (1, 1), 1, kind="count"))

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        line = self._lines[0]
        found: dict[str, dict[str, Any]] = {}
        for i, step in enumerate(line.steps, 1):
            if step.setup <= 4 and (i == line.count or line.steps[i].setup != step.setup):
                found[f"Setup {step.setup} done"] = {"at": i}
        first = next((i for i, step in enumerate(line.steps, 1) if step.level in ("stop", "caution")), None)
        if first is not None:
            found["First finding"] = {"at": first}
        worst = line.worst(line.count)
        if worst is not None and worst.made is not None:
            found["Worst size"] = {"at": worst.made}
        return found

    @property
    def active(self) -> int:
        """Which plan is shown."""
        return self._names.index(self.controls["plan"].value) if "plan" in self.controls else 0

    def follow(self, changed: set[str]) -> None:
        count, at = self._lines[self.active].count, self.controls["at"]
        # The other plan may be shorter: its last operation is then the nearest one.
        if "plan" in changed and "at" not in changed and at.value > count:
            at.put(count)
        if at.high != count:
            at.run(1, count)

    def compute(self, values: Mapping[str, Any]) -> tuple[Review, Played]:
        line, at = self._lines[self.active], values["at"]
        if at > line.count:
            raise OutOfRange(f"There is no operation {at}: the last one is {line.count}. Type {line.count} or less.")
        return self.reviews[self.active], Played(self._lines, self.active, at)

    def read(self, data: Played, look: Look) -> Reading:
        step, line = data.step, data.plan
        worst = line.worst(data.at)
        facts = [("tool", step.tool or "by hand")]
        if step.spindle is not None:
            facts.append(("spindle", show(Q_(step.spindle, U.rpm))))
        if step.feed is not None:
            facts.append(("feed", show(Q_(step.feed, U.mm_per_rev), look.system)))
        if step.passes:
            facts.append(("passes", step.passes))
        if step.error is not None:
            facts.append(("bends, on the diameter", look.mm(step.error)))
        facts.append(("time so far", f"{minutes(step.minutes)} of {minutes(line.steps[-1].minutes)}"))
        facts.append(("sizes there", f"{len(line.made(data.at))} of {_with_limits(line)}"))
        if worst is not None:
            facts += [("uses most", worst.title), ("of its tolerance", percent(worst.use))]
        if len(data.plans) > 1:
            for i, each in enumerate(data.plans, 1):
                end = each.worst(each.count)
                used = "" if end is None else f", {percent(end.use)}"
                facts.append((f"plan {i} in all", f"{minutes(each.minutes)}{used}"))
        told = [fault.in_system(look.system) for fault in step.faults[:_SAID]]
        notes = [f"{fault.sentence} {fault.because}" for fault in told]
        if len(step.faults) > _SAID:
            notes.append(f"And {len(step.faults) - _SAID} more findings here.")
        here = f"{step.number.capitalize()}, {step.title}"
        grave = {"stop": "a stop was found here", "caution": "a caution was found here"}.get(step.level or "")
        verdict = f"{here}: {grave}." if grave else f"{here}: clear of stops and cautions."
        return Reading(grave is None, verdict, tuple(facts), tuple(notes))


def _with_limits(line: Any) -> int:
    return sum(each.low is not None or each.high is not None for each in line.sizes)


def plan_bench(plan: Any = None, other: Any = None, at: int = 1) -> PlanBench:
    """Return a bench that plays a plan: the bar in its holding, its sizes against their limits, what was found where.

    worst share so far = the largest of what the sizes that are there use of their tolerances, as `review` has them.

    Parameters, all optional: plan, a Plan; the corer's barrel when left out; other, a second Plan to set beside it;
    at, the operation shown first, counted from 1 through all setups [1 to as many as there are]. Raises
    LatheworksError for what is no Plan, and for a plan without operations. Source: `latheworks.plan.review`.

    >>> plan_bench(at=2).value("at")
    2
    """
    with Door("plan_bench") as door:
        first = barrel_plan() if plan is None else door.instance(plan, "plan", Plan, "a Plan", "barrel_plan()")
        second = None if other is None else door.instance(other, "other", Plan, "a Plan", "shoe_plan()")
        for name, each in (("plan", first), ("other", second)):
            if each is not None and not each.operations:
                door.complain(name, "a plan without operations", "at least one operation", f"{name}=barrel_plan()",
                              OutOfRange)  # fmt: skip
        start = door.whole(at, "at", least=1, most=first.operations if first is not None and first.operations else 1)
    assert first is not None
    return PlanBench((first,) if second is None else (first, second), start)
