"""Fits, gages, plating, and what lead and angle errors do. The traps are from our list of what is easily confused."""

import math

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.threads import fit, plating, thread, virtual_pitch_diameter
from latheworks.threads.fit_kernel import angle_growth, lead_growth, plating_factor
from latheworks.units import Q_

JOINT = fit("M16x1.5-6g", "M16x1.5-6H")
EVERY_FORM = ["M16x1.5-6g", "1/2-13 UNC-2A", "1-5 ACME-2G", "Tr 40x7-7e", "G 1/2 A", "M16xPh3P1.5-6g", "3/4-10 UNRC-2A"]


def mm(quantity):
    return quantity.m_as("mm")


def near(value, within=1e-9):
    return pytest.approx(value, abs=within)


# Clearance and gages


def test_clearance_is_the_inside_less_the_outside():
    gap = JOINT.clearance
    assert mm(gap.pitch_diameter.min) == near(0.032)
    assert mm(gap.pitch_diameter.max) == near(15.216 - 14.854)
    assert mm(gap.major.min) == near(16 - 15.968)
    assert gap.major.max is None  # the standard leaves the largest root of a nut open
    assert gap.minor.max is None


@pytest.mark.parametrize("name", EVERY_FORM)
def test_usual_mates_always_go_together(name):
    joint = fit(name)
    assert joint.always_goes_together
    assert joint.internal == thread(name).mate()
    assert joint.clearance.pitch_diameter.max > joint.clearance.pitch_diameter.min


def test_allowance_is_on_1a_and_2a_only():
    """Trap 10: class 3A has none, so its tightest pair has no clearance at all."""
    assert fit("1/2-13 UNC-3A").clearance.pitch_diameter.min.m_as("in") == near(0)
    assert fit("1/2-13 UNC-2A").clearance.pitch_diameter.min.m_as("in") == near(0.0015)


def test_1a_and_2a_have_the_same_allowance():
    """Trap 11: it comes from the 2A tolerance for both."""
    loose, usual = fit("1/2-13 UNC-1A"), fit("1/2-13 UNC-2A")
    assert loose.clearance.pitch_diameter.min == usual.clearance.pitch_diameter.min
    assert loose.clearance.pitch_diameter.max > usual.clearance.pitch_diameter.max


def test_gages_check_the_class_and_not_the_basic_size():
    """Trap 33: a 2A part at basic pitch diameter is too large for its go ring."""
    joint = fit("1/2-13 UNC-2A")
    basic = joint.external.pitch_diameter
    go = next(g for g in joint.gages if g.name == "go ring")
    assert go.pitch_diameter < basic
    at_basic = joint.passes(basic - joint.external.limits.pitch_diameter.mid)
    assert not at_basic.go
    assert at_basic.tightest_mate  # yet it screws into every nut


def test_go_is_the_maximum_material_limit_on_both_parts():
    sizes = {g.name: mm(g.pitch_diameter) for g in JOINT.gages}
    assert sizes == {"go ring": 14.994, "not-go ring": 14.854, "go plug": 15.026, "not-go plug": 15.216}
    assert all("virtual" in g.checks for g in JOINT.gages if g.name.startswith("go"))
    assert all("alone" in g.checks for g in JOINT.gages if g.name.startswith("not-go"))


# A part cut oversize


def test_oversize_meets_go_first_then_the_tightest_then_the_loosest_mate():
    found = JOINT.passes(Q_([-0.08, 0.0, 0.069, 0.075, 0.11, 0.4], "mm"))
    assert found.not_go.tolist() == [False, True, True, True, True, True]
    assert found.go.tolist() == [True, True, True, False, False, False]
    assert found.tightest_mate.tolist() == [True, True, True, True, False, False]
    assert found.loosest_mate.tolist() == [True, True, True, True, True, False]
    assert found.accepted.tolist() == [False, True, True, False, False, False]
    assert mm(found.margin)[1] == near(0.07)


def test_limits_themselves_pass():
    middle = JOINT.external.limits.pitch_diameter.mid
    ends = [JOINT.external.limits.pitch_diameter.min - middle, JOINT.external.limits.pitch_diameter.max - middle]
    assert all(bool(JOINT.passes(end).accepted) for end in ends)
    inch = fit("1/2-13 UNC-2A")
    limits = inch.external.limits.pitch_diameter
    assert bool(inch.passes(limits.max - limits.mid).accepted)


