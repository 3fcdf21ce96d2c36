"""What lesson 00 shows about units, against a stock registry of the pint library itself."""

import math

import pint
import pytest

from latheworks.course.first_steps import reader_says, turn_trap
from latheworks.errors import LatheworksError
from latheworks.units import Q_


@pytest.mark.parametrize(("across", "turns"), [(50, 600), (32, 1200), (250, 60)])
def test_the_mistake_shown_is_the_one_a_stock_registry_makes(across, turns):
    stock = pint.UnitRegistry()
    mistaken = (math.pi * stock.Quantity(across, "mm") * stock.Quantity(turns, "rpm")).to("m/min").magnitude
    both = turn_trap(Q_(across, "mm"), Q_(turns, "rpm"))
    assert both.with_turn_as_angle.m_as("m/min") == pytest.approx(mistaken, rel=1e-9)
    assert both.surface_speed.m_as("m/min") == pytest.approx(math.pi * across * turns / 1000, rel=1e-12)
    assert "2 pi" in str(both)
    assert both.working.lines[0].result == both.facts()[0][1]


def test_bad_input_is_named():
    with pytest.raises(LatheworksError, match=r"diameter.*\n.*spindle"):
        turn_trap(50, Q_(600, "1/min"))
    for bad in (Q_(math.nan, "mm"), Q_(0, "mm"), Q_(-1, "mm"), Q_(5, "m"), "50 mm", None, True, Q_([], "mm")):
        with pytest.raises(LatheworksError, match="diameter"):
            turn_trap(bad, Q_(600, "rpm"))


def test_the_reader_says_the_size_or_the_reason():
    assert reader_says('7/16"') == '7/16": 11.112 mm or 0.4375 in'
    for refused in ("31,75 mm", "5 mil", "12", "", "1e3 mm", "nan mm"):
        assert "refused" in reader_says(refused)
