"""The words for a course on the command line: what they write, what they never write over, codes and sentences."""

import csv
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from latheworks import commands
from latheworks.__main__ import main
from latheworks.course import find
from latheworks.plan import barrel_plan, read_plan, setup_sheet, write_plan
from tests.grade_class import COURSE, entry, hand_in, taught

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module", autouse=True)
def lesson():
    with taught():
        yield


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder of one's own to stand in, with a course key and a roster."""
    for name in ("LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_COURSE"):
        monkeypatch.delenv(name, raising=False)
    place = tmp_path / "here"
    place.mkdir()
    monkeypatch.chdir(place)
    Path("key.txt").write_text(COURSE + "\n")
    Path("roster.txt").write_text("# our class\nana-7\nben-2, team-3\n\n cy ,team-3\n")
    return place


def done(*words):
    assert main(list(words)) == 0


def refused(capsys, *words):
    """What is said where something cannot be done."""
    capsys.readouterr()
    assert main(list(words)) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert "Traceback" not in said.err
    return said.err


# A fresh lesson.
def test_a_fresh_lesson_stands_beside_the_old_one(here, capsys):
    lesson = next((ROOT / "lessons").glob("01_*.ipynb"))
    done("fresh", "01")
    Path(lesson.name).write_text("my own work")
    done("fresh", "01")
    done("fresh", lesson.name, "--into", ".")
    assert Path(lesson.name).read_text() == "my own work"
    for number in (1, 2):
        assert Path(f"{lesson.stem}_fresh_{number}.ipynb").read_bytes() == lesson.read_bytes()
    assert f"{lesson.stem}_fresh_2.ipynb" in capsys.readouterr().out
    Path("own").mkdir()
    (Path("own") / "week-1_thread.ipynb").write_text("{}")
    done("fresh", "week-1", "--from", "own")
    assert Path("week-1_thread.ipynb").read_text() == "{}"


def test_a_fresh_lesson_follows_no_link_and_says_what_there_is(here, capsys):
    lesson = next((ROOT / "lessons").glob("00_*.ipynb"))
    os.symlink(here / "target", lesson.name)
    done("fresh", "00")
    assert not (here / "target").exists()
    assert Path(f"{lesson.stem}_fresh_1.ipynb").is_file()
    for asked in ("ready", "h1"):
        done("fresh", asked)
    assert len(list(here.glob("readiness_check.ipynb"))) == len(list(here.glob("1_thread*.ipynb"))) == 1
    assert lesson.stem in refused(capsys, "fresh", "99")
    assert "no lesson" in refused(capsys, "fresh", "../lessons/00")
    assert "--from" in refused(capsys, "fresh", "00", "--from", "nowhere")
    assert "--into" in refused(capsys, "fresh", "00", "--into", "nowhere")


# A setup sheet.
def test_a_setup_sheet_from_a_plan_file(here, capsys):
    write_plan(barrel_plan(), "my.json")
    done("sheet", "my.json")
    assert Path("my.html").read_text() == setup_sheet(read_plan(Path("my.json")))
    assert "checked before the first cut" in capsys.readouterr().out
    done("sheet", "my.json", "--inch", "--into", "inch.html")
    assert Path("inch.html").read_text() == setup_sheet(barrel_plan(), system="inch")
    before = Path("my.html").read_text()
    assert "already" in refused(capsys, "sheet", "my.json", "--inch")
    assert Path("my.html").read_text() == before
    assert "cannot be read" in refused(capsys, "sheet", "none.json")
    Path("bad.json").write_text('{"schema": "latheworks plan 1"}')
    assert "line 1" in refused(capsys, "sheet", "bad.json")
    assert ".html" in refused(capsys, "sheet", "my.json", "--into", "sheet.pdf")
    assert "none.toml" in refused(capsys, "sheet", "my.json", "--into", "x.html", "--lathe", "none.toml")


# Everybody's numbers.
def test_numbers_of_everybody_can_be_made_again(here, capsys):
    done("numbers", "x9", "--roster", "roster.txt", "--course", "key.txt")
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out, newline="")))
    assert len(rows) == 9
    for row in rows:
        task = find(row["exercise"], row["student"], group=row["group"], course=COURSE)
        assert (row["numbers"], row["question"]) == (task.code, task.question)
    assert {row["student"]: row["group"] for row in rows} == {"ana-7": "", "ben-2": "team-3", "cy": "team-3"}
    done("numbers", "x9.size", "--roster", "roster.txt", "--course", "key.txt", "--into", "numbers.csv")
    assert len(Path("numbers.csv").read_text().splitlines()) == 4
    assert "already" in refused(capsys, "numbers", "x9", "--roster", "roster.txt", "--into", "numbers.csv")


