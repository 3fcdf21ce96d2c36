"""The chance that a pair screws together, and that each gage accepts: closed forms, limits and the gages of `fit`."""

import math

import numpy as np
import pytest

from latheworks.budget import Contribution, error_budget, fit_chance
from latheworks.budget.fit_chance import limit_sizes, sizes
from latheworks.threads import fit, plating, thread, virtual_pitch_diameter
from latheworks.units import Q_

JOINT = ("M16x1.5-6g", "M16x1.5-6H")
SCREW, NUT = (thread(name) for name in JOINT)
MIDDLE = (NUT.limits.pitch_diameter.mid - SCREW.limits.pitch_diameter.mid).m_as("mm")


def mm(value, name="cause", on="diameter", kind="normal", shift=0.0):
    return Contribution(name, Q_(shift, "mm"), Q_(value, "mm"), kind, on)


def normal(z):
    return 0.5 * math.erfc(-z / math.sqrt(2))


def near(found, law, samples=100_000):
    """Within four binomial standard errors."""
    return abs(found - law) < 4 * math.sqrt(max(law * (1 - law), 1e-9) / samples) + 1e-12


def chances(found):
    return {gage.name: gage.chance for gage in found.gages}


# Together


@pytest.mark.parametrize("z", [0.5, 1.0, 2.0, 3.0])
def test_two_normal_sizes_go_together_as_the_normal_law_says(z):
    """P = Phi(mean clearance / root of the summed squares), for any split between the two parts."""
    s = MIDDLE / z
    found = fit_chance(*JOINT, [mm(0.8 * s)], [mm(0.6 * s)])
    assert near(found.together, normal(z))
    assert abs(found.together - normal(z)) < 2 * found.half_width
    assert found.clearance.m_as("mm") == pytest.approx(MIDDLE, abs=4 * s / 316)
    assert found.clearance_deviation.m_as("mm") == pytest.approx(s, rel=0.01)
    assert found.clearance_range.min.m_as("mm") == pytest.approx(MIDDLE - 1.96 * s, abs=0.03 * s)


def test_two_uniform_sizes_go_together_as_the_trapezoid_says():
    """Clearance falls below nought in a corner of the square of both errors: 1/2 ((2a - gap)/2a)^2."""
    a = MIDDLE * 0.75
    found = fit_chance(*JOINT, [mm(a, kind="uniform")], [mm(a, kind="uniform")])
    corner = (2 * a - MIDDLE) / (2 * a)
    assert near(found.together, 1 - corner**2 / 2)


def test_parts_without_a_budget_are_cut_at_their_aim():
    found = fit_chance(*JOINT)
    assert (found.together, found.both_accepted, found.half_width) == (1, 1, 0)
    assert found.clearance.m_as("mm") == pytest.approx(MIDDLE)
    assert found.clearance_deviation.m_as("mm") == pytest.approx(0, abs=1e-12)
    tight = fit_chance(*JOINT, external_aim=Q_(15.03, "mm"), internal_aim=Q_(15.026, "mm"))
    assert tight.together == 0


# Gages


def test_each_gage_sees_its_own_limit():
    s = 0.06
    found = chances(fit_chance(*JOINT, [mm(s)], [mm(s)]))
    half = SCREW.limits.pitch_diameter.width.m_as("mm") / 2
    wide = NUT.limits.pitch_diameter.width.m_as("mm") / 2
    for name, law in (("go ring", half), ("not-go ring", half), ("go plug", wide), ("not-go plug", wide)):
        assert near(found[name], normal(law / s)), name


@pytest.mark.parametrize("oversize", [-0.12, -0.05, 0.06, 0.08, 0.11])
@pytest.mark.parametrize("part", ["external", "internal"])
def test_fixed_errors_agree_with_the_passes_of_a_fit(oversize, part):
    passed = fit(*JOINT).passes(Q_(oversize, "mm"), part)
    budget = [mm(0, shift=oversize)]
    found = fit_chance(*JOINT, **{f"{part}_budget": budget})
    go, not_go = (gage.chance for gage in found.gages if gage.part == part)
    assert (go, not_go) == (float(passed.go), float(passed.not_go))
    assert getattr(found, f"{part}_accepted") == float(passed.accepted)


def test_accepted_parts_always_go_together():
    """The principle of Taylor: what both gages accept fits, so no pair in limits may fail."""
    found = fit_chance(*JOINT, [mm(0.08)], [mm(0.08), mm(0.02, "lead", "lead")])
    assert found.both_accepted <= found.together
    assert found.together == pytest.approx(found.both_accepted + found.refused_yet_together)
    assert found.refused_yet_together > 0
    assert found.both_accepted == pytest.approx(found.external_accepted * found.internal_accepted, abs=0.006)


# Lead, layer, virtual size


def test_a_lead_error_fails_go_and_never_not_go():
    error = Q_(0.05, "mm")
    growth = virtual_pitch_diameter(SCREW, lead_error=error).growth
    for sign in (1, -1):
        found = fit_chance(*JOINT, [mm(0, on="lead", shift=sign * 0.05)])
        assert found.clearance.m_as("mm") == pytest.approx(MIDDLE - growth.m_as("mm"))
        assert chances(found)["go ring"] == float(fit(*JOINT).passes(Q_(0, "mm"), growth=growth).go)
        assert chances(found)["not-go ring"] == 1
    nut = fit_chance(*JOINT, internal_budget=[mm(0, on="lead", shift=0.05)])
    assert nut.clearance.m_as("mm") == pytest.approx(MIDDLE - growth.m_as("mm"))


