"""Threads and drills against the printed tables named in tests/published/, to half a unit of the last digit."""

from decimal import Decimal

import pytest

from latheworks.drilling import drills
from latheworks.threads import tap_drills, thread
from latheworks.threads.taps import percent_thread
from tests.printed import half_a_digit, rows

THREADS = rows("threads_unified") + rows("threads_metric")
DRILLS = rows("drills")
LEFT_OUT = [row for row in rows("left_out") if row["quantity"].startswith(("limits.", "allowance"))]


def value_of(row):
    value = thread(row["argument"])
    for name in row["quantity"].split("."):
        value = getattr(value, name)
    return value.m_as({"deg": "degree"}.get(row["unit"], row["unit"]))


@pytest.mark.parametrize("row", THREADS, ids=lambda row: f"{row['id']} {row['argument']} {row['quantity']}")
def test_a_thread_has_the_printed_value(row):
    assert value_of(row) == pytest.approx(float(row["printed"]), abs=half_a_digit(row["printed"])), row["source"]


@pytest.mark.parametrize("row", LEFT_OUT, ids=lambda row: f"{row['argument']} {row['quantity']} {row['source']}")
def test_a_printed_value_left_out_differs_as_recorded(row):
    found = value_of(row)
    assert row["why"]
    assert abs(found - float(row["printed"])) > half_a_digit(row["printed"])
    assert found == pytest.approx(float(row["expected"]), abs=half_a_digit(row["expected"]))
    if "one unit off" in row["why"]:
        unit = float(Decimal(1).scaleb(Decimal(row["printed"]).as_tuple().exponent))
        assert abs(found - float(row["printed"])) == pytest.approx(unit, rel=0.01)


@pytest.mark.parametrize("row", DRILLS, ids=lambda row: f"{row['id']} {row['argument']}")
def test_a_drill_has_the_printed_value(row):
    expected = pytest.approx(float(row["printed"]), abs=half_a_digit(row["printed"]))
    if row["call"] == "drill":
        every = [drills(name) for name in ("number", "letter", "fractional", "metric")]
        (found,) = [s.diameter[s.names.index(row["argument"])] for s in every if row["argument"] in s.names]
        assert found.m_as(row["unit"]) == expected, row["source"]
        return
    assert row["call"] == "percent_thread"
    name, hole = row["argument"].split(" | ")
    number, unit = hole.split()
    tapped = thread(name)
    found = percent_thread(tapped.major.m_as(unit), tapped.pitch.m_as(unit), float(number), "3/4 H")
    assert found == expected, row["source"]
    # Where the drill is one that is sold, the public table shows the same percent.
    listed = [r for r in tap_drills(tapped).rows if abs(r.diameter.m_as(unit) - float(number)) < 1e-9]
    assert all(r.percent_thread.m_as("percent") == expected for r in listed)


def test_there_are_enough_published_values():
    assert sum(row["basis"] == "published" for row in THREADS) >= 150
    assert sum(row["basis"] == "published" for row in DRILLS) >= 20
    ids = [row["id"] for row in THREADS + DRILLS]
    assert len(ids) == len(set(ids))
    assert {row["basis"] for row in THREADS + DRILLS} <= {"published", "common practice", "from memory"}
    assert all(row["source"] and row["where"] for row in THREADS + DRILLS)
