"""Infeed and thread geometry against published values, to half a unit of the last printed digit."""

import re
from dataclasses import replace

import pytest

from latheworks.tables import sources
from latheworks.threads import infeed, infeed_kernel, thread
from latheworks.units import Q_, U
from tests.printed import by_id, half_a_digit, rows

ROWS = rows("infeed")

# A thread of each kind whose default depth is the constant; "sharp" is the height of the V itself.
KINDS = {"external": "M10x1.5-6g", "internal": "M10x1.5-6H", "external UNR": "1/2-13 UNRC-2A"}


def depth_constant(argument: str) -> float:
    if argument == "sharp":
        return infeed_kernel.HEIGHT
    schedule = infeed(KINDS[argument])
    return (schedule.total_depth / schedule.thread.pitch).m_as(U.one)


def compound_travel(argument: str) -> float:
    tpi, angle, depth = (float(part) for part in argument.split("|"))
    pitch = Q_(1 / tpi, U.inch)
    cut = replace(thread("1-8 UNC-2A"), pitch=pitch, lead=pitch)
    schedule = infeed(cut, method="modified flank", compound_angle=Q_(angle, U.deg), depth=depth * pitch)
    return schedule.slide_travel[-1].m_as(U.inch)


def cumulative_depth(argument: str) -> float:
    total, passes, law, k = (part.strip() for part in argument.split("|"))
    size, unit = total.split()
    schedule = infeed("M16x1.5-6g", int(passes), law, depth=Q_(float(size), unit))
    return schedule.depth[int(k) - 1].m_as(unit)


def lead_angle(argument: str) -> float:
    return thread(argument).lead_angle.m_as(U.deg)


CALLS = {call.__name__: call for call in (depth_constant, compound_travel, cumulative_depth, lead_angle)}


@by_id(ROWS)
def test_agrees_with_the_printed_value(row):
    got = CALLS[row["call"]](row["argument"])
    if minutes := re.search(r"printed (\d+) deg (\d+) min", row["note"]):
        # The source prints whole minutes, so half a minute is half a unit of its last digit.
        assert got == pytest.approx(int(minutes[1]) + int(minutes[2]) / 60, abs=0.5 / 60 + 1e-9)
        return
    assert got == pytest.approx(float(row["printed"]), abs=half_a_digit(row["printed"]) + 1e-9), row["where"]


def test_there_are_enough_rows_with_known_sources():
    assert len(ROWS) >= 20
    assert {row["call"] for row in ROWS} >= set(CALLS)
    assert all(row["source"] in sources() for row in ROWS)
    assert sum(row["basis"] == "published" for row in ROWS) >= 20


# Worked out by hand on a page of notes for this job, by the square root law and the law of the eased first pass.
@pytest.mark.parametrize(
    ("law", "by_hand"),
    [
        ("equal area", (0.376, 0.531, 0.651, 0.751, 0.840, 0.920)),
        ("eased first pass", (0.225, 0.411, 0.582, 0.713, 0.823, 0.920)),
    ],
)
def test_six_passes_worked_out_by_hand(law, by_hand):
    schedule = infeed("M16x1.5-6g", 6, law, depth=Q_(0.92, "mm"))
    assert schedule.depth[:6].m_as("mm").tolist() == pytest.approx(by_hand, abs=0.0006)


@pytest.mark.parametrize(("angle", "travel"), [(29.5, 1.05704), (29.0, 1.05189)])
def test_compound_travel_worked_out_by_hand(angle, travel):
    schedule = infeed("M16x1.5-6g", method="modified flank", compound_angle=Q_(angle, U.deg), depth=Q_(0.92, "mm"))
    assert schedule.slide_travel[-1].m_as("mm") == pytest.approx(travel, abs=5e-6)
