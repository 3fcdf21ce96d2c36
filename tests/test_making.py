"""Preparing and cutting a thread: sizes, relief, the tool's room and clearance, dial lines, gears, several starts."""

import math
from fractions import Fraction
from itertools import combinations_with_replacement, product

import pytest

from latheworks.errors import LatheworksError
from latheworks.shop import lathe
from latheworks.threads import change_gears, infeed, making, tap_drills, thread, threading_bar, threading_dial
from latheworks.threads import making_kernel as kernel
from latheworks.threads.making import deepest_root
from latheworks.units import Q_

EVERY_FORM = ["M16x1.5-6g", "M16x1.5-6H", "1/2-13 UNC-2A", "1/2-13 UNC-2B", "1-5 ACME-2G", "1-5 ACME-2G INT",
              "Tr 40x14(P7)-7e LH", "Tr 40x7-7H", "G 1/2 A", "G 1/2", "M16xPh3P1.5-6H", "3/4-10 UNRC-2A"]  # fmt: skip
EIGHT = Q_(8, "1/inch")


def mm(quantity):
    return quantity.m_as("mm")


def near(value, within=1e-9):
    return pytest.approx(value, abs=within)


# Sizes to prepare


def test_external_threads_are_turned_to_the_class_and_not_to_the_nominal():
    """Trap 45: under the nominal size for 2A and 6g; at it for 3A."""
    metric, inch = making("M16x1.5-6g"), making("1/2-13 UNC-2A")
    assert (mm(metric.blank.min), mm(metric.blank.max)) == (near(15.732), near(15.968))
    assert mm(metric.under_nominal) == near(0.032)
    assert inch.under_nominal.m_as("in") == near(0.0015)
    assert making("1/2-13 UNC-3A").under_nominal.m_as("in") == near(0)


def test_internal_threads_are_bored_to_the_minor_limits_and_not_to_the_tap_drill():
    """Trap 28: 1/4-20 is bored to 0.196 to 0.207; the 50 percent drill of a chart, 7/32, lies outside."""
    plan = making("1/4-20 UNC-2B")
    assert (plan.blank.min.m_as("in"), plan.blank.max.m_as("in")) == (near(0.196), near(0.207))
    assert plan.blank == thread("1/4-20 UNC-2B").limits.minor
    assert not plan.blank.holds(Q_(7 / 32, "in"))
    # The drill for 75 percent lies inside, yet a bar aims at the middle.
    assert plan.blank.holds(tap_drills("1/4-20 UNC-2B").best.diameter)
    assert plan.blank.mid.m_as("in") == near(0.2015)
    assert plan.under_nominal is None


@pytest.mark.parametrize(
    ("name", "printed"),
    [("M6-6g", 4.4), ("M8-6g", 6.0), ("M10-6g", 7.7), ("M12-6g", 9.4), ("M16-6g", 13.0), ("M20-6g", 16.4),
     ("M24-6g", 19.6)],
)  # fmt: skip
def test_relief_diameter_comes_near_the_standard(name, printed):
    # DIN 76-1, diameter of the external relief by pitch, from memory. Our rule has no source, so near is enough.
    assert mm(making(name).relief_diameter) == pytest.approx(printed, abs=0.2)


@pytest.mark.parametrize("name", EVERY_FORM)
def test_relief_and_chamfer_clear_the_deepest_root_the_limits_allow(name):
    plan, cut = making(name), thread(name)
    root = deepest_root(cut)
    relief, chamfer = mm(plan.relief_diameter), mm(plan.chamfer_diameter)
    if cut.external:
        assert relief < root <= mm(cut.limits.minor.max) + 1e-9
        assert chamfer <= root + 1e-9
        wide = mm(plan.blank.min)
    else:
        assert relief > root >= mm(cut.limits.major.min) - 1e-9
        assert chamfer >= root - 1e-9
        wide = mm(plan.blank.max)
    assert mm(plan.relief_width) == near(3 * mm(cut.pitch))
    assert mm(plan.chamfer_length) == near(abs(wide - chamfer) / 2)  # 45 degrees
    flat = making(name, chamfer_angle=Q_(60, "degree"))
    assert mm(flat.chamfer_length) == near(mm(plan.chamfer_length) / math.sqrt(3))


@pytest.mark.parametrize("name", EVERY_FORM)
def test_depth_speed_limit_and_next_start_are_those_of_the_infeed(name):
    plan, schedule = making(name), infeed(name)
    assert mm(plan.depth) == near(mm(schedule.total_depth))
    assert plan.spindle_limit == schedule.spindle_limit
    assert plan.spindle_reason == schedule.spindle_reason
    assert mm(plan.start_shift) == near(mm(schedule.start_shift))
    assert plan.start_turn == schedule.start_turn


# The helix and the tool


