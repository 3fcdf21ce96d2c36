"""Reading designations, the thread they name, its mate, its working, and what is said when they cannot be read."""

import re
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks import LatheworksError
from latheworks.errors import Impossible, NotInTable, OutOfRange, WrongUnit
from latheworks.threads import Thread, thread
from latheworks.threads.spec import all_names

READINGS = {
    "1/2-13 UNC-2A": "1/2-13 UNC-2A", "#10-24 UNC-3B": "#10-24 UNC-3B", "0.190-32 UNF-2A": "#10-32 UNF-2A",
    "No. 8-32 UNC-2B": "#8-32 UNC-2B", "10-24": "#10-24 UNC-2A", "6-32 UNC-2A": "#6-32 UNC-2A",
    "6-4 UN-2A": "6-4 UN-2A", "1-8 UNC": "1-8 UNC-2A", "1-64": "#1-64 UNC-2A", "0-80": "#0-80 UNF-2A",
    "4-36 UNS-2A": "#4-36 UNS-2A", "1-14 UNS-2B": "1-14 UNS-2B", "1-14 UN-2B": "1-14 UNS-2B", "1-14": "1-14 UNS-2A",
    "1 1/4-12 UN-2A-LH": "1 1/4-12 UNF-2A-LH", "1-1/4-12 UNF-2A": "1 1/4-12 UNF-2A",
    "1.250-12 UNF-2A": "1 1/4-12 UNF-2A", ".312-18 UNC-2B": "5/16-18 UNC-2B", "2/4-13 UNC-2A": "1/2-13 UNC-2A",
    '1/4"-20unc-2a lh': "1/4-20 UNC-2A-LH", "3/8 – 16 UNC – 2B – LH": "3/8-16 UNC-2B-LH",
    "1/4-28UNF3A": "1/4-28 UNF-3A", "1/4-20 UNRC-2A": "1/4-20 UNRC-2A", "3/4-16 UNR-2A": "3/4-16 UNRF-2A",
    "1-16 UNR-2A": "1-16 UNR-2A", "2-4 1/2 UNC-2A": "2-4.5 UNC-2A", "2-4½ UNC-2A": "2-4.5 UNC-2A",
    "0.7000-16 UNS-2A": "0.7000-16 UNS-2A", "19/64-28 UNS-2A": "19/64-28 UNS-2A",
    ".750-.0625P-.1875L(3-STARTS)UNF-2A": "3/4-16 UNF-2A (3 STARTS)",
    ".750-.0625P-.125L UNF-2A-LH": "3/4-16 UNF-2A-LH (2 STARTS)",
    "3/4-16 UNF-2A 2 STARTS": "3/4-16 UNF-2A (2 STARTS)",
    "3/4-16 UNF-2A (2 STARTS) LH": "3/4-16 UNF-2A-LH (2 STARTS)", "M10": "M10x1.5-6g", "m10": "M10x1.5-6g",
    "M10-6H": "M10x1.5-6H", "M 10 × 1,5 - 6H": "M10x1.5-6H", "M8x1-4g6g": "M8x1-4g6g", "M8x1-6g6g": "M8x1-6g",
    "M10x1.50-5H6H LH": "M10x1.5-5H6H-LH", "M16xPh3P1.5-6H": "M16xPh3P1.5-6H",
    "M16xPh3P1.5 (two starts)-6H": "M16xPh3P1.5-6H", "M16x1.5-6H-LH 2 starts": "M16xPh3P1.5-6H-LH",
    "M1.2": "M1.2x0.25-6h", "M37x1.5-6g": "M37x1.5-6g", "M10x1.5-5h6g": "M10x1.5-5h6g",
}  # fmt: skip


@pytest.mark.parametrize(("typed", "designation"), READINGS.items())
def test_a_drawing_is_read(typed, designation):
    found = thread(typed)
    assert found.designation == designation
    assert thread(designation) == found


