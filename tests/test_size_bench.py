"""The size bench: what is drawn and said is what the library computes, in both systems and to both ends."""

import re

import numpy as np
import pytest

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, size_error
from latheworks.errors import LatheworksError
from latheworks.pictures.bar import HOLDINGS
from latheworks.units import Q_, show
from latheworks.widgets import display_system, size_bench
from latheworks.widgets.sizes import SizeControl
from tests.benches import SYSTEMS, is_refused

pytestmark = pytest.mark.usefixtures("benches")

WAYS = dict(zip(HOLDINGS, (Chuck(), ChuckAndCenter(), BetweenCenters()), strict=True))


def sizes(bench):
    return [item for item in bench.controls.values() if isinstance(item, SizeControl)]


def expected(length=220, depth=0.5, feed=0.1, holding=HOLDINGS[0], springs=3, edge=5.0):
    """The same from the library, at 23 places that the bench does not choose alone."""
    bar = Shaft.bar(Q_(length, "mm"), Q_(32, "mm"), Q_(20, "mm"), "6061-T6")
    at = np.linspace(0, length, 23)
    return at, size_error(bar, WAYS[holding], Q_(depth, "mm"), Q_(feed, "mm/rev"), Q_(at, "mm"), spring_passes=springs,
                          edge_force=Q_(edge, "N"))  # fmt: skip


@SYSTEMS
@pytest.mark.parametrize("holding", HOLDINGS)
@pytest.mark.parametrize("shown", [1, 2, 4])
def test_what_is_drawn_is_what_the_library_computes(system, holding, shown):
    display_system.system = system
    k = 1 / 25.4 if system == "inch" else 1.0
    bench = size_bench(length=Q_(180, "mm"), holding=holding, shown=shown)
    at, found = expected(180, holding=holding)
    rows, picture = found.per_pass.m_as("mm"), bench.picture
    x, y = picture.curve.get_data()
    assert np.interp(at, np.asarray(x) / k, np.asarray(y) / k) == pytest.approx(rows[shown - 1], rel=0.02, abs=2e-6)
    assert y[-1] / k == pytest.approx(rows[shown - 1, -1], rel=1e-9)
    # Every earlier pass stays as a thin line, cut apart by a gap.
    before = np.asarray(picture.before.get_ydata()).reshape(shown - 1, len(x) + 1) / k
    assert before[:, -2] == pytest.approx(rows[: shown - 1, -1], rel=1e-9)
    assert np.isnan(before[:, -1]).all()
    bars = [path.vertices[:, 1].max() / k for path in picture.bars.get_paths()]
    assert bars == pytest.approx(rows.max(axis=1), rel=0.005)
    assert picture.bar_now.get_xy()[:, 1].max() / k == pytest.approx(bars[shown - 1], rel=1e-9)
    assert picture.floor_line.get_ydata()[0] / k == pytest.approx(found.edge_limit.m_as("mm").max(), rel=0.005)
    assert picture.band.get_xy()[:, 1].max() / k == pytest.approx(0.02)
    assert picture.here.get_ydata()[0] / k == pytest.approx(rows[shown - 1].max(), rel=0.005)


def test_the_bar_is_to_scale_and_what_is_left_is_enlarged_as_it_says():
    bench = size_bench()
    picture, data = bench.picture, bench.picture_data
    assert picture.walls[0].get_xy()[:, 1].max() == pytest.approx(31 / 2)
    larger = float(re.search(r"drawn ([\d,]+) times", picture.larger_words.get_text())[1].replace(",", ""))
    assert picture.left_on[0].get_xy()[:, 1].max() == pytest.approx(31 / 2 + larger * data.largest / 2)
    box = picture.upper.get_window_extent()
    wide, high = np.ptp(picture.upper.get_xlim()), np.ptp(picture.upper.get_ylim())
    assert box.width / wide == pytest.approx(box.height / high, rel=0.01)


@SYSTEMS
def test_reading_and_alt_say_what_the_library_computes(system):
    display_system.system = system
    bench = size_bench(shown=2)
    _, found = expected()
    most, floor = found.per_pass[1].max(), found.edge_limit.max()
    for said in (bench.alt, bench.reading_text):
        assert show(most, system) in said
        assert show(floor, system) in said
    assert show(Q_(31, "mm") + most, system) in bench.reading_text
    assert "Outside the tolerance after spring pass 1" in bench.reading_text
    assert "Pass 2 of 4" in bench.alt
    bench.set(holding=HOLDINGS[1])
    assert bench.reading.good
    assert "plug" in bench.alt
    assert "inside the tolerance" in bench.alt


def test_stepping_through_the_passes_comes_down_to_the_edge_force():
    bench, seen = size_bench(spring_passes=6), []
    for k in range(1, 8):
        bench.controls["shown"].slider.value = k
        assert not bench.error
        seen.append(bench.picture_data.largest)
    assert (np.diff(seen) < 0).all()
    assert seen[1] < 0.5 * seen[0]
    assert seen[-1] == pytest.approx(bench.picture_data.floor.max(), rel=0.01)
    assert bench.picture_data.floor.max() > 0.2 * seen[0]
    bench.set(spring_passes=1)
    assert bench.value("shown") == 2


def test_without_an_edge_force_there_is_no_floor():
    bench = size_bench(edge_force=Q_(0, "N"))
    assert not bench.picture.floor_line.get_visible()
    assert "edge force leaves" not in bench.alt.lower()


def test_table_gives_the_diameter_after_each_pass():
    bench = size_bench()
    _, found = expected()
    assert bench.table.headings[1:] == ("after the cut [mm]", *(f"after spring pass {k} [mm]" for k in (1, 2, 3)))
    assert [float(cell) for cell in bench.table.rows[-1]] == pytest.approx(
        [220, *(31 + found.per_pass.m_as("mm")[:, -1])], abs=6e-4
    )
    assert len(bench.table.rows) == 11


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("depth", "6 mm", r"leaves nothing of a wall of 6 mm.*Type 3 mm"),
        ("depth", "0 mm", r"too small"), ("feed", "0.1 mm", r"Feed: .*mm/rev"), ("feed", "6 mm/rev", r"too large"),
        ("shown", "5", r"no pass 5: the last one is pass 4\. Type 4 or less"), ("length", "12,7 mm", r"comma"),
        ("spring_passes", "21", r"too large"), ("depth", "$x$ <script>", r"Cut depth"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_the_picture_stays(name, typed, said):
    is_refused(size_bench(), name, typed, said)


def test_a_tool_that_digs_in_is_said_in_shop_words():
    bench = size_bench(length=Q_(1000, "mm"), outside=Q_(10, "mm"), bore=Q_(0, "mm"), depth=Q_(0.1, "mm"))
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type") as refused:
        bench.set(depth=Q_(3, "mm"), feed=Q_(0.4, "mm/rev"), length=Q_(2000, "mm"))
    assert "size_error" not in str(refused.value)


@pytest.mark.parametrize("wrong", [
    {"depth": Q_(6, "mm")}, {"feed": Q_(0.1, "mm")}, {"shown": 5}, {"spring_passes": 1.5}, {"bore": Q_(32, "mm")},
    {"holding": "by hand"}, {"length": 220}, {"edge_force": Q_(-1, "N")}, {"tolerance": Q_(0, "mm")},
    {"material": "cheese"}, {"nose_radius": Q_(21, "mm")},
])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        size_bench(**wrong)
