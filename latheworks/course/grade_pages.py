"""The readable pages of a grading: one for the class, one for each student; no script, no address, nothing raw."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup, escape

from latheworks.course.check_plan import RULE
from latheworks.course.csv_text import put
from latheworks.course.grades import GRADED, NONE, TO_READ, Grades, Row
from latheworks.errors import LatheworksError, WrongUnit
from latheworks.tables import DATA

BINS = 10
MOST_NAMED = 8
CLASS_PAGE, STUDENTS = "class.html", "students"
# Signs that turn the direction of a line, or that have no shape: they are shown by their number.
_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")


def plain(value: Any) -> Markup:
    """A text for a page: nothing in it is markup, turns a line round, or can be taken for an address to follow."""
    text = "".join(
        f"[U+{ord(sign):04X}]" if unicodedata.category(sign) in _UNSEEN and sign not in "\n\t" else sign
        for sign in str(value)
    )
    return Markup(escape(text).replace("://", Markup(":&#47;&#47;")))


def write_pages(grades: Grades, folder: str | Path) -> int:
    """Write the pages into a new or an empty folder; return how many. Raises LatheworksError."""
    if not isinstance(folder, (str, Path)) or not str(folder).strip():
        raise WrongUnit(f'folder: got {folder!r:.60}, expected the path of a new folder. Try "grades".')
    place = Path(folder)
    try:
        place.mkdir(parents=True, exist_ok=True)
        if place.is_symlink() or any(place.iterdir()):
            raise LatheworksError(f"The folder {place.name!r:.80} is in use. Try a new name, or empty it first.")
        (place / STUDENTS).mkdir()
    except (OSError, ValueError) as error:
        if isinstance(error, LatheworksError):
            raise
        raise LatheworksError(f"The folder {place.name!r:.80} cannot be made. Try a folder of your own.") from None
    links = page_names(grades)
    for row, name in zip(grades.rows, links, strict=True):
        if name:
            put(place / STUDENTS / name, student_page(grades, row), ".html")
    put(place / CLASS_PAGE, class_page(grades, links), ".html")
    return 1 + sum(map(bool, links))


def page_names(grades: Grades) -> list[str]:
    """The file name of each row's page; empty for a row that belongs to no key."""
    seen: Counter[str] = Counter()
    names = []
    for row in grades.rows:
        seen[row.student] += 1
        again = f".{seen[row.student]}" if seen[row.student] > 1 else ""
        # A key is small letters, digits, - and _ only, so that its page cannot lie elsewhere.
        names.append(f"{row.student}{again}.html" if row.student else "")
    return names


def student_page(grades: Grades, row: Row) -> str:
    """The page of one student: each exercise, what slipped, the findings of a plan, reasons to read."""
    return str(_page("grade_student.html").render(row=row, grades=grades, rule=RULE, NONE=NONE, TO_READ=TO_READ,
               plans=any(mark.plan for mark in row.marks)))  # fmt: skip


def class_page(grades: Grades, links: list[str]) -> str:
    """The page of the class: who has a stop in the plan, what slipped most, how points lie, what to settle by hand."""
    rows = list(zip(grades.rows, links, strict=True))
    slips = [(exercise, slip, len(who), some(who)) for exercise, slip, who in grades.slips()]
    reasons = list(dict.fromkeys(why for _, why in grades.left_out))
    left_out = [(why, some([place for place, because in grades.left_out if because == why])) for why in reasons]
    bins = spread(grades)
    # What `bars` returns is made of numbers only.
    picture = Markup(bars(bins, grades.most))
    return str(_page("grade_class.html").render(
        grades=grades, rows=rows, slips=slips, bins=bins, picture=picture, facts=grades.facts(), NONE=NONE, rule=RULE,
        stops=[(row, link) for row, link in rows if row.stop], students=STUDENTS,
        settle=[(row, link) for row, link in rows if row.code != GRADED or row.notes], left_out=left_out,
    ))  # fmt: skip


def some(names: Sequence[str]) -> str:
    """The first few names in one line, and how many more there are."""
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def spread(grades: Grades) -> list[tuple[float, float, int]]:
    """How many lie in each tenth of the points: from, to, how many; the last tenth has its end in it."""
    step = grades.most / BINS
    counts = Counter(min(int(row.score / step), BINS - 1) if step else 0 for row in grades.graded)
    return [(round(k * step, 2), round((k + 1) * step, 2), counts[k]) for k in range(BINS)] if step else []


def bars(bins: list[tuple[float, float, int]], most: int) -> str:
    """The spread of points as an inline picture; the table beside it says the same."""
    top = max((count for *_, count in bins), default=0)
    if not top:
        return ""
    shapes = []
    for place, (low, high, count) in enumerate(bins):
        tall = round(110 * count / top, 1)
        x = 30 + 62 * place
        shapes.append(f'<rect x="{x}" y="{130 - tall}" width="56" height="{tall}" fill="#d8d8d8" stroke="#000"/>')
        shapes.append(f'<text x="{x + 28}" y="{126 - tall}" text-anchor="middle">{count}</text>')
        shapes.append(f'<text x="{x + 28}" y="144" text-anchor="middle">{low:g}–{high:g}</text>')
    words = f"Spread of the points from 0 to {most}: " + ", ".join(str(count) for *_, count in bins)
    return (f'<svg viewBox="0 0 660 166" role="img" aria-label="{words}" font-size="11">{"".join(shapes)}'
            '<line x1="26" y1="130" x2="654" y2="130" stroke="#000"/>'
            '<text x="340" y="161" text-anchor="middle">points</text></svg>')  # fmt: skip


@cache
def _page(name: str) -> Any:
    def finalize(value: Any) -> Any:
        # Every value of a template passes here; what is marked up already was made by us.
        return value if isinstance(value, Markup) else plain(value)

    kept = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
                       finalize=finalize)  # fmt: skip
    kept.globals["style"] = Markup((DATA / "grade_style.txt").read_text(encoding="utf-8"))
    return kept.from_string((DATA / name).read_text(encoding="utf-8"))


__all__ = ["bars", "class_page", "page_names", "plain", "some", "spread", "student_page", "write_pages"]
