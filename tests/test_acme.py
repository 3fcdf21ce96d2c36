"""ACME threads: reading, what is easily confused about them, and what is refused. Values from memory of ASME B1.5."""

import math
import re

import pytest

from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange
from latheworks.threads import tap_drills, thread
from latheworks.threads.acme import sizes
from latheworks.units import Q_


def exactly(value):
    return pytest.approx(value, abs=1e-9)


READINGS = {
    "1-5 ACME-2G": "1-5 ACME-2G", "1-5-ACME-2G": "1-5 ACME-2G", "1-5acme": "1-5 ACME-2G",
    "1 1/2-4 ACME-2G-LH": "1 1/2-4 ACME-2G-LH", "1.500-4-ACME-2G-LH": "1 1/2-4 ACME-2G-LH",
    ".500-.1P-.2L-ACME-2G": "1/2-10 ACME-2G (2 STARTS)", "0.5-10 ACME-3G (2 STARTS)": "1/2-10 ACME-3G (2 STARTS)",
    "1-5 ACME-4G INT": "1-5 ACME-4G INT", "1-5 ACME-2G-INTERNAL": "1-5 ACME-2G INT",
    "1-5 ACME-2G EXTERNAL": "1-5 ACME-2G", "2 1/2-3 ACME-2G-LH (3 STARTS) INT": "2 1/2-3 ACME-2G-LH (3 STARTS) INT",
    "1-8 ACME-2G": "1-8 ACME-2G", "0.7000-8 ACME-2G": "0.7000-8 ACME-2G", "3-2 1/2 ACME-2G": "3-2.5 ACME-2G",
    "2.875-.4P-.8L-ACME-3G": "2 7/8-2.5 ACME-3G (2 STARTS)",
}  # fmt: skip


@pytest.mark.parametrize(("typed", "designation"), READINGS.items())
def test_a_drawing_is_read(typed, designation):
    found = thread(typed)
    assert found.designation == designation
    assert thread(designation) == found
    assert found.system == "acme"
    assert found.included_angle == Q_(29.0, "degree")


@pytest.mark.parametrize("row", sizes().values(), ids=lambda row: row[0])
@pytest.mark.parametrize("cls", ["2G", "3G", "4G"])
def test_every_standard_size_fits_its_mate(row, cls):
    screw = thread(f"{row[0]}-{row[1]} ACME-{cls}")
    nut = screw.mate()
    assert nut.designation == f"{screw.designation} INT"
    assert nut.mate() == screw
    for name in ("major", "pitch_diameter", "minor"):
        outer, inner = getattr(screw.limits, name), getattr(nut.limits, name)
        assert outer.min < outer.max < inner.min < inner.max
    tolerance = screw.limits.pitch_diameter.width
    assert nut.limits.pitch_diameter.width.magnitude == exactly(tolerance.magnitude)


# Trap 37: ACME is 29 degrees, ISO trapezoidal 30, and their clearances differ.
def test_the_root_lies_a_clearance_under_the_pitch_deep_form():
    coarse, fine = thread("1-5 ACME-2G"), thread("3/8-12 ACME-2G")
    assert coarse.limits.minor.max.m_as("in") == exactly(1 - 0.2 - 0.020)
    assert coarse.minor.m_as("in") == exactly(0.8)
    assert fine.limits.minor.max.m_as("in") == exactly(0.2817)  # 0.375 - 1/12 - 0.010
    # Ten to the inch still has the larger one.
    assert thread("1/2-10 ACME-2G").limits.minor.max.m_as("in") == exactly(0.5 - 0.1 - 0.020)


def test_the_angle_is_29_for_acme_and_30_for_trapezoidal():
    assert thread("1-5 ACME-2G").included_angle.m_as("degree") == 29
    assert thread("Tr 24x5-7e").included_angle.m_as("degree") == 30
    assert thread("1/2-13 UNC-2A").included_angle.m_as("degree") == 60


def test_the_nut_has_its_own_major_limits():
    # Unlike a V thread, whose internal major diameter is open above.
    nut = thread("1-5 ACME-2G INT").limits
    assert (nut.major.min.m_as("in"), nut.major.max.m_as("in")) == exactly((1.020, 1.040))
    assert thread("1-8 UNC-2B").limits.major.max is None


