"""Pipe threads NPT and G: reading, what is easily confused about them, and what is refused.

Values from memory of ASME B1.20.1 and ISO 228-1; those that could be read in a table are in tests/published/.
"""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.errors import Impossible, LatheworksError, NotInTable
from latheworks.threads import Thread, acme, parallel_pipe, tap_drills, taper_pipe, thread, trapezoidal
from latheworks.units import Q_


def exactly(value):
    return pytest.approx(value, abs=1e-9)


READINGS = {
    "1/2-14 NPT": "1/2-14 NPT EXT", "1/2 NPT": "1/2-14 NPT EXT", '1/2" NPT': "1/2-14 NPT EXT",
    "1/2-14NPT-LH": "1/2-14 NPT-LH EXT", "1-11.5 NPT INT": "1-11.5 NPT INT", "1-11 1/2 NPT": "1-11.5 NPT EXT",
    "1-11½ NPT": "1-11.5 NPT EXT", "2 1/2-8 NPT internal": "2 1/2-8 NPT INT", "12 NPT": "12-8 NPT EXT",
    "G 1/2": "G 1/2", "G1/2A": "G 1/2 A", "G 1/2 B": "G 1/2 B", "G 1 1/4 A-LH": "G 1 1/4 A-LH",
    "g 1-1/4-LH": "G 1 1/4-LH", "G 1/2 INT": "G 1/2", "G 1/2 EXT": "G 1/2 A", "G 3/4 B EXT": "G 3/4 B",
}  # fmt: skip


@pytest.mark.parametrize(("typed", "designation"), READINGS.items())
def test_a_drawing_is_read(typed, designation):
    found = thread(typed)
    assert found.designation == designation
    assert thread(designation) == found


# Trap 39: the size of a pipe thread is the name of a pipe, not a diameter.
def test_g_half_is_nearly_twenty_one_millimeters_across():
    assert thread("G 1/2").major.m_as("mm") == exactly(20.955)
    assert thread("G 1/2 A").limits.major.max.m_as("mm") == exactly(20.955)
    assert thread("G 1/2 A").included_angle == Q_(55.0, "degree")


def test_npt_half_is_cut_on_a_pipe_of_840_thou():
    half = thread("1/2-14 NPT")
    assert half.planes.outside.m_as("in") == exactly(0.840)
    # E0 = D - (0.05 D + 1.1) P
    assert half.planes.e0.m_as("in") == pytest.approx(0.840 - (0.05 * 0.840 + 1.1) / 14, abs=0.00001)
    assert half.included_angle.m_as("degree") == 60


# Trap 40.
@pytest.mark.parametrize("size", parallel_pipe.sizes())
def test_class_b_of_g_is_twice_class_a_and_screws_lose_what_nuts_gain(size):
    a, b, nut = (thread(name).limits.pitch_diameter for name in (f"G {size} A", f"G {size} B", f"G {size}"))
    assert b.width.m_as("um") == pytest.approx(2 * a.width.m_as("um"))
    assert a.max == b.max == nut.min
    assert nut.width.m_as("um") == pytest.approx(a.width.m_as("um"))
    assert thread(f"G {size} A").allowance.magnitude == 0


@pytest.mark.parametrize("size", parallel_pipe.sizes())
def test_the_table_of_g_follows_its_form(size):
    # Whitworth's form: d2 = d - 0.640327 P, d1 = d - 1.280654 P; pitch 25.4/n to three decimals.
    row, one = parallel_pipe.sizes()[size], thread(f"G {size} A")
    pitch = 25.4 / float(row["tpi"])
    assert one.pitch.m_as("mm") == pytest.approx(pitch, abs=0.0005001)
    assert one.pitch_diameter.m_as("mm") == pytest.approx(one.major.m_as("mm") - 0.640327 * pitch, abs=0.0011)
    assert one.minor.m_as("mm") == pytest.approx(one.major.m_as("mm") - 1.280654 * pitch, abs=0.0011)


def test_g_has_one_internal_class_and_its_mate_is_class_a():
    assert thread("G 1/2 B").mate().designation == "G 1/2"
    assert thread("G 1/2").mate().designation == "G 1/2 A"
    assert thread("G 1/2").mate("B").designation == "G 1/2 B"
    assert not thread("G 1/2").external
    with pytest.raises(NotInTable, match="internal thread"):
        thread("G 1/2 A").mate("B")


@pytest.mark.parametrize("size", taper_pipe.sizes())
def test_the_table_of_npt_follows_its_taper(size):
    one = thread(f"{size} NPT")
    p, planes = one.pitch.m_as("in"), one.planes
    diameter = planes.outside.m_as("in")
    e0, e1, e2, e3 = (getattr(planes, name).m_as("in") for name in ("e0", "e1", "e2", "e3"))
    l1, l2, l3, l4 = (getattr(planes, name).m_as("in") for name in ("l1", "l2", "l3", "l4"))
    assert e0 == pytest.approx(diameter - (0.05 * diameter + 1.1) * p, abs=0.00001)
    assert l2 == pytest.approx((0.8 * diameter + 6.8) * p, abs=0.00006)
    assert l4 == pytest.approx(l2 + 3.47 * p, abs=0.0001)
    assert (e1, e2, e3) == pytest.approx((e0 + l1 / 16, e0 + l2 / 16, e0 - l3 / 16), abs=0.000016)
    assert l3 == pytest.approx((3 if diameter < 2.8 else 2) * p, abs=0.0001)
    assert one.pitch_diameter == planes.e1
    assert planes.pitch_diameter_at(planes.l2).m_as("in") == pytest.approx(e2, abs=0.000016)
    assert planes.pitch_diameter_at(-planes.l3).m_as("in") == pytest.approx(e3, abs=0.000016)


