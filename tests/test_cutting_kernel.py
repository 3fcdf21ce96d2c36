"""The chip's section and the engaged edge against geometry done the slow way, and the promises of the kernel."""

import numpy as np
import pytest

from latheworks.cutting.finish import peak_to_valley
from latheworks.cutting.kernel import radial_force, section

CUTS = [
    (2.0, 0.25, 0.8, 90), (2.0, 0.25, 0.8, 45), (0.3, 0.1, 0.8, 90), (0.3, 0.1, 0.8, 60), (0.05, 0.2, 1.6, 95),
    (1.5, 0.4, 0.4, 107), (0.002, 0.2, 0.8, 90), (3.0, 0.3, 0.0, 75), (1.0, 0.05, 6.0, 90), (0.9, 0.2, 0.4, 15),
]  # fmt: skip


def profile(along, nose, kappa):
    """Height of the tool's edge over the finished surface, along the axis in the direction of the feed."""
    kappa = np.radians(kappa)
    arc = nose - np.sqrt(np.maximum(nose**2 - np.minimum(np.abs(along), nose) ** 2, 0.0))
    start, top = nose * np.sin(kappa), nose * (1 - np.cos(kappa))
    return np.where(along <= start, arc, top + (along - start) * np.tan(kappa)) if kappa < np.pi / 2 - 1e-9 else arc


@pytest.mark.parametrize("cut", [c for c in CUTS if 0 < c[3] <= 90 and c[2] > 0])
def test_area_by_adding_up_slices(cut):
    """At every height the edge stands some way from the ridge of the turn before; that way, summed, is the area."""
    depth, feed, nose, kappa = cut
    heights = (np.arange(400_000) + 0.5) * depth / 400_000
    half = np.sqrt(np.maximum(nose**2 - (nose - np.minimum(heights, nose)) ** 2, 0.0))
    trailing = np.minimum(half, feed / 2)
    # Below the ridge the arc is whole on both sides; above it, one feed stands between the edge and its old place.
    width = np.where(half < feed / 2, half + trailing, feed)
    assert section(depth, feed, nose, kappa)[0] == pytest.approx(width.mean() * depth, rel=1e-4)


@pytest.mark.parametrize("cut", CUTS)
def test_edge_and_chord_by_walking_along_the_edge(cut):
    depth, feed, nose, kappa = cut
    _, length, along, across = section(depth, feed, nose, kappa)
    angles = np.linspace(-np.pi / 2, np.radians(kappa), 2_000_001)
    z, x = nose * np.sin(angles), nose * (1 - np.cos(angles))
    inside = (x <= depth) & (z >= -feed / 2)
    z, x = z[inside], x[inside]
    walked = np.hypot(np.diff(z), np.diff(x)).sum() if nose else 0.0
    end = (z[-1], x[-1]) if nose else (0.0, 0.0)
    rest = max(depth - end[1], 0.0) if np.isclose(end[1], nose * (1 - np.cos(np.radians(kappa))), atol=1e-4) else 0.0
    walked += rest / np.sin(np.radians(kappa))
    start = (z[0], x[0]) if nose else (0.0, 0.0)
    assert length == pytest.approx(walked, rel=2e-3)
    assert along == pytest.approx(end[0] + rest / np.tan(np.radians(kappa)) - start[0], abs=2e-3 * walked)
    assert across == pytest.approx(end[1] + rest - start[1], abs=2e-3 * walked + 1e-5)


def test_a_sharp_corner_is_kienzles_own_form():
    depth, feed, kappa = 2.0, 0.25, np.radians(60)
    main, push, out = radial_force(1500, 0.22, depth, feed, 0.0, 60)
    thin, wide = feed * np.sin(kappa), depth / np.sin(kappa)
    assert main == pytest.approx(1500 * wide * thin ** (1 - 0.22))
    assert (push, out) == pytest.approx((0.5 * main * np.sin(kappa), 0.5 * main * np.cos(kappa)))


def test_thrust_is_perpendicular_to_the_chord_as_colwell_wrote_it():
    """tan = (f/2 + r tan(45 - C/2))/d + tan C for a lead angle C and a depth well above the nose; from memory."""
    depth, feed, nose, lead = 4.0, 0.1, 0.8, 15.0
    _, push, out = radial_force(1500, 0.22, depth, feed, nose, 90 - lead)
    printed = (feed / 2 + nose * np.tan(np.radians(45 - lead / 2))) / depth + np.tan(np.radians(lead))
    assert out / push == pytest.approx(printed, rel=1e-3)


@pytest.mark.parametrize("kappa", [15, 45, 75, 90])
@pytest.mark.parametrize("nose", [0.0, 0.2, 0.8, 6.0])
@pytest.mark.parametrize("feed", [0.0, 0.02, 0.25])
def test_no_force_falls_as_the_depth_grows(kappa, nose, feed):
    depths = np.linspace(0, 4, 4001)
    for force in radial_force(1500, 0.22, depths, feed, nose, kappa):
        assert np.isfinite(force).all()
        assert force[0] == 0
        assert np.diff(force).min() >= -1e-9


def test_past_square_the_straight_edge_pulls_a_little_the_other_way():
    depths = np.array([0.2, 0.8, 2.0, 4.0])
    main, push, out = radial_force(1500, 0.22, depths, 0.2, 0.8, 95)
    assert (np.diff(main) > 0).all()
    assert (np.diff(push) > 0).all()
    assert out[1] > out[0]
    assert out[3] < out[2]
    assert out[3] > 0


def test_forces_of_many_cuts_at_once_are_those_of_each():
    depths = np.array([0.01, 0.1, 1.0])
    many = np.array(radial_force(800, 0.25, depths, 0.1, 0.4, 93))
    each = [[float(f) for f in radial_force(800, 0.25, d, 0.1, 0.4, 93)] for d in depths]
    np.testing.assert_allclose(many.T, each)


@pytest.mark.parametrize(("feed", "nose", "kappa", "trailing"), [
    (0.1, 0.8, 90, 5), (0.3, 0.8, 90, 5), (0.5, 0.4, 60, 30), (0.4, 0.1, 75, 15), (0.2, 0.0, 75, 5),
    (0.35, 0.2, 45, 60),
])  # fmt: skip
def test_ridge_height_where_the_two_tools_outlines_cross(feed, nose, kappa, trailing):
    """The outline of the tool and the same one a feed further on meet at the ridge; found on a fine grid."""
    z = np.linspace(-1.0, 1.0 + feed, 2_000_001)

    def outline(at):
        lead = profile(np.maximum(at, 0.0), nose, min(kappa, 89.999))
        back = profile(np.maximum(-at, 0.0), nose, min(trailing, 89.999))
        return np.where(at >= 0, lead, back)

    ridge = np.minimum(outline(z), outline(z - feed))[(z > 0) & (z < feed)].max()
    found, _ = peak_to_valley(feed, nose, np.radians(kappa), np.radians(trailing))
    assert found == pytest.approx(ridge, rel=2e-3, abs=1e-6)