def test_not_go_sees_the_pitch_diameter_and_not_what_the_lead_adds():
    """A screw too small whose lead is off: it feels right to its mate, yet not-go goes on."""
    found = fit_chance(*JOINT, [mm(0, shift=-0.09), mm(0, "lead", "lead", shift=0.05)])
    assert (chances(found)["go ring"], chances(found)["not-go ring"]) == (1, 0)


def test_lead_errors_of_either_sign_only_ever_take_room():
    """The mean of |x| of a normal x is s sqrt(2 / pi)."""
    found = fit_chance(*JOINT, [mm(0.03, on="lead")])
    taken = MIDDLE - found.clearance.m_as("mm")
    assert taken == pytest.approx(0.03 * math.sqrt(2 / math.pi) / math.tan(math.radians(30)), rel=0.01)


def test_a_virtual_contribution_takes_room_and_is_never_below_nought():
    found = fit_chance(*JOINT, [mm(0, on="virtual", shift=0.02)], [mm(0, on="virtual", shift=-0.02)])
    assert found.clearance.m_as("mm") == pytest.approx(MIDDLE - 0.02)


def test_a_layer_counts_four_times_on_60_degrees_and_takes_room_on_both_parts():
    layer = [mm(0, on="layer", shift=0.008)]
    growth = plating(SCREW, Q_(0.008, "mm"), Q_(0.008, "mm")).growth.max.m_as("mm")
    assert growth == pytest.approx(0.032)
    assert fit_chance(*JOINT, layer).clearance.m_as("mm") == pytest.approx(MIDDLE - growth)
    assert fit_chance(*JOINT, layer, layer).clearance.m_as("mm") == pytest.approx(MIDDLE - 2 * growth)
    scraped = fit_chance(*JOINT, [mm(0, on="layer", shift=-0.008)])
    assert scraped.clearance.m_as("mm") == pytest.approx(MIDDLE)


def test_a_plated_part_of_a_class_with_allowance_may_reach_basic_size():
    size = SCREW.pitch_diameter.m_as("mm")
    assert limit_sizes(SCREW, plated=True)[0] == pytest.approx(size)
    assert limit_sizes(SCREW, plated=False)[0] == pytest.approx(SCREW.limits.pitch_diameter.max.m_as("mm"))
    assert limit_sizes(NUT, plated=True) == limit_sizes(NUT, plated=False)
    at_most = SCREW.limits.pitch_diameter.max
    assert chances(fit_chance(*JOINT, [mm(0, on="layer", shift=0.007)], external_aim=at_most))["go ring"] == 1
    assert chances(fit_chance(*JOINT, [mm(0, on="layer", shift=0.009)], external_aim=at_most))["go ring"] == 0
    assert chances(fit_chance(*JOINT, [mm(0, shift=0.028)], external_aim=at_most))["go ring"] == 0


@pytest.mark.parametrize(("name", "cotangent"), [("M16x1.5-6g", 30), ("1-5 ACME-2G", 14.5), ("Tr 40x7-7e", 15)])
def test_other_flanks_have_other_factors(name, cotangent):
    cut = thread(name)
    generator = np.random.default_rng(1)
    size, virtual = sizes(cut, 20.0, [mm(0, on="lead", shift=0.01)], 1000, generator)
    assert size.tolist() == [20.0] * 1000
    assert virtual[0] - 20 == pytest.approx(0.01 / math.tan(math.radians(cotangent)))


# Seed, units, input


def test_the_seed_decides_and_one_part_leaves_the_draws_of_the_other_alone():
    first, again, other = (fit_chance(*JOINT, [mm(0.08)], [mm(0.08)], seed=seed) for seed in (1, 1, 2))
    assert first.together == again.together != other.together
    more = fit_chance(*JOINT, [mm(0.08), mm(0.02, "more")], [mm(0.08)])
    assert chances(more)["go plug"] == chances(first)["go plug"]
    assert chances(more)["go ring"] != chances(first)["go ring"]


def test_two_parts_with_one_budget_do_not_share_their_draws():
    found = fit_chance(*JOINT, [mm(0.05)], [mm(0.05)])
    assert found.clearance_deviation.m_as("mm") == pytest.approx(0.05 * math.sqrt(2), rel=0.01)


def test_inch_threads_answer_in_inches():
    found = fit_chance("1 1/4-12 UN-2A", None, [Contribution("deflection", Q_(2, "thou"), Q_(1, "thou"))])
    assert "in" in str(found.clearance.units)
    assert " mm" not in str(found)
    allowed = found.external.limits.pitch_diameter.width.m_as("thou") / 2
    assert near(chances(found)["go ring"], normal((allowed - 2) / 1))


def test_an_error_budget_can_be_given_as_it_is():
    budget = error_budget([mm(0.05)], SCREW.limits.pitch_diameter)
    found = fit_chance(*JOINT, budget)
    assert found.external_budget == budget.contributions
    assert near(found.external_accepted, budget.normal_chance)
    assert list(found.to_frame()["gage"])[:2] == ["external go ring", "external not-go ring"]
    assert "virtual outside <= virtual inside" in found.working.text()


@pytest.mark.parametrize(("changes", "said"), [
    ({"external": "1/2-14 NPT"}, "parallel thread"), ({"internal": "M10-6H"}, "screws onto"),
    ({"external_budget": [mm(0.1), mm(0.2)]}, "external_budget: got .cause. twice"),
    ({"external_aim": Q_(1, "mm")}, "external_aim"), ({"internal_budget": 0.02}, "internal_budget"),
    ({"samples": 5}, "samples"), ({"seed": 1.5}, "seed"),
])  # fmt: skip
def test_bad_input_is_answered_in_sentences(changes, said):
    with pytest.raises(ValueError, match=said) as refused:
        fit_chance(**{"external": JOINT[0], **changes})
    assert "Try" in str(refused.value)
