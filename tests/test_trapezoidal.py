"""ISO trapezoidal threads: reading, what is easily confused, what is refused. From memory of ISO 2901 to 2903."""

import math
import re

import pytest

from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange
from latheworks.threads import tap_drills, thread
from latheworks.threads.trapezoidal import CLASSES, sizes


def mm(name, diameter, end):
    return getattr(getattr(thread(name).limits, diameter), end).m_as("mm")


def exactly(value):
    return pytest.approx(value, abs=1e-9)


READINGS = {
    "Tr 40x7-7e": "Tr 40x7-7e", "TR40X7-7e": "Tr 40x7-7e", "Tr40×7": "Tr 40x7-7e", "Tr 40 x 7 - 7H": "Tr 40x7-7H",
    "Tr 40x14(P7)-7e LH": "Tr 40x14(P7)-7e LH", "Tr 40x14(P7)LH-7e": "Tr 40x14(P7)-7e LH",
    "Tr 40x14 (P 7)-8c": "Tr 40x14(P7)-8c", "Tr 40x7-8e (2 starts)": "Tr 40x14(P7)-8e", "Tr 8x1,5-7e": "Tr 8x1.5-7e",
    "Tr8x8(P2)": "Tr 8x8(P2)-7e", "Tr 10x2-9H-LH": "Tr 10x2-9H LH", "Tr 300x24-9c": "Tr 300x24-9c",
}  # fmt: skip


@pytest.mark.parametrize(("typed", "designation"), READINGS.items())
def test_a_drawing_is_read(typed, designation):
    found = thread(typed)
    assert found.designation == designation
    assert thread(designation) == found
    assert found.system == "iso trapezoidal"
    assert found.included_angle.m_as("degree") == 30


ALL = [f"Tr {major}x{pitch}" for major, pitches in sizes().items() for pitch in pitches]


@pytest.mark.parametrize("name", ALL)
def test_every_size_of_the_plan_fits_its_mate_in_every_class(name):
    for cls in CLASSES:
        one = thread(f"{name}-{cls}")
        other = one.mate()
        screw, nut = (one, other) if one.external else (other, one)
        assert not one.notes
        assert screw.limits.pitch_diameter.max < nut.limits.pitch_diameter.min
        assert screw.limits.minor.max < nut.limits.minor.min
        assert screw.limits.major.max < nut.limits.major.min
        assert nut.limits.major.max is None
        for span in (screw.limits.major, screw.limits.pitch_diameter, screw.limits.minor, nut.limits.minor):
            assert span.min < span.max


# Trap 38.
def test_tr_40x7_has_its_root_and_its_groove_a_clearance_deeper():
    assert mm("Tr 40x7-7e", "minor", "max") == exactly(32.0)
    assert mm("Tr 40x7-7H", "minor", "min") == exactly(33.0)
    assert mm("Tr 40x7-7H", "major", "min") == exactly(41.0)
    assert thread("Tr 40x7-7e").minor.m_as("mm") == exactly(33.0)


def test_the_dimensions_of_several_starts_are_those_of_the_pitch_not_of_the_lead():
    one, two = thread("Tr 40x7-7e"), thread("Tr 40x14(P7)-7e")
    assert (two.pitch.m_as("mm"), two.lead.m_as("mm"), two.starts) == (7, 14, 2)
    assert two.limits.minor == one.limits.minor
    assert two.limits.major == one.limits.major
    assert two.limits.pitch_diameter.max == one.limits.pitch_diameter.max
    assert math.tan(two.lead_angle.m_as("rad")) == pytest.approx(2 * math.tan(one.lead_angle.m_as("rad")))


@pytest.mark.parametrize(("starts", "factor"), [(2, 1.12), (3, 1.25), (4, 1.4), (5, 1.6), (8, 1.6)])
def test_several_starts_have_a_wider_pitch_tolerance(starts, factor):
    # ISO 2903, from memory: the factor on the pitch tolerance, to a whole micrometer.
    for cls in ("7e", "7H"):
        one = thread(f"Tr 40x7-{cls}").limits.pitch_diameter.width.m_as("um")
        many = thread(f"Tr 40x{7 * starts}(P7)-{cls}").limits.pitch_diameter.width.m_as("um")
        assert many == pytest.approx(factor * one, abs=0.5001)


# Trap 37.
@pytest.mark.parametrize(("name", "clearance"), [("Tr 8x1.5", 0.15), ("Tr 12x2", 0.25), ("Tr 22x5", 0.25),
                                                 ("Tr 36x6", 0.5), ("Tr 22x8", 0.5), ("Tr 50x12", 0.5),
                                                 ("Tr 60x14", 1.0), ("Tr 300x44", 1.0)])  # fmt: skip
