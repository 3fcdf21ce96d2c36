"""The sets of drills, and the tap drills ranked from them."""

import time

import numpy as np
import pytest

from latheworks import Q_, LatheworksError
from latheworks.drilling import drills
from latheworks.threads import tap_drills, thread

SETS = ("number", "letter", "fractional", "metric")


@pytest.mark.parametrize(("name", "count"), [("number", 80), ("letter", 26)])
def test_a_set_is_whole(name, count):
    found = drills(name)
    assert len(found) == len(set(found.names)) == count == len(found.to_frame())


def test_number_drills_shrink_and_letters_grow():
    number, letter = drills("number"), drills("letter")
    assert (np.diff([number.diameter[number.names.index(f"#{n}")].m_as("in") for n in range(1, 81)]) < 0).all()
    assert (np.diff(letter.diameter.m_as("in")) > 0).all()
    assert letter.diameter[0] > number.diameter.max()


def test_four_decimals_are_kept_and_e_is_a_quarter():
    number, letter = drills("number"), drills("letter")
    assert number.diameter[number.names.index("#25")].m_as("in") == pytest.approx(0.1495)
    assert number.diameter[number.names.index("#18")].m_as("in") == pytest.approx(0.1695)
    assert letter.diameter[letter.names.index("E")].m_as("in") == 0.25


def test_fractional_drills_are_their_names():
    found = drills("fractional")
    for name, diameter in zip(found.names, found.diameter.m_as("in"), strict=True):
        parts = [part.split("/") for part in name.replace(" in", "").split(" ")]
        assert diameter == pytest.approx(
            sum(int(p[0]) / int(p[1]) if len(p) > 1 else int(p[0]) for p in parts), abs=6e-5
        )


def test_metric_drills_are_their_names():
    found = drills("metric")
    assert [f"{d:g} mm" for d in found.diameter.m_as("mm")] == list(found.names)


def test_a_set_cannot_be_spoiled():
    with pytest.raises(ValueError, match="read-only"):
        drills("metric").diameter.magnitude[0] = 9.0


@pytest.mark.parametrize(
    "bad", [None, True, 3, "", "numbers", b"letter", [], float("nan"), "x" * 10_000], ids=lambda v: repr(v)[:12]
)
def test_an_unknown_set_is_named(bad):
    with pytest.raises(LatheworksError, match=r'drills: set: got .* expected one of "number"'):
        drills(bad)


@pytest.mark.parametrize(
    ("name", "sets", "best"),
    # Usual tap drills of shop charts, common practice.
    [("1/4-20 UNC-2B", ("number",), "#7"), ("1/4-28 UNF-2B", ("number",), "#3"), ("#10-32 UNF-2B", ("number",), "#21"),
     ("5/16-18 UNC-2B", ("letter",), "F"), ("3/8-16 UNC-2B", ("fractional",), "5/16"),
     ("1/2-13 UNC-2B", ("fractional",), "27/64"), ("M8-6H", ("metric",), "6.8 mm"), ("M10-6H", ("metric",), "8.5 mm"),
     ("M6-6H", ("metric",), "5 mm"), ("M12-6H", ("metric",), "10.2 mm")],
)  # fmt: skip
def test_the_usual_tap_drill_is_near_the_top(name, sets, best):
    found = tap_drills(name, sets=sets)
    assert best in found.name[:3]
    row = next(r for r in found.rows if r.name == best)
    assert row.within_limits


@pytest.mark.parametrize("name", ["1/4-20 UNC-2B", "M8-6H", "#4-40 UNC-3B", "1-8 UNC-2B", "M24-6H", "M3-5H"])
def test_rows_are_ranked_and_worked_out_right(name):
    tapped, found = thread(name), tap_drills(name)
    assert found.thread == tapped
    assert len(found) == len(found.rows) > 5
    for row in found.rows:
        inside = tapped.limits.minor.min <= row.diameter <= tapped.limits.minor.max
        assert row.within_limits == inside
        expected = 100 * float((tapped.major - row.diameter) / (1.299038 * tapped.pitch))
        assert row.percent_thread.m_as("percent") == pytest.approx(expected, rel=1e-6)
    keys = [(not r.within_limits, round(abs(r.percent_thread.m_as("percent") - 75), 6)) for r in found.rows]
    assert keys == sorted(keys)
    assert found.best == found.rows[0]


