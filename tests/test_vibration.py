"""First natural frequency and buckling load, against closed forms and a chain of beam elements."""

import math

import pytest

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, center_thrust, natural_frequency
from latheworks.errors import Impossible
from latheworks.units import Q_
from tests.by_hand import redo
from tests.vibration_models import buckling, frequency

INF = math.inf
RIGID, RIGID_TILT = Q_(INF, "N/mm"), Q_(INF, "N*mm/rad")
FIXED = Chuck(tilt=RIGID_TILT, radial=RIGID)
PROPPED = ChuckAndCenter(tilt=RIGID_TILT, radial=RIGID, center=RIGID)
PINNED = BetweenCenters(head=RIGID, tail=RIGID)
BARREL = ((60.0, 32.0, 20.0), (90.0, 32.0, 26.0), (100.0, 28.0, 26.0))
DENSITY, MODULUS = 2.7e-9, 69000.0


def shaft(sections=BARREL):
    return Shaft([tuple(Q_(size, "mm") for size in section) for section in sections], "6061-T6")


def hertz(part, holding):
    return natural_frequency(part, holding).frequency.m_as("Hz")


# Each holding, and the same springs for the chain: (position, kind, stiffness); the part is 250 mm long.
HELD = [
    (FIXED, [(0.0, "side", INF), (0.0, "tilt", INF)]),
    (Chuck(), [(0.0, "side", 5e4), (0.0, "tilt", 1e8)]),
    (PROPPED, [(0.0, "side", INF), (0.0, "tilt", INF), (250.0, "side", INF)]),
    (ChuckAndCenter(), [(0.0, "side", 5e4), (0.0, "tilt", 1e8), (250.0, "side", 3e4)]),
    (PINNED, [(0.0, "side", INF), (250.0, "side", INF)]),
    (BetweenCenters(), [(0.0, "side", 5e4), (250.0, "side", 3e4)]),
    (BetweenCenters(rest=(Q_(110, "mm"), Q_(2e4, "N/mm"))),
     [(0.0, "side", 5e4), (250.0, "side", 3e4), (110.0, "side", 2e4)]),
    (Chuck(rest=(Q_(200, "mm"), RIGID)), [(0.0, "side", 5e4), (0.0, "tilt", 1e8), (200.0, "side", INF)]),
]  # fmt: skip


@pytest.mark.parametrize(("holding", "springs"), HELD, ids=[str(i) for i in range(len(HELD))])
@pytest.mark.parametrize("turned", [False, True])
def test_a_stepped_hollow_part_swings_like_a_chain_of_beam_elements(holding, springs, turned):
    sections = BARREL[::-1] if turned else BARREL
    assert hertz(shaft(sections), holding) == pytest.approx(frequency(sections, MODULUS, DENSITY, springs), rel=2e-5)


@pytest.mark.parametrize(("holding", "springs"), HELD[2:7], ids=[str(i) for i in range(2, 7)])
def test_a_stepped_hollow_part_buckles_like_a_chain_of_beam_elements(holding, springs):
    load = center_thrust(shaft(), holding, Q_(1, "K")).buckling_load.m_as("N")
    assert load == pytest.approx(buckling(BARREL, MODULUS, springs), rel=2e-5)


@pytest.mark.parametrize(("holding", "root"), [(FIXED, 1.87510407), (PROPPED, 3.92660231), (PINNED, math.pi)])
def test_a_plain_bar_has_the_roots_of_the_beam_equation(holding, root):
    """cos cosh = -1, tan = tanh, sin = 0."""
    bar = Shaft.bar(Q_(300, "mm"), Q_(20, "mm"), material="6061-T6")
    inertia, area = math.pi / 64 * 20**4, math.pi / 4 * 20**2
    exact = root**2 / (2 * math.pi * 300**2) * math.sqrt(MODULUS * inertia / (DENSITY * area))
    assert hertz(bar, holding) == pytest.approx(exact, rel=1e-6)
    assert redo(natural_frequency(bar, holding).working)["(beta L)²"] == pytest.approx(root**2, rel=1e-6)


@pytest.mark.parametrize(("holding", "factor"), [(PINNED, math.pi**2), (PROPPED, 20.1907285564)])
def test_a_plain_bar_buckles_at_eulers_load(holding, factor):
    bar = Shaft.bar(Q_(300, "mm"), Q_(20, "mm"), material="6061-T6")
    load = center_thrust(bar, holding, Q_(1, "K")).buckling_load.m_as("N")
    assert load == pytest.approx(factor * MODULUS * math.pi / 64 * 20**4 / 300**2, rel=2e-6)


def test_a_cut_in_the_drawing_changes_nothing():
    pieces = [(size / 20, outside, bore) for size, outside, bore in BARREL for _ in range(20)]
    many = [(250 / 400, 32.0, 20.0)] * 400
    for holding in (FIXED, PROPPED, PINNED, Chuck()):
        assert hertz(shaft(pieces), holding) == pytest.approx(hertz(shaft(), holding), rel=1e-5)
        assert hertz(shaft(many), holding) == pytest.approx(hertz(shaft([(250.0, 32.0, 20.0)]), holding), rel=1e-4)


def test_a_softer_hold_a_longer_part_and_a_heavier_end_swing_slower():
    bar = Shaft.bar(Q_(150, "mm"), Q_(20, "mm"), material="6061-T6")
    longer = Shaft.bar(Q_(300, "mm"), Q_(20, "mm"), material="6061-T6")
    assert hertz(bar, Chuck()) < hertz(bar, FIXED)
    assert hertz(longer, FIXED) == pytest.approx(hertz(bar, FIXED) / 4)
    head_out = shaft(((100.0, 15.0, 0.0), (50.0, 30.0, 0.0)))
    assert hertz(head_out, FIXED) < hertz(head_out.reversed(), FIXED) / 2


def test_the_material_counts_by_modulus_over_density():
    """Steel and aluminum swing nearly alike, since both have nearly the same sqrt(E/rho)."""
    steel, light = (Shaft.bar(Q_(150, "mm"), Q_(20, "mm"), material=name) for name in ("1018", "6061-T6"))
    same = math.sqrt(207000 / 7.85e-9 / (69000 / 2.7e-9))
    assert hertz(steel, FIXED) / hertz(light, FIXED) == pytest.approx(same, rel=1e-9)
    swing = natural_frequency(light, FIXED)
    assert swing.spindle.m_as("rpm") == pytest.approx(60 * swing.frequency.m_as("Hz"))


def test_a_shaft_without_a_density_speaks_in_a_sentence():
    bare = Shaft.bar(Q_(150, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    with pytest.raises(Impossible, match="only an elastic modulus"):
        natural_frequency(bare, FIXED)
    with pytest.raises(Impossible, match="only an elastic modulus"):
        center_thrust(bare, PINNED, Q_(15, "K"))
