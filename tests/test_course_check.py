"""The engine that judges answers: numbers, settings and functions, and what no answer may do to it."""

import math

import numpy as np
import pytest

from latheworks.course import check, find, slips
from latheworks.course.check_function import as_texts, run
from latheworks.course.check_number import close
from latheworks.course.tasks import Ask, Function, Number, Reason, Setting, Slip, good, miss
from latheworks.errors import Impossible, LatheworksError, OutOfRange
from latheworks.units import Q_

DRILL = Number(
    question="?", right=Q_(10.8, "mm"), within=Q_(0.02, "mm"), hint="Look at the table.", worked="So.",
    slips=(slips.radius(Q_(10.8, "mm")), slips.drill_for_major(Q_(0.5, "in")), Slip("hidden", Q_(10.81, "mm"), "No.")),
)  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "slip"),
    [
        ("10.8 mm", None),
        ("10.82 mm", None),
        ("10.78 mm", None),
        ("0.4252 in", None),
        ("425.2 thou", None),
        ("10800 um", None),
        ("5.4 mm", "radius for diameter"),
        ("0.2126 in", "radius for diameter"),
        ("1/2 in", "major for drill"),
        ("12.7 mm", "major for drill"),
        ("10.8 in", "right digits, wrong unit"),
        ("0.4252 mm", "right digits, wrong unit"),
        ("425.2 mm", "right digits, wrong unit"),
        ("274.32 mm", "off by 25.4"),
        ("-10.8 mm", "sign"),
        ("108 mm", "power of ten"),
        ("1.08 mm", "power of ten"),
        ("10.9 mm", "rounded too far"),
        ("10.8", "cannot be read"),
        ("10,8 mm", "cannot be read"),
        ("10.8 N", "cannot be read"),
        ("", "cannot be read"),
    ],
)
def test_a_typed_number_is_right_or_its_slip_is_named(typed, slip):
    outcome = check(DRILL, typed)
    assert (outcome.right, outcome.slip) == (slip is None, slip), outcome.sentence
    assert outcome.counts is (slip != "cannot be read")


def test_a_miss_nobody_foresaw_still_says_something_of_use():
    assert "larger" in check(DRILL, "11.9 mm").sentence
    assert "smaller" in check(DRILL, "9.1 mm").sentence
    assert check(DRILL, "9.1 mm").hint == DRILL.hint


def test_a_slip_that_cannot_be_told_from_the_right_answer_is_not_claimed():
    assert check(DRILL, "10.81 mm").right is True
    assert check(DRILL, "10.83 mm").slip != "hidden"


def test_comparison_fails_on_anything_not_finite_and_on_useless_tolerances():
    nan, inf = math.nan, math.inf
    for value, right in [(nan, 1.0), (1.0, nan), (nan, nan), (inf, inf), (-inf, -inf), (inf, 1.0)]:
        assert close(value, right, 0.1) is False
        assert close(right, value, 0.1) is False
    for within in (0.0, -1.0, nan, inf):
        assert close(1.0, 1.0, within) is False
    assert close(1.0, 1.1, 0.1)
    assert close(1.1, 1.0, 0.1)


class EvilFloat(float):
    def __sub__(self, other):
        return 0.0

    __rsub__ = __eq__ = __le__ = __sub__


class EvilText(str):
    def __eq__(self, other):
        return True

    __hash__ = str.__hash__


def test_only_plain_answers_are_judged():
    assert check(DRILL, EvilText("10.8 mm")).right is False
    assert check(DRILL, Q_(EvilFloat(1.0), "mm")).right is False
    assert check(DRILL, 10.8).right is False
    assert check(DRILL, Q_([10.8, 10.8], "mm")).right is False
    assert check(DRILL, Q_(10.8, "N")).right is False
    assert check(find("00.surface_speed"), EvilText("x")).right is False
    assert check(find("00.readable_sizes"), [EvilText("x")]).right is False
    assert check(DRILL, Q_(np.float64(10.8), "mm")).right is True


def test_what_is_no_task_is_refused():
    with pytest.raises(LatheworksError, match="expected an exercise"):
        check("01.tap_drill", "1 mm")
    with pytest.raises(LatheworksError, match=r'Try exercise\("00.inch_or_metric"\)'):
        find("00.inch_or_metrik")


