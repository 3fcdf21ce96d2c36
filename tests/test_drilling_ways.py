"""The ways to a size: what each makes, what forbids it, and which wins under each priority; and the rack as data."""

import numpy as np
import pytest

from latheworks.drilling import ways_to_size
from latheworks.drilling.ways_kernel import chance_inside, chance_near, off_in_19_of_20
from latheworks.drilling.ways_result import PRIORITIES
from latheworks.errors import LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.shop import rack
from latheworks.tables import DATA
from latheworks.units import Q_, Span

STEEL, ALUMINUM = "steel 1018", "aluminum 6061-T6"
TEXT = (DATA / "rack.toml").read_text(encoding="utf-8")


def mm(value):
    return Q_(float(value), "mm")


def ways(low, high, depth=30, material=STEEL, **more):
    return ways_to_size(Span(mm(low), mm(high)), mm(depth), material, **more)


def test_the_chances_are_those_of_many_draws():
    """Independent of the formulas: half a million normal sizes and places, counted."""
    generator = np.random.Generator(np.random.PCG64(9))
    size = 16.008 + 0.006 * generator.standard_normal(500_000)
    counted = ((size >= 16.0) & (size <= 16.018)).mean()
    assert chance_inside(16.0, 16.018, 16.008, 0.006) == pytest.approx(counted, abs=0.003)
    off = np.hypot(*(0.04 * generator.standard_normal((2, 500_000))))
    assert chance_near(0.05, 0.04) == pytest.approx((off <= 0.05).mean(), abs=0.003)
    assert (off <= off_in_19_of_20(0.04)).mean() == pytest.approx(0.95, abs=0.002)


def test_the_four_ways_stand_in_the_order_of_effort():
    found = ways(16, 16.05)
    assert [way.name for way in found.ways] == ["drill", "drill and ream", "end mill", "drill and bore"]
    assert list(found.to_frame()["way"]) == [way.name for way in found.ways]
    times = {way.name: way.time for way in found.ways}
    assert times["drill"] < times["drill and ream"] < times["drill and bore"]


def test_a_reamer_makes_the_size_and_not_the_place():
    free, placed = ways(16, 16.03), ways(16, 16.03, position=mm(0.05))
    assert free.best("time").name == "drill and ream"
    assert placed.best("time").name == "drill and bore"
    drill, ream = placed.ways[:2]
    assert ream.position == drill.position
    assert ream.spread < drill.spread


def test_a_deeper_hole_drifts_further_and_boring_does_not():
    short, deep = ways(16, 16.1, 10), ways(16, 16.1, 55)
    assert deep.ways[0].position > 1.3 * short.ways[0].position
    assert deep.ways[3].position == short.ways[3].position
    still = ways(16, 16.1, 55, drift=mm(0))
    assert still.ways[0].position < deep.ways[0].position


def test_an_end_mill_on_the_axis_makes_its_own_size_only():
    between = ways(16.2, 16.26)
    assert "does not move across" in between.ways[2].why_not
    assert ways(16.0, 16.06).ways[2].why_not == ""
    assert "flutes" in ways(12.0, 12.06, 60).ways[2].why_not


def test_a_slender_boring_bar_spreads_and_then_is_refused():
    stiff, slender, hopeless = (ways(16.2, 16.25, depth).ways[3] for depth in (30, 56, 120))
    assert stiff.spread < slender.spread
    assert "diameters" in hopeless.why_not
    assert not slender.why_not


def test_each_priority_says_why_and_tools_on_hand_prefers_the_rack():
    found = ways(16.0, 16.03)
    assert found.best("tools on hand").missing == ()
    for priority in PRIORITIES:
        best = found.best(priority)
        assert found.why(priority).startswith(best.name)
        assert found.why(priority) in str(found)
    assert all(found.best("time").time <= way.time for way in found.ways if way.holds >= 0.9 and not way.why_not)


def test_where_none_is_sure_it_says_so():
    found = ways(16, 16.004)
    assert "none is sure" in found.why("time")
    assert found.best("time") == found.best("accuracy")
    tight = ways(20.2, 20.25, 120, ALUMINUM)
    assert [bool(way.why_not) for way in tight.ways] == [False, True, True, True]


@pytest.mark.parametrize("bad", ["M16x1.5-6g", "M16x", Span(mm(16), None), Span(mm(17), mm(16)), mm(16), "16 mm"])
def test_what_is_no_hole_is_refused(bad):
    with pytest.raises(LatheworksError, match="Try"):
        ways_to_size(bad, mm(20), STEEL)


def test_the_teaching_rack_says_that_it_is_invented():
    assert "invented" in rack().note
    assert rack() is rack()
    assert {"center_drill", "drill", "reamer", "end_mill", "boring_bar"} <= set(rack().by_kind)
    assert all(rack().by_kind.values())


@pytest.mark.parametrize(("old", "new", "kind", "words"), [
    ("reach [mm]", "flute [mm]", NotInTable, "a heading that is not known"),
    ('"reach [mm]" = 33', "", WrongUnit, "reach"),
    ('"diameter [mm]" = 3\n', '"diameter [mm]" = "3"\n', WrongUnit, "got '3'"),
    ('"diameter [mm]" = 3\n', '"diameter [mm]" = nan\n', OutOfRange, "got nan"),
    ('"diameter [mm]" = 3\n', '"diameter [mm]" = -3\n', OutOfRange, "from 0.1 to 200 mm"),
    ("[[reamer]]", "[[broach]]", NotInTable, "broach"),
    ("3 mm drill", "4 mm drill", LatheworksError, "twice"),
    ('name = "teaching rack"', "name = 3", WrongUnit, "name: got 3"),
    ('"point angle [degree]" = 118', '"point angle [degree]" = 10', OutOfRange, "point angle"),
])  # fmt: skip
def test_a_wrong_entry_of_a_rack_gets_a_sentence(tmp_path, old, new, kind, words):
    assert old in TEXT
    path = tmp_path / "ours.toml"
    path.write_text(TEXT.replace(old, new), encoding="utf-8")
    with pytest.raises(kind) as caught:
        rack(path)
    assert words in str(caught.value)
    assert "Try" in str(caught.value)


@pytest.mark.parametrize("content", ["name = 'a'\nnote = 'b'", "drill = 3", "name = ", "[[drill]]", "#" * 70_000])
def test_a_file_that_is_no_rack_is_refused(tmp_path, content):
    path = tmp_path / "ours.toml"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(LatheworksError, match="Try"):
        rack(path)


def test_an_instructors_rack_is_used(tmp_path):
    path = tmp_path / "ours.toml"
    path.write_text(TEXT.replace("16 mm reamer", "our reamer"), encoding="utf-8")
    assert "our reamer" in ways(16, 16.03, rack=rack(str(path))).ways[1].tools
