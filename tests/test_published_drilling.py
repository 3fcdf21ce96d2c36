"""Points, travel, times, factors and loads of drills against published values, to half a unit of the last digit."""

import pytest

from latheworks.drilling import drilling_load, hole_travel, kernel, point_length
from latheworks.tables import sources, table
from latheworks.units import Q_
from tests.printed import agrees, by_id, half_a_digit, rows_by_use, still_differs

ROWS, TESTED, NOT_MET = rows_by_use("drilling")
COURSE = drilling_load(Q_(10, "mm"), Q_(0.3, "mm/rev"), "steel 1045")


def numbers(argument):
    return [float(part) for part in argument.split("|")]


def chisel(row):
    at = ("torque A", "thrust B", "thrust J").index(row["quantity"])
    return float(kernel.chisel_terms(float(row["argument"]))[at])


def example(row):
    """The factors as printed in its tables, Kd of 24000; the power at 350 turns a minute."""
    which, wear = (part.strip() for part in row["argument"].split("|"))
    factors = kernel.chisel_factors(0.18) if which == "standard" else (1.0, 1.0, 0.0)
    thrust, torque = kernel.handbook(24000.0, 24000.0, 0.875 * 25.4, 0.008 * 25.4, factors, float(wear))
    power = Q_(kernel.power(torque, 350.0), "kW")
    made = {"thrust": Q_(thrust, "N"), "torque": Q_(torque, "N*mm"), "power": power}
    return float(made[row["quantity"]].m_as(row["unit"]))


def travelled(argument, unit="mm"):
    d, depth, kind, angle, approach, overrun, *_ = (part.strip() for part in argument.split("|"))
    size, deep, before, beyond = (Q_(float(value), unit) for value in (d, depth, approach, overrun))
    return hole_travel(size, deep, kind == "through", Q_(float(angle), "degree"), before, beyond)


def time(row):
    feed, turns = numbers("|".join(row["argument"].split("|")[6:]))
    return travelled(row["argument"]).time(Q_(feed, "mm/rev"), Q_(turns, "rev/min")).m_as(row["unit"])


def point(row):
    d, angle = numbers(row["argument"])
    return point_length(Q_(d, row["unit"]), Q_(angle, "degree")).m_as(row["unit"])


def removal(row):
    d, feed, turns = numbers(row["argument"])
    found = drilling_load(Q_(d, "mm"), Q_(feed, "mm/rev"), "brass", spindle=Q_(turns, "rev/min")).removal_rate
    return found.m_as(row["unit"])


def energy(row):
    d, feed, specific, *turns = numbers(row["argument"])
    torque = kernel.kienzle(specific, 0.0, d, feed, 118.0)[1]
    return kernel.power(torque, turns[0]) * 1000 if turns else torque / 1000


CALLS = {
    "feed_factor": lambda row: kernel.feed_factor(float(row["argument"])),
    "thrust_factor": lambda row: kernel.thrust_factor(float(row["argument"])),
    "torque_factor": lambda row: kernel.torque_factor(float(row["argument"])),
    "chisel": chisel, "example": example, "time": time, "point": point, "removal": removal,
    "travel": lambda row: travelled(row["argument"], row["unit"]).travel.m_as(row["unit"]),
    "energy": energy, "energy_power": energy,
}  # fmt: skip


def room(row):
    """Half a unit of the last printed digit; the chisel table is rounded to 0.005; the example rounds its factors."""
    if row["call"].endswith("chisel"):
        return 0.006
    digits = half_a_digit(row["printed"])
    return max(digits, 0.007 * float(row["printed"])) if row["call"] == "example" else digits + 1e-9


@by_id(TESTED)
def test_agrees_with_the_printed_value(row):
    agrees(row, CALLS, room(row))


@by_id(NOT_MET)
def test_what_is_left_out_still_differs(row):
    still_differs(row, CALLS, room(row))


def test_there_are_enough_rows_with_known_sources():
    assert sum(row["basis"] == "published" for row in TESTED) >= 150
    assert {row["call"] for row in TESTED} == set(CALLS)
    assert all(row["source"] in sources() for row in ROWS)
    assert {row["basis"] for row in ROWS} <= {"published", "from memory", "common practice"}
    assert len({row["id"] for row in ROWS}) == len(ROWS)


def test_the_chisel_table_is_used_as_printed_and_straight_between():
    for row in table("drill_chisel"):
        wanted = [float(row[name]) for name in ("torque A", "thrust B", "thrust J")]
        assert kernel.chisel_factors(float(row["c/d"])) == pytest.approx(wanted)
    assert kernel.chisel_factors(0.19) == pytest.approx((1.095, 1.3675, 0.035))


def test_a_courses_10_mm_drill_lies_in_the_band():
    """A course on the web: 15 N m and 2500 N at 0.3 mm/rev, with no material named."""
    assert COURSE.torque_band.min.m_as("N*m") <= 15 <= COURSE.torque_band.max.m_as("N*m") + 1
    assert COURSE.thrust_band.min.m_as("N") <= 2500 <= COURSE.thrust_band.max.m_as("N")


def test_a_tool_makers_form_lies_near_the_band():
    """Tc = 570 K D f^0.85 and Mc = K D^2 (0.630 + 16.84 f)/100, K 1.42 for free-cutting, 2.22 for S20C steel."""
    for name, k in (("steel 12L14", 1.42), ("steel 1018", 2.22)):
        load = drilling_load(Q_(10, "mm"), Q_(0.2, "mm/rev"), name)
        thrust, torque = 570 * k * 10 * 0.2**0.85, k * 100 * (0.630 + 16.84 * 0.2) / 100
        assert load.thrust_band.min.m_as("N") < thrust < load.thrust_band.max.m_as("N") * 1.1
        assert load.torque_band.min.m_as("N*m") < torque < load.torque_band.max.m_as("N*m") * 1.1
