"""The facing bench: rings, curves and times against the integral worked out apart, in both systems."""

import numpy as np
import pytest

from latheworks.course.exercises.the_turning import MODES, SURFACE, TURNS
from latheworks.errors import LatheworksError
from latheworks.units import Q_, show
from latheworks.widgets import display_system, facing_bench
from tests.benches import SYSTEMS

pytestmark = pytest.mark.usefixtures("benches")


def minutes_until(size, mode, outside=38.0, speed=120.0, most=2000.0, feed=0.1):
    """Time from the outside to a diameter, by adding up thin rings [min]."""
    edges = np.linspace(outside, size, 40_001)
    middle = (edges[:-1] + edges[1:]) / 2
    steady = 1000 * speed / (np.pi * outside)
    turns = np.minimum(1000 * speed / (np.pi * middle), most) if mode == SURFACE else np.full(middle.shape, steady)
    return float(np.sum(np.abs(np.diff(edges)) / 2 / (feed * turns)))


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("hole", [0.0, 8.0, 25.0])
def test_rings_stand_where_the_tool_is_after_each_tenth_of_the_time(mode, hole):
    bench = facing_bench(hole=Q_(hole, "mm"), mode=mode)
    whole = minutes_until(hole, mode)
    assert bench.result.time.m_as("min") == pytest.approx(whole, rel=1e-6)
    x, y = map(np.asarray, bench.picture.ring_lines.get_data())
    radii = np.hypot(x, y)[np.isfinite(x)].reshape(9, -1)
    assert np.ptp(radii, axis=1) == pytest.approx(np.zeros(9), abs=1e-9)
    for n, radius in enumerate(radii[:, 0], 1):
        assert minutes_until(2 * radius, mode) == pytest.approx(n / 10 * whole, rel=2e-3)


@SYSTEMS
@pytest.mark.parametrize("mode", MODES)
def test_curves_and_marks_are_turns_and_surface(system, mode):
    display_system.system = system
    k, fast = (1 / 25.4, 1 / 0.3048) if system == "inch" else (1.0, 1.0)
    bench = facing_bench(mode=mode, at=Q_(12, "mm"))
    d, turns = np.asarray(bench.picture.curves[0].get_data())
    _, surface = np.asarray(bench.picture.curves[1].get_data())
    asked = np.minimum(120_000 / (np.pi * np.maximum(d / k, 1e-9)), 2000) if mode == SURFACE else 120_000 / (np.pi * 38)
    assert turns == pytest.approx(np.broadcast_to(asked, turns.shape))
    assert surface / fast == pytest.approx(np.pi * d / k * turns / 1000)
    (x,), (y,) = bench.picture.marks[0].get_data()
    assert x / k == pytest.approx(12)
    here = 2000 if mode == SURFACE else 120_000 / (np.pi * 38)
    assert y == pytest.approx(here, rel=1e-3)
    assert f"{here:.0f} rev/min" in bench.alt
    assert show(Q_(np.pi * 12 * here / 1000, "m/min"), system) in bench.reading_text
    assert not bench.reading.good


def test_the_clamp_is_hatched_and_said_only_where_it_is_met():
    bench = facing_bench()
    clamp = 120_000 / (np.pi * 2000)
    assert np.hypot(*bench.picture.held_at.get_xy().T) == pytest.approx(clamp / 2)
    assert show(Q_(clamp, "mm")) in bench.picture.held_words.get_text()
    bench.set(mode=TURNS)
    assert not bench.picture.held_words.get_text()
    bench.set(mode=SURFACE, hole=Q_(25, "mm"), at=Q_(25, "mm"))
    assert not bench.picture.held_words.get_text()
    assert np.isnan(bench.picture.held_at.get_xy()).all()
    assert bench.reading.good
    # A lower clamp makes the cut slower, and never quicker than constant turns at its start.
    slow = facing_bench(most=Q_(1000, "rpm"))
    assert slow.picture_data.time > facing_bench().picture_data.time
    assert slow.picture_data.time == pytest.approx(slow.picture_data.minutes[TURNS][-1])


@SYSTEMS
def test_the_table_ends_with_the_time_of_the_whole_face(system):
    display_system.system = system
    bench = facing_bench()
    for name in bench.demonstrations():
        bench.demo(name)
        assert float(bench.table.rows[-1][-1]) == pytest.approx(bench.picture_data.time, abs=6e-4), name


def test_the_tool_stays_on_the_face():
    bench = facing_bench(at=Q_(5, "mm"))
    bench.set(hole=Q_(10, "mm"))
    assert bench.value("at") == Q_(10, "mm")
    with pytest.raises(LatheworksError, match=r"off the face.*Type"):
        bench.set(at=Q_(4, "mm"))
    bench.enter("hole", "40 mm")
    assert "leaves nothing" in bench.error
    bench.enter("hole", "$x$ <script>")
    assert "<script" not in bench._error.value
    bench.start_again()
    assert not bench.error


@pytest.mark.parametrize("wrong", [
    {"outside": Q_(1, "mm")}, {"hole": Q_(38, "mm")}, {"speed": Q_(120, "rpm")}, {"most": Q_(9000, "rpm")},
    {"mode": "by hand"}, {"at": Q_(39, "mm")}, {"at": Q_(2, "mm"), "hole": Q_(3, "mm")}, {"feed": Q_(0.1, "mm")},
    {"outside": 38},
])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|expected"):
        facing_bench(**wrong)
