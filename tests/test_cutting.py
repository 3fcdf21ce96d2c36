"""The cutting room from outside: both routes side by side, texts, workings that can be redone, and what is refused."""

import re
from dataclasses import replace

import numpy as np
import pytest

from latheworks.cutting import (
    cutting_force,
    cutting_forces,
    economic_speed,
    edges,
    parting_force,
    power,
    roughness,
    spindle_for,
    surface_speed,
    taylor,
    tool_life,
)
from latheworks.cutting.unit_power import feed_factor, unit_power_of
from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.materials import material, materials
from latheworks.shop import lathe
from latheworks.tables import table
from latheworks.units import Q_

DEPTH, FEED = Q_(1.5, "mm"), Q_(0.2, "mm/rev")
CUTTABLE = [name for name in materials() if material(name).specific_cutting_force is not None]
SLOW = Q_(200, "rev/min")


@pytest.mark.parametrize("name", CUTTABLE)
def test_the_pair_that_is_used_stands_first_in_the_table_of_pairs(name):
    first = next(row for row in table("specific_forces") if row["material"] == name)
    found = material(name)
    assert float(first["kc1.1 [MPa]"]) == found.specific_cutting_force.m_as("MPa")
    assert float(first["mc"]) == found.chip_thickness_exponent


@pytest.mark.parametrize("name", CUTTABLE)
def test_both_routes_agree_as_far_as_published_tables_do(name):
    """They come from different books; a factor of two between them would be a mistake of units, not scatter."""
    found = cutting_forces(name, DEPTH, FEED)
    assert 0.45 < (found.unit_power_force / found.tangential).magnitude < 1.6
    assert found.unit_power_band.min <= found.unit_power_force <= found.unit_power_band.max
    assert "by unit power" in str(found)
    assert unit_power_of(name).source in found.working.text()


def test_with_a_sharp_corner_the_main_force_is_that_of_the_short_call():
    for kappa in (45, 75, 90):
        angle = Q_(kappa, "degree")
        short = cutting_force("steel 1045", DEPTH, FEED, angle)
        assert cutting_forces("steel 1045", DEPTH, FEED, Q_(0, "mm"), angle).tangential.m_as("N") == pytest.approx(
            short.m_as("N")
        )


def test_any_unit_gives_the_same_forces():
    metric = cutting_forces("brass", DEPTH, FEED, Q_(0.4, "mm"))
    inch = cutting_forces("brass", DEPTH.to("in"), FEED.to("in/rev"), Q_(400, "um"), Q_(np.pi / 2, "rad"))
    assert inch.radial.m_as("N") == pytest.approx(metric.radial.m_as("N"))


def test_a_dull_edge_raises_every_force_of_both_routes():
    sharp, dull = (cutting_forces("steel 1018", DEPTH, FEED, wear=w) for w in (1.0, 1.3))
    for name in ("tangential", "feed_force", "radial", "unit_power_force"):
        assert (getattr(dull, name) / getattr(sharp, name)).magnitude == pytest.approx(1.3)


def test_feed_factor_meets_the_table_and_is_held_at_its_ends():
    for row in table("feed_factors"):
        assert feed_factor(float(row["feed [mm/rev]"])) == pytest.approx(float(row["C"]))
    assert feed_factor(np.array([0.001, 5.0])) == pytest.approx([1.70, 0.72])
    assert 1.11 < feed_factor(0.17) < 1.15


def test_a_material_with_values_of_its_own_is_not_mixed_with_the_table():
    own = replace(material("brass"), specific_cutting_force=Q_(900, "MPa"))
    found = cutting_forces(own, DEPTH, FEED)
    assert len(found.pairs) == 1
    assert found.pairs[0][0] == 900


def test_a_thin_chip_and_a_pulling_edge_are_said():
    assert "thinner than 0.05 mm" in str(cutting_forces("brass", Q_(0.05, "mm"), Q_(0.05, "mm/rev")))
    pulled = cutting_forces("brass", Q_(5, "mm"), FEED, Q_(0.1, "mm"), Q_(120, "degree"))
    assert pulled.radial.magnitude < 0
    assert "pulls the part" in str(pulled)


RESULTS = {
    "forces": cutting_forces("aluminum 6061-T6", DEPTH, FEED, system="inch"),
    "acetal's neighbor, dull": cutting_forces("steel 12L14", DEPTH, FEED, wear=1.3, rake=Q_(6, "degree")),
    "parting": parting_force("brass", Q_(3, "mm"), Q_(0.05, "mm/rev")),
    "power": power(cutting_forces("steel 1045", DEPTH, FEED), Q_(32, "mm"), SLOW),
    "spindle": spindle_for(Q_(1000, "m/min"), Q_(20, "mm"), system="inch"),
    "edge": taylor("ceramic on steel"),
    "economic": economic_speed("coated carbide on steel", Q_(1, "min"), 2.5, 45.0),
    "roughness": roughness(Q_(0.1, "mm/rev"), Q_(0.8, "mm"), Q_(7, "degree"), system="inch"),
    "rough": roughness(Q_(0.5, "mm/rev"), Q_(0.4, "mm"), Q_(7, "degree")),
}