def test_an_internal_part_is_the_other_way_round():
    found = JOINT.passes(Q_([-0.11, 0.0, 0.11], "mm"), "internal")
    assert found.go.tolist() == [False, True, True]  # too small a nut
    assert found.not_go.tolist() == [True, True, False]
    assert found.tightest_mate.tolist() == [True, True, True]
    assert mm(found.pitch_diameter)[1] == near(15.121)


def test_growth_is_seen_by_go_and_by_the_mate_and_not_by_not_go():
    plain, grown = JOINT.passes(Q_(0.0, "mm")), JOINT.passes(Q_(0.0, "mm"), growth=Q_(0.08, "mm"))
    assert plain.go
    assert not grown.go
    assert grown.not_go
    assert mm(grown.pitch_diameter) == mm(plain.pitch_diameter)
    assert mm(grown.virtual) == near(mm(plain.virtual) + 0.08)
    inside = JOINT.passes(Q_(0.0, "mm"), "internal", growth=Q_(0.1, "mm"))
    assert mm(inside.virtual) == near(15.121 - 0.1)
    assert not inside.go
    # Growth makes a part that not-go would refuse no better.
    thin = JOINT.passes(Q_(-0.08, "mm"), growth=Q_(0.05, "mm"))
    assert not thin.not_go


# Plating


def test_plated_2a_may_reach_basic_size():
    """Trap 18: limits of 2A hold before plating; afterwards the largest may be basic, as for 3A."""
    allowance = thread("1/2-13 UNC-2A").allowance
    layer = plating("1/2-13 UNC-2A", allowance / 8, allowance / 4)
    assert layer.class_limits_hold
    assert layer.before.pitch_diameter.max == thread("1/2-13 UNC-2A").limits.pitch_diameter.max
    assert layer.after.max.m_as("in") == near(thread("1/2-13 UNC-3A").limits.pitch_diameter.max.m_as("in"), 1e-6)


def test_a_layer_thicker_than_the_allowance_takes_moves_the_limit():
    layer = plating("M16x1.5-6g", Q_(8, "um"), Q_(12, "um"))
    assert not layer.class_limits_hold
    assert mm(layer.before.pitch_diameter.max) == near(14.994 + 0.032 - 0.048)
    assert mm(layer.after.max) == near(15.026)
    assert mm(layer.before.pitch_diameter.min) == near(14.854)
    assert mm(layer.before.major.max) == near(15.968)  # 2 x 12 um is less than the allowance


def test_a_class_without_allowance_is_cut_short_by_both_ends():
    layer = plating("M16x1.5-6h", Q_(5, "um"), Q_(8, "um"))
    limits = thread("M16x1.5-6h").limits.pitch_diameter
    assert not layer.uses_allowance
    assert mm(layer.before.pitch_diameter.max) == near(mm(limits.max) - 0.032)
    assert mm(layer.before.pitch_diameter.min) == near(mm(limits.min) - 0.020)
    assert (mm(layer.after.min), mm(layer.after.max)) == (near(mm(limits.min)), near(mm(limits.max)))
    inside = plating("M16x1.5-6H", Q_(5, "um"), Q_(8, "um"))
    assert mm(inside.before.pitch_diameter.min) == near(15.026 + 0.032)
    assert mm(inside.before.minor.min) == near(14.376 + 0.016)


def test_a_steeper_flank_grows_more():
    factors = [plating(name, Q_(1, "um")).factor for name in ("M16x1.5-6g", "Tr 40x7-7e", "1-5 ACME-2G")]
    assert factors == [near(4, 1e-9), near(2 / math.sin(math.radians(15))), near(2 / math.sin(math.radians(14.5)))]
    assert plating_factor(0.3, 0.3) == near(2 / math.sin(0.3))


def test_the_factor_follows_from_moving_the_flanks():
    # A layer t square to a flank moves it t / cos a along the axis; two flanks, both sides of the axis.
    half, t = math.radians(30), 0.01
    assert plating_factor(half, half) * t == near(2 * (t / math.cos(half)) / math.tan(half))


def test_a_layer_that_eats_the_tolerance_is_refused():
    with pytest.raises(LatheworksError, match="most: got"):
        plating("M3x0.5-6h", Q_(0.002, "mm"), Q_(0.03, "mm"))


