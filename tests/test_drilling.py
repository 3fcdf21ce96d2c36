"""Loads, feeds, pecks, holes from one end and both, and the ways to a size."""

from dataclasses import replace

import numpy as np
import pytest

from latheworks.drilling import drill_feed, drill_hole, drilling_load, kernel, peck_depths, point_length, ways_to_size
from latheworks.errors import Impossible, LatheworksError, NotInTable
from latheworks.shop import Rack, Tool, lathe, rack
from latheworks.units import Q_, Span

STEEL, ALUMINUM = "steel 1018", "aluminum 6061-T6"


def mm(value):
    return Q_(float(value), "mm")


def feed(value):
    return Q_(float(value), "mm/rev")


def barrel(**more):
    given = {"stop": True, "grip_diameter": mm(32), **more}
    return drill_hole(mm(20), mm(250), ALUMINUM, **given)


def test_points_come_as_one_or_many_in_any_unit():
    found = point_length(Q_([0.25, 0.5], "in"))
    assert found.m_as("mm") == pytest.approx([1.9078, 3.8155], abs=1e-4)
    assert point_length(mm(10), Q_(180, "degree")).m_as("mm") == pytest.approx(0, abs=1e-12)


def test_all_three_forms_are_there_and_the_band_holds_them():
    load = drilling_load(mm(10), feed(0.2), STEEL, spindle=Q_(600, "rev/min"))
    assert load.forms == ("handbook", "Kienzle", "Shaw and Oxford")
    assert load.thrust_band.min == load.thrust_by_form.min()
    assert load.torque_band.max == load.torque_by_form.max()
    assert load.power_band.min <= load.power <= load.power_band.max
    assert load.power.m_as("W") == pytest.approx(load.torque.m_as("N*m") * 2 * np.pi * 10)
    assert list(load.to_frame()["form"]) == list(load.forms)


def test_inch_and_metric_forms_of_the_handbook_agree():
    """The handbook prints both with the same Kd; they differ by its own rounding of constants."""
    d, f, kd = 0.5, 0.006, 24000.0
    a, b, j = kernel.chisel_factors(0.18)
    thrust = 2 * kd * f**0.8 * d**0.8 * b + kd * d**2 * j
    torque = kd * f**0.8 * d**1.8 * a
    metric = kernel.handbook(kd, kd, d * 25.4, f * 25.4, (a, b, j))
    assert metric[0] / 4.44822 == pytest.approx(thrust, rel=0.01)
    assert metric[1] / 112.985 == pytest.approx(torque, rel=0.01)


def test_shaw_and_oxford_of_200_hb_is_as_printed_and_scales():
    thrust, torque = kernel.shaw_oxford(200.0, 12.7, 0.254, 0.18)
    assert thrust / kernel.POUND == pytest.approx(57500 * 0.01**0.8 * 0.5**0.8 + 625 * 0.25)
    assert torque / kernel.POUND / 25.4 == pytest.approx(25200 * 0.01**0.8 * 0.5**1.8)
    soft, hard = (drilling_load(mm(10), feed(0.2), STEEL, hardness=h) for h in (100.0, 300.0))
    assert (hard.torque_by_form[2] / soft.torque_by_form[2]).magnitude == pytest.approx(3)
    assert hard.torque == soft.torque


def test_a_split_point_and_a_sharp_drill_take_less():
    usual = drilling_load(mm(10), feed(0.2), STEEL)
    split = drilling_load(mm(10), feed(0.2), STEEL, point="split")
    dull = drilling_load(mm(10), feed(0.2), STEEL, wear=1.3)
    lips, edge = 0.2**0.8 * 10**0.8, 0.007 * 100 / 0.05
    share = (lips * 1.1 + edge * 0.001) / (lips * 1.355 + edge * 0.030)
    assert (split.thrust / usual.thrust).magnitude == pytest.approx(share)
    assert split.torque < usual.torque
    for form in range(3):
        assert (dull.thrust_by_form / usual.thrust_by_form).magnitude[form] == pytest.approx(1.3)


def test_kienzle_behind_a_pilot_is_the_ring_that_is_left():
    whole, behind = kernel.kienzle(1350, 0.21, 10.0, 0.2, 118.0), kernel.kienzle(1350, 0.21, 10.0, 0.2, 118.0, 0.4)
    assert behind[0] / whole[0] == pytest.approx(0.6)
    assert behind[1] / whole[1] == pytest.approx(1 - 0.16)


