"""The pass bench: what is drawn and said is what the library computes, in both systems, outside and in a bore."""

import re

import numpy as np
import pytest

from latheworks.course.exercises.the_turning import MODES, SETUPS, TURNS
from latheworks.deflection import Chuck, ChuckAndCenter, grip
from latheworks.errors import LatheworksError
from latheworks.passes import turning_passes
from latheworks.shop import lathe
from latheworks.units import Q_, show
from latheworks.widgets import display_system, passes_bench
from tests.benches import SYSTEMS, is_refused, to_both_ends

pytestmark = pytest.mark.usefixtures("benches")

EVERY = pytest.mark.parametrize("setup", list(SETUPS))
# Every setup in metric, and two of them in inches as well.
BOTH = pytest.mark.parametrize(("setup", "system"), [*((name, "metric") for name in SETUPS),
                               ("barrel, chuck and center", "inch"), ("barrel, its socket", "inch")])  # fmt: skip


def polygon(points):
    """Area of a closed shape and the height of its middle, by the shoelace formula."""
    x, y = np.asarray(points).T
    x1, y1 = np.roll(x, -1), np.roll(y, -1)
    cross = x * y1 - x1 * y
    area = cross.sum() / 2
    return abs(area), ((y + y1) * cross).sum() / (6 * area)


def shapes(collection, k=1.0):
    """The closed shapes that a collection draws [mm]."""
    return [path.vertices[:-1] / k for path in collection.get_paths() if len(path.vertices) > 2]


def turned_volume(collection, k=1.0):
    """What the shapes drawn would weigh as rings [cm³]: Pappus, the path of the middle times the area."""
    return sum(2 * np.pi * abs(middle) * area for area, middle in map(polygon, shapes(collection, k))) / 1000


@BOTH
def test_the_layer_drawn_is_the_metal_of_its_pass(setup, system):
    display_system.system = system
    k = 1 / 25.4 if system == "inch" else 1.0
    bench = passes_bench(setup)
    plan = bench.result
    for i in range(plan.passes):
        bench.set(shown=i + 1)
        assert turned_volume(bench.picture.layer, k) == pytest.approx(plan.volume[i].m_as("cm**3"), rel=1e-6), i
        assert bench.picture_data.removed(i + 1) / 1000 == pytest.approx(plan.volume[: i + 1].sum().m_as("cm**3"))
    assert len(shapes(bench.picture.gone)) >= plan.kinds.count("rough")
    assert not shapes(bench.picture.to_come)


def test_one_plan_worked_out_apart_from_the_bench():
    bench = passes_bench("steel shoe, cutting edge", depth=Q_(2, "mm"), feed=Q_(0.25, "mm/rev"), speed=Q_(80, "m/min"))
    machine = lathe()
    held = grip(Q_(16, "kN"), Q_(38, "mm"), Q_(500, "rpm"), jaw_mass=machine.jaw_mass, jaw_radius=machine.jaw_radius)
    points = [(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(6, 34), (34, 34), (46, 22)]]
    plan = turning_passes(points, "1018", Q_(0.25, "mm/rev"), stock=Q_(38, "mm"), surface_speed=Q_(80, "m/min"),
                          most_depth=Q_(2, "mm"), nose_radius=Q_(0.4, "mm"), held=held, holding=Chuck())  # fmt: skip
    data = bench.picture_data
    assert data.depth == pytest.approx(plan.depth.m_as("mm"))
    assert 2 * data.after == pytest.approx(plan.after.m_as("mm"))
    assert data.minutes.sum() == pytest.approx(plan.time.m_as("min"))
    assert data.limited_by == plan.limited_by
    turns = passes_bench("steel shoe, cutting edge", speed=Q_(80, "m/min"), constant=TURNS)
    assert turns.picture_data.spindle == pytest.approx(80_000 / (np.pi * 38))


