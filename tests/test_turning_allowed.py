"""What each limit allows each pass: the table behind the depth, for cuts at a level and along the profile."""

import numpy as np
import pytest

from latheworks.course.exercises.the_turning import MODES, SETUPS, SURFACE, planned, turns_for
from latheworks.passes.turning_limits import GRIP, POWER, TORQUE
from latheworks.shop import lathe
from latheworks.units import Q_, U

EVERY = pytest.mark.parametrize("setup", list(SETUPS))
SPEEDS = (30.0, 90.0, 150.0, 240.0)


def plans(setup):
    for speed in SPEEDS:
        for feed in (0.1, 0.2, 0.35):
            for mode in MODES:
                yield planned(SETUPS[setup], Q_(3.0, "mm"), Q_(feed, "mm/rev"), Q_(speed, "m/min"), mode)


@EVERY
def test_the_least_of_those_allowed_is_the_limit_of_each_pass(setup):
    for plan in plans(setup):
        assert len(plan.allowed) == plan.passes
        for i, row in enumerate(plan.allowed):
            name = min(row, key=lambda each: row[each])
            assert name == plan.limited_by[i]
            assert row[name] == plan.depth_limit[i]
        assert dict(plan.limits) == plan.allowed[0]


@EVERY
def test_a_semi_finish_takes_no_more_than_the_cuts_that_left_its_stairs(setup):
    """Its depth is that of a roughing cut, met where that cut began: what held there holds again."""
    for plan in plans(setup):
        for i, kind in enumerate(plan.kinds):
            if kind != "finish":
                assert plan.depth[i] <= plan.depth_limit[i] * (1 + 1e-9), (kind, plan.title())
        assert not [note for note in plan.notes if "semi-finish" in note]
        if "semi-finish" in plan.kinds:
            at = plan.kinds.index("semi-finish")
            rough = plan.depth[np.array([kind == "rough" for kind in plan.kinds])]
            assert plan.depth[at] == rough.max()
            # The load is that of the cut whose stair it is, seen at the same height.
            like = int(np.argmax(plan.depth.m_as("mm")[:at]))
            assert plan.torque[at].m_as("N*m") == pytest.approx(plan.torque[like].m_as("N*m"))
            assert plan.power[at].m_as("kW") == pytest.approx(plan.power[like].m_as("kW"))


@EVERY
def test_no_pass_asks_more_of_the_motor_than_it_has(setup):
    machine = lathe()
    power = (machine.power * machine.drive_efficiency).m_as("kW")
    for plan in plans(setup):
        assert (plan.power.m_as("kW") <= power * (1 + 1e-9)).all()


def test_torque_below_the_base_spindle_and_power_above():
    setup = SETUPS["steel shoe, screw end"]
    for speed, name in ((30.0, TORQUE), (90.0, POWER)):
        plan = planned(setup, Q_(3.0, "mm"), Q_(0.35, "mm/rev"), Q_(speed, "m/min"))
        spindle = plan.spindle[0].m_as(U.rpm)
        assert bool(spindle < lathe().base_spindle.m_as(U.rpm)) is (name == TORQUE)
        assert name in plan.allowed[0]
        assert not {TORQUE, POWER} - {name} & set(plan.allowed[0])


def test_half_the_grip_allows_less_and_nothing_else_changes():
    whole, half = (planned(SETUPS[name], Q_(3.0, "mm"), Q_(0.2, "mm/rev"), Q_(90.0, "m/min")).allowed[0]
                   for name in ("steel shoe, cutting edge", "steel shoe, jaws at half"))  # fmt: skip
    assert half[GRIP] < 0.6 * whole[GRIP]
    assert half[POWER] == whole[POWER]


def test_constant_turns_are_those_of_the_largest_diameter_within_the_lathe():
    for setup, size in ((SETUPS["steel shoe, screw end"], 38.0), (SETUPS["barrel, its socket"], 25.4)):
        assert turns_for(setup, Q_(90.0, "m/min")).m_as(U.rpm) == pytest.approx(90_000 / (np.pi * size))
        assert turns_for(setup, Q_(900.0, "m/min")) == lathe().fastest_spindle
        assert turns_for(setup, Q_(1.0, "m/min")) == lathe().slowest_spindle
    assert MODES[0] == SURFACE
