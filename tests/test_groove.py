"""Grooves: the whole floor is cut once, loads by hand and beside an integrated beam, times, and every limit."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.cutting import kienzle
from latheworks.errors import Impossible, LatheworksError, OutOfRange
from latheworks.materials import material
from latheworks.passes import Groove, groove_passes
from latheworks.passes import groove_kernel as kernel
from latheworks.shop import lathe
from latheworks.units import Q_
from tests.by_hand import redo
from tests.reach_shapes import blade, mm

WIDE = Groove(mm(20), mm(10), mm(26))
SPEED = Q_(60, "m/min")


def plan(groove=WIDE, tool=None, stuff="steel 1018", **more):
    return groove_passes(groove, mm(32), tool or blade(3, 8), stuff, SPEED, **more)


@settings(deadline=None, max_examples=200)
@given(st.floats(0.5, 8), st.floats(1, 12), st.floats(0, 0.9), st.floats(0, 0.2))
def test_plunges_cover_the_groove_and_overlap(blade_width, times, share, wall):
    width, overlap = blade_width * times + 2 * wall, share * blade_width
    places, taken = kernel.plunges(width, blade_width, overlap, wall)
    order = np.argsort(places)
    left, right = places[order] - blade_width / 2, places[order] + blade_width / 2
    assert left[0] == pytest.approx(-width / 2 + wall, abs=1e-9)
    assert right[-1] == pytest.approx(width / 2 - wall, abs=1e-9)
    assert (right[:-1] - left[1:] >= overlap - 1e-9).all()
    assert taken.sum() == pytest.approx(width - 2 * wall, abs=1e-9)
    # Each but the first has one side open: what it takes is new, and no more than the blade less the overlap.
    assert (taken[1:] <= blade_width - overlap + 1e-9).all()
    assert (np.abs(places)[1:] >= np.abs(places)[:-1] - 1e-9).all()


@pytest.mark.parametrize(
    ("width", "overlap", "count"), [(3, 0, 1), (9, 0, 3), (8.4, 0.3, 3), (8.5, 0.3, 5), (15, 0, 5)]
)
def test_there_are_no_more_plunges_than_it_takes(width, overlap, count):
    assert len(kernel.plunges(width, 3.0, overlap, 0.0)[0]) == count


@pytest.mark.parametrize(("depth", "peck", "count"), [(3, 3, 1), (3.01, 3, 2), (9, 3, 3), (10, 3, 4), (0.1, 3, 1)])
def test_pecks_are_equal_and_no_deeper_than_asked(depth, peck, count):
    stops = kernel.pecks(depth, peck)
    assert len(stops) == count
    assert stops[-1] == pytest.approx(depth)
    assert np.diff(stops, prepend=0).max() <= peck + 1e-9


def test_the_load_beside_an_integrated_beam():
    """Bending moment F x along a blade, curvature twice summed: the same as the closed forms."""
    force, free, width, height = 400.0, 12.0, 3.0, 20.0
    x = np.linspace(0, free, 20_001)
    curve = force * (free - x) / (210e3 * width * height**3 / 12)
    slope = np.concatenate([[0], np.cumsum((curve[1:] + curve[:-1]) / 2 * np.diff(x))])
    sag = float(np.sum((slope[1:] + slope[:-1]) / 2 * np.diff(x)))
    stress, y = kernel.blade_load(force, free, width, height, 210e3)
    assert y == pytest.approx(sag, rel=1e-6)
    assert stress == pytest.approx(force * free / (width * height**2 / 6))
    assert kernel.sideways(force, free, width, height, 210e3) == pytest.approx(y * (height / width) ** 2)


def test_force_speed_and_time_by_hand():
    found = plan(feed=Q_(0.05, "mm/rev"), peck=mm(2))
    iron = material("steel 1018")
    force = float(kienzle(iron.specific_cutting_force.m_as("MPa"), iron.chip_thickness_exponent, 3.0, 0.05))
    assert found.force.m_as("N") == pytest.approx(force)
    turns = 1000 * 30 / (math.pi * 32)
    assert found.spindle.m_as("rev/min") == pytest.approx(turns)
    assert found.stops.m_as("mm") == pytest.approx([2.9 / 2, 2.9])
    rapid = lathe().largest_feed.m_as("mm/min")
    one = 2.9 / (0.05 * turns) + 2 * (1.45 + 1 + 2.9 + 1) / rapid
    finish = (2 * 3 + 10 - 3) / (0.05 * turns) + 4 * (3 + 1) / rapid
    assert found.time.m_as("min") == pytest.approx(found.plunges.size * one + finish)
    row = Groove(mm(20), mm(10), mm(26), 3, mm(15))
    assert plan(row, feed=Q_(0.05, "mm/rev"), peck=mm(2)).time.m_as("min") == pytest.approx(
        3 * (found.plunges.size * one + finish) + 2 * 15 / rapid
    )


def test_the_blade_walks_out_from_the_middle():
    found = plan()
    middle = found.plunges.m_as("mm") - 25
    assert middle[0] == 0
    assert np.abs(middle[1:]).max() == pytest.approx((10 - 3) / 2 - 0.1)
    assert np.sign(middle[1:3]).sum() == 0
    exact = plan(Groove(mm(20), mm(3), mm(26)))
    assert exact.plunges.size == 1
    assert exact.allowance == mm(0)


def test_a_deep_blade_feeds_at_half_and_a_weak_one_at_what_it_bears():
    deep = Groove(mm(20), mm(3), mm(6))
    half = plan(deep, blade(3, 14), feed=Q_(0.05, "mm/rev"))
    assert half.feed.m_as("mm/rev") == pytest.approx(0.025)
    assert "halved" in half.feed_reason
    weak = plan(deep, blade(3, 14), feed=Q_(0.05, "mm/rev"), allowed_stress=Q_(12, "MPa"))
    assert weak.stress.m_as("MPa") == pytest.approx(12)
    assert "what the blade bears" in weak.feed_reason
    assert weak.feed < half.feed
    with pytest.raises(Impossible, match="bears"):
        plan(deep, blade(3, 14, shank=2), allowed_stress=Q_(10, "MPa"))


def test_eight_widths_are_noted_and_a_blade_thinner_stresses_more():
    thin = plan(Groove(mm(20), mm(1), mm(14)), blade(1, 10))
    assert any("9.0 blade widths deep" in note for note in thin.notes)
    assert not plan().notes
    assert plan(tool=blade(2, 8)).stress.m_as("MPa") == pytest.approx(plan().stress.m_as("MPa"))
    assert plan(tool=blade(3, 16)).sag.m_as("mm") == pytest.approx(8 * plan().sag.m_as("mm"))


def test_inside_a_bore_the_mouth_is_smaller():
    recess = Groove(mm(20), mm(4), mm(36))
    found = groove_passes(recess, mm(30), blade(3, 4, shank=12, bar_length=60), "brass", SPEED, side="inside")
    assert found.depth.m_as("mm") == pytest.approx(3)
    assert found.spindle.m_as("rev/min") == pytest.approx(1000 * 30 / (math.pi * 36))


@pytest.mark.parametrize(("groove", "tool", "more", "kind", "said"), [
    (Groove(mm(20), mm(2.9), mm(26)), blade(3), {}, Impossible, "no wider than the groove"),
    (WIDE, blade(3, 2), {}, Impossible, "a blade that stands out further"),
    (WIDE, blade(3, nose=0.2), {}, Impossible, "corners no rounder"),
    (Groove(mm(20), mm(3.1), mm(26)), blade(3), {"allowance": mm(0.1)}, Impossible, "room for the blade"),
    (WIDE, blade(3), {"allowance": mm(2), "peck": mm(1), "side": "inside"}, LatheworksError, "deeper than the mouth"),
    (Groove(mm(20), mm(10), mm(31)), blade(3), {"allowance": mm(0.5)}, Impossible, "less than the depth"),
    (WIDE, blade(3), {"peck": mm(0)}, OutOfRange, "peck"),
    (WIDE, blade(3), {"peck": mm(0.0001)}, Impossible, "at most 2000"),
    (WIDE, blade(3), {"overlap": mm(2.9)}, OutOfRange, "overlap"),
    (WIDE, blade(3, bar_length=50), {}, LatheworksError, "on a bar"),
])  # fmt: skip
def test_limits_are_said(groove, tool, more, kind, said):
    with pytest.raises(kind, match=said):
        plan(groove, tool, **more)


def test_text_table_and_working():
    found = plan(system="inch")
    assert "never part between centers" in str(found)
    assert "lbf" in str(found)
    assert list(found.to_frame()["plunge"]) == list(range(1, found.plunges.size + 1))
    lines = redo(found.working)
    assert lines["sigma"] == pytest.approx(found.stress.m_as("MPa"), rel=1e-6)
