"""The review's numbers against hand-worked ones, and the trades that have to come out of them."""

import math
from dataclasses import replace

import numpy as np
import pytest

from latheworks.cutting import cutting_forces, power
from latheworks.deflection import Chuck, Shaft, grip, size_error, thermal_growth, thread_size_error
from latheworks.deflection.grip import clamping_friction
from latheworks.drilling import drilling_load
from latheworks.plan import Operation, Part, Plan, Setup, review
from latheworks.plan.judge_turning import DULL
from latheworks.threads import infeed
from latheworks.units import Q_
from tests.review_parts import FEATURES, FINISHING, HEAD_OPERATIONS, TURNING, foot, head, limits, mm, on, pin, plan

RIGID = {"tilt": Q_(math.inf, "N*mm/rad"), "radial": Q_(math.inf, "N/mm")}
FINE = {"feed": Q_(0.1, "mm/rev"), "passes": 1, "spindle": Q_(800, "rev/min")}


def bar(operations, long=80, across=20, bore=0, end=80.0, **setup):
    """A bar of aluminum 80 mm out of the jaws, its end faced already, 30 mm in them."""
    features = [on("held", "cylinder", 0, 32, across), on("body", "cylinder", 32, 30 + long, across,
                limits=limits(across - 1, across + 1)), on("face A", "face", 0, 0),
                on("face B", "face", 30 + long, 30 + long)]  # fmt: skip
    if bore:
        features.append(on("bore", "cylinder", 0, 30 + long, bore, side="inside", limits=limits(bore - 1, bore + 1)))
    part = Part("bar", "6061-T6", features, mm(across + setup.pop("over", 4.0)), mm(30 + long),
                stock_bore=mm(setup.pop("tube", bore)))  # fmt: skip
    usual = {"name": "one", "grips": "A", "stickout": mm(long), **RIGID}
    return Plan(part, [Setup(**(usual | setup), operations=operations)])


def the_row(found, number=10):
    return next(row for row in found.operations if row.operation == number)


def test_bending_is_that_of_the_force_on_a_cantilever():
    """Jobtable C: a bar of 20 mm, 80 mm out, E 69 000, gives 3.18 N/um at its end. Here it has 21 mm until it is cut.

    By hand, at its end: 2 (Fp L^3/3EI - Ff r L^2/2EI), with the forces of the depth set.
    """
    assert 3 * 69000 * math.pi / 64 * 20**4 / 80**3 / 1000 == pytest.approx(3.18, abs=0.005)
    found = review(bar([Operation("turn", ["body"], FINISHING, **FINE)], over=1)).row("body")
    force = cutting_forces("6061-T6", mm(0.5), Q_(0.1, "mm/rev"), mm(0.4), Q_(93, "degree"), DULL)
    stiff = 69000 * math.pi / 64 * 21**4
    out, along = (value.m_as("N") for value in (force.radial, force.feed_force))
    by_hand = 2 * (out * 80**3 / 3 - along * 10.25 * 80**2 / 2) / stiff
    shift, half, _, _ = dict(found.parts)["bending"]
    ends = (shift - half, shift + half)
    assert max(ends, key=abs) == pytest.approx(by_hand, rel=0.03)


def test_an_outside_size_is_that_of_size_error():
    cut = Operation("turn", ["body"], FINISHING, **FINE)
    found = review(bar([cut], over=1)).row("body")
    alone = size_error(
        Shaft.bar(mm(80), mm(21), material="6061-T6"), Chuck(**RIGID), mm(0.5), Q_(0.1, "mm/rev"),
        Q_([2.0, 80.0], "mm"), entering_angle=Q_(93, "degree"), nose_radius=mm(0.4),
    )  # fmt: skip
    shift, half, _, _ = dict(found.parts)["bending"]
    ends = [shift - half, shift + half]
    # The edge is taken to be in use, so that its force is 1.2 times that of a sharp one.
    assert ends == pytest.approx(DULL * alone.error.m_as("mm"), rel=0.02)


