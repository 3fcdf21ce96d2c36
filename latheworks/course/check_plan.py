"""Judging a plan that is handed in: its text is read as data, put on the student's own part, and reviewed."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

from latheworks.course.answer_file import LONGEST_PLAN, is_plan
from latheworks.course.tasks import Outcome, PlanTask, unreadable
from latheworks.errors import LatheworksError
from latheworks.units import Q_, Span

# The plan room is imported where it is used: a lesson without a plan should not wait for it.
if TYPE_CHECKING:
    from latheworks.plan import Finding, Part, Plan, Review
    from latheworks.plan.setup import Setup

# What a setup says of the machine and not of the plan: a plan leaves them to the library.
FACTS = ("tilt", "radial", "center", "runout", "zero_error")
MOST_FINDINGS = 6
MOST_SIZES = 5
NEAR = 1e-9
RULE = (
    "half of the points for the share of sizes that come out within their limits; a quarter for a plan without a stop; "
    "the last quarter for a plan without a stop too, less a tenth of it for each caution"
)
_NO_PLAN = "There is no plan yet. Hand one in with exercise({name!r}, plan=my_plan)."


def judge(task: PlanTask, answer: Any) -> Outcome:
    """Judge a Plan, or its JSON text, alone or as it is kept; a plan is written and read again, so that data count."""
    text = text_of(answer)
    if isinstance(text, Outcome) or not text.strip():
        return text if isinstance(text, Outcome) else unreadable(_NO_PLAN.format(name=task.name))
    if len(text) > LONGEST_PLAN:
        return unreadable(f"The plan has {len(text)} characters in its file; {LONGEST_PLAN} are the most. Shorten it.")
    # Anything else would be taken for the name of a file.
    if text.lstrip()[:1] != "{":
        return unreadable("This is not the text of a plan. " + _NO_PLAN.format(name=task.name))
    from latheworks.plan import read_plan

    try:
        return _judged(task, read_plan(text, task.lathe, task.rack))
    except LatheworksError as error:
        return unreadable(f"The plan cannot be read. {error}")
    except RecursionError:
        return unreadable("The plan cannot be read: it is nested too deep.")


def text_of(answer: Any) -> str | Outcome:
    """The JSON text of what is handed in; empty where there is nothing, an outcome where it is no plan."""
    if answer is None or type(answer) is str:
        return answer or ""
    if is_plan(answer) and type(answer["plan"]) is str:
        return str(answer["plan"])
    from latheworks.plan import Plan, write_plan

    if type(answer) is not Plan:
        return unreadable("What is handed in is no plan. Make one with Plan(part, setups) and hand that in.")
    try:
        return write_plan(answer)
    except LatheworksError as error:
        return unreadable(f"The plan cannot be written. {error}")


def _judged(task: PlanTask, given: Plan) -> Outcome:
    """The outcome of a plan that could be read."""
    from latheworks.plan import Plan, review

    why = _other_part(task, given.part) or _own_facts(task, given)
    if why:
        return Outcome(False, "not your job", why, share=0.0)
    found = review(Plan(given.part, given.setups, lathe=task.lathe, rack=task.rack))
    stops, cautions = found.of("stop"), found.of("caution")
    lines = (*map(_line, (*stops, *cautions)[:MOST_FINDINGS]), *_uses(found))
    share = share_of(found)
    if not stops:
        tail = f"; cautions to think about: {len(cautions)}" if cautions else ""
        return Outcome(True, None, f"The review finds no stop in this plan{tail}. {_most(found)} The shop's rules and "
                       "your instructor decide what is cut.", lines=lines, share=share)  # fmt: skip
    first = stops[0]
    count = "One stop" if len(stops) == 1 else f"{len(stops)} stops"
    hint = next((slip.sentence for slip in task.slips if slip.name == first.code and slip.sentence), None)
    return Outcome(False, first.code, f"{count} in this plan. Start with this one: {first.what} ({first.where}).", hint,
                   lines=lines, share=share)  # fmt: skip


def share_of(found: Review) -> float:
    """The share of the points, 0 to 1, by `RULE`; a size that is not made, or cannot be worked out, is not within."""
    limited = [row for row in found.sizes if (row.limits.min, row.limits.max) != (None, None)]
    inside = [row for row in limited if row.predicted is not None and row.use is not None and row.use <= 1.0]
    share = 0.5 * (len(inside) / len(limited) if limited else 1.0)
    if not found.of("stop"):
        share += 0.25 + 0.25 * max(0.0, 1.0 - len(found.of("caution")) / 10)
    return share


def _line(found: Finding) -> str:
    """One finding in a line."""
    by = f", {found.by_how_much}" if found.by_how_much else ""
    helps = f" Try: {found.helps}." if found.helps else ""
    return f"{found.level}: {found.what} ({found.where}){by}. Why: {found.why}.{helps}"


def _uses(found: Review) -> list[str]:
    """The sizes that use most of their tolerance, and those that nothing makes."""
    rows = sorted((row for row in found.sizes if row.use is not None), key=lambda row: -row.use)  # type: ignore[operator]
    return [f"{row.title()}: uses {100 * row.use:.0f} % of its tolerance" for row in rows[:MOST_SIZES]
            if row.use is not None]  # fmt: skip


def _most(found: Review) -> str:
    rows = [row for row in found.sizes if row.use is not None]
    if not rows:
        return ""
    row = max(rows, key=lambda row: row.use or 0.0)
    return f"Most of a tolerance is used by {row.title()}: {100 * (row.use or 0.0):.0f} %."


def _other_part(task: PlanTask, given: Part) -> str:
    """What of the part is not the student's own and not theirs to choose, in a sentence; empty where nothing is."""
    pairs: list[tuple[str, Any, Any]] = [("", task.part, given)]
    if [one.name for one in given.features] != [one.name for one in task.part.features]:
        return _other("its features, or their order, differ")
    pairs += [(f"{one.name}.", one, other) for one, other in zip(task.part.features, given.features, strict=True)]
    for before, own, other in pairs:
        for each in fields(own):
            if not each.init or each.name in ("features", "note"):
                continue
            # A material may stand as its name or as a row of its own.
            field = "stuff" if each.name == "material" else each.name
            name, value = before + each.name, getattr(other, field)
            if name in task.free:
                if not _allowed(value, task.free[name]):
                    return f"The part's {_words(name)} is not one of those that may be chosen. Read the question again."
            elif not _same(value, getattr(own, field)):
                return _other(f"the {_words(name)} differs")
    return ""


