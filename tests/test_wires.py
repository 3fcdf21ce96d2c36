"""Three wires: what they read, which ones can be used, and what a slip looks like."""

import math

import numpy as np
import pytest

from latheworks import LatheworksError
from latheworks.threads import thread, three_wires
from latheworks.threads.wires_kernel import (
    best_wire,
    handbook_lead_term,
    largest_wire,
    lead_term,
    over_wires,
    smallest_wire,
)
from latheworks.units import Q_

BARREL = "M27x1.5-6g"  # the thread of the soil corer's shoe, cut outside
STARTS = "M16xPh6P1.5-6g"


def test_the_reading_for_60_degrees_is_the_pitch_diameter_plus_3_wires_less_0_866_pitches():
    wires = three_wires("1/2-13 UNC-2A", wire=Q_(0.045, "in"))
    for end, limit in (("min", 0.4435), ("max", 0.4485)):
        expected = limit + 3 * 0.045 - 0.866025 / 13
        assert getattr(wires.over_wires, end).m_as("in") == pytest.approx(expected, abs=1e-6)


def test_readings_go_with_the_class_and_not_with_the_basic_pitch_diameter():
    loose, close = three_wires("1/2-13 UNC-1A"), three_wires("1/2-13 UNC-3A")
    basic = 0.45001 + 0.866025 / 13  # over the best wire
    assert loose.over_wires.max.m_as("in") < basic - 0.001
    assert close.over_wires.max.m_as("in") == pytest.approx(basic, abs=1e-4)
    assert loose.over_wires.width > 1.9 * close.over_wires.width


@pytest.mark.parametrize("designation", [BARREL, "1-8 UNC-2A", "#4-40 UNC-3A", STARTS])
@pytest.mark.parametrize("share", [0.0, 0.4, 1.0])
def test_the_pitch_diameter_comes_back_with_any_usable_wire(designation, share):
    first = three_wires(designation)
    wire = first.smallest + share * (first.largest - first.smallest)
    wires = three_wires(designation, wire=wire)
    limits = wires.thread.limits.pitch_diameter
    for reading, limit in ((wires.over_wires.min, limits.min), (wires.over_wires.max, limits.max)):
        assert wires.pitch_diameter_from(reading).m_as("mm") == pytest.approx(limit.m_as("mm"), abs=1e-7)


def test_readings_may_be_an_array_and_in_any_unit():
    wires = three_wires(BARREL)
    readings = Q_([27.28, 27.30], "mm")
    found = wires.pitch_diameter_from(readings)
    assert found.magnitude.shape == (2,)
    assert wires.pitch_diameter_from(readings.to("in")).m_as("mm") == pytest.approx(found.m_as("mm"), abs=1e-9)
    assert (found[1] - found[0]).m_as("mm") == pytest.approx(0.02)


def test_the_wire_really_used_counts():
    """A wire 0.01 mm larger than believed makes the thread seem 0.03 mm larger."""
    believed, used = (three_wires(BARREL, wire=Q_(size, "mm")) for size in (0.87, 0.88))
    reading = used.over_wires.mid
    error = believed.pitch_diameter_from(reading) - used.pitch_diameter_from(reading)
    assert error.m_as("mm") == pytest.approx(0.03, abs=1e-9)


def rests_on(half_angle, pitch, wire):
    """Height of the center of a round wire above the point where two straight flanks meet, found by looking."""
    heights = np.linspace(1e-6, 4 * pitch, 400_001)
    distance = heights * math.sin(half_angle)  # from the center to each flank
    return heights[np.argmin(np.abs(distance - wire / 2))]


@pytest.mark.parametrize("angle", [60, 55, 30, 29])
def test_a_round_wire_between_two_flanks_stands_as_high_as_the_formula_says(angle):
    half, pitch, wire = math.radians(angle) / 2, 2.0, 1.1
    center = rests_on(half, pitch, wire)
    pitch_line = pitch / 4 / math.tan(half)
    assert over_wires(20.0, pitch, wire, half) == pytest.approx(20.0 + 2 * (center - pitch_line) + wire, abs=1e-4)


