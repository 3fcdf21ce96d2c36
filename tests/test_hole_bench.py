"""The hole bench: what is drawn and said is what the library plans, in both systems and to both ends."""

import re

import numpy as np
import pytest

from latheworks.deflection import clamping_friction
from latheworks.drilling import drill_hole, peck_depths, point_length
from latheworks.errors import LatheworksError
from latheworks.pictures.style import Look
from latheworks.shop import lathe, rack
from latheworks.units import Q_, show
from latheworks.widgets import display_system, hole_bench
from tests.benches import SYSTEMS, is_refused

pytestmark = pytest.mark.usefixtures("benches")

ALUMINUM = "aluminum 6061-T6"


def expected(depth=250, diameter=20, material=ALUMINUM, through=True, pilot="auto", **more):
    """The same plan from the library."""
    more = {"stop": True, "grip_diameter": Q_(32, "mm"), "friction": clamping_friction("diamond"), **more}
    return drill_hole(Q_(diameter, "mm"), Q_(depth, "mm"), material, through, pilot=pilot, **more)


def drills(plan):
    return [step for step in plan.steps if step.does == "drill"]


@SYSTEMS
@pytest.mark.parametrize("gone", [0, 70, 132, 200])
def test_the_drill_stands_where_it_has_gone(system, gone):
    display_system.system = system
    k = 1 / 25.4 if system == "inch" else 1.0
    bench = hole_bench(drilled=Q_(gone, "mm"))
    first, _ = (step.travel.m_as("mm") for step in drills(expected()))
    inside = gone if gone <= first else gone - first
    tip = bench.picture.whole.drill.get_xy()[0]
    assert tip / k == pytest.approx([250 - inside, 0])
    # The point's cone, by the library's own length, and the radius at its foot.
    foot = bench.picture.whole.drill.get_xy()[1] - tip
    assert foot / k == pytest.approx([point_length(Q_(20, "mm")).m_as("mm"), 10])
    assert bench.picture_data.end == (1 if gone <= first else 2)
    assert f"the point is {show(Q_(inside, 'mm'), system)} deep" in bench.alt