def _other(what: str) -> str:
    return f"The part in this plan is not yours: {what}. Plan the part that the exercise gives you."


def _own_facts(task: PlanTask, given: Plan) -> str:
    """Which setup states what belongs to the lathe, in a sentence; empty where none does."""
    for number, setup in enumerate(given.setups, 1):
        for name in FACTS:
            value = getattr(setup, name)
            if value is None or (name in task.stated and _allowed(value, task.stated[name])):
                continue
            if name in task.stated:
                return f"Setup {number} states a {_words(name)} that cannot be had here. Read the question again."
            return f"Setup {number} states its {_words(name)}. That belongs to the lathe: leave it out of the plan."
        if _too_strong(setup, given):
            return f"Setup {number} asks for more jaw force than the chuck has. Ask for less, or leave it out."
    return ""


def _too_strong(setup: Setup, given: Plan) -> bool:
    return setup.jaw_force is not None and not setup.jaw_force <= given.machine.jaw_force


def _words(name: str) -> str:
    """A field as a person says it: "end diameter of edge A"."""
    feature, _, own = name.rpartition(".")
    return own.replace("_", " ") + (f" of {feature}" if feature else "")


def _allowed(value: Any, allowed: Any) -> bool:
    """Whether a choice lies in a Span, or is one of several."""
    if not isinstance(allowed, Span):
        return any(_same(value, one) for one in allowed)
    if not isinstance(value, Q_):
        return False
    low = allowed.min is None or value >= allowed.min or _same(value, allowed.min)
    return bool(low and (allowed.max is None or value <= allowed.max or _same(value, allowed.max)))


def _same(one: Any, other: Any) -> bool:
    """Whether two fields say the same, whatever the unit."""
    if isinstance(one, Q_) and isinstance(other, Q_):
        return one.is_compatible_with(other) and abs((one - other).m_as(other.units)) <= NEAR
    if isinstance(one, Span) and isinstance(other, Span):
        return _same(one.min, other.min) and _same(one.max, other.max)
    return bool(type(one) is type(other) and one == other)
