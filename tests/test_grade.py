"""Grading a folder: every file and every student gets a row, points add up, and the numbers are the student's own."""

import json
import os

import pytest

from latheworks.course import Grades, find, grade, names
from latheworks.course.answer_file import SCHEMA
from latheworks.course.grade_judge import worth_of
from latheworks.course.grades import HEAD, REASONS
from latheworks.errors import LatheworksError
from latheworks.shop import lathe, rack
from latheworks.units import Q_
from tests.grade_class import COURSE, answers, entry, hand_in, taught


@pytest.fixture(scope="module", autouse=True)
def lesson():
    with taught():
        yield


def graded(folder, **more):
    return grade(folder, **{"assignment": "x9", "course": COURSE} | more)


def by_student(grades):
    return {row.student: row for row in grades.rows}


def test_right_answers_earn_all_and_a_reason_waits_for_a_person(tmp_path):
    hand_in(tmp_path, "ana-7")
    row = graded(tmp_path).rows[0]
    plan, number, reason = row.marks
    assert (row.student, row.place, row.code, row.reason) == ("ana-7", "ana-7.json", "graded", "")
    assert (plan.code, plan.most, plan.plan) == ("right", 20, True)
    assert 15 <= plan.score <= 20
    assert (number.code, number.score, number.most) == ("right", 2.0, 2)
    assert (reason.code, reason.score, reason.most) == ("to be read", 0.0, 0)
    assert reason.answer == "Because the bar bends less when it is short."
    assert row.score == plan.score + 2.0
    assert (row.to_read, row.stop) == (1, "")


def test_slips_stops_and_what_is_missing_are_told_apart(tmp_path):
    plan = json.loads(answers("ben-2")["x9.hand_in"]["answer"]["plan"])
    plan["setups"] = [plan["setups"][0] | {"operations": []}]
    whole = 2 * find("x9.size", "ben-2", group="", course=COURSE).right.m
    hand_in(tmp_path, "ben-2", {
        "x9.hand_in": entry({"plan": json.dumps(plan)}, misses=3, shown=True), "x9.size": entry(f"{whole} mm"),
    })  # fmt: skip
    hand_in(tmp_path, "cy", {"x9.size": entry("five mm"), "x9.hand_in": entry({"plan": ""}), "x9.why": entry("short")})
    rows = by_student(graded(tmp_path))
    first, second, third = rows["ben-2"].marks
    assert (first.code, first.slip, rows["ben-2"].stop) == ("missed", "nothing planned", "nothing planned")
    assert (first.misses, first.shown) == (3, True)
    assert any(line.startswith("stop: ") for line in first.lines)
    assert (second.code, second.slip, second.score) == ("missed", "whole for half", 0.0)
    assert third.code == "not answered"
    assert [mark.code for mark in rows["cy"].marks] == ["not answered", "cannot be read", "cannot be read"]
    assert rows["cy"].score == 0.0
    assert graded(tmp_path).slips() == [
        ("x9.hand_in", "nothing planned", ("ben-2",)), ("x9.size", "whole for half", ("ben-2",)),
    ]  # fmt: skip


def test_the_numbers_are_made_anew_and_other_peoples_answers_are_seen(tmp_path):
    """Nothing in the file says what is right: marks, misses and codes in it change no point."""
    mine, theirs = (find("x9.size", who, group="", course=COURSE) for who in ("ana-7", "dora"))
    assert mine.right != theirs.right
    hand_in(tmp_path, "ana-7", {"x9.size": entry(f"{theirs.right.m} mm", theirs.code, right=True, misses=0)})
    hand_in(tmp_path, "dora", {"x9.size": entry(f"{theirs.right.m} mm", theirs.code, right=False, misses=99)})
    rows = by_student(graded(tmp_path))
    assert rows["ana-7"].score == 0.0
    assert rows["ana-7"].notes == ("Answered to numbers of another key or group: x9.size.",)
    assert (rows["dora"].score, rows["dora"].notes) == (2.0, ())
    other_course = by_student(graded(tmp_path, course="another-invented-key"))
    assert any(note.startswith("Answered to numbers of another") for note in other_course["dora"].notes)