@EVERY
def test_the_part_stands_to_scale_and_ends_as_the_profile(setup):
    bench = passes_bench(setup)
    bench.set(shown=bench.result.passes)
    picture, profile = bench.picture, SETUPS[setup].profile
    box = picture.upper.get_window_extent()
    wide, high = np.ptp(picture.upper.get_xlim()), np.ptp(picture.upper.get_ylim())
    assert box.width / wide == pytest.approx(box.height / high, rel=0.01)
    drawn = picture.walls[0].get_xy()
    for z, radius in zip(profile.z, profile.radius, strict=True):
        near = np.hypot(drawn[:, 0] - z, np.abs(drawn[:, 1]) - radius)
        assert near.min() < 1e-6, (z, radius)
    bench.set(shown=1)
    stack = picture.stack.get_window_extent()
    larger = re.search(r"([\d.]+) times larger across", picture.scale_words.get_text())
    across = stack.height / np.ptp(picture.stack.get_ylim())
    along = stack.width / np.ptp(picture.stack.get_xlim())
    assert across / along == pytest.approx(float(larger[1]), rel=0.01)


@EVERY
def test_nothing_is_ever_cut_below_the_wanted_profile(setup):
    bench = passes_bench(setup)
    data, before = bench.picture_data, None
    for made in range(data.passes + 1):
        z, height = data.stands(made)
        middle = (z[::2] + z[1::2]) / 2
        wanted = np.interp(middle, data.z, data.height)
        assert ((height[::2] + height[1::2]) / 2 >= wanted - 1e-9).all(), made
        assert before is None or (height <= before + 1e-9).all()
        before = height
    assert (height[::2] + height[1::2]) / 2 == pytest.approx(wanted)


@BOTH
def test_bars_are_the_limits_and_the_least_says_so(setup, system):
    display_system.system = system
    bench = passes_bench(setup)
    plan = bench.result
    for i in range(plan.passes):
        bench.set(shown=i + 1)
        bars = bench.picture.bars
        said = [words.get_text() for words in bars.words]
        allowed = {name: deep.m_as("mm") for name, deep in plan.allowed[i].items()}
        drawn = sorted(np.ptp(shape[:, 0]) * 3.0 for part in (bars.bars, bars.least) for shape in shapes(part))
        assert drawn == pytest.approx(sorted(allowed.values())), i
        assert len(shapes(bars.open)) == 4 - len(allowed)
        assert np.ptp(shapes(bars.least)[0][:, 0]) * 3.0 == pytest.approx(plan.depth_limit[i].m_as("mm"))
        assert sum(" limits: " in words for words in said) == 1
        short = plan.limited_by[i].removesuffix("'s own depth")
        assert f"{short} limits: {show(plan.depth_limit[i], system)}" in said
        assert bars.taken.get_xdata()[0] * 3.0 == pytest.approx(plan.depth[i].m_as("mm"))
        assert show(plan.depth[i], system) in bars.taken_words.get_text()


def test_each_limit_can_be_brought_to_the_front():
    bench, seen = passes_bench(), {}
    for name in bench.demonstrations():
        bench.demo(name)
        seen[name] = bench.result.limit
        if name == "The tool":
            assert bench.result.depth_limit[0].m_as("mm") == pytest.approx(bench.value("depth").m_as("mm"))
    assert [seen[name] for name in ("Power", "Jaw grip", "Deflection")] == ["power", "jaw grip", "deflection"]
    assert seen["The tool"] == "the tool's own depth"
    # Slow and large, with little asked of the jaws, the motor's torque is left.
    bench.set(setup="stainless shoe, screw end", speed=Q_(20, "m/min"), feed=Q_(0.2, "mm/rev"))
    assert bench.picture.bars.words[0].get_text().partition(":")[0] == "torque"


