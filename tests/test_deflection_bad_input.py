"""Every argument of every public name, given what it cannot be: one sentence that names it and says what to try."""

import math

import numpy as np
import pytest

from latheworks.deflection import (
    BetweenCenters,
    Chuck,
    ChuckAndCenter,
    Shaft,
    deflected_shape,
    deflection,
    deflection_working,
)
from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.units import Q_

BAR = {"length": Q_(80, "mm"), "outside": Q_(20, "mm"), "bore": Q_(0, "mm"), "material": Q_(69, "GPa")}
SHAFT = Shaft.bar(**BAR)
CUT = {"shaft": SHAFT, "holding": Chuck(), "force": Q_(150, "N"), "at": Q_(40, "mm")}
NOT_A_SIZE = [5, 5.0, "5 mm", True, None, [], (), {}, math.nan, Q_(5, "s"), Q_(math.nan, "mm"), Q_(-math.inf, "mm"),
              Q_(math.inf, "mm"), Q_(-1.0, "mm"), Q_([], "mm"), Q_([1.0, math.nan], "mm"), Q_(1e300, "mm")]  # fmt: skip
NOT_A_FORCE = [5, "5 N", False, None, Q_(5, "mm"), Q_(math.nan, "N"), Q_(math.inf, "N"), Q_(-1, "N"), Q_([], "N"),
               Q_([1.0, 2.0], "N"), Q_(1e300, "N"), Q_(5, "N/mm")]  # fmt: skip
NOT_A_STIFFNESS = [5, "rigid", True, math.inf, Q_(5, "mm"), Q_(0, "N/mm"), Q_(-1, "N/mm"), Q_(math.nan, "N/mm"),
                   Q_(-math.inf, "N/mm"), Q_([], "N/mm"), Q_([1e4, 2e4], "N/mm"), Q_(5e4, "N")]  # fmt: skip
NOT_A_TILT = [5, "rigid", True, math.inf, Q_(1e8, "N/mm"), Q_(0, "N*mm/rad"), Q_(-1, "N*mm"), Q_(math.nan, "N*mm"),
              Q_(-math.inf, "N*mm/rad"), Q_([], "N*mm/rad"), Q_([1e8, 1e9], "N*mm/rad")]  # fmt: skip
NOT_A_SHAFT = [None, 5, "barrel", BAR, [], Q_(80, "mm"), Chuck(), Shaft]
NOT_A_HOLDING = [None, 5, "chuck", Chuck, SHAFT, []]
NOT_A_MATERIAL = [None, 5, True, "", "unobtainium", "x" * 500, [], Q_(69, "mm"), Q_(0, "GPa"), Q_(-1, "GPa"),
                  Q_(math.nan, "GPa"), Q_(math.inf, "GPa"), Q_([], "GPa"), Q_([69.0, 70.0], "GPa")]  # fmt: skip
NOT_A_REST = [5, "here", True, [], (Q_(10, "mm"),), (10, 20), (Q_(10, "mm"), Q_(20, "mm")),
              (Q_(0, "mm"), Q_(2e4, "N/mm")),
              (Q_(math.inf, "mm"), Q_(2e4, "N/mm")), (Q_(10, "mm"), Q_(0, "N/mm")), Q_(10, "mm")]  # fmt: skip
NOT_SECTIONS = [None, 5, "80 x 20", [], (), {}, [5], [(Q_(80, "mm"), Q_(20, "mm"))], [None],
                Q_([80.0, 20.0, 0.0], "mm"), [(80, 20, 0)], [tuple(BAR.values())], np.zeros((1, 3)),
                [(Q_(1, "mm"), Q_(9, "mm"), Q_(0, "mm"))] * 1001]  # fmt: skip

ONE_PLACE = [*NOT_A_SIZE, Q_([1.0, 2.0], "mm"), Q_(80.1, "mm")]
PLACES = [*NOT_A_SIZE, Q_([1.0, 80.1], "mm")]
SIZES = [*NOT_A_SIZE, Q_([1.0, 2.0], "mm"), Q_(1e6, "mm")]

