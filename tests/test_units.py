"""The registry, the Span and the written form of a quantity."""

import math

import numpy as np
import pint
import pytest

from latheworks import Q_, LatheworksError, Span, show, ureg
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.units import show_stock


def test_a_revolution_is_a_dimension():
    diameter, spindle = Q_(50.0, "mm"), Q_(600.0, "rpm")
    with pytest.raises(pint.DimensionalityError):
        (math.pi * diameter * spindle).to("m/min")
    speed = (math.pi * diameter / Q_(1, "rev") * spindle).to("m/min")
    assert speed.magnitude == pytest.approx(94.2478, abs=5e-5)  # pi x 0.05 x 600, by hand


def test_the_stock_registry_falls_into_the_trap():
    """The reason for a registry of our own, measured against the general library itself."""
    stock = pint.UnitRegistry()
    wrong = (math.pi * stock.Quantity(50, "mm") * stock.Quantity(600, "rpm")).to("m/min")
    assert wrong.magnitude == pytest.approx(592.18, abs=0.01)


@pytest.mark.parametrize("pair", [("mm/rev", "mm"), ("rpm", "1/min"), ("rev", "degree"), ("mm/rev", "mm/min")])
def test_feed_turns_and_angles_do_not_mix(pair):
    assert not Q_(1.0, pair[0]).is_compatible_with(pair[1])


def test_units_agree_with_the_stock_registry():
    stock = pint.UnitRegistry()
    names = ["mm", "um", "inch", "thou", "foot", "N", "kN", "lbf", "MPa", "GPa", "psi", "ksi", "kW", "hp", "kg", "lb",
             "min", "hour", "N*mm/rad", "mm/min", "degree", "joule", "liter"]  # fmt: skip
    for name in names:
        ours, theirs = Q_(1.0, name).to_base_units(), stock.Quantity(1.0, name).to_base_units()
        grams = 1000.0 if "[mass]" in ours.dimensionality else 1.0  # ours is based on the gram, theirs on the kilogram
        assert ours.magnitude == pytest.approx(theirs.magnitude * grams, rel=1e-12), name


def test_mil_is_not_a_unit():
    with pytest.raises(pint.UndefinedUnitError):
        Q_(1, "mil")


@pytest.mark.parametrize(
    ("value", "unit", "metric", "inch"),
    [
        (12.7, "mm", "12.700 mm", "0.5000 in"),
        (0.1, "mm/rev", "0.100 mm/rev", "0.0039 in/rev"),
        (500, "rpm", "500 rev/min", "500 rev/min"),
        (100, "N", "100 N", "22 lbf"),
        (68900, "MPa", "68900 MPa", "9993.1 ksi"),
        (30.48, "m/min", "30.5 m/min", "100 ft/min"),
        (29.5, "degree", "29.50°", "29.50°"),
        (-0.00001, "mm", "0.000 mm", "0.0000 in"),
        (20, "N/um", "20.0 N/µm", "114.2 lbf/thou"),
    ],
)
def test_show_writes_shop_units(value, unit, metric, inch):
    assert (show(Q_(value, unit)), show(Q_(value, unit), "inch")) == (metric, inch)


def test_show_writes_arrays_and_digits():
    assert show(Q_(np.array([1.0, 2.5]), "mm"), digits=1) == "1.0, 2.5 mm"


@pytest.mark.parametrize("bad", [3, "3 mm", None, True, Q_(float("nan"), "mm"), Q_(float("inf"), "mm")])
def test_show_refuses_what_is_not_a_finite_quantity(bad):
    with pytest.raises(LatheworksError, match="quantity: got"):
        show(bad)


@pytest.mark.parametrize("bad", ["imperial", None, 3, True])
def test_show_refuses_another_system(bad):
    with pytest.raises(WrongUnit, match='expected "metric" or "inch"'):
        show(Q_(1, "mm"), bad)


@pytest.mark.parametrize(
    ("inches", "said"),
    [(1.375, "1 3/8 in"), (2, "2 in"), (0.75, "3/4 in"), (1 / 64, "1/64 in"), (59 / 64, "59/64 in"),
     (1.3750001, "1 3/8 in"), (1.3755, "1.3755 in"), (0.001, "0.0010 in"), (0.0, "0.0000 in")],
)  # fmt: skip
def test_stock_is_written_as_it_is_sold(inches, said):
    assert show_stock(Q_(inches, "in"), "inch") == said
    assert show_stock(Q_(inches * 25.4, "mm"), "inch") == said
    assert show_stock(Q_(inches, "in")) == show(Q_(inches, "in"))


@pytest.mark.parametrize("bad", [-1, 13, 1.5, True, "3"])
def test_show_refuses_odd_digits(bad):
    with pytest.raises(OutOfRange, match="digits"):
        show(Q_(1, "mm"), digits=bad)


def test_span_knows_its_middle_width_and_ends():
    span = Span(Q_(4.0, "mm"), Q_(4.2, "mm"))
    assert span.mid.m_as("mm") == pytest.approx(4.1)
    assert span.width.m_as("mm") == pytest.approx(0.2)
    assert span.holds(Q_(4.2, "mm"))
    assert not span.holds(Q_(4.21, "mm"))
    assert str(span) == "4.000 mm to 4.200 mm"


def test_an_open_span_excludes_nothing_on_its_open_side():
    span = Span(None, Q_(1.0, "inch"))
    assert span.mid is None
    assert span.width is None
    assert span.holds(Q_(1, "mm"))
    assert not span.holds(Q_(26, "mm"))
    assert str(span) == "open to 25.400 mm"


def test_the_public_registry_is_the_one():
    assert ureg.Quantity is Q_
