"""A class for the tests of grading: exercises that only tests know, and students who hand in answers files."""

import contextlib
import json
from collections.abc import Iterator
from pathlib import Path

from latheworks.course import exercises, find
from latheworks.course.answer_file import as_bytes
from latheworks.plan import write_plan

COURSE = "an-invented-course-key"
HERE = str(Path(__file__).parent / "more_exercises")


def teach() -> None:
    """Make the exercises of lesson x9 known to this process."""
    if HERE not in exercises.__path__:
        exercises.__path__.append(HERE)
        exercises._modules.cache_clear()


@contextlib.contextmanager
def taught() -> Iterator[None]:
    """Lesson x9 is known in here, and forgotten afterwards."""
    teach()
    try:
        yield
    finally:
        exercises.__path__.remove(HERE)
        exercises._modules.cache_clear()


def entry(answer, code="", **more):
    """An entry as an exercise keeps it."""
    return {"answer": answer, "misses": 0, "right": None, "checked": True, "shown": False, "code": code} | more


def good_plan(student: str, change: float = 0.0, group: str = "") -> str:
    """The text of a plan that passes; a change in mm makes it a plan of its own."""
    data = json.loads(write_plan(find("x9.hand_in", student, group=group, course=COURSE).solved()))
    for setup in data["setups"]:
        setup["stickout"] = f"{float(setup['stickout'].split()[0]) + change} mm"
    return json.dumps(data)


def answers(student: str, change: float = 0.0, group: str = "") -> dict:
    """Everything right."""
    found = {name: find(name, student, group=group, course=COURSE) for name in ("x9.hand_in", "x9.size", "x9.why")}
    return {
        "x9.hand_in": entry({"plan": good_plan(student, change, group)}, found["x9.hand_in"].code),
        "x9.size": entry(f"{found['x9.size'].right.m} mm", found["x9.size"].code),
        "x9.why": entry("Because the bar bends less when it is short."),
    }


def hand_in(folder: Path, student: str, entries: dict | None = None, name: str = "") -> Path:
    """Put a student's answers file into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    place = folder / (name or f"{student}.json")
    place.write_bytes(as_bytes(student, answers(student) if entries is None else entries))
    return place
