"""What our own source and the built package may hold: no way to run what a student wrote, no secret, no chance.

Each test says what it answers. Grading has its own.
"""

import ast
import re
import tomllib
from pathlib import Path

import pytest
from setuptools import find_packages

from latheworks.course.keys import PUBLIC

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "latheworks"
SOURCES = sorted(PACKAGE.rglob("*.py"))
RUNS_TEXT = {"eval", "exec", "compile", "__import__"}
MODULES = {
    "pickle",
    "dill",
    "marshal",
    "shelve",
    "yaml",
    "subprocess",
    "cloudpickle",
    "joblib",
    "code",
    "codeop",
    "runpy",
}
SYSTEM = {"system", "popen", "spawnl", "spawnv", "execv", "execve", "startfile"}


def faults(text):
    """Each name in a source that could run or unpack what somebody else wrote."""
    found = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Name) and node.id in RUNS_TEXT:
            found.add(node.id)
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names if alias.name.split(".")[0] in MODULES}
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in MODULES:
            found.add(node.module)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "os":
            found |= {node.attr} & SYSTEM
        if isinstance(node, ast.Attribute) and node.attr == "eval":
            found.add(node.attr)
        if isinstance(node, ast.keyword) and node.arg == "allow_pickle":
            found.add("allow_pickle")
    return found


def test_nothing_of_ours_runs_or_unpacks_what_somebody_wrote():
    """No eval, exec, compile, pickle and the like, no subprocess, no os.system, in any file of the library."""
    assert len(SOURCES) > 100
    assert {str(path): faults(path.read_text(encoding="utf-8")) for path in SOURCES if faults(path.read_text())} == {}


@pytest.mark.parametrize(
    "text", ["eval('1')", "import pickle", "from yaml import load", "os.system('x')", "import subprocess as s",
             "compile(a, b, c)", "np.load(f, allow_pickle=True)"]
)  # fmt: skip
def test_the_search_finds_what_it_looks_for(text):
    """The search above is no empty one."""
    assert faults(text)


def test_student_numbers_use_no_hash_or_random_of_pythons_own():
    """Numbers for students come from HMAC alone: hash() and random differ between runs and versions."""
    for path in (PACKAGE / "course").rglob("*.py"):
        nodes = list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
        imported = {a.name.split(".")[0] for n in nodes if isinstance(n, ast.Import) for a in n.names}
        imported |= {(n.module or "").split(".")[0] for n in nodes if isinstance(n, ast.ImportFrom)}
        called = {n.func.id for n in nodes if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)}
        assert not imported & {"random", "uuid", "time"} or path.name == "answer_file.py", path
        assert "hash" not in called, path
        assert not any(isinstance(n, ast.Attribute) and n.attr == "random" for n in nodes), path


def test_the_built_package_holds_no_key_but_the_public_one_and_no_instructors_files():
    """What a student installs: modules and data only; no key, no lessons with outputs, no tests, no answers.

    The worked answers are in it, since the same library makes them: exercises ask for choices and reasons, and numbers
    differ, but nothing here is an examination's secret. The instructor's guide says so.
    """
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["tool"]["setuptools"]["packages"]["find"]["include"] == ["latheworks*"]
    assert all(name.split(".")[0] == "latheworks" for name in find_packages(str(ROOT), include=["latheworks*"]))
    files = [path for path in PACKAGE.rglob("*") if path.is_file() and "__pycache__" not in path.parts]
    assert {path.suffix for path in files} <= {".py", ".csv", ".toml", ".txt", ".typed", ".json", ".html"}
    keys = set()
    for path in files:
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"BEGIN [A-Z ]*PRIVATE KEY|(student|group):[a-z0-9_-]+:[0-9a-f]{64}", text), path
        keys |= set(re.findall(r"[\"'](latheworks-[\w-]*study[\w-]*|[\w-]*course-key)[\"']", text))
    assert keys == {PUBLIC, "an-invented-course-key"}


def test_no_course_key_or_pass_is_in_any_file_that_students_get():
    """Lessons, README and binder files name no key: only the variable that holds one."""
    pages = [*ROOT.glob("*.md"), *(ROOT / "lessons").rglob("*.ipynb"), *(p for p in (ROOT / "binder").rglob("*"))]
    for page in pages:
        if page.is_file():
            text = page.read_text(encoding="utf-8", errors="replace")
            assert not re.search(r"(student|group):[a-z0-9_-]+:[0-9a-f]{64}", text), page
            assert not re.search(r"LATHEWORKS_COURSE\s*=\s*[\"']?[A-Za-z0-9_-]{16,}", text), page


def test_answers_hold_the_documented_fields_and_no_name():
    """The file of answers has the key that was set, the answers and their marks; no name, place or time."""
    from latheworks.course.answer_file import as_bytes, clean_entry

    entry = clean_entry({
        "answer": "1 mm", "misses": 0, "right": None, "checked": False, "shown": False, "name": "Ana", "home": "ana",
    })  # fmt: skip
    assert set(entry) == {"answer", "misses", "right", "checked", "shown", "code"}
    assert b"ana" not in as_bytes("me", {"00.x": entry}).lower()
