"""Typed text: what is read, what is refused, and that nothing else ever happens."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks import LatheworksError, read_size
from latheworks.reading import read_value


@pytest.mark.parametrize(
    ("text", "millimeters"),
    [
        ("1 1/4 in", 31.75), ('7/16"', 11.1125), ("0.005 thou", 0.000127), ("31.75 mm", 31.75), ("12.7mm", 12.7),
        ("-5 mm", -5), ("\u22125 mm", -5), ("1-1/4 in", 31.75), (".5in", 12.7), ("5. mm", 5), ("9 MM", 9),
        ("5 um", 0.005), ("5 µm", 0.005), ("1/2″", 12.7), ("2 ft", 609.6), (" 3 mm ", 3), ("0 mm", 0),
    ],
)  # fmt: skip
def test_sizes_that_are_read(text, millimeters):
    assert read_size(text).m_as("mm") == pytest.approx(millimeters, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("31,75 mm", "31.75 mm"), ("1.234,5 mm", "comma"), ("5 mil", "thou"), ("25 mils", "thou"), ("nan", "finite"),
        ("inf mm", "finite"), ("1e3 mm", "0.001 mm"), ("½ in", "1 1/2 in"), ("3'", "feet"), ("10**10**10 mm", "sums"),
        ("1/4-20", "12.7 mm"), ("１２ mm", "12.7 mm"), ("0x10 mm", "12.7 mm"), ("1_000 mm", "12.7 mm"),
        ("٣ mm", "12.7 mm"), ("", "12.7 mm"), ("12", "no unit"), ("1/0 in", "nothing"), ("3 N", "not a unit"),
        ("mm 5", "12.7 mm"), ("12 mm mm", "not a unit"), ("1 1 mm", "12.7 mm"), ("9" * 10_000 + " mm", "at most 40"),
        ("__import__('os')", "Cannot read"), ("5 mm\n6 mm", "Cannot read"), ("5 mm\x00", "not a unit"),
    ],
)  # fmt: skip
def test_sizes_that_are_refused_with_a_hint(text, hint):
    with pytest.raises(LatheworksError) as caught:
        read_size(text)
    assert hint in str(caught.value)


@pytest.mark.parametrize("bad", [5, 5.0, True, None, ["5 mm"], b"5 mm", float("nan")])
def test_only_text_is_read(bad):
    with pytest.raises(LatheworksError, match="expected typed text"):
        read_size(bad)


@pytest.mark.parametrize("unit", ["furlong", 5, "", True])
def test_the_default_unit_is_checked(unit):
    with pytest.raises(LatheworksError, match="unit"):
        read_size("5", unit=unit)


def test_the_default_unit_is_used_only_when_none_is_typed():
    assert read_size("5", unit="mm").m_as("mm") == 5
    assert read_size("5 in", unit="mm").m_as("mm") == pytest.approx(127)


@pytest.mark.parametrize(
    ("text", "kind", "unit", "value"),
    [("30 lbf", "force", "lbf", 30), ("1.2 kN", "force", "N", 1200), ("300", "spindle", "rpm", 300),
     ("0.1 mm/rev", "feed", "mm/rev", 0.1), ("20 N/µm", "stiffness", "N/um", 20), ("29.5°", "angle", "degree", 29.5),
     ("6", "count", "", 6)],
)  # fmt: skip
def test_other_kinds(text, kind, unit, value):
    default = "rpm" if kind == "spindle" else None
    assert read_value(text, kind, default).m_as(unit) == pytest.approx(value)


def test_a_count_has_no_unit_and_a_kind_must_be_known():
    with pytest.raises(LatheworksError, match="no unit"):
        read_value("6 mm", "count")
    with pytest.raises(LatheworksError, match="kind: got"):
        read_value("6 mm", "weight")


@settings(max_examples=3000, deadline=None)
@given(st.text(max_size=60) | st.text(alphabet="0123456789./- '\"inmtho,eE+", max_size=45))
def test_any_text_gives_a_finite_size_or_our_own_error_and_fast(text):
    start = time.perf_counter()
    try:
        value = read_size(text).m_as("mm")
    except LatheworksError as error:
        assert "Try" in str(error) or "rite" in str(error)
    else:
        assert math.isfinite(value)
    assert time.perf_counter() - start < 0.05