@SYSTEMS
def test_reading_alt_and_table_say_what_the_library_computes(system):
    display_system.system = system
    bench = passes_bench("steel shoe, screw end", shown=3)
    plan, k = bench.result, 1 / 25.4 if system == "inch" else 1.0
    for said in (bench.alt, bench.reading_text):
        assert show(plan.depth[2], system) in said
        assert plan.limited_by[2] in said
        assert show(plan.depth_limit[2], system) in said
    assert f"{plan.time.m_as('min'):.2f} min" in bench.reading_text
    assert f"Pass 3 is shown, rough, {show(plan.depth[2], system)} deep" in bench.alt
    assert len(bench.table.rows) == plan.passes
    assert [float(row[4]) for row in bench.table.rows] == pytest.approx(plan.depth.m_as("mm") * k, abs=6e-4)
    assert [row[-1] for row in bench.table.rows] == list(plan.limited_by)


def test_stepping_through_the_passes_plans_once(monkeypatch):
    bench, calls = passes_bench(), []
    real = turning_passes
    monkeypatch.setattr("latheworks.course.exercises.the_turning.turning_passes",
                        lambda *a, **k: calls.append(1) or real(*a, **k))  # fmt: skip
    for k in range(1, bench.result.passes + 1):
        bench.controls["shown"].slider.value = k
        assert bench.picture_data.shown == k
    assert not calls
    bench.set(feed=Q_(0.3, "mm/rev"))
    assert len(calls) == 1


def test_a_surface_speed_is_typed_in_either_system():
    bench = passes_bench()
    for typed, expected in (("300 ft/min", 91.44), ("300 sfm", 91.44), ("80 m/min", 80.0), ("75", 75.0)):
        bench.enter("speed", typed)
        assert not bench.error, typed
        assert bench.picture_data.surface[0] == pytest.approx(expected)
        assert bench.value("speed").m_as("m/min") == pytest.approx(expected)


def test_fewer_passes_take_the_one_shown_along():
    bench = passes_bench("barrel, chuck alone", feed=Q_(0.36, "mm/rev"), shown=17)
    bench.set(setup="barrel, chuck and center")
    assert bench.value("shown") == bench.result.passes < 17
    with pytest.raises(LatheworksError, match=r"no pass 30.*Type \d+ or less"):
        bench.set(shown=30)


def test_a_pass_past_its_limit_is_no_good_plan():
    bench = passes_bench("barrel, chuck alone", feed=Q_(1, "mm/rev"), speed=Q_(30, "m/min"), constant=TURNS)
    over = bench.result.depth.m_as("mm") > bench.result.depth_limit.m_as("mm")
    assert over[-1]
    assert not bench.reading.good
    assert "finish pass is deeper than its limit" in bench.reading.verdict
    assert bench.reading.verdict in bench.alt


@BOTH
@pytest.mark.parametrize("constant", MODES)
def test_every_slider_to_both_ends_in_every_setup(system, setup, constant):
    display_system.system = system
    to_both_ends(passes_bench(setup, constant=constant))


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("depth", "0 mm", r"too small"), ("depth", "3,5 mm", r"comma"), ("feed", "0.2 mm", r"mm/rev"),
        ("feed", "0.9 mm/rev", r"largest carriage feed"), ("speed", "90 rpm", r"m/min"),
        ("speed", "2000 m/min", r"too large"), ("shown", "7", r"no pass 7: the last one is pass 6"),
        ("depth", "$x$ <script>", r"Tool depth"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_the_picture_stays(name, typed, said):
    is_refused(passes_bench(), name, typed, said)


@pytest.mark.parametrize("wrong", [
    {"setup": "barrel, glued"}, {"depth": Q_(0.1, "mm")}, {"feed": Q_(0.2, "mm")}, {"speed": Q_(90, "rpm")},
    {"constant": "constant power"}, {"shown": 0}, {"shown": 7}, {"shown": 1.5}, {"depth": 3},
])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|expected"):
        passes_bench(**wrong)


def test_the_center_is_drawn_where_there_is_one():
    for name, setup in SETUPS.items():
        bench = passes_bench(name)
        assert bool(shapes(bench.picture.centers)) is isinstance(setup.holding, ChuckAndCenter)
