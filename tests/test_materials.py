"""Materials and the cutting force: published values as printed, names, and bad input."""

import numpy as np
import pytest

from latheworks.cutting import cutting_force
from latheworks.errors import LatheworksError, NotInTable, WrongUnit
from latheworks.materials import material, materials
from latheworks.tables import source, table
from latheworks.units import Q_

# Callister, Fundamentals of Materials Science and Engineering, 3rd ed., Appendix B: Tables B.2 (modulus [GPa],
# a range for gray iron), B.1 (density [g/cm3]), B.6 (expansion [1e-6/K]). Read, but for the modulus and density of
# C36000 (from memory). POM: Engineering Plastics Handbook, Table 5.5, page 91, homopolymer (read).
PROPERTIES = {
    "aluminum 6061-T6": ((69, 69), 2.70, 23.6),
    "wrought aluminum": ((69, 69), 2.71, 23.6),
    "steel 1018": ((207, 207), 7.85, 11.7),
    "steel 12L14": ((207, 207), 7.85, 11.7),
    "steel 1045": ((207, 207), 7.85, 11.3),
    "stainless steel 304": ((193, 193), 8.00, 17.2),
    "brass": ((97, 97), 8.50, 20.5),
    "gray cast iron": ((90, 113), 7.30, 11.4),
    "POM": ((3.0, 3.0), 1.41, 104),
}

# Iscar, catalog of turning tools 2017, page 558: groups to ISO 513 and VDI 3323, kc1 [N/mm2] and mc as printed.
GROUPS = {
    "steel 1018": (1350, 0.21),
    "steel 12L14": (1350, 0.21),
    "steel 1045": (1500, 0.22),
    "stainless steel 304": (2150, 0.20),
    "gray cast iron": (1150, 0.20),
    "wrought aluminum": (700, 0.25),
    "aluminum 6061-T6": (800, 0.25),
    "brass": (700, 0.27),
}


@pytest.mark.parametrize("name", PROPERTIES)
def test_properties_as_printed(name):
    (low, high), density, growth = PROPERTIES[name]
    found = material(name)
    assert low <= found.elastic_modulus.m_as("GPa") <= high
    assert found.density.m_as("g/cm**3") == pytest.approx(density)
    assert found.thermal_expansion.m_as("1/K") * 1e6 == pytest.approx(growth)


@pytest.mark.parametrize("name", GROUPS)
def test_specific_force_is_what_a_chip_of_one_by_one_millimeter_takes(name):
    """That is how kc1.1 is defined: 1 mm wide, 1 mm thick (Sandvik Coromant, the specific cutting force, read)."""
    printed, _ = GROUPS[name]
    assert cutting_force(name, Q_(1, "mm"), Q_(1, "mm/rev")).m_as("N") == pytest.approx(printed)


@pytest.mark.parametrize("name", GROUPS)
def test_half_the_feed_takes_more_than_half_the_force(name):
    """By the printed exponent: halving the chip's thickness divides the force by 2^(1 - mc)."""
    full, half = (cutting_force(name, Q_(2, "mm"), Q_(feed, "mm/rev")).m_as("N") for feed in (0.4, 0.2))
    assert full / half == pytest.approx(2 ** (1 - GROUPS[name][1]))


def test_every_material_is_covered_and_sourced():
    assert set(materials()) == set(PROPERTIES)
    assert set(materials()) == {*GROUPS, "POM"}
    for row in table("materials"):
        for key in row["source"].split("+"):
            assert source(key).title
        assert row["note"]


@pytest.mark.parametrize(
    ("alias", "name"),
    [("6061", "aluminum 6061-T6"), ("Aluminium 6061-T6", "aluminum 6061-T6"), (" 1045 ", "steel 1045"),
     ("mild  steel", "steel 1018"), ("grey cast iron", "gray cast iron"), ("acetal", "POM"), ("pom", "POM")],
)  # fmt: skip
def test_other_names(alias, name):
    assert material(alias).name == name
    assert material(material(alias)) is material(name)


