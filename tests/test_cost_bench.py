"""The cost bench: the curve is the library's cost of a piece, and its best speeds are where the curve says so."""

import math

import numpy as np
import pytest

from latheworks.cutting import economic_speed, tool_life
from latheworks.errors import LatheworksError
from latheworks.plan import piece_cost
from latheworks.units import Q_, U
from latheworks.widgets import cost_bench, display_system
from latheworks.widgets.costing import EDGES
from tests.benches import SYSTEMS, is_refused

pytestmark = pytest.mark.usefixtures("benches")


def expected(edge, speed, feed=0.1, batch=1):
    """The library's cost of a piece: a cylinder 32 mm across and 215 mm long, once over."""
    minutes = math.pi * 32 * 215 / (1000 * feed * speed)
    life = tool_life(Q_(speed, "m/min"), edge)
    return piece_cost(Q_(minutes, "min"), life, Q_(2, "min"), 3.0, 60.0, Q_(8, "min"), Q_(10, "min"), batch, 5.0,
                      whole_edges=False)  # fmt: skip


@SYSTEMS
@pytest.mark.parametrize("edge", EDGES)
def test_the_curve_is_the_librarys_cost(system, edge):
    display_system.system = system
    k = 1 / 0.3048 if system == "inch" else 1.0
    bench = cost_bench(edge, batch=4)
    x, y = (np.asarray(values) for values in bench.picture.total.get_data())
    for i in (0, 40, 120):
        whole = expected(edge, x[i] / k, batch=4)
        steady = whole.cost - 60 / 60 * (8 + 10 / 4) - 5
        assert y[i] == pytest.approx(steady, rel=1e-9)
    assert bench.picture_data.cost == pytest.approx(bench.result.cost)
    assert f"{bench.result.cost:.2f} money a piece" in bench.picture.bar_words.get_text()
    assert dict(bench.reading.facts)["time of one piece"] == f"{bench.result.time.m_as(U.min):.2f} min"


@pytest.mark.parametrize("edge", EDGES)
def test_the_best_speeds_are_where_cost_and_time_are_least(edge):
    bench = cost_bench(edge)
    data, found = bench.picture_data, economic_speed(edge, Q_(2, "min"), 3.0, 60.0)
    step = data.speeds[1] - data.speeds[0]
    assert data.speeds[data.parts[:2].sum(axis=0).argmin()] == pytest.approx(found.least_cost.m_as("m/min"), abs=step)
    assert data.speeds[data.minutes.argmin()] == pytest.approx(found.highest_rate.m_as("m/min"), abs=step)
    assert bench.picture.marks[0].get_xdata()[0] == pytest.approx(found.least_cost.m_as("m/min"))
    assert bench.reading.good
    bench.demo("Too fast")
    assert not bench.reading.good
    assert "Faster than both" in bench.reading_text
    bench.demo("Too slow")
    assert "Slower than both" in bench.reading_text


def test_a_batch_changes_the_bar_and_not_the_curve():
    bench = cost_bench()
    curve, bar = bench.picture.total.get_ydata(), bench.picture.pieces[0].get_xy()[:, 0].max()
    bench.set(batch=20)
    assert bench.picture.total.get_ydata() == pytest.approx(curve)
    assert bench.picture.pieces[0].get_xy()[:, 0].max() < bar
    ends = [(piece.get_xy()[:, 0].min(), piece.get_xy()[:, 0].max()) for piece in bench.picture.pieces]
    assert ends[0][0] == 0
    assert ends[-1][1] == pytest.approx(1)
    assert ends[0][1] - ends[0][0] == pytest.approx(bench.picture_data.here[2] / bench.picture_data.cost)


def test_another_edge_starts_at_its_own_best_speed():
    bench = cost_bench()
    bench.enter("edge", "high-speed steel on steel")
    best = economic_speed("high-speed steel on steel", Q_(2, "min"), 3.0, 60.0).least_cost.m_as("m/min")
    assert bench.value("speed").m_as("m/min") == pytest.approx(best, abs=0.5)
    assert bench.controls["speed"].slider.min < best < bench.controls["speed"].slider.max


@pytest.mark.parametrize(("typed", "said"), [("2 m/min", "small"), ("9000 m/min", "large"), ("90 mm", "speed")])
def test_what_cannot_be_is_said(typed, said):
    is_refused(cost_bench(), "speed", typed, said)


@pytest.mark.parametrize("wrong", [{"edge": "cheese"}, {"speed": Q_(1, "m/min")}, {"speed": 90},
                                   {"feed": Q_(2, "mm/rev")}, {"batch": 0}, {"batch": 1.5}])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        cost_bench(**wrong)
