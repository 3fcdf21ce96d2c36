"""ACME, trapezoidal and pipe threads against the printed tables named in tests/published/, to half a last digit."""

import pytest

from latheworks.tables import sources, table
from latheworks.threads import tap_drills, thread
from tests.printed import half_a_digit, rows

THREADS = rows("threads_acme") + rows("threads_trapezoidal") + rows("threads_pipe")
LEFT_OUT = rows("left_out_power")


def value_of(row):
    value = thread(row["argument"])
    for name in row["quantity"].split("."):
        value = getattr(value, name)
    return value.m_as(row["unit"])


@pytest.mark.parametrize("row", THREADS, ids=lambda row: f"{row['id']} {row['argument']} {row['quantity']}")
def test_a_thread_has_the_printed_value(row):
    assert value_of(row) == pytest.approx(float(row["printed"]), abs=half_a_digit(row["printed"])), row["source"]


@pytest.mark.parametrize("row", LEFT_OUT, ids=lambda row: f"{row['argument']} {row['quantity']}")
def test_a_printed_value_left_out_differs_as_recorded(row):
    assert row["why"]
    found = value_of(row)
    assert abs(found - float(row["printed"])) > half_a_digit(row["printed"])
    assert found == pytest.approx(float(row["expected"]), abs=half_a_digit(row["expected"]))


# Two independent tables agree: the drills that handbooks list make holes inside the limits of the standards.
@pytest.mark.parametrize("row", table("pipe_tap_drills"), ids=lambda row: f"{row['system']} {row['size']}")
def test_a_listed_tap_drill_is_inside_the_limits_of_the_hole(row):
    name = f"{row['size']} NPT INT" if row["system"] == "npt" else f"G {row['size']}"
    best = tap_drills(name).best
    assert best.diameter.m_as(row["unit"]) == float(row["diameter"])
    assert best.within_limits
    # G 1/8 and the like are near 75 %; none is under 60 % or over a full form.
    assert 60 < best.percent_thread.m_as("percent") < 100


def test_there_are_enough_published_values():
    assert sum(row["basis"] == "published" for row in THREADS) >= 300
    for family in ("acme", "trapezoidal", "pipe"):
        assert sum(row["basis"] == "published" for row in rows(f"threads_{family}")) >= 60
    ids = [row["id"] for row in THREADS]
    assert len(ids) == len(set(ids))
    assert {row["basis"] for row in THREADS} == {"published", "from memory"}
    for row in THREADS + LEFT_OUT:
        assert row["source"] in sources()
        assert row["where"]
    read = {row["source"] for row in THREADS if row["basis"] == "published"}
    assert all(sources()[key].basis == "read" for key in read)
