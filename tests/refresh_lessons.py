"""Run the lessons and keep what they print: `python -m tests.refresh_lessons [part of a name ...]`.

Execution counts and outputs stay, so that a reader sees the numbers and nbval compares them. What differs from run to
run goes: widget views and state, times, the kernel's version. Running it twice gives the same bytes.
"""

import os
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

LESSONS = Path(__file__).parents[1] / "lessons"
VIEW = "application/vnd.jupyter.widget-view+json"
# What a person has set for themselves; a lesson is kept as one sees it who has set nothing.
OWN = ("LATHEWORKS_ANSWERS", "LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_COURSE")
KERNEL = {"display_name": "Python 3", "language": "python", "name": "python3"}


def execute(notebook: nbformat.NotebookNode, folder: Path) -> nbformat.NotebookNode:
    """Run all cells from the top, in the folder, with a clean book of answers."""
    with tempfile.TemporaryDirectory() as answers:
        # Somebody's own answers must not end up in a committed lesson.
        kept = {name: os.environ.pop(name, None) for name in OWN}
        os.environ["LATHEWORKS_ANSWERS"] = answers
        try:
            client = NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(folder)}})
            client.store_widget_state = False
            # Else a slow print may land in two pieces, and two runs differ.
            client.coalesce_streams = True
            client.execute()
        finally:
            os.environ.pop("LATHEWORKS_ANSWERS")
            os.environ.update({name: value for name, value in kept.items() if value is not None})
    return clean(notebook)


def clean(notebook: nbformat.NotebookNode) -> nbformat.NotebookNode:
    """Leave out what differs from run to run."""
    notebook.metadata = nbformat.from_dict({"kernelspec": KERNEL, "language_info": {"name": "python"}})
    notebook.nbformat, notebook.nbformat_minor = 4, 5
    for number, cell in enumerate(notebook.cells, start=1):
        cell.id = f"cell-{number:02d}"
        tags = cell.metadata.get("tags")
        cell.metadata = nbformat.from_dict({"tags": tags} if tags else {})
        for output in cell.get("outputs", ()):
            output.get("data", {}).pop(VIEW, None)
            output.get("metadata", {}).clear()
    return notebook


def refresh(path: Path) -> None:
    """Run one lesson and write it back."""
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(execute(notebook, path.parent))
    path.write_text(nbformat.writes(notebook).rstrip("\n") + "\n", encoding="utf-8")


def main(wanted: list[str]) -> int:
    """Refresh the lessons whose names hold one of the words, or all."""
    paths = [p for p in sorted(LESSONS.rglob("*.ipynb")) if ".ipynb_checkpoints" not in p.parts]
    names = {path: path.relative_to(LESSONS).as_posix() for path in paths}
    chosen = [path for path in paths if not wanted or any(word in names[path] for word in wanted)]
    for path in chosen:
        print(f"running {path.name}", flush=True)
        refresh(path)
    if not chosen:
        print(f"No lesson has {' or '.join(wanted)} in its name. There are: {', '.join(names.values())}")
    return 0 if chosen else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
