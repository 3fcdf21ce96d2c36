"""Courses that run nbgrader: the source notebook, and points from an answers file. No nbgrader is needed here."""

import json
import re
import sys
from pathlib import Path

import nbformat
import pytest

from latheworks.course import AnswerBook, Kept, course_pass, find, solution
from latheworks.course.check_function import as_texts, run
from latheworks.course.check_number import UNITS
from latheworks.course.grade import grade
from latheworks.course.nbgrader_adapter import WARNING, as_source, main, points_of, use_in
from latheworks.course.tasks import Function, Number, Reason
from latheworks.errors import LatheworksError

LESSONS = Path(__file__).parents[1] / "lessons"
LESSON = LESSONS / "01_pick_the_thread.ipynb"
KEY = "an-invented-course-key"


def answer(task):
    """A right answer, as the exercise on the page would keep it."""
    right = solution(task)
    if isinstance(task, Function):
        return as_texts(task, run(task, right))
    if not isinstance(task, Number):
        return right
    unit = UNITS[task.kind][0]
    return f"{right.m_as(unit):.9f} {({'degree': 'deg', 'dimensionless': ''}).get(unit, unit)}".strip()


def solve(student, folder, names, course=KEY):
    """The answers file of a student who has everything right; with several students' names, their own numbers."""
    for name in names:
        task = find(name, student, course=course)
        assert AnswerBook(student, folder).keep(name, Kept(answer(task), code=task.code))


@pytest.fixture(autouse=True)
def surroundings(monkeypatch):
    for name in ("LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_ANSWERS", "NBGRADER_EXECUTION"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LATHEWORKS_COURSE", KEY)


@pytest.mark.parametrize("lesson", sorted(LESSONS.rglob("[0-9]*.ipynb")), ids=lambda path: path.stem)
def test_every_lesson_becomes_a_source_notebook_with_a_locked_cell_for_each_exercise(lesson):
    made, names = as_source(lesson)
    nbformat.validate(made)
    cells = [cell for cell in made.cells if "nbgrader" in cell.metadata]
    told = [cell.metadata["nbgrader"] for cell in cells]
    graded = [one for one in told if one["grade"]]
    assert len(graded) == len(names) >= 3
    assert len({one["grade_id"] for one in told}) == len(told)
    assert all(one["locked"] and not one["solution"] for one in told)
    assert [one["points"] for one in graded] == [find(name, "me").points for name in names]
    assert all(not cell.outputs for cell in made.cells if cell.cell_type == "code")
    for place, cell in enumerate(made.cells):
        if "nbgrader" in cell.metadata:
            asked = re.findall(r'points_of\("(.+)"\)', cell.source)
            assert f'exercise("{asked[0]}"' in made.cells[place - 1].source
    reasons = [one for one in told if not one["grade"]]
    assert all(
        isinstance(find(one["grade_id"].removeprefix("points-").replace("-", ".", 1)), Reason) for one in reasons
    )


def test_the_source_notebook_holds_no_answer_and_no_key():
    """What is handed to students: the questions' names; answers are worked out from numbers that are not in it."""
    made, names = as_source(LESSON)
    text = json.dumps(made)
    assert KEY not in text
    assert "solution(" not in text
    for name in names:
        right = find(name, "ana-7").__class__
        assert right in (Number, Function) or str(solution(find(name, "ana-7"))) not in text


def test_an_exercise_that_is_worth_more_is_worth_more_there(tmp_path):
    page = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell('exercise("h1.own_hole")')])
    nbformat.write(page, tmp_path / "x.ipynb")
    made, names = as_source(tmp_path / "x.ipynb")
    assert names == ("h1.own_hole",)
    assert made.cells[1].metadata["nbgrader"]["points"] == find("h1.own_hole", "me").points > 1


def test_points_are_those_of_grade_and_numbers_are_each_students_own(tmp_path, capsys):
    names = as_source(LESSON)[1]
    solve("ana-7", tmp_path, names)
    solve("ben-3", tmp_path, names)
    for student in ("ana-7", "ben-3"):
        assert [points_of(name, student, tmp_path) for name in names] == [find(name, "me").points for name in names]
    # Ben hands in what Ana has, under his own key.
    text = (tmp_path / "ana-7.json").read_text(encoding="utf-8").replace('"ana-7"', '"ben-3"')
    (tmp_path / "ben-3.json").write_text(text, encoding="utf-8")
    capsys.readouterr()
    copied = [points_of(name, "ben-3", tmp_path) for name in names]
    assert sum(copied) < len(names) - 1
    assert "Answered to numbers of another key" in capsys.readouterr().out
    rows = {row.student: row for row in grade(tmp_path, assignment="01").rows}
    assert copied == [mark.score for mark in rows["ben-3"].marks if mark.exercise in names]


