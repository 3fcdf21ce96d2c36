"""Exercises: numbers for each student, judging an answer, keeping and grading what was answered. No widget here."""

from latheworks.course.answers import AnswerBook, Kept
from latheworks.course.check import check, feedback, solution
from latheworks.course.exercises import find, names
from latheworks.course.grade import grade
from latheworks.course.grades import Grades, Mark, Row
from latheworks.course.keys import course_pass, group_key, student_key
from latheworks.course.score import score, worth
from latheworks.course.tasks import Outcome, Task
from latheworks.course.variant import Variant, variant

__all__ = [
    "AnswerBook", "Grades", "Kept", "Mark", "Outcome", "Row", "Task", "Variant", "check", "course_pass", "feedback",
    "find", "grade", "group_key", "names", "score", "solution", "student_key", "variant", "worth",
]  # fmt: skip