def test_a_group_shares_its_numbers_and_the_roster_says_who_is_in_it(tmp_path):
    for who in ("ana-7", "ben-2"):
        hand_in(tmp_path, who, answers(who, group="team-3"))
    roster = {"ana-7": "team-3", "ben-2": "team-3", "cy": None, "dora": ""}
    grades = graded(tmp_path, roster=roster)
    rows = by_student(grades)
    assert [rows[who].group for who in roster] == ["team-3", "team-3", "", ""]
    assert rows["ana-7"].marks[1].code == rows["ben-2"].marks[1].code == "right"
    assert not rows["ana-7"].notes
    assert [rows[who].code for who in ("cy", "dora")] == ["no file", "no file"]
    assert all("another key or group" in row.notes[0] for row in graded(tmp_path).rows)


def test_nobodys_row_is_missing(tmp_path):
    """One bad file of each kind beside a good one, in the folder and in folders of their own."""
    hand_in(tmp_path, "ana-7")
    good = (tmp_path / "ana-7.json").read_text()
    text = {
        "not-whole.json": "{", "twins.json": good.replace('"schema"', '"student": "x", "student": "y", "schema"', 1),
        "bare.json": good.replace('"misses": 0', '"misses": 0.0', 1), "nan.json": '{"schema": NaN}',
        "old.json": good.replace(SCHEMA, "latheworks answers 0"), "stolen.json": good,
        "list.json": json.dumps({"schema": SCHEMA, "student": "list", "answers": []}),
        "odd.json": json.dumps({"schema": SCHEMA, "student": "odd", "answers": {"x9.size": {"answer": 5}}}),
        "Ana.json": good, "con.json": good, "a b.json": good, "big.JSON": good, "..json": good,
    }  # fmt: skip
    for name, content in text.items():
        (tmp_path / name).write_text(content)
    (tmp_path / "huge.json").write_bytes(b" " * 1_000_001)
    os.symlink(tmp_path / "ana-7.json", tmp_path / "link.json")
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "empty").mkdir()
    hand_in(tmp_path / "Ben Bo_1234", "ben-2")
    hand_in(tmp_path / "cy", "cy")
    hand_in(tmp_path / "dora", "eli")
    hand_in(tmp_path / "fay" / "deeper", "fay")
    os.symlink(tmp_path / "cy", tmp_path / "linked folder")
    (tmp_path / "readme.txt").write_text("x")
    (tmp_path / "ana-7.1.json").write_text(good)
    (tmp_path / ".ana-7.lock").write_text("")
    grades = graded(tmp_path, roster=["ana-7", "zoe", "dora"])
    states = {row.place: row.code for row in grades.rows}
    assert states == {
        "ana-7.json": "graded", "not-whole.json": "not whole", "twins.json": "name twice", "bare.json": "bare number",
        "nan.json": "bare number", "old.json": "other version", "stolen.json": "other key", "list.json": "no answers",
        "odd.json": "odd entry", "Ana.json": "odd name", "con.json": "odd name", "a b.json": "odd name",
        "big.JSON": "odd name", "huge.json": "too large", "link.json": "no plain file", "pipe.json": "no plain file",
        "empty": "no file", "Ben Bo_1234/ben-2.json": "graded", "cy/cy.json": "graded",
        "dora/eli.json": "other folder", "fay": "no file", "linked folder": "no plain file", "": "no file",
    }  # fmt: skip
    assert set(states.values()) <= set(REASONS)
    assert all(row.score == 0.0 and len(row.marks) == 3 for row in grades.rows if row.code != "graded")
    assert {row.student for row in grades.rows if row.place in ("", "dora/eli.json")} == {"zoe", "dora"}
    assert dict(grades.left_out) == {
        "readme.txt": "no .json file", "ana-7.1.json": "a copy that is kept beside the answers",
        "fay/deeper": "a folder inside a folder", "..json": "a hidden name",
    }  # fmt: skip
    assert by_student(grades)["ben-2"].notes == ("This key is not on the roster.",)


def test_a_key_that_comes_twice_is_graded_twice_and_said(tmp_path):
    hand_in(tmp_path / "first", "ana-7")
    hand_in(tmp_path / "second", "ana-7", {})
    rows = graded(tmp_path).rows
    assert [row.place for row in rows] == ["first/ana-7.json", "second/ana-7.json"]
    assert all("more than once" in row.notes[0] for row in rows)


