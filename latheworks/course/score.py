"""The points of an answer: a finite number between 0 and what the question is worth, whatever was answered."""

import math
from typing import Any

from latheworks.course.check import check
from latheworks.course.tasks import Outcome, PlanTask, Prediction, Reason, Task


def worth(task: Task) -> int:
    """What a task is worth; a reason, which a person reads, and a guess are worth nothing by themselves."""
    return 0 if isinstance(task, Prediction | Reason) else task.points


def points(task: Task, outcome: Outcome) -> float:
    """Return the points of an outcome, to a tenth: all or none, or the share that a plan earns.

    Parameters: task and the outcome of an answer to it. Raises nothing. Source: our own rule, `check_plan.RULE`.

    >>> from latheworks.course.exercises import find
    >>> points(find("00.inch_or_metric"), check(find("00.inch_or_metric"), "nan mm"))
    0.0
    """
    most = float(worth(task))
    share = outcome.share if isinstance(task, PlanTask) else float(outcome.right is True)
    # Written so that a NaN earns nothing.
    if type(share) is not float or not 0.0 <= share <= 1.0 or not math.isfinite(share):
        return 0.0
    return min(round(most * share, 1), most)


def score(task: Task, answer: Any) -> float:
    """Return the points of an answer, between 0 and what the task is worth, whatever comes in.

    Parameters: task, as `latheworks.course.find` returns it; answer, as `latheworks.course.check` takes it. Raises
    LatheworksError for what is no task. Source: our own.

    >>> from latheworks.course.exercises import find
    >>> score(find("00.inch_or_metric"), float("inf"))
    0.0
    """
    return points(task, check(task, answer))
