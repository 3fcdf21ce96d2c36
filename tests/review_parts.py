"""A plain pin of three steps and a plan for it, to spoil one thing at a time; and the codes that a review finds."""

from dataclasses import replace
from typing import Any

from latheworks.plan import Feature, Operation, Part, Plan, Setup, review
from latheworks.units import Q_, Span

TURNING, FINISHING, DRILL, BAR = "right-hand tool", "finishing tool", "10 mm drill", "8 mm boring bar"


def mm(value: float | None) -> Any:
    return None if value is None else Q_(float(value), "mm")


def limits(low: float | None, high: float | None) -> Span:
    return Span(mm(low), mm(high))


def on(name: str, kind: str, start: float, end: float, *sizes: float, **more: Any) -> Feature:
    first, last = (*map(mm, sizes), None, None)[:2]
    return Feature(name, kind, mm(start), mm(end), first, last, **more)


FEATURES = {
    "face A": on("face A", "face", 0, 0),
    "foot": on("foot", "cylinder", 0, 30, 20, limits=limits(19.9, 20.1)),
    "head": on("head", "cylinder", 30, 60, 16, limits=limits(15.75, 16.05), length_limits=limits(29.8, 30.2)),
    "slot": on("slot", "groove", 30, 34, 13, limits=limits(12.9, 13.1)),
    "thread": on("thread", "thread", 34, 60, designation="M16x2-6g"),
    "lead": on("lead", "chamfer", 58, 60, 16, 12),
    "hole": on("hole", "cylinder", 45, 60, 10.2, side="inside", limits=limits(9.9, 10.5)),
    "face B": on("face B", "face", 60, 60, length_limits=limits(59.7, 60.3)),
}
HEAD_OPERATIONS = [
    Operation("face", ["face B"], TURNING),
    Operation("turn", ["head"], TURNING, leave=mm(0.3)),
    Operation("turn", ["head"], FINISHING, spring_passes=1),
    Operation("groove", ["slot"], "3 mm grooving tool"),
    Operation("chamfer", ["lead"], "chamfer tool"),
    Operation("thread", ["thread"], "threading tool", spring_passes=1),
    Operation("center drill", ["hole"], "center drill 3.15"),
    Operation("drill", ["hole"], DRILL, drill_depth=mm(16), coolant=True),
    Operation("deburr", ["thread", "hole"]),
    Operation("gage", ["head", "slot", "thread", "hole"]),
]
FOOT_OPERATIONS = [
    Operation("face", ["face A"], TURNING),
    Operation("turn", ["foot"], FINISHING),
    Operation("gage", ["foot"]),
]


def pin(material: str = "aluminum 6061-T6", **changed: Any) -> Part:
    """The pin, some of its features changed or, with None, left out."""
    features = [changed.get(name.replace(" ", "_"), feature) for name, feature in FEATURES.items()]
    return Part("pin", material, [each for each in features if each is not None], mm(22), mm(64))


def foot(operations: Any = None, **more: Any) -> Setup:
    usual: dict[str, Any] = {"stickout": mm(42), "stop": True, "operations": operations or FOOT_OPERATIONS}
    return Setup("foot", "B", **(usual | more))


def head(operations: Any = None, **more: Any) -> Setup:
    usual: dict[str, Any] = {
        "stickout": mm(40),
        "holding": "soft jaws",
        "stop": True,
        "operations": operations or HEAD_OPERATIONS,
    }
    return Setup("head", "A", **(usual | more))


def plan(*setups: Setup, part: Part | None = None) -> Plan:
    return Plan(part or pin(), list(setups) or [foot(), head()])


def swapped(operations: list[Operation], number: int, **changed: Any) -> list[Operation]:
    """The operations with one of them changed."""
    return [replace(each, **changed) if i == number else each for i, each in enumerate(operations)]


def without(operations: list[Operation], *numbers: int) -> list[Operation]:
    """The operations less some of them."""
    return [each for i, each in enumerate(operations) if i not in numbers]


def moved(operations: list[Operation], number: int, to: int) -> list[Operation]:
    """The operations with one of them in another place."""
    kept = without(operations, number)
    return [*kept[:to], operations[number], *kept[to:]]


def codes(one: Plan, level: str | None = None) -> set[str]:
    return {each.code for each in review(one).findings if level is None or each.level == level}
