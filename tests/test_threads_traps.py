"""What is easily confused about threads, one test each; values as printed in the standards' tables and handbooks.

Unless a test says otherwise the values are from memory of ASME B1.1 (tables of limits) and ISO 965-1; those that
could be read in a published table are in tests/published/ as well.
"""

import math

import pytest

from latheworks.threads import tap_drills, thread
from latheworks.threads.taps import percent_thread


def inch(name, diameter, end):
    return getattr(getattr(thread(name).limits, diameter), end).m_as("in")


def mm(name, diameter, end):
    return getattr(getattr(thread(name).limits, diameter), end).m_as("mm")


def exactly(value):
    return pytest.approx(value, abs=1e-9)


def test_lead_is_starts_times_pitch_and_sets_the_lead_angle():
    single, double = thread("M16x1.5-6H"), thread("M16xPh3P1.5-6H")
    assert double.lead.m_as("mm") == exactly(3)
    assert double.pitch.m_as("mm") == exactly(1.5)
    assert double.limits == single.limits
    assert math.tan(double.lead_angle.m_as("rad")) == pytest.approx(2 * math.tan(single.lead_angle.m_as("rad")))


def test_lead_angle_is_at_the_pitch_diameter():
    # #10-24: 4 deg 39 min in the handbook; the major diameter would give 4 deg 0 min.
    assert thread("#10-24 UNC-2A").lead_angle.m_as("degree") == pytest.approx(4 + 39 / 60, abs=0.5 / 60)


def test_minor_diameter_depends_on_the_root():
    assert thread("1-8 UNC-2A").minor.m_as("in") == pytest.approx(0.8647, abs=0.00006)
    assert thread("1-8 UNRC-2A").minor.m_as("in") == pytest.approx(0.8512, abs=0.00006)


def test_unr_changes_nothing_but_the_root():
    plain, rounded = thread("1/4-20 UNC-2A"), thread("1/4-20 UNRC-2A")
    assert rounded.root == "UNR"
    assert plain.root == "UN"
    assert rounded.limits.major == plain.limits.major
    assert rounded.limits.pitch_diameter == plain.limits.pitch_diameter
    assert rounded.limits.minor.max < plain.limits.minor.max


def test_pitch_diameter_takes_the_depth_once():
    assert thread("1-8 UNC-3A").limits.pitch_diameter.max.m_as("in") == exactly(0.9188)


@pytest.mark.parametrize(
    ("typed", "right"),
    [("1 1/4-12 UNEF", "1 1/4-12 UNF"), ("1 1/4-12 UNEF", "1 1/4-18 UNEF"), ("1-14 UNF", "1-14 UNS"),
     ("1-14 UNF", "1-12 UNF"), ("1/2-14 UNC", "1/2-13 UNC")],
)  # fmt: skip
def test_a_pitch_of_another_series_is_named(typed, right):
    with pytest.raises(ValueError, match=right):
        thread(typed)


@pytest.mark.parametrize("number", [0, 1, 2, 3, 4, 5, 6, 8, 10, 12])
def test_a_number_size_is_sixty_thou_and_thirteen_more_a_number(number):
    tpi = {0: 80, 1: 64, 2: 56, 3: 48, 4: 40, 5: 40, 6: 32, 8: 32, 10: 24, 12: 24}[number]
    assert thread(f"#{number}-{tpi}").major.m_as("in") == exactly(0.060 + 0.013 * number)


def test_allowance_only_on_classes_one_and_two_of_the_external_thread():
    assert thread("1/2-13 UNC-3A").allowance.magnitude == 0
    assert inch("1/2-13 UNC-3A", "major", "max") == exactly(0.5)
    assert inch("1/2-13 UNC-2A", "major", "max") == exactly(0.4985)
    basic = thread("1/2-13 UNC-2B").pitch_diameter
    assert {thread(f"1/2-13 UNC-{c}").limits.pitch_diameter.min for c in ("1B", "2B", "3B")} == {basic}


def test_class_one_has_the_allowance_of_class_two():
    assert thread("1/2-13 UNC-1A").allowance == thread("1/2-13 UNC-2A").allowance
    assert inch("1/2-13 UNC-1A", "pitch_diameter", "min") == exactly(0.4411)
    assert inch("1/2-13 UNC-1A", "major", "min") == exactly(0.4822)


def test_length_of_engagement_is_nine_pitches_off_the_main_series():
    # 1-14 UNS-2A, ASME B1.1-2019 (read): allowance .0016; the diameter as length gives .0017 and .9519 to .9463.
    assert thread("1-14 UNS-2A").allowance.m_as("in") == exactly(0.0016)
    assert inch("1-14 UNS-2A", "pitch_diameter", "max") == exactly(0.9520)
    assert inch("1-14 UNS-2A", "pitch_diameter", "min") == exactly(0.9467)
    by_series = {s.formula for t in ("1-8 UNC-2A", "1 1/8-8 UN-2A") for s in thread(t).steps if s.symbol == "LE"}
    assert by_series == {"D"}
    names = ("1-20 UNEF-2A", "1-16 UN-2A", "1-14 UNS-2A")
    others = {s.formula for t in names for s in thread(t).steps if s.symbol == "LE"}
    assert others == {"9 P"}


def test_internal_minor_tolerance_is_piecewise():
    assert (inch("#2-56 UNC-2B", "minor", "min"), inch("#2-56 UNC-2B", "minor", "max")) == exactly((0.0667, 0.0737))
    assert inch("1/2-13 UNC-3B", "minor", "max") == exactly(0.4284)
    assert inch("1/2-13 UNC-2B", "minor", "max") == exactly(0.434)
    assert inch("1-8 UNC-3B", "minor", "max") == exactly(0.8797)