def test_a_material_says_what_it_is():
    said = str(material("1045"))
    assert "207 GPa" in said
    assert "1500 MPa" in said
    assert "Callister" in said
    assert "no published pair" in material("POM")._repr_html_()


@pytest.mark.parametrize("value", [None, 3, True, [], float("nan"), Q_(3, "mm"), np.array([]), object])
def test_only_text_names_a_material(value):
    with pytest.raises(WrongUnit, match="name of a material"):
        material(value)


@pytest.mark.parametrize(
    ("value", "near"), [("stel 1045", "steel 1045"), ("alumnium", "wrought aluminum"), ("", ""), ("x" * 9999, "")]
)
def test_an_unknown_material_gets_the_nearest_name(value, near):
    with pytest.raises(NotInTable) as caught:
        material(value)
    assert f'Try material="{near}' in str(caught.value)
    assert len(str(caught.value)) < 500


def test_force_of_a_turning_cut_by_hand():
    """1500 x 2 x 0.25^0.78 = 1017.5 N at 90 degrees; at 45 the chip is 2.828 wide, 0.1768 thick: 1098 N."""
    depth, feed = Q_(2, "mm"), Q_(0.25, "mm/rev")
    assert cutting_force("steel 1045", depth, feed).m_as("N") == pytest.approx(1017.5, abs=0.05)
    tilted = cutting_force("steel 1045", depth, feed, Q_(45, "degree"))
    assert tilted.m_as("N") == pytest.approx(1098, abs=0.5)


def test_force_takes_arrays_and_other_units():
    feeds = Q_([0.1, 0.2], "mm/rev")
    found = cutting_force("brass", Q_(1, "mm"), feeds)
    assert found.shape == (2,)
    inch = cutting_force("brass", Q_(1 / 25.4, "in"), Q_(0.2 / 25.4, "in/rev"))
    assert inch.m_as("N") == pytest.approx(found[1].m_as("N"))
    assert np.ndim(inch.magnitude) == 0


def test_no_force_without_a_published_pair():
    with pytest.raises(NotInTable, match="POM"):
        cutting_force("POM", Q_(1, "mm"), Q_(0.1, "mm/rev"))


NAN, INF = float("nan"), float("inf")
GOOD = {"material": "brass", "depth": Q_(1, "mm"), "feed": Q_(0.1, "mm/rev"), "entering_angle": Q_(90, "degree")}
BAD = [
    *(("depth", v) for v in (1, "1 mm", True, None, Q_(1, "N"), Q_(0, "mm"), Q_(-1, "mm"), Q_(NAN, "mm"),
                             Q_(INF, "mm"), Q_([], "mm"), Q_([1, NAN], "mm"))),
    *(("feed", v) for v in (0.1, "0.1", True, None, Q_(0.1, "mm"), Q_(100, "mm/min"), Q_(0, "mm/rev"),
                            Q_(-1, "mm/rev"), Q_(NAN, "mm/rev"), Q_(INF, "mm/rev"), Q_([], "mm/rev"))),
    *(("entering_angle", v) for v in (90, "90", True, Q_(90, ""), Q_(90, "mm"), Q_(0, "degree"), Q_(180, "degree"),
                                      Q_(NAN, "degree"), Q_(INF, "degree"), Q_([], "degree"), Q_([90.0], "degree"))),
    *(("material", v) for v in (3, None, True, "", "unobtainium", Q_(1, "MPa"))),
]  # fmt: skip


@pytest.mark.parametrize(("name", "value"), BAD, ids=[f"{name}={value!r:.30}" for name, value in BAD])
def test_nonsense_is_refused(name, value):
    with pytest.raises(LatheworksError, match=f"cutting_force: {name}: got"):
        cutting_force(**{**GOOD, name: value})


def test_shapes_that_do_not_fit_are_refused():
    with pytest.raises(LatheworksError, match="2 depths and 3 feeds"):
        cutting_force("brass", Q_([1, 2], "mm"), Q_([0.1, 0.2, 0.3], "mm/rev"))
