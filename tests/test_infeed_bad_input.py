"""Every argument of `infeed` given nonsense: one plain sentence that names it, never a traceback or a nan."""

import numpy as np
import pytest

from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.threads import infeed, thread
from latheworks.units import Q_

NAN, INF = float("nan"), float("inf")
THREAD = thread("M16x1.5-6g")

LENGTHS = ("least_depth", "depth", "length")
NO_LENGTH = (3, 3.5, "3 mm", True, [], object, Q_(3, "N"), Q_(3, ""), Q_(NAN, "mm"), Q_(INF, "mm"), Q_(-INF, "mm"),
             Q_(0, "mm"), Q_(-1, "mm"), Q_([], "mm"), Q_([1, 2], "mm"), Q_(1e12, "mm"))  # fmt: skip
NO_SPEED = (300, "300", True, Q_(300, "mm"), Q_(300, "1/min"), Q_(NAN, "rev/min"), Q_(INF, "rev/min"),
            Q_(0, "rev/min"), Q_(-300, "rev/min"), Q_([], "rev/min"), Q_([300, 400], "rev/min"),
            Q_(501, "rev/min"), Q_(10, "rev/min"))  # fmt: skip
NO_ANGLE = (29.5, "29.5", True, Q_(29.5, "mm"), Q_(29.5, ""), Q_(NAN, "degree"), Q_(INF, "degree"), Q_(0, "degree"),
            Q_(-29.5, "degree"), Q_([], "degree"), Q_(60, "degree"), Q_(30.5, "degree"), Q_(30, "degree"))  # fmt: skip
NO_COUNT = (True, False, 6.0, "6", 1, 0, -3, 201, NAN, INF, Q_(6, ""), [], np.array([6]), 10**30)
NO_SPRINGS = (True, 2.0, "2", -1, 11, NAN, None, Q_(2, ""), [])
NO_WORD = ("", "square root", "EQUAL AREA", 3, True, None, NAN, Q_(3, "mm"), [], "x" * 10_000, np.array([1.0]))
NO_THREAD = (None, 3, True, "", "M1O", "bolt", "x" * 10_000, NAN, Q_(16, "mm"), [], np.array([]), object)
NO_LATHE = ("teaching lathe", 3, True, [], Q_(3, "kW"))

CASES = [
    *((name, value) for name in LENGTHS for value in NO_LENGTH),
    *(("spindle", value) for value in NO_SPEED),
    *(("compound_angle", value) for value in NO_ANGLE),
    *(("passes", value) for value in NO_COUNT),
    *(("spring_passes", value) for value in NO_SPRINGS),
    *((name, value) for name in ("law", "method", "material") for value in NO_WORD),
    *(("lathe", value) for value in NO_LATHE),
]


@pytest.mark.parametrize(("name", "value"), CASES, ids=[f"{name}={value!r:.30}" for name, value in CASES])
def test_nonsense_is_refused_with_a_sentence_that_names_it(name, value):
    arguments = {"method": "modified flank", name: value}
    with pytest.raises(LatheworksError) as caught:
        infeed(THREAD, **arguments)
    text = str(caught.value)
    shown = "passes" if name == "least_depth" and "smallest step" in text else name
    assert f"{shown}: got" in text
    assert "expected" in text
    assert "Try" in text
    assert len(text) < 700


@pytest.mark.parametrize("value", NO_THREAD, ids=[f"{value!r:.30}" for value in NO_THREAD])
def test_nonsense_for_a_thread_is_refused(value):
    with pytest.raises(LatheworksError, match="thread: got"):
        infeed(value)


def test_one_message_names_every_bad_argument():
    with pytest.raises(LatheworksError) as caught:
        infeed(3, True, "sqrt", 2, compound_angle=3, least_depth=Q_(-1, "mm"), spring_passes=99, spindle=Q_(3, "mm"),
               material="x", lathe="y", depth=Q_(NAN, "mm"), length=Q_([], "mm"))  # fmt: skip
    text = str(caught.value)
    for name in ("thread", "passes", "law", "method", "compound_angle", "least_depth", "spring_passes", "spindle",
                 "material", "lathe", "depth", "length"):  # fmt: skip
        assert text.count(f"\n  - {name}: got") == 1
    assert "12 arguments" in text


@pytest.mark.parametrize(
    ("arguments", "kind", "words"),
    [
        ({"passes": 150}, Impossible, "a tool rubs there. Try passes=23"),
        ({"least_depth": Q_(0.8, "mm")}, Impossible, "smallest step is 0.27 mm"),
        ({"depth": Q_(1.2, "mm")}, OutOfRange, "even a sharp point leaves the groove too wide"),
        ({"method": "flank", "compound_angle": Q_(29.5, "degree")}, OutOfRange, 'is method="modified flank"'),
        ({"method": "radial", "compound_angle": Q_(29.5, "degree")}, OutOfRange, "moves the cross slide alone"),
        ({"method": "modified flank", "compound_angle": Q_(60.5, "degree")}, OutOfRange, "shows 60.5 for 29.5"),
        (
            {"method": "alternating flank", "compound_angle": Q_(31, "degree")},
            OutOfRange,
            "less goes in nearly straight, more cuts into the flank that stays",
        ),
        ({"material": "stainles"}, NotInTable, 'material="stainless steel 304"'),
        ({"law": "equal areas"}, NotInTable, 'law="equal area"'),
        ({"spindle": 300}, WrongUnit, 'spindle=Q_(60, "rev/min")'),
    ],
)
def test_the_message_teaches(arguments, kind, words):
    with pytest.raises(kind) as caught:
        infeed(THREAD, **arguments)
    assert words in str(caught.value)


@pytest.mark.parametrize("method", ["radial", "flank", "alternating flank"])
def test_the_usual_angle_may_be_said(method):
    usual = 0 if method == "radial" else 30
    assert infeed(THREAD, method=method, compound_angle=Q_(usual, "degree")).compound_angle.m_as("degree") == usual
