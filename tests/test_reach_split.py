"""Who takes what: volumes by hand, times by v f b, money, and the order of stiffness."""

import math

import pytest

from latheworks.passes import Groove, split
from latheworks.units import Q_
from tests.reach_shapes import blade, mm, profile, tool

GRIP = profile([(0, 30), (100, 30)], stock=mm(32), grooves=Groove(mm(60), mm(3), mm(26), 4, mm(8)))
RING = math.pi * (16**2 - 15**2) * 100
GROOVES = 4 * math.pi * (15**2 - 13**2) * 3
TURN = tool("D", 93, 0.4, shank=20, reach=20)
PART = blade(3, 8)
RATES = (1000 * 60 * 0.2 * 2.0, 1000 * 60 * 0.05 * 3.0)


def shared(tools=(PART, TURN), shape=GRIP, feeds=(0.05, 0.2), depths=(3.0, 2.0), **more):
    return split(shape, list(tools), Q_(60, "m/min"), Q_(list(feeds), "mm/rev"), Q_(list(depths), "mm"), **more)


def test_the_stiff_tool_takes_the_bulk_and_the_blade_the_rest():
    found = shared()
    assert [share.tool for share in found.shares] == [TURN, PART]
    turned, plunged = (share.volume.m_as("mm**3") for share in found.shares)
    assert turned + plunged == pytest.approx(RING + GROOVES, rel=1e-4)
    # A 55 degree insert at 93 gets into a groove by all but the triangle of its back and the nose's corner.
    triangle = 2**2 / (2 * math.tan(math.radians(32)))
    assert plunged == pytest.approx(4 * 2 * math.pi * 13.7 * triangle, rel=0.05)
    assert found.still_standing.m_as("mm**2") < 0.01
    for share, rate in zip(found.shares, RATES, strict=True):
        assert share.time.m_as("min") == pytest.approx(share.volume.m_as("mm**3") / rate)


def test_time_saved_and_the_price_of_the_feature():
    found = shared(tool_change=Q_(0.5, "min"), hourly_rate=60.0)
    turned, plunged = (share.time.m_as("min") for share in found.shares)
    assert found.time.m_as("min") == pytest.approx(turned + plunged + 0.5)
    alone = (RING + GROOVES) / RATES[1]
    assert found.one_tool.m_as("min") == pytest.approx(alone, rel=1e-4)
    assert found.saved.m_as("min") == pytest.approx(alone - turned - plunged - 0.5, rel=1e-3)
    assert found.feature_price == pytest.approx(plunged + 0.5)
    assert "saved against one tool" in str(found)
    assert "lost against one tool" in str(shared(tool_change=Q_(60, "min")))


def test_a_tool_with_nothing_to_do_is_left_in_the_rack():
    plain = profile([(0, 30), (100, 30)], stock=mm(32))
    found = shared(shape=plain)
    assert [share.tool for share in found.shares] == [TURN]
    assert found.feature_price == 0
    assert found.saved.m_as("min") == pytest.approx(0)


def test_what_nobody_reaches_is_said():
    narrow = profile([(0, 30), (100, 30)], stock=mm(32), grooves=Groove(mm(60), mm(2), mm(20)))
    found = shared(shape=narrow)
    assert found.still_standing.m_as("mm**2") > 5
    assert "none of these tools reaches" in str(found)
    # A groove tool of the wrong hand of a wall: neither alone leaves as little as both.
    both = profile([(0, 40), (30, 40), (30, 20), (60, 20), (60, 40), (90, 40)], stock=mm(40))
    pair = [tool("D", 93, reach=30), tool("D", 93, reach=30, hand="left", shank=19)]
    assert shared(pair, both, (0.2, 0.2), (1.0, 1.0)).saved is None


def test_a_bore_counts_its_rings_from_the_inside():
    bore = profile([(0, 20), (40, 20)], side="inside", stock=mm(16))
    bar = tool("C", 95, 0.4, shank=10, reach=3, bar_length=50)
    found = shared([bar], bore, (0.1,), (0.5,))
    assert found.shares[0].volume.m_as("mm**3") == pytest.approx(math.pi * (10**2 - 8**2) * 40, rel=1e-6)


def test_stiffness_is_that_of_a_clamped_bar():
    """3 E I / L^3: a square shank, a blade as high as the shank the thin way, a round bar."""
    assert tool(shank=20, reach=30).stiffness.m_as("N/mm") == pytest.approx(3 * 210e3 * 20**4 / 12 / 30**3)
    assert blade(3, 30, shank=20).stiffness.m_as("N/mm") == pytest.approx(3 * 210e3 * 20 * 3**3 / 12 / 30**3)
    bar = tool(shank=10, reach=3, bar_length=50)
    assert bar.stiffness.m_as("N/mm") == pytest.approx(3 * 210e3 * math.pi * 10**4 / 64 / 50**3)