def test_thickest_spot_is_half_more_where_only_the_least_is_named():
    assert mm(plating("M16x1.5-6g", Q_(5, "um")).thickness.max) == near(0.0075)


# Errors of lead and angle


def test_a_lead_too_long_or_too_short_takes_the_same_room():
    found = virtual_pitch_diameter("M16x1.5-6g", lead_error=Q_([-0.02, 0.0, 0.02], "mm"))
    assert mm(found.growth) == pytest.approx([0.02 * math.sqrt(3), 0, 0.02 * math.sqrt(3)])
    assert (mm(found.virtual) >= mm(found.pitch_diameter)).all()
    inside = virtual_pitch_diameter("M16x1.5-6H", lead_error=Q_(0.02, "mm"))
    assert mm(inside.virtual) == near(mm(inside.pitch_diameter) - 0.02 * math.sqrt(3))


def test_angle_errors_add_whatever_their_sign_and_too_small_costs_more_outside():
    def growth(name, leading, trailing):
        return mm(virtual_pitch_diameter(name, leading_error=Q_(leading, "degree"),
                                         trailing_error=Q_(trailing, "degree")).growth)  # fmt: skip

    large, small = growth("M16x1.5-6g", 1.0, 0.0), growth("M16x1.5-6g", -1.0, 0.0)
    assert small == pytest.approx(1.5 * large)
    assert growth("M16x1.5-6g", 1.0, -1.0) == pytest.approx(large + small)
    assert growth("M16x1.5-6H", 1.0, 0.0) == pytest.approx(small)
    # The published form, 5/8 H x (sum of errors) / sin 2a, is the mean of the two signs.
    height = 1.5 * math.sqrt(3) / 2
    mean = 5 / 8 * height * 2 * math.radians(1) / math.sin(math.radians(60))
    assert (growth("M16x1.5-6g", 1, 1) + growth("M16x1.5-6g", -1, -1)) / 2 == pytest.approx(mean)


@pytest.mark.parametrize("error", [-1.5, 0.7])
def test_angle_growth_follows_from_laying_profiles_over_each_other(error):
    """The screw's flank turned about the pitch line; how far a perfect nut has to open until nothing overlaps."""
    half, pitch = math.radians(30), 1.5
    height = pitch * math.cos(half)
    r = np.linspace(-height / 4, 3 / 8 * height, 20_001)  # from the nut's crest to the screw's
    overlap = r * math.tan(half) - r * math.tan(half + math.radians(error))
    needed = 2 * overlap.max() * 1 / math.tan(half) / 2  # one flank of two
    found = float(angle_growth(math.radians(error), half, 3 / 8 * height, height / 4))
    assert found == pytest.approx(needed, rel=0.05)


def test_lead_growth_follows_from_shifting_a_profile():
    # A nut that sits in the middle meets half the error at each end, on opposite flanks.
    assert lead_growth(0.02, math.radians(30)) == near(2 * (0.02 / 2) / math.tan(math.radians(30)))


# Bad input that the common table cannot reach


@pytest.mark.parametrize(
    ("outside", "inside", "named"),
    [
        ("M16x1.5-6H", None, "external"),
        ("M16x1.5-6g", "M16x1.5-6g", "internal"),
        ("M16x1.5-6g", "M16x2-6H", "internal"),
        ("M16x1.5-6g", "M16x1.5-6H-LH", "internal"),
        ("M16xPh3P1.5-6g", "M16x1.5-6H", "internal"),
        ("1/2-14 NPT", None, "external"),
    ],
)
def test_threads_that_do_not_screw_together_are_refused(outside, inside, named):
    with pytest.raises(LatheworksError, match=f"{named}: got") as refused:
        fit(outside, inside)
    assert "Try" in str(refused.value)


@pytest.mark.parametrize("name", EVERY_FORM)
def test_results_read_well_in_every_form(name):
    joint, layer = fit(name), plating(name, Q_(2, "um"))
    bent = joint.passes(Q_([0.01, 0.02], "mm"))
    for result in (joint, layer, bent, virtual_pitch_diameter(name, lead_error=Q_(0.01, "mm"))):
        text = f"{result}\n{result.working}\n{result._repr_html_()}"
        assert "nan" not in text
        assert "None" not in text
    assert len(joint.to_frame()) == 4
    assert len(bent.to_frame()) == 2