@pytest.mark.parametrize(("content", "said"), [
    (None, "No answers file"), ("{", "cut short"), ('{"schema": "latheworks answers 1", "student": "ana-7"}', "differ"),
])  # fmt: skip
def test_a_file_that_is_none_earns_nothing_and_says_why(tmp_path, capsys, content, said):
    if content is not None:
        (tmp_path / "ben-3.json").write_text(content, encoding="utf-8")
    assert points_of("01.own_bore", "ben-3", tmp_path) == 0.0
    assert said in capsys.readouterr().out


def test_a_link_in_the_place_of_the_file_is_not_followed(tmp_path, capsys):
    solve("ana-7", tmp_path / "elsewhere", ["01.own_bore"])
    (tmp_path / "ana-7.json").symlink_to(tmp_path / "elsewhere" / "ana-7.json")
    assert points_of("01.own_bore", "ana-7", tmp_path) == 0.0
    assert "not opened" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["nan", "inf mm", "-3", "1e400 mm", "", "9" * 3000])
def test_what_is_no_number_earns_nothing(tmp_path, text):
    """A cell whose result is nan would be given all of its points."""
    AnswerBook("ana-7", tmp_path).keep("01.blank_size", Kept(text))
    assert repr(points_of("01.blank_size", "ana-7", tmp_path)) == "0.0"


def test_while_nbgrader_grades_the_student_is_the_one_of_the_folder(tmp_path, monkeypatch, capsys):
    """Neither the grader's own key nor group nor folder counts then."""
    place = tmp_path / "autograded" / "ana-7" / "week-1"
    place.mkdir(parents=True)
    solve("ana-7", place / "answers", ["01.own_bore"])
    monkeypatch.chdir(place)
    monkeypatch.setenv("LATHEWORKS_STUDENT", "ben-3")
    monkeypatch.setenv("LATHEWORKS_GROUP", "team-1")
    monkeypatch.setenv("LATHEWORKS_ANSWERS", str(tmp_path))
    assert points_of("01.own_bore") == 0.0
    monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")
    assert points_of("01.own_bore") == 1.0
    assert "Answered:" in capsys.readouterr().out


def test_on_the_students_own_page_a_pass_and_a_group_do(tmp_path, monkeypatch):
    monkeypatch.setenv("LATHEWORKS_ANSWERS", str(tmp_path))
    monkeypatch.setenv("LATHEWORKS_STUDENT", "ana-7")
    monkeypatch.setenv("LATHEWORKS_COURSE", course_pass("ana-7", course=KEY))
    solve("ana-7", tmp_path, ["01.own_bore"])
    assert points_of("01.own_bore") == 1.0
    monkeypatch.setenv("LATHEWORKS_GROUP", "team-1")
    monkeypatch.setenv("LATHEWORKS_COURSE", course_pass(group="team-1", course=KEY))
    task = find("01.own_bore", "ana-7", group="team-1", course=KEY)
    AnswerBook("ana-7", tmp_path).keep("01.own_bore", Kept(answer(task), code=task.code))
    assert points_of("01.own_bore") == 1.0


def test_the_command_writes_a_notebook_warns_and_overwrites_nothing(tmp_path, capsys):
    place = tmp_path / "source" / "week-1"
    assert main([str(LESSON), str(place)]) == 0
    said = capsys.readouterr().out
    assert WARNING in said
    assert "does not protect against unsafe code" in said
    made = nbformat.read(place / LESSON.name, as_version=4)
    assert "use_in" not in json.dumps(made)
    assert main([str(LESSON), str(place)]) == 1
    assert "there already" in capsys.readouterr().err


@pytest.mark.parametrize(
    "content", [None, "no json", '{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}']
)
def test_what_is_no_lesson_is_refused_in_a_sentence(tmp_path, capsys, content):
    path = tmp_path / "x.ipynb"
    if content is not None:
        path.write_text(content, encoding="utf-8")
    assert main([str(path), str(tmp_path / "out")]) == 1
    assert "Try" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_without_nbgrader_use_in_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "nbgrader", None)
    monkeypatch.setitem(sys.modules, "nbgrader.converters", None)
    with pytest.raises(LatheworksError, match="pip install"):
        use_in(object())
