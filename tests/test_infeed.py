"""What an infeed schedule holds, its speed limit and run-in, its words, and how it shows itself."""

import math

import numpy as np
import pytest

from latheworks.errors import OutOfRange
from latheworks.shop import lathe
from latheworks.tables import DATA
from latheworks.threads import infeed, thread
from latheworks.units import Q_


@pytest.fixture
def slow_carriage(tmp_path):
    """A lathe whose carriage sets the speed, not the teaching cap."""
    shipped = (DATA / "lathe.toml").read_text(encoding="utf-8")
    text = shipped.replace('carriage feed [mm/min]" = 1200', 'carriage feed [mm/min]" = 300')
    assert text != shipped
    path = tmp_path / "slow.toml"
    path.write_text(text, encoding="utf-8")
    return lathe(path)


def test_arrays_cover_cutting_and_spring_passes():
    schedule = infeed("M16x1.5-6g", 6, spring_passes=3)
    for values in (schedule.depth, schedule.step, schedule.side_shift, schedule.from_center, schedule.slide_travel,
                   schedule.area, schedule.force):  # fmt: skip
        assert values.shape == (9,)
        assert np.isfinite(values.magnitude).all()
    assert (schedule.depth[5:] == schedule.total_depth).all()
    for values in (schedule.step, schedule.area, schedule.force):
        assert (values.magnitude[6:] == 0).all()
        assert (values.magnitude[:6] > 0).all()
    assert schedule.step.sum().m_as("mm") == pytest.approx(schedule.total_depth.m_as("mm"))


@pytest.mark.parametrize("spring", [0, 1, 10])
def test_spring_passes_only_add_time(spring):
    with_them, without = infeed("M10", 8, spring_passes=spring), infeed("M10", 8, spring_passes=0)
    assert with_them.depth[:8].m_as("mm").tolist() == without.depth.m_as("mm").tolist()
    assert with_them.time.m_as("s") == pytest.approx(without.time.m_as("s") * (8 + spring) / 8)


def test_side_shift_and_slide_travel_of_each_method():
    degrees = {"flank": 30.0, "modified flank": 29.5}
    for method, angle in degrees.items():
        schedule = infeed("M16x1.5-6g", 6, method=method)
        depth = schedule.depth.m_as("mm")
        assert schedule.compound_angle.m_as("degree") == angle
        assert schedule.slide_travel.m_as("mm") == pytest.approx(depth / math.cos(math.radians(angle)))
        assert schedule.side_shift.m_as("mm") == pytest.approx(depth * math.tan(math.radians(angle)))
    straight = infeed("M16x1.5-6g", 6, method="radial")
    assert (straight.side_shift.magnitude == 0).all()
    assert (straight.slide_travel == straight.depth).all()


def test_alternating_infeed_changes_side_each_pass_and_comes_home():
    schedule = infeed("M16x1.5-6g", 7, method="alternating flank", spring_passes=0)
    place = schedule.side_shift.m_as("mm")
    assert place[-1] == 0
    assert (np.sign(place[:-2]) == -np.sign(place[1:-1])).all()
    assert np.abs(np.diff(place)) == pytest.approx(schedule.step[1:].m_as("mm") * math.tan(math.radians(30)))


def test_flank_infeed_ends_at_the_groove_center():
    schedule = infeed("M16x1.5-6g", 7, method="modified flank")
    assert schedule.from_center[-1].m_as("mm") == 0
    assert (schedule.from_center[:6].m_as("mm") < 0).all()


@pytest.mark.parametrize(
    ("name", "speed", "why"),
    [("M10x1.5-6g", 200.0, "carriage"), ("M16xPh3P1.5-6g", 100.0, "carriage"), ("M3x0.5-6g", 500.0, "cap")],
)
def test_spindle_limit_and_its_reason(slow_carriage, name, speed, why):
    """300 mm/min over leads of 1.5, 3 and 0.5 mm: 200, 100 and 600 rev/min; the last is above the cap of 500."""
    schedule = infeed(name, lathe=slow_carriage)
    assert schedule.spindle_limit.m_as("rev/min") == pytest.approx(speed)
    assert why in schedule.spindle_reason
    assert schedule.spindle <= schedule.spindle_limit


def test_a_speed_above_the_limit_is_refused_not_lowered(slow_carriage):
    at_limit = infeed("M10x1.5-6g", lathe=slow_carriage, spindle=Q_(200, "rev/min"))
    assert at_limit.spindle.m_as("rev/min") == 200
    assert at_limit.feed.m_as("mm/min") == pytest.approx(300)
    with pytest.raises(OutOfRange, match="at most 200 rev/min, set by the carriage"):
        infeed("M10x1.5-6g", lathe=slow_carriage, spindle=Q_(201, "rev/min"))
    with pytest.raises(OutOfRange, match="teaching cap of 500"):
        infeed("M3x0.5-6g", spindle=Q_(600, "rev/min"))


def test_usual_speed_comes_from_the_threading_speed_in_tens():
    """20 m/min on 32 mm is 198.9 rev/min; the working diameter of the barrel's outside thread."""
    assert infeed("M32x1.5-6g").spindle.m_as("rev/min") == 190
    assert infeed("M32x1.5-6g", material="steel 1045").spindle.m_as("rev/min") == 60


