"""The ways bench: each way drawn where the library puts it, against the limits of the thread's own tables."""

import numpy as np
import pytest

from latheworks.drilling import ways_to_size
from latheworks.errors import LatheworksError
from latheworks.pictures.style import Look
from latheworks.threads import thread
from latheworks.units import Q_, show
from latheworks.widgets import display_system, ways_bench
from tests.benches import SYSTEMS, is_refused

pytestmark = pytest.mark.usefixtures("benches")

NAMES = ("drill", "drill and ream", "end mill", "drill and bore")


def expected(size="1-12 UNF-2B", depth=20, material="aluminum 6061-T6", position=0.15):
    return ways_to_size(size, Q_(depth, "mm"), material, position=Q_(position, "mm"))


def drawn(picture):
    """Every bar with its left and right end, from the top down."""
    shapes = [path.vertices for group in (picture.bars, picture.closed) for path in group.get_paths()]
    best = picture.best_bar.get_xy()
    shapes += [] if np.isnan(best).any() else [best]
    return sorted((-s[:, 1].min(), s[:, 0].min(), s[:, 0].max()) for s in shapes if len(s))


@SYSTEMS
@pytest.mark.parametrize("size", ["1-12 UNF-2B", "M22x1-6H", "M24x1.5-6H"])
def test_zones_and_bars_stand_where_the_library_puts_them(system, size):
    display_system.system = system
    k = 1 / 25.4 if system == "inch" else 1.0
    bench, found = ways_bench(size), expected(size)
    band = bench.picture.band.get_xy()[:, 0]
    minor = thread(size).limits.minor
    assert [band.min() / k, band.max() / k] == pytest.approx([minor.min.m_as("mm"), minor.max.m_as("mm")])
    bars = drawn(bench.picture)
    assert len(bars) == 4
    for (_, left, right), way in zip(bars, found.ways, strict=True):
        assert [left / k, right / k] == pytest.approx([way.likely.min.m_as("mm"), way.likely.max.m_as("mm")])
    means = np.asarray(bench.picture.means.get_xdata())[::3] / k
    assert means == pytest.approx([way.size.m_as("mm") for way in found.ways])


def test_circles_show_how_far_an_axis_strays_to_one_scale():
    bench, found = ways_bench(position=Q_(0.06, "mm")), expected(position=0.06)
    x = np.asarray(bench.picture.strays.get_xdata())
    widths = [np.ptp(ring) for ring in np.split(x, np.flatnonzero(np.isnan(x)))[:4] for ring in [ring[~np.isnan(ring)]]]
    places = [way.position.m_as("mm") for way in found.ways]
    assert np.array(widths) / widths[0] == pytest.approx(np.array(places) / places[0])
    allowed = np.ptp(np.asarray(bench.picture.may.get_xdata())[:61])
    assert allowed / widths[0] == pytest.approx(0.06 / places[0])
    box = bench.picture.axis.get_window_extent()
    wide, high = np.ptp(bench.picture.axis.get_xlim()), np.ptp(bench.picture.axis.get_ylim())
    assert box.width / wide == pytest.approx(box.height / high, rel=0.01)


@SYSTEMS
@pytest.mark.parametrize("priority", ["time", "accuracy", "tools on hand"])
@pytest.mark.parametrize("position", [0.05, 0.15])
def test_the_way_that_wins_is_the_librarys(system, priority, position):
    display_system.system = system
    bench = ways_bench(position=Q_(position, "mm"), priority=priority)
    best = expected(position=position).best(priority)
    assert f"On {priority} {best.name} wins" in bench.reading.verdict
    assert bench.alt.endswith(f"On {priority} {best.name} wins.")
    names = [words.get_text() for words in bench.picture.names]
    assert [name for name in names if name.endswith(", wins")] == [names[NAMES.index(best.name)]]
    left = bench.picture.best_bar.get_xy()[:, 0].min() * (25.4 if system == "inch" else 1.0)
    assert left == pytest.approx(best.likely.min.m_as("mm"))
    assert show(best.position, system) in bench.alt


def test_a_way_that_is_not_open_is_hatched_and_says_why():
    bench, found = ways_bench(depth=Q_(150, "mm")), expected(depth=150)
    closed = [way for way in found.ways if way.why_not]
    assert closed
    assert len(bench.picture.closed.get_paths()) == len(closed)
    for way in closed:
        assert way.why_not in bench.reading_text
        assert f"{way.name}: not open" in [words.get_text() for words in bench.picture.names]


def test_tools_that_must_be_got_are_named():
    bench, found = ways_bench(), expected()
    for words, way in zip(bench.picture.tools, found.ways, strict=True):
        assert words.get_text() == ("\n".join(way.missing) or "all on the rack")
    assert [row[-1] for row in bench.table.rows] == [", ".join(way.missing) or "nothing" for way in found.ways]
    assert [float(row[2]) for row in bench.table.rows] == pytest.approx(
        [w.size.m_as("mm") for w in found.ways], abs=6e-4
    )


@SYSTEMS
def test_the_axis_of_the_zones_has_its_unit(system):
    display_system.system = system
    assert f"[{Look(system).length_unit}]" in ways_bench().picture.zone.get_xlabel()


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("thread", "1-12 UNF-2A", r"Internal thread: 1-12 UNF-2A is an external one\. Type 1-12 UNF-2B"),
        ("thread", "one inch", r"Internal thread"), ("thread", "$x$ <script>", r"Internal thread"),
        ("depth", "0 mm", r"too small"), ("position", "20 mm", r"too large"), ("depth", "12,7 mm", r"comma"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_the_picture_stays(name, typed, said):
    is_refused(ways_bench(), name, typed, said)


@pytest.mark.parametrize("wrong", [
    {"thread": "1-12 UNF-2A"}, {"thread": 5}, {"depth": 20}, {"depth": Q_(0, "mm")}, {"position": Q_(20, "mm")},
    {"material": "POM"}, {"priority": "beauty"},
])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        ways_bench(**wrong)
