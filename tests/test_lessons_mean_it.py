"""Proof that lesson tests mean it: alter numbers in tables of a copied library, and strict nbval goes red there."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

ROOT = Path(__file__).parents[1]

# The table, the start of its row, the printed digits and others; then a lesson and words of the cell that shows them.
ALTERED = [
    ("materials.csv", "aluminum 6061-T6,", ",69,", ",70,", "00_start_here.ipynb", "little, much = "),
    ("unified_sizes.csv", "1,", "1.0000", "1.0001", "01_pick_the_thread.ipynb", "print(shoe)"),
    ("drills_number.csv", "#25,", "0.1495", "0.1496", "01_pick_the_thread.ipynb", "drills = tap_drills("),
]
LESSONS = sorted({row[4] for row in ALTERED})


@pytest.fixture(scope="module")
def cells(tmp_path_factory):
    """What strict nbval says of every cell, the kernels finding an altered copy of the library before the real one."""
    folder = tmp_path_factory.mktemp("altered")
    shutil.copytree(ROOT / "latheworks", folder / "latheworks", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("tests/nbval_sanitize.cfg", *(f"lessons/{lesson}" for lesson in LESSONS)):
        shutil.copy(ROOT / name, folder)
    for table, row, digits, other, *_ in ALTERED:
        alter(folder / "latheworks" / "data" / table, row, digits, other)
    command = [
        sys.executable, "-m", "pytest", "-q", "-rfp", "-p", "no:xdist", "-p", "no:cacheprovider", "--nbval",
        "--nbval-sanitize-with", "nbval_sanitize.cfg", "-c", os.devnull, "--rootdir", str(folder), *LESSONS,
    ]  # fmt: skip
    environment = {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    run = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, timeout=120)
    assert run.returncode == 1, run.stdout[-2000:] + run.stderr[-2000:]
    said = re.findall(r"^(PASSED|FAILED) ([\w.]+)::Cell (\d+)", run.stdout, re.M)
    return {(lesson, int(number)): word for word, lesson, number in said}


def alter(path, row, digits, other):
    """Put other digits into one row of a table."""
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    (place,) = [i for i, line in enumerate(lines) if line.startswith(row)]
    assert digits in lines[place]
    lines[place] = lines[place].replace(digits, other, 1)
    path.write_text("".join(lines), encoding="utf-8")


def cell_with(lesson, words):
    """The number, among the code cells, of the one cell that holds the words."""
    notebook = nbformat.read(ROOT / "lessons" / lesson, as_version=4)
    code = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
    (number,) = [i for i, source in enumerate(code) if words in source]
    return number


@pytest.mark.parametrize(("table", "lesson", "words"), [(row[0], *row[4:]) for row in ALTERED])
def test_one_altered_number_in_a_table_fails_the_cell_that_shows_it(cells, table, lesson, words):
    assert cells[lesson, cell_with(lesson, words)] == "FAILED"


@pytest.mark.parametrize("lesson", LESSONS)
def test_cells_that_show_no_altered_number_still_pass(cells, lesson):
    assert cells[lesson, cell_with(lesson, "print(*cautions(")] == "PASSED"
    assert cells[lesson, 0] == "PASSED"
