"""The door: one message that names every bad argument, and fill-ins that let the checks go on."""

import numpy as np
import pytest

from latheworks import Q_, LatheworksError
from latheworks.door import Door, nearest
from latheworks.errors import Impossible, NotInTable, OutOfRange, WrongUnit


def through(value, **bounds):
    with Door("turn") as door:
        result = door.number(value, "feed", "mm", **bounds)
    return result


@pytest.mark.parametrize(("value", "millimeters"), [(Q_(2, "mm"), 2.0), (Q_(1, "inch"), 25.4), (Q_(0, "mm"), 0.0)])
def test_a_good_number_comes_out_in_the_unit(value, millimeters):
    assert through(value) == pytest.approx(millimeters)


@pytest.mark.parametrize(
    ("value", "kind"),
    [(2, WrongUnit), ("2 mm", WrongUnit), (True, WrongUnit), (None, WrongUnit), (Q_(2, "N"), WrongUnit),
     (Q_(np.array([True]), "mm"), WrongUnit), (Q_([1.0, 2.0], "mm"), WrongUnit), (Q_(float("nan"), "mm"), OutOfRange),
     (Q_(float("inf"), "mm"), OutOfRange), (Q_(1e300, "mm"), OutOfRange), (Q_([], "mm"), OutOfRange),
     (Q_(10**400, "mm"), LatheworksError), (Q_(1j, "mm"), WrongUnit)],
)  # fmt: skip
def test_a_bad_number_is_named(value, kind):
    with pytest.raises(kind, match=r"turn: feed: got .* expected .* Try feed=Q_\("):
        through(value)


@pytest.mark.parametrize(
    "bounds", [{"least": 3}, {"above": 2}, {"most": 1}, {"below": 2}, {"least": 5, "most": 9}], ids=str
)
def test_bounds_are_kept(bounds):
    with pytest.raises(OutOfRange, match="expected a value in mm"):
        through(Q_(2.0, "mm"), **bounds)


def test_infinity_is_let_in_only_where_asked():
    assert through(Q_(float("inf"), "mm"), finite=False, above=0) == np.inf
    with pytest.raises(OutOfRange):
        through(Q_(float("-inf"), "mm"), finite=False, above=0)
    with pytest.raises(OutOfRange):
        through(Q_(float("nan"), "mm"), finite=False)


def test_one_message_names_every_bad_argument():
    with pytest.raises(LatheworksError) as caught, Door("turn") as door:
        door.number(3, "feed", "mm/rev")
        door.whole(2.5, "passes", least=1)
        door.choice("squre", "law", ("square", "round"))
        door.text("", "designation", example="M10")
        door.array(Q_([1.0, -1.0], "mm"), "at", "mm", least=0)
        door.instance(5, "shaft", dict, "a Shaft", "Shaft.bar(...)")
        door.complain("bore", "30 mm", "less than the outside", "a smaller bore")
    text = str(caught.value)
    assert "7 arguments" in text
    for name in ("feed", "passes", "law", "designation", "at", "shaft", "bore"):
        assert f"  - {name}: got" in text
    assert 'law="square"' in text


@pytest.mark.parametrize("bad", [True, 2.0, "2", None, -1, 1001, float("nan"), np.float64(2)])
def test_whole_numbers(bad):
    with pytest.raises(LatheworksError, match="a whole number from 0 to 1000"), Door("turn") as door:
        door.whole(bad, "passes")


def test_kinds_of_single_complaints():
    with pytest.raises(NotInTable), Door("turn") as door:
        door.choice("oval", "law", ("square", "round"))
    with pytest.raises(WrongUnit), Door("turn") as door:
        door.choice(3, "law", ("square", "round"))
    with pytest.raises(Impossible), Door("turn") as door:
        door.complain("bore", "30 mm", "less than the outside", "a smaller bore")
    with pytest.raises(OutOfRange), Door("turn") as door:
        door.text("x" * 81, "name")


def test_an_error_inside_the_block_is_not_hidden():
    with pytest.raises(ZeroDivisionError), Door("turn") as door:
        door.number(3, "feed", "mm")
        raise ZeroDivisionError


def test_arrays_keep_their_shape_and_have_a_size_limit():
    with Door("turn") as door:
        assert door.array(Q_(1.0, "mm"), "at", "mm").shape == ()
        assert door.array(Q_([1, 2], "mm"), "at", "mm").tolist() == [1.0, 2.0]
    with pytest.raises(OutOfRange, match="100001 values"), Door("turn") as door:
        door.array(Q_(np.zeros(100_001), "mm"), "at", "mm")


def test_nearest_finds_a_like_word_or_nothing():
    assert nearest("Alumnium 6061", ["steel 1018", "aluminum 6061"]) == "aluminum 6061"
    assert nearest("zzz", ["steel"]) is None
    assert nearest(None, ["steel"]) is None
