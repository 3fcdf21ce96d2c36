"""A small course run by nbgrader itself, from the command line: generate, hand in, autograde, export.

It runs where the extra `nbgrader` is installed, and is left out where it is not. `.ci/run` installs it into an
environment of its own, since it brings an extension for JupyterLab along, and nothing else may need it.
"""

import csv
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

from latheworks.course.grade import grade
from latheworks.course.nbgrader_adapter import as_source
from tests.test_nbgrader_points import KEY, LESSON, solve

pytest.importorskip("nbgrader", reason="the extra nbgrader is not installed")
NAMES = as_source(LESSON)[1]
READ = "c = get_config()\nfrom latheworks.course.nbgrader_adapter import use_in\n\nuse_in(c)\n"
RUN = "c = get_config()\n"
TRAP = "open('ran.txt', 'w').write(__import__('os').environ['LATHEWORKS_COURSE'])"


def call(course, *words, code=0):
    """Run a command in the course's folder, as an instructor would with the environment switched on."""
    place = str(Path(sys.executable).parent)
    told = {**os.environ, "PATH": place + os.pathsep + os.environ.get("PATH", ""), "LATHEWORKS_COURSE": KEY}
    for name in ("LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_ANSWERS"):
        told.pop(name, None)
    done = subprocess.run([sys.executable, "-m", *words], cwd=course, env=told, capture_output=True, text=True)
    assert done.returncode == code, done.stdout + done.stderr
    return done.stdout + done.stderr


def exported(course):
    """Each student's score, from nbgrader's own table."""
    call(course, "nbgrader", "export")
    with (course / "grades.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {float(row["max_score"]) for row in rows} == {float(len(NAMES))}
    return {row["student_id"]: float(row["score"]) for row in rows}


def handed_in(course, student, cell=None):
    """A student's copy of the assignment, with a cell of their own where one is given."""
    place = course / "submitted" / student / "week-1"
    shutil.copytree(course / "release" / "week-1", place)
    if cell is not None:
        page = place / LESSON.name
        made = nbformat.read(page, as_version=4)
        made.cells.insert(0, nbformat.v4.new_code_cell(cell))
        # And the first points cell is made to give everything away.
        next(one for one in made.cells if one.metadata.get("nbgrader")).source = "1.0"
        nbformat.write(made, page)
    return place


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A course with its assignment generated and four submissions."""
    made = tmp_path_factory.mktemp("corer")
    call(made, "latheworks.course.nbgrader_adapter", str(LESSON), "source/week-1")
    (made / "nbgrader_config.py").write_text(READ, encoding="utf-8")
    call(made, "nbgrader", "generate_assignment", "week-1")
    for student in ("ana-7", "ben-3"):
        solve(student, handed_in(made, student) / "answers", NAMES)
    copied = (made / "submitted/ana-7/week-1/answers/ana-7.json").read_text(encoding="utf-8")
    place = handed_in(made, "cy-1") / "answers"
    place.mkdir()
    (place / "cy-1.json").write_text(copied.replace('"ana-7"', '"cy-1"'), encoding="utf-8")
    solve("dee-2", handed_in(made, "dee-2", TRAP) / "answers", NAMES[1:])
    call(made, "nbgrader", "autograde", "week-1")
    return made


def test_the_students_copy_holds_no_answer_and_every_points_cell_is_locked(course):
    released = nbformat.read(course / "release" / "week-1" / LESSON.name, as_version=4)
    told = [cell for cell in released.cells if cell.metadata.get("nbgrader", {}).get("grade")]
    assert len(told) == len(NAMES)
    assert all(cell.metadata["editable"] is False and cell.metadata["deletable"] is False for cell in told)
    assert KEY not in json.dumps(released)


def test_points_come_from_each_students_own_answers_and_agree_with_grade(course, tmp_path):
    scores = exported(course)
    assert scores["ana-7"] == scores["ben-3"] == float(len(NAMES))
    assert scores["cy-1"] < len(NAMES) - 1
    assert scores["dee-2"] == len(NAMES) - 1
    for student in ("ana-7", "ben-3", "cy-1"):
        file = course / "submitted" / student / "week-1" / "answers" / f"{student}.json"
        shutil.copy(file, tmp_path)
    rows = grade(tmp_path, assignment="01", course=KEY).rows
    assert {row.student: row.score for row in rows} == {name: scores[name] for name in ("ana-7", "ben-3", "cy-1")}


def test_with_use_in_nothing_of_a_students_runs(course):
    assert not list(course.rglob("ran.txt"))
    graded = nbformat.read(course / "autograded" / "dee-2" / "week-1" / LESSON.name, as_version=4)
    assert graded.cells[0].source == TRAP
    assert graded.cells[0].outputs == []
    assert "Not answered." in str([cell.outputs for cell in graded.cells if cell.metadata.get("nbgrader")])


def test_a_folder_that_is_no_student_key_is_refused_and_the_others_are_graded(course):
    handed_in(course, "Elif")
    try:
        said = call(course, "nbgrader", "autograde", "week-1", "--student=Elif", code=1)
    finally:
        shutil.rmtree(course / "submitted" / "Elif")
    assert "Student key: got 'Elif'" in said
    assert exported(course)["ana-7"] == float(len(NAMES))


def test_without_use_in_nbgrader_runs_the_notebook_and_comes_to_the_same_points(course):
    """What the warning says: a student's code runs, and sees the course key."""
    (course / "nbgrader_config.py").write_text(RUN, encoding="utf-8")
    try:
        call(course, "nbgrader", "autograde", "week-1", "--student=dee-2", "--force")
        scores = exported(course)
    finally:
        (course / "nbgrader_config.py").write_text(READ, encoding="utf-8")
    assert scores["dee-2"] == len(NAMES) - 1
    [ran] = course.rglob("ran.txt")
    assert ran.read_text(encoding="utf-8") == KEY
