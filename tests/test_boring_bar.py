"""The boring bar bends and not the part; springs one behind the other."""

import math

import numpy as np
import pytest

from latheworks.deflection import Chuck, ChuckAndCenter, Shaft, boring_bar_error, deflection, in_series
from latheworks.deflection.boring_bar import left_by_pass
from latheworks.errors import Impossible, LatheworksError, NotInTable, WrongUnit
from latheworks.units import Q_
from tests.by_hand import redo

RIGID = {"tilt": Q_(math.inf, "N*mm/rad"), "radial": Q_(math.inf, "N/mm")}
BAR = {"overhang": Q_(64, "mm"), "diameter": Q_(16, "mm")}
FORCE = Q_(80, "N")
CUT = {"depth": Q_(0.5, "mm"), "cutting_stiffness": Q_(300, "N/mm")}


def mm(quantity):
    return quantity.m_as("mm")


def test_it_bends_like_a_shaft_of_its_own_size_in_a_rigid_chuck():
    bent = boring_bar_error(**BAR, force=FORCE, hole=Q_(5, "mm"))
    bar = Shaft.bar(Q_(64, "mm"), Q_(16, "mm"), Q_(5, "mm"), Q_(207, "GPa"))
    assert mm(bent.deflection) == pytest.approx(mm(deflection(bar, Chuck(**RIGID), FORCE, Q_(64, "mm"))), rel=1e-12)


def test_trap_8_the_bar_makes_no_taper_and_the_parts_length_is_not_asked():
    """The clamp fixes the overhang, so one error holds all along the bore."""
    bent = boring_bar_error(**BAR, force=FORCE)
    assert np.ndim(bent.diameter_error.m) == 0
    assert "no taper" in str(bent)
    with pytest.raises(LatheworksError, match="one value, not a list"):
        boring_bar_error(Q_([30.0, 64.0], "mm"), Q_(16, "mm"), force=FORCE)
    with pytest.raises(TypeError):
        boring_bar_error(**BAR, force=FORCE, at=Q_(10, "mm"))


def test_a_bore_is_left_small_by_twice_the_bend():
    bent = boring_bar_error(**BAR, force=FORCE)
    assert mm(bent.diameter_error) == pytest.approx(-2 * mm(bent.deflection))
    assert mm(bent.diameter_error) < 0
    assert "too small" in str(bent)


def test_overhang_counts_cubed_diameter_to_the_fourth_and_material_by_its_modulus():
    once = mm(boring_bar_error(**BAR, force=FORCE).deflection)
    assert mm(boring_bar_error(Q_(128, "mm"), Q_(16, "mm"), force=FORCE).deflection) == pytest.approx(8 * once)
    assert mm(boring_bar_error(Q_(64, "mm"), Q_(32, "mm"), force=FORCE).deflection) == pytest.approx(once / 16)
    carbide = mm(boring_bar_error(**BAR, bar="carbide", force=FORCE).deflection)
    assert carbide == pytest.approx(once * 207 / 580)
    assert mm(boring_bar_error(**BAR, bar=Q_(580, "GPa"), force=FORCE).deflection) == pytest.approx(carbide)
    hollow = mm(boring_bar_error(**BAR, hole=Q_(8, "mm"), force=FORCE).deflection)
    assert hollow == pytest.approx(once / (1 - 0.5**4))


def test_the_bar_lowers_its_own_cut():
    """y = a Kr/(Kr + k), which is less than the open a Kr/k and never more than the depth."""
    bent = boring_bar_error(**BAR, **CUT)
    k = bent.stiffness.m_as("N/mm")
    assert mm(bent.deflection) == pytest.approx(0.5 * 300 / (300 + k))
    assert bent.force.m_as("N") == pytest.approx(300 * (0.5 - mm(bent.deflection)))
    soft = boring_bar_error(Q_(300, "mm"), Q_(6, "mm"), **CUT)
    assert 0.4 < mm(soft.deflection) < 0.5


def test_spring_passes_leave_the_same_share_each_and_stop_at_the_edge_force():
    bent = boring_bar_error(**BAR, **CUT, spring_passes=3)
    errors = mm(bent.per_pass)
    assert errors[1:] / errors[:-1] == pytest.approx(np.full(3, 300 / (300 + bent.stiffness.m_as("N/mm"))))
    blunt = boring_bar_error(**BAR, **CUT, edge_force=Q_(20, "N"), spring_passes=20)
    assert mm(blunt.deflection) == pytest.approx(20 / blunt.stiffness.m_as("N/mm"), rel=1e-6)
    assert list(blunt.to_frame()["pass"])[-1] == 21


