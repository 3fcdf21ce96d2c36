"""Infeed of ACME, trapezoidal and pipe threads: their angle, depth and flat, and a taper thread's two diameters.

Forms from memory of ASME B1.5 (crest flat 0.3707 P, root flat 0.3707 P - 0.259 x allowance, read in a handbook's
formulas by this project's notes), ISO 2901 (0.366 P), ISO 228-1 and ASME B1.20.1.
"""

import itertools
import math

import numpy as np
import pytest

from latheworks.errors import Impossible, LatheworksError, OutOfRange
from latheworks.threads import infeed, thread
from latheworks.threads import infeed_kernel as kernel
from latheworks.threads.forms import form
from latheworks.units import Q_, U

NAMES = ("1-5 ACME-2G", "3/8-12 ACME-3G INT", ".500-.1P-.2L-ACME-2G", "Tr 40x7-7e", "Tr 40x14(P7)-7H LH",
         "G 1/2 A", "G 1/2", "1/2-14 NPT", "1/2-14 NPT INT", "M16x1.5-6g", "1/2-13 UNC-2B")  # fmt: skip


def mm(quantity):
    return quantity.m_as("mm")


def test_depth_is_half_a_pitch_and_the_clearance():
    assert infeed("1-5 ACME-2G").total_depth.m_as("in") == pytest.approx(0.1 + 0.010)
    assert infeed("3/8-12 ACME-2G INT").total_depth.m_as("in") == pytest.approx(1 / 24 + 0.005)
    for name in ("Tr 40x7-7e", "Tr 40x7-7H"):
        assert mm(infeed(name).total_depth) == pytest.approx(3.5 + 0.5)
    assert mm(infeed("Tr 8x1.5-7e").total_depth) == pytest.approx(0.75 + 0.15)
    # To the root as the limits have it: 40 - 2 x 4 = 32, and 33 + 2 x 4 = 41.
    assert mm(infeed("Tr 40x7-7e").finish_diameter[-1]) == pytest.approx(32)
    assert mm(infeed("Tr 40x7-7H").finish_diameter[-1]) == pytest.approx(41)


@pytest.mark.parametrize(("name", "clearance"), [("1-5 ACME-2G", 0.020), ("3/8-12 ACME-2G", 0.010)])
def test_the_acme_tool_has_the_flat_of_the_handbook(name, clearance):
    # Fr = 0.3707 P - 0.259 x clearance, to the digits of the formula.
    schedule = infeed(name)
    pitch = schedule.thread.pitch.m_as("in")
    assert schedule.flat.m_as("in") == pytest.approx(0.3707 * pitch - 0.259 * clearance, abs=0.00003)


def test_the_trapezoidal_tool_has_the_flat_of_the_form():
    # 0.366 P at the basic root, less 2 ac tan 15: 0.536 ac.
    assert mm(infeed("Tr 40x7-7e").flat) == pytest.approx(0.366025 * 7 - 0.535898 * 0.5, abs=1e-5)


def test_the_pipe_forms_have_their_depths():
    assert mm(infeed("G 1/2 A").total_depth) == pytest.approx(0.640327 * 1.814, abs=1e-6)
    assert infeed("1/2-14 NPT").total_depth.m_as("in") == pytest.approx(0.05714, abs=0.000005)
    # A sixth of the sharp V is cut off at crest and root, so the flat that stands for the round is P/6.
    assert mm(infeed("G 1/2 A").flat) == pytest.approx(1.814 / 6, abs=1e-5)
    # 0.033 P of the sharp V on both sides, 2 x 0.033 P tan 30.
    assert infeed("1/2-14 NPT").flat.m_as("in") == pytest.approx(0.0381 / 14, abs=0.00001)


@pytest.mark.parametrize("name", NAMES)
def test_the_groove_is_half_a_pitch_wide_at_the_pitch_line(name):
    schedule = infeed(name)
    shape, cut = form(schedule.thread), schedule.thread
    surface = cut.major if cut.external else cut.minor
    to_pitch_line = mm(abs(surface - cut.pitch_diameter)) / 2
    width = mm(schedule.flat) + 2 * (mm(schedule.total_depth) - to_pitch_line) * shape.tan
    assert width == pytest.approx(mm(cut.pitch) / 2, abs=0.0015)  # the basic diameters are rounded


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("law", "method"), list(itertools.product(kernel.LAWS, kernel.METHODS)))
def test_chips_add_up_and_no_pass_leaves_the_finished_groove(name, law, method):
    schedule = infeed(name, 8, law, method, least_depth=Q_(0.001, "mm"))
    shape = form(schedule.thread)
    depth, flat, total = mm(schedule.depth)[:8], mm(schedule.flat), mm(schedule.total_depth)
    # The trapezoid drawn from its corners, by the shoelace formula.
    half_top, half_low = flat / 2 + total * shape.tan, flat / 2
    corners = [(-half_top, 0.0), (-half_low, -total), (half_low, -total), (half_top, 0.0)]
    ring = zip(corners, [*corners[1:], corners[0]], strict=True)
    drawn = abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ring)) / 2
    assert schedule.area.sum().m_as("mm**2") == pytest.approx(drawn, rel=1e-9)
    reach = np.abs(mm(schedule.from_center)[:8]) + depth * shape.tan
    assert (reach <= total * shape.tan + 1e-9).all()


