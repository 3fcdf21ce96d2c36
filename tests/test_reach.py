"""What a tool can reach: areas by hand for each reason, the laws of a closing, mirrored tools, bars in bores."""

import math

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.passes import Groove, Profile, nose_shift, reach
from latheworks.passes.reach_kernel import closing
from latheworks.units import Q_, U
from tests.by_hand import redo
from tests.reach_shapes import blade, mm, profile, tool

SQUARE = (1 - math.pi / 4) * 0.4**2
DOWN = [(0, 30), (40, 30), (40, 20), (60, 20), (60, 30), (90, 30)]
BAR = {"shank": 12, "reach": 3, "bar_length": 60}


def areas(found):
    return {piece.reason: piece.area.m_as("mm**2") for piece in found.standing}


@pytest.mark.parametrize(("insert", "kappa"), [("D", 93), ("V", 93), ("C", 95), ("T", 90), ("V", 107.5)])
def test_a_fall_is_left_at_the_back_angle(insert, kappa):
    """The back edge leaves a triangle of the fall's height; a square corner keeps what the nose cannot fill."""
    found = reach(profile(DOWN), tool(insert, kappa, reach=30, shank=60))
    back = math.radians(180 - kappa - {"D": 55, "V": 35, "C": 80, "T": 60}[insert])
    long = 5 / math.tan(back)
    triangle = 25 / (2 * math.tan(back)) if long < 19 else None
    if triangle is None:
        # So flat that it meets the shoulder: from the top corner down, as deep as 20 mm go, less the nose's share.
        triangle = 20 * 5 - 20**2 * math.tan(back) / 2
        assert found.area.m_as("mm**2") == pytest.approx(triangle, rel=0.02)
        return
    corner = 2 * 0.4**2 * (1 / math.tan(math.radians(90 - math.degrees(back) / 2)) - back / 2)
    got = areas(found)
    assert got["nose"] == pytest.approx(SQUARE, rel=2e-3)
    assert got["back"] == pytest.approx(triangle + corner / 2, rel=2e-3)
    assert found.area.m_as("mm**2") == pytest.approx(got["nose"] + got["back"])


@pytest.mark.parametrize("slope", [-1.0, 1.0])
def test_the_back_angle_itself_is_cut_and_a_degree_more_is_not(slope):
    """A fall at exactly 180 - kappa - eps is cut whole, one degree steeper is not."""
    for more, complete in ((-0.5, True), (0.0, True), (1.0, False)):
        drop = 2 * 10 * math.tan(math.radians(32 + more))
        z = [0, 20, 30, 50]
        d = [40 - drop, 40 - drop, 40, 40]
        points = list(zip(z, d, strict=True)) if slope > 0 else [(50 - a, b) for a, b in zip(z, d, strict=True)][::-1]
        hand = "right" if slope > 0 else "left"
        found = reach(profile(points), tool(nose=0.0, hand=hand, reach=30))
        assert found.complete is complete
        if not complete:
            assert [piece.reason for piece in found.standing] == ["back"]


def test_an_entering_angle_below_90_leaves_the_shoulder():
    found = reach(profile([(0, 30), (40, 30), (40, 20), (60, 20)]), tool("S", 45, 0.8, reach=30))
    wedge = 0.5 * 5 * 5 + 2 * (math.tan(math.pi / 8) - math.pi / 8) * 0.8**2 / 2
    assert areas(found) == {"front": pytest.approx(wedge, rel=2e-3)}


@pytest.mark.parametrize("radius", [0.2, 0.4, 0.8, 1.2])
def test_a_fillet_as_large_as_the_nose_is_cut_and_a_smaller_is_not(radius):
    shape = profile([(0, 30), (40, 30), (40, 20), (60, 20)], fillets={2: mm(radius)})
    found = reach(shape, tool("T", 90, 0.8))
    assert found.complete is (radius >= 0.8)
    if radius < 0.8:
        assert areas(found) == {"nose": pytest.approx((1 - math.pi / 4) * (0.8**2 - radius**2), rel=5e-3)}


@pytest.mark.parametrize(("width", "left"), [(2.9, "blade"), (2.999, "blade"), (3.0, None), (5.0, None)])
def test_a_blade_enters_a_groove_of_its_own_width_and_no_narrower(width, left):
    shape = profile([(0, 30), (50, 30)], grooves=Groove(mm(20.13), mm(width), mm(24)))
    found = reach(shape, blade(3))
    assert areas(found) == ({} if left is None else {left: pytest.approx(3 * width, rel=1e-4)})