def test_order_repetition_and_unknown_names_change_no_point(tmp_path):
    """The same answers in another order, twice, with names that nobody knows: the same points, and it is said."""
    place = hand_in(tmp_path, "ana-7")
    before = graded(tmp_path).rows[0]
    data = json.loads(place.read_text())
    turned = {"later": {"a": [1]}, "answers": {}, "student": data["student"], "schema": data["schema"]}
    for name in reversed(data["answers"]):
        turned["answers"][name] = {"score": 1000, "max": 0, **dict(reversed(data["answers"][name].items()))}
    turned["answers"]["x9.nowhere"] = entry("100 mm")
    place.write_text(json.dumps(turned))
    after = graded(tmp_path).rows[0]
    assert after.marks == before.marks == graded(tmp_path).rows[0].marks
    assert after.notes == ("Names in the file that nobody knows were passed over: 'later', 'max', 'score'.",)


def test_the_instructors_lathe_and_rack_judge_the_plans(tmp_path):
    from dataclasses import replace

    hand_in(tmp_path, "ana-7")
    weak = replace(lathe(), jaw_force=Q_(50.0, "N"))
    assert graded(tmp_path, lathe=weak).rows[0].stop
    assert graded(tmp_path, rack=replace(rack(), tools=rack().tools[:1])).rows[0].stop
    assert not graded(tmp_path).rows[0].stop


def test_what_is_graded_can_be_chosen_and_is_never_the_students_choice(tmp_path):
    hand_in(tmp_path, "ana-7", answers("ana-7") | {"00.inch_or_metric": entry("1 mm")})
    assert [name for name, _ in graded(tmp_path).exercises] == ["x9.hand_in", "x9.size", "x9.why"]
    one = graded(tmp_path, assignment=["x9.size", "00.inch_or_metric"])
    assert one.exercises == (("00.inch_or_metric", 1), ("x9.size", 2))
    assert tuple(name for name, _ in graded(tmp_path, assignment=None).exercises) == names()
    assert worth_of("x9.why") == 0


@pytest.mark.parametrize("wrong", [
    {"assignment": "x8"}, {"assignment": []}, {"assignment": 5}, {"assignment": ["x9", None]}, {"roster": "ana-7"},
    {"roster": 5}, {"roster": ["../x"]}, {"roster": [None]}, {"roster": {"ana-7": "../x"}}, {"course": "short"},
    {"course": 5}, {"lathe": "mine.toml"}, {"rack": 5}, {"executor": 5}, {"folder": 5}, {"folder": ""},
    {"folder": "no/such/folder"}, {"folder": "x\x00y"},
])  # fmt: skip
def test_what_cannot_be_used_is_refused_with_a_sentence(tmp_path, wrong):
    given = {"folder": tmp_path, "executor": None, "assignment": "x9"} | wrong
    with pytest.raises(LatheworksError) as caught:
        grade(given.pop("folder"), given.pop("executor"), **given)
    assert "Try" in str(caught.value)
    assert len(str(caught.value)) < 400


def test_a_pass_grades_its_owner_and_the_others_have_a_row(tmp_path):
    from latheworks.course import course_pass

    for who in ("ana-7", "ben-2"):
        hand_in(tmp_path, who)
    rows = by_student(graded(tmp_path, course=course_pass("ana-7", course=COURSE)))
    assert (rows["ana-7"].code, rows["ben-2"].code) == ("graded", "no numbers")


def test_progress_and_results(tmp_path):
    for number in range(20):
        hand_in(tmp_path, f"s{number:02}", {"x9.size": entry("1 mm")})
    (tmp_path / "bad.json").write_text("{")
    seen = []
    grades = graded(tmp_path, progress=lambda done, total: seen.append((done, total)))
    assert seen == [(done, 21) for done in range(1, 22)]
    assert [row.student for row in grades.rows] == sorted(row.student for row in grades.rows)
    frame = grades.to_frame()
    assert tuple(frame.columns) == grades.heading()
    assert tuple(frame.columns[:10]) == HEAD
    assert len(frame) == 21
    assert frame["out of"].unique().tolist() == [22]
    assert "20 of 21 graded" in str(grades)
    assert "not graded: not whole" in grades._repr_html_()
    assert Grades((), ()).facts()[0][1] == "nobody was graded"


@pytest.mark.parametrize(("asked", "near"), [("homework_1", "h1"), ("Homework 3", "h3"), ("readiness", "ready")])
def test_a_homework_asked_for_by_the_name_of_its_notebook_is_pointed_to(tmp_path, asked, near):
    with pytest.raises(LatheworksError, match=f'Try "{near}"'):
        grade(tmp_path, assignment=asked)