def test_classes_one_and_two_share_the_minor_limits():
    assert thread("1/2-13 UNC-1B").limits.minor == thread("1/2-13 UNC-2B").limits.minor
    assert thread("1/2-13 UNC-1B").limits.pitch_diameter.max > thread("1/2-13 UNC-2B").limits.pitch_diameter.max


def test_minor_limits_are_shown_with_the_digits_of_the_tables():
    shown = {name: thread(name).printed[2][1:] for name in ("1/4-20 UNC-2B", "1/4-20 UNC-3B", "#5-40 UNC-2B")}
    assert shown["1/4-20 UNC-2B"] == ("0.196 in", "0.207 in")
    assert shown["1/4-20 UNC-3B"] == ("0.1960 in", "0.2067 in")
    assert all(len(text) == len("0.0979 in") for text in shown["#5-40 UNC-2B"])


@pytest.mark.parametrize(
    ("name", "diameter", "end", "printed"),
    [("#10-24 UNC-2B", "minor", "max", 0.155), ("1-8 UNC-2A", "pitch_diameter", "min", 0.9101),
     ("#1-64 UNC-2A", "major", "min", 0.0687), ("15/16-16 UN-3B", "minor", "max", 0.8783),
     ("15/16-20 UNEF-3B", "minor", "max", 0.8912), ("2 1/2-16 UN-3B", "minor", "max", 2.4408),
     ("7/8-14 UNF-2B", "minor", "max", 0.814), ("1 3/4-5 UNC-2B", "minor", "min", 1.534)],
)  # fmt: skip
def test_the_order_of_rounding_is_that_of_the_tables(name, diameter, end, printed):
    assert inch(name, diameter, end) == exactly(printed)


def test_a_printed_allowance_beats_the_formula():
    assert thread("5/8-11 UNC-2A").allowance.m_as("in") == exactly(0.0016)
    assert inch("5/8-11 UNC-2A", "pitch_diameter", "max") == exactly(0.5644)
    assert thread("5/8-11 UNC-2A-LH").limits == thread("5/8-11 UNC-2A").limits


def test_the_turned_blank_does_not_get_the_hot_rolled_tolerance():
    # 0.060 P^(2/3), not the 0.090 of unfinished stock.
    assert inch("1-8 UNC-2A", "major", "min") == exactly(0.9830)


@pytest.mark.parametrize(
    ("name", "diameter", "width_um"),
    [("M3x0.5-6g", "pitch_diameter", 75), ("M6x1-6H", "minor", 236), ("M20x2.5-6H", "minor", 450),
     ("M10x1.5-6H", "pitch_diameter", 180), ("M10x1.5-4H", "pitch_diameter", 112)],
)  # fmt: skip
def test_the_metric_table_beats_the_formula(name, diameter, width_um):
    assert getattr(thread(name).limits, diameter).width.m_as("um") == pytest.approx(width_um, abs=1e-6)


@pytest.mark.parametrize(("name", "um"), [("M16x2-6g", 38), ("M36x4-6g", 60), ("M10x0.75-6g", 22), ("M64x6-6g", 80)])
def test_the_position_g_is_tabled_too(name, um):
    assert thread(name).allowance.m_as("um") == pytest.approx(um)


def test_the_diameter_step_has_its_upper_end_inside():
    def width(name):
        return thread(name).limits.pitch_diameter.width.m_as("um")

    assert width("M5.6x0.75-6g") == pytest.approx(width("M5x0.75-6g"))
    assert width("M11.2x1.5-6g") == pytest.approx(width("M10x1.5-6g"))
    assert width("M6x0.75-6g") > width("M5.6x0.75-6g")


def test_the_pitch_grade_comes_first():
    two, fine, usual = thread("M8x1-4g6g"), thread("M8x1-4g"), thread("M8x1-6g")
    assert two.limits.pitch_diameter == fine.limits.pitch_diameter
    assert two.limits.major == usual.limits.major
    nut = thread("M8x1-5H6H")
    assert nut.limits.pitch_diameter == thread("M8x1-5H").limits.pitch_diameter
    assert nut.limits.minor == thread("M8x1-6H").limits.minor


@pytest.mark.parametrize("name", ["M10x1.5-6H", "1/2-13 UNC-2B"])
def test_the_standard_leaves_one_end_open(name):
    nut = thread(name)
    bolt = nut.mate()
    assert nut.limits.major.max is None
    assert bolt.limits.minor.min is None
    assert nut.limits.major.mid is None
    assert "open" in str(nut)


def test_position_g_is_as_far_off_basic_inside_as_outside():
    assert thread("M10x1.5-6G").allowance == thread("M10x1.5-6g").allowance
    assert thread("M10x1.5-6h").allowance.magnitude == 0 == thread("M10x1.5-6H").allowance.magnitude


def test_basic_pitch_diameter_is_rounded_before_the_micrometers_come_off():
    # M12x1.75: 10.863342 is 10.863 first, then 34 um less.
    assert mm("M12x1.75-6g", "pitch_diameter", "max") == exactly(10.829)


def test_seventy_five_percent_is_not_three_quarters_of_a_pitch():
    hole = 0.25 - 0.75 * 1.29903811 / 20
    assert hole == pytest.approx(0.2013, abs=0.00005)
    assert percent_thread(0.25, 0.05, hole, "3/4 H") == pytest.approx(75)
    assert percent_thread(0.25, 0.05, 0.2125, "3/4 H") == pytest.approx(57.7, abs=0.05)


def test_a_fifty_percent_drill_is_outside_the_limits():
    row = next(r for r in tap_drills("1/4-20 UNC-2B").rows if r.name == "#3")
    assert not row.within_limits
    assert row.percent_thread.magnitude < 58
