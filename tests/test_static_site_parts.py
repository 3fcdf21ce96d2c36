"""What the build of the static site takes, refuses and says; with a folder of a distribution's form, no network."""

import hashlib
import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from binder import site_parts, static_site
from binder.launch_links import launch_links
from binder.site_pages import WHAT_WORKS, front_page, lesson_for_site, what_works
from binder.site_parts import LIST, RUNTIME, START, Refused, runtime_version
from latheworks import __version__
from latheworks.course import AnswerBook, Kept

ROOT = Path(__file__).parents[1]
LESSONS = ROOT / "lessons"
COMPILED = "cp314-cp314-pyemscripten_2026_0_wasm32"


def wheel(
    folder: Path, name: str, version: str = "1.0", tag: str = "py3-none-any", needs: tuple[str, ...] = ()
) -> Path:
    path = folder / f"{name.replace('-', '_')}-{version}-{tag}.whl"
    with zipfile.ZipFile(path, "w") as made:
        made.writestr(f"{name.replace('-', '_')}/__init__.py", "")
        head = "".join(f"Requires-Dist: {need}\n" for need in needs)
        made.writestr(f"{name.replace('-', '_')}-{version}.dist-info/METADATA", f"Name: {name}\n{head}")
    return path


@pytest.fixture
def distribution(tmp_path):
    """Runtime files in name only, and wheels that are listed as a distribution lists its own."""
    folder = tmp_path / "given"
    folder.mkdir()
    for name in RUNTIME:
        (folder / name).write_text(f'const version = "{runtime_version()}";', encoding="utf-8")
    packages = {}
    wheels = [("numpy", COMPILED, []), ("matplotlib", COMPILED, ["numpy", "pillow", "six"]), ("pillow", COMPILED, []),
              ("six", "py3-none-any", []), *((name, "py3-none-any", []) for name in START)]  # fmt: skip
    for name, tag, depends in wheels:
        path = wheel(folder, name, tag=tag)
        packages[name] = {
            "name": name, "version": "1.0", "file_name": path.name, "imports": [name], "depends": depends,
            "sha256": hashlib.sha256(path.read_bytes()).hexdigest(), "install_dir": "site",
        }  # fmt: skip
    packages["unused"] = {"name": "unused", "version": "1.0", "file_name": f"unused-1.0-{COMPILED}.whl", "depends": []}
    (folder / LIST).write_text(json.dumps({"info": {"python": "3.14.2"}, "packages": packages}), encoding="utf-8")
    return folder


@pytest.fixture
def gathered(tmp_path, monkeypatch):
    """Gather for a wheel of ours that needs the two libraries, one of them only elsewhere, and a part of the page."""
    needs = ("numpy>=1", "matplotlib", "jupyterlab", 'pywin32; sys_platform == "win32"', 'pytest; extra == "test"')
    ours = wheel(tmp_path, "ours", needs=needs)
    monkeypatch.setattr(site_parts, "_ours", lambda *_: [ours])
    monkeypatch.setattr(site_parts, "_pip", lambda *line: pytest.fail(f"asked pip for {line}"))

    def gather(given: Path) -> tuple[dict, set[str], tuple[str, ...]]:
        missing = site_parts.gather(tmp_path / "out", tmp_path / "fetched", ROOT, given)
        listed = json.loads((tmp_path / "out" / LIST).read_text(encoding="utf-8"))["packages"]
        return listed, {path.name for path in (tmp_path / "out").iterdir()}, missing

    return gather


def test_what_is_given_is_taken_and_nothing_else(distribution, gathered):
    listed, files, missing = gathered(distribution)
    assert missing == ()
    assert set(listed) == {"ours", "numpy", "matplotlib", "pillow", "six", *START}
    assert files == {*RUNTIME, LIST, *(entry["file_name"] for entry in listed.values())}
    assert listed["ours"]["depends"] == ["matplotlib", "numpy"]
    assert listed["ours"]["imports"] == ["ours"]
    assert listed["matplotlib"]["depends"] == ["numpy", "pillow", "six"]


def test_what_is_compiled_and_not_there_is_named_and_not_listed(distribution, gathered):
    (distribution / f"pillow-1.0-{COMPILED}.whl").unlink()
    listed, _, missing = gathered(distribution)
    assert missing == ("pillow",)
    assert listed["matplotlib"]["depends"] == ["numpy", "six"]


def test_a_folder_one_deeper_is_found(distribution, gathered):
    inner = distribution.parent / "unpacked" / "pyodide"
    inner.parent.mkdir()
    distribution.rename(inner)
    assert gathered(inner.parent)[2] == ()