def test_an_edge_that_only_rubs_cuts_nothing():
    assert left_by_pass(0.01, 300.0, 1000.0, 50.0, 3) == pytest.approx([0.01, 0.01, 0.01])
    blunt = boring_bar_error(Q_(200, "mm"), Q_(10, "mm"), depth=Q_(0.05, "mm"), cutting_stiffness=Q_(300, "N/mm"),
                             edge_force=Q_(30, "N"))  # fmt: skip
    assert "cuts nothing" in str(blunt)


def test_what_holds_the_bar_gives_too():
    """1/k = 1/k_bar + 1/k_holder."""
    free, held = (boring_bar_error(**BAR, force=FORCE, holder=k) for k in (Q_(math.inf, "N/mm"), Q_(20000, "N/mm")))
    assert mm(held.deflection) - mm(free.deflection) == pytest.approx(80 / 20000)
    assert "with what holds it" in str(held)
    assert "with what holds it" not in str(free)


def test_short_bars_carry_a_note():
    assert "shear" in str(boring_bar_error(Q_(30, "mm"), Q_(16, "mm"), force=FORCE))
    assert "shear" not in str(boring_bar_error(**BAR, force=FORCE))


@pytest.mark.parametrize("cut", [{"force": FORCE}, {"force": FORCE, "holder": Q_(20000, "N/mm")},
                                 {**CUT, "edge_force": Q_(10, "N"), "spring_passes": 2}],
                         ids=["force", "holder", "cut"])  # fmt: skip
def test_the_working_can_be_redone_by_hand(cut):
    bent = boring_bar_error(**BAR, hole=Q_(4, "mm"), **cut)
    assert redo(bent.working)["error"] == pytest.approx(mm(bent.diameter_error), rel=1e-5)


@pytest.mark.parametrize(("bad", "kind", "said"), [
    ({}, WrongUnit, "a force, or a depth and a cutting stiffness"),
    ({"force": FORCE, **CUT}, Impossible, "not both"),
    ({"force": FORCE, "spring_passes": 2}, Impossible, "0 with a force that is given"),
    ({"depth": Q_(0.5, "mm")}, WrongUnit, "cutting_stiffness"),
    ({"force": FORCE, "hole": Q_(16, "mm")}, Impossible, "less than the bar's diameter"),
    ({"force": FORCE, "bar": "carbid"}, NotInTable, 'bar="carbide"'),
    ({"force": Q_(1e6, "N")}, Impossible, "a tenth of the overhang"),
])  # fmt: skip
def test_bad_input_speaks_in_sentences(bad, kind, said):
    with pytest.raises(kind, match=said):
        boring_bar_error(**BAR, **bad)


def test_springs_in_series():
    """The whole is softer than its softest spring; a rigid one changes nothing; the published 50 and 30 N/um."""
    both = in_series([Q_(50, "N/um"), Q_(30, "N/um")])
    assert both.m_as("N/um") == pytest.approx(18.75)
    assert in_series([both, Q_(math.inf, "N/mm")]).m == pytest.approx(both.m_as("N/mm"))
    assert in_series([Q_(math.inf, "N/mm")]).m == math.inf
    assert in_series((Q_(1000, "N/mm"),) * 4).m_as("N/mm") == pytest.approx(250)
    with pytest.raises(LatheworksError, match="number 2"):
        in_series([Q_(50, "N/um"), Q_(3, "mm")])


def test_a_tailstock_chain_is_one_center_of_the_holding():
    """Quill and body of the tailstock in series give what one softer center gives."""
    chain = in_series([Q_(60000, "N/mm"), Q_(60000, "N/mm")])
    bar = Shaft.bar(Q_(200, "mm"), Q_(20, "mm"), material="6061-T6")
    one, other = (deflection(bar, ChuckAndCenter(center=k), FORCE, Q_(150, "mm")) for k in (chain, Q_(30000, "N/mm")))
    assert mm(one) == pytest.approx(mm(other), rel=1e-12)