@pytest.mark.parametrize(("depth", "reason"), [(3, None), (4, None), (4.1, "holder"), (6, "holder")])
def test_a_blade_goes_as_deep_as_it_stands_out(depth, reason):
    shape = profile([(0, 30), (50, 30)], grooves=Groove(mm(20), mm(4), mm(30 - 2 * depth)))
    found = reach(shape, blade(3, reach=4))
    assert areas(found) == ({} if reason is None else {reason: pytest.approx(4 * (depth - 4), rel=1e-4)})


def test_repeated_grooves_are_told_once():
    shape = profile([(0, 32), (250, 32)], grooves=Groove(mm(190), mm(3), mm(29), 5, mm(8), mm(0.2)))
    found = reach(shape, blade(3, nose=0.5))
    assert {piece.count for piece in found.standing} == {5}
    each = (1 - math.pi / 4) * (0.5**2 - 0.2**2)
    assert found.area.m_as("mm**2") == pytest.approx(5 * 2 * each, rel=5e-3)
    assert reach(shape, blade(3, nose=0.2)).complete


def test_jaws_and_center_keep_the_tool_away():
    shape = profile([(0, 20), (60, 20)], stock=mm(30))
    free = reach(shape, tool(reach=12), jaws=(mm(-10), mm(80)), clearance=mm(2))
    near = reach(shape, tool(hand="left", reach=12), jaws=(mm(-10), mm(80)), clearance=mm(2))
    assert free.complete
    assert [piece.reason for piece in near.standing] == ["jaws"]
    # The shank, 20 mm wide behind a left-hand nose, stops 2 mm short of the face at -10.
    assert near.standing[0].end.m_as("mm") == pytest.approx(-10 + 2 + 20, abs=0.1)
    point = reach(profile([(0, 20), (60, 20)], stock=mm(30)), tool(reach=4), center=(mm(60), mm(40)))
    assert {piece.reason for piece in point.standing} == {"center"}
    assert point.standing[-1].start.m_as("mm") == pytest.approx(60 - 2 - 20, abs=0.2)


def test_a_bore_is_cut_from_the_open_end():
    blind = profile([(0, 0), (0, 20), (30, 20), (30, 24), (50, 24)], side="inside", stock=mm(0))
    square = {"nose": pytest.approx(SQUARE, rel=2e-3)}
    assert areas(reach(blind, tool("C", 95, **BAR))) == square
    short = reach(blind, tool("C", 95, **{**BAR, "bar_length": 40}))
    assert short.standing[0].reason == "bar length"
    assert short.standing[0].end.m_as("mm") == pytest.approx(10.4, abs=0.1)
    assert short.standing[0].area.m_as("mm**2") == pytest.approx(100 + SQUARE, rel=1e-3)
    thick = reach(blind, tool("C", 95, **{**BAR, "shank": 18}))
    assert thick.standing[0].reason == "bore"
    assert thick.standing[0].area.m_as("mm**2") == pytest.approx(300, rel=1e-3)


@pytest.mark.parametrize(("stands_out", "reason"), [(3.0, "bar"), (5.0, None)])
def test_a_recess_in_a_bore_needs_a_tip_that_stands_out(stands_out, reason):
    recess = profile([(0, 20), (20, 20), (20, 28), (30, 28), (30, 20), (50, 20)], side="inside")
    found = reach(recess, blade(3, stands_out, shank=12, bar_length=60))
    assert areas(found) == ({} if reason is None else {reason: pytest.approx(10 * (4 - stands_out), rel=1e-3)})


def random_profile(seed, steps=12, walls=True):
    rng = np.random.default_rng(seed)
    z = np.cumsum(rng.uniform(0.5, 6, steps))
    d = rng.uniform(20, 40, steps)
    if walls:
        z = np.repeat(z, 2)[1:-1]
        d = np.repeat(d[:-1], 2)[: z.size]
    return Profile.along(mm(z), mm(d), stock=mm(45))


