"""Wires, areas and lengths of engagement against the printed tables named in tests/published/."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest

from latheworks.tables import source
from latheworks.threads import engagement, three_wires
from latheworks.threads import wires_kernel as kernel
from latheworks.units import Q_
from tests.printed import rows

CALLS = ("best_wire", "wire_factor", "pitch_factor", "usable_wire", "acme_wire", "pitch_constant", "over_wires",
         "best_reading", "acme_example", "lead_wire", "engagement", "engagement_120_ksi")  # fmt: skip
# Basic forms, in pitches: from the pitch line to the crest, and how far below the crest the flanks end.
CREST = {60.0: (0.75 * math.sqrt(3) / 4, 0.0), 55.0: (0.640327 / 2, 0.073917), 29.0: (0.25, 0.0)}
DEPTH = {60.0: 0.64951905, 55.0: 0.640327}
# What a source's own short constants and roundings may add to half a digit, as share of the pitch, wire or value.
SLACK_OF_PITCH = {"p. 2130, US thread": 4.5e-5, "p. 2131": 2e-5}


def of_this_file(row):
    return row["quantity"].split(".")[0] in CALLS


WIRES, STRENGTH = rows("wires"), rows("strength")
LEFT_OUT = [row for row in rows("left_out") if of_this_file(row)]


def number(text):
    return float(sum(Fraction(part) for part in text.split()))


def value_of(call, argument, quantity):
    """The library's own value for a row of the tables."""
    if call.startswith("engagement"):
        name, _, mate = (part.strip() for part in argument.partition("|"))
        strength = Q_(120, "ksi") if call.endswith("ksi") else None
        joint = engagement(name, mate_class=mate or None, external_strength=strength, internal_strength=strength)
        return getattr(joint, quantity).magnitude
    parts = [part.strip() for part in argument.split("|")]
    if call == "acme_wire":
        pitch, half = 1 / number(parts[0]), math.radians(14.5)
        return {"best": kernel.best_wire(pitch, half), "largest": kernel.largest_wire(pitch, half, pitch / 4),
                "smallest": kernel.smallest_wire(pitch, half, pitch / 4, pitch / 4)}[quantity]  # fmt: skip
    if call == "acme_example":
        # 5 in., 0.5 in. pitch, two starts, 0.2454 in. thick at the basic pitch line: the pitch diameter follows.
        half, pitch, lead, wire = math.radians(14.5), 0.5, 1.0, 0.258
        mean = 4.75 - (0.25 - 0.2454) / math.tan(half)
        return kernel.over_wires(mean, pitch, wire, half) + kernel.lead_term(mean, pitch, lead, wire, half)
    if call == "lead_wire":
        half, starts = math.radians(14.5), float(parts[0])
        mean = starts / math.pi / math.tan(math.radians(float(parts[1])))
        wire = kernel.best_wire_with_lead(mean, 1.0, starts, half)
        reading = kernel.over_wires(mean, 1.0, wire, half) + kernel.lead_term(mean, 1.0, starts, wire, half)
        return {"best": wire, "constant": reading - mean}[quantity]
    angle = float(parts[0])
    half = math.radians(angle) / 2
    if call == "usable_wire":
        crest, rounding = CREST[angle]
        ends = {"smallest": kernel.smallest_wire(1.0, half, crest, crest),
                "largest": kernel.largest_wire(1.0, half, crest - rounding)}  # fmt: skip
        return ends[quantity]
    if call == "over_wires":
        major, pitch, wire = number(parts[1]), 1 / float(parts[2]), float(parts[3])
        return kernel.over_wires(major - DEPTH[angle] * pitch, pitch, wire, half)
    plain = {"best_wire": lambda: kernel.best_wire(1.0, half), "wire_factor": lambda: kernel.wire_factor(half),
             "pitch_factor": lambda: kernel.pitch_factor(half),
             "pitch_constant": lambda: kernel.pitch_factor(half) / float(parts[1]),
             "best_reading": lambda: kernel.over_wires(0.0, 1 / float(parts[1]),
                                                       kernel.best_wire(1 / float(parts[1]), half), half)}  # fmt: skip
    return plain[call]()


def slack(row):
    """Half a unit of the last digit printed, and what the source's own roundings add."""
    unit = 10.0 ** Decimal(row["printed"]).as_tuple().exponent
    if row["call"] == "lead_wire":
        return 2.5 * unit  # a table built up by differences, good to 2 in its fifth decimal
    if row["source"] == "mh27_acme_areas" and row["quantity"] == "stress_area":
        return 1.05 * unit  # from limits before they are rounded to four decimals
    half = 0.5 * unit * (1 + 1e-6)
    if row["source"] == "bickford_areas":
        return half + 3e-6 * float(row["printed"])  # pi taken as 3.1416
    if row["where"] in SLACK_OF_PITCH:
        _, _, threads, wire = row["argument"].split(" | ")
        return half + SLACK_OF_PITCH[row["where"]] * (1 / float(threads) + float(wire))
    return half


@pytest.mark.parametrize("row", WIRES + STRENGTH, ids=lambda row: f"{row['id']} {row['argument']} {row['quantity']}")
def test_a_value_is_as_printed(row):
    found = value_of(row["call"], row["argument"], row["quantity"])
    assert found == pytest.approx(float(row["printed"]), abs=slack(row)), row["source"]


@pytest.mark.parametrize("row", LEFT_OUT, ids=lambda row: f"{row['argument']} {row['quantity']}")
def test_a_printed_value_left_out_differs_as_recorded(row):
    call, quantity = row["quantity"].split(".")
    found = value_of(call, row["argument"], quantity)
    unit = 10.0 ** Decimal(row["printed"]).as_tuple().exponent
    assert row["why"]
    assert abs(found - float(row["printed"])) > 0.5 * unit
    assert found == pytest.approx(float(row["expected"]), abs=0.5 * unit * (1 + 1e-6))


def test_the_public_tables_stand_on_the_same_kernel():
    """What three_wires shows for a single-start Acme thread is the printed best wire, in range of the printed ends."""
    wires = three_wires("1-5 ACME-2G")
    assert wires.best.m_as("in") == pytest.approx(0.10329, abs=5e-6)
    assert 0.0974 < wires.smallest.m_as("in") < wires.best.m_as("in") < wires.largest.m_as("in") < 0.1305


def test_there_are_enough_published_values_each_with_its_source():
    assert len(WIRES) >= 200
    assert len(STRENGTH) >= 180
    every = WIRES + STRENGTH
    assert len({row["id"] for row in every}) == len(every)
    assert {row["basis"] for row in every} == {"published"}
    assert all(source(row["source"]).basis == "read" and row["where"] for row in every)
    assert {row["call"] for row in every} <= set(CALLS)
