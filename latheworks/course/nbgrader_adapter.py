"""For courses that run nbgrader: a lesson as its source notebook, and points from the answers file that is handed in.

nbgrader grades by running a student's notebook. The points here come from the answers file beside it, so nothing of a
student's needs to run; `use_in`, called in the course's nbgrader_config.py, has nbgrader read and not run. Nothing
else in Latheworks uses this module, and nbgrader is imported by `use_in` alone.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Sequence
from contextlib import redirect_stdout
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import Any

from latheworks.course import answer_file
from latheworks.course.answer_file import Damaged
from latheworks.course.answers import FOLDER
from latheworks.course.exercises import find
from latheworks.course.grade_judge import Asked, Handed, judge_file, no_row
from latheworks.course.grades import REASONS
from latheworks.course.keys import PUBLIC, course_pass, group_key, student_key
from latheworks.course.score import worth
from latheworks.course.tasks import Reason
from latheworks.errors import LatheworksError

WARNING = (
    "Careful: 'nbgrader autograde' runs the code in students' notebooks, on the grading machine and with its rights. "
    "nbgrader's own documentation says that it does not protect against unsafe code by itself, and tells how to grade "
    "in a container. Do that, or put these two lines into the course's nbgrader_config.py: then the answers files are "
    "read, and nothing of a student's is run.\n"
    "    from latheworks.course.nbgrader_adapter import use_in\n"
    "    use_in(c)"
)
_ASKS = re.compile(r"""\bexercise\(\s*["']([A-Za-z0-9._-]+)["']""")
_LINES = 'from latheworks.course.nbgrader_adapter import points_of\n\npoints_of("{name}")'
_OURS = re.compile(re.escape(_LINES).replace(re.escape("{name}"), "([A-Za-z0-9._-]+)"))


def points_of(name: str, student: str | None = None, folder: str | Path | None = None) -> float:
    """Print what was answered to one exercise and what came of it, and return its points, as `grade` would.

    Parameters: name, such as "01.own_bore"; student, the key, or None for the one in the surroundings, and while
    nbgrader grades for the folder that it made for the student; folder, where the answers file is, or None for
    `answers` here. A file that is missing, damaged or another student's earns 0 and says why. Raises LatheworksError
    for an unknown name or an unusable key. Source: our own.

    >>> points_of("00.inch_or_metric", "ana-7", "no-such-folder")
    No answers file came from here.
    0.0
    """
    grading = os.environ.get("NBGRADER_EXECUTION") == "autograde"
    who = student_key(Path.cwd().parent.name if student is None and grading else student)
    # nbgrader knows students and no groups: while it grades, everybody's numbers are their own.
    group = None if grading or student is not None else group_key()
    own = course_pass(who) if group is None else course_pass(group=group)
    place = Path(folder or (not grading and os.environ.get("LATHEWORKS_ANSWERS")) or FOLDER) / f"{who}.json"
    asked = Asked(((name, worth(find(name, who, group=group or "", course=own))),))
    handed = Handed(place.name, who, group or "", own, b"")
    try:
        row = judge_file(asked, replace(handed, raw=answer_file.take(place)))
    except FileNotFoundError:
        row = no_row(asked, handed, "no file")
    except Damaged as error:
        row = no_row(asked, handed, error.code)
    except OSError:
        row = no_row(asked, handed, "cannot be opened")
    mark = row.marks[0]
    said = (
        f"Answered: {mark.answer}" if mark.answer else "",
        mark.sentence,
        *mark.lines,
        REASONS[row.code],
        *row.notes,
    )
    print("\n".join(line for line in said if line) or "Not answered.")
    return mark.score


def as_source(notebook: Path) -> tuple[Any, tuple[str, ...]]:
    """Return a lesson as nbgrader's source notebook, with a locked cell after each exercise that is worth points.

    A reason gets such a cell too, worth nothing by itself, so that a person can read it there. Parameters: notebook,
    the lesson's file. Returns the notebook, without outputs, and the names of its exercises that earn points. Raises
    LatheworksError where none does.
    """
    import nbformat

    try:
        made = nbformat.read(notebook, as_version=4)
    except (OSError, ValueError) as error:
        raise LatheworksError(
            f"Notebook: {notebook.name!r:.80} cannot be read as one. Try lessons/01_pick_the_thread.ipynb."
        ) from error
    cells, earning = [], []
    for cell in made.cells:
        cells.append(cell)
        if cell.cell_type != "code":
            continue
        cell.outputs, cell.execution_count = [], None
        for name in _ASKS.findall(cell.source):
            # What a task is worth does not depend on whose numbers are in it.
            task = find(name, "me", group="", course=PUBLIC)
            if worth(task) or isinstance(task, Reason):
                cells.append(_points_cell(name, worth(task)))
                earning += [name] if worth(task) else []
    if not earning:
        raise LatheworksError(f"Notebook: {notebook.name!r:.80} has no exercise that earns points. Try another lesson.")
    made.cells = cells
    return made, tuple(earning)


def _points_cell(name: str, most: int) -> Any:
    """The cell that nbgrader runs, or that `use_in` reads; a student can neither change nor delete it in the page."""
    from nbformat.v4 import new_code_cell

    own = "points-" + re.sub(r"[^A-Za-z0-9_-]", "-", name)
    told: dict[str, Any] = {"schema_version": 3, "grade_id": own, "locked": True, "solution": False, "task": False,
                            "grade": most > 0}  # fmt: skip
    if most:
        told["points"] = most
    return new_code_cell(_LINES.format(name=name), id=own[:64], metadata={"nbgrader": told})


def use_in(config: Any) -> None:
    """Have nbgrader's autograde read the answers files, and run nothing: call this in nbgrader_config.py.

    The course key, in LATHEWORKS_COURSE, then never meets a student's code. Parameters: config, what `get_config()`
    returns there. Raises LatheworksError where nbgrader is not installed.
    """
    try:
        from nbgrader.converters import Autograde
        from nbgrader.preprocessors import Execute, NbGraderPreprocessor
    except ImportError as error:
        raise LatheworksError("nbgrader is not installed here. Try pip install 'latheworks[nbgrader]'.") from error
    from nbformat.v4 import new_output

    class ReadTheAnswers(NbGraderPreprocessor):
        """Fills in the points where nbgrader would run the cells."""

        def preprocess_cell(self, cell: Any, resources: Any, index: int) -> tuple[Any, Any]:
            ours = _OURS.fullmatch(cell.source) if cell.cell_type == "code" else None
            if ours or (cell.cell_type == "code" and cell.metadata.get("nbgrader", {}).get("grade")):
                said, earned = self._read(ours, resources) if ours else ("This cell is not run.", 0.0)
                # A cell without a result would be given all of its points.
                result = new_output("execute_result", {"text/plain": repr(earned)}, execution_count=index)
                cell.outputs = [new_output("stream", name="stdout", text=said), result]
            return cell, resources

        def _read(self, ours: re.Match[str], resources: Any) -> tuple[str, float]:
            with redirect_stdout(StringIO()) as said:
                folder = Path(resources["metadata"]["path"]) / FOLDER
                earned = points_of(ours[1], resources["nbgrader"]["student"], folder)
            return said.getvalue(), earned

    usual = Autograde.class_traits()["autograde_preprocessors"].default()
    config.Autograde.autograde_preprocessors = [ReadTheAnswers if one is Execute else one for one in usual]


def main(argv: Sequence[str] | None = None) -> int:
    """Write the source notebook of an assignment and say what to know; the exit code is 0, or 1 where it cannot."""
    reader = argparse.ArgumentParser(prog="python -m latheworks.course.nbgrader_adapter", description=main.__doc__)
    reader.add_argument("lesson", type=Path, help="a lesson's or a homework's notebook")
    reader.add_argument("folder", type=Path, help="the assignment's folder in the course, such as course/source/week-1")
    asked = reader.parse_args(argv)
    try:
        made, names = as_source(asked.lesson)
        place = asked.folder / asked.lesson.name
        asked.folder.mkdir(parents=True, exist_ok=True)
        import nbformat

        with place.open("x", encoding="utf-8") as file:
            nbformat.write(made, file)
    except FileExistsError:
        print(f"{place} is there already. Remove it first, or name another folder.", file=sys.stderr)
        return 1
    except (OSError, LatheworksError) as error:
        print(error, file=sys.stderr)
        return 1
    print(f"{place}: {len(names)} exercises that earn points: {', '.join(names)}.\n\n{WARNING}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