def test_the_clearance_goes_with_the_pitch_and_is_not_that_of_acme(name, clearance):
    screw = thread(f"{name}-7e")
    root = (screw.major - screw.pitch).m_as("mm") - mm(f"{name}-7e", "minor", "max")
    assert root == exactly(2 * clearance)
    assert mm(f"{name}-7H", "major", "min") - screw.major.m_as("mm") == exactly(2 * clearance)


def test_the_position_moves_the_pitch_diameter_and_the_root_tolerance_alone():
    e, c = thread("Tr 40x7-8e"), thread("Tr 40x7-8c")
    assert e.limits.major == c.limits.major
    assert e.limits.minor.max == c.limits.minor.max
    assert (e.limits.pitch_diameter.max - c.limits.pitch_diameter.max).m_as("um") == pytest.approx(250 - 125)
    assert (e.limits.minor.min - c.limits.minor.min).m_as("um") == pytest.approx(250 - 125)


@pytest.mark.parametrize(
    ("name", "um"),
    [("Tr 9x1.5-7e", 279), ("Tr 9x2-7e", 309), ("Tr 24x3-7e", 397), ("Tr 65x16-7e", 853), ("Tr 185x24-7e", 1124)],
)
def test_half_a_micrometer_of_the_root_tolerance_goes_the_way_of_the_table(name, um):
    # 212.5 + 67, 237.5 + 71, 312.5 + 85, 662.5 + 190, 887.5 + 236 (open data, read).
    assert thread(name).limits.minor.width.m_as("um") == pytest.approx(um)


def test_grades_are_whole_steps_of_the_r40_series():
    series = [100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
              315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850,
              900, 950]  # fmt: skip
    series += [10 * value for value in series]
    for name in ALL:
        for classes in (("7e", "8e", "9c"), ("7H", "8H", "9H")):
            widths = [round(thread(f"{name}-{c}").limits.pitch_diameter.width.m_as("um")) for c in classes]
            if widths[0] == 1250:
                continue  # Tr 290 and 300 with pitch 44 stand off the series in the table
            at = series.index(widths[0])
            assert widths == [series[at], series[at + 4], series[at + 8]], name


@pytest.mark.parametrize(
    ("typed", "kind", "says"),
    [("Tr 40x9-7e", NotInTable, "Tr 40 has 7 3 10"), ("Tr 40", NotInTable, '"Tr 40x7-7e"'),
     ("Tr 41x7-7e", NotInTable, None), ("Tr 400x7", NotInTable, "Tr 300"), ("Tr 40x7-6e", NotInTable, "7e 8e 8c 9c"),
     ("Tr 40x7-7E", NotInTable, '"Tr 40x7-7e"'), ("Tr 40x7-7g", NotInTable, "7H 8H 9H"),
     ("Tr 40x15(P7)-7e", Impossible, '"Tr 40x14(P7)"'), ("Tr 40x63(P7)", Impossible, "1 to 8 starts"),
     ("Tr 40x7-7e (9 starts)", OutOfRange, "1 to 8"), ("Tr 40-7", NotInTable, '"Tr 40x7-7e"'),
     ("Tr 40x0-7e", NotInTable, "tabled"), ("Tr 40x7-7e/7H", Impossible, "not a fit of two")],
)  # fmt: skip
def test_the_nearest_readable_form_is_shown(typed, kind, says):
    if says is None:
        # In no plan, but the tolerances are tabled for the step of diameters: read, and said so.
        assert any("not in the general plan" in note for note in thread(typed).notes)
        return
    with pytest.raises(kind) as error:
        thread(typed)
    text = str(error.value)
    assert says in text
    assert "Try" in text
    for hint in re.findall(r'"(Tr[^"]*)"', text.split("Try ")[-1]):
        assert thread(hint).system == "iso trapezoidal"


@pytest.mark.parametrize("bad", ["2A", "7e", "nonsense", "", True, 7])
def test_a_bad_class_for_the_mate_is_refused(bad):
    with pytest.raises(LatheworksError):
        thread("Tr 40x7-7e").mate(bad)


def test_the_class_may_come_apart():
    assert thread("Tr 40x7", tolerance_class="8H").designation == "Tr 40x7-8H"
    assert thread("Tr 40x7-7e").mate("9H").designation == "Tr 40x7-9H"
    with pytest.raises(Impossible, match="not 7e and 7H"):
        thread("Tr 40x7-7e", tolerance_class="7H")


def test_the_working_ends_at_the_limits():
    for name in ("Tr 40x7-7e", "Tr 40x14(P7)-7H", "Tr 9x2-9c"):
        one = thread(name)
        results = [line.result for line in one.working]
        for _, low, high in one.printed:
            assert {low, high} - {"open"} <= {*results, f"{one.major.magnitude:.3f} mm"}
        assert all(line.source for line in one.working)


def test_a_nut_is_bored_for_no_tap_drill_is_listed():
    with pytest.raises(NotInTable, match=r"boring the hole to 33\.000 mm to 33\.560 mm"):
        tap_drills("Tr 40x7-7e")
