"""The pages for instructors and assistants: what they name exists, what they show runs, and lessons are all listed."""

import doctest
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
from contextlib import redirect_stdout
from functools import cache
from io import StringIO
from pathlib import Path

import pytest

from latheworks.plan import barrel_plan, write_plan
from tests.benches import MAKERS
from tests.test_nbgrader_points import KEY, solve

ROOT = Path(__file__).parents[1]
LESSONS = ROOT / "lessons"
README, INSTRUCTORS, ASSISTANTS = (
    LESSONS / name for name in ("README.md", "for_instructors.md", "for_teaching_assistants.md")
)
PAGES = (README, INSTRUCTORS, ASSISTANTS)
NOTEBOOKS = sorted(LESSONS.glob("[0-9]*.ipynb"))
ON_EVERY_BENCH = {"Keep this one", "Start again", "Projector", "Units"}
WHICH = ("First", "Second", "Third")


def text_of(page):
    return page.read_text(encoding="utf-8")


def cells(lesson):
    return [("".join(cell["source"]), cell["cell_type"]) for cell in json.loads(text_of(lesson))["cells"]]


@cache
def benches(lesson):
    """Every bench of a lesson, in order, as running the lesson makes them; exercises are left out."""
    made, shown = [], {}

    def kept(maker):
        return lambda *given, **named: made.append(maker(*given, **named))

    for source, kind in cells(lesson):
        if kind == "code" and "exercise(" not in source:
            with redirect_stdout(StringIO()):
                exec(source, shown)
            fresh = [name for name, one in MAKERS.items() if shown.get(f"{name}_bench") is one]
            shown |= {f"{name}_bench": kept(MAKERS[name]) for name in fresh}
    return made


def names_on(bench):
    """The words on a bench's buttons and before its controls."""
    words = {spec.words for spec in bench.specs()} | set(bench.demonstrations())
    return words | ON_EVERY_BENCH


def italics(text):
    """What stands in italics, in one line each."""
    return [" ".join(found.split()) for found in re.findall(r"(?<!\*)\*(?!\*)([^*]+?)(?<!\*)\*(?!\*)", text)]


def sections(page):
    """The part of the assistants' page for each lesson, by its number."""
    parts = re.split(r"^## (?=\d\d )", text_of(page), flags=re.M)
    return parts[0], {part[:2]: part for part in parts[1:]}


def unknown(section, lesson):
    """The names in a section that its benches have not; and the benches that it tells of and the lesson has not."""
    made = benches(lesson)
    heads = re.split(r"^\*\*(Only|First|Second|Third) bench\.\*\*$", section, flags=re.M)
    found = italics(heads[0])
    for which, told in zip(heads[1::2], heads[2::2], strict=True):
        place = 0 if which == "Only" else WHICH.index(which)
        if place >= len(made):
            found.append(f"{which} bench")
            continue
        found += [name for name in italics(told) if name not in names_on(made[place])]
    return found


@pytest.mark.parametrize("lesson", NOTEBOOKS, ids=lambda path: path.stem)
def test_every_lesson_is_listed_with_its_own_question_and_minutes(lesson):
    title = cells(lesson)[0][0].splitlines()[0].removeprefix("# ")
    minutes = re.search(r"\*\*Minutes:\*\* (\d+)", cells(lesson)[0][0])[1]
    row = f"| [{lesson.name[:2]}]({lesson.name}) | {title} | {minutes} |"
    assert row in text_of(README), f"lessons/README.md needs this row: {row}"
    head = sections(ASSISTANTS)[1].get(lesson.name[:2], "").splitlines()[:1]
    assert head == [f"{lesson.name[:2]} {title}"], (
        f"for_teaching_assistants.md needs a part '## {lesson.name[:2]} {title}'"
    )


@pytest.mark.parametrize("page", sorted((LESSONS / "homework").glob("*.ipynb")), ids=lambda page: page.stem)
def test_every_homework_is_listed_with_its_own_title_and_minutes(page):
    title = cells(page)[0][0].splitlines()[0].removeprefix("# ")
    minutes = re.search(r"\*\*Minutes:\*\* (\d+)", cells(page)[0][0])[1]
    row = f"| [{title}](homework/{page.name}) | {minutes} |"
    assert row in text_of(README), f"lessons/README.md needs a row that starts: {row}"


@pytest.mark.parametrize("lesson", NOTEBOOKS, ids=lambda path: path.stem)
def test_every_button_and_control_that_assistants_are_told_of_is_on_that_bench(lesson):
    section = sections(ASSISTANTS)[1].get(lesson.name[:2], "")
    assert unknown(section, lesson) == []
    assert len(italics(section)) >= 3
    asked = len(re.findall(r"\*\*Ask:?\*\*", section))
    assert asked >= 2
    assert section.count("**They will") + section.count("**They\n") >= 1


def test_a_button_that_is_not_there_is_found():
    lesson = LESSONS / "03_hold_the_work.ipynb"
    assert unknown("03\n\n**First bench.**\n\n*Chuck,\nshort* and *Spring 1*", lesson) == ["Spring 1"]
    assert unknown("03\n\n**Third bench.**\n\n*Spring 1* and *Spring 3*", lesson) == []
    assert unknown("00\n\n**Second bench.**\n\nx", LESSONS / "00_start_here.ipynb") == ["Second bench"]