@pytest.mark.parametrize("name", RESULTS)
def test_a_result_reads_well(name):
    found = RESULTS[name]
    text, html = str(found), found._repr_html_()
    assert "nan" not in text.lower()
    assert html.startswith("<table")
    assert all(len(fact) == 2 and fact[1] for fact in found.facts())
    if name in ("forces", "roughness"):
        assert re.search(r"\b(lbf|µin)\b", text)


def evaluated(line):
    """The numbers of a line of the working, put through Python."""
    sum_ = line.numbers.replace(" x ", "*").replace("^", "**").replace("2 pi", "6.2831853").replace("pi", "3.14159265")
    sum_ = re.sub(r"\) \(", ")*(", sum_)
    return eval(re.sub(r"(sin|cos) ([\d.]+)°", r"np.\1(np.radians(\2))", sum_), {"np": np})


@pytest.mark.parametrize(("name", "symbols"), [
    ("forces", {"h", "Fc", "Ff", "Fp", "Fc, second route"}), ("acetal's neighbor, dull", {"Fc", "Fc, second route"}),
    ("power", {"T", "P", "P motor"}), ("spindle", {"n"}), ("economic", {"T", "v"}), ("roughness", {"Ra"}),
])  # fmt: skip
def test_the_working_can_be_redone(name, symbols):
    lines = {line.symbol: line for line in RESULTS[name].working}
    assert symbols <= set(lines)
    for symbol in symbols:
        printed = float(lines[symbol].result.split()[0])
        assert evaluated(lines[symbol]) == pytest.approx(printed, rel=4e-3), lines[symbol]


def test_many_speeds_at_once():
    edge = taylor("carbide on steel")
    lives = tool_life(Q_([100.0, 200.0], "m/min"), edge, FEED, DEPTH).m_as("min")
    assert lives[0] / lives[1] == pytest.approx(16)
    assert surface_speed(Q_([100.0, 200.0], "rev/min"), Q_([10.0, 20.0], "mm")).shape == (2,)
    assert tool_life(Q_(100, "m/min"), "carbide on steel").m_as("min") == pytest.approx(5**4)


def test_more_feed_or_depth_shortens_the_life_and_speed_does_most():
    base = tool_life(Q_(20, "m/min"), edges()[0], FEED, DEPTH)
    feed = tool_life(Q_(20, "m/min"), edges()[0], 1.2 * FEED, DEPTH)
    depth = tool_life(Q_(20, "m/min"), edges()[0], FEED, 1.2 * DEPTH)
    speed = tool_life(Q_(24, "m/min"), edges()[0], FEED, DEPTH)
    assert speed < feed < depth < base


def test_the_lathe_holds_the_spindle_within_its_range():
    fast, slow = (spindle_for(Q_(v, "m/min"), Q_(40, "mm")) for v in (500, 1))
    assert (fast.spindle, slow.spindle) == (lathe().fastest_spindle, lathe().slowest_spindle)
    assert fast.surface_speed < fast.asked
    assert slow.surface_speed > slow.asked
    assert "fastest" in str(fast)
    assert "slowest" in str(slow)
    assert spindle_for(Q_(50, "m/min"), Q_(40, "mm")).limited_by == ""


@pytest.mark.parametrize(("call", "kind", "words"), [
    (lambda: cutting_forces("POM", DEPTH, FEED), NotInTable, "published kc1.1"),
    (lambda: parting_force("POM", Q_(3, "mm"), FEED), NotInTable, "published kc1.1"),
    (lambda: power(RESULTS["forces"], Q_(2, "mm"), SLOW), Impossible, "counted on the radius"),
    (lambda: power("steel", Q_(32, "mm"), SLOW), WrongUnit, "cutting_forces"),
    (lambda: power(RESULTS["forces"], Q_(32, "mm"), Q_(3000, "rev/min")), OutOfRange, "at most 2000"),
    (lambda: surface_speed(Q_([1.0, 2.0], "rev/min"), Q_([1.0, 2.0, 3.0], "mm")), WrongUnit, "2 speeds and 3"),
    (lambda: taylor(), WrongUnit, "carbide"),
    (lambda: taylor("carbide on steal"), NotInTable, 'edge="carbide on steel"'),
    (lambda: taylor("carbide on steel", n=0.2), LatheworksError, "to leave one out"),
    (lambda: tool_life(Q_(0.1, "m/min"), "carbide on steel"), OutOfRange, "1e6 min"),
    (lambda: roughness(FEED, Q_(0, "mm")), Impossible, "sharp corner"),
    (lambda: roughness(Q_(1.0, "mm/rev"), Q_(0.4, "mm")), Impossible, "the width of the nose"),
    (lambda: cutting_forces("brass", DEPTH, FEED, wear=Q_(1, "mm")), WrongUnit, "a plain number"),
    (lambda: cutting_forces("brass", DEPTH, Q_(100, "mm/min")), WrongUnit, "mm/rev"),
])  # fmt: skip
def test_what_cannot_be_gets_a_sentence(call, kind, words):
    with pytest.raises(kind) as refused:
        call()
    assert words in str(refused.value)
    assert "Try" in str(refused.value)
