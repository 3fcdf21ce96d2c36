"""What `python -m latheworks` can do for a course: a fresh lesson, a setup sheet, everybody's numbers, grades."""

import argparse
import os
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

from latheworks.errors import LatheworksError
from latheworks.opening import find_lesson, lesson_called

MOST_ROSTER = 1_000_000


def add_to(parser: Any) -> None:
    """Add the words of this module, each with its options, to a parser's words."""
    word = parser.add_parser("fresh", help="put a fresh copy of a lesson beside an old one; nothing is written over")
    word.add_argument("lesson", help="its number or its name, such as 01")
    word.add_argument(
        "--from", dest="source", metavar="FOLDER", help="the folder with the lessons (default: that of this Latheworks)"
    )
    word.add_argument("--into", default=".", metavar="FOLDER", help="the folder to put it into (default: here)")
    word.set_defaults(do=fresh)
    word = parser.add_parser("sheet", help="print the setup sheet of a plan file into one HTML page")
    word.add_argument("plan", help="the plan, a .json file")
    word.add_argument("--into", metavar="FILE", help="the page, a new .html file (default: beside the plan)")
    word.add_argument("--inch", action="store_true", help="inches first")
    _shop(word)
    word.set_defaults(do=sheet)
    word = parser.add_parser("numbers", help="list everybody's numbers of an assignment, and the passes to hand out")
    word.add_argument("assignment", help="a lesson, a homework or an exercise, such as 01, h1, ready or 01.blank_size")
    _class(word, needed=True)
    word.add_argument("--passes", action="store_true", help="list the passes to hand out instead; keep them secret")
    word.add_argument("--into", metavar="FILE", help="a new .csv file (default: print here)")
    word.set_defaults(do=numbers)
    word = parser.add_parser("grade", help="grade a folder of answers files into a table and readable pages")
    word.add_argument("folder", help="the folder with the answers files")
    word.add_argument(
        "--assignment", action="append", metavar="NAME", help="a lesson or an exercise, again for more (default: all)"
    )
    _class(word, needed=False)
    _shop(word)
    cores = os.cpu_count() or 1
    word.add_argument("--workers", type=int, default=cores, metavar="N", help="processes (default: all cores)")
    word.add_argument("--into", metavar="FOLDER", help="a new folder for the results (default: FOLDER-grades)")
    word.set_defaults(do=grade_folder)


def _shop(word: Any) -> None:
    word.add_argument("--lathe", metavar="FILE", help="the .toml file of your own lathe")
    word.add_argument("--rack", metavar="FILE", help="the .toml file of your own tools")


def _class(word: Any, needed: bool) -> None:
    word.add_argument(
        "--roster", required=needed, metavar="FILE", help="a text file: a key a line, and a group after a comma"
    )
    word.add_argument(
        "--course", metavar="FILE", help="the file with the course key (default: what LATHEWORKS_COURSE says)"
    )


def run(asked: argparse.Namespace) -> int:
    """Do what was asked; return 0, or 1 with a sentence where it cannot be done."""
    try:
        return int(asked.do(asked))
    except LatheworksError as error:
        print(error, file=sys.stderr)
        return 1


def fresh(asked: argparse.Namespace) -> int:
    """Copy a lesson into a folder, under a name that is free there."""
    first = find_lesson()
    folder = Path(asked.source) if asked.source else first.parent if first else None
    if folder is None or not folder.is_dir():
        raise LatheworksError("No lessons found. Try --from with the folder that holds them.")
    chosen = lesson_called(asked.lesson, folder)
    content = chosen.read_bytes()
    for number in range(1, 1000):
        place = Path(asked.into) / (f"{chosen.stem}{f'_fresh_{number - 1}' if number > 1 else ''}.ipynb")
        try:
            # A new file or none: an old lesson, or a link in its place, stays as it is.
            with place.open("xb") as file:
                file.write(content)
        except FileExistsError:
            continue
        except OSError:
            raise LatheworksError(f"{place.name} cannot be written there. Try --into a folder of your own.") from None
        print(f"{place}: a copy of {chosen.name} as it stands in {folder.resolve()}.")
        return 0
    raise LatheworksError("There are a thousand copies already. Try --into another folder.")


def sheet(asked: argparse.Namespace) -> int:
    """Write the setup sheet of a plan file."""
    from latheworks.course.csv_text import put
    from latheworks.plan import read_plan, setup_sheet

    plan = read_plan(Path(asked.plan), *_lathe_and_rack(asked))
    place = Path(asked.into) if asked.into else Path(asked.plan).with_suffix(".html")
    put(place, setup_sheet(plan, system="inch" if asked.inch else "metric"), ".html")
    print(f"{place}: print it, and have it checked before the first cut.")
    return 0