@pytest.mark.parametrize("tan", [math.tan(math.radians(a)) for a in (14.5, 15, 27.5)])
@pytest.mark.parametrize("share", [0.0, 0.9, 1.0])
def test_force_pieces_add_up_to_the_chip_at_every_angle(tan, share):
    """With mc = 0 the force is the specific force times the chip's area, whatever the pieces."""
    depth = kernel.cumulative_depth("equal area", 2.0, 6)
    got = kernel.pass_forces(depth, 1.2, share * tan, 800.0, 0.0, tan)
    assert got == pytest.approx(800 * kernel.pass_areas(depth, 1.2, tan), rel=1e-12)


@pytest.mark.parametrize(("name", "half"), [("1-5 ACME-2G", 14.5), ("Tr 40x7-7e", 15.0), ("G 1/2 A", 27.5),
                                            ("1/2-14 NPT", 30.0), ("M16x1.5-6g", 30.0)])  # fmt: skip
def test_the_compound_goes_by_the_half_angle(name, half):
    angle = {m: infeed(name, method=m).compound_angle.m_as("degree") for m in kernel.METHODS}
    assert angle == {"radial": 0, "flank": half, "modified flank": half - 0.5, "alternating flank": half}
    travel = infeed(name, method="flank")
    assert mm(travel.slide_travel[-1]) == pytest.approx(mm(travel.total_depth) / math.cos(math.radians(half)))
    with pytest.raises(OutOfRange, match=f"up to below {half:g} degrees"):
        infeed(name, method="modified flank", compound_angle=Q_(half, "degree"))
    if half != 30:
        # The setting of a 60 degree thread would cut into the finished flank.
        with pytest.raises(OutOfRange):
            infeed(name, method="modified flank", compound_angle=Q_(29.5, "degree"))
    assert any(f"{2 * half:g}" in note for note in infeed(name, method="modified flank").notes)


def test_a_taper_thread_starts_and_finishes_at_its_own_diameters():
    pipe, fitting = infeed("1/2-14 NPT"), infeed("1/2-14 NPT INT")
    planes = thread("1/2-14 NPT").planes
    assert pipe.length == planes.l2
    # The point ends at the minor diameter, E - 0.8 P: K0 = 0.7013 in the standard's table.
    assert pipe.start_diameter[-1].m_as("in") == pytest.approx(0.7013, abs=0.00005)
    assert pipe.finish_diameter[-1].m_as("in") == pytest.approx(0.79179 - 0.05714, abs=0.00002)
    assert (pipe.finish_diameter - pipe.start_diameter).m_as("in") == pytest.approx(
        np.full(len(pipe.depth), 0.5337 / 16)
    )
    assert fitting.start_diameter[-1].m_as("in") == pytest.approx(0.77843 + 0.05714, abs=0.00002)
    assert fitting.finish_diameter[-1].m_as("in") == pytest.approx(planes.e3.m_as("in") + 0.05714, abs=0.00003)
    assert (fitting.finish_diameter < fitting.start_diameter).all()
    assert (np.diff(pipe.start_diameter.magnitude[: pipe.passes]) < 0).all()
    assert "diameter at the start [in]" in pipe.columns()
    assert "finish diameter" in pipe.working.text()
    assert any("same taper" in note for note in pipe.notes)


def test_a_parallel_thread_starts_and_finishes_at_one_diameter():
    schedule = infeed("M16x1.5-6g", 6)
    assert (schedule.start_diameter == schedule.finish_diameter).all()
    assert mm(schedule.start_diameter) == pytest.approx(16 - 2 * mm(schedule.depth))
    assert mm(infeed("M16x1.5-6H", 6).start_diameter[-1]) == pytest.approx(16, abs=0.0005)
    assert "diameter at the start [mm]" not in schedule.columns()


def test_several_starts_shift_by_the_pitch_and_feed_the_lead():
    two = infeed("Tr 40x14(P7)-7e", 12)
    one = infeed("Tr 40x7-7e", 12)
    assert mm(two.depth) == pytest.approx(mm(one.depth))
    assert (mm(two.start_shift), two.start_turn.m_as("degree")) == (7, 180)
    assert two.feed.m_as("mm/min") == pytest.approx(14 * two.spindle.m_as("rev/min"))


def test_the_working_uses_the_angle_of_the_form():
    for name, h in (("1-5 ACME-2G", "1.933357"), ("Tr 40x7-7e", "1.866025"), ("G 1/2 A", "0.960491"),
                    ("M16x1.5-6g", "0.866025")):  # fmt: skip
        assert f"{h} P" in infeed(name).working.text()
    text = infeed("1-5 ACME-2G", material="steel 1045").working.text()
    assert "tan 14.5" in text
    assert "P/2 and a clearance" in text


@pytest.mark.parametrize(
    ("name", "arguments", "kind", "says"),
    [("1/2-14 NPT", {"length": Q_(1, "in")}, OutOfRange, "length: got"),
     ("1-5 ACME-2G", {"depth": Q_(1.3, "in")}, OutOfRange, "even a sharp point"),
     ("1-5 ACME-2G", {"passes": 200}, Impossible, "a tool rubs there"),
     ("Tr 300x352(P44)-7e", {}, LatheworksError, "a smaller lead"),
     ("1-5 STUB ACME", {}, LatheworksError, "stub and centralizing")],
)  # fmt: skip
def test_what_makes_no_sense_is_refused(name, arguments, kind, says):
    with pytest.raises(kind, match=says):
        infeed(name, **arguments)


def test_the_notes_fit_the_form():
    assert any("side clearance" in note for note in infeed("1-5 ACME-2G").notes)
    assert any("rounded" in note for note in infeed("G 1/2 A").notes)
    assert any("equal steps come nearer" in note for note in infeed("Tr 40x7-7e").notes)
    assert not any("taper" in note or "rounded" in note for note in infeed("M16x1.5-6g").notes)
    assert infeed("1-5 ACME-2G").flat.units == U.inch
