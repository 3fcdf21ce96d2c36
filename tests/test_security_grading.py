"""Grading meets hostile files. Each line of the security list that is about grading, and the test that answers it.

2, 21, 23: `test_security_grading_values`. 3: `test_security_course`. 4, 13, 14, 19: here and in `test_grade`.
9, 12, 17, 18: `test_grade_results`. 20: here. 22, 26: `test_security_source`. 24: `test_grade`.
25: `test_course_variant`. 15, 16 are about writing answers: grading writes none, and files stay as they were.
"""

import json
import os
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path

import pytest

from latheworks.course import check, find, grade
from latheworks.course.answer_file import SCHEMA
from latheworks.errors import LatheworksError
from tests.grade_class import COURSE, entry, good_plan, hand_in, taught

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module", autouse=True)
def lesson():
    with taught():
        yield


def graded(folder):
    return {row.place: row for row in grade(folder, assignment="x9", course=COURSE).rows}


def tree(folder):
    """Everything in a folder, with what it holds and when it was changed."""
    found = {}
    for path in sorted(folder.rglob("*")):
        facts = path.lstat()
        plain = path.is_file() and not path.is_symlink() and facts.st_size < 10**7
        found[str(path)] = (facts.st_mode, facts.st_mtime_ns, facts.st_size, path.read_bytes() if plain else b"")
    return found


# Names and files.
NAMES = ["..\\x.json", "C:\\x.json", "\\\\srv\\x.json", "nul.json", "aux.json", "x" * 240 + ".json", "ana.json.json",
         "ana .json", "ana..json", "﹒﹒.json", "é.json", "e\u0301.json", "ａｎａ.json", "ana\u202e.json", "ana\n.json",
         "-ana.json", "<b>.json", "=1+1.json", "ana\x1b[2J.json"]  # fmt: skip


def test_odd_names_are_refused_and_not_mended_and_nothing_is_made_anywhere(tmp_path):
    inside = tmp_path / "deep" / "handed-in"
    good = hand_in(inside, "ana-7").read_bytes()
    for name in NAMES:
        (inside / name).write_bytes(good)
    (inside / os.fsdecode(b"\xff\xfe.json")).write_bytes(good)
    (inside / "a-folder.json").mkdir()
    before = tree(tmp_path)
    grades = grade(inside, assignment="x9", course=COURSE)
    assert tree(tmp_path) == before
    assert grades.left_out == (("..\\x.json", "a hidden name"),)
    assert sorted(row.code for row in grades.rows) == ["graded", "no file", *["odd name"] * len(NAMES)]
    assert all(row.place.isprintable() and len(row.place) <= 120 for row in grades.rows)


DEEP = (
    '{"schema": "latheworks answers 1", "student": "deep", "answers": {"x9.size": '
    + "[" * 300_000
    + "]" * 300_000
    + "}}"
)
FILES = {
    "nan": (b'{"schema": "latheworks answers 1", "student": "nan", "answers": {"x9.size": NaN}}', "bare number"),
    "far": (b'{"schema": "latheworks answers 1", "student": "far", "answers": {"x9.size": 1e400}}', "bare number"),
    "digits": (b'{"schema": "latheworks answers 1", "student": "digits", "answers": ' + b"9" * 9_000 + b"}",
    "not whole"),
    "deep": (DEEP.encode(), "not whole"), "bytes": (b"\xff\xfe" * 99, "not whole"),
    "mark": (b"\xef\xbb\xbf{}", "not whole"), "none": (b"", "not whole"), "number": (b"5", "other version"),
    "pickle": (b"\x80\x04\x95\x1d\x00\x00\x00\x00\x00\x00\x00\x8c\x05posix\x94\x8c\x06system\x94\x93\x94.",
    "not whole"),
    "texts": (json.dumps({"schema": SCHEMA, "student": "texts", "answers": {"x9.size": entry("1",
    misses="0")}}).encode(),
              "odd entry"),
    "many": (json.dumps({"schema": SCHEMA, "student": "many",
    "answers": {f"x{n}": entry("") for n in range(501)}}).encode(),
             "no answers"),
    "long": (json.dumps({"schema": SCHEMA, "student": "long", "answers": {"x9.size": entry("1" * 5_000)}}).encode(),
             "odd entry"),
    "half": (json.dumps({"schema": SCHEMA, "student": "half", "answers": {"x9.size": entry("\ud800")}}).encode(),
             "odd entry"),
}  # fmt: skip


def test_damaged_files_cost_a_row_each_little_memory_and_no_file(tmp_path):
    for key, (raw, _) in FILES.items():
        (tmp_path / f"{key}.json").write_bytes(raw)
    with (tmp_path / "huge.json").open("wb") as file:
        file.truncate(100_000_000)
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "secret.txt").write_text("secret")
    os.symlink(tmp_path / "secret.txt", tmp_path / "link.json")
    os.symlink("/dev/zero", tmp_path / "zero.json")
    before = tree(tmp_path)
    start = time.monotonic()
    tracemalloc.start()
    rows = graded(tmp_path)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert time.monotonic() - start < 20
    assert peak < 50_000_000
    assert tree(tmp_path) == before
    wanted = {f"{key}.json": code for key, (_, code) in FILES.items()}
    wanted |= {"huge.json": "too large"} | dict.fromkeys(("pipe.json", "link.json", "zero.json"), "no plain file")
    assert {place: row.code for place, row in rows.items()} == wanted