def test_a_pilot_smaller_than_the_chisel_edge_is_refused():
    with pytest.raises(Impossible, match=r"pilot: got 1 mm, expected from the chisel edge of 1\.8 mm"):
        drilling_load(mm(10), feed(0.2), STEEL, pilot=mm(1))
    assert drilling_load(mm(10), feed(0.2), STEEL, pilot=mm(1), point="split").pilot == mm(1)


def test_plastics_have_feeds_and_speeds_but_no_force():
    assert drill_feed(mm(6), "POM").spindle.m_as("rev/min") > 2000
    with pytest.raises(NotInTable, match="kc1"):
        drilling_load(mm(6), feed(0.1), "POM")


def test_the_working_redoes_the_handbooks_form():
    text = drilling_load(mm(10), feed(0.2), STEEL, spindle=Q_(600, "rev/min")).working.text()
    assert "0.05 x 24000 x 0.2^0.8 x 10^0.8 x 1.355 x 1 + 0.007 x 24000 x 10^2 x 0.030 x 1 = 3335 N" in text
    by_hand = 0.05 * 24000 * 0.2**0.8 * 10**0.8 * 1.355 + 0.007 * 24000 * 100 * 0.030
    assert by_hand == pytest.approx(3335, abs=0.5)
    assert text.count("from memory") == 3


def test_feeds_grow_with_diameter_and_deep_holes_take_off():
    small, large = drill_feed(mm(3), STEEL), drill_feed(mm(20), STEEL)
    assert small.feed < large.feed
    assert small.spindle > large.spindle
    shallow, deep = drill_feed(mm(10), STEEL, mm(29)), drill_feed(mm(10), STEEL, mm(50))
    assert (deep.feed / shallow.feed).magnitude == pytest.approx(0.8)
    assert (deep.surface_speed / shallow.surface_speed).magnitude == pytest.approx(0.7)
    assert shallow.feed_range.min <= shallow.feed <= shallow.feed_range.max


def test_pecks_shrink_add_up_and_never_vanish():
    found = peck_depths(mm(5), mm(100))
    steps = found.steps.m_as("mm")
    assert steps.sum() == pytest.approx(100)
    assert (np.diff(steps) <= 1e-9).all()
    assert steps[:-1].min() == pytest.approx(5)
    assert steps[0] == pytest.approx(10)
    assert found.chips.m_as("cm**3").sum() == pytest.approx(5 * np.pi / 4 * 25 * 100 / 1000)
    assert len(peck_depths(mm(10), mm(30))) == 1


@pytest.mark.parametrize("least", [0.1, 0.5])
def test_ten_thousand_pecks_are_refused(least):
    with pytest.raises(LatheworksError, match="depth: got 2000 mm"):
        peck_depths(mm(0.5), mm(2000), least=least)
    with pytest.raises(LatheworksError, match="least: got 0"):
        peck_depths(mm(5), mm(100), least=0.0)


def test_the_time_of_pecks_counts_the_way_out_and_back():
    steps = np.array([20.0, 10.0, 10.0])
    assert kernel.peck_time(steps, 40.0, 600.0, 0.1) == pytest.approx(1.0 + 2 * (20 + 30) / 600 + 0.2)
    assert kernel.peck_time(np.array([30.0]), 60.0, 600.0, 0.1) == pytest.approx(0.5)


def test_a_barrel_too_long_for_the_drill_is_drilled_from_both_ends():
    hole = barrel()
    assert [step.end for step in hole.steps] == [1, 1, 1, 2, 2, 2]
    full = hole.meeting.depths.m_as("mm")
    assert full.sum() == pytest.approx(253)
    travel = hole.steps[-1].travel.m_as("mm")
    assert travel == pytest.approx(126.5 + 0.3004303 * 20 + 1.0, abs=1e-4)
    assert hole.steps[2].travel.m_as("mm") == pytest.approx(travel - 1.0)
    assert hole.time.m_as("s") == pytest.approx(sum(step.time.m_as("s") for step in hole.steps) + 300)
    assert any(word.startswith("flute length") for word in hole.limits)


