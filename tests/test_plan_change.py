"""Changing one thing of a plan: that thing is another one, all else is as it was, and the old plan stays."""

import pytest

from latheworks import Span
from latheworks.errors import LatheworksError
from latheworks.plan import (
    Feature,
    Operation,
    add_operation,
    barrel_plan,
    change_operation,
    change_part,
    change_plan,
    change_setup,
    corer_barrel,
    drop_operation,
    find_operation,
    late_thread_plan,
    move_operation,
    review,
    write_plan,
)
from latheworks.units import Q_


def titles(plan, setup=1):
    """What a setup does, in order."""
    return [each.title() for each in plan.setups[setup - 1].operations]


def test_the_old_plan_stays_and_the_rest_is_the_same():
    plan, text = barrel_plan(), write_plan(barrel_plan())
    new = change_operation(change_setup(plan, 2, stickout=Q_(60, "mm")), 1, 120, spring_passes=5)
    assert write_plan(plan) == text
    assert new.setups[1].stickout == Q_(60, "mm")
    assert new.setups[1].operations == plan.setups[1].operations
    assert new.setups[2] == plan.setups[2]
    back = change_operation(change_setup(new, 2, stickout=plan.setups[1].stickout), 1, 120,
                            spring_passes=plan.setups[0].operations[11].spring_passes)  # fmt: skip
    assert write_plan(back) == text


def test_a_spindle_takes_the_place_of_a_speed():
    plan = change_operation(barrel_plan(), 1, 30, surface_speed=Q_(90, "m/min"))
    plan = change_operation(plan, 1, 30, spindle=Q_(500, "rev/min"))
    one = plan.setups[0].operations[2]
    assert one.surface_speed is None
    assert one.spindle == Q_(500, "rev/min")
    assert change_operation(plan, 1, 30, surface_speed=Q_(80, "m/min")).setups[0].operations[2].spindle is None


@pytest.mark.parametrize("before", [10, 20, 60, 120, 130, None])
@pytest.mark.parametrize("operation", [10, 60, 140])
def test_moving_within_a_setup_is_taking_out_and_putting_in(operation, before):
    plan = barrel_plan()
    rows = titles(plan)
    taken = rows[operation // 10 - 1]
    rest = [*rows[: operation // 10 - 1], *rows[operation // 10 :]]
    place = len(rest) if before is None else before // 10 - 1 - (before > operation)
    assert titles(move_operation(plan, 1, operation, before=before)) == [*rest[:place], taken, *rest[place:]]


def test_moving_to_another_setup_and_back():
    plan = barrel_plan()
    moved = move_operation(plan, 1, 140, to_setup=2, before=10)
    assert titles(moved, 2)[0] == titles(plan)[-1]
    assert len(titles(moved)) == len(titles(plan)) - 1
    assert write_plan(move_operation(moved, 2, 10, to_setup=1)) == write_plan(plan)


def test_dropping_and_adding_undo_each_other():
    plan = barrel_plan()
    setup, number = find_operation(plan, "chamfer", "edge B")
    one = plan.setups[setup - 1].operations[number // 10 - 1]
    without = drop_operation(plan, setup, number)
    assert "feature not made" in {each.code for each in review(without).findings}
    assert write_plan(add_operation(without, setup, one, before=number)) == write_plan(plan)
    assert titles(add_operation(plan, 2, Operation("gage", ["bore"])), 2)[-1] == "gage bore"


def test_finding_an_operation():
    plan = barrel_plan()
    first, last = (find_operation(plan, "turn", "nose", which) for which in (1, 2))
    assert first < last
    assert plan.setups[last[0] - 1].operations[last[1] // 10 - 1].features == ("nose",)
    with pytest.raises(LatheworksError, match="ream of bore"):
        find_operation(plan, "ream", "bore")
    with pytest.raises(LatheworksError, match="which"):
        find_operation(plan, "turn", "nose", 3)


def test_a_part_with_other_features():
    part = corer_barrel()
    wider = Feature("nose", "cylinder", Q_(215, "mm"), Q_(250, "mm"), Q_(30, "mm"), limits=Span(Q_(29, "mm"), None))
    ring = Feature("ring", "groove", Q_(100, "mm"), Q_(104, "mm"), Q_(30, "mm"))
    new = change_part(part, features=[wider, ring], quantity=4)
    assert [each.name for each in new.features] == [*(each.name for each in part.features), "ring"]
    assert new.feature("nose") == wider
    assert new.feature("bore") == part.feature("bore")
    assert new.quantity == 4
    plan = change_plan(barrel_plan(), part=new, name="four")
    assert plan.setups == barrel_plan().setups
    assert review(plan).row("ring").made_in is None


@pytest.mark.parametrize("wrong", [15, 0, 150, 1000, 2.5])
def test_an_operation_counts_in_tens(wrong):
    with pytest.raises(LatheworksError, match=r"operation.*(tens|10)"):
        change_operation(barrel_plan(), 1, wrong, spring_passes=1)


def test_the_late_thread_is_the_same_work_in_another_order():
    early, late = barrel_plan(), late_thread_plan()
    kinds = [sorted(each.kind for setup in plan.setups for each in setup.operations if each.tool)
             for plan in (early, late)]  # fmt: skip
    assert kinds[0] == kinds[1]
    assert late.part == early.part
    assert find_operation(late, "thread", "socket thread")[0] == len(late.setups)
    assert review(late).finished.volume() == pytest.approx(review(early).finished.volume())
    assert {row.name for row in review(late).features if row.made_in is None} == set()
