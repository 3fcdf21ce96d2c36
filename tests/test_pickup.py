"""Picking up a lost start, and what a stop costs in the chuck and out of it."""

import math

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.threads import carry_on, pick_up, thread
from latheworks.units import Q_


def mm(quantity):
    return quantity.m_as("mm")


def near(value, within=1e-9):
    return pytest.approx(value, abs=within)


def test_the_worked_pick_up():
    """M16x1.5, 6H with 6g: gap 0.032, play 0.018, half of it 0.009 either way, 2.2 degrees (worked out by hand)."""
    found = pick_up("M16x1.5-6g", "M16x1.5-6H")
    assert mm(found.gap.min) == near(0.032)
    assert mm(found.limit) == pytest.approx(0.018, abs=0.0006)
    assert mm(found.allowed) == pytest.approx(0.009, abs=0.0005)
    assert found.turn.m_as("degree") == pytest.approx(2.2, abs=0.05)


@pytest.mark.parametrize(("name", "half"), [("1-5 ACME-2G", 14.5), ("Tr 40x7-7e", 15), ("1/2-13 UNC-2A", 30)])
def test_any_flank_angle(name, half):
    found = pick_up(name)
    assert mm(found.limit) == pytest.approx(mm(found.gap.min) * math.tan(math.radians(half)))
    assert found.turn.m_as("degree") == pytest.approx(360 * mm(found.allowed) / mm(thread(name).lead))


def test_the_spindle_angle_goes_by_the_lead():
    """Trap 1: with two starts the same axial error is half the angle."""
    one, two = pick_up("M16x1.5-6g"), pick_up("M16xPh3P1.5-6g")
    assert one.allowed == two.allowed
    assert two.turn.m_as("degree") == near(one.turn.m_as("degree") / 2)


def test_a_class_without_allowance_leaves_nothing():
    """Trap 10: the tightest 3A and 3B pair has no gap, so no error is allowed."""
    found = pick_up("1/2-13 UNC-3A")
    assert mm(found.allowed) == near(0)
    assert found.after(Q_(0.01, "mm")).binds
    assert not found.after(Q_(0.0, "mm")).binds


def test_what_an_error_does_to_the_flanks():
    found = pick_up("M16x1.5-6g")
    after = found.after(Q_([-0.1, 0.0, 0.01, 0.1], "mm"))
    assert mm(after.flank_step) == pytest.approx([0.1, 0, 0.01, 0.1])
    assert after.flank_lost.magnitude.tolist() == [1, 0, 1, 1]
    # The groove is wider by the step: as if the tool had gone deeper, the pitch diameter is smaller by step x cot 30.
    assert mm(after.pitch_diameter_change) == pytest.approx([-0.1732051, 0, -0.01732051, -0.1732051])
    assert after.binds.tolist() == [True, False, False, True]
    nut = pick_up("M16x1.5-6g", cutting="internal").after(Q_(0.1, "mm"))
    assert mm(nut.pitch_diameter_change) == pytest.approx(0.1732051)


def test_the_depth_still_to_cut_forgives_an_error():
    """Straight in, a groove 0.2 mm short is 0.2 tan 30 narrower on each flank; what lies inside is cut away."""
    found = pick_up("M16x1.5-6g", remaining=Q_(0.2, "mm"))
    free = 0.2 * math.tan(math.radians(30))
    assert mm(found.free) == near(free)
    after = found.after(Q_([free, free + 0.01], "mm"))
    assert mm(after.flank_step) == pytest.approx([0, 0.01], abs=1e-12)
    assert after.flank_lost.magnitude == pytest.approx([0, 1 - 0.2 / (17 / 24 * math.sqrt(3) / 2 * 1.5)])


def test_the_forgiven_error_follows_from_the_profiles():
    """An earlier groove lies wholly inside the finished one as long as its shift is within the free error."""
    tan, deep, left, flat = math.tan(math.radians(30)), 0.92, 0.2, 0.25
    z = np.linspace(-1.5, 1.5, 6001)

    def groove(depth, at):
        return np.clip(depth - np.maximum(np.abs(z - at) - flat / 2, 0) / tan, 0, None)

    finished = groove(deep, 0.0)
    free = left * tan
    assert (groove(deep - left, free * 0.999) <= finished + 1e-9).all()
    assert (groove(deep - left, free * 1.01) > finished + 1e-9).any()


def test_in_the_chuck_nothing_is_lost():
    found = carry_on("M16x1.5-6g")
    assert mm(found.phase_error) == mm(found.worst_depth) == 0
    assert not found.needs_pick_up
    assert "stays in the chuck" in str(found)
    assert (found.depth_error.magnitude == 0).all()


def test_out_of_the_chuck_angle_and_center_are_lost():
    found = carry_on("M16x1.5-6g", taken_out=True, run_out=Q_(0.06, "mm"))
    assert mm(found.phase_error) == near(0.75)
    assert mm(found.worst_depth) == near(0.03)  # half of the indicator reading
    assert mm(found.depth_error).max() == near(0.03)
    assert mm(found.depth_error).min() == near(-0.03)
    assert mm(found.depth_error).mean() == pytest.approx(0, abs=1e-3)
    assert mm(found.flank_shift) == near(0.03 * math.tan(math.radians(30)))
    assert found.needs_pick_up
    assert len(found.to_frame()) == len(found.angle)


def test_a_mark_on_the_jaws_helps_only_when_it_is_close():
    close = carry_on("M16x1.5-6g", taken_out=True, mark=Q_(2, "degree"))
    rough = carry_on("M16x1.5-6g", taken_out=True, mark=Q_(5, "degree"))
    assert mm(close.phase_error) == near(1.5 * 2 / 360)
    assert not close.needs_pick_up
    assert rough.needs_pick_up
    double = carry_on("M16xPh3P1.5-6g", taken_out=True, mark=Q_(2, "degree"))
    assert mm(double.phase_error) == near(2 * mm(close.phase_error))
    # Never farther than half a pitch from some groove.
    assert mm(carry_on("M16xPh3P1.5-6g", taken_out=True, mark=Q_(180, "degree")).phase_error) == near(0.75)


def test_run_out_without_taking_the_part_out_is_a_contradiction():
    with pytest.raises(LatheworksError, match="run_out: got"):
        carry_on("M16x1.5-6g", run_out=Q_(0.05, "mm"))
    with pytest.raises(LatheworksError, match="mark: got"):
        carry_on("M16x1.5-6g", mark=Q_(5, "degree"))


@pytest.mark.parametrize("name", ["M16x1.5-6g", "1/2-13 UNC-2B", "1-5 ACME-2G", "Tr 40x14(P7)-7e LH", "G 1/2"])
def test_results_read_well_in_every_form(name):
    outer = name if thread(name).external else thread(name).mate().designation
    found = pick_up(outer)
    for result in (found, found.after(Q_([0.0, 0.05], "mm")), carry_on(name),
                   carry_on(name, True, run_out=Q_(0.05, "mm"))):  # fmt: skip
        text = f"{result}\n{result.working}\n{result._repr_html_()}"
        assert "nan" not in text
        assert "None" not in text
