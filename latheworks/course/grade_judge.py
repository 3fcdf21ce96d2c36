"""Judging one answers file: its bytes are read as data, the student's numbers are made again, each answer is checked.

This is what runs on a worker. It opens no file, and gets the pass of the student or the group, not the course key.
"""

from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from latheworks.course import answer_file
from latheworks.course.answer_file import Damaged, Entries
from latheworks.course.check import check
from latheworks.course.exercises import find
from latheworks.course.grade_files import shown
from latheworks.course.grades import FAILED, GRADED, GUESS, MISSED, NONE, REASONS, RIGHT, TO_READ, UNREAD, Mark, Row
from latheworks.course.keys import PUBLIC
from latheworks.course.score import points, worth
from latheworks.course.tasks import Outcome, PlanTask, Prediction, Task

LONGEST_SHOWN = 120
SHOWN_NAMES = 5
BROKEN = "This answer cannot be judged. Show it to whoever looks after Latheworks here."


@dataclass(frozen=True, slots=True)
class Asked:
    """What is graded: pairs of an exercise and its worth, and the shop's lathe and rack, or None for the task's own."""

    exercises: tuple[tuple[str, int], ...]
    lathe: Any = None
    rack: Any = None


@dataclass(frozen=True, slots=True)
class Handed:
    """One file as it goes to a worker: place, student, group or nothing, the pass for their numbers, and the bytes."""

    place: str
    student: str
    group: str
    course: str
    raw: bytes
    notes: tuple[str, ...] = ()


@cache
def worth_of(name: str) -> int:
    """What an exercise is worth, whoever's numbers it has."""
    return worth(find(name, group="", student="me", course=PUBLIC))


def judge_files(asked: Asked, files: list[Handed]) -> list[Row]:
    """The row of each file, in order."""
    return [judge_file(asked, each) for each in files]


def judge_file(asked: Asked, handed: Handed) -> Row:
    """The row of one file."""
    try:
        entries, strange = answer_file.parse_all(handed.raw, handed.student)
    except Damaged as error:
        return no_row(asked, handed, error.code if error.code in REASONS else "odd entry")
    except Exception:
        return no_row(asked, handed, "not whole")
    marks = tuple(_mark(asked, handed, entries, name, most) for name, most in asked.exercises)
    notes = [*handed.notes]
    if strange:
        named = ", ".join(repr(shown(name)[:40]) for name in strange[:SHOWN_NAMES])
        more = f" and {len(strange) - SHOWN_NAMES} more" if len(strange) > SHOWN_NAMES else ""
        notes.append(f"Names in the file that nobody knows were passed over: {named}{more}.")
    if others := [mark.exercise for mark in marks if mark.other]:
        notes.append(f"Answered to numbers of another key or group: {', '.join(others)}.")
    return Row(handed.student, handed.group, handed.place, GRADED, marks, tuple(notes))


def no_row(asked: Asked, handed: Handed, code: str) -> Row:
    """The row of a file that could not be graded: nothing earned, and why."""
    marks = tuple(Mark(name, 0.0, most, NONE) for name, most in asked.exercises)
    return Row(handed.student, handed.group, handed.place, code, marks, handed.notes)


def _mark(asked: Asked, handed: Handed, entries: Entries, name: str, most: int) -> Mark:
    """What one exercise earned."""
    entry = entries.get(name)
    if entry is None or entry["answer"] in ("", [], {}, {"plan": ""}):
        return Mark(name, 0.0, most, NONE)
    about: dict[str, Any] = {"misses": entry["misses"], "shown": entry["shown"]}
    try:
        task = find(name, handed.student, group=handed.group, course=handed.course)
        if isinstance(task, PlanTask):
            task = replace(task, lathe=asked.lathe or task.lathe, rack=asked.rack or task.rack)
        outcome = check(task, entry["answer"])
        return Mark(
            name, min(points(task, outcome), float(most)), most, _code(task, outcome), outcome.slip or "",
            outcome.sentence, outcome.lines, _short(task, entry["answer"]),
            other=bool(entry["code"]) and entry["code"] != task.code, plan=isinstance(task, PlanTask), **about,
        )  # fmt: skip
    except Exception:
        # A fault of ours costs one mark, not the row; its trace stays out of every page.
        return Mark(name, 0.0, most, FAILED, sentence=BROKEN, **about)


def _code(task: Task, outcome: Outcome) -> str:
    if not outcome.counts:
        return UNREAD
    if outcome.right is None:
        return GUESS if isinstance(task, Prediction) else TO_READ
    return RIGHT if outcome.right is True else MISSED


def _short(task: Task, answer: Any) -> str:
    """The answer as a page shows it; a reason whole, a plan not at all."""
    if isinstance(task, PlanTask):
        return ""
    if type(answer) is dict:
        return "; ".join(f"{name}: {text}" for name, text in answer.items())[:LONGEST_SHOWN]
    if type(answer) is list:
        return "; ".join(answer)[:LONGEST_SHOWN]
    return str(answer)[: max(LONGEST_SHOWN, getattr(task, "longest", 0))]