@pytest.mark.parametrize("angle", [60, 30, 29])
def test_the_usable_wires_end_where_they_should(angle):
    half, pitch, crest = math.radians(angle) / 2, 2.0, 0.5
    top = pitch / 4 / math.tan(half) + crest
    small, large = smallest_wire(pitch, half, crest, 0.6), largest_wire(pitch, half, crest)
    assert rests_on(half, pitch, small) + small / 2 == pytest.approx(top, abs=1e-4)
    touch = rests_on(half, pitch, large) - large / 2 * math.sin(half)
    assert touch == pytest.approx(top, abs=1e-4)
    assert small < best_wire(pitch, half) < large


def test_a_wire_that_would_rest_on_the_root_is_not_usable():
    half = math.radians(14.5)
    assert smallest_wire(1.0, half, 0.25, 0.05) > smallest_wire(1.0, half, 0.25, 0.25)


def reading_by_search(pitch_diameter, pitch, lead, wire, half):
    """Lower a straight wire into the helical groove of a solid thread: for each tilt, where it first touches."""
    radius = np.linspace(pitch_diameter / 2 - 0.3 * pitch, pitch_diameter / 2 + 0.35 * pitch, 1501)[:, None]
    turn = np.linspace(-0.12, 0.04, 1601)[None, :]
    y, z = (
        radius * np.sin(turn),
        lead / (2 * math.pi) * turn + pitch / 4 + (radius - pitch_diameter / 2) * math.tan(half),
    )

    def stands(tilt):
        across = z * math.cos(tilt) - y * math.sin(tilt)
        room = (wire / 2) ** 2 - across**2
        with np.errstate(invalid="ignore"):
            return np.nanmax(radius * np.cos(turn) + np.sqrt(room))

    angle = math.atan(lead / math.pi / pitch_diameter)
    return 2 * min(stands(tilt) for tilt in np.linspace(0.8 * angle, 1.1 * angle, 61)) + wire


@pytest.mark.parametrize(("angle", "starts"), [(29, 1), (29, 2), (30, 3), (60, 2)])
def test_the_lead_term_is_that_of_a_wire_lowered_into_the_groove(angle, starts):
    half, pitch, diameter = math.radians(angle) / 2, 1.0, 8.0
    wire = best_wire(pitch, half)
    found = over_wires(diameter, pitch, wire, half) + lead_term(diameter, pitch, starts * pitch, wire, half)
    assert found == pytest.approx(reading_by_search(diameter, pitch, starts * pitch, wire, half), abs=3e-5)


def test_the_usual_approximation_is_close_for_small_lead_angles_and_high_for_large_ones():
    half, wire = math.radians(14.5), 0.5164
    for degrees, share in ((1, 0.01), (5, 0.04), (15, 0.12)):
        diameter = 1 / math.pi / math.tan(math.radians(degrees))
        rough, exact = (f(*a) for f, a in ((handbook_lead_term, (diameter, 1.0, wire, half)),
                                           (lead_term, (diameter, 1.0, 1.0, wire, half))))  # fmt: skip
        assert exact < rough < exact * (1 + 2 * share)


def test_the_lead_is_left_out_for_one_start_at_60_degrees_and_shown():
    wires = three_wires("1/2-13 UNC-2A")
    assert not wires.corrected
    assert wires.over_wires == wires.without_correction
    assert wires.lead_correction.m_as("in") == pytest.approx(0.0001, abs=0.00001)
    assert "leaves it out" in wires.notes[0]


def test_leaving_the_lead_out_makes_several_starts_seem_larger():
    wires = three_wires(STARTS)
    assert wires.corrected
    error = wires.lead_correction.m_as("mm")
    assert error > 0.009
    gap = wires.over_wires.mid - wires.without_correction.mid
    assert gap.m_as("mm") == pytest.approx(error, abs=1e-9)
    assert "larger than it is" in wires.notes[0]


@pytest.mark.parametrize(("designation", "wire_factor", "pitch_factor", "angle"),
                         [("1-5 ACME-2G", 4.99393, 1.933357, 29), ("Tr 40x7-7e", 4.86370, 1.866025, 30)])  # fmt: skip