@pytest.mark.parametrize(("spoil", "said"), [
    (lambda folder: (folder / "pyodide.asm.wasm").unlink(), "pyodide.asm.wasm not found, expected the full Pyodide"),
    (lambda folder: (folder / "pyodide.mjs").write_text('"0.1.0"'), "another version of Pyodide, expected"),
    (lambda folder: (folder / f"numpy-1.0-{COMPILED}.whl").write_bytes(b"PK"), "not the one in pyodide-lock.json"),
    (lambda folder: (folder / LIST).write_text((folder / LIST).read_text().replace('": "1.0"', '": "0.9"')),
     "numpy>=1: Pyodide"),
])  # fmt: skip
def test_a_folder_that_does_not_fit_is_refused(distribution, gathered, spoil, said):
    spoil(distribution)
    with pytest.raises(Refused, match=said.replace(".", r"\.")):
        gathered(distribution)


def test_a_folder_with_something_else_in_it_is_not_touched(tmp_path):
    (tmp_path / "homework.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(Refused, match="is not an earlier site"):
        static_site.build(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["homework.txt"]


def test_without_npm_the_command_says_what_to_do(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(site_parts.shutil, "which", lambda name: None)
    assert static_site.main([str(tmp_path / "site")]) == 1
    assert "--runtime" in capsys.readouterr().err
    assert not (tmp_path / "site").exists()


def test_a_page_that_starts_in_an_unknown_way_is_refused(tmp_path):
    page = tmp_path / "index.html"
    page.write_text("<script>import('x')</script>", encoding="utf-8")
    with pytest.raises(Refused, match="starts in another way"):
        static_site._keep_files_first(page)


def test_a_whole_copy_shows_the_lessons_as_they_are():
    assert "cannot run" not in front_page(LESSONS, ())
    lesson = json.loads(next(LESSONS.glob("00_*.ipynb")).read_text(encoding="utf-8"))
    assert lesson_for_site(lesson, ())["cells"] == lesson["cells"]
    said = lesson_for_site(lesson, ("numpy",))["cells"]
    assert said[1:] == lesson["cells"]
    assert "numpy" in said[0]["source"]
    assert WHAT_WORKS in said[0]["source"]


def test_names_from_outside_are_text_on_the_page(tmp_path):
    cell = {"cell_type": "markdown", "source": ["# <b>Bold</b> & so on\n"]}
    (tmp_path / "99_odd.ipynb").write_text(json.dumps({"cells": [cell]}), encoding="utf-8")
    page = front_page(tmp_path, ("<i>numpy",))
    assert "&lt;b&gt;Bold&lt;/b&gt; &amp; so on" in page
    assert "<i>" not in page


def test_what_works_needs_none_of_the_compiled_libraries():
    """The notebook's cells, in an interpreter that finds no numpy."""
    cells = ["".join(cell["source"]) for cell in what_works()["cells"] if cell["cell_type"] == "code"]
    blocked = (
        "import sys\nclass No:\n    def find_spec(self, name, path=None, target=None):\n"
        "        if name.split('.')[0] in {'numpy', 'matplotlib', 'pandas', 'PIL', 'markupsafe', 'rpds'}:\n"
        "            raise ModuleNotFoundError(name)\nsys.meta_path.insert(0, No())\n"
    )
    done = subprocess.run([sys.executable, "-c", blocked + "\n".join(cells)], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "250.000 mm is 9.8425 in" in done.stdout


def test_in_a_browser_an_answer_off_the_drive_is_not_called_kept(tmp_path, monkeypatch):
    monkeypatch.setattr("latheworks.course.answers.sys.platform", "emscripten")
    book = AnswerBook(folder=tmp_path)
    assert book.keep("00.inch_or_metric", Kept("11 mm")) is False
    assert "stays on this page only" in book.trouble
    assert book.get("00.inch_or_metric").answer == "11 mm"
    assert not book.path.exists()


def test_each_notebook_has_a_launch_link_on_the_tag_of_this_version():
    lines = launch_links("some-school/latheworks")
    start = f"(https://mybinder.org/v2/gh/some-school/latheworks/v{__version__}?labpath=lessons%2F"
    lessons = [path.name for path in sorted(LESSONS.glob("*.ipynb"))]
    homework = [f"homework%2F{path.name}" for path in (LESSONS / "homework").glob("*.ipynb")]
    ends = [line.split(start)[1] for line in lines]
    assert ends[: len(lessons)] == [f"{name})" for name in lessons]
    assert sorted(ends[len(lessons) :]) == sorted(f"{name})" for name in homework)
    assert ends[len(lessons)] == "homework%2Freadiness_check.ipynb)"
    with pytest.raises(ValueError, match="OWNER/REPOSITORY"):
        launch_links("some-school")


def test_the_readme_names_the_version_of_the_runtime():
    text = (ROOT / "binder" / "README.md").read_text(encoding="utf-8")
    assert f"**version {runtime_version()}**" in text
