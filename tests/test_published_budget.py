"""Error budgets against published values; the sources stand beside each row."""

import math

import numpy as np
import pytest

from latheworks.budget import Contribution, error_budget, kernel
from latheworks.tables import sources
from latheworks.units import Q_, Span
from tests.printed import half_a_digit, rows

ROWS = rows("budget")

MANY = 1_000_000
SCALE = {"nm": ("um", 1000.0), "mm": ("mm", 1.0)}


def size(text):
    number, unit = text.split()
    return Q_(float(number), unit)


def parts(argument):
    """Contributions written as `kind spread unit; ...`."""
    found = []
    for i, text in enumerate(argument.split("; ")):
        kind, spread = text.split(" ", 1)
        found.append(Contribution(f"cause {i}", spread=size(spread), kind=kind))
    return found


def budget(argument, coverage=1):
    return error_budget(parts(argument), Q_(1000.0, "mm"), coverage=coverage, samples=1000)


def length(row, value):
    unit, factor = SCALE[row["unit"]]
    return value.m_as(unit) * factor


def standard_deviation(row):
    (part,) = parts(row["argument"])
    return length(row, part.standard_deviation)


def combined(row):
    return length(row, budget(row["argument"]).standard_deviation)


def expanded(row):
    return length(row, budget(row["argument"], coverage=2).likely.width / 2)


def worst(row):
    return length(row, budget(row["argument"]).worst.width / 2)


def below(row):
    normal = Contribution("cause", spread=Q_(0.01, "mm"))
    limits = Span(None, Q_(20.0 + 0.01 * float(row["argument"]), "mm"))
    if limits.max > Q_(20.0, "mm"):
        return error_budget(normal, limits, aim=Q_(20.0, "mm"), samples=1000).normal_chance
    # The aim has to lie within the limits, so the shift carries the mean beyond.
    shifted = Contribution("cause", Q_(0.5, "mm"), Q_(0.01, "mm"))
    return error_budget(shifted, limits, aim=Q_(19.5, "mm"), samples=1000).normal_chance


def outside(row):
    width = Q_(0.02 * float(row["argument"]), "mm")
    return 100 * (1 - error_budget(Contribution("cause", spread=Q_(0.01, "mm")), width, samples=1000).normal_chance)


def fallout(row):
    width = Q_(0.06 * float(row["argument"]), "mm")
    found = error_budget(Contribution("cause", spread=Q_(0.01, "mm")), width, samples=1000)
    assert found.cp == pytest.approx(float(row["argument"]))
    return 1e6 * (1 - found.normal_chance)


def capability(row):
    low, high, mean, deviation = (size(text) for text in row["argument"].split(" | "))
    limits = Span(low, high)
    found = error_budget(Contribution("cause", mean - limits.mid, deviation), limits, samples=1000)
    return getattr(found, row["quantity"])


def interval(row):
    plain = [part.plain for part in parts(row["argument"])]
    return float(np.quantile(kernel.draw(plain, MANY, np.random.default_rng(7)), 0.975))


CALLS = {call.__name__: call for call in (standard_deviation, combined, expanded, worst, below, outside, fallout,
                                          capability, interval)}  # fmt: skip


def within(row, got):
    """Half a unit of the last printed digit, and four sampling errors of a drawn quantile."""
    digit = half_a_digit(row["printed"])
    if row["call"] != "interval":
        return digit
    # A quantile's error is sqrt(p (1 - p) / n) / density; the density there is at least 0.05 / s for these sums.
    deviation = budget(row["argument"]).standard_deviation.m_as("mm")
    return digit + 4 * math.sqrt(0.025 * 0.975 / MANY) * deviation / 0.05


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['id']} {row['call']}" for row in ROWS])
def test_agrees_with_the_printed_value(row):
    got = CALLS[row["call"]](row)
    assert got == pytest.approx(float(row["printed"]), abs=within(row, got)), row["source"]


def test_there_are_enough_rows_with_known_sources():
    assert {row["call"] for row in ROWS} == set(CALLS)
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    for row in ROWS:
        assert (row["basis"] == "published") == (sources()[row["source"]].basis == "read"), row["id"]
    assert sum(row["basis"] == "published" for row in ROWS) >= 25
