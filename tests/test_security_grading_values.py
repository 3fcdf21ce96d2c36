"""Values that lie, and values that are none: whatever is answered, points lie between 0 and the most; what is said.

Lines 2, 21 and 23 of the security list; see `test_security_grading`.
"""

import json
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.course import find, grade, names, score, worth
from latheworks.course.answer_file import SCHEMA
from latheworks.course.grade_judge import BROKEN, Asked, Handed, judge_file
from latheworks.course.grades import REASONS
from latheworks.plan import Plan
from latheworks.units import Q_
from tests.grade_class import COURSE, answers, entry, hand_in, taught


@pytest.fixture(scope="module", autouse=True)
def lesson():
    with taught():
        yield


def graded(folder):
    return {row.place: row for row in grade(folder, assignment="x9", course=COURSE).rows}


# Values that lie, and values that are none.
class Number(float):
    """A float that agrees with everything."""

    def __eq__(self, other):
        return True

    __lt__ = __le__ = __gt__ = __ge__ = __ne__ = __eq__
    __hash__ = float.__hash__


class Text(str):
    """A text that equals every text."""

    def __eq__(self, other):
        return True

    __hash__ = str.__hash__


class Answers(dict):
    """A mapping that has whatever is asked for."""

    def get(self, name, default=None):
        return "1 mm"

    def __missing__(self, name):
        return "1 mm"


class Options(list):
    """A list that holds everything."""

    def __contains__(self, item):
        return True


class Size(type(Q_(1, "mm"))):
    """A quantity that says it is what is asked for."""

    def is_compatible_with(self, *_, **__):
        return True

    def m_as(self, unit):
        return 1.0


class Anything:
    """An object that is equal to all and has every attribute."""

    def __eq__(self, other):
        return True

    def __getattr__(self, name):
        return lambda *_, **__: True

    __hash__ = object.__hash__


NONE = [math.nan, math.inf, -math.inf, -1, -0.0, 0, 1e308, 1e-308, 10**400, True, "5", None, [5], np.float64("nan"),
        "nan", "inf mm", "1e400 mm", "", {}, [], b"1 mm", Q_(math.nan, "mm"), Q_(Number(1), "mm"), Q_([1, 2], "mm"),
        Number(1), Text("x"), Answers(), Options(["x"]), Size(1, "mm"), Anything(), Plan, "x" * 100_000,
        {"plan": "{}"}, {"plan": Text("{}")}]  # fmt: skip


@pytest.mark.parametrize("name", [*names(), "x9.hand_in", "x9.size", "x9.why"])
def test_no_value_that_lies_or_is_none_earns_a_point(name):
    task = find(name, "ana-7", group="", course=COURSE)
    for bad in NONE:
        assert score(task, bad) == 0.0, repr(bad)[:60]


def test_a_quantity_that_could_say_anything_of_itself_is_no_answer():
    task = find("x9.size", "ana-7", group="", course=COURSE)

    class Told(type(Q_(1, "mm"))):
        """A quantity that has heard what is right."""

        def m_as(self, unit):
            return task.right.m_as(unit)

    assert isinstance(Told(1, "mm"), Told)
    assert score(task, Told(1, "mm")) == 0.0
    assert score(task, Q_(task.right.m, "mm")) == 2.0


json_like = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4), max_leaves=8,
)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(["x9.hand_in", "x9.size", "x9.why", "y"]), st.one_of(
    json_like, st.fixed_dictionaries({
        "answer": json_like, "misses": st.integers(-1, 9), "right": st.sampled_from([True, False, None, 1]),
        "checked": st.booleans(), "shown": st.booleans()}, optional={"code": st.text(max_size=9), "score": json_like}),
)), st.sampled_from(["ana-7", "ben-2"]))  # fmt: skip
def test_whatever_a_file_holds_its_points_lie_between_0_and_the_most(entries, key):
    asked = Asked((("x9.hand_in", 20), ("x9.size", 2), ("x9.why", 0)))
    raw = json.dumps({"schema": SCHEMA, "student": key, "answers": entries}).encode("utf-8", "surrogatepass")
    row = judge_file(asked, Handed("ana-7.json", "ana-7", "", COURSE, raw))
    assert row.code in REASONS
    assert len(row.marks) == 3
    for mark in row.marks:
        assert type(mark.score) is float
        assert 0.0 <= mark.score <= mark.most
        assert mark.sentence != BROKEN
    assert row.score == 0.0 or row.code == "graded"


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_whatever_bytes_come_in_there_is_a_row(raw):
    row = judge_file(Asked((("x9.size", 2),)), Handed("ana-7.json", "ana-7", "", COURSE, raw))
    assert row.code in REASONS
    assert row.code != "graded"


# What is said.
def test_reasons_show_no_path_no_trace_and_nothing_that_was_expected():
    assert len(set(REASONS.values())) == len(REASONS)
    for code, sentence in REASONS.items():
        assert code == code.lower().strip()
        assert sentence.endswith(".") or code == "graded"
        assert not any(word in sentence for word in ("/", "\\", "Traceback", "Error", "line ", "None", "{", "0x"))


def test_a_fault_of_ours_costs_one_mark_and_shows_no_trace(tmp_path, monkeypatch):
    from latheworks.course import grade_judge

    hand_in(tmp_path, "ana-7")

    def breaks(task, answer):
        if task.name == "x9.hand_in":
            raise ZeroDivisionError(f"secret {tmp_path}")
        return real(task, answer)

    real = grade_judge.check
    monkeypatch.setattr(grade_judge, "check", breaks)
    row = graded(tmp_path)["ana-7.json"]
    assert [(mark.code, mark.score) for mark in row.marks][:2] == [("cannot be judged", 0.0), ("right", 2.0)]
    assert row.marks[0].sentence == BROKEN
    assert "secret" not in repr(row)


def test_what_students_are_told_of_a_number_holds_no_expected_value(tmp_path):
    right = find("x9.size", "ana-7", group="", course=COURSE).right.m
    wrong = ["999 mm", f"{2 * right} mm", f"{right} in", "x", "-1 mm", f"{right / 25.4} mm"]
    for answer in wrong:
        hand_in(tmp_path, "ana-7", answers("ana-7") | {"x9.size": entry(answer)})
        mark = graded(tmp_path)["ana-7.json"].marks[1]
        assert mark.score == 0.0
        assert f"{right:g}" not in mark.sentence
    assert worth(find("x9.size", "ana-7")) == 2
