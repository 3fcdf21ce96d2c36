"""What benches say and show: refusals without Python in them, the compound, the feed, kept threads, bored ends."""

import re
import threading
import time

import pytest

from latheworks.errors import LatheworksError
from latheworks.widgets import bench as bench_module
from latheworks.widgets import display_system, holding_bench, infeed_bench, thread_bench
from tests.benches import MAKERS

pytestmark = pytest.mark.usefixtures("benches")

PYTHON = re.compile(r"Q_\(|\bgot\b|=|\[at|_[a-z]|<class|\bNone\b|\"")
REFUSED = [
    ("infeed", "spindle", "600 rpm", ["600 rpm is more than the 500 rev/min allowed here: a teaching",
                                      "Type 500 rev/min"]),
    ("infeed", "spindle", "5 rpm", ["Spindle: 5 rpm is less than the", "or more"]),
    ("infeed", "passes", "120", ["Cutting passes: 120 is more than the", "0.020 mm", "or less"]),
    ("infeed", "passes", "300", ["Cutting passes: 300 is too large"]),
    ("infeed", "shown", "99", ["no pass 99", "Type 10 or less"]),
    ("infeed", "thread", "1-13 UNF-2B", ["Thread: 1-13 UNF-2B does not fit here", "Type 1-12 UNF-2B or 1-13 UNS-2B"]),
    ("thread", "designation", "1-13 UNF-2B", ["Thread: 1-13 UNF-2B does not fit", "Type 1-12 UNF-2B or 1-13 UNS-2B"]),
    ("thread", "designation", "1-12 UNF-9B", ["Thread: 1-12 UNF-9B"]),
    ("thread", "designation", "M24x1.5-6Z", ["Thread: M24x1.5-6Z"]),
    ("thread", "designation", "Tr 40x7-7e", ["not drawn on this bench"]),
    ("thread", "hole", "0.1 mm", ["Hole: 0.1 mm is too small"]),
    ("holding", "bore", "1 1/2 in", ["A bore of 1 1/2 in leaves no wall in a bar of 32 mm"]),
    ("holding", "at", "300 mm", ["The tool at 300 mm is past the end of a bar of 250 mm. Type 250 mm or less"]),
    ("holding", "force", "5 mm", ["Push: ", "force"]),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "name", "typed", "words"), REFUSED, ids=[f"{r[1]} {r[2]}" for r in REFUSED])
def test_a_refusal_speaks_of_the_control_not_of_python(kind, name, typed, words):
    bench = MAKERS[kind]()
    bench.enter(name, typed)
    assert all(each in bench.error for each in words), bench.error
    assert not PYTHON.search(bench.error), bench.error


def test_a_refusal_is_in_the_readers_system():
    bench = infeed_bench()
    display_system.system = "inch"
    bench.enter("passes", "120")
    assert "0.0008 in" in bench.error
    assert "mm" not in bench.error


def test_what_no_control_sets_is_named_all_the_same():
    with pytest.raises(LatheworksError, match="Material"):
        infeed_bench(material="butter").set()
    assert "Material: 'butter' does not fit here" in infeed_bench(material="butter").error


def test_one_change_is_seen_through_before_the_next():
    """The page's messages may come on two threads at once; a picture drawn by both at a time is torn."""
    bench = holding_bench()

    def show(data, kept=None, drawn=bench.picture.show):
        busy.append(1)
        most.append(len(busy))
        time.sleep(0.002)
        shown = drawn(data, kept)
        busy.pop()
        return shown

    busy, most = [], []
    bench.picture.show = show
    threads = [threading.Thread(target=lambda n=n: [bench.enter(n, f"{k} mm") for k in (20, 21, 22, 20)])
               for n in ("bore", "at")]  # fmt: skip
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert len(most) >= 6
    assert max(most) == 1


def test_the_compound_is_in_the_reading():
    bench = infeed_bench(thread="1-12 UNF-2A", passes=8, method="modified flank", shown=8)
    facts = dict(bench.reading.facts)
    assert facts["compound, from the cross slide"] == "29.50\u00b0"
    last = bench.result.passes - 1
    assert facts["compound travel by now"] == bench.picture.look.mm(bench.result.slide_travel[last].m_as("mm"))
    assert facts["side shift by now"] == bench.picture.look.mm(bench.result.side_shift[last].m_as("mm"))
    bench.set(method="radial")
    assert dict(bench.reading.facts)["compound, from the cross slide"] == "not used"


def test_a_right_hand_thread_feeds_to_the_headstock_on_the_left():
    bench = infeed_bench(thread="1-12 UNF-2A", passes=8, method="flank", shown=1)

    def middle():
        across = bench.picture.tool.get_xy()[:, 0]
        return (across.min() + across.max()) / 2

    # Early on the tool stands back from where it ends, and moves with the feed as it goes deeper.
    right = middle()
    assert right > 0
    assert "to the left, to the headstock" in bench.alt
    bench.set(thread="1-12 UNF-2A-LH")
    assert middle() == pytest.approx(-right)
    assert "to the right, away from the headstock" in bench.alt


def test_a_kept_thread_is_drawn_to_the_scale_of_the_new_one():
    bench = thread_bench("1-8 UNC-2B")
    view, coarse = bench.picture.left.get_xlim(), bench.picture.faces["internal"].get_xydata().copy()
    bench.keep()
    bench.set(designation="1-12 UNF-2B")
    assert bench.picture.left.get_xlim() == view
    assert bench.picture.kept_faces["internal"].get_xydata() == pytest.approx(coarse)
    assert "1-8 UNC-2B" in bench.picture.kept_words.get_text()
    assert "Kept for comparison: 1-8 UNC-2B" in bench.alt


def test_a_bored_end_on_a_center_is_said_to_need_a_plug():
    bench = holding_bench(holding="between centers")
    assert "plug" in bench.reading_text
    assert bench.picture.plug_words.get_visible()
    bench.set(bore="0 mm")
    assert "plug" not in bench.reading_text
    assert not bench.picture.plug_words.get_visible()


def test_running_a_cell_again_closes_the_bench_it_made(monkeypatch):
    cells = iter([("a", "1"), ("b", "1"), ("a", "2")])
    monkeypatch.setattr(bench_module, "_cell", lambda: next(cells))
    first, other, again = holding_bench(), holding_bench(), holding_bench()
    assert first not in bench_module._open
    assert other in bench_module._open
    assert again in bench_module._open