@pytest.mark.parametrize(
    ("typed", "says"),
    [("1/2-14 UNC", '"1/2-13 UNC-2A"'), ("1/2-14 UNC-3B", '"1/2-13 UNC-3B"'), ("1-12 UNS-2A", '"1-12 UNF-2A"'),
     ("2-7 UNEF", "no UNEF at 2"), ("1/2", '"1/2-13 UNC"'), ("M10x1.4", "1.5 1.25 1 0.75"), ("M13", '"M12x1.75"'),
     ("M15", '"M15x1.5"'), ("M10x0.25", "a pitch that is tabled"), ("M400", '"M300x8"'), ("#7-32", '"#6-32"'),
     ("1/2-13 UNC-2C", "1A 2A 3A 1B 2B 3B"), ("1/2-13 UNC-2A/2B", '"1/2-13 UNC-2B"'), ("M10-6H/6g", '"M10-6g"'),
     ("M8x1-5g", '"M8x1-5g6g"'), ("M2-6e", "position of f g h"),
     ("M1-6f", "position of g h"), ("M3-9g", '"M3x0.5-7g6g"'), ("M10-6k", "5H6H"),
     ("M10x1.5-6g6H", "not both"), ("1/4-20 UNRC-2B", '"1/4-20 UNRC-2A"'), ("1/4-20 NC-2", '"1/4-20 UNC"'),
     ("1/2-13 UNCC", '"1/2-13 UNC"'), ("1-5 STUB ACME", '"1-5 ACME-2G"'), ("Tr 40-7", '"Tr 40x7-7e"'),
     ("1/0-20", "1/2"), ("7-8 UN", "6 in"), ("1/32-80", "0.060"), ("1/2-90", "4 to 80"),
     ("4-3 UN", "4 to 80"), ("1/2 UNC", '"1/2-13 UNC"'), ("M10 fine", '"M10x'), ("1/4x20", '"1/4-20 UNC"'),
     ("10mm", '"M10x1.5"'), ("#10", '"#10-24 UNC"'), ("1/4-4", "hundredths"),
     ("7-80 UNS", "6 in"), ("6.0-80 UNS", "hundredths"), ("1/2-13 UNC LH RH", "one hand"),
     ("3/4-16 UNF-2A 9 STARTS", "1 to 8"), (".750-.0625P-.1255L(3-STARTS)UNF-2A", "0.1875"),
     (".750-.0600P-.1200L UNF-2A", "a pitch of"), ("M16xPh4P1.5", "xPh3P1.5"),
     ("M16xPh3P1.5 (three starts)", "whole number"),
     ("1/2-13 UNC-2A; import os", "1/2-13 UNC"), ("garbage", "1/2-13 UNC-2A"), ("=2+2", "Try"), ("M١٠", "Try")],
)  # fmt: skip
def test_the_nearest_readable_form_is_shown(typed, says):
    with pytest.raises(LatheworksError) as error:
        thread(typed)
    assert says in str(error.value)
    for hint in re.findall(r'"([^"]+)"', str(error.value).split("Try ")[-1].split(" without ")[0]):
        assert isinstance(thread(hint), Thread)
    assert "expected" in str(error.value)
    assert "Try" in str(error.value)


@pytest.mark.parametrize(
    ("bad", "kind"),
    [(None, WrongUnit), (True, WrongUnit), (float("nan"), WrongUnit), (10, WrongUnit), (b"M10", WrongUnit),
     (["M10"], WrongUnit), ({}, WrongUnit), ("", OutOfRange), ("   ", OutOfRange), ("M10" * 3400, OutOfRange),
     ("1 " * 30, LatheworksError)],
    ids=lambda value: repr(value)[:20],
)  # fmt: skip
def test_a_bad_designation_is_named(bad, kind):
    with pytest.raises(kind, match="thread: designation: got"):
        thread(bad)


@pytest.mark.parametrize("bad", [True, 2, b"2B", "", "2Z", "6z", "nonsense", "5", "2A", ["2B"], float("nan")], ids=repr)
def test_a_bad_class_is_named(bad):
    with pytest.raises(LatheworksError, match=r"thread: .*expected"):
        thread("M10", tolerance_class=bad)
    with pytest.raises(LatheworksError, match=r"mate|thread: .*expected"):
        thread("1/2-13 UNC-2A").mate(bad)


def test_the_class_may_come_apart_from_the_designation():
    assert thread("M10", tolerance_class="6H").designation == "M10x1.5-6H"
    assert thread("1/2-13 UNC", tolerance_class="2b") == thread("1/2-13 UNC-2B") == thread("1/2-13 UNC-2B", "2B")
    with pytest.raises(Impossible, match=r"not 2A and 2B.*\.mate"):
        thread("1/2-13 UNC-2A", tolerance_class="2B")


