"""Grading a folder of answers files: data only, on this process or on any executor, with the same rows from each."""

from __future__ import annotations

import re
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from latheworks.course import answer_file
from latheworks.course.answer_file import Damaged
from latheworks.course.exercises import names
from latheworks.course.grade_files import Found, look
from latheworks.course.grade_judge import Asked, Handed, judge_files, no_row, worth_of
from latheworks.course.grades import Grades, Row
from latheworks.course.keys import course_key, course_pass, group_key, student_key
from latheworks.door import nearest
from latheworks.errors import LatheworksError, NotInTable, WrongUnit
from latheworks.shop import Lathe, Rack

# What goes to a worker at once, and how many such parcels are on their way: so memory stays the same for any folder.
FILES, BYTES, AHEAD = 8, 500_000, 32


def grade(
    folder: str | Path, executor: Any = None, *, assignment: str | Sequence[str] | None = None,
    roster: Iterable[str] | Mapping[str, str | None] | None = None, course: str | None = None,
    lathe: Lathe | None = None, rack: Rack | None = None, progress: Callable[[int, int], Any] | None = None,
) -> Grades:  # fmt: skip
    """Return the grades of the answers files in a folder: every file and every student of the roster gets its row.

    An answers file is called KEY.json and lies in the folder or in a folder of its own there. It is read as data by a
    strict schema; nothing in it is run, imported or shown raw. The student's numbers are made anew and the answers
    judged by them; plans by `latheworks.plan.review`. Points lie between 0 and what the exercises are worth.
    Parameters: folder [text or a Path]; executor, anything with `submit` as in concurrent.futures, or None for this
    process; assignment, a lesson's number such as "01", an exercise's name, or several; all when None; roster, the
    student keys, or a mapping of each to its group or None; course, the course key, a pass, or the file that holds one,
    or None for LATHEWORKS_COURSE; lathe and rack that plans are judged with, in place of the exercise's own; progress,
    called with how many of how many files are done. Workers get passes, never the course key.
    Raises LatheworksError for a folder, an assignment or a key that cannot be used; never for what is in a file.
    Source: our own.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     print(grade(folder, assignment="00", roster=["ana-7"]).rows[0].reason)
    No answers file came from here.
    """
    if executor is not None and not callable(getattr(executor, "submit", None)):
        raise WrongUnit(f"executor: got {executor!r:.60}, expected one with submit. Try ProcessPoolExecutor(2).")
    for what, given, kind in (("lathe", lathe, Lathe), ("rack", rack, Rack)):
        if given is not None and type(given) is not kind:
            raise WrongUnit(f'{what}: got {given!r:.60}, expected a {kind.__name__}. Try {what}("my_{what}.toml").')
    if not isinstance(folder, (str, Path)) or not str(folder).strip():
        raise WrongUnit(f'folder: got {folder!r:.60}, expected the path of a folder. Try "answers".')
    asked = Asked(tuple((name, worth_of(name)) for name in exercises_of(assignment)), lathe, rack)
    listed = _roster(roster)
    course_key(course)
    found, left = look(Path(folder), listed or ())
    _apart(Path(folder))
    rows: list[Row] = []
    for row in _graded(asked, found, listed, course, executor):
        rows.append(row)
        if progress is not None:
            progress(len(rows), len(found))
    handed_in = {row.student for row in rows}
    missing = [Handed("", key, group or "", "", b"") for key, group in (listed or {}).items() if key not in handed_in]
    rows += [no_row(asked, each, "no file") for each in missing]
    return Grades(asked.exercises, tuple(sorted(rows, key=lambda row: (row.student, row.place))), tuple(left))


def _apart(folder: Path) -> None:
    """Refuse a folder in which Python looks for modules: a file called as one of them would be run."""
    place = folder.absolute().resolve()
    if any(Path(each).absolute().resolve().is_relative_to(place) for each in sys.path):
        raise LatheworksError(
            "folder: Python looks for its own modules in there, and would run a student's file of such a name. Try it "
            "from a folder that holds nothing of a student's."
        )


