"""The groove bench: plunges, pecks and the load on the blade are the library's, drawn to scale."""

import re
from itertools import pairwise

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.passes import Groove, TurningTool, groove_passes
from latheworks.units import Q_, show
from latheworks.widgets import bench as bench_module
from latheworks.widgets import display_system, groove_bench
from tests.benches import SYSTEMS, is_refused
from tests.reach_shapes import mm

pytestmark = pytest.mark.usefixtures("benches")


def expected(width=4.0, depth=1.5, blade=3.0, out=8.0, feed=0.05):
    tool = TurningTool(nose_radius=mm(0.2), blade_width=mm(blade), shank=mm(12), reach=mm(out), hand="neutral")
    return groove_passes(Groove(mm(0), mm(width), mm(32 - 2 * depth), floor_radius=mm(0.2)), mm(32), tool,
                         "aluminum 6061-T6", Q_(100, "m/min"), Q_(feed, "mm/rev"))  # fmt: skip


def ends(path):
    """From where to where each shape of a compound path goes along the axis."""
    starts = [*np.flatnonzero(path.codes == path.MOVETO), len(path.vertices)]
    return [(path.vertices[a:b, 0].min(), path.vertices[a:b, 0].max())
            for a, b in pairwise(starts)]  # fmt: skip


@SYSTEMS
@pytest.mark.parametrize(("width", "depth", "blade"), [(4, 1.5, 3), (8, 1.5, 3), (9, 6, 2)])
def test_what_is_drawn_is_what_the_library_computes(system, width, depth, blade):
    display_system.system = system
    k = 1 / 25.4 if system == "inch" else 1.0
    bench = groove_bench(mm(width), mm(depth), mm(blade))
    found = expected(width, depth, blade)
    count = found.plunges.size
    bench.set(shown=count)
    # Side by side from wall to wall but for the allowance, each as wide as the library says, in its order.
    opened = bench.picture_data.opened(count)
    assert [b - a for a, b in opened] == pytest.approx(found.widths.m_as("mm"))
    assert min(a for a, _ in opened) == pytest.approx(-width / 2 + 0.1)
    assert max(b for _, b in opened) == pytest.approx(width / 2 - 0.1)
    for (a, b), place in zip(opened, found.plunges.m_as("mm") - width / 2, strict=True):
        assert place - blade / 2 - 1e-9 <= a < b <= place + blade / 2 + 1e-9
    drawn = ends(bench.picture.done.get_path())
    assert np.array(drawn) / k == pytest.approx(np.array(opened[:-1]))
    last = bench.picture.now.get_xy() / k
    assert last[:, 1].min() == pytest.approx(-(depth - 0.1))
    pecks = np.unique(np.asarray(bench.picture.pecks.get_ydata(), dtype=float)) / k
    assert pecks[np.isfinite(pecks)] == pytest.approx(-found.stops.m_as("mm")[:-1][::-1])
    tip = bench.picture.tip.get_xy() / k
    assert np.ptp(tip[:, 0]) == pytest.approx(blade)
    assert tip[:, 1].min() == pytest.approx(-(depth - 0.1))
    for text in (bench.alt, bench.reading_text, bench.picture.push_words.get_text()):
        assert show(found.force, system) in text
    assert [float(row[1]) / k for row in bench.table.rows] == pytest.approx(
        found.plunges.m_as("mm") - width / 2, abs=2e-3
    )


def test_the_finish_takes_what_the_plunges_left():
    bench = groove_bench(shown=4)
    ring = bench.picture.now.get_xy()
    x, y = ring.T
    area = abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2
    assert area == pytest.approx(4 * 1.5 - 3.8 * 1.4)
    assert bench.picture.tip.get_xy()[:, 1].min() == pytest.approx(-1.5)
    assert "floor and walls" in bench.alt


def test_both_views_are_to_scale():
    picture = groove_bench().picture
    for axes in (picture.plan, picture.side):
        box = axes.get_window_extent()
        wide, high = np.ptp(axes.get_xlim()), np.ptp(axes.get_ylim())
        assert box.width / wide == pytest.approx(box.height / high, rel=0.01)
    assert np.ptp(picture.rim.get_xdata()) == pytest.approx(32)
    assert np.ptp(picture.round.get_xy()[:, 0]) == pytest.approx(29)
    assert picture.beam.get_xy()[:, 0].min() == pytest.approx(29 / 2)
    assert picture.clamp.get_xy()[:, 0].min() - picture.beam.get_xy()[:, 0].min() == pytest.approx(8)


def test_twice_as_far_out_sinks_eight_times_as_deep():
    """A clamped beam, any text on strength of materials."""
    bench, sag = groove_bench(), []
    for out in (8, 16):
        bench.set(out=mm(out))
        sag.append(bench.picture_data.sag)
    assert sag[1] / sag[0] == pytest.approx(8)


def test_a_blade_that_does_not_bear_the_feed_gets_less_and_says_so():
    bench = groove_bench()
    bench.demo("Far out")
    assert not bench.reading.good
    assert "cut to what the blade bears" in bench.reading.verdict
    assert bench.picture_data.stress == pytest.approx(300, rel=1e-3)
    bench.demo("Deep")
    assert "halved" in bench.alt
    found = expected(4, 9, 2, 12)
    assert bench.picture_data.feed == pytest.approx(found.feed.m_as("mm/rev"))
    assert len(bench.picture_data.stops) == found.stops.size > 1


def test_stepping_and_fewer_steps():
    bench = groove_bench(mm(8), shown=4)
    assert bench.controls["shown"].slider.max == 4
    bench.set(width=mm(3))
    assert bench.value("shown") == 1
    assert bench.controls["shown"].slider.max == 1
    bench.enter("shown", "2")
    assert re.search(r"no step 2: the last one is step 1\. Type 1 or less", bench.error)


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("blade", "5 mm", r"wider than the groove\. Type 4 mm or less"), ("depth", "9 mm", r"deeper than the blade"),
        ("feed", "0.05 mm", r"Feed: .*mm/rev"), ("width", "0 mm", r"too small"), ("out", "12,7 mm", r"comma"),
        ("width", "$x$ <script>", r"Width: "),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_the_picture_stays(name, typed, said):
    is_refused(groove_bench(), name, typed, said)


@pytest.mark.parametrize("wrong", [{"blade": Q_(5, "mm")}, {"width": 4}, {"depth": Q_(16, "mm")}, {"shown": 0},
                                   {"material": "cheese"}, {"feed": Q_(0.05, "mm")}, {"shown": 9}])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        groove_bench(**wrong)
    assert not bench_module._open
