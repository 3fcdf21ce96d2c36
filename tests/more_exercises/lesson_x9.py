"""Exercises that only tests use: a plan to hand in, a number, a reason; taught by `tests.grade_class.taught`."""

from dataclasses import replace

from latheworks.course.tasks import Number, PlanTask, Reason, Slip
from latheworks.course.variant import Variant
from latheworks.plan import Plan, cutting_shoe, shoe_plan
from latheworks.units import Q_, Span


def hand_in(numbers: Variant) -> PlanTask:
    """A plan for the shoe, each student's from a bar of their own."""
    stock = numbers.pick("stock", (62.0, 62.25, 62.5, 62.75, 63.0))
    part = replace(cutting_shoe(), stock_length=Q_(stock, "mm"))
    first, second = shoe_plan().setups
    return PlanTask(
        question=f"Plan the shoe out of a bar {stock:g} mm long.",
        hint="Begin with the first stop.",
        worked="There are many good plans. Compare yours with a neighbor's.",
        part=part,
        free={"stock_before": (None,), "quantity": (1, 2, 3), "collar.finish": Span(Q_(0.8, "um"), Q_(3.2, "um"))},
        stated={"runout": Span(Q_(0.02, "mm"), None)},
        solved=lambda: Plan(part, (replace(first, stickout=Q_(44.0, "mm")), second)),
        slips=(Slip("nothing planned", Plan(part, [replace(first, operations=())]), "Plan something."),),
    )


def size(numbers: Variant) -> Number:
    """A number that everybody could find."""
    right = Q_(numbers.pick("size", (10.0, 11.0, 12.0, 13.0)), "mm")
    return Number(question=f"Half of {2 * right}?", right=right, within=Q_(0.01, "mm"), points=2, hint="Halve it.",
                  worked="Halve it.", slips=(Slip("whole for half", 2 * right, "This is the whole."),))  # fmt: skip


def why(numbers: Variant) -> Reason:
    """A reason that a person reads."""
    return Reason(question="Why?", hint="", worked="Because.")


EXERCISES = (hand_in, size, why)
