"""The front door, as a newcomer meets it: the glimpse, the link, the notices, and the README beside CI."""

import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import psutil
import pytest

from latheworks import opening
from latheworks.__main__ import main
from latheworks.deflection import Chuck, Shaft, deflection
from latheworks.glimpse import glimpse
from latheworks.threads import infeed, tap_drills
from latheworks.units import Q_, show

ROOT = Path(__file__).parents[1]
FRONT_DOOR = [sys.executable, "-m", "latheworks"]


# The glimpse.
def test_the_glimpse_takes_under_3_seconds_and_brings_no_drawing_library():
    code = "import sys; from latheworks.__main__ import main; main(['glimpse']); "
    code += "print([name for name in ('matplotlib', 'ipywidgets', 'pandas', 'jupyterlab') if name in sys.modules])"
    start = time.perf_counter()
    said = subprocess.check_output([sys.executable, "-c", code], text=True)
    assert time.perf_counter() - start < 3
    assert said.rstrip().endswith("[]")


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_the_glimpse_says_what_the_library_says(system):
    said = glimpse(system)
    best, plan = tap_drills("1-12 UNF-2B").best, infeed("1-12 UNF-2B", material="aluminum 6061-T6")
    assert f"{best.name} ({show(best.diameter, system)})" in said
    assert all(show(depth, system) in said for depth in plan.depth)
    assert f"{plan.passes} passes" in said
    bar = Shaft.bar(Q_(220, "mm"), Q_(32, "mm"), Q_(20, "mm"), "aluminum 6061-T6")
    assert show(2 * deflection(bar, Chuck(), Q_(100, "N"), Q_(220, "mm")), system) in said
    assert [line for line in said.splitlines() if "between centers" in line or "with a center" in line]
    assert ("0.9100 in" in said) is (system == "inch")
    assert "planning aid" in said


def test_an_unknown_word_gets_a_sentence_and_code_2(capsys):
    assert main(["glimpze"]) == 2
    said = capsys.readouterr().err
    assert "'glimpze'" in said
    assert "Did you mean 'glimpse'?" in said
    assert main(["zzz"]) == 2
    assert "Did you mean" not in capsys.readouterr().err
    assert main(["--port", "70000"]) == 2
    assert "1 to 65535" in capsys.readouterr().err


def test_help_names_every_word(capsys):
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    said = capsys.readouterr().out
    assert left.value.code == 0
    words = ("open", "glimpse", "--inch", "--port", "--student", "--group", "--no-browser", "planning aid")
    assert all(word in said for word in words)


def test_a_students_key_and_group_reach_the_notebooks_and_a_bad_one_is_refused(monkeypatch, capsys):
    names = ("LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_COURSE")
    for name in names:
        monkeypatch.setenv(name, "")
    seen = []
    monkeypatch.setattr(opening, "open_lessons", lambda **_: seen.append([os.environ[name] for name in names]) or 0)
    assert main(["open", "--student", "ana-7"]) == 0
    assert main(["--group", "team-3"]) == 0
    assert seen == [["ana-7", "", ""], ["ana-7", "team-3", ""]]
    for wrong, word in ((["--student", "../x"], "Student key"), (["--group", "A"], "Group")):
        assert main(wrong) == 2
        assert word in capsys.readouterr().err
    monkeypatch.setenv("LATHEWORKS_COURSE", "short")
    assert main(["open"]) == 2
    assert "Course key" in capsys.readouterr().err
    assert len(seen) == 2


def test_a_lesson_is_opened_by_its_number_or_its_name(monkeypatch, capsys):
    seen = []
    monkeypatch.setattr(opening, "open_lessons", lambda **told: seen.append(told["lesson"]) or 0)
    for asked in ([], ["open"], ["open", "03"], ["open", "h1"], ["open", "ready"], ["open", "10_plan_the_whole_job"]):
        assert main(asked) == 0
    names = ["00_start_here", "00_start_here", "03_hold_the_work", "1_thread_and_hole", "readiness_check",
             "10_plan_the_whole_job"]  # fmt: skip
    assert [lesson.stem for lesson in seen] == names
    assert main(["open", "11"]) == 2
    assert "There is no lesson '11'. Try one of 00_start_here, " in capsys.readouterr().err
    # A homework opens in the folder of the lessons, so that all of them are listed beside it.
    assert {opening.root_of(lesson) for lesson in seen} == {seen[0].parent}
    assert opening.landing(seen[3]).endswith("/tree/homework/1_thread_and_hole.ipynb")


def test_the_first_layout_holds_the_lesson_and_a_layout_that_somebody_left_stays(tmp_path, monkeypatch):
    monkeypatch.setenv("JUPYTERLAB_WORKSPACES_DIR", str(tmp_path))
    lessons = opening.find_lesson().parent
    opening.lay_out(lessons / "homework" / "readiness_check.ipynb")
    kept = next(tmp_path.iterdir())
    first = kept.read_text()
    assert json.loads(first)["data"]["notebook:homework/readiness_check.ipynb"]
    opening.lay_out(lessons / "00_start_here.ipynb")
    assert kept.read_text() == first
    assert len(list(tmp_path.iterdir())) == 1


def test_the_schema_library_comes_without_the_grammar_it_takes_seconds_to_build():
    code = "import sys; from latheworks.quick_schema import jsonschema; print(jsonschema().__version__); "
    code += "name = 'rfc3987_syntax'; print(name in sys.modules); import jsonschema; print(name in sys.modules)"
    said = subprocess.check_output([sys.executable, "-W", "ignore", "-c", code], text=True).split()
    assert said[1:] == ["False", "False"]