def test_one_turn_of_the_gage_is_a_sixteenth_of_the_pitch():
    half = thread("1/2-14 NPT")
    assert half.limits.pitch_diameter.mid.m_as("in") == exactly(0.77843)
    assert half.limits.pitch_diameter.width.m_as("in") == pytest.approx(2 / 14 / 16, abs=0.00001)
    assert half.taper.magnitude == 1 / 16
    assert thread("G 1/2 A").taper.magnitude == 0 == thread("1/2-13 UNC-2A").taper.magnitude
    assert thread("1/2-13 UNC-2A").planes is None


def test_the_truncations_keep_the_form_between_the_sharp_v_and_its_flats():
    # Height 0.8 P at the least truncations; ASME B1.20.1 prints 0.05071 as the least height of 14 to the inch.
    half = thread("1/2-14 NPT").limits
    turn = half.pitch_diameter.width.m_as("in")
    tallest = (half.major.max - half.minor.min).m_as("in") - turn
    smallest = (half.major.min - half.minor.max).m_as("in") + turn
    assert tallest == pytest.approx(2 * 0.05714, abs=0.0002)
    assert smallest == pytest.approx(2 * 0.05071, abs=0.0002)


def test_pipe_and_fitting_share_a_designation_and_it_is_said():
    assert any("share a designation" in note for note in thread("1/2-14 NPT").notes)
    assert thread("1/2-14 NPT", tolerance_class="INT") == thread("1/2-14 NPT INT")
    assert thread("1/2-14 NPT").mate() == thread("1/2-14 NPT INT")
    assert thread("1/2-14 NPT INT").mate() == thread("1/2-14 NPT")
    assert "1 in 16" in str(thread("1/2-14 NPT"))
    assert "L1" in thread("1/2-14 NPT")._repr_html_()


@pytest.mark.parametrize(
    ("typed", "says"),
    [("1/2-18 NPT", '"1/2-14 NPT"'), ("5/8 NPT", '"1/2-14 NPT"'), ("1/2-14 NPTF", "NPTF"), ("1/2 NPSM", "NPSM"),
     ("G 13/16", "3/4, 7/8"), ("G 1/2 C", '"G 1/2'), ("R 1/2", "R and Rc"), ("Rc 1/2", "R and Rc"),
     ("1/2 BSPT", "R and Rc"), ("BSPP 1/2", '"G '), ("G 1/0", "1/2"), ("1/4-28 UNJF-3A", "UNJ and MJ"),
     ("MJ6x1-4h6h", "UNJ and MJ"), ("1/2-14 NPT EXT INT", "NPT")],
)  # fmt: skip
def test_the_nearest_readable_form_is_shown(typed, says):
    with pytest.raises(LatheworksError) as error:
        thread(typed)
    text = str(error.value)
    assert says in text
    assert "Try" in text
    for hint in re.findall(r'"([^"]+)"', text.split("Try ")[-1]):
        assert isinstance(thread(hint), Thread)


@pytest.mark.parametrize(("name", "cls"), [("1/2 NPT", "2A"), ("G 1/2", "C"), ("G 1/2 A", "B"), ("1/2 NPT INT", "EXT")])
def test_a_class_that_does_not_fit_is_refused(name, cls):
    with pytest.raises((NotInTable, Impossible)):
        thread(name, tolerance_class=cls)


@pytest.mark.parametrize(
    "bad", [3, "0.3 in", True, None, Q_(3, "N"), Q_(float("nan"), "in"), Q_(2, "in"), Q_(-1, "in")]
)
def test_a_place_off_the_thread_is_refused(bad):
    with pytest.raises(LatheworksError, match="distance: got"):
        thread("1/2-14 NPT").planes.pitch_diameter_at(bad)


def test_the_working_ends_at_the_limits():
    for name in ("1/2-14 NPT", "2 1/2 NPT INT", "G 1/2 A", "G 1/2"):
        one = thread(name)
        results = " ".join(line.result for line in one.working)
        for _, low, high in one.printed:
            assert all(end in results for end in (low, high) if end != "open"), name
        assert all(line.source for line in one.working)


def test_only_listed_tap_drills_are_given():
    found = tap_drills("1/2-14 NPT INT")
    assert (found.best.name, len(found)) == ("23/32", 1)
    assert "taper" in found.notes[0]
    assert tap_drills("G 1/2 A").best.diameter.m_as("mm") == 19
    for name in ("12-8 NPT", "G 3"):
        with pytest.raises(NotInTable, match="boring the hole"):
            tap_drills(name)


NAMES = [*(f"{size}-{tpi} ACME" for size, tpi in acme.sizes().values()),
         *(f"Tr {d}x{p[0]}" for d, p in trapezoidal.sizes().items()),
         *(f"{size}-{row['tpi']} NPT" for size, row in taper_pipe.sizes().items()),
         *(f"G {size}" for size in parallel_pipe.sizes())]  # fmt: skip


@settings(max_examples=300, deadline=1000)
@given(st.one_of(st.text("0123456789/-. #ACMETrxPLNGHe()b2INTS\"", max_size=60),
                 st.builds(lambda name, tail: name + tail, st.sampled_from(NAMES),
                           st.text("-0123456789GABHLecINTEX (PS)R", max_size=12))))  # fmt: skip
def test_any_text_is_a_thread_or_a_kind_error(text):
    try:
        found = thread(text)
    except LatheworksError as error:
        assert str(error).startswith("thread: ")
        return
    assert thread(found.designation) == found
    assert found.mate().mate().external == found.external
    assert found.limits.pitch_diameter.min < found.limits.pitch_diameter.max