TOOLS = [tool(), tool("V", 93, 0.2), tool("S", 45, 0.8), tool("C", 95, hand="left"), tool("R", None, 2.0), blade(2),
         blade(3, 4, 0.3), tool("V", None, 0.4, hand="neutral"), tool("D", nose=0.0)]  # fmt: skip


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("made", TOOLS, ids=str)
def test_it_is_a_closing(made, seed):
    """Never below what is wanted, never above the stock, again changes nothing, and moved it stays."""
    for walls in (True, False):
        shape = random_profile(seed, walls=walls)
        found = reach(shape, made)
        wanted, left = found.wanted.m_as("mm"), found.left.m_as("mm")
        assert (left >= wanted).all()
        assert left.max() <= 45 + 1e-9
        once = closing(shape.z, shape.radius, made.parts)
        again = closing(once.z, once.left, made.parts)
        change = np.interp(once.z, again.z, again.left) - once.left
        assert float(np.sum(np.diff(once.z) * np.abs(change[1:]))) < 5e-3 * np.ptp(once.z)
        lower = Profile.along(mm(shape.z), mm(2 * shape.radius - 1), stock=mm(44))
        deeper = reach(lower, made)
        assert deeper.area.m_as("mm**2") == pytest.approx(found.area.m_as("mm**2"), rel=2e-3, abs=0.02)


@pytest.mark.parametrize("made", [*TOOLS[:2], *TOOLS[4:]], ids=str)
def test_a_shape_without_hollows_is_cut_exactly(made):
    """Gentle convex shapes: level pieces exactly, slopes to a thousandth of a millimeter."""
    z = np.array([0.0, 10, 20, 30, 40, 60])
    d = np.array([38.0, 39, 39.5, 39.5, 39, 36])
    found = reach(Profile.along(mm(z), mm(d)), made)
    assert found.complete
    assert np.max(found.left.m_as("mm") - found.wanted.m_as("mm")) < 2e-3
    level = reach(profile([(0, 30), (60, 30)]), made)
    assert (level.left == level.wanted).all()


@pytest.mark.parametrize("made", [tool("V", nose=0.8), tool("R", None, 3.0), blade(2), blade(2.77, 10, 0.05)], ids=str)
def test_a_roof_is_cut_on_both_slopes(made):
    """30 degrees up and down: the corner or the arc that touches first has to stand at every spot of the slope."""
    rise = 2 * 15 * math.tan(math.radians(30))
    found = reach(profile([(0, 20), (15, 20 + rise), (25, 20 + rise), (40, 20)]), made)
    assert found.complete
    assert np.max(found.left.m_as("mm") - found.wanted.m_as("mm")) < 6e-3


@pytest.mark.parametrize("made", TOOLS[:3], ids=str)
def test_a_left_hand_tool_is_the_mirror(made):
    shape = random_profile(7)
    other = Profile.along(mm((60 - shape.z)[::-1]), mm(2 * shape.radius[::-1]), stock=mm(45))
    left = type(made)(made.insert, made.entering_angle, made.nose_radius, hand="left")
    assert reach(other, left).area.m_as("mm**2") == pytest.approx(reach(shape, made).area.m_as("mm**2"), rel=2e-3)


def test_volume_is_that_of_the_rings():
    found = reach(profile([(0, 30), (50, 30)], grooves=Groove(mm(20), mm(2), mm(20))), blade(3))
    assert found.volume.m_as("mm**3") == pytest.approx(math.pi * (15**2 - 10**2) * 2, rel=1e-4)


def test_text_and_working_in_both_systems():
    found = reach(profile(DOWN), tool())
    assert redo(found.working) == {"back angle": 32, "square corner leaves": pytest.approx(SQUARE, rel=1e-4)}
    assert "falls more steeply" in str(found)
    assert "in²" in str(reach(profile(DOWN), tool(), system="inch"))
    assert found.to_frame()["reason"].iloc[0].startswith("the corner")


def test_a_nose_shift_and_its_working():
    shift = nose_shift(tool(), mm(0.8))
    lines = redo(shift.working)
    assert lines["radial"] == pytest.approx(0.4 * 0.866, abs=5e-4)
    assert shift.diameter == 2 * shift.radial
    assert nose_shift(tool("C", 95, **BAR), mm(0.8)).diameter.m_as(U.mm) < 0
    with pytest.raises(LatheworksError, match="corner"):
        nose_shift(blade(3), Q_(0.2, "mm"))