def test_run_in_feed_and_time_by_hand():
    """300 rev/min x 2 mm = 600 mm/min = 10 mm/s; 10^2/(2 x 400) = 0.125 mm; 30.125 mm at 600 and back at 1200."""
    schedule = infeed("M16x2-6g", 8, spindle=Q_(300, "rev/min"), length=Q_(30, "mm"), spring_passes=2)
    assert schedule.feed.m_as("mm/min") == pytest.approx(600)
    assert schedule.run_in.m_as("mm") == pytest.approx(0.125)
    assert schedule.time.m_as("s") == pytest.approx(60 * 10 * (30.125 / 600 + 30.125 / 1200))


def test_further_starts_use_the_lead_and_shift_by_the_pitch():
    two, one = infeed("M16xPh3P1.5-6g", 8), infeed("M16x1.5-6g", 8)
    assert two.depth.m_as("mm").tolist() == one.depth.m_as("mm").tolist()
    assert two.start_shift.m_as("mm") == 1.5
    assert two.start_turn.m_as("degree") == 180
    assert two.feed.m_as("mm/min") == pytest.approx(2 * one.feed.m_as("mm/min") * (two.spindle / one.spindle).magnitude)
    once, twice = (infeed(name, 8, spindle=Q_(100, "rev/min"), length=Q_(20, "mm"))
                   for name in ("M24x3-6g", "M16xPh3P1.5-6g"))  # fmt: skip
    assert twice.time.m_as("s") == pytest.approx(2 * once.time.m_as("s"))
    assert one.start_shift.magnitude == 0 == one.start_turn.magnitude
    assert any("each start" in note for note in two.notes)


def test_left_hand_says_which_way_the_carriage_goes():
    assert any("away from the headstock" in note for note in infeed("M16x1.5-6g-LH").notes)
    assert not any("away from the headstock" in note for note in infeed("M16x1.5-6g").notes)


def test_force_follows_the_material_and_is_left_out_where_none_is_published():
    soft, hard = infeed("M16x1.5-6g", 8), infeed("M16x1.5-6g", 8, material="stainless steel 304")
    assert (hard.force[:8] > 2 * soft.force[:8]).all()
    plastic = infeed("M16x1.5-6g", 8, material="POM")
    assert plastic.force is None
    assert not any("force" in heading for heading in plastic.columns())
    assert any("No force" in note for note in plastic.notes)
    assert "force" not in str(plastic).replace("No force", "")


def test_equal_steps_are_heaviest_at_the_end_and_need_more_passes():
    even = infeed("M16x1.5-6g", 8, "equal depth")
    assert np.argmax(even.area.magnitude) == 7
    assert np.argmax(even.force.magnitude) == 7
    assert infeed("M16x1.5-6g", law="equal depth").passes > infeed("M16x1.5-6g").passes


def test_least_depth_limits_the_passes_chosen():
    chosen = infeed("M16x1.5-6g", least_depth=Q_(0.1, "mm"))
    assert chosen.step[: chosen.passes].min().m_as("mm") >= 0.1
    assert chosen.passes < infeed("M16x1.5-6g").passes


def test_a_thread_object_and_its_designation_give_the_same():
    by_name, by_object = infeed("1/2-13 UNC-2A"), infeed(thread("1/2-13 UNC-2A"))
    assert str(by_name) == str(by_object)


def test_dials_that_read_diameter_are_mentioned():
    schedule = infeed("M16x1.5-6g")
    facts = dict(schedule.facts())
    assert facts["total depth, on the radius"] == "0.920 mm"
    assert facts["total on a dial reading diameter"] == "1.840 mm"
    assert any("twice the depth" in note for note in schedule.notes)


def test_shows_as_text_html_frame_and_working():
    schedule = infeed("1/2-13 UNC-2A", 8, method="modified flank")
    frame = schedule.to_frame()
    assert list(frame["kind"]) == ["cut"] * 8 + ["spring"] * 2
    assert frame["depth [in]"].iloc[7] == pytest.approx(schedule.total_depth.m_as("in"))
    page = schedule._repr_html_()
    assert "29.50°" in page
    assert page.count("<tr>") == len(schedule.facts()) + 1 + 10
    assert "1/2-13" in str(schedule)
    working = schedule.working.text()
    assert "17/24 H" in working
    assert "Compound" not in working
    assert "compound travel" in working
    assert "29.50°" in working
    assert "qualified staff decide" in schedule.notes[-1]


def test_working_names_a_depth_asked_for():
    assert "asked for" in infeed("M16x1.5-6g", depth=Q_(0.9, "mm")).working.text()
    assert "11/16 H" in infeed("1/2-13 UNRC-2A").working.text()


def test_the_working_can_be_redone_from_the_numbers_it_shows():
    """Root 0.250 x 0.376, flanks 2 x 0.217 x 0.188, kc1.1 800 and mc 0.25, put in by hand."""
    schedule = infeed("M16x1.5-6g", 6)
    shown = next(line for line in schedule.working if line.symbol == "Fc of pass 1")
    for number in ("0.250 mm x 0.376 mm", "2 x 0.217 mm x 0.188 mm", "800 MPa", "mc 0.25"):
        assert number in shown.numbers
    by_hand = 800 * (0.250 * 0.376**0.75 + 2 * 0.217 * 0.188**0.75)
    assert schedule.force[0].m_as("N") == pytest.approx(by_hand, rel=0.003)