def _judge(values):
    if values["at"].m_as("mm") > 100:
        raise OutOfRange("at: got 200 mm, expected at most 100 mm. Try 50 mm.")
    return good("It holds.") if values["hold"] == "chuck" else miss("tail", "It slips.")


PLAN = Setting(
    question="?", hint="h", worked="w", judge=_judge, solved={"at": "5 mm", "hold": "chuck"},
    asks=(Ask("at", "Where"), Ask("hold", "Holding", options=("chuck", "nothing"))),
)  # fmt: skip


def test_a_setting_is_judged_by_what_it_does():
    assert check(PLAN, {"at": "1/4 in", "hold": "chuck"}).right is True
    assert check(PLAN, {"at": "5 mm", "hold": "nothing"}).slip == "tail"
    assert check(PLAN, {"at": "200 mm", "hold": "chuck"}).slip == "cannot be done"
    for bad in (
        {"at": "5 mm"},
        {"at": "5", "hold": "chuck"},
        {"at": "5 mm", "hold": "glue"},
        {"at": 5, "hold": "chuck"},
    ):
        assert check(PLAN, bad).counts is False, bad


AREA = Function(
    question="?", hint="h", worked="w", kind="length",
    reference=lambda pitch, starts: pitch * starts,
    inputs=tuple({"pitch": Q_(p, "mm"), "starts": s} for p, s in ((1.0, 1), (1.5, 2), (2.0, 1), (3.0, 3))),
    slips=(Slip("pitch for lead", lambda pitch, starts: pitch, "This is the pitch."),),
)  # fmt: skip


@pytest.mark.parametrize(
    ("function", "slip", "counts"),
    [
        (lambda p, s: s * p, None, True),
        (lambda p, s: p.to("inch") * s, None, True),
        (lambda p, s: p, "pitch for lead", True),
        (lambda p, s: None, "unfinished", False),
        (None, "unfinished", False),
        (lambda p, s: p.m * s, "no unit", True),
        (lambda p, s: p * p, "wrong unit", True),
        (lambda p, s: p * math.nan, "not finite", True),
        (lambda p, s: p * 1e308, "not finite", True),
        (lambda p: p, "stopped", True),
        (lambda p, s: p / 0, "stopped", True),
        (lambda p, s: undefined_name, "stopped", True),  # noqa: F821
        (lambda p, s: (_ for _ in ()).throw(Impossible("nothing fits. Try less.")), "stopped", True),
        (lambda p, s: Q_([1.0, 2.0], "mm"), "wrong kind", True),
        (lambda p, s: Q_(EvilFloat(1), "mm"), "wrong kind", True),
        (lambda p, s: p * 5, None, True),
    ],
)
def test_a_function_is_compared_at_every_input(function, slip, counts):
    outcome = check(AREA, function)
    assert outcome.slip == slip
    assert outcome.counts is counts
    assert "Traceback" not in outcome.sentence
    assert ".py" not in outcome.sentence


def test_a_function_right_at_some_inputs_is_told_where_it_first_departs():
    outcome = check(AREA, lambda p, s: p * min(s, 2))
    assert outcome.right is False
    assert outcome.sentence == "It agrees at 3 of 4 inputs. The first to look at: pitch = 3.000 mm, starts = 3."


def test_what_a_function_returned_is_kept_as_data_and_judged_again_without_it():
    for function, right in ((AREA.reference, True), (lambda p, s: p, False)):
        texts = as_texts(AREA, run(AREA, function))
        assert all(type(text) is str for text in texts)
        assert check(AREA, texts).right is right
    for bad in ([], ["nan mm"] * 4, ["1 mm"], [None] * 4, ["1 N"] * 4):
        assert check(AREA, bad).right is False


def test_a_reason_is_kept_and_never_judged_by_its_words():
    task = Reason(question="?", hint="", worked="Model.")
    assert check(task, "Because the bar bends less near the chuck.").right is None
    assert check(task, "short").counts is False
    assert check(task, "x" * 601).counts is False
