"""The printed values of tests/published/: their rows, which are left out, and how near to one is near enough."""

import csv
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent / "published"
LEFT_OUT = "left out: "


def rows(name):
    """All rows of a table."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def is_left_out(row):
    """Whether a printed value is kept only to say why the library's differs from it."""
    return row["call"].startswith(LEFT_OUT)


def rows_by_use(name):
    """All rows of a table, those that are to be met, and those that are left out."""
    every = rows(name)
    return every, [row for row in every if not is_left_out(row)], [row for row in every if is_left_out(row)]


def by_id(some):
    """A test for each of some rows, called by its id."""
    return pytest.mark.parametrize("row", some, ids=[row["id"] for row in some])


def half_a_digit(printed):
    """Half a unit of the last digit printed, and a hair for floats."""
    return 0.5 * 10.0 ** -len(printed.partition(".")[2]) * (1 + 1e-6)


def agrees(row, calls, room):
    """See that the library's value is the printed one, to its room."""
    got = calls[row["call"]](row)
    assert got == pytest.approx(float(row["printed"]), abs=room), (row["where"], row["note"])


def still_differs(row, calls, room):
    """See that a value which is left out is still off by more than its room, and that its row says why."""
    off = abs(calls[row["call"].removeprefix(LEFT_OUT)](row) - float(row["printed"]))
    assert off > room, (row["id"], off)
    assert row["note"], row["id"]
