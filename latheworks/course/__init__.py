"""Exercises: numbers for each student, judging an answer, and keeping what was answered. No widget in here."""

from latheworks.course.answers import AnswerBook, Kept
from latheworks.course.check import check, feedback, solution
from latheworks.course.exercises import find, names
from latheworks.course.tasks import Outcome, Task
from latheworks.course.variant import Variant, student_key, variant

__all__ = [
    "AnswerBook", "Kept", "Outcome", "Task", "Variant", "check", "feedback", "find", "names", "solution",
    "student_key", "variant",
]  # fmt: skip