def test_lead_angle_is_named_at_the_pitch_diameter_and_is_steeper_at_the_root():
    """Trap 4: #10-24 has 4 deg 39 min at the pitch diameter."""
    major, pitch, minor = (angle.m_as("degree") for angle in making("#10-24 UNC-2A").lead_angles)
    assert pitch == pytest.approx(4 + 39 / 60, abs=0.5 / 60)
    assert major < pitch < minor
    assert pitch == near(thread("#10-24 UNC-2A").lead_angle.m_as("degree"))


@pytest.mark.parametrize("name", EVERY_FORM)
def test_side_clearance_follows_the_helix_on_both_flanks(name):
    plan, slack = making(name, least_clearance=Q_(2, "degree")), 2.0
    major, _, minor = (angle.m_as("degree") for angle in plan.lead_angles)
    assert plan.leading_clearance.m_as("degree") == near(minor + slack)
    assert plan.trailing_clearance.m_as("degree") == near(slack - major)
    assert plan.left_leading.m_as("degree") == near(plan.tool_clearance.m_as("degree") - minor)
    assert plan.tilt.m_as("degree") == near(thread(name).lead_angle.m_as("degree"))


def test_a_plain_tool_rubs_when_there_are_many_starts():
    assert not making("M16x1.5-6g").tool_rubs
    many = making("M16xPh9P1.5-6g")
    assert many.tool_rubs
    assert any("rubs" in note for note in many.notes)


def test_several_starts_change_lead_speed_and_angle_and_not_the_depth():
    """Trap 1: feed, lead angle and speed limit go by the lead; depth, relief and blank by the pitch."""
    one, two = making("M16x1.5-6g"), making("M16xPh3P1.5-6g")
    assert two.depth == one.depth
    assert two.blank == one.blank
    assert two.relief_width == one.relief_width
    assert two.spindle_limit.m_as("rev/min") == near(1200 / 3)
    assert two.relief_spindle.m_as("rev/min") == near(one.relief_spindle.m_as("rev/min") / 2)
    assert math.tan(two.tilt.m_as("rad")) == pytest.approx(2 * math.tan(one.tilt.m_as("rad")))
    assert mm(two.start_shift) == near(1.5)
    assert two.start_turn.m_as("degree") == near(180)
    assert mm(one.start_shift) == 0


def test_a_double_thread_is_geared_for_its_lead():
    """8 to the inch with two starts: gear for 4, cut to the depth of 8, shift 0.125 in (TM 1-420)."""
    name = "1 1/4-8 UN-2A (2 STARTS)"
    assert change_gears(name, EIGHT).ratio == change_gears(Q_(4, "1/inch"), EIGHT).ratio == 2
    assert making(name).start_shift.m_as("in") == near(0.125)
    assert making(name).depth == making("1 1/4-8 UN-2A").depth


def test_stopping_by_hand_goes_by_width_lead_and_reaction():
    plan = making("M16x1.5-6g", relief_width=Q_(4.5, "mm"), reaction=Q_(0.5, "s"))
    # 4.5 mm less the tool's own 1.5 mm in half a second is 6 mm/s, 4 turns a second.
    assert plan.relief_spindle.m_as("rev/min") == near(240)
    assert making("M16x1.5-6g", relief_width=Q_(1.5, "mm")).relief_spindle.m_as("rev/min") == near(0)
    slow = making("M16xPh9P1.5-6g")
    assert slow.relief_spindle < lathe().slowest_spindle
    assert any("by hand" in note for note in slow.notes)


# The bar


def test_a_bar_enters_with_its_tooth_and_clearance_on_both_sides():
    found = threading_bar("M16x1.5-6H", Q_(8, "mm"), projection=Q_(2, "mm"), clearance=Q_(0.5, "mm"))
    assert mm(found.least_bore) == near(8 + 2 + 2 * 0.5)
    assert found.enters
    assert not threading_bar("M16x1.5-6H", Q_(13, "mm")).enters


def test_the_largest_bar_just_enters():
    found = threading_bar("M16x1.5-6H", Q_(8, "mm"))
    again = threading_bar("M16x1.5-6H", found.largest_bar)
    assert mm(again.least_bore) == near(14.376)
    assert again.enters
    assert not threading_bar("M16x1.5-6H", found.largest_bar + Q_(0.001, "mm")).enters


def test_the_tooth_reaches_the_deepest_root_before_the_bar_meets_the_crests():
    found = threading_bar("M16x1.5-6H", Q_(8, "mm"), clearance=Q_(0, "mm"))
    root = 15.216 + 0.793857 * 1.5  # D max, MH27 p. 1794
    assert mm(found.least_projection) == near((root - 14.376) / 2, 1e-6)
    with pytest.raises(LatheworksError, match="projection: got"):
        threading_bar("M16x1.5-6H", Q_(8, "mm"), projection=Q_(0.9, "mm"))


# The dial


def falls_into_the_groove(tpi, screw, teeth, lines, step):
    """Step by step in whole leadscrew threads: does any closing of the half-nuts on this line miss the groove?"""
    for turn in range(50):
        threads = Fraction(step * teeth, lines) + turn * teeth
        if threads.denominator != 1 or (threads * Fraction(tpi) / screw).denominator != 1:
            return False
    return True


