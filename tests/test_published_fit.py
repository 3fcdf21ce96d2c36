"""Fit, plating, errors, dial lines and change gears against published values; the sources stand beside each row."""

import math
from fractions import Fraction

import pytest

from latheworks.tables import sources
from latheworks.threads import change_gears, fit, plating, thread, threading_dial, virtual_pitch_diameter
from latheworks.threads.fit_kernel import lead_growth, plating_factor
from latheworks.threads.making_kernel import flank_clearance, lead_angle
from latheworks.units import Q_
from tests.printed import LEFT_OUT, half_a_digit, is_left_out, rows

THICKNESSES = (3, 5, 8, 10, 12, 15, 20, 25, 30)  # ISO 4042, nominal, in micrometers
ENOUGH = 200


ROWS = rows("fit") + rows("making")
NUMBERS = {"gage", "factor", "plating", "thickest_nominal", "lead_factor", "angle_factor", "lead_growth",
           "flank_clearance", "tilt"}  # fmt: skip


def size(text):
    number, unit = text.split()
    return Q_(float(number), unit)


def attribute(value, names):
    for name in names.split("."):
        value = getattr(value, name)
    return value


def gage(row, external, internal):
    found = {g.name: g.pitch_diameter for g in fit(external, internal).gages}
    return found[row["quantity"]].m_as(row["unit"])


def factor(row, leading, trailing=None):
    half = float(leading) / (2 if trailing is None else 1)
    return plating_factor(math.radians(half), math.radians(half if trailing is None else float(trailing)))


def of_plating(row, name, least, most):
    return attribute(plating(name, size(least), size(most)), row["quantity"]).m_as(row["unit"])


def thickest_nominal(row, name):
    most = plating(name, Q_(0, "um")).thickest.m_as(row["unit"])
    return max(t for t in THICKNESSES if t <= most + 1e-9)


def lead_factor(row, angle):
    name = {"60": "M16x1.5-6g", "55": "G 1/2 A"}[angle]
    found = virtual_pitch_diameter(name, lead_error=Q_(0.01, "mm"))
    return found.growth.m_as("mm") / 0.01


def angle_factor(row, angle):
    assert angle == "60"
    grown = []
    for minute in (1 / 60, -1 / 60):
        error = Q_(minute, "degree")
        found = virtual_pitch_diameter("M16x1.5-6g", leading_error=error, trailing_error=error)
        grown.append(found.growth.m_as("um"))
    return sum(grown) / 2 / 1.5


def of_lead_growth(row, angle, error):
    return lead_growth(size(error).m_as("mm"), math.radians(float(angle) / 2))


def of_flank_clearance(row, angle, relief):
    return flank_clearance(float(relief), float(angle) / 2)


def tilt(row, pitch, diameter):
    lead, outside = size(pitch).m_as("mm"), size(diameter).m_as("mm")
    return float(lead_angle(lead, outside - 0.649519 * lead))


CALLS = {"gage": gage, "factor": factor, "plating": of_plating, "thickest_nominal": thickest_nominal,
         "lead_factor": lead_factor, "angle_factor": angle_factor, "lead_growth": of_lead_growth,
         "flank_clearance": of_flank_clearance, "tilt": tilt}  # fmt: skip


def room(row):
    return 0.25 if row["unit"] == "half degree" else half_a_digit(row["printed"])


def call_of(row):
    return row["call"].removeprefix(LEFT_OUT)


def lead_or_count(text):
    return size(text) if " " in text else Q_(float(text), "1/inch")


def dial_of(row):
    tpi, screw, teeth, lines = row["argument"].split(" | ")
    return threading_dial(Q_(float(tpi), "1/inch"), Q_(float(screw), "1/inch"), int(teeth), int(lines))


def lines_match(row):
    found = dial_of(row)
    if row["printed"] == "any time":
        return found.anywhere
    return " ".join(str(line) for line in found.lines) == row["printed"]


def named(chosen):
    return {"argnames": "row", "argvalues": chosen, "ids": [f"{r['id']} {r['argument']}" for r in chosen]}


@pytest.mark.parametrize(**named([r for r in ROWS if r["call"] in NUMBERS]))
def test_agrees_with_the_printed_number(row):
    got = CALLS[row["call"]](row, *row["argument"].split(" | "))
    assert got == pytest.approx(float(row["printed"]), abs=room(row)), row["source"]


@pytest.mark.parametrize(**named([r for r in ROWS if r["call"] == "dial"]))
def test_the_dial_has_the_printed_lines(row):
    assert lines_match(row), (row["source"], dial_of(row))


@pytest.mark.parametrize(**named([r for r in ROWS if r["call"] == "gears"]))
def test_the_printed_gears_are_found(row):
    lead, screw = (lead_or_count(text) for text in row["argument"].split(" | "))
    for written in row["printed"].split():
        train = tuple(int(teeth) for pair in written.split("x") for teeth in pair.split("/"))
        ratio = Fraction(math.prod(train[::2]), math.prod(train[1::2]))
        found = change_gears(lead, screw, gears=list(train))
        assert found.ratio == ratio
        same = [(sorted(t[::2]), sorted(t[1::2])) for t in found.trains]
        assert (sorted(train[::2]), sorted(train[1::2])) in same


@pytest.mark.parametrize(**named([r for r in ROWS if is_left_out(r)]))
def test_what_is_left_out_differs_and_says_why(row):
    assert len(row["note"]) > 20
    if call_of(row) == "dial":
        assert not lines_match(row)
        return
    got = CALLS[call_of(row)](row, *row["argument"].split(" | "))
    assert abs(got - float(row["printed"])) > room(row)


def test_every_row_is_run_and_has_its_source():
    assert {call_of(row) for row in ROWS} == NUMBERS | {"dial", "gears"}
    assert {row["source"] for row in ROWS} <= set(sources())
    assert all(sources()[row["source"]].basis == "read" and row["basis"] == "published" for row in ROWS)
    assert all(row["where"] and row["printed"] for row in ROWS)
    ids = [row["id"] for row in ROWS]
    assert len(ids) == len(set(ids))
    assert sum(not is_left_out(row) for row in ROWS) >= ENOUGH


def test_the_safe_lines_of_a_chart_are_among_ours():
    """A chart may list fewer lines than would do; none of its lines may be one that we refuse."""
    risky = {"4 | 8 | 16 | 8"}  # printed "at random", which misses half of the time
    for row in ROWS:
        if call_of(row) == "dial" and row["argument"] not in risky and row["printed"] != "any time":
            assert {int(line) for line in row["printed"].split()} <= set(dial_of(row).lines)
    assert not threading_dial(Q_(4, "1/inch"), Q_(8, "1/inch")).anywhere
    assert thread("1/2-13 UNC-2A").pitch.m_as("inch") == pytest.approx(1 / 13)