def numbers(asked: argparse.Namespace) -> int:
    """List codes and questions, or passes, a line for each student and exercise."""
    from latheworks.course.csv_text import as_csv, put

    listed, course = _roster(asked.roster), _course(asked)
    if asked.passes:
        heading, lines = ("student", "group", "pass"), _passes(listed, course)
    else:
        heading, lines = ("student", "group", "exercise", "numbers", "question"), _codes(listed, course, asked)  # type: ignore[assignment]
    text = as_csv(heading, lines)
    if asked.into:
        put(asked.into, text, ".csv", private=asked.passes)
        print(f"{asked.into}: {text.count(chr(10)) - 1} lines.")
    else:
        sys.stdout.write(text)
    return 0


def _passes(listed: dict[str, str | None], course: str | None) -> Iterator[tuple[str, ...]]:
    from latheworks.course import course_pass

    for key, group in listed.items():
        own = course_pass(group=group, course=course) if group else course_pass(key, course=course)
        yield key, group or "", own


def _codes(listed: dict[str, str | None], course: str | None, asked: Any) -> Iterator[tuple[str, ...]]:
    from latheworks.course import find
    from latheworks.course.grade import exercises_of

    chosen = exercises_of(asked.assignment)
    for key, group in listed.items():
        for name in chosen:
            task = find(name, key, group=group or "", course=course)
            yield key, group or "", name, task.code, task.question


def grade_folder(asked: argparse.Namespace) -> int:
    """Grade a folder on several processes; write the table and the pages into a new folder."""
    from latheworks.course.grade import grade

    folder = Path(asked.folder)
    into = Path(asked.into) if asked.into else folder.resolve().with_name(f"{folder.resolve().name}-grades")
    if into.exists() or into.is_symlink():
        raise LatheworksError(f"{into.name} is there already. Try --into with a new name, or move it away.")
    if not 1 <= asked.workers <= 256:
        raise LatheworksError(f"--workers: got {asked.workers}, expected 1 to 256. Try --workers 2.")
    roster = _roster(asked.roster) if asked.roster else None
    lathe, rack = _lathe_and_rack(asked)
    about: dict[str, Any] = {"assignment": asked.assignment, "roster": roster, "course": _course(asked), "lathe": lathe,
             "rack": rack, "progress": Bar()}  # fmt: skip
    if asked.workers == 1:
        grades = grade(folder, **about)
    else:
        with ProcessPoolExecutor(asked.workers) as pool:
            grades = grade(folder, pool, **about)
    pages = grades.to_pages(into)
    grades.to_csv(into / "grades.csv")
    print(f"{grades}\n{into / 'class.html'}: start reading here; {pages} pages, and the table in grades.csv.")
    return 0


class Bar:
    """A bar of text that grows on one line, where somebody watches; nothing where the output goes to a file."""

    def __init__(self, out: Any = None, wide: int = 40) -> None:
        self.out, self.wide, self.last = out or sys.stderr, wide, 0.0

    def __call__(self, done: int, total: int) -> None:
        """Show how many of how many are done, ten times a second at most."""
        now = time.monotonic()
        if not self.out.isatty() or (done < total and now - self.last < 0.1):
            return
        self.last = now
        full = self.wide * done // max(total, 1)
        end = "\n" if done == total else ""
        self.out.write(f"\r[{'#' * full}{'.' * (self.wide - full)}] {done} of {total}{end}")
        self.out.flush()


def _lathe_and_rack(asked: argparse.Namespace) -> tuple[Any, Any]:
    from latheworks.shop import lathe, rack

    return lathe(asked.lathe) if asked.lathe else None, rack(asked.rack) if asked.rack else None


def _course(asked: argparse.Namespace) -> str | None:
    # Always a file: a key on the command line would stay in the shell's memory.
    return str(Path(asked.course).absolute()) if asked.course else None


def _roster(place: str) -> dict[str, str | None]:
    """The keys of a text file, each with its group or None."""
    from latheworks.course.keys import group_key, student_key

    try:
        with Path(place).open("rb") as file:
            raw = file.read(MOST_ROSTER + 1)
        text = raw.decode("utf-8-sig")
    except (OSError, ValueError):
        raise LatheworksError(f"--roster: {Path(place).name!r:.60} cannot be read. Try a plain text file.") from None
    if len(raw) > MOST_ROSTER:
        raise LatheworksError(f"--roster: more than {MOST_ROSTER} bytes. Try one line for each student.")
    found: dict[str, str | None] = {}
    for number, line in enumerate(text.splitlines(), 1):
        key, _, group = (part.strip() for part in line.partition(","))
        if not key or key.startswith("#"):
            continue
        try:
            found[student_key(key)] = group_key(group)
        except LatheworksError as error:
            raise LatheworksError(f"--roster: line {number}: {error}") from None
    if not found:
        raise LatheworksError("--roster: there is no student key in it. Try a line such as ana-7.")
    return found