@pytest.mark.parametrize(
    "name", ["M10", "1/2-13 UNC", "1-14", "1-14 UN-2A", "M37x1.5-6g", "#4-40 UNC-1A", "3/4-16 UNF-2A 2 STARTS"]
)
def test_what_was_chosen_is_noted(name):
    assert thread(name).notes
    assert not thread(thread("1/2-13 UNC").designation).notes


@pytest.mark.parametrize(
    ("name", "mate"),
    [("1/2-13 UNC-2A", "1/2-13 UNC-2B"), ("1/2-13 UNC-1B", "1/2-13 UNC-1A"), ("1/4-20 UNRC-3A-LH", "1/4-20 UNC-3B-LH"),
     ("3/4-16 UNF-2B-LH (2 STARTS)", "3/4-16 UNF-2A-LH (2 STARTS)"), ("M10-6g", "M10x1.5-6H"), ("M8x1-4g6g", "M8x1-5H"),
     ("M16xPh3P1.5-6H", "M16xPh3P1.5-6g"), ("M8-8g", "M8x1.25-7H"), ("M8x1-9g8g", "M8x1-8H"), ("M8-5H6H", "M8x1.25-4h"),
     ("M2x0.4-7H", None), ("M2x0.4-6H", "M2x0.4-6g"), ("M1x0.2", "M1x0.2-4H"), ("M8-7H-LH", "M8x1.25-8g-LH")],
)  # fmt: skip
def test_the_mate_screws_on(name, mate):
    if mate is None:
        with pytest.raises(NotInTable):
            thread(name)
        return
    one = thread(name)
    other = one.mate()
    assert other.designation == mate
    assert (other.external, other.hand, other.starts, other.pitch) == (
        not one.external,
        one.hand,
        one.starts,
        one.pitch,
    )


def test_a_mate_of_the_same_kind_is_refused():
    with pytest.raises(NotInTable, match=r'expected a class of an internal thread.*\.mate\("2B"\)'):
        thread("1/2-13 UNC-2A").mate("3A")
    assert thread("M10-6g").mate("5H").tolerance_class == "5H"


@pytest.mark.parametrize(
    "name", ["1/2-13 UNC-2A", "5/8-11 UNC-1A", "1/4-20 UNC-3B", "1 3/4-5 UNC-2B", "M8x1-4g6g", "M10-6H"]
)
def test_the_working_ends_at_the_limits(name):
    one = thread(name)
    results = [line.result for line in one.working]
    for _, low, high in one.printed:
        assert {low, high} - {"open"} <= {*results, f"{one.major.magnitude:.4f} in"}
    assert all(line.source for line in one.working)


def test_a_thread_shows_itself():
    one = thread("1/2-13 UNC-2A")
    assert "0.4435 in to 0.4485 in" in str(one)
    assert "<table>" in one._repr_html_()
    assert "pitch diameter" in one._repr_html_()
    assert list(one.to_frame()["max"]) == ["0.4985 in", "0.4485 in", "0.4152 in"]
    with pytest.raises(AttributeError):
        one.size = "1/4"


def test_a_thread_once_read_costs_nothing():
    thread("M10x1.5-6H")
    start = time.perf_counter()
    for _ in range(1000):
        thread("M10x1.5-6H")
    assert time.perf_counter() - start < 0.2
    assert thread("M10x1.5-6H") is thread("M10x1.5-6H")


@settings(max_examples=300, deadline=1000)
@given(st.one_of(
    st.text(max_size=60),
    st.text("0123456789/-. #MxPhUNCFEJSARTLH()abgh\"'", max_size=60),
    st.builds(lambda name, tail: name + tail, st.sampled_from(all_names()),
              st.text("-0123456789ABHgh LR()ST", max_size=12)),
))  # fmt: skip
def test_any_text_is_a_thread_or_a_kind_error(text):
    try:
        found = thread(text)
    except LatheworksError as error:
        assert str(error).startswith("thread: ")
        return
    assert isinstance(found, Thread)
    assert thread(found.designation) == found
    assert found.limits.pitch_diameter.min < found.limits.pitch_diameter.max


@pytest.mark.parametrize(
    "text", ["1-" * 30, "1 1/" * 15, "M" + "1" * 59, "(" * 60, "1/2-13 UNC" + "-" * 50, " - " * 20]
)
def test_long_and_twisted_text_is_answered_at_once(text):
    start = time.perf_counter()
    with pytest.raises(LatheworksError):
        thread(text)
    assert time.perf_counter() - start < 0.5
