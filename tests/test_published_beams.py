"""Deflections against closed forms of named books: tests/published/beams.csv, a case a row.

`printed` is the formula of the book worked with the numbers of the row (or the number the source prints);
half a unit of its last digit is allowed. In a formula F is the force, L the length, a the place of the force
and b = L - a, x the place looked at, s the place of a rest, I1 and I2 the moments of the first two pieces, and
kq, ky, kc, kh, kt, kr the springs: chuck tilt and radial, center, head, tail, rest.
"""

import math

import pytest

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, deflected_shape, deflection
from latheworks.tables import source
from latheworks.units import Q_
from tests.printed import by_id, half_a_digit, rows

BASES = ("published", "common practice", "from memory")
SPRINGS = {"tilt": "N*mm/rad", "radial": "N/mm", "center": "N/mm", "head": "N/mm", "tail": "N/mm"}
HOLDINGS = {"chuck": Chuck, "chuck and center": ChuckAndCenter, "centers": BetweenCenters}
MM = {"mm": 1.0, "um": 0.001, "in": 25.4}

ROWS = rows("beams")


def pieces(row):
    return [tuple(float(size) for size in piece.split(":")) for piece in row["length:outside:bore [mm]"].split(";")]


def holding(row):
    springs = {
        name: Q_(float(row[f"{name} [{unit}]"]), unit) for name, unit in SPRINGS.items() if row[f"{name} [{unit}]"]
    }
    if row["rest at [mm]"]:
        springs["rest"] = (Q_(float(row["rest at [mm]"]), "mm"), Q_(float(row["rest [N/mm]"]), "N/mm"))
    return HOLDINGS[row["holding"]](**springs)


@by_id(ROWS)
def test_our_value_is_the_printed_one(row):
    shaft = Shaft(
        [tuple(Q_(size, "mm") for size in piece) for piece in pieces(row)], Q_(float(row["modulus [MPa]"]), "MPa")
    )
    at, along = Q_(float(row["at [mm]"]), "mm"), Q_(float(row["along [mm]"]), "mm")
    force = Q_(float(row["force [N]"]), "N")
    values = [deflected_shape(shaft, holding(row), force, at, along)]
    if at == along:
        values.append(deflection(shaft, holding(row), force, at))
    for value in values:
        shown = value.m_as("mm") / MM[row["unit"]]
        assert shown == pytest.approx(float(row["printed"]), rel=0, abs=half_a_digit(row["printed"]))


@by_id(ROWS)
def test_the_printed_value_is_what_the_formula_gives(row):
    number = {name: float(row[column] or "nan") for name, column in (
        ("F", "force [N]"), ("E", "modulus [MPa]"), ("a", "at [mm]"), ("x", "along [mm]"), ("s", "rest at [mm]"),
        ("kq", "tilt [N*mm/rad]"), ("ky", "radial [N/mm]"), ("kc", "center [N/mm]"), ("kh", "head [N/mm]"),
        ("kt", "tail [N/mm]"), ("kr", "rest [N/mm]"),
    )}  # fmt: skip
    moments = [math.pi / 64 * (outside**4 - bore**4) for _, outside, bore in pieces(row)]
    number |= {"I": moments[0], "I1": moments[0], "I2": moments[-1 if len(moments) < 3 else 1]}
    number["L"] = sum(piece[0] for piece in pieces(row))
    number["b"] = number["L"] - number["a"]
    worked = eval(row["formula"], {"__builtins__": {}}, number) / MM[row["unit"]]
    assert worked == pytest.approx(float(row["printed"]), rel=0, abs=half_a_digit(row["printed"]))


def test_every_row_names_its_source_and_basis():
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= 30
    for row in ROWS:
        assert source(row["source"]).title
        assert row["where"]
        assert row["basis"] in BASES


def test_the_worst_place_of_the_tool_with_a_chuck_and_a_rigid_center():
    """The largest possible deflection of a propped cantilever has its load 0.414 l from the simple support.

    Source: Young and Budynas, Roark's Formulas for Stress and Strain, 7th edition, table 8.1, case 1c, read on a
    page that restates the table.
    """
    shaft = Shaft.bar(Q_(1000, "mm"), Q_(50, "mm"), material=Q_(210, "GPa"))
    rigid = ChuckAndCenter(tilt=Q_(math.inf, "N*mm/rad"), radial=Q_(math.inf, "N/mm"), center=Q_(math.inf, "N/mm"))
    at = Q_([float(mm) for mm in range(1001)], "mm")
    worst = at[deflection(shaft, rigid, Q_(100, "N"), at).m.argmax()]
    assert 1 - worst.m / 1000 == pytest.approx(0.414, abs=0.0005)
