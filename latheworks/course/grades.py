"""What grading gives: a mark for each exercise, a row for each file, and the table of all of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

from latheworks.results import Result

RIGHT, MISSED, UNREAD, NONE = "right", "missed", "cannot be read", "not answered"
TO_READ, GUESS, FAILED = "to be read", "guess", "cannot be judged"
GRADED = "graded"
# What can be wrong with a file, by a short stable word: no path, no number of ours, nothing of Python's.
REASONS = {
    GRADED: "",
    "no file": "No answers file came from here.",
    "odd name": "The file's name is no student key with .json behind it, such as ana-7.json.",
    "odd folder": "The folder's name is longer than 120 characters, or has signs in it that cannot be shown.",
    "other folder": "The file's key is not that of the folder. A me.json was written without key and pass.",
    "no plain file": "It is a link, a pipe or a device, and not a plain file, so it was not opened.",
    "cannot be opened": "The file cannot be opened. Look at who may read it.",
    "too large": "The file is larger than an answers file can be.",
    "not whole": "The file is cut short, or it is not the data that an exercise writes.",
    "name twice": "One place in the file holds the same name twice.",
    "bare number": "The file holds a bare number; an exercise keeps what was typed, as text.",
    "other version": "The file was not written by this version of Latheworks. Save an answer again with this one.",
    "other key": "The file's name and the student key in it differ.",
    "no answers": "The file has no list of answers in it, or one that is too long.",
    "odd entry": "An answer in the file is of another type or size than an exercise writes.",
    "no numbers": "The numbers of this key cannot be made with the course key or pass in use.",
    "grader stopped": "The grader stopped while it judged this file or one beside it. Grade this file alone.",
}
HEAD = ("student", "group", "file", "state", "reason", "points", "out of", "stop in the plan", "to read", "notes")


@dataclass(frozen=True, slots=True)
class Mark:
    """What one exercise earned.

    `code` is one of right, missed, cannot be read, not answered, to be read, guess, cannot be judged; `slip` names what
    slipped, of a plan the code of its first stop; `sentence` and `lines` are what the student is told; `answer` what
    was answered, shortened; `misses` and `shown` as they were kept; `other`, answered to numbers that are not theirs;
    `plan`, whether a plan was asked for.
    """

    exercise: str
    score: float
    most: int
    code: str
    slip: str = ""
    sentence: str = ""
    lines: tuple[str, ...] = ()
    answer: str = ""
    misses: int = 0
    shown: bool = False
    other: bool = False
    plan: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One file, or one student without one: whose it is, where it lay, and what it earned or why not.

    `code` is "graded" or one of `REASONS`; `notes` are sentences for the instructor.
    """

    student: str
    group: str
    place: str
    code: str
    marks: tuple[Mark, ...]
    notes: tuple[str, ...] = ()

    @property
    def reason(self) -> str:
        """Why the file was not graded; empty where it was."""
        return REASONS[self.code]

    @property
    def score(self) -> float:
        """The points of all exercises."""
        return round(sum(mark.score for mark in self.marks), 1)

    @property
    def stop(self) -> str:
        """The first stop in a plan that was handed in; empty where there is none."""
        return next((mark.slip for mark in self.marks if mark.plan and mark.code == MISSED), "")

    @property
    def to_read(self) -> int:
        """How many reasons wait for a person."""
        return sum(mark.code == TO_READ for mark in self.marks)


@dataclass(frozen=True, slots=True)
class Grades(Result):
    """The grades of a folder of answers files.

    Fields: exercises, pairs of a name and what it is worth; rows, one for each file and for each student of the roster
    without one, sorted by student; left_out, pairs of a name in the folder that was not looked into and why. A planning
    aid for training: points say how far a plan or an answer came, never that somebody may cut.
    """

    exercises: tuple[tuple[str, int], ...]
    rows: tuple[Row, ...]
    left_out: tuple[tuple[str, str], ...] = ()

    @property
    def most(self) -> int:
        """The points that can be had."""
        return sum(worth for _, worth in self.exercises)

    @property
    def graded(self) -> tuple[Row, ...]:
        """The rows whose file could be graded."""
        return tuple(row for row in self.rows if row.code == GRADED)

    def slips(self) -> list[tuple[str, str, tuple[str, ...]]]:
        """Return what slipped: exercise, slip and the students who show it; what most show comes first."""
        who: dict[tuple[str, str], list[str]] = {}
        for row in self.graded:
            for mark in row.marks:
                if mark.code == MISSED:
                    who.setdefault((mark.exercise, mark.slip or "no slip that we know"), []).append(row.student)
        return sorted(((*key, tuple(names)) for key, names in who.items()), key=lambda each: (-len(each[2]), each[:2]))

    def title(self) -> str:
        """How many were graded."""
        return f"{len(self.graded)} of {len(self.rows)} graded, out of {self.most} points"

    def facts(self) -> list[tuple[str, str]]:
        """Middle of the points, stops, and what could not be graded."""
        scores = [row.score for row in self.graded]
        reasons = Counter(row.code for row in self.rows if row.code != GRADED)
        return [
            ("half have at least", f"{median(scores):g} points" if scores else "nobody was graded"),
            ("with a stop in the plan", str(sum(bool(row.stop) for row in self.graded))),
            ("reasons to read", str(sum(row.to_read for row in self.rows))),
            *((f"not graded: {code}", str(count)) for code, count in sorted(reasons.items())),
        ]

    def heading(self) -> tuple[str, ...]:
        """The column headings: always the same ten, then points and finding of each exercise."""
        return (*HEAD, *(f"{name} {what}" for name, _ in self.exercises for what in ("points", "found")))

    def lines(self) -> Iterator[tuple[Any, ...]]:
        """The values under the headings, a row at a time: texts and numbers."""
        for row in self.rows:
            marks = (value for mark in row.marks for value in (mark.score, mark.slip or mark.code))
            yield (row.student, row.group, row.place, row.code, row.reason, row.score, self.most, row.stop, row.to_read,
                   " ".join(row.notes), *marks)  # fmt: skip

    def columns(self) -> dict[str, Any]:
        """The table, a row for each file."""
        lines = list(self.lines())
        return {name: [line[place] for line in lines] for place, name in enumerate(self.heading())}

    def to_csv(self, path: str | Path | None = None) -> str:
        """Return the table as CSV text, and put it into a file where a path is given.

        Numbers stay numbers; every text is quoted, and one that a spreadsheet would take for a formula gets an
        apostrophe before it. Parameters: path of a file that does not exist yet [text or a Path; none]. Raises
        LatheworksError for a file that is there or cannot be written. Source: RFC 4180.

        >>> Grades((), ()).to_csv().splitlines()[0].split(",")[:3]
        ['"student"', '"group"', '"file"']
        """
        from latheworks.course.csv_text import as_csv, put

        text = as_csv(self.heading(), self.lines())
        if path is not None:
            put(path, text, ".csv")
        return text

    def to_pages(self, folder: str | Path) -> int:
        """Write a page for the class and one for each student into a new folder; return how many.

        Parameters: folder that does not exist yet, or is empty [text or a Path]. The pages hold no script and no
        address, and need no network. Raises LatheworksError for a folder that is in use or cannot be written.
        Source: HTML Living Standard.
        """
        from latheworks.course.grade_pages import write_pages

        return write_pages(self, folder)
