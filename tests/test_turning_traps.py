"""What is easily got wrong about speed, feed and time (traps 25 to 32), each with the wrong way beside the right."""

import math

import pytest

from latheworks.cutting import economic_speed, spindle_for, taylor, tool_life
from latheworks.passes import facing_time, roughness, taper_setting, turning_passes, turning_time
from latheworks.threads import infeed, thread
from latheworks.units import Q_

FEED, SPEED = Q_(0.1, "mm/rev"), Q_(90, "m/min")


def test_25_feed_is_per_turn_and_surface_speed_falls_with_the_diameter():
    slow, fast = (turning_time(Q_(100, "mm"), Q_(30, "mm"), FEED, spindle=Q_(n, "rpm")).time for n in (300, 600))
    assert slow == 2 * fast
    turns = facing_time(Q_(60, "mm"), FEED, inside=Q_(30, "mm"), spindle=Q_(478, "rpm"))
    assert turns.last_surface_speed.m == pytest.approx(turns.surface_speed.m / 2)


def test_25_facing_at_a_constant_surface_speed_hits_the_clamp():
    found = facing_time(Q_(60, "mm"), FEED, surface_speed=SPEED).time.m_as("min")
    without = math.pi * 60**2 / (4000 * 90 * 0.1)
    edge = 1000 * 90 / (math.pi * 2000)
    assert found == pytest.approx(math.pi * (60**2 - edge**2) / (4000 * 90 * 0.1) + edge / 2 / (0.1 * 2000))
    assert found > 1.05 * without


def test_26_four_v_over_d_is_fast():
    right = spindle_for(Q_(100, "ft/min"), Q_(2, "in")).wanted.m_as("rev/min")
    assert 4 * 100 / 2 / right == pytest.approx(1.047, abs=5e-4)
    assert right * 2 / 100 == pytest.approx(3.82, abs=5e-3)


def test_27_removal_is_at_the_middle_of_the_chip():
    cut = turning_time(Q_(150, "mm"), Q_(12.5, "mm"), FEED, depth=Q_(0.25, "mm"), spindle=Q_(400, "rpm"))
    at_the_outside = cut.surface_speed * FEED * Q_(1, "rev") * Q_(0.25, "mm")
    wrong = at_the_outside.m_as("mm**3/min") / cut.removal_rate.m_as("mm**3/min")
    assert wrong == pytest.approx(12.5 / 12.25, rel=1e-9)


def test_27_a_pass_removes_a_ring():
    steps = [(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(0, 26), (50, 26)]]
    plan = turning_passes(steps, "6061", FEED, stock=Q_(30, "mm"), spindle=Q_(600, "rpm"))
    before, after = plan.before[0].m_as("mm"), plan.after[0].m_as("mm")
    ring = math.pi / 4 * (before**2 - after**2) * 0.1 * 600
    assert plan.removal_rate[0].m_as("mm**3/min") == pytest.approx(ring)


def test_28_two_constants_of_roughness_a_range_and_a_floor():
    found = roughness(Q_(0.06, "mm/rev"), Q_(0.4, "mm"), trailing_angle=Q_(5, "degree"))
    ra = found.ra.m_as("mm") * 0.4 / 0.06**2
    assert ra == pytest.approx(0.03208, abs=1e-4)
    assert ra / (1 / 32) == pytest.approx(1.027, abs=3e-3)
    assert found.rt / found.ra == pytest.approx(3.9, abs=0.02)
    assert found.feed_limit.m_as("mm/rev") == pytest.approx(0.07, abs=5e-4)
    assert found.expected.min >= found.ra


@pytest.mark.parametrize(("n", "lost"), [(0.13, 75), (0.25, 52)])
def test_29_a_fifth_more_speed_costs_most_of_the_edge(n, lost):
    edge = taylor(n=n, one_minute_speed=Q_(100, "m/min"))
    left = tool_life(Q_(36, "m/min"), edge) / tool_life(Q_(30, "m/min"), edge)
    assert 100 * (1 - left.magnitude) == pytest.approx(lost, abs=0.6)
    best = economic_speed(edge, Q_(2, "min"), 3.0, 30.0)
    assert best.least_cost < best.highest_rate


def test_30_pieces_of_an_edge_are_whole():
    best = economic_speed("carbide on steel", Q_(2, "min"), 3.0, 30.0)
    assert isinstance(best.pieces_per_edge(Q_(7, "min")), int)


def test_31_the_carriage_moves_a_lead_a_turn():
    double = thread("M16xPh3P1.5-6g")
    assert double.lead == 2 * double.pitch
    plan = infeed(double, 6, length=Q_(20, "mm"))
    assert plan.feed.m_as("mm/min") == pytest.approx(double.lead.m_as("mm") * plan.spindle.m_as("rev/min"))


def test_32_set_over_is_for_the_whole_length_and_half_of_the_diameter():
    found = taper_setting(Q_(30, "mm"), Q_(28, "mm"), Q_(50, "mm"), Q_(250, "mm"))
    assert found.set_over.m_as("mm") == pytest.approx(250 * (2 / 50) / 2)
    for wrong in ((30 - 28) / 2, 250 * 2 / 50):
        assert found.set_over.m_as("mm") != pytest.approx(wrong, rel=0.1)