def test_power_and_torque_are_those_of_a_cut():
    cut = Operation("turn", ["body"], FINISHING, **FINE)
    row = review(bar([cut], over=2)).operations[0]
    alone = power(cutting_forces("6061-T6", mm(1), Q_(0.1, "mm/rev"), mm(0.4), Q_(93, "degree"), DULL), mm(22),
                  Q_(800, "rev/min"))  # fmt: skip
    assert row.power_share == pytest.approx(alone.share)
    assert row.surface_speed.m_as("m/min") == pytest.approx(math.pi * 22 * 0.8)


def test_grip_is_that_of_vdi_3106():
    cut = Operation("turn", ["body"], FINISHING, **FINE)
    row = review(bar([cut], over=2)).operations[0]
    force = cutting_forces("6061-T6", mm(1), Q_(0.1, "mm/rev"), mm(0.4), Q_(93, "degree"), DULL)
    alone = grip(Q_(16, "kN"), mm(22), Q_(800, "rev/min"), jaw_mass=Q_(0.35, "kg"), jaw_radius=mm(40),
                 friction=0.95 * clamping_friction("diamond", "machined"), cutting_force=force.tangential,
                 cut_diameter=mm(21), thrust=force.feed_force)  # fmt: skip
    assert row.grip_share == pytest.approx(float((alone.required_force / Q_(16, "kN")).m_as("")), rel=1e-3)


def test_a_drill_asks_for_the_highest_of_the_published_loads():
    hole = {"feed": Q_(0.2, "mm/rev"), "spindle": Q_(600, "rev/min"), "drill_depth": mm(25)}
    row = review(bar([Operation("drill", ["bore"], "10 mm drill", **hole)], bore=10, tube=0)).operations[0]
    alone = drilling_load(mm(10), Q_(0.2, "mm/rev"), "6061-T6", wear=1.3)
    assert row.torque_share == pytest.approx(
        float(alone.torque_band.max.m_as("N*m")) / (1200 / (2 * math.pi * 500 / 60)), rel=1e-6
    )


@pytest.mark.parametrize("start", [70, 38])
def test_a_thread_is_that_of_thread_size_error(start):
    screw = Part("screw", "6061-T6", [
        on("held", "cylinder", 0, 32, 20), on("shank", "cylinder", 32, 90, 16), on("face A", "face", 0, 0),
        on("thread", "thread", start, 90, designation="M16x1.5-6g"), on("face B", "face", 90, 90),
    ], mm(20), mm(90))  # fmt: skip
    operations = [Operation("turn", ["shank"], TURNING), Operation("thread", ["thread"], "threading tool", passes=6,
                                                                   spring_passes=1)]  # fmt: skip
    found = review(Plan(screw, [Setup("one", "A", mm(60), operations=operations)]))
    shaft = Shaft([(mm(60), mm(16), mm(0))], "6061-T6")
    passes = infeed("M16x1.5-6g", passes=6, spring_passes=1, length=mm(90 - start), material="6061-T6")
    alone = thread_size_error(passes, shaft, Chuck(), mm(60))
    depths = found.operations[1].pass_depths.m_as("mm")
    assert depths == pytest.approx([0.376, 0.531, 0.651, 0.751, 0.840, 0.920], abs=6e-4)  # jobtable C
    shift, half, _, _ = dict(found.row("thread").parts)["bending"]
    # Six passes, of which the last three are followed here, with an edge in use.
    assert shift + half == pytest.approx(DULL * float(alone.error.m_as("mm")), rel=0.1)


def test_a_size_turned_warm_is_small_when_cold():
    """Jobtable C: 40 mm of aluminum, 20 K warmer, are 18.4 um larger with 23 um/(m K); here 23.6."""
    found = review(plan(foot(), head(HEAD_OPERATIONS)))
    shift = dict(found.row("head").parts)["heat"][0]
    assert shift < 0
    alone = thermal_growth("6061-T6", mm(40), warming=Q_(20, "K"))
    assert alone.growth.m_as("um") == pytest.approx(18.9, abs=0.05)
    cooled = review(plan(foot(), head([replace(each, coolant=True) for each in HEAD_OPERATIONS])))
    assert dict(cooled.row("head").parts)["heat"][0] == pytest.approx(0.3 * shift, rel=0.1)