def test_passes_make_their_owners_numbers_and_are_for_no_other_eyes(here, capsys):
    done("numbers", "x9", "--roster", "roster.txt", "--course", "key.txt", "--passes", "--into", "passes.csv")
    rows = list(csv.DictReader(io.StringIO(Path("passes.csv").read_text(), newline="")))
    assert [(row["student"], row["group"]) for row in rows] == [("ana-7", ""), ("ben-2", "team-3"), ("cy", "team-3")]
    for row in rows:
        own = find("x9.size", row["student"], group=row["group"], course=row["pass"])
        assert own.code == find("x9.size", row["student"], group=row["group"], course=COURSE).code
    if sys.platform != "win32":
        assert Path("passes.csv").stat().st_mode & 0o077 == 0
    assert COURSE not in Path("passes.csv").read_text() + capsys.readouterr().out


@pytest.mark.parametrize(("content", "said"), [("Ana Lopez", "line 1"), ("ana-7\n../x", "line 2"), ("",
                         "no student key"),
                                               ("ana-7,TEAM", "line 1"), ("a" * 1_000_001, "more than")])  # fmt: skip
def test_a_roster_that_cannot_be_used_is_said_with_its_line(here, capsys, content, said):
    Path("wrong.txt").write_text(content)
    assert said in refused(capsys, "numbers", "x9", "--roster", "wrong.txt")
    assert "cannot be read" in refused(capsys, "numbers", "x9", "--roster", "none.txt")


def test_the_course_key_is_read_from_a_file_and_never_shown(here, capsys):
    Path("bad.txt").write_text("a secret of mine!")
    for name in ("bad.txt", "none.txt", COURSE):
        said = refused(capsys, "numbers", "x9", "--roster", "roster.txt", "--course", name)
        assert "Course key" in said
        assert "mine" not in said


# Grades.
def test_a_folder_is_graded_into_a_table_and_pages(here, capsys):
    for who in ("ana-7", "dora"):
        hand_in(here / "in", who, {"x9.size": entry("3 mm")})
    done("grade", "in", "--assignment", "x9.size", "--roster", "roster.txt", "--course", "key.txt", "--workers", "1")
    said = capsys.readouterr()
    assert "2 of 4 graded" in said.out
    assert said.err == "", "no bar where nobody watches"
    made = sorted(str(path.relative_to("in-grades")) for path in Path("in-grades").rglob("*.*"))
    assert made == ["class.html", "grades.csv", *(f"students/{who}.html" for who in ("ana-7", "ben-2", "cy", "dora"))]
    rows = list(csv.DictReader(io.StringIO(Path("in-grades/grades.csv").read_text("utf-8"), newline="")))
    assert [(row["student"], row["state"]) for row in rows] == [
        ("ana-7", "graded"), ("ben-2", "no file"), ("cy", "no file"), ("dora", "graded"),
    ]  # fmt: skip
    assert "already" in refused(capsys, "grade", "in", "--assignment", "x9.size", "--workers", "1")
    done("grade", "in", "--assignment", "x9.size", "--workers", "2", "--into", "again")
    assert Path("again/class.html").is_file()


def test_a_grading_that_cannot_be_done_writes_nothing(here, capsys):
    hand_in(here / "in", "ana-7", {})
    before = sorted(here.rglob("*"))
    assert "cannot be read" in refused(capsys, "grade", "nowhere", "--workers", "1")
    assert "no lesson or exercise" in refused(capsys, "grade", "in", "--assignment", "x8", "--workers", "1")
    assert "1 to 256" in refused(capsys, "grade", "in", "--workers", "0")
    assert "own modules" in refused(capsys, "grade", str(ROOT), "--workers", "1", "--into", "x")
    assert sorted(here.rglob("*")) == before


class Screen(io.StringIO):
    def isatty(self):
        return True


def test_the_bar_grows_and_ends_its_line(monkeypatch):
    monkeypatch.setattr(commands.time, "monotonic", iter(range(1, 100)).__next__)
    out = Screen()
    bar = commands.Bar(out, wide=10)
    for done_now in range(5):
        bar(done_now, 4)
    assert out.getvalue().split("\r")[1:] == [
        "[..........] 0 of 4", "[##........] 1 of 4", "[#####.....] 2 of 4", "[#######...] 3 of 4",
        "[##########] 4 of 4\n",
    ]  # fmt: skip
    quiet = io.StringIO()
    commands.Bar(quiet)(1, 1)
    assert quiet.getvalue() == ""


# The words themselves.
def test_every_word_is_in_the_help_with_its_options(capsys):
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    assert left.value.code == 0
    said = capsys.readouterr().out
    words = ("open", "glimpse", "fresh", "sheet", "numbers", "grade")
    assert all(f"\n    {word} " in said and f"\n  {word} " in said for word in words)
    assert all(len(line) <= 120 for line in said.splitlines())
    assert "planning aid" in said


@pytest.mark.parametrize("wrong", [["grade"], ["numbers", "x9"], ["sheet"], ["fresh"], ["grade", "in", "--workers",
                         "x"],
                                   ["--nonsense"], ["grades"], ["sheet", "a", "b"]])  # fmt: skip
def test_what_is_not_understood_has_code_2(wrong):
    run = subprocess.run([sys.executable, "-m", "latheworks", *wrong], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 2
    assert "Traceback" not in run.stderr
    assert run.stdout == ""