def test_acme_and_trapezoidal_have_constants_of_their_own(designation, wire_factor, pitch_factor, angle):
    """Mixing the constants of 60 degrees into a power thread is a classic slip."""
    wires = three_wires(designation)
    t = wires.thread
    assert t.included_angle.m_as("degree") == angle
    assert wires.corrected
    unit = t.pitch.units
    expected = (
        t.limits.pitch_diameter.max.m_as(unit) + wire_factor * wires.wire.m_as(unit) - pitch_factor * t.pitch.m_as(unit)
    )
    assert wires.without_correction.max.m_as(unit) == pytest.approx(expected, abs=1e-4)
    assert wires.over_wires.max > wires.without_correction.max


def test_a_reading_inside_the_limits_says_nothing_of_the_other_diameters():
    wires = three_wires(BARREL)
    said = wires.judge(wires.over_wires.mid)
    assert "inside" in said
    assert "major and minor" in said
    assert "major and minor" in wires.notes[-1]


def test_a_reading_outside_says_what_is_left_to_cut_as_radial_depth():
    wires = three_wires(BARREL)
    over = wires.over_wires.max + Q_(0.1, "mm")
    assert "0.050 mm to" in wires.judge(over)
    assert "no cut brings it back" in wires.judge(wires.over_wires.min - Q_(0.02, "mm"))


SLIPS = [
    (Q_(0.4985, "in"), "without wires"),
    (Q_(0.5126 / 2 + 0.494 / 2, "in"), "one side only"),
    (Q_(13.02, "in"), "in mm"),
    (Q_(0.5126 + 0.025, "in"), "1 turn of the thimble"),
    (Q_(0.5126 + 0.050, "in"), "2 turns of the thimble"),
    (Q_(0.5126 + 3 * 0.0216, "in"), "wires of about 0.0660"),
]


@pytest.mark.parametrize(("reading", "words"), SLIPS)
def test_a_reading_far_off_names_the_slip_that_would_explain_it(reading, words):
    wires = three_wires("1/2-13 UNC-2A")
    try:
        said = wires.judge(reading)
    except LatheworksError as error:
        said = str(error)
    assert words in said


def test_an_impossible_reading_says_what_was_expected():
    with pytest.raises(LatheworksError, match=r"pitch diameter of 2\.9334 in.*0\.5101 to 0\.5151 in.*Check the wires"):
        three_wires("1/2-13 UNC-2A").pitch_diameter_from(Q_(3.0, "in"))


BAD = [
    (lambda: three_wires("M10-6H"), "three_wires(thread.mate())"),
    (lambda: three_wires(10), "a Thread or its designation"),
    (lambda: three_wires("M10", wire=0.87), 'Q_(0.86603, "mm")'),
    (lambda: three_wires("M10", wire=Q_(0.4, "mm")), "sinks below the crests"),
    (lambda: three_wires("M10", wire=Q_(2, "mm")), "rests on their corners"),
    (lambda: three_wires("M10", wire=Q_(1, "N")), "mm"),
    (lambda: three_wires("M10", wire=Q_([0.8, 0.9], "mm")), "one value"),
    (lambda: three_wires("M10").pitch_diameter_from(10.2), "reading=Q_("),
    (lambda: three_wires("M10").pitch_diameter_from(Q_(float("nan"), "mm")), "reading"),
    (lambda: three_wires("M10").judge(Q_([10.2, 10.3], "mm")), "one value"),
    (lambda: three_wires("1/2-14 NPT"), "parallel"),
]


@pytest.mark.parametrize(("call", "words"), BAD)
def test_bad_input_gets_a_helpful_sentence(call, words):
    with pytest.raises(LatheworksError) as caught:
        call()
    assert words in str(caught.value)


def test_the_result_shows_itself():
    wires = three_wires(STARTS)
    assert "usable wires" in str(wires)
    assert "without it" in wires._repr_html_()
    assert list(wires.to_frame()["limit"]) == ["min", "max"]
    text = wires.working.text()
    assert "counted" in text
    assert "csc a" in text
    assert three_wires(thread("M10")).working.lines[0].result == "0.86603 mm"