def test_what_is_said_of_every_bench_is_on_every_bench():
    assert set(italics(sections(ASSISTANTS)[0])) <= ON_EVERY_BENCH
    bench = MAKERS["holding"]()
    shown = [getattr(part, "description", "") for part in bench._parts]
    assert set(shown) >= ON_EVERY_BENCH


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_page_is_short_has_no_address_and_its_links_lead_somewhere(page):
    text = text_of(page)
    lines = text.splitlines()
    assert len(lines) < 300
    assert max(len(line) for line in lines if not line.startswith("|")) <= 120
    assert not re.search(r"https?://|www\.", text)
    for target in re.findall(r"\]\(([^)]+)\)", text):
        assert (page.parent / target).exists(), target
    assert "qualified" in " ".join(text.split())
    assert "staff decide" in " ".join(text.split()) or "decided by the shop's rules" in " ".join(text.split())


def test_the_environment_variables_named_are_those_that_are_read():
    sources = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "latheworks").rglob("*.py"))
    named = set(re.findall(r"LATHEWORKS_[A-Z]+", text_of(INSTRUCTORS)))
    assert named == {f"LATHEWORKS_{name}" for name in ("STUDENT", "GROUP", "COURSE", "ANSWERS")}
    assert all(f'"{name}"' in sources for name in named)


def test_nothing_is_said_of_classes_that_nobody_held():
    assert text_of(INSTRUCTORS).rstrip().splitlines()[-1] == "| | | | | | | |"
    assert "not been tried in class" in " ".join(text_of(INSTRUCTORS).split())


def fences(kind):
    """The blocks of a kind in the instructors' page."""
    found = re.findall(rf"^```{kind}\n(.*?)^```$", text_of(INSTRUCTORS), flags=re.M | re.S)
    assert found
    return found


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """The folder of a small course, as the page takes it to be, after the commands that it shows."""
    place = tmp_path_factory.mktemp("course")
    (place / "roster.txt").write_text("ana-7\nben-3, team-1\ncy-1\n", encoding="utf-8")
    (place / "course.key").write_text(KEY, encoding="utf-8")
    solve("ana-7", place / "handed_in", ["01.own_bore", "01.blank_size"])
    shutil.copytree(LESSONS, place / "lessons", ignore=shutil.ignore_patterns("answers"))
    for name in ("lathe", "rack"):
        shutil.copy(ROOT / "latheworks" / "data" / f"{name}.toml", place / f"my_{name}.toml")
    write_plan(barrel_plan(), place / "my_plan.json")
    return place


def test_the_commands_of_the_instructors_page_run_as_they_stand(course):
    path = str(Path(sys.executable).parent) + os.pathsep + os.environ["PATH"]
    told = {name: value for name, value in os.environ.items() if not name.startswith("LATHEWORKS_")}
    lines = [line for block in fences("sh") for line in block.splitlines() if line.startswith("python ")]
    assert len(lines) == 7
    # A new key would make other numbers than those that the file at hand was answered to.
    kept = [line for line in lines if "> course.key" not in line]
    done = subprocess.run(
        ["sh", "-ec", "\n".join(kept)], cwd=course, env={**told, "PATH": path}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert (course / "graded" / "class.html").exists()
    assert "ana-7" in (course / "graded" / "grades.csv").read_text(encoding="utf-8")
    assert "student:ana-7:" in (course / "passes.csv").read_text(encoding="utf-8")
    assert (course / "my_plan.html").exists()
    [key] = [line for line in lines if "> course.key" in line]
    made = subprocess.check_output(["sh", "-c", key.partition(">")[0]], env={**told, "PATH": path}, text=True)
    assert re.fullmatch(r"[A-Za-z0-9_-]{16,128}", made.strip())


def test_the_examples_of_the_instructors_page_come_out_as_they_say(course, monkeypatch):
    monkeypatch.chdir(course)
    monkeypatch.delenv("LATHEWORKS_COURSE", raising=False)
    shared, parser, runner = {}, doctest.DocTestParser(), doctest.DocTestRunner()
    said = []
    for block in fences("python"):
        if "dask" in block and importlib.util.find_spec("distributed") is None:
            continue
        test = parser.get_doctest(block, shared, "for_instructors", None, 0)
        assert test.examples
        runner.run(test, out=said.append, clear_globs=False)
        shared.update(test.globs)
    assert runner.failures == 0, "".join(said)


def test_the_words_of_nbgrader_on_the_page_are_those_that_are_tested():
    words = re.findall(r"^nbgrader (\w+)", "\n".join(fences("sh")), flags=re.M)
    assert words == ["generate_assignment", "autograde", "export"]
    tested = (ROOT / "tests" / "test_nbgrader_course.py").read_text(encoding="utf-8")
    assert all(f'"nbgrader", "{word}"' in tested for word in words)
    for line in re.findall(r"^(?:from latheworks|use_in).*$", "\n".join(fences("text")), flags=re.M):
        assert line in tested or "course_pass" in line