def test_the_other_convention_and_the_wanted_percent():
    usual, deep = tap_drills("1/4-20 UNC-2B"), tap_drills("1/4-20 UNC-2B", height="5/8 H")
    assert set(usual.name) == set(deep.name)
    pick = {r.name: r.percent_thread.magnitude for r in deep.rows}["#7"]
    assert pick == pytest.approx(100 * 0.049 / (1.08253 * 0.05), rel=1e-5)
    assert "1.2990 P" in usual.convention
    assert "1.0825 P" in deep.convention
    less = tap_drills("1/4-20 UNC-2B", wanted=Q_(68, "percent"))
    assert less.best.diameter > usual.best.diameter
    assert tap_drills("1/4-20 UNC-2B", wanted=Q_(0.68, "dimensionless")).name == less.name


def test_an_external_thread_is_answered_for_its_mate():
    found = tap_drills(thread("1/4-20 UNC-2A"))
    assert found.thread.designation == "1/4-20 UNC-2B"
    assert "external" in found.notes[0]
    assert found.name == tap_drills("1/4-20 UNC-2B").name


def test_no_drill_means_boring():
    found = tap_drills("6-4 UN-2B", sets=("number",))
    assert len(found) == 0
    assert found.best is None
    assert found.rows == ()
    assert "bore" in str(found)
    assert len(found.to_frame()) == 0
    assert not found.working.lines


def test_tap_drills_show_themselves():
    found = tap_drills("1/4-20 UNC-2B")
    assert "<table>" in found._repr_html_()
    assert "#7, 0.2010 in, 75.4 %, inside the limits" in str(found)
    assert "75.44 %" in found.working.text()
    # As B1.1 prints them, no digit more.
    assert "0.145 in to 0.155 in" in str(tap_drills("#10-24 UNC-2B"))
    assert "Tap makers' formulas" in found.working.text()
    assert "0.196 in to 0.207 in" in found.working.text()
    assert list(found.to_frame().columns) == ["name", "diameter [in]", "thread [%]", "within limits"]
    assert list(tap_drills("M8-6H").to_frame().columns)[1] == "diameter [mm]"


@pytest.mark.parametrize(
    "bad", [None, True, 3.0, b"M10", [], "", "nonsense", "x" * 10_000, Q_(1, "mm")], ids=lambda v: repr(v)[:12]
)
def test_a_bad_thread_is_named(bad):
    with pytest.raises(LatheworksError, match="expected"):
        tap_drills(bad)


@pytest.mark.parametrize(
    "bad",
    [{"sets": "number"}, {"sets": []}, {"sets": ("numbers",)}, {"sets": (None,)}, {"sets": True}, {"sets": 3},
     {"sets": ("number", float("nan"))}, {"sets": ["x" * 10_000]}, {"wanted": 75}, {"wanted": True}, {"wanted": None},
     {"wanted": "75 %"}, {"wanted": Q_(0, "percent")}, {"wanted": Q_(float("nan"), "percent")},
     {"wanted": Q_(float("inf"), "percent")}, {"wanted": Q_(75, "mm")}, {"wanted": Q_([], "percent")},
     {"height": "3/4"}, {"height": None}, {"height": 0.75}],
    ids=lambda value: repr(value)[:30],
)  # fmt: skip
def test_a_bad_argument_is_named(bad):
    (name,) = bad
    with pytest.raises(LatheworksError, match=f"tap_drills: {name}: got .* expected .* Try "):
        tap_drills("M10-6H", **bad)


def test_a_slider_may_ask_often():
    tapped = thread("M10-6H")
    tap_drills(tapped)
    start = time.perf_counter()
    for _ in range(100):
        tap_drills(tapped)
    assert time.perf_counter() - start < 0.5
