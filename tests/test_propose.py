"""What is proposed for a part: every feature is made, by tools that reach, and every plan of it can be reviewed."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from latheworks import Span
from latheworks.plan import Feature, Part, corer_barrel, cutting_shoe, orders
from latheworks.plan.job import job_of
from latheworks.plan.propose import places_of, tasks_of
from latheworks.plan.propose_holes import hole_of
from latheworks.shop import lathe, rack
from latheworks.units import Q_
from tests.order_parts import mm


def proposed(part):
    job = job_of(part, lathe(), rack())
    tasks = tasks_of(job)
    return job, tasks, places_of(job, tasks)


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=["barrel", "shoe"])
def test_every_feature_is_made_by_something(part):
    _, tasks, _ = proposed(part)
    assert {name for task in tasks for name in task.makes} == {each.name for each in part.features}


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=["barrel", "shoe"])
def test_every_task_can_be_done_somewhere_with_a_tool_of_the_rack(part):
    job, tasks, places = proposed(part)
    frees = {place.free for place in places}
    for task in tasks:
        assert task.ways
        for way in task.ways:
            assert job.tool(way.operation.tool) is not None
            assert set(way.ends) & frees
            assert set(way.ends) <= set(task.ends)


def test_a_long_bore_is_drilled_from_both_ends_and_a_short_one_from_either():
    job, tasks, _ = proposed(corer_barrel())
    hole = hole_of(job)
    assert not hole.whole
    assert hole.drill.name == "20 mm long drill"
    assert hole.made == ("bore",)
    # 125 mm each and 2 mm past the middle; a drill cuts no wider than what is asked for.
    assert hole.depths == {"A": 127.0, "B": 127.0}
    assert not any(task.closes for task in tasks)
    job, tasks, _ = proposed(cutting_shoe())
    hole = hole_of(job)
    assert hole.whole
    assert hole.made == ()  # a bar reaches all of it, and takes what the drill leaves
    assert {len(task.closes) for task in tasks if task.role == "drill"} == {3}


def test_the_thickest_bar_that_goes_in_bores():
    _, tasks, _ = proposed(corer_barrel())
    bored = next(task for task in tasks if task.title == "bore socket")
    assert {way.operation.tool for way in bored.ways} == {"16 mm boring bar"}
    assert {way.operation.spring_passes for way in bored.ways} == {0, 1}


def test_jaws_come_to_where_the_work_is_free_and_leave_something_to_hold():
    job, _, places = proposed(corer_barrel())
    for place in places:
        held = place.jaws if place.grips == "A" else job.length - place.jaws
        assert held >= 8.0
    assert {place.supported for place in places if place.grips == "B" and place.jaws > 200} == {True, False}


def test_a_pin_with_one_surface_is_turned_half_from_each_end():
    pin = Part("pin", "brass", [
        Feature("body", "cylinder", mm(0), mm(60), mm(20), limits=Span(mm(19.8), mm(20))),
        Feature("face A", "face", mm(0), mm(0)), Feature("face B", "face", mm(60), mm(60)),
    ], mm(22), mm(62))  # fmt: skip
    found = orders(pin, limit=Q_(10, "s"))
    assert found.exact
    assert found.quickest.stops == 0
    ends = [setup.grips for setup in found.quickest.plan.setups for one in setup.operations if one.kind == "turn"]
    assert set(ends) == {"A", "B"}


@given(st.integers(30, 120), st.integers(8, 20), st.integers(10, 28),
       st.sampled_from(["brass", "steel 1018", "6061-T6"]), st.booleans(), st.booleans())  # fmt: skip
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_stepped_pin_gets_plans_that_review_takes(long, nose, across, stuff, bored, chamfered):
    features = [
        Feature("body", "cylinder", mm(0), mm(long - nose), mm(30)),
        Feature("nose", "cylinder", mm(long - nose), mm(long), mm(across), limits=Span(mm(across - 0.1), mm(across))),
        Feature("face A", "face", mm(0), mm(0)), Feature("face B", "face", mm(long), mm(long)),
    ]  # fmt: skip
    if bored:
        features.append(Feature("hole", "cylinder", mm(long - nose), mm(long), mm(8), side="inside"))
    if chamfered:
        features.append(Feature("edge", "chamfer", mm(long - 1), mm(long), mm(across), mm(across - 2)))
    found = orders(Part("pin", stuff, features, mm(32), mm(long + 2)), limit=Q_(1.5, "s"), most_plans=2)
    assert found.plans or any("no whole plan" in note for note in found.notes)
    for one in found.plans:
        assert one.review.time.m_as("min") > 0
        assert not any(each.code in ("no tool", "tool missing", "wrong tool", "no such feature", "nothing to do")
                       for each in one.review.findings)  # fmt: skip
