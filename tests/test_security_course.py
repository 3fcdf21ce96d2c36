"""What the course answers to hostile or careless input: keys, numbers, texts, other units, endless texts, feedback.

What each test answers stands in its docstring. Files are in `test_security_files.py`, the source and the built package
in `test_security_source.py`.
"""

import math
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.course import (
    AnswerBook,
    Kept,
    check,
    course_pass,
    feedback,
    find,
    group_key,
    names,
    student_key,
    variant,
)
from latheworks.course.check_number import close
from latheworks.course.exercises import _builders
from latheworks.course.tasks import Ask, Function, Number, Prediction, Reason, Setting, good
from latheworks.errors import LatheworksError
from latheworks.shop import lathe
from latheworks.threads import infeed
from latheworks.units import Q_
from tests.test_course_exercises import slips_as_answers

NUMBERS = [math.nan, math.inf, -math.inf, -1, -0.0, 0, 1e308, 1e-308, 10**400, True, [5], {}, np.float64("nan"), b"5",
           object(), ("a",), "5\x00", "١", "x" * 1_000_000]  # fmt: skip
DOORS = {
    "variant, assignment": lambda bad: variant(bad, "ana"),
    "variant, student": lambda bad: variant("a", bad),
    "variant, group": lambda bad: variant("a", "ana", group=bad),
    "variant, course": lambda bad: variant("a", "ana", course=bad),
    "find, name": find,
    "find, student": lambda bad: find("00.own_speed", bad),
    "find, group": lambda bad: find("00.own_speed", "ana", group=bad),
    "find, course": lambda bad: find("00.own_speed", "ana", course=bad),
    "student_key": student_key,
    "group_key": group_key,
    "course_pass, student": course_pass,
    "course_pass, group": lambda bad: course_pass(group=bad),
    "course_pass, course": lambda bad: course_pass("ana", course=bad),
    "AnswerBook": AnswerBook,
    "check, task": lambda bad: check(bad, "5 mm"),
    "pick, name": lambda bad: variant("a", "ana").pick(bad, (1, 2)),
    "several, count": lambda bad: variant("a", "ana").several("size", (1, 2), bad),
}


@pytest.mark.parametrize("door", DOORS)
def test_every_door_of_the_course_refuses_what_is_no_key_or_name(door):
    """NaN, infinities, signs, huge numbers, bool, lists, bytes, a megabyte of text: our own error, and at once."""
    for bad in NUMBERS:
        start = time.perf_counter()
        with pytest.raises(LatheworksError) as caught:
            DOORS[door](bad)
        assert time.perf_counter() - start < 0.05, door
        assert len(str(caught.value)) < 400


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, -0.0, 0.0, -1.0])
def test_comparing_fails_on_nan_and_on_useless_tolerances(bad):
    """NaN or infinity on either side is never equal; a tolerance of 0, below 0, NaN or infinity lets nothing pass."""
    assert not close(5.0, 5.0, bad)
    if not math.isfinite(bad):
        assert not close(bad, 5.0, 1.0)
        assert not close(5.0, bad, 1.0)
        assert not close(bad, bad, 1.0)
    assert close(5.0, 5.4, 0.5) is close(5.4, 5.0, 0.5) is True


SIZE = Number(question="?", right=Q_(31.75, "mm"), within=Q_(0.01, "mm"), hint="h", worked="w")
READ = {"1 1/4 in": True, '1 1/4"': True, "31.75 mm": True, "\u221231.75 mm": False, "31.75 mm\n": True, '3/8"': False}
REFUSED = ["31,75 mm", "1.234,5 mm", "３１.75 mm", "3.175e1 mm", "0x1F mm", "31_75 mm", "٣١ mm", "31¾ mm", "", " ",
           "9" * 10_000 + " mm", "31.75 + 0 mm", "10**10**10 mm", "nan mm", "inf mm",
           "float('31.75') mm", "1e400 mm", "31.75 mil"]  # fmt: skip


def test_what_the_boxes_read_and_what_they_refuse():
    """Commas, exponents, hex, underscores, other digits, fractions as one sign, sums, 10 kB: refused, and no miss."""
    for text, right in READ.items():
        assert check(SIZE, text).right is right
        assert check(SIZE, text).counts
    for text in REFUSED:
        outcome = check(SIZE, text)
        assert (outcome.right, outcome.counts) == (False, False), text
        assert len(outcome.sentence) < 400


def numbers_asked():
    return [n for n in names() if isinstance(find(n, "me"), Number) and find(n, "me").kind in ("length", "feed")]


@pytest.mark.parametrize("name", numbers_asked())
def test_a_size_in_the_wrong_unit_is_told_by_its_ratio(name):
    """Millimeters in an inch answer and inches in a metric one are named, not just called wrong."""
    task = find(name, "me")
    unit, other = ("mm", "in") if task.kind == "length" else ("mm/rev", "in/rev")
    right = task.right.m_as(unit)
    for text in (f"{right:.6f} {other}", f"{right / 25.4:.7f} {unit}"):
        outcome = check(task, text)
        assert outcome.right is False
        assert outcome.slip in ("right digits, wrong unit", "off by 25.4", *(s.name for s in task.slips)), outcome


