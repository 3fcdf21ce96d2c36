"""What a reader of the site sees besides the lessons: the front page, and plain words where libraries are missing."""

import copy
import json
from html import escape
from pathlib import Path
from typing import Any
from urllib.parse import quote

WHAT_WORKS = "what_works_here.ipynb"
# The kernel of the site has a name of its own; with the usual one the page would ask the reader to choose.
KERNEL = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python"}}

_STYLE = """
body { max-width: 44rem; margin: 2rem auto; padding: 0 1rem; font: 1.1rem/1.5 system-ui, sans-serif; color: #1b1b1b; }
a { color: #0b4f8a; } li { margin: .4rem 0; }
.missing { margin: 1rem 0; border-left: .4rem solid #9a3b00; padding: .4rem 1rem; background: #fdf3ec; }
"""

# Browsers keep a site's files only for addresses they trust: https, or this machine itself.
_UNKEPT = """<section class="missing" id="unkept" aria-label="Answers are not kept" hidden>
<h2>Answers are not kept at this address</h2>
<p>At this address the browser keeps nothing that a lesson writes. What you answer is lost when the page is closed.
Ask whoever gave you the address for one that begins with <code>https</code>, or look at a copy on your own machine.
In a private window it can be the same: use a usual one.</p>
</section>
<script>document.getElementById("unkept").hidden = "serviceWorker" in navigator;</script>"""


def front_page(lessons: Path, missing: tuple[str, ...]) -> str:
    """The page that the address of the site shows."""
    kinds = {"Lessons": lesson_titles(lessons), "Homework": homework_titles(lessons)}
    listed = "\n".join(
        f"<h2>{kind}</h2>\n<ul>\n"
        + "\n".join(f'<li><a href="{_link(name)}">{escape(title)}</a></li>' for name, title in titles.items())
        + "\n</ul>"
        for kind, titles in kinds.items()
    )
    return f"""<!DOCTYPE html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Latheworks</title><style>{_STYLE}</style>
<!-- The lab's page reads this on its way up; without it nothing starts. -->
<script id="jupyter-config-data" type="application/json" data-jupyter-lite-root=".">{{}}</script></head>
<body>
<main>
<h1>Latheworks</h1>
<p>Plan lathe work before you stand at the machine. The lessons run in this browser; nothing is installed, and nothing
that you type leaves this machine. The first start takes a quarter of a minute or so.</p>
{_notice(missing) if missing else ""}
{_UNKEPT}
{listed}
<h2>Your answers</h2>
<p>Your answers and your changes are kept in this browser, on this machine. Another browser does not see them, and they
are gone when its site data are cleared or a private window is closed. So take a copy when you finish: in the list of
files on the left, open the folder <code>answers</code>, click the file with the right mouse button and choose
<em>Download</em>. That is also the file to hand in.</p>
<h2>Before anything turns</h2>
<p><strong>This is a planning aid for training.</strong> A lathe can maim and kill. The shop's rules, the machine's
manual and qualified staff decide, never a number printed here.</p>
</main>
</body>
</html>
"""


def _notice(missing: tuple[str, ...]) -> str:
    return f"""<section class="missing" aria-label="What is missing">
<h2>This copy cannot run the lessons</h2>
<p>It was built without libraries that the lessons compute and draw with: {escape(", ".join(missing))}. You can read
every lesson, with the numbers it was saved with. Benches, pictures and the boxes of the exercises stay empty.</p>
<p>What runs here is in <a href="{_link(WHAT_WORKS)}">one notebook</a>: typed sizes, units, materials, cautions, and an
exercise whose answer is kept.</p>
<p>To get a copy that runs, ask whoever gave you this address. They find how in <code>binder/README.md</code>.</p>
</section>"""


def _link(name: str) -> str:
    return f"lab/index.html?path={quote(name)}"


def lesson_titles(lessons: Path) -> dict[str, str]:
    """The place of every lesson, from the folder of the lessons, and its number and title."""
    return {path.name: f"{path.name[:2]}: {_heading_in(path)}" for path in sorted(lessons.glob("*.ipynb"))}


def homework_titles(lessons: Path) -> dict[str, str]:
    """The same for what is handed in: first what everybody does before the first day, then by number."""
    paths = sorted((lessons / "homework").glob("*.ipynb"), key=lambda path: (path.name[0].isdigit(), path.name))
    return {f"homework/{path.name}": _heading_in(path) for path in paths}


def _heading_in(path: Path) -> str:
    """The first heading of a notebook."""
    first = json.loads(path.read_text(encoding="utf-8"))["cells"][0]
    return next(line.removeprefix("# ") for line in "".join(first["source"]).splitlines() if line.startswith("# "))


def lesson_for_site(notebook: dict[str, Any], missing: tuple[str, ...]) -> dict[str, Any]:
    """A lesson as the site shows it: for the site's kernel, and with a word first where it cannot run."""
    shown = copy.deepcopy(notebook)
    shown["metadata"] |= KERNEL
    if missing:
        said = (
            "**This copy cannot run this lesson.** It was built without libraries that the lesson needs: "
            f"{', '.join(missing)}. You can read it, with the numbers it was saved with; running a cell ends in an "
            f"error. What runs here is in `{WHAT_WORKS}`. Ask whoever gave you this address for a copy that runs."
        )
        shown["cells"].insert(0, _cell("missing", "markdown", said))
    return shown


def _cell(name: str, kind: str, source: str) -> dict[str, Any]:
    cell = {"cell_type": kind, "id": name, "metadata": {}, "source": source}
    return cell if kind == "markdown" else {**cell, "execution_count": None, "outputs": []}


def what_works() -> dict[str, Any]:
    """A notebook of what needs none of the compiled libraries."""
    cells = [
        ("markdown", "# What runs here\n\nThis copy was built without the libraries that compute bends, forces and "
         "threads. These things work without them. Click a cell and press **Shift+Enter**."),
        ("code", "from latheworks import Q_, material, materials, read_size, show\n"
         "from latheworks.course import AnswerBook, Kept, check, find\n"
         "from latheworks.course.first_steps import reader_says\n"
         "from latheworks.shop import cautions"),
        ("markdown", "A size with its unit, in both systems; and what the reader makes of a typed size."),
        ("code", 'print(show(Q_(250, "mm")), "is", show(Q_(250, "mm"), "inch"))\n'
         'print(reader_says("1 1/4 in"))\nprint(reader_says("31,75 mm"))'),
        ("markdown", "The materials, and one of them with its sources."),
        ("code", 'print(*materials(), sep=", ")\nprint(material("6061"))'),
        ("markdown", "An exercise. Put your answer, with its unit, between the quotes and run the cell. It is kept."),
        ("code", 'task = find("00.inch_or_metric")\nprint(task.question)'),
        ("code", 'answer = ""\noutcome = check(task, answer)\nprint(outcome.sentence)\nbook = AnswerBook()\n'
         "if outcome.counts:\n    book.keep(task.name, Kept(answer, right=outcome.right, checked=True))\n"
         'print(book.trouble or f"kept: {book.get(task.name)}")'),
        ("markdown", "Before anything turns:"),
        ("code", 'print(*cautions("turning"), sep="\\n")'),
    ]  # fmt: skip
    made = [_cell(f"cell-{number}", kind, source) for number, (kind, source) in enumerate(cells)]
    return {"cells": made, "metadata": KERNEL, "nbformat": 4, "nbformat_minor": 5}