@pytest.mark.parametrize(
    ("screw", "teeth", "lines"), [(8, 16, 8), (4, 16, 8), (6, 18, 6), (6, 24, 12), (8, 32, 8), (4, 12, 8)]
)
def test_dial_lines_agree_with_trying_every_turn(screw, teeth, lines):
    for tpi in [Fraction(n, 4) for n in range(8, 240)]:
        found = threading_dial(Q_(float(tpi), "1/inch"), Q_(screw, "1/inch"), teeth, lines)
        tried = tuple(k for k in range(lines) if falls_into_the_groove(tpi, screw, teeth, lines, k))
        assert found.steps == tried
        assert found.keep_closed == (tried == ())
        assert found.anywhere == (tpi % screw == 0)


def test_a_metric_thread_on_an_inch_lead_screw_keeps_the_half_nuts_closed():
    found = threading_dial("M16x1.5-6g", EIGHT)
    assert found.keep_closed
    assert found.lines == ()
    assert "closed" in found.rule
    # 60 threads of the lead screw are 127 of the screw: 190.5 mm.
    assert mm(found.comes_round) == near(190.5)
    assert not threading_dial("M16x1.5-6g", Q_(3, "mm"), 20, 4).keep_closed


def test_the_dial_goes_by_the_lead():
    single, double = (threading_dial(name, EIGHT) for name in ("1-10 UNS-2A", "1-10 UNS-2A (2 STARTS)"))
    assert single.lines == (1, 3, 5, 7)
    assert double.lines == threading_dial(Q_(5, "1/inch"), EIGHT).lines == (1, 5)


def test_a_thread_and_its_threads_per_inch_are_the_same():
    for tpi in (7, 9, 11, 11.5, 13, 14, 27, 28):
        by_pitch = threading_dial(Q_(1 / tpi, "inch"), Q_(1 / 8, "inch"))
        assert by_pitch.steps == threading_dial(Q_(tpi, "1/inch"), EIGHT).steps
    assert threading_dial("1/2-13 UNC-2A", EIGHT).lead.m_as("in") == near(1 / 13, 1e-15)


# Change gears


@pytest.mark.parametrize(("lead", "gears"), [("13 tpi", range(20, 75, 5)), ("1.75 mm", (20, 28, 35, 40, 50, 60, 127)),
                                             ("11.5 tpi", (20, 24, 32, 40, 46, 60))])  # fmt: skip
def test_trains_are_all_exact_and_none_is_missed(lead, gears):
    number, unit = lead.split()
    found = change_gears(Q_(float(number), {"tpi": "1/inch", "mm": "mm"}[unit]), EIGHT, gears=list(gears))
    exact = {
        train for a, b in product(gears, repeat=2) if Fraction(a, b) == found.ratio and a != b for train in [(a, b)]
    }
    assert {train for train in found.trains if len(train) == 2} == exact
    pairs = [(a, b) for a, b in product(gears, repeat=2) if a != b]
    four = any(Fraction(a * c, b * d) == found.ratio and len({a, b, c, d}) == 4
               for (a, b), (c, d) in combinations_with_replacement(pairs, 2))  # fmt: skip
    assert found.exact == bool(exact or four)
    for train in found.trains:
        assert Fraction(math.prod(train[::2]), math.prod(train[1::2])) == found.ratio
        assert len(set(train)) == len(train)  # one gear of each


def test_where_none_is_exact_the_nearest_is_named_with_its_lead():
    gears = (20, 25, 30, 35, 40, 45, 50, 55, 60, 63, 65)
    found = change_gears(Q_(0.7, "mm"), EIGHT, gears=gears)
    assert not found.exact
    best = min(abs(Fraction(a * c, b * d) / found.ratio - 1)
               for a, b, c, d in product(gears, repeat=4) if len({a, b, c, d}) == 4)  # fmt: skip
    assert abs(mm(found.nearest_lead) / 0.7 - 1) == pytest.approx(float(best))
    assert "off by" in str(found)


def test_kernels_are_plain():
    assert kernel.least_bore(8.0, 2.0, 0.5) == 11.0
    assert kernel.comes_round(Fraction(3, 2), Fraction(127, 40)) == Fraction(381, 2)
    assert kernel.gear_trains(Fraction(10**12, 7), (20, 40), 5) == ()


@pytest.mark.parametrize("name", EVERY_FORM)
def test_results_read_well_in_every_form(name):
    found = [making(name), threading_dial(name, EIGHT), change_gears(name, EIGHT)]
    if not thread(name).external:
        found.append(threading_bar(name, Q_(6, "mm")))
    for result in found:
        text = f"{result}\n{result.working}\n{result._repr_html_()}"
        assert "nan" not in text
        assert "None" not in text
        assert len(result.working.lines) >= 1
