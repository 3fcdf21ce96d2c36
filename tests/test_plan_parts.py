"""Features, parts and the workpiece's shape: what lies where, and what a cut takes."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks import Q_, LatheworksError, Span
from latheworks.errors import Impossible, OutOfRange
from latheworks.plan import Feature, Part, barrel_plan, corer_barrel, cutting_shoe, shoe_plan
from latheworks.plan.shape import Shape


def mm(value):
    return Q_(float(value), "mm")


def cylinder(name, start, end, size, side="outside", **more):
    return Feature(name, "cylinder", mm(start), mm(end), mm(size), side=side, **more)


def made(*features, diameter=50, length=200, **more):
    return Part("part", "brass", features, mm(diameter), mm(length), **more)


def radius_at(shape, z, inside=False):
    """The radius at a place, by the definition: the piece it lies in, straight between its ends."""
    rows = shape.inner if inside else shape.outer
    i = min(int(np.searchsorted(shape.z, z, side="right")) - 1, len(rows) - 1)
    share = (z - shape.z[i]) / (shape.z[i + 1] - shape.z[i])
    return rows[i, 0] + (rows[i, 1] - rows[i, 0]) * share


def test_a_thread_takes_its_limits_from_its_designation():
    cut = Feature("screw", "thread", mm(0), mm(20), designation="M16x1.5-6g")
    assert cut.plain.low == pytest.approx(14.854)  # ISO 965-2 limits of M16x1.5-6g, as in tests/published
    assert cut.plain.high == pytest.approx(14.994)
    assert cut.plain.pitch == pytest.approx(1.5)
    assert cut.plain.aim == pytest.approx((14.854 + 14.994) / 2)


@pytest.mark.parametrize(("change", "said"), [
    ({"kind": "thread", "designation": "M16x1.5-6H", "diameter": None}, "external thread for the outside"),
    ({"kind": "thread", "designation": "M16x1.5-6g"}, "the designation says it"),
    ({"designation": "M10"}, "none, but for a thread"),
    ({"kind": "taper"}, "end_diameter"),
    ({"end_diameter": Q_(3, "mm")}, "but for a taper or a chamfer"),
    ({"count": 3, "spacing": Q_(50, "mm")}, "1, but for grooves"),
    ({"kind": "groove", "count": 3, "spacing": Q_(10, "mm")}, "so that a wall stays"),
    ({"end": Q_(0, "mm")}, "an end beyond the start"),
    ({"kind": "face"}, "the same place for both"),
    ({"limits": Span(Q_(20.1, "mm"), Q_(20.0, "mm"))}, "a smaller one before a larger one"),
])  # fmt: skip
def test_a_feature_that_cannot_be_says_why(change, said):
    good = {"name": "body", "kind": "cylinder", "start": mm(0), "end": mm(20), "diameter": mm(20)}
    with pytest.raises(LatheworksError, match=said):
        Feature(**{**good, **change})


@pytest.mark.parametrize(("features", "said", "kind"), [
    ([cylinder("a", 0, 20, 30), cylinder("b", 25, 40, 20)], "a and b, which leave a gap at 20 mm", Impossible),
    ([cylinder("a", 0, 20, 30), cylinder("b", 15, 40, 20)], "a and b, which overlap at 20 mm", Impossible),
    ([cylinder("a", 5, 20, 30)], "nothing outside at end A", Impossible),
    ([cylinder("a", 0, 20, 30, side="inside")], "no outside cylinder", Impossible),
    ([cylinder("a", 0, 20, 30), cylinder("b", 0, 20, 30, side="inside")], "no wall left", Impossible),
    ([cylinder("a", 0, 20, 30), cylinder("b", 0, 20.5, 10, side="inside")], "a place on the part", OutOfRange),
    ([cylinder("a", 0, 20, 60)], "at least 60 mm, the part's largest", OutOfRange),
    ([cylinder("a", 0, 220, 30)], "at least 220 mm, the part's length", OutOfRange),
    ([cylinder("a", 0, 20, 30), cylinder("a", 20, 30, 30)], "'a' twice", Impossible),
    ([cylinder("a", 0, 20, 30, runout=mm(0.1), datum="b")], "the name of another feature", Impossible),
])  # fmt: skip
def test_a_part_that_cannot_be_says_where(features, said, kind):
    with pytest.raises(kind, match=said):
        made(*features)


def test_the_last_of_repeated_grooves_must_lie_on_the_part():
    grooves = Feature("grip", "groove", mm(5), mm(9), mm(26), count=5, spacing=mm(8))
    assert grooves.last_end == pytest.approx(41.0)
    with pytest.raises(OutOfRange, match="feature grip"):
        made(cylinder("body", 0, 40, 30), grooves)


def test_the_stock_lies_about_the_part():
    part = made(cylinder("body", 0, 60, 30), length=64, stock_before=mm(1))
    assert (part.stock.start, part.stock.end) == (-1.0, 63.0)
    assert made(cylinder("body", 0, 60, 30), length=64).stock.start == pytest.approx(-2.0)
    with pytest.raises(OutOfRange, match="smallest bore"):
        made(cylinder("body", 0, 60, 30), stock_bore=mm(10))


def test_the_barrel_is_the_shape_its_features_say():
    shape = corer_barrel().shape
    for z, outside, inside in [(5, 32, 20), (16, 29, 20), (21, 32, 20), (100, 32, 20), (220, 30, 20), (228, 30, 25.8),
                               (240, 30, 23.35)]:  # fmt: skip
        assert 2 * radius_at(shape, z) == pytest.approx(outside)
        assert 2 * radius_at(shape, z, inside=True) == pytest.approx(inside)
    assert 2 * radius_at(shape, 0.5) == pytest.approx(31.0)  # halfway along the chamfer


def test_grooves_are_cut_at_every_place():
    shape = corer_barrel().shape
    assert [2 * radius_at(shape, 17 + 8 * k) for k in range(5)] == pytest.approx([29.0] * 5)
    assert [2 * radius_at(shape, 21 + 8 * k) for k in range(5)] == pytest.approx([32.0] * 5)


lines = st.tuples(st.floats(0, 90), st.floats(1, 60), st.floats(1, 20), st.floats(1, 20), st.booleans())


@settings(max_examples=200, deadline=None)
@given(st.lists(lines, min_size=1, max_size=6), st.lists(st.floats(0.01, 99.99), min_size=1, max_size=10))
def test_a_cut_leaves_the_least_of_all_at_every_place(cuts, places):
    """The definition, place by place: outside the lowest line that passed, inside the highest."""
    shape = Shape.bar(0.0, 100.0, 15.0, 4.0)
    for start, long, a, b, inside in cuts:
        shape = shape.cut(start, start + long, a, b, inside)
    for z in places:
        if np.abs(shape.z - z).min() < 1e-6:
            continue
        outer, inner = 15.0, 4.0
        for start, long, a, b, inside in cuts:
            end = start + long  # the line goes on where the work has ended
            if start < z < min(end, 100.0):
                line = a + (b - a) * (z - start) / (end - start)
                outer, inner = (outer, max(inner, line)) if inside else (min(outer, line), inner)
        assert radius_at(shape, z) == pytest.approx(outer, abs=1e-6)
        assert radius_at(shape, z, inside=True) == pytest.approx(inner, abs=1e-6)


def test_facing_takes_an_end_off_and_keeps_the_rest():
    bar = Shape.bar(-2.0, 62.0, 10.0, 0.0)
    assert bar.faced(0.0, "A").faced(60.0, "B").volume() == pytest.approx(math.pi * 100 * 60)
    assert bar.faced(-5.0, "A") is bar


def test_pieces_between_two_places():
    shape = Shape.bar(0, 100, 10, 4).cut(60, 100, 8, 8, False)
    lengths, outside, inside = shape.pieces(50, 90)
    assert lengths == pytest.approx([10, 30])
    assert outside == pytest.approx([20, 16])
    assert inside == pytest.approx([8, 8])
    assert (shape.largest(65, 90), shape.largest(50, 90), shape.smallest_bore(0, 100)) == (16.0, 20.0, 8.0)


def test_the_same_cuts_in_another_order_are_the_same_shape():
    bar = Shape.bar(0, 100, 10, 0)
    one = bar.cut(10, 40, 8, 8, False).cut(30, 60, 7, 9, False)
    other = bar.cut(30, 60, 7, 9, False).cut(10, 40, 8, 8, False)
    assert one.volume() == pytest.approx(other.volume(), rel=1e-12)


@pytest.mark.parametrize("plan", [barrel_plan(), shoe_plan()], ids=lambda plan: plan.name)
def test_the_examples_name_tools_and_features_that_are_there(plan):
    tools = {tool.name for tool in plan.tools.tools}
    features = {each.name for each in plan.part.features}
    for setup in plan.setups:
        for each in setup.operations:
            assert set(each.features) <= features
            assert each.tool is None or each.tool in tools


def test_the_two_parts_screw_together():
    """The mating threads are of one size, and the shoe's bore is smaller than the barrel's, as a corer's must be."""
    socket, screw = corer_barrel().feature("socket thread").thread, cutting_shoe().feature("screw thread").thread
    assert socket.mate().designation == screw.designation
    assert cutting_shoe().feature("shoe bore").plain.diameter < corer_barrel().feature("bore").plain.diameter
    assert cutting_shoe().feature("screw").plain.end < 250 - corer_barrel().feature("thread relief").plain.start
