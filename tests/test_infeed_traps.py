"""What is easily confused when a thread is cut; the constants stand in handbooks, and the working repeats them."""

import math

import pytest

from latheworks.errors import OutOfRange
from latheworks.threads import infeed, thread
from latheworks.units import Q_


def test_the_compounds_angle_is_not_the_included_angle():
    plan = infeed("M16x1.5-6g", 6, method="modified flank")
    assert plan.compound_angle.m_as("degree") == pytest.approx(29.5)
    assert thread("M16x1.5-6g").included_angle.m_as("degree") == pytest.approx(60)
    with pytest.raises(OutOfRange, match="cuts into the flank that stays"):
        infeed("M16x1.5-6g", 6, method="modified flank", compound_angle=Q_(60, "degree"))


def test_the_compound_travels_farther_than_the_depth():
    """0.7426 P at 29 degrees for a depth of 0.6495 P, from a handbook's table."""
    deep = Q_(0.64952 / 20, "in")
    plan = infeed("1/4-20 UNC-2A", 8, method="modified flank", compound_angle=Q_(29, "degree"), depth=deep)
    assert plan.slide_travel[-1].m_as("in") * 20 == pytest.approx(0.7426, abs=5e-5)


@pytest.mark.parametrize(
    ("name", "pitches"), [("1/4-20 UNC-2A", 0.6134), ("1/4-20 UNC-2B", 0.5413), ("1/4-20 UNRC-2A", 0.5954)]
)
def test_the_three_depths_are_different_things(name, pitches):
    assert infeed(name).total_depth.m_as("in") * 20 == pytest.approx(pitches, abs=5e-5)


def test_the_square_root_is_of_the_cumulative_depth():
    plan = infeed("M16x1.5-6g", 6)
    total = plan.total_depth.m_as("mm")
    assert plan.depth[1].m_as("mm") == pytest.approx(total * math.sqrt(2 / 6))
    eased = infeed("M16x1.5-6g", 6, law="eased first pass")
    assert eased.depth[0].m_as("mm") == pytest.approx(total * math.sqrt(0.3 / 5))