def test_the_allowance_goes_with_the_class_and_the_screw_alone():
    allowances = [thread(f"1-5 ACME-{c}").allowance.m_as("in") for c in ("2G", "3G", "4G")]
    assert allowances == exactly([0.008, 0.006, 0.004])
    assert thread("1-5 ACME-2G INT").allowance.magnitude == 0


def test_several_starts_have_the_limits_of_one_and_a_longer_lead():
    one, two = thread("1/2-10 ACME-2G"), thread(".500-.1P-.2L-ACME-2G")
    assert two.limits == one.limits
    assert (two.starts, two.lead.m_as("in"), two.pitch.m_as("in")) == (2, exactly(0.2), exactly(0.1))
    assert math.tan(two.lead_angle.m_as("rad")) == pytest.approx(2 * math.tan(one.lead_angle.m_as("rad")))
    assert any("single start" in note for note in two.notes)


def test_what_was_chosen_is_noted():
    assert any("share a designation" in note for note in thread("1-5 ACME-2G").notes)
    assert any("no class" in note for note in thread("1-5 ACME").notes)
    assert any("standard pitch of 1 is 5" in note for note in thread("1-8 ACME-2G").notes)
    assert not thread("1-5 ACME-2G INT").notes


def test_the_class_or_the_kind_may_come_apart():
    assert thread("1-5 ACME", tolerance_class="3g").designation == "1-5 ACME-3G"
    assert thread("1-5 ACME", tolerance_class="3G INT").designation == "1-5 ACME-3G INT"
    assert thread("1-5 ACME-4G", tolerance_class="INT").designation == "1-5 ACME-4G INT"
    assert thread("1-5 ACME-2G").mate("4G").designation == "1-5 ACME-4G INT"
    with pytest.raises(Impossible, match="not 2G and 3G"):
        thread("1-5 ACME-2G", tolerance_class="3G")


@pytest.mark.parametrize(
    ("typed", "kind", "says"),
    [("1-7 ACME-2G", NotInTable, "16 14 12 10 8 6 5"), ("1-5 ACME-2C", NotInTable, "2G 3G 4G"),
     ("1-5 ACME-5G", NotInTable, '"1-5 ACME-2G"'), ("1-5 STUB ACME-2G", NotInTable, '"1-5 ACME-2G"'),
     ("1/8-16 ACME-2G", OutOfRange, "1/4 to 5"), ("6-2 ACME", OutOfRange, "1/4 to 5"),
     ("1/2-4 ACME-2G", OutOfRange, '"1/2-10 ACME-2G"'), ("1-5 ACME-2G (9 STARTS)", OutOfRange, "1 to 8"),
     (".500-.1P-.25L-ACME-2G", Impossible, "starts x pitch"), (".500-.11P-.22L-ACME-2G", NotInTable, "pitch of"),
     ("1-5 ACME-2G LH RH", Impossible, "one hand"), ("1/0-5 ACME", OutOfRange, "1/2")],
)  # fmt: skip
def test_the_nearest_readable_form_is_shown(typed, kind, says):
    with pytest.raises(kind) as error:
        thread(typed)
    text = str(error.value)
    assert says in text
    assert "expected" in text
    assert "Try" in text
    for hint in re.findall(r'"([^"]*ACME[^"]*)"', text.split("Try ")[-1]):
        assert thread(hint).system == "acme"


@pytest.mark.parametrize("bad", ["2A", "9Z", "nonsense", "", True, 2, "2G INT"])
def test_a_bad_class_for_the_mate_is_refused(bad):
    with pytest.raises(LatheworksError):
        thread("1-5 ACME-2G").mate(bad)


def test_the_working_ends_at_the_limits():
    for name in ("1-5 ACME-2G", "3/8-12 ACME-3G", "2-4 ACME-4G INT"):
        one = thread(name)
        results = [line.result for line in one.working]
        for _, low, high in one.printed:
            assert {low, high} <= {*results, f"{one.major.magnitude:.4f} in"}
        assert all(line.source for line in one.working)
        assert "included angle" in str(one)


def test_a_nut_is_bored_for_no_tap_drill_is_listed():
    with pytest.raises(NotInTable, match=r"boring the hole to 0\.8000 in to 0\.8100 in"):
        tap_drills("1-5 ACME-2G")
