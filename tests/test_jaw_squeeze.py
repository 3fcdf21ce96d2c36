"""Thin walls in jaws, checked by the ring's Fourier series and by a frame of straight pieces."""

import math

import numpy as np
import pytest
from Pynite import FEModel3D

from latheworks.deflection import Chuck, Shaft, deflection, jaw_squeeze
from latheworks.deflection.jaw_squeeze import lobes
from latheworks.errors import Impossible, OutOfRange
from latheworks.units import Q_
from tests.by_hand import redo

RING = {"outside": Q_(32, "mm"), "bore": Q_(28, "mm"), "width": Q_(20, "mm"), "force": Q_(1000, "N"),
        "material": "6061-T6"}  # fmt: skip


def mm(quantity):
    return quantity.m_as("mm")


def fourier(jaws):
    """Loads as a series of cosines, each bending the ring by p R^4/(EI (m^2 - 1)^2)."""
    k = np.arange(1, 20001)
    terms = jaws / math.pi / ((k * jaws) ** 2 - 1.0) ** 2
    return terms.sum(), -(terms * (-1.0) ** k).sum()


@pytest.mark.parametrize("jaws", [2, 3, 4, 5, 6, 8, 12])
def test_the_closed_form_is_the_sum_of_the_rings_harmonics(jaws):
    assert lobes(jaws) == pytest.approx(fourier(jaws), rel=1e-9)


def frame(jaws, pieces):
    """Coefficients of W R^3/(E I) from half a jaw's share of the ring, as a frame that hardly stretches."""
    model, radius, inertia = FEModel3D(), 100.0, 100.0
    model.add_material("ring", 1e5, 4e4, 0.25, 0.0)
    model.add_section("strip", 1e8, inertia, inertia, 1.0)
    angles = np.linspace(0, math.pi / jaws, pieces + 1)
    for i, angle in enumerate(angles):
        model.add_node(f"N{i}", radius * math.cos(angle), radius * math.sin(angle), 0)
    for i in range(pieces):
        model.add_member(f"M{i}", f"N{i}", f"N{i + 1}", "ring", "strip")
    # On the lines of symmetry a point moves along the radius and does not turn; the far one lies on a slope.
    model.def_support("N0", False, True, True, True, True, True)
    last, far = f"N{pieces}", angles[-1]
    model.add_node("wall", radius * math.cos(far) + math.sin(far), radius * math.sin(far) - math.cos(far), 0)
    model.def_support("wall", True, True, True, True, True, True)
    model.def_support(last, False, False, True, True, True, True)
    model.add_section("rod", 1e8, 1e-6, 1e-6, 1e-6)
    model.add_member("rod", "wall", last, "ring", "rod")
    model.def_releases("rod", Ryi=True, Rzi=True, Ryj=True, Rzj=True)
    push = 1.0
    model.add_node_load("N0", "FX", -push / 2)
    model.analyze_linear(check_stability=False, sparse=False)
    name = next(iter(model.load_combos))
    scale = push * radius**3 / (1e5 * inertia)
    out = model.nodes[last].DX[name] * math.cos(far) + model.nodes[last].DY[name] * math.sin(far)
    return -model.nodes["N0"].DX[name] / scale, out / scale


@pytest.mark.parametrize("jaws", [3, 4, 6])
def test_the_closed_form_is_that_of_a_frame(jaws):
    assert frame(jaws, 60) == pytest.approx(lobes(jaws), rel=3e-3)


def test_three_jaws_by_hand():
    """1000 N on each of three jaws, 32 by 28 by 20 mm of aluminum: R 15, I 40/3, W R^3/(E I) 3.6685 mm."""
    ring = jaw_squeeze(**RING)
    scale = 1000 * 15.0**3 / (69000 * 20 * 2.0**3 / 12)
    assert mm(ring.inward) == pytest.approx(0.015939 * scale, rel=4e-5)
    assert mm(ring.outward) == pytest.approx(0.014257 * scale, rel=4e-5)
    assert mm(ring.out_of_round) == pytest.approx(0.030195 * scale, rel=4e-5)


def test_trap_6_a_bore_matters_little_for_bending_but_the_thin_wall_is_squeezed():
    """12 in 25 mm takes 5.3 percent of a bar's stiffness; half the wall gives eight times the lobes."""
    rigid = Chuck(tilt=Q_(math.inf, "N*mm/rad"), radial=Q_(math.inf, "N/mm"))
    bars = (Shaft.bar(Q_(100, "mm"), Q_(25, "mm"), Q_(bore, "mm"), "6061-T6") for bore in (0, 12))
    solid, hollow = (mm(deflection(bar, rigid, Q_(100, "N"), Q_(100, "mm"))) for bar in bars)
    assert 1 - solid / hollow == pytest.approx(0.053, abs=5e-4)
    thick, thin = (jaw_squeeze(**RING | {"outside": Q_(30 + t, "mm"), "bore": Q_(30 - t, "mm")}) for t in (4, 2))
    assert mm(thin.out_of_round) == pytest.approx(8 * mm(thick.out_of_round))


def test_three_lobes_hide_from_two_anvils_and_four_do_not():
    three, four = jaw_squeeze(**RING), jaw_squeeze(**RING, jaws=4)
    assert mm(three.two_point) == 0
    assert "odd number of lobes" in str(three)
    assert mm(four.two_point) == pytest.approx(2 * mm(four.out_of_round))


def test_more_jaws_for_the_same_grip_leave_less():
    left = [mm(jaw_squeeze(**RING | {"force": Q_(3000 / n, "N")}, jaws=n).out_of_round) for n in (2, 3, 4, 6)]
    assert left == sorted(left, reverse=True)
    assert left[1] / left[3] > 15


def test_the_ring_as_a_whole_is_pressed_smaller_like_under_a_pressure():
    """Hoop: p = N W/(2 pi R b), change of diameter 2 p R^2/(E t)."""
    ring = jaw_squeeze(**RING)
    pressure = 3 * 1000 / (2 * math.pi * 15 * 20)
    assert mm(ring.shrink) == pytest.approx(2 * pressure * 15**2 / (69000 * 2))


def test_the_working_can_be_redone_by_hand():
    ring = jaw_squeeze(**RING, jaws=6)
    assert redo(ring.working)["let go"] == pytest.approx(mm(ring.out_of_round), rel=1e-6)


def test_a_thick_ring_and_a_crushed_one_speak_in_sentences():
    with pytest.raises(OutOfRange, match=r"0\.6 of the outside"):
        jaw_squeeze(**RING | {"bore": Q_(10, "mm")})
    with pytest.raises(Impossible, match="press the wall in"):
        jaw_squeeze(**RING | {"force": Q_(1e6, "N")})
    assert "first estimate" in str(jaw_squeeze(**RING | {"bore": Q_(24, "mm")}))