CALLS = [
    (lambda **k: Shaft(k["sections"], k.get("material", Q_(69, "GPa"))), {}, "sections", "section", NOT_SECTIONS),
    (Shaft.bar, BAR, "length", "section 1 length", [*SIZES, Q_(0, "mm")]),
    (Shaft.bar, BAR, "outside", "section 1 outside", [*SIZES, Q_(0, "mm")]),
    (Shaft.bar, BAR, "bore", "section 1 bore", [v for v in SIZES if v is not None] + [Q_(20, "mm"), Q_(21, "mm")]),
    (Shaft.bar, BAR, "material", "material", NOT_A_MATERIAL),
    (SHAFT.stickout, {}, "grip", "grip", [*SIZES, Q_(0, "mm"), Q_(80, "mm")]),
    (Chuck, {}, "tilt", "tilt", NOT_A_TILT),
    (Chuck, {}, "radial", "radial", NOT_A_STIFFNESS),
    (Chuck, {}, "rest", "rest", NOT_A_REST),
    (ChuckAndCenter, {}, "tilt", "tilt", NOT_A_TILT),
    (ChuckAndCenter, {}, "radial", "radial", NOT_A_STIFFNESS),
    (ChuckAndCenter, {}, "center", "center", NOT_A_STIFFNESS),
    (ChuckAndCenter, {}, "rest", "rest", NOT_A_REST),
    (BetweenCenters, {}, "head", "head", NOT_A_STIFFNESS),
    (BetweenCenters, {}, "tail", "tail", NOT_A_STIFFNESS),
    (BetweenCenters, {}, "rest", "rest", NOT_A_REST),
    (deflection, CUT, "shaft", "shaft", NOT_A_SHAFT),
    (deflection, CUT, "holding", "holding", NOT_A_HOLDING),
    (deflection, CUT, "force", "force", NOT_A_FORCE),
    (deflection, CUT, "at", "at", PLACES),
    (deflected_shape, CUT | {"along": Q_(10, "mm")}, "shaft", "shaft", NOT_A_SHAFT),
    (deflected_shape, CUT | {"along": Q_(10, "mm")}, "holding", "holding", NOT_A_HOLDING),
    (deflected_shape, CUT | {"along": Q_(10, "mm")}, "force", "force", NOT_A_FORCE),
    (deflected_shape, CUT | {"along": Q_(10, "mm")}, "at", "at", ONE_PLACE),
    (deflected_shape, CUT | {"along": Q_(10, "mm")}, "along", "along", PLACES),
    (deflection_working, CUT, "shaft", "shaft", NOT_A_SHAFT),
    (deflection_working, CUT, "holding", "holding", NOT_A_HOLDING),
    (deflection_working, CUT, "force", "force", NOT_A_FORCE),
    (deflection_working, CUT, "at", "at", ONE_PLACE),
]
EACH = [(call, good, name, said, value) for call, good, name, said, values in CALLS for value in values]


@pytest.mark.parametrize(("call", "good", "name", "said", "value"), EACH)
def test_a_bad_argument_gets_a_sentence(call, good, name, said, value):
    with pytest.raises(LatheworksError) as refused:
        call(**{**good, name: value})
    text = str(refused.value)
    assert said in text
    assert "got" in text
    assert "expected" in text
    assert "Try" in text
    assert len(text) < 900


def test_all_bad_arguments_are_named_at_once():
    with pytest.raises(WrongUnit) as refused:
        deflection(SHAFT, 3, Q_(-1, "N"), Q_(400, "mm"))
    assert all(f"- {name}:" in str(refused.value) for name in ("holding", "force", "at"))


@pytest.mark.parametrize(
    ("kind", "call"),
    [
        (Impossible, lambda: Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), Q_(20, "mm"), material="brass")),
        (Impossible, lambda: deflection(**CUT | {"holding": Chuck(rest=(Q_(90, "mm"), Q_(2e4, "N/mm")))})),
        (NotInTable, lambda: Shaft.bar(**BAR | {"material": "unobtainium"})),
        (OutOfRange, lambda: Chuck(radial=Q_(0, "N/mm"))),
        (WrongUnit, lambda: deflection(**CUT | {"force": Q_(5, "mm")})),
    ],
)
def test_the_kind_says_what_was_wrong(kind, call):
    with pytest.raises(kind):
        call()