def test_the_hole_is_open_behind_the_lips_and_a_pilot_ahead_of_them():
    bench = hole_bench(drilled=Q_(100, "mm"))
    x, low = bench.picture.whole.walls[0].get_xy()[:-1].T
    half = len(x) // 2

    def radius(at):
        return np.interp(at, x[:half], low[:half])

    assert radius(200) == pytest.approx(10)
    assert radius(150 + point_length(Q_(20, "mm")).m_as("mm") / 2) == pytest.approx(5, abs=0.01)
    assert radius(140) == pytest.approx(2.5)
    assert radius(100) == pytest.approx(0)
    bench.set(pilot="no pilot")
    x, low = bench.picture.whole.walls[0].get_xy()[:-1].T
    assert low[: len(x) // 2][x[: len(x) // 2] < 149.9].max() == pytest.approx(0)


@SYSTEMS
def test_both_views_are_to_scale(system):
    display_system.system = system
    bench = hole_bench(drilled=Q_(60, "mm"))
    for axes in (bench.picture.whole.axes, bench.picture.close.axes):
        box = axes.get_window_extent()
        wide, high = np.ptp(axes.get_xlim()), np.ptp(axes.get_ylim())
        assert box.width / wide == pytest.approx(box.height / high, rel=0.01)


@pytest.mark.parametrize(("depth", "diameter", "kind"), [(250, 20, "through"), (45, 6, "blind"), (140, 20, "through")])
def test_pecks_are_the_librarys(depth, diameter, kind):
    bench = hole_bench(Q_(depth, "mm"), Q_(diameter, "mm"), kind=kind)
    travel = drills(expected(depth, diameter, through=kind == "through"))[0].travel
    stops = peck_depths(Q_(diameter, "mm"), travel).depths.m_as("mm")
    part = bench.picture_data.part
    drawn = np.concatenate([bench.picture.whole.done.get_xdata(), bench.picture.whole.stops.get_xdata()])
    assert sorted(part - drawn) == pytest.approx(stops[:-1])
    for n, stop in enumerate(stops, 1):
        bench.set(drilled=Q_(float(stop) - 0.01, "mm"))
        assert f"peck {n} of {len(stops)}" in bench.alt
    # Chips since the last clearing: five times the solid, less the pilot's.
    bench.set(drilled=Q_(float(stops[0]) / 2, "mm"))
    pilot = bench.picture_data.pilot
    solid = np.pi / 4 * (diameter**2 - pilot**2) * stops[0] / 2 / 1000
    assert bench.picture_data.chips == pytest.approx(5 * solid)


@SYSTEMS
def test_bars_and_words_say_what_the_library_plans(system):
    display_system.system = system
    bench, plan = hole_bench(), expected()
    last = drills(plan)[-1]
    shares = bench.picture_data.shares(Look(system))
    spindle = last.spindle.m_as("rpm")
    watts = lathe().power.m_as("W") * lathe().drive_efficiency.m_as("dimensionless")
    torque = watts / (2 * np.pi * max(spindle, lathe().base_spindle.m_as("rpm")) / 60)
    tool = rack().tool("20 mm long drill")
    room = (tool.reach - tool.diameter).m_as("mm")
    cone = point_length(Q_(20, "mm")).m_as("mm")
    wanted = [(250 + cone) / room, last.travel.m_as("mm") / 80, last.torque.max.m_as("N*m") / torque,
              (plan.grip_needed / plan.grip_available).m]  # fmt: skip
    assert [share.share for share in shares] == pytest.approx(wanted)
    assert show(plan.grip_needed, system) in bench.alt
    for said in (bench.alt, bench.reading_text):
        assert show(last.thrust.max, system) in said
        assert show(plan.meeting.step, system) in said
        assert show(plan.meeting.worst_allowance, system) in said
    assert "Limited by quill, torque, flute length" in bench.reading_text
    paths = [path.vertices[:, 0].max() for path in bench.picture.bars.good.get_paths()]
    assert sorted(paths) == pytest.approx(sorted(wanted[2:]))
    assert len(bench.picture.bars.past.get_paths()) == 2


def test_sideways_errors_are_drawn_as_much_larger_as_it_says_and_meet_in_the_worst_step():
    bench = hole_bench(drilled=Q_(255, "mm"))
    meeting = expected().meeting
    larger = float(re.search(r"sideways ([\d.]+) times larger", bench.picture.close.title.get_text())[1])
    assert larger > 1
    first, second, *_ = bench.picture_data.hollows(larger)
    at = np.array([250 - meeting.depths.m_as("mm")[1]])
    apart = float((first.middle(np.array([meeting.depths.m_as("mm")[0]])) - second.middle(at))[0])
    assert apart == pytest.approx(larger * meeting.worst_step.m_as("mm"))
    bore = np.nanmax(bench.picture.close.bore.get_ydata())
    assert 2 * bore == pytest.approx(20 + larger * meeting.worst_allowance.m_as("mm"))
    # The bore clears both holes where they meet, and only just clears the one further off.
    offs = [abs(float(h.middle(place)[0])) for h, place in ((first, meeting.depths.m_as("mm")[:1]), (second, at))]
    assert bore - 10 == pytest.approx(max(offs))


def test_a_pilot_takes_the_thrust_and_not_the_torque():
    bench = hole_bench(depth=Q_(140, "mm"))
    with_pilot = bench.picture_data
    bench.keep()
    bench.set(pilot="no pilot")
    alone = bench.picture_data
    assert alone.thrust[1] > 2 * with_pilot.thrust[1]
    assert alone.torque[1] < 1.1 * with_pilot.torque[1]
    assert "kept for comparison had a thrust" in bench.alt
    assert np.nanmax(bench.picture.bars.kept.get_xdata()) <= 1.5


def test_jaws_that_do_not_hold_are_said():
    held, loose = hole_bench(), hole_bench(jaws="smooth")
    assert held.reading.good
    assert not loose.reading.good
    assert "the jaws may slip" in loose.reading_text
    assert loose.result.grip_needed == expected(friction=clamping_friction("smooth")).grip_needed


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("depth", "300 mm", r"Hole depth: 300 mm is more than the [\d.]+ mm allowed here: 20 mm long drill reaches"),
        ("diameter", "0.5 mm", r"Diameter: 0.5 mm does not fit here: the rack has no drill from"),
        ("diameter", "31 mm", r"too large"),
        ("drilled", "300 mm", r"past the end of the hole, at 266\.\d+ mm\. Type 266"),
        ("drilled", "-1 mm", r"too small"), ("depth", "12,7 mm", r"comma"), ("depth", "$x$ <script>", r"Hole depth"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_the_picture_stays(name, typed, said):
    is_refused(hole_bench(), name, typed, said)


def test_a_shorter_hole_takes_the_drill_back():
    bench = hole_bench(drilled=Q_(260, "mm"))
    bench.set(depth=Q_(100, "mm"))
    assert bench.value("drilled") == drills(expected(100))[0].travel


def test_the_depth_that_is_said_to_be_allowed_is():
    bench = hole_bench()
    bench.enter("depth", "300 mm")
    allowed = float(re.search(r"than the ([\d.]+) mm allowed", bench.error)[1])
    bench.set(depth=Q_(allowed, "mm"))
    with pytest.raises(LatheworksError):
        bench.set(depth=Q_(allowed + 0.2, "mm"))


@pytest.mark.parametrize("wrong", [
    {"depth": Q_(400, "mm")}, {"depth": 250}, {"diameter": Q_(31, "mm")}, {"kind": "square"}, {"pilot": "two"},
    {"drilled": Q_(300, "mm")}, {"material": "POM"}, {"material": "cheese"}, {"outside": Q_(0, "mm")}, {"stop": 1},
    {"jaws": "teeth"},
])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        hole_bench(**wrong)