ECHO = Setting(
    question="?", hint="h", worked="w", asks=(Ask("size", "Size"),), judge=lambda values: good("."), solved={}
)
LOOKS_LIKE_A_SIZE = st.text(alphabet="0123456789./- '\"inmtho,eE+", max_size=45)


@settings(max_examples=10_000, deadline=None)
@given(st.text(max_size=60) | LOOKS_LIKE_A_SIZE)
def test_no_text_breaks_the_reading_of_a_box(text):
    """10,000 random texts: an outcome each time, never an error, and never long about it."""
    start = time.perf_counter()
    assert check(ECHO, {"size": text}).right in (True, False)
    # Reading takes some 20 microseconds; the bound leaves room for a busy machine.
    assert time.perf_counter() - start < 0.1


@pytest.mark.parametrize("piece", ["1", " ", "1/", "1 ", ".", "-", "in", "m", "\t", "(", "1.", "'", "½"])
def test_no_text_makes_a_pattern_run_away(piece):
    """Long runs of what the patterns look for (their time would grow with the square, or worse) are refused at once."""
    for text in (piece * 30, piece * 5_000, piece * 300_000, "1 " + piece * 300_000 + "!"):
        start = time.perf_counter()
        check(SIZE, text)
        with pytest.raises(LatheworksError):
            student_key(text + "!")
        assert time.perf_counter() - start < 0.05


@pytest.mark.parametrize("name", names())
def test_feedback_gives_nothing_away(name):
    """No answer brings back a path, a line of code, a trace, or the worked answer before its time."""
    task = find(name, "ana")
    answers = [*NUMBERS, "5 mm", "", None, *(answer for _, answer in slips_as_answers(task))]
    worked = task.worked_answer()
    for answer in answers:
        outcome = check(task, answer)
        sentence, _, shown = feedback(task, outcome, misses=1)
        assert outcome.right is not True
        if outcome.right is False:
            assert shown is None
        for text in (sentence, outcome.slip or ""):
            assert len(text) < 700
            assert not any(word in text for word in ("Traceback", ".py", "site-packages", "Error", ", line ", "0x7f"))
            assert str(worked) not in text


@pytest.mark.parametrize("name", [n for n in names() if not isinstance(find(n, "me"), Function | Reason | Prediction)])
def test_the_same_answer_gets_the_same_verdict_every_time(name):
    """Repeated, built anew, or with entries that nobody asked for: the verdict stays."""
    for _, answer in slips_as_answers(find(name, "ana")):
        first = check(find(name, "ana"), answer)
        assert check(find(name, "ana"), answer) == first
        if type(answer) is dict:
            assert check(find(name, "ana"), {"score": "100", **dict(reversed(answer.items()))}) == first


class Evil(str):
    """A text that says it equals anything."""

    __hash__ = str.__hash__

    def __eq__(self, other):
        return True


def test_only_exact_types_are_judged_and_kept(tmp_path):
    """Subclasses with methods of their own, which could lie about being equal, are refused."""
    for name in names():
        task = find(name, "ana")
        for answer in (Evil("x"), [Evil("x")], {"spindle": Evil("300 rpm")}, type("D", (dict,), {})()):
            assert check(task, answer).right is not True, name
    book = AnswerBook("ana", tmp_path)
    for answer in (Evil("x"), [Evil("x")], {"spindle": Evil("300 rpm")}, {Evil("spindle"): "x"}):
        assert book.keep("00.x", Kept(answer)) is False
    assert list(tmp_path.iterdir()) == []


def test_no_spindle_speed_is_faster_than_its_limit():
    """Whatever the thread, the material and the passes: never faster than the limit, and that never above the lathe."""
    fastest = lathe().fastest_spindle
    for name in ("1-8 UNC-2A", "1-20 UNEF-2B", "#10-24 UNC-2B", "M24x1.5-6g", "M6-6H", "M24xPh6P2-6g"):
        for stuff in (None, "aluminum 6061-T6", "1018"):
            for passes in (None, 3, 12):
                try:
                    plan = infeed(name, material=stuff, passes=passes)
                except LatheworksError:
                    continue
                assert plan.spindle <= plan.spindle_limit <= fastest


def test_endless_numbers_are_refused_at_once(tmp_path):
    """A thousand million passes, a million characters, a million answers: refused in well under a second."""
    book = AnswerBook("ana", tmp_path)
    calls = [lambda: infeed("1-12 UNF-2B", passes=10**9), lambda: find("x" * 1_000_000),
             lambda: variant("a", "ana").several("size", range(5), 10**9)]  # fmt: skip
    for call in calls:
        start = time.perf_counter()
        with pytest.raises(LatheworksError):
            call()
        assert time.perf_counter() - start < 0.05
    for answer in ("x" * 1_000_000, ["x"] * 1_000_000, {str(n): "x" for n in range(100_000)}):
        start = time.perf_counter()
        assert book.keep("00.x", Kept(answer)) is False
        assert time.perf_counter() - start < 0.05


def test_this_covers_every_lesson_with_exercises():
    """The lists above are made from the exercises, so none is left out."""
    assert {name.partition(".")[0] for name in names()} >= {"00", "01", "02", "03", "08"}
    assert all(_builders(name.partition(".")[0])[name] for name in names())