def exercises_of(assignment: Any) -> tuple[str, ...]:
    """The names of the exercises meant, in the order of the lessons."""
    if assignment is None:
        return names()
    wanted = [assignment] if type(assignment) is str else assignment
    if not isinstance(wanted, (list, tuple)) or not wanted or not all(type(each) is str for each in wanted):
        raise WrongUnit(f'assignment: got {assignment!r:.60}, expected a lesson or an exercise. Try "01".')
    known = names()
    for each in wanted:
        if each not in known and not any(name.startswith(f"{each}.") for name in known):
            # By the name of its notebook, a homework would be taken for some exercise that sounds like it.
            stem = re.sub(r"^readi.*", "ready", re.sub(r"^homework[ _-]*", "h", each[:80].lower()))
            near = nearest(stem, [*known, *{name.partition(".")[0] for name in known}]) or known[0]
            raise NotInTable(f'assignment: there is no lesson or exercise {each!r:.60}. Try "{near}".')
    return tuple(name for name in known if name in wanted or name.partition(".")[0] in wanted)


def _roster(roster: Any) -> dict[str, str | None] | None:
    """Each student's key and group; None where no roster is given."""
    if roster is None:
        return None
    if type(roster) is str or not isinstance(roster, Iterable):
        raise WrongUnit(f'roster: got {roster!r:.60}, expected a list of student keys. Try ["ana-7", "ben-2"].')
    pairs = roster.items() if isinstance(roster, Mapping) else ((key, None) for key in roster)
    return {_key(key): group_key(group or "") for key, group in pairs}


def _key(key: Any) -> str:
    # None would stand for a key in the surroundings.
    if type(key) is not str:
        raise WrongUnit(f'roster: got {key!r:.60}, expected a student key. Try "ana-7".')
    return student_key(key)


def _graded(
    asked: Asked, found: list[Found], listed: dict[str, str | None] | None, course: str | None, executor: Any
) -> Iterator[Row]:
    """The row of each name found, as they come back: what cannot be opened first of its parcel."""
    on_their_way: deque[tuple[list[Handed], Any]] = deque()
    parcel: list[Handed] = []

    def send() -> Iterator[Row]:
        on_their_way.append((list(parcel), _submit(executor, asked, list(parcel))))
        parcel.clear()
        if len(on_their_way) >= (1 if executor is None else AHEAD):
            yield from _back(asked, *on_their_way.popleft())

    for each in found:
        handed = _handed(asked, each, listed, course)
        if isinstance(handed, Row):
            yield handed
            continue
        parcel.append(handed)
        if len(parcel) >= FILES or sum(len(one.raw) for one in parcel) >= BYTES:
            yield from send()
    if parcel:
        yield from send()
    while on_their_way:
        yield from _back(asked, *on_their_way.popleft())


def _handed(asked: Asked, found: Found, listed: dict[str, str | None] | None, course: str | None) -> Handed | Row:
    """A file opened and made ready for a worker, or its row where that cannot be."""
    notes = found.notes
    if listed is not None and found.key and found.key not in listed:
        notes = (*notes, "This key is not on the roster.")
    group = (listed or {}).get(found.key) or ""
    empty = Handed(found.place, found.key, group, "", b"", notes)
    if found.code:
        return no_row(asked, empty, found.code)
    try:
        raw = answer_file.take(found.path)
    except Damaged as error:
        return no_row(asked, empty, error.code)
    except OSError:
        return no_row(asked, empty, "cannot be opened")
    try:
        own = course_pass(group=group, course=course) if group else course_pass(found.key, course=course)
    except LatheworksError:
        return no_row(asked, empty, "no numbers")
    return Handed(found.place, found.key, group, own, raw, notes)


def _submit(executor: Any, asked: Asked, parcel: list[Handed]) -> Any:
    """What will hold the rows of a parcel: the rows themselves where there is no executor, None where it is broken."""
    if executor is None:
        return judge_files(asked, parcel)
    try:
        return executor.submit(judge_files, asked, parcel)
    except Exception:
        return None


def _back(asked: Asked, parcel: list[Handed], sent: Any) -> list[Row]:
    """The rows of a parcel; a worker that died costs its parcel, and no row is missing."""
    if isinstance(sent, list):
        return sent
    try:
        rows = sent.result()
        if [row.place for row in rows] == [each.place for each in parcel]:
            return list(rows)
    except Exception:
        pass
    return [no_row(asked, each, "grader stopped") for each in parcel]
