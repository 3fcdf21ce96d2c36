"""Facts of the trade, common practice and no source: what anybody at a lathe has seen."""

from math import inf

import numpy as np
import pytest

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, size_error, thread_size_error
from latheworks.threads import infeed
from latheworks.units import Q_

THOU = Q_(1, "thou")
FEED = Q_(0.1, "mm/rev")
# The barrel of the soil corer: 250 mm of 32 mm, bored 26, with 25 mm of it in the jaws.
BARREL = Shaft.bar(Q_(225, "mm"), Q_(32, "mm"), Q_(26, "mm"), "6061-T6")
SHOE = Shaft.bar(Q_(30, "mm"), Q_(40, "mm"), material="steel 1045")


def thou(quantity):
    return np.asarray((quantity / THOU).m_as(""))


@pytest.mark.parametrize("nose", [0.4, 0.8])
@pytest.mark.parametrize("depth", [0.25, 0.4])
def test_a_long_slender_aluminum_barrel_in_the_chuck_alone_comes_out_thousandths_large(depth, nose):
    """Common practice, no source: some thousandths of an inch at the free end."""
    cut = size_error(BARREL, Chuck(), Q_(depth, "mm"), FEED, Q_([30.0, 225.0], "mm"), nose_radius=Q_(nose, "mm"))
    near, far = thou(cut.error)
    assert 1.0 < far < 10.0
    assert near < 0.3 * far


def test_a_short_thick_part_does_not():
    """Common practice, no source: within a few tenths of a thousandth."""
    cut = size_error(SHOE, Chuck(), Q_(0.4, "mm"), FEED, Q_(30, "mm"), nose_radius=Q_(0.4, "mm"))
    assert thou(cut.error) < 0.5


def test_spring_passes_take_most_of_it_off():
    """Common practice, no source: one or two passes at the same setting."""
    cut = size_error(BARREL, Chuck(), Q_(0.4, "mm"), FEED, Q_(225, "mm"), spring_passes=2, edge_force=Q_(0.5, "N"))
    first, one, two = thou(cut.per_pass)
    assert one < 0.5 * first
    assert two < 0.25 * first
    assert two > 0.9 * thou(cut.edge_limit)


def test_a_center_helps_a_long_part_and_a_rest_helps_too():
    at = Q_(np.linspace(20, 220, 41), "mm")
    worst = {
        name: size_error(BARREL, holding, Q_(0.3, "mm"), FEED, at, nose_radius=Q_(0.8, "mm")).error.m.max()
        for name, holding in {
            "chuck": Chuck(), "center": ChuckAndCenter(), "centers": BetweenCenters(),
            "rest": Chuck(rest=(Q_(215, "mm"), Q_(20_000, "N/mm"))),
        }.items()
    }  # fmt: skip
    assert worst["center"] < worst["chuck"] / 5
    assert worst["rest"] < worst["chuck"] / 4
    assert worst["center"] < worst["centers"] < worst["chuck"]


def test_trap_19_a_larger_nose_pushes_harder_on_a_light_cut():
    small, large = (size_error(BARREL, Chuck(), Q_(0.1, "mm"), FEED, Q_(225, "mm"), nose_radius=Q_(r, "mm")).error.m
                    for r in (0.2, 1.2))  # fmt: skip
    assert large > small


def test_trap_12_a_short_part_is_said_to_be_outside_the_range():
    def cut(length):
        part = Shaft.bar(Q_(length, "mm"), Q_(30, "mm"), material="6061-T6")
        return size_error(part, Chuck(), Q_(0.3, "mm"), FEED, Q_(length, "mm"))

    said = " ".join(cut(30).notes)
    assert "shear" in said
    assert "55 %" in said
    assert "shear" not in " ".join(cut(100).notes)
    part = Shaft.bar(Q_(120, "mm"), Q_(30, "mm"), material="6061-T6")
    between = size_error(part, BetweenCenters(), Q_(0.3, "mm"), FEED, Q_(60, "mm"))
    # Shear over bending in mid length, 12 E I/(k G A L^2): four times the share of a part held at one end.
    assert "14 %" in " ".join(between.notes)


def test_trap_20_a_thread_on_a_thin_barrel_bends_with_its_root_diameter():
    thin = Shaft.bar(Q_(120, "mm"), Q_(20, "mm"), material="6061-T6")
    rigid = Chuck(tilt=Q_(inf, "N*mm/rad"), radial=Q_(inf, "N/mm"))
    plan = infeed("M20x2.5-6g", length=Q_(120, "mm"))
    cut = thread_size_error(plan, thin, rigid, Q_(120, "mm"))
    root = 20 - 2 * plan.total_depth.m_as("mm")
    assert cut.flexibility.m == pytest.approx(120**3 / (3 * 69_000 * np.pi / 64 * root**4), rel=1e-9)


def test_trap_20_equal_steps_make_the_last_passes_the_worst():
    part = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material="6061-T6")
    even, area = (
        thread_size_error(infeed("M20x1.5-6g", 6, law, spring_passes=0), part, Chuck(), Q_(80, "mm")).per_pass.m
        for law in ("equal depth", "equal area")
    )
    assert (np.diff(even) > 0).all()
    assert even[-1] > 1.2 * area[-1]


def test_spring_passes_bring_a_thread_to_size():
    """Common practice, no source: a thread that is tight after the last pass goes together after spring passes."""
    part = Shaft.bar(Q_(60, "mm"), Q_(30, "mm"), Q_(22, "mm"), "6061-T6")
    cut = thread_size_error(infeed("M30x1.5-6g", length=Q_(20, "mm"), spring_passes=3), part, Chuck())
    worst = cut.per_pass.m.max(axis=1)
    assert worst[-1] < 0.2 * worst[-4]
    assert (cut.error.m >= 0).all()
    assert cut.error.shape == (51,)
