"""Where the nose goes and what stops it, what the far end of an edge leaves, and slivers that cost no tool change."""

import math

import numpy as np
import pytest

from latheworks.passes import Groove, Profile, reach, split
from latheworks.passes.reach_result import REASONS
from latheworks.units import Q_
from tests.reach_shapes import blade, mm, profile, tool

GRIP = profile([(0, 32), (60, 32)], stock=mm(33), grooves=Groove(mm(14), mm(4), mm(29), 4, mm(9), mm(0.4)))
BORE = profile([(0, 20), (22, 20), (22, 24), (48, 24)], side="inside", stock=mm(18))
BAR = {"shank": 12, "reach": 4, "bar_length": 55}


def at(found, place):
    """Diameter of the lowest point of the nose at a place, and what stops it there."""
    where = found.place.m_as("mm")
    return float(np.interp(place, where, found.path.m_as("mm"))), found.stopped_by[int(np.searchsorted(where, place))]


def test_the_path_lies_on_the_profile_where_the_tool_reaches_it():
    found = reach(GRIP, blade(3, 8, 0.4))
    assert found.complete
    assert at(found, 16)[0] == pytest.approx(29, abs=2e-3)
    assert at(found, 5) == (pytest.approx(32, abs=2e-3), "floor")
    # With the flat of the blade over the wall it has to be out of the groove.
    assert at(found, 14 + 1.09)[0] == pytest.approx(32, abs=2e-3)
    inside = reach(BORE, tool(**BAR))
    assert at(inside, 10)[0] == pytest.approx(20, abs=2e-3)
    assert at(inside, 40)[0] == pytest.approx(24, abs=2e-3)


@pytest.mark.parametrize(("held", "place", "word"), [("jaws", 1.0, "jaws"), ("center", 58.0, "center")])
def test_what_stops_the_tool_is_named(held, place, word):
    free, stopped = (
        reach(GRIP, tool(reach=8)),
        reach(GRIP, tool(reach=8), **{held: (mm(0 if held == "jaws" else 63), mm(80))}),
    )
    assert at(stopped, place)[1] == word
    assert at(stopped, place)[0] > at(free, place)[0] + 1
    assert set(stopped.stopped_by) <= {*REASONS, "floor"}


def test_behind_a_wall_it_is_the_back_that_stops_it():
    """Half way across a groove of depth t the tip stands t - x tan(back angle) below the edge at x."""
    found = reach(profile([(0, 32), (20, 32), (20, 26), (24, 26), (24, 32), (60, 32)]), tool(nose=0.0, reach=10))
    diameter, word = at(found, 22)
    assert word == "back"
    assert diameter == pytest.approx(32 - 2 * 2 * math.tan(math.radians(180 - 93 - 55)), abs=2e-3)


@pytest.mark.parametrize("made", [tool(), tool("V", 72.5, hand="neutral"), tool(hand="left"), blade(2, 8, 0.1)])
def test_nowhere_below_the_profile_and_finite(made):
    found = reach(GRIP, made, (mm(0), mm(80)), (mm(63), mm(46)))
    where, low = found.place.m_as("mm"), found.path.m_as("mm")
    assert np.isfinite(low).all()
    assert (np.diff(where) > 0).all()
    assert len(found.stopped_by) == where.size
    on = (where >= 0) & (where <= 60)
    wanted = np.interp(where, found.z.m_as("mm"), found.wanted.m_as("mm"))
    assert (low - wanted)[on].min() > -1e-6


@pytest.mark.parametrize("shank", [8, 12, 16])
def test_the_far_end_of_an_edge_leaves_no_ripples(shank):
    """An edge as long as the shank rides down a slope on its end: one piece is left, not a row of slivers."""
    slope = profile([(0, 28), (12, 28), (20, 36), (24, 36), (38, 27)], stock=mm(37))
    found = reach(slope, tool("C", 95, 0.4, shank=shank, reach=8))
    assert [piece.reason for piece in found.standing] == ["back"]
    left, z = (found.left - found.wanted).m_as("mm") / 2, found.z.m_as("mm")
    beyond = (z > found.standing[0].end.m_as("mm") + 0.05) & (z < 38)
    assert left[beyond].max() < 5e-3


def test_a_hair_that_is_left_costs_no_change_of_tool():
    """Corners as round as the nose are cut to a hair by the first tool; the blade stays in the rack."""
    points = [(mm(z), mm(d)) for z, d in ((0, 32), (20, 32), (20, 29), (24, 29), (26.8, 32), (60, 32))]
    laid_back = Profile(points, stock=mm(36), fillets={2: mm(0.4), 3: mm(0.4)})
    found = split(laid_back, [tool(reach=20), blade(3, 8, 0.2)], Q_(100, "m/min"), Q_([0.2, 0.05], "mm/rev"),
                  Q_([1.5, 3.0], "mm"))  # fmt: skip
    assert [share.tool.insert for share in found.shares] == ["D"]
    assert found.feature_price == 0
    assert found.still_standing.m_as("mm**2") == 0
