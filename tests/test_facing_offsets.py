"""Tool setting against a nose drawn as a circle, a point carried around the axis, and sums by hand."""

import math

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.passes import center_height_error, nose_radius_error, offset_error, taper_setting
from latheworks.units import Q_

R = 0.8


def surface_left(angle):
    """How far from the line of a sharp point a round nose leaves the surface: the lowest point over a run of it."""
    along, up = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    arc = np.linspace(0, 2 * math.pi, 200_001)
    # The nose touches both the line x = 0 and the line z = 0 of the point it stands for.
    z, x = R + R * np.cos(arc), R + R * np.sin(arc)
    # The surface rises toward the chuck, where z falls; its normal points to the tool.
    return float((z * up + x * along).min())


@pytest.mark.parametrize("angle", [-60, -30, -5, 0, 5, 15, 30, 45, 60, 85, 90])
def test_a_round_nose_leaves_what_a_drawn_circle_leaves(angle):
    found = nose_radius_error(Q_(R, "mm"), Q_(angle, "degree"))
    assert found.left_standing.m_as("mm") == pytest.approx(surface_left(angle), abs=1e-8)
    if angle:
        assert found.shift.m_as("mm") == pytest.approx(surface_left(angle) / math.sin(math.radians(angle)), abs=1e-8)
    if angle < 90:
        size = 2 * surface_left(angle) / math.cos(math.radians(angle))
        assert found.diameter.m_as("mm") == pytest.approx(size, abs=1e-8)


def test_a_chamfer_comes_out_small_an_edge_small_and_a_fillet_large():
    found = nose_radius_error(Q_(R, "mm"), corner_radius=Q_(3, "mm"))
    assert found.chamfer.m_as("mm") == pytest.approx(surface_left(45) * math.sqrt(2), abs=1e-8)
    assert (found.edge.m, found.fillet.m) == pytest.approx((2.2, 3.8))
    assert nose_radius_error(Q_(R, "mm"), corner_radius=Q_(0.5, "mm")).edge.m == 0
    assert found.pip.m == pytest.approx(1.6)


@pytest.mark.parametrize("height", [-0.5, 0.2, 0.5])
def test_off_center_a_point_carried_around_the_axis_gives_the_diameter(height):
    wanted = np.array([3.0, 10.0, 30.0])
    x0 = math.sqrt(15**2 - height**2)
    cut = [2 * abs(complex(x0 - (15 - size / 2), height)) for size in wanted]
    found = center_height_error(Q_(wanted, "mm"), Q_(height, "mm"), touch_off=Q_(30, "mm"))
    assert found.error.m_as("mm") == pytest.approx(np.array(cut) - wanted, abs=1e-12)
    assert found.error.m_as("mm")[-1] == pytest.approx(0, abs=1e-12)
    assert found.error.m_as("mm")[0] > found.error.m_as("mm")[1] > 0
    assert found.pip.m_as("mm") == pytest.approx(2 * abs(height))
    assert np.sign(found.rake_change.m_as("degree")[0]) == np.sign(height)


def test_an_offset_moves_diameters_twice_faces_once_and_tapers_by_both():
    found = offset_error(Q_(0.05, "mm"), Q_(0.1, "mm"), Q_(45, "degree"))
    assert (found.diameter.m, found.length.m) == pytest.approx((0.1, 0.1))
    assert (found.taper_diameter.m, found.chamfer.m) == pytest.approx((0.3, 0.15))
    # A tool too far from the chuck and as much too near to the axis cuts a 45 degree taper right.
    assert offset_error(Q_(-0.1, "mm"), Q_(0.1, "mm"), Q_(45, "degree")).taper_diameter.m == pytest.approx(0)
    assert "2 x" in found.working.text()


@pytest.mark.parametrize(("call", "said"), [
    (lambda: center_height_error(Q_(10, "mm"), Q_(6, "mm"), touch_off=Q_(12, "mm")), "touch_off"),
    (lambda: center_height_error(Q_(0.001, "mm"), Q_(2, "mm"), touch_off=Q_(12, "mm")), "passes the axis"),
    (lambda: taper_setting(Q_(20, "mm"), Q_(20, "mm"), Q_(50, "mm")), "small"),
    (lambda: taper_setting(Q_(20, "mm"), Q_(18, "mm"), Q_(50, "mm"), Q_(40, "mm")), "whole_length"),
])  # fmt: skip
def test_nonsense_is_refused_in_words(call, said):
    with pytest.raises(LatheworksError, match=said):
        call()
