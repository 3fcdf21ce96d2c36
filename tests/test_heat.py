"""Warm parts: what they measure when cold, and what they push with between centers."""

import math

import numpy as np
import pytest

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, center_thrust, thermal_growth
from latheworks.errors import Impossible, OutOfRange, WrongUnit
from latheworks.materials import materials
from latheworks.tables import table
from latheworks.units import Q_
from tests.by_hand import redo

BAR = Shaft.bar(Q_(250, "mm"), Q_(20, "mm"), material="6061-T6")
BARREL = Shaft([(Q_(60, "mm"), Q_(32, "mm"), Q_(20, "mm")), (Q_(190, "mm"), Q_(32, "mm"), Q_(26, "mm"))], "6061-T6")
CUT = {"power": Q_(200, "W"), "time": Q_(60, "s"), "mass": Q_(0.3, "kg")}
RIGID = BetweenCenters(head=Q_(math.inf, "N/mm"), tail=Q_(math.inf, "N/mm"))


def mm(quantity):
    return quantity.m_as("mm")


def thrust(shaft=BAR, holding=RIGID, warming=15.0, **more):
    return center_thrust(shaft, holding, Q_(warming, "K"), **more)


def test_trap_42_a_part_measured_warm_comes_out_undersize_cold():
    """Aluminum, 50 mm, 15 K: 17.7 um, worked out by hand."""
    warm = thermal_growth("6061-T6", Q_(50, "mm"), warming=Q_(15, "K"))
    assert mm(warm.cold_error) == pytest.approx(-0.0177, abs=5e-5)
    assert "too small" in str(warm)
    assert "bores too" in str(warm)


def test_growth_is_proportional_and_takes_many_sizes_and_other_units():
    many = thermal_growth("brass", Q_([1.0, 2.0], "in"), warming=Q_(10, "K"))
    assert mm(many.growth) == pytest.approx(np.array([25.4, 50.8]) * 20.5e-6 * 10)
    assert thermal_growth("brass", Q_(1, "in"), warming=Q_(0, "K")).growth.m == 0


def test_the_heat_of_a_cut_warms_the_part_by_its_share():
    """200 W for 60 s, a tenth of it into 0.3 kg of 896 J/(kg K): 1200 J, 4.46 K."""
    warm = thermal_growth("6061-T6", Q_(32, "mm"), **CUT)
    assert warm.heat.m_as("J") == pytest.approx(1200)
    assert warm.warming.m_as("K") == pytest.approx(1200 / (0.3 * 896))
    cooled = thermal_growth("6061-T6", Q_(32, "mm"), **CUT, coolant=0.75)
    assert cooled.warming.m_as("K") == pytest.approx(warm.warming.m_as("K") / 4)
    double = thermal_growth("6061-T6", Q_(32, "mm"), **CUT, heat_share=Q_(20, "percent"))
    assert double.warming.m_as("K") == pytest.approx(2 * warm.warming.m_as("K"))
    assert thermal_growth("6061-T6", Q_(32, "mm"), **CUT, coolant=1).warming.m == 0


def test_every_material_has_a_specific_heat():
    listed = {row["name"]: float(row["specific heat [J/(kg*K)]"]) for row in table("specific_heat")}
    assert set(listed) <= set(materials())
    assert {"aluminum 6061-T6", "steel 1018", "brass"} <= set(listed)
    assert all(300 < value < 2000 for value in listed.values())


def test_trap_43_a_bar_warming_between_rigid_centers_pushes_with_kilonewtons():
    """E A alpha dT = 69000 x 314.16 x 23.6e-6 x 15: 7.67 kN for 15 K; the length does not count."""
    hot = thrust()
    assert hot.thrust.m_as("N") == pytest.approx(69000 * math.pi / 4 * 20**2 * 23.6e-6 * 15)
    assert hot.thrust.m_as("kN") == pytest.approx(7.67, abs=0.01)
    short = Shaft.bar(Q_(100, "mm"), Q_(20, "mm"), material="6061-T6")
    assert thrust(short).thrust.m == pytest.approx(hot.thrust.m)
    assert "Ease the center" in hot.says