def test_a_plan_made_to_be_slow_is_over_in_time():
    """As many operations, setups or unknown names as the text holds: a few seconds at the very most, and no point."""
    task = find("x9.hand_in", "ana-7", group="", course=COURSE)
    data = json.loads(good_plan("ana-7"))
    thread = next(each for each in data["setups"][1]["operations"] if each["kind"] == "thread")
    long = [{**thread, "passes": 200, "spring_passes": 20, "feed": f"{2 + k / 1000} mm/rev"} for k in range(40)]
    slow = [{"setups": [{**data["setups"][k % 2], "operations": long} for k in range(8)]},
            {"setups": [{"x": 1}] * 5_000}, dict.fromkeys((f"x{k}" for k in range(4_000)), 1)]  # fmt: skip
    for changes in slow:
        text = json.dumps(data | changes)
        assert 30_000 < len(text) < 60_000
        start = time.process_time()
        assert check(task, text).right is False
        assert time.process_time() - start < 5


# No code of a student's is run, nothing else is opened, nobody is called.
HOOKED = """
import sys
from pathlib import Path
from tests.grade_class import COURSE, hand_in, teach
from latheworks.course import check, find, grade
teach()
good, bad = map(Path, sys.argv[1:3])
grade(good, assignment=["00", "x9"], course=COURSE).to_pages(good.parent / "first")
allowed = [str(bad), str(bad.parent / "second")]
forbidden = ("exec", "compile", "import", "socket", "subprocess", "os.system", "os.exec", "os.posix_spawn", "os.fork",
             "os.spawn", "os.startfile", "pickle", "marshal", "ctypes", "code.", "urllib", "shutil", "os.remove",
             "os.rename",
             "os.chmod", "os.chown", "os.link", "os.symlink", "sqlite3", "builtins.input")
def hook(event, args):
    if event == "open" and type(args[0]) is not int and not str(args[0]).startswith(tuple(allowed)):
        raise RuntimeError(f"opened {args[0]!r}")
    if event.startswith(forbidden):
        raise RuntimeError(f"{event} {args!r}"[:300])
sys.addaudithook(hook)
{trouble}
grades = grade(bad, assignment=["00", "x9"], course=COURSE)
grades.to_pages(bad.parent / "second")
grades.to_csv(bad.parent / "second" / "grades.csv")
print(sorted((row.student, row.code, row.score) for row in grades.rows))
"""
CODE = "__import__('os').system('touch ran')"


def hooked(tmp_path, trouble=""):
    """Grade a hostile folder in a process that may do nothing but read it and write the pages."""
    good, bad = tmp_path / "good", tmp_path / "bad"
    hand_in(good, "ana-7")
    hand_in(bad, "ana-7")
    hostile = {
        "x9.hand_in": entry({"plan": str(ROOT / "README.md")}), "x9.size": entry(CODE),
        "x9.why": entry(f"{{{{ {CODE} }}}}"),
        "00.own_speed": entry({"spindle": CODE}), "00.inch_or_metric": entry("10**10**10 mm"),
    }  # fmt: skip
    hand_in(bad, "eve", hostile)
    hand_in(bad / "mal", "mal", {"x9.hand_in": entry({"plan": '{"schema": "latheworks plan 1", "x": "' + CODE + '"}'})})
    for name in (
        "conftest.py",
        "jinja2.py",
        "numpy.py",
        "lesson_x8.py",
        "sitecustomize.py",
        "mal/__init__.py",
        "eve.ipynb",
    ):
        (bad / name).write_text(f"open({str(tmp_path / 'ran')!r}, 'w')")
    (bad / "pick.json").write_bytes(FILES["pickle"][0])
    run = subprocess.run([sys.executable, "-c", HOOKED.replace("{trouble}", trouble), str(good), str(bad)], cwd=ROOT,
                         capture_output=True, text=True)  # fmt: skip
    assert not list(tmp_path.rglob("ran"))
    return run


def test_grading_runs_nothing_imports_nothing_and_opens_nothing_but_the_answers(tmp_path):
    run = hooked(tmp_path)
    assert run.returncode == 0, run.stderr[-2000:]
    states = {student: (code, points) for student, code, points in json.loads(
        run.stdout.replace("(", "[").replace(")", "]").replace("'", '"'))}  # fmt: skip
    assert states["eve"] == ("graded", 0.0)
    assert states["mal"] == ("graded", 0.0)
    assert states["pick"] == ("not whole", 0.0)
    assert states["ana-7"][1] > 15


@pytest.mark.parametrize("trouble", ["open('/etc/hostname')", "import this", "__import__('os').system('true')"])
def test_the_watch_over_grading_sees_what_it_looks_for(tmp_path, trouble):
    run = hooked(tmp_path, trouble)
    assert run.returncode == 1
    assert "RuntimeError" in run.stderr


def test_a_folder_in_which_python_looks_for_modules_is_not_graded(tmp_path, monkeypatch):
    """A student's numpy.py, beside which the instructor stands, would be run by Python itself."""
    hand_in(tmp_path / "in", "ana-7")
    monkeypatch.chdir(tmp_path / "in")
    monkeypatch.syspath_prepend("")
    with pytest.raises(LatheworksError, match="folder that holds nothing of a student's"):
        graded(tmp_path)
    monkeypatch.chdir(tmp_path)
    with pytest.raises(LatheworksError, match="folder that holds nothing of a student's"):
        graded(tmp_path)
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    assert graded(tmp_path / "in")["ana-7.json"].code == "graded"
