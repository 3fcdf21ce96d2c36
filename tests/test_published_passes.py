"""Times, removal rates, tapers and offsets against published values, to half a unit of the last printed digit."""

from dataclasses import replace

from latheworks.passes import facing_time, nose_radius_error, taper_setting, turning_time
from latheworks.shop import lathe
from latheworks.tables import sources
from latheworks.units import Q_
from tests.printed import agrees, by_id, half_a_digit, rows_by_use, still_differs

ROWS, TESTED, NOT_MET = rows_by_use("passes")
# One source takes 3.14 for pi; the table of tapers cuts off its fifth decimal, which is 0.0012 degrees of angle.
SHARES = {"turning_sheet": 6e-4}
ANGLE = 0.0012
LATHE = replace(lathe(), slowest_spindle=Q_(1, "rev/min"), fastest_spindle=Q_(10_000, "rev/min"))


def sizes(row):
    return [Q_(float(number), unit) for number, unit in (part.split() for part in row["argument"].split(" | "))]


def law(value):
    """A surface speed or turns, whichever the value is."""
    return {"spindle" if value.is_compatible_with("rev/min") else "surface_speed": value}


def turned(row, **more):
    length, diameter, feed, speed, *depth = sizes(row)
    known = {"depth": depth[0]} if depth and not more else {}
    return turning_time(length, diameter, feed, **law(speed), **known, lathe=LATHE, **more)


def faced(row):
    outside, feed, speed, *inside = sizes(row)
    return facing_time(outside, feed, **law(speed), inside=inside[0] if inside else None, lathe=LATHE)


def quantity(found, row):
    rate = found.path / found.time if row["quantity"] == "feed_rate" else getattr(found, row["quantity"])
    return rate.m_as(row["unit"])


def cutting_power(row):
    argument, _, energy = row["argument"].rpartition(" | ")
    return (turned({"argument": argument}).removal_rate * Q_(float(energy), "W*s/mm**3")).m_as(row["unit"])


def travel(row):
    *_, approach = sizes(row)
    found = turned(row, approach=approach)
    return (found.cutting_time * found.feed * found.spindle).m_as(row["unit"])


def revolutions(row):
    found = turned(row)
    return (found.cutting_time * found.spindle).m_as("rev")


def nose_product(row):
    radius, angle = sizes(row)
    return (radius - nose_radius_error(radius, angle).diameter / 2).m_as(row["unit"])


CALLS = {
    "turning": lambda row: quantity(turned(row), row),
    "facing": lambda row: quantity(faced(row), row),
    "cutting_power": cutting_power,
    "travel": travel,
    "revolutions": revolutions,
    "taper": lambda row: quantity(taper_setting(*sizes(row)), row),
    "included": lambda row: quantity(taper_setting(*sizes(row)), row),
    "taper_per_meter": lambda row: 1000 * taper_setting(*sizes(row)).taper,
    "nose": lambda row: quantity(nose_radius_error(*sizes(row)), row),
    "nose_product": nose_product,
}


def room(row):
    """Half a unit of the last printed digit, or what the source's own rounding needs."""
    if row["call"].endswith("included"):
        return ANGLE
    digits = half_a_digit(row["printed"])
    return max(digits, SHARES.get(row["source"], 0.0) * float(row["printed"])) + 1e-9


@by_id(TESTED)
def test_agrees_with_the_printed_value(row):
    agrees(row, CALLS, room(row))


@by_id(NOT_MET)
def test_what_is_left_out_still_differs(row):
    still_differs(row, CALLS, room(row))


def test_there_are_enough_rows_with_known_sources():
    assert sum(row["basis"] == "published" for row in TESTED) >= 45
    assert {row["call"] for row in TESTED} == set(CALLS)
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["source"] in sources() for row in ROWS)
    assert {row["basis"] for row in ROWS} <= {"published", "from memory"}
