"""A drill that the spindle cannot turn: slower first, then less feed; tools and lathes read once, and never mixed."""

import dataclasses

import numpy as np
import pytest

from latheworks.cutting.power import spindle_curve
from latheworks.drilling import drill_feed, drill_hole
from latheworks.drilling.hole_steps import LEAST_SHARE, SPARE
from latheworks.drilling.plain_shop import MOST, by_kind, once, plain_lathe, plain_tool
from latheworks.errors import Impossible
from latheworks.shop import lathe, rack
from latheworks.units import Q_

ALUMINUM = "aluminum 6061-T6"


def last(diameter, depth, material=ALUMINUM, machine=None, **more):
    hole = drill_hole(Q_(diameter, "mm"), Q_(depth, "mm"), material, lathe=machine, grip_diameter=Q_(32, "mm"), **more)
    return hole.steps[-1]


def with_power(kilowatts, **more):
    return dataclasses.replace(lathe(), power=Q_(kilowatts, "kW"), **more)


@pytest.mark.parametrize("kilowatts", [0.4, 0.8, 1.5, 2.2, 3.0, 12.0])
@pytest.mark.parametrize("material", [ALUMINUM, "steel 1018", "brass"])
def test_the_spindle_is_slowed_before_the_feed_is_eased(kilowatts, material):
    machine = with_power(kilowatts)
    step = last(20, 60, material, machine)
    table = drill_feed(Q_(20, "mm"), material, step.travel)
    base, turns = machine.base_spindle.m_as("rpm"), step.spindle.m_as("rpm")
    given = float(spindle_curve(machine, turns)[0])
    assert turns <= table.spindle.m_as("rpm") * (1 + 1e-9)
    # Never slower than it takes: not below the base spindle, where it gives no more torque.
    assert turns >= min(base, table.spindle.m_as("rpm")) * (1 - 1e-9)
    share = (step.feed / table.feed).m
    assert LEAST_SHARE - 1e-9 <= share <= 1 + 1e-9
    if share < 1 - 1e-9:
        assert turns == pytest.approx(min(base, table.spindle.m_as("rpm")))
    if share > LEAST_SHARE + 1e-9:
        assert step.torque.max.m_as("N*m") <= SPARE * given * (1 + 1e-6)
    slowed = turns < table.spindle.m_as("rpm") * (1 - 1e-9)
    assert any(f"slowed to {turns:.0f}" in word for word in step.limits) is slowed
    assert any("eased" in word for word in step.limits) is (share < 1 - 1e-9)


def test_slowed_only_as_far_as_the_torque_asks():
    step = last(20, 40, through=False)
    given = float(spindle_curve(lathe(), step.spindle.m_as("rpm"))[0])
    assert lathe().base_spindle < step.spindle < drill_feed(Q_(20, "mm"), ALUMINUM, step.travel).spindle or (
        step.spindle == lathe().base_spindle
    )
    assert step.torque.max.m_as("N*m") <= SPARE * given * (1 + 1e-9)


def test_a_slower_spindle_is_quicker_than_less_feed_alone():
    step = last(20, 60)
    feed = drill_feed(Q_(20, "mm"), ALUMINUM, step.travel)
    turns = feed.spindle.m_as("rpm")
    full = last(20, 60, machine=with_power(100)).torque.max.m_as("N*m")
    eased = feed.feed.m_as("mm/rev") * (SPARE * float(spindle_curve(lathe(), turns)[0]) / full) ** (1 / 0.7)
    assert step.feed.m_as("mm/rev") * step.spindle.m_as("rpm") > eased * turns


def test_two_racks_and_two_lathes_are_never_taken_for_each_other():
    short = dataclasses.replace(rack(), tools=tuple(t for t in rack().tools if t.name != "20 mm long drill"))
    drill_hole(Q_(20, "mm"), Q_(60, "mm"), ALUMINUM)
    assert drill_hole(Q_(20, "mm"), Q_(60, "mm"), ALUMINUM, rack=short).drill.name == "18 mm drill"
    assert drill_hole(Q_(20, "mm"), Q_(60, "mm"), ALUMINUM).drill.name == "20 mm long drill"
    stubby = dataclasses.replace(lathe(), quill_travel=Q_(20, "mm"))
    assert last(20, 60, machine=stubby).settings == int(np.ceil((last(20, 60).travel.m_as("mm") + 1) / 20))
    assert last(20, 60).settings == 1


def test_what_is_kept_is_what_the_quantities_say():
    for tool in by_kind(rack())["drill"]:
        own = plain_tool(tool)
        assert own.diameter == tool.diameter.m_as("mm")
        assert own.reach == tool.reach.m_as("mm")
        assert own.point_angle == pytest.approx(tool.point_angle.m_as("degree"))
    inch = dataclasses.replace(rack().tools[1], diameter=Q_(0.5, "inch"), reach=Q_(4, "inch"))
    assert (plain_tool(inch).diameter, plain_tool(inch).reach) == pytest.approx((12.7, 101.6))
    assert plain_lathe(lathe()).jaw_force == lathe().jaw_force.m_as("N")


def test_made_once_for_each_thing_and_the_store_stays_small():
    made = []
    keep = once(lambda thing: made.append(thing) or len(made))
    things = [[n] for n in range(MOST + 20)]
    assert [keep(thing) for thing in things] == list(range(1, MOST + 21))
    assert keep(things[-1]) == MOST + 20
    # Equal but another object: made anew.
    assert keep([MOST + 19]) == MOST + 21


def test_how_deep_a_drill_reaches_is_said_and_true():
    with pytest.raises(Impossible, match="no more than") as refused:
        drill_hole(Q_(20, "mm"), Q_(300, "mm"), ALUMINUM)
    (complaint,) = refused.value.complaints
    assert drill_hole(Q_(20, "mm"), complaint.most, ALUMINUM).meeting is not None
    with pytest.raises(Impossible):
        drill_hole(Q_(20, "mm"), complaint.most + Q_(0.2, "mm"), ALUMINUM)
    with pytest.raises(Impossible) as refused:
        drill_hole(Q_(20, "mm"), Q_(300, "mm"), ALUMINUM, through=False)
    (complaint,) = refused.value.complaints
    assert drill_hole(Q_(20, "mm"), complaint.most, ALUMINUM, through=False).meeting is None