def test_a_tailstock_that_gives_takes_most_of_it_and_play_takes_all():
    grown = 23.6e-6 * 15 * 250
    given = thrust(axial_stiffness=Q_(20000, "N/mm"))
    compliance = 250 / (69000 * math.pi / 4 * 400) + 1 / 20000
    assert given.thrust.m_as("N") == pytest.approx(grown / compliance)
    assert given.thrust < thrust().thrust / 4
    assert mm(given.growth) == pytest.approx(grown)
    eased = thrust(eased=Q_(0.1, "mm"))
    assert eased.thrust.m == 0
    assert eased.finding == "note"
    assert thrust(eased=Q_(0.05, "mm")).thrust.m_as("N") == pytest.approx((grown - 0.05) / (compliance - 1 / 20000))


def test_a_stepped_part_is_springs_in_series():
    areas = [math.pi / 4 * (32**2 - bore**2) for bore in (20, 26)]
    compliance = 60 / (69000 * areas[0]) + 190 / (69000 * areas[1])
    hot = thrust(BARREL)
    assert hot.thrust.m_as("N") == pytest.approx(23.6e-6 * 15 * 250 / compliance)
    assert hot.stress.m_as("MPa") == pytest.approx(hot.thrust.m_as("N") / areas[1])


def test_buckling_between_centers_is_a_stop_in_a_sentence():
    """A rod of 6 mm, 400 mm long, buckles below 300 N, which 10 K reach several times over."""
    rod = Shaft.bar(Q_(400, "mm"), Q_(6, "mm"), material="6061-T6")
    hot = thrust(rod, warming=10.0)
    load = math.pi**2 * 69000 * math.pi / 64 * 6**4 / 400**2
    assert hot.buckling_load.m_as("N") == pytest.approx(load, rel=1e-5)
    assert hot.share > 1
    assert hot.finding == "stop"
    assert hot.says.startswith("Stop:")
    assert "buckles at" in hot.says
    chucked = thrust(rod, ChuckAndCenter(tilt=Q_(math.inf, "N*mm/rad"), radial=Q_(math.inf, "N/mm"),
                                         center=Q_(math.inf, "N/mm")), warming=10.0)  # fmt: skip
    assert chucked.buckling_load.m / hot.buckling_load.m == pytest.approx(20.1907 / math.pi**2, rel=1e-5)


def test_between_a_tenth_of_the_load_and_all_of_it_is_a_caution():
    rod = Shaft.bar(Q_(400, "mm"), Q_(10, "mm"), material="6061-T6")
    close = thrust(rod, warming=10.0)
    assert 0.1 < close.share < 1
    assert close.finding == "caution"
    assert "bends" in close.says


@pytest.mark.parametrize("more", [{}, {"axial_stiffness": Q_(20000, "N/mm"), "eased": Q_(0.01, "mm")}], ids=str)
def test_the_workings_can_be_redone_by_hand(more):
    hot = thrust(BARREL, **more)
    assert redo(hot.working)["thrust"] == pytest.approx(hot.thrust.m_as("N"), rel=1e-6)
    warm = thermal_growth("6061-T6", Q_(32, "mm"), **CUT, coolant=0.25)
    assert redo(warm.working)["growth"] == pytest.approx(mm(warm.growth), rel=1e-5)


def test_bad_input_speaks_in_sentences():
    with pytest.raises(Impossible, match="which stop a part from growing"):
        thrust(holding=Chuck())
    with pytest.raises(WrongUnit, match="a warming, or power, time and mass"):
        thermal_growth("brass", Q_(32, "mm"))
    with pytest.raises(Impossible, match="not both"):
        thermal_growth("brass", Q_(32, "mm"), warming=Q_(5, "K"), **CUT)
    with pytest.raises(WrongUnit, match="mass"):
        thermal_growth("brass", Q_(32, "mm"), power=Q_(200, "W"), time=Q_(60, "s"))
    with pytest.raises(Impossible, match="1000 K at most"):
        thermal_growth("brass", Q_(32, "mm"), power=Q_(1, "MW"), time=Q_(600, "s"), mass=Q_(0.1, "kg"))
    with pytest.raises(OutOfRange, match="plain number from 0 to 1"):
        thermal_growth("brass", Q_(32, "mm"), **CUT, coolant=1.5)