# Finding the lessons.
def test_lessons_are_found_beside_the_package_then_here_then_not_at_all(tmp_path, monkeypatch, capsys):
    package, here = tmp_path / "checkout" / "latheworks", tmp_path / "here"
    places = [package.parent / "lessons", here / "lessons", here]
    assert opening.find_lesson(package, here) is None
    for folder in places:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "00_first.ipynb").write_text("{}")
        (folder / "01_second.ipynb").write_text("{}")
    for folder in places:
        assert opening.find_lesson(package, here) == (folder / "00_first.ipynb").resolve()
        (folder / "00_first.ipynb").unlink()
    monkeypatch.setattr(opening, "find_lesson", lambda: None)
    assert opening.open_lessons() == 1
    assert "README.md and lessons" in capsys.readouterr().err


def test_these_lessons_are_found_from_anywhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert opening.find_lesson() == next((ROOT / "lessons").glob("00*.ipynb"))


# What is said.
def test_the_notices_match_the_place(monkeypatch):
    monkeypatch.setattr(opening, "is_root", lambda: True)
    said = opening.sentences("http://link", 8888, 8890, browser=False)
    assert "You are root" in said
    assert "Port 8888 is taken, so this is port 8890." in said
    assert "No browser is started" in said
    assert "\n    http://link\n" in said
    monkeypatch.setattr(opening, "is_root", lambda: False)
    said = opening.sentences("http://link", 8888, 8888, browser=True)
    assert "root" not in said
    assert "taken" not in said
    assert "should open by itself" in said


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the terminal is taken over on Linux only")
def test_a_browser_that_would_take_over_the_terminal_is_not_started(monkeypatch):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(opening.webbrowser, "get", lambda: object())
    assert not opening.has_browser()
    monkeypatch.setenv("DISPLAY", ":0")
    assert opening.has_browser()

    def none():
        raise opening.webbrowser.Error("no browser")

    monkeypatch.setattr(opening.webbrowser, "get", none)
    assert not opening.has_browser()


# The real thing.
def status(link):
    try:
        with urllib.request.urlopen(link, timeout=30) as answer:
            return answer.status
    except urllib.error.HTTPError as error:
        return error.code


def test_the_lessons_open_on_the_next_port_behind_a_token_and_close(tmp_path):
    lessons = shutil.copytree(ROOT / "lessons", tmp_path / "lessons", ignore=shutil.ignore_patterns("answers"))
    shutil.copytree(ROOT / "latheworks", tmp_path / "latheworks", ignore=shutil.ignore_patterns("__pycache__"))
    own = ("JUPYTER_CONFIG_DIR", "JUPYTER_RUNTIME_DIR", "JUPYTERLAB_WORKSPACES_DIR", "JUPYTERLAB_SETTINGS_DIR")
    env = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER")}
    env |= {name: str(tmp_path / name.lower()) for name in own}
    # In a terminal JupyterLab would ask before it closes; ours does not.
    terminal, keyboard = os.openpty()
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        running = subprocess.Popen(
            [*FRONT_DOOR, "--port", str(port)], cwd=tmp_path, env=env, text=True,
            stdin=keyboard, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        try:
            said = ""
            while "Ctrl-C" not in said:
                line = running.stdout.readline()
                assert line, said + running.stderr.read()
                said += line
            link = re.search(r"http://127\.0\.0\.1:(\d+)/\S+", said)
            assert int(link[1]) != port
            assert f"Port {port} is taken, so this is port {link[1]}." in said
            assert "No browser is started" in said
            assert ("You are root" in said) is opening.is_root()
            address, token = link[0].split("?token=")
            assert address.endswith("/tree/" + next(lessons.glob("00*.ipynb")).name)
            assert len(token) >= 32
            with urllib.request.urlopen(link[0], timeout=30) as page:
                assert opening.NEWS in page.read().decode(), "the page asks about news from the network"
            contents = address.split("/lab/")[0] + "/api/contents"
            assert status(contents) == 403
            assert status(f"{contents}?token=wrong") == 403
            assert status(f"{contents}?token={token}") == 200
            listens = [c for c in psutil.Process(running.pid).net_connections("inet") if c.status == psutil.CONN_LISTEN]
            assert {connection.laddr.ip for connection in listens} == {"127.0.0.1"}
            running.send_signal(signal.SIGINT)
            rest, complaints = running.communicate(timeout=30)
        finally:
            running.kill()
            os.close(terminal)
            os.close(keyboard)
    assert running.returncode == 0
    assert "The lessons are closed." in rest
    assert "Traceback" not in complaints


# The README and CI.
def commands():
    return re.findall(r"```sh\n(.*?)\n```", (ROOT / "README.md").read_text(encoding="utf-8"))


def test_the_readme_has_two_commands_and_ci_runs_the_second():
    first, second = commands()
    assert first.endswith(".venv/bin/python -m latheworks")
    lines = (ROOT / ".ci/run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == second
    assert "export LATHEWORKS_BROWSER=required" in lines
    assert os.access(ROOT / ".ci/run", os.X_OK)


def test_every_link_of_the_readme_leads_somewhere():
    for page in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / page).read_text(encoding="utf-8")
        targets = re.findall(r"\]\(([^)#]+)\)", text)
        missing = [target for target in targets if not target.startswith("http") and not (ROOT / target).exists()]
        assert not missing, f"{page}: {missing}"