def inner(order):
    """A sleeve whose bore is finished while the bar is thick, or when its outside is thin already."""
    part = Part("sleeve", "6061-T6", [
        on("body", "cylinder", 0, 120, 20, limits=limits(19.9, 20.1)), on("face A", "face", 0, 0),
        on("bore", "cylinder", 0, 120, 16, side="inside", limits=limits(15.9, 16.1)), on("face B", "face", 120, 120),
    ], mm(34), mm(160), stock_bore=mm(14.6))  # fmt: skip
    work = {
        "bore": Operation("bore", ["bore"], "12 mm boring bar", passes=1, feed=Q_(0.1, "mm/rev")),
        "turn": Operation("turn", ["body"], TURNING, passes=8, feed=Q_(0.1, "mm/rev")),
    }
    return review(Plan(part, [Setup("one", "A", mm(125), operations=[work[name] for name in order])]))


def test_boring_while_the_bar_is_thick_comes_out_better_by_the_numbers():
    early, late = inner(["bore", "turn"]), inner(["turn", "bore"])
    bent = [abs(dict(each.row("bore").parts)["bending"][0]) for each in (early, late)]
    assert bent[0] < 0.75 * bent[1]
    assert early.row("bore").use < late.row("bore").use


def test_deeper_in_the_jaws_bends_less_and_a_second_setup_costs_length():
    bent = {}
    plain = [replace(each, spring_passes=0) for each in HEAD_OPERATIONS]
    for out in (40, 55):
        bent[out] = review(plan(foot(), head(plain, stickout=mm(out)))).operations[5].diameter_error.m_as("mm")
    assert 0 < bent[40] < 0.8 * bent[55]
    wide = review(plan(foot(), head(zero_error=mm(0.15))))
    near = review(plan(foot(), head(zero_error=mm(0.01))))
    length = [next(row.use for row in each.more_sizes if row.measure == "length") for each in (near, wide)]
    assert length[0] < length[1]


def test_spring_passes_buy_size_with_time():
    rows = []
    for spring in (0, 1, 2):
        cut = Operation("turn", ["body"], TURNING, spring_passes=spring, passes=1, feed=Q_(0.2, "mm/rev"))
        found = review(bar([cut], over=2))
        rows.append((abs(dict(found.row("body").parts)["bending"][0]), found.time.m_as("min")))
    errors, times = zip(*rows, strict=True)
    assert errors[0] > errors[1] > errors[2]
    assert times[0] < times[1] < times[2]


def radius(shape, side, z):
    """A radius of a shape at one place, no corner."""
    k = int(np.searchsorted(shape.z, z)) - 1
    return float(np.interp(z, shape.z[k : k + 2], getattr(shape, side)[k]))


def test_the_workpiece_ends_as_the_part():
    found = review(plan())
    part = found.plan.part
    for z in np.linspace(0.25, 59.75, 120):
        # Sizes are cut to the middle of their limits; a drill leaves its point beyond the bottom.
        assert radius(found.finished, "outer", z) == pytest.approx(radius(part.shape, "outer", z), abs=0.06)
        if z > 45 or z < 40:
            assert radius(found.finished, "inner", z) == pytest.approx(radius(part.shape, "inner", z), abs=0.11)
    assert (found.finished.start, found.finished.end) == pytest.approx((0, 60))


@pytest.mark.parametrize("name", FEATURES)
def test_every_feature_has_a_row_made_in_its_operation(name):
    row = review(plan()).row(name)
    assert row.made_in is not None
    assert row.instrument
    if row.budget:
        assert sum(share for _, share in row.budget) == pytest.approx(1.0)
    assert pin().feature(name).name == name
