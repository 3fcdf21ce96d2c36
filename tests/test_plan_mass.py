"""Mass and balance against a mesh library's solids of revolution, an integral done numerically, and hand sums.

A mesh of n flat sides is smaller than the round solid by n/(2 pi) sin(2 pi/n) in every section, exactly, so the two can
be held to each other to rounding (geometry of the regular polygon).
"""

import math

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks import Q_, LatheworksError
from latheworks.errors import Impossible
from latheworks.plan import Feature, Part, balance, length_for_balance
from latheworks.plan.examples import corer_barrel, cutting_shoe
from latheworks.plan.mass import first_moment, lengthened, plain_mass
from latheworks.plan.shape import Shape

SIDES = 96
POLYGON = SIDES / (2 * math.pi) * math.sin(2 * math.pi / SIDES)


def mm(value):
    return Q_(float(value), "mm")


def meshed(shape):
    """Volume and center along the axis of the same outline, swung round by the mesh library."""
    out = [(r, z) for i, row in enumerate(shape.outer) for r, z in zip(row, shape.z[i : i + 2], strict=True)]
    back = [(r, z) for i, row in enumerate(shape.inner) for r, z in zip(row, shape.z[i : i + 2], strict=True)][::-1]
    outline = [p for k, p in enumerate(out + back) if k == 0 or p != (out + back)[k - 1]]
    mesh = trimesh.creation.revolve(np.array([*outline, outline[0]]), sections=SIDES)
    assert mesh.is_watertight
    return mesh.volume / POLYGON, mesh.center_mass[2]


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=lambda part: part.name)
def test_volume_and_center_are_those_of_a_mesh(part):
    volume, center = meshed(part.shape)
    assert part.shape.volume() == pytest.approx(volume, rel=1e-9)
    assert first_moment(part.shape) / part.shape.volume() == pytest.approx(center, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(1, 50), st.floats(5, 30), st.floats(5, 30), st.floats(0, 4.5), st.floats(0, 4.5)),
                min_size=1, max_size=6))  # fmt: skip
def test_any_outline_agrees_with_an_integral_done_numerically(rows):
    z = np.cumsum([0.0, *(row[0] for row in rows)])
    shape = Shape(z, np.array([row[1:3] for row in rows]), np.array([row[3:5] for row in rows]))
    # Gauss's rule with 4 points is exact to the 7th power (Abramowitz and Stegun, 25.4.29, from memory).
    spots, weights = np.polynomial.legendre.leggauss(4)
    volume = moment = 0.0
    for i, (long, a, b, c, d) in enumerate(rows):
        share = (spots + 1) / 2
        ring = np.pi * ((a + (b - a) * share) ** 2 - (c + (d - c) * share) ** 2) * weights * long / 2
        volume += ring.sum()
        moment += (ring * (z[i] + share * long)).sum()
    assert shape.volume() == pytest.approx(volume, rel=1e-12)
    assert first_moment(shape) == pytest.approx(moment, rel=1e-12)


def test_a_plain_bar_by_hand():
    """Steel 7870 kg/m3 (Callister, table B.1), 20 mm across and 100 mm long: pi/4 0.02^2 0.1 x 7870 = 0.24724 kg."""
    bar = Part("pin", "steel 1018", [Feature("body", "cylinder", mm(0), mm(100), mm(20))], mm(22), mm(102))
    density = bar.stuff.density.m_as("kg/m**3")
    assert balance(bar).mass.m_as("kg") == pytest.approx(math.pi / 4 * 0.02**2 * 0.1 * density, rel=1e-12)
    assert balance(bar).center.m_as("mm") == pytest.approx(50.0)


def test_a_thread_weighs_as_much_as_a_cylinder_at_its_pitch_diameter():
    """Of a sharp V the ridge above the pitch line is as large as the groove below it, so the two must balance."""
    part = cutting_shoe()
    screw = part.feature("screw thread")
    assert plain_mass(part)[0] < part.shape.volume() * part.stuff.density.m_as("kg/mm**3")
    pitch = screw.thread.pitch_diameter.m_as("mm")
    gone = math.pi / 4 * (screw.plain.end - 1.5) * (25.21**2 - pitch**2)
    less = part.shape.volume() - plain_mass(part)[0] / part.stuff.density.m_as("kg/mm**3")
    # The chamfer takes its share of the screw's first 1.5 mm.
    assert gone < less < gone * 1.05


def test_two_parts_balance_where_the_moments_say():
    barrel, shoe = balance(corer_barrel()), balance(cutting_shoe())
    both = balance([(corer_barrel(), mm(0), False), (cutting_shoe(), mm(230), False)])
    m1, m2 = barrel.mass.m_as("kg"), shoe.mass.m_as("kg")
    by_hand = (m1 * barrel.center.m_as("mm") + m2 * (230 + shoe.center.m_as("mm"))) / (m1 + m2)
    assert both.center.m_as("mm") == pytest.approx(by_hand)
    assert f"{by_hand:.2f} mm" in both.working.text()


def test_a_part_turned_round_balances_from_its_other_end():
    shoe = balance(cutting_shoe()).center.m_as("mm")
    assert balance([(cutting_shoe(), mm(58), True)]).center.m_as("mm") == pytest.approx(58 - shoe)


@pytest.mark.parametrize("wanted", [180.0, 190.0, 205.0])
def test_the_length_found_does_balance_there(wanted):
    both = [(corer_barrel(), mm(0), False), (cutting_shoe(), mm(230), False)]
    length = length_for_balance(both, "cutting shoe", "collar", mm(wanted)).m_as("mm")
    longer = lengthened(cutting_shoe(), "collar", length)
    assert longer.length.m_as("mm") == pytest.approx(58 - 26 + length)
    assert balance([both[0], (longer, mm(230), False)]).center.m_as("mm") == pytest.approx(wanted, abs=1e-4)


def test_a_longer_part_keeps_its_features_in_place():
    longer = lengthened(cutting_shoe(), "collar", 40.0)
    assert longer.feature("cutting edge").plain.start == pytest.approx(60.0)
    assert longer.feature("shoe bore").plain.end == pytest.approx(72.0)
    assert longer.feature("screw thread").plain == cutting_shoe().feature("screw thread").plain
    assert longer.stock_length.m_as("mm") == pytest.approx(76.0)


def test_a_balance_out_of_reach_says_what_can_be_reached():
    both = [(corer_barrel(), mm(0), False), (cutting_shoe(), mm(230), False)]
    with pytest.raises(Impossible, match=r"balances at 1\d\d\.\d to .* mm, and 20 mm was wanted"):
        length_for_balance(both, "cutting shoe", "collar", mm(20))


@pytest.mark.parametrize("pieces", [[], "barrel", [corer_barrel()], [(corer_barrel(), 3.0, False)],
                                    [(corer_barrel(), mm(0), 1)]])  # fmt: skip
def test_pieces_that_are_none_are_refused(pieces):
    with pytest.raises(LatheworksError, match="balance: "):
        balance(pieces)
