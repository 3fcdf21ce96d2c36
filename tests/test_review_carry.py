"""The workpiece carried along, the same from either end; budgets, grooves, bores and time against sums by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest

from latheworks.budget import Contribution, error_budget
from latheworks.budget.kernel import DEVIATION
from latheworks.cutting import cutting_forces, parting_force
from latheworks.plan import Feature, Operation, Part, Plan, Setup, review, shoe_plan, times
from latheworks.plan.budget_of import spent
from latheworks.plan.judge_turning import DULL
from latheworks.plan.shape import Shape
from latheworks.units import Q_, Span
from tests.review_parts import (
    FEATURES,
    FINISHING,
    FOOT_OPERATIONS,
    HEAD_OPERATIONS,
    TURNING,
    codes,
    foot,
    head,
    limits,
    mm,
    on,
    pin,
    plan,
    swapped,
)

RIGID = {"tilt": Q_(math.inf, "N*mm/rad"), "radial": Q_(math.inf, "N/mm")}


def mirrored(one: Plan) -> Plan:
    """The same plan with the part the other way round."""
    part, long = one.part, one.part.length
    ends = {"A": "B", "B": "A"}

    def turned(f: Feature) -> Feature:
        run = (f.count - 1) * f.spacing if f.count > 1 else mm(0)
        return replace(
            f, start=long - f.end - run, end=long - f.start - run, length_limits=None,
            diameter=f.end_diameter if f.end_diameter is not None else f.diameter,
            end_diameter=f.diameter if f.end_diameter is not None else None,
        )  # fmt: skip

    other = Part(part.name, part.material, [turned(f) for f in part.features], part.stock_diameter, part.stock_length,
                 part.stock_bore)  # fmt: skip
    return Plan(other, [replace(each, grips=ends[each.grips]) for each in one.setups])


@pytest.mark.parametrize("one", [plan(), plan(foot(stickout=mm(34)), head(stickout=mm(52), holding="collet"))])
def test_a_plan_seen_in_a_mirror_is_the_same(one):
    here, there = review(one), review(mirrored(one))
    for a, b in zip(here.operations, there.operations, strict=True):
        for name in ("power_share", "torque_share", "grip_share"):
            assert getattr(a, name) == pytest.approx(getattr(b, name), rel=1e-6)
        assert a.time.m == pytest.approx(b.time.m)
        assert (a.diameter_error is None) == (b.diameter_error is None)
        if a.diameter_error is not None:
            assert a.diameter_error.m == pytest.approx(b.diameter_error.m, rel=1e-6)
        assert a.after.volume() == pytest.approx(b.after.volume())
    assert [each.use for each in here.features if each.measure != "length"] == pytest.approx(
        [each.use for each in there.features if each.measure != "length"]
    )


def test_a_tool_takes_all_stock_on_its_way_in():
    row = review(plan(foot([FOOT_OPERATIONS[1]]))).operations[0]
    assert (row.before.start, row.after.start) == (-2, -2)
    assert row.before.largest(-2, 30) == 22
    assert row.after.largest(-2, 30) == pytest.approx(20)
    assert row.after.largest(31, 62) == 22


def test_turning_to_the_crest_makes_no_thread():
    spoiled = swapped(HEAD_OPERATIONS, 5, kind="turn", tool=FINISHING)
    found = [each.where.feature for each in review(plan(foot(), head(spoiled))).findings if "not made" in each.code]
    assert found == ["thread"]
    assert "feature not made" in codes(plan(foot(), head(spoiled)), "stop")


def test_a_bore_is_small_by_what_bar_and_part_bend():
    """By hand: 2 F (L^3/3EI of the bar + the like of the part), from a force that what bends hardly changes."""
    ring = Part("ring", "6061-T6", [on("body", "cylinder", 0, 70, 60), on("face B", "face", 70, 70),
                on("bore", "cylinder", 40, 70, 31, side="inside", limits=limits(30, 32)),
                on("through", "cylinder", 0, 40, 30, side="inside")], mm(60), mm(70), stock_bore=mm(30))  # fmt: skip
    cut = Operation("bore", ["bore"], "12 mm boring bar", feed=Q_(0.1, "mm/rev"), passes=1)
    found = review(Plan(ring, [Setup("one", "A", mm(35), operations=[cut], **RIGID)]))
    force = cutting_forces("6061-T6", mm(0.5), Q_(0.1, "mm/rev"), mm(0.4), Q_(93, "degree"), DULL).radial.m_as("N")
    bar = 35**3 / (3 * 210_000 * math.pi / 64 * 12**4)
    part = 35**3 / (3 * 69_000 * math.pi / 64 * (60**4 - 31**4))
    shift, half, _, _ = dict(found.row("bore").parts)["bending"]
    assert shift - half == pytest.approx(-2 * force * (bar + part), rel=0.05)
    assert shift + half == pytest.approx(-2 * force * bar, rel=0.05)


def test_a_groove_springs_back_at_its_floor():
    """By hand: the plunge bends by F/k; each of two turns of dwell leaves K/(K + k) of it, K = F/feed."""
    bar = Part("bar", "6061-T6", [on("body", "cylinder", 0, 100, 20), on("slot", "groove", 85, 88, 14,
               limits=limits(13, 15))], mm(20), mm(100))  # fmt: skip
    cut = Operation("groove", ["slot"], "3 mm grooving tool", feed=Q_(0.05, "mm/rev"))
    found = review(Plan(bar, [Setup("one", "A", mm(80), operations=[cut], **RIGID)]))
    push = DULL * parting_force("6061-T6", mm(3), Q_(0.05, "mm/rev")).radial.m_as("N")
    # The groove lies at the tool itself, where its thin floor bends nothing to speak of.
    gives = 66.5**3 / (3 * 69_000 * math.pi / 64 * 20**4)
    share = push / 0.05 * gives
    by_hand = 2 * push * gives * (share / (1 + share)) ** 2
    shift, _, _, _ = dict(found.row("slot").parts)["bending"]
    assert shift == pytest.approx(by_hand, rel=0.12)
    assert found.operations[0].diameter_error.m_as("mm") == pytest.approx(2 * push * gives, rel=0.12)


@pytest.mark.parametrize(("low", "high"), [(19.95, 20.05), (19.9, None), (None, 20.02)])
def test_a_size_is_spent_as_an_error_budget_is(low, high):
    parts = (("setting", (0.0, 0.01, "uniform", 2.0)), ("wear", (0.004, 0.002, "uniform", 2.0)),
             ("measuring", (0.0, 0.003, "normal", 1.0)))  # fmt: skip
    found = spent(20.0, low, high, parts)
    ours = error_budget([
        Contribution("setting", spread=mm(0.01), kind="uniform", on="radius"),
        Contribution("wear", mm(0.004), mm(0.002), "uniform", "radius"), Contribution("measuring", spread=mm(0.003)),
    ], Span(None if low is None else mm(low), None if high is None else mm(high)), mm(20))  # fmt: skip
    assert (found.low, found.high) == pytest.approx((ours.likely.min.m_as("mm"), ours.likely.max.m_as("mm")))
    assert found.use == pytest.approx(ours.likely_use)


def test_bending_along_a_feature_is_not_left_to_chance():
    alone = spent(20.0, 19.9, 20.1, (("bending", (0.02, 0.01, "uniform", 1.0)),))
    assert (alone.low, alone.high, alone.use) == pytest.approx((20.01, 20.03, 0.3))


def test_a_worn_edge_leaves_the_outside_large_and_the_bore_small():
    found = review(shoe_plan())
    assert dict(found.row("collar").parts)["edge wear"][0] > 0
    assert dict(found.row("shoe bore").parts)["edge wear"][0] < 0


def test_time_is_cutting_and_handling():
    one = plan()
    found = review(one)
    changes = 0
    last = None
    for each in [operation for setup in one.setups for operation in setup.operations]:
        if each.tool is not None and each.tool != last:
            changes, last = changes + 1, each.tool
    by_hand = times.LOAD + times.TURN_ROUND + times.INDICATE["soft jaws"] + 2 * times.SET_UP
    by_hand += changes * times.TOOL_CHANGE + sum(row.time.m_as("min") for row in found.operations)
    assert found.time.m_as("min") == pytest.approx(by_hand)
    turning = found.operations[1]
    passes = turning.passes + turning.spring_passes
    way = 30 + times.APPROACH
    feed = (turning.feed * turning.spindle).m_as("mm/min")
    assert turning.time.m_as("min") == pytest.approx(passes * (way / feed + way / times.RETURN + times.SET_PASS))
    more = review(Plan(replace(one.part, quantity=10), one.setups))
    assert found.time.m_as("min") - more.time.m_as("min") == pytest.approx(0.9 * 2 * times.SET_UP)
    assert more.cost < found.cost


def test_a_tidy_shape_is_the_same_shape_with_one_key():
    bar = Shape.bar(0, 100, 10, 2)
    one = bar.cut(20, 60, 8, 8, False).cut(60, 90, 8, 8, False).split_at([10, 33, 95]).cut(90, 100, 10, 8, False)
    other = bar.cut(20, 90, 8, 8, False).cut(90, 100, 10, 8, False)
    assert one.key() != other.key()
    assert one.tidy().key() == other.tidy().key()
    assert one.tidy().z.tolist() == [0, 20, 90, 100]
    assert one.tidy().volume() == pytest.approx(one.volume())
    stepped = bar.cut(50, 100, 9.95, 9.95, False)
    assert stepped.tidy() is stepped
    assert np.all(stepped.tidy().wall > 0)


def test_a_rough_cut_is_named_so_and_leaves_what_it_says():
    rough = Operation("turn", ["head"], TURNING, leave=mm(0.3))
    row = review(plan(foot(), head([HEAD_OPERATIONS[0], rough]))).operations[4]
    assert row.title_text == "rough turn head"
    assert row.after.largest(31, 60) == pytest.approx(15.9 + 0.6)


@pytest.mark.parametrize(("holding", "given", "most"), [
    ("three-jaw chuck", None, 0.08), ("soft jaws", None, 0.02), ("collet", None, 0.03), ("soft jaws", 0.2, 0.2),
])  # fmt: skip
def test_run_out_to_a_datum_is_that_of_being_put_in_again(holding, given, most):
    part = pin(head=replace(FEATURES["head"], runout=mm(0.1), datum="foot"))
    found = review(plan(foot(), head(holding=holding, runout=mm(given)), part=part))
    row = next(each for each in found.more_sizes if each.measure == "runout")
    named = {name: spread for name, (_, spread, _, _) in row.parts}
    assert named["putting in, setup 2"] == most
    assert "putting in, setup 1" not in named
    spreads = [spread * DEVIATION[kind] for _, (_, spread, kind, _) in row.parts]
    assert row.use == pytest.approx(2 * math.hypot(*spreads) / 0.1)


def test_what_is_turned_with_its_datum_runs_true():
    part = pin(hole=replace(FEATURES["hole"], runout=mm(0.1), datum="head"))
    row = next(each for each in review(plan(part=part)).more_sizes if each.measure == "runout")
    assert [name for name, _ in row.parts] == ["spindle", "instrument", "measuring"]
    assert row.predicted.max < mm(0.02)


def test_a_surface_turned_from_both_ends_has_the_worse_of_both_sizes():
    part = pin(head=None, slot=None, thread=None, lead=None, hole=None,
               foot=on("foot", "cylinder", 0, 60, 20, limits=limits(19.9, 20.1)))  # fmt: skip
    cut = [Operation("turn", ["foot"], TURNING, feed=Q_(0.2, "mm/rev"), passes=1)]

    def used(soft):
        setups = [Setup("one", "B", mm(40), operations=cut), Setup("other", "A", mm(40), operations=cut, tilt=soft)]
        return review(Plan(part, setups)).row("foot")

    stiff, soft = used(None), used(Q_(1e6, "N*mm/rad"))
    assert stiff.made_in is not None
    assert soft.use > 1.5 * stiff.use
    assert soft.made_in == (2, 10)


def test_two_orders_that_leave_one_shape_leave_one_key():
    chamfer, slot = HEAD_OPERATIONS[4], HEAD_OPERATIONS[3]
    start = HEAD_OPERATIONS[:3]
    keys = {review(plan(foot(), head([*start, *two]))).finished.key() for two in ((chamfer, slot), (slot, chamfer))}
    assert len(keys) == 1
    shape = review(plan()).finished
    assert shape.tidy() is shape