def test_where_the_ends_meet_follows_from_the_stated_inputs():
    meeting = barrel(runout=mm(0.2), drift=mm(0.05), overlap=mm(10)).meeting
    w = 0.05 * 130 / 100
    assert meeting.step.m_as("mm") == pytest.approx(np.sqrt(0.1**2 + 2 * w**2))
    assert meeting.worst_step.m_as("mm") == pytest.approx(0.1 + 2 * w)
    assert meeting.allowance.m_as("mm") == pytest.approx(2 * np.hypot(0.1, w))
    assert meeting.worst_allowance.m_as("mm") == pytest.approx(2 * (0.1 + w))
    still = barrel(runout=mm(0), drift=mm(0)).meeting
    assert still.step.magnitude == still.worst_allowance.magnitude == 0


def test_the_allowance_hides_both_holes_wherever_they_lie():
    """Drawn at random inside the stated inputs, a bore so much larger on the new axis always clears both holes."""
    e, w, d = 0.05, 0.12, 20.0
    *_, sure = kernel.meeting(e, w / 126.5, (126.5, 126.5))
    draw = np.random.Generator(np.random.PCG64(4)).random((2, 3, 5000))
    angle, size = 2 * np.pi * draw[0], draw[1] * np.array([[e], [w], [w]])
    x, y = size * np.cos(angle), size * np.sin(angle)
    first, second = np.hypot(x[0] + x[1], y[0] + y[1]), np.hypot(x[2], y[2])
    furthest = d / 2 + np.maximum(first, second)
    assert (furthest <= (d + sure) / 2 + 1e-12).all()
    assert furthest.max() > (d + 0.9 * sure) / 2


@pytest.mark.parametrize(("more", "words"), [
    ({"through": False}, "from one end"),
    ({"from_both_ends": False}, "from one end"),
])  # fmt: skip
def test_a_hole_out_of_reach_says_how_far_it_goes(more, words):
    with pytest.raises(Impossible, match=words):
        barrel(**more)
    with pytest.raises(Impossible, match="blind"):
        barrel(through=False, from_both_ends=True)


def test_both_ends_on_request_and_one_end_where_it_reaches():
    assert drill_hole(mm(10), mm(40), STEEL, from_both_ends=True).meeting is not None
    assert drill_hole(mm(10), mm(40), STEEL).meeting is None


def test_the_spindles_torque_eases_the_feed():
    weak = replace(lathe(), power=Q_(0.3, "kW"))
    easy, hard = (drill_hole(mm(16), mm(25), STEEL, lathe=m, stop=True) for m in (lathe(), weak))
    assert hard.steps[-1].feed < easy.steps[-1].feed
    assert any(word.startswith("torque") for word in hard.limits)
    slow = replace(lathe(), fastest_spindle=Q_(400, "rev/min"))
    held = drill_hole(mm(6), mm(12), ALUMINUM, lathe=slow, stop=True)
    assert held.steps[-1].spindle.m_as("rev/min") == 400
    assert any(word.startswith("spindle") for word in held.limits)


def test_a_pilot_takes_thrust_off_the_step_that_follows():
    on, off = (drill_hole(mm(16), mm(25), STEEL, pilot=p, stop=True) for p in (True, False))
    assert [step.does for step in on.steps] == ["center drill", "pilot", "drill"]
    assert [step.does for step in off.steps] == ["center drill", "drill"]
    assert on.steps[-1].thrust.max < 0.7 * off.steps[-1].thrust.max
    assert [step.does for step in drill_hole(mm(10), mm(25), STEEL).steps] == ["center drill", "drill"]


def test_a_nearby_drill_leaves_the_rest_to_bore():
    hole = drill_hole(mm(17), mm(25), STEEL, stop=True)
    assert hole.drill.name == "16 mm drill"
    assert hole.left.m_as("mm") == pytest.approx(1)
    assert "left to ream or bore" in " ".join(hole.notes)
    assert "qualified staff decide" in " ".join(hole.notes)
    with pytest.raises(LatheworksError, match="it has 3, 4"):
        drill_hole(mm(60), mm(25), STEEL)


def test_an_empty_handed_rack_says_what_it_lacks():
    bare = Rack("bare", "two drills", tuple(tool for tool in rack().tools if tool.name == "10 mm drill"))
    hole = drill_hole(mm(10), mm(25), STEEL, rack=bare)
    assert [step.does for step in hole.steps] == ["drill"]
    assert any("no center drill" in note for note in hole.notes)
    ways = ways_to_size(Span(mm(16), mm(16.03)), mm(30), STEEL, rack=bare)
    assert ways.ways[1].missing
    assert isinstance(bare.tools[0], Tool)
