"""Judging an answer: right, or the slip by name, or why it cannot be read. Never the expected value, never a trace."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from latheworks.course import check_function, check_number, check_plan
from latheworks.course.tasks import (
    Choice,
    Function,
    Number,
    Outcome,
    PlanTask,
    Prediction,
    Reason,
    Setting,
    Several,
    Task,
    Worked,
    unreadable,
)  # fmt: skip
from latheworks.errors import LatheworksError, WrongUnit
from latheworks.reading import read_value

Answer = Any


def check(task: Task, answer: Answer) -> Outcome:
    """Judge one answer to one task.

    Parameters: task, as `latheworks.course.find` returns it; answer, what was typed or chosen: text (Number,
    Choice, Reason, Prediction), a list of options (Several), a mapping of name to text (Setting), a function or
    the list of what it returned (Function), a Plan or its JSON text (PlanTask); a Number also takes a quantity. Never
    raises for a bad answer: it is not right, and the outcome says why. Raises WrongUnit when `task` is not a task.
    Source: our own.

    >>> from latheworks.units import Q_
    >>> task = Number(question="Half of 9 mm?", right=Q_(4.5, "mm"), within=Q_(0.01, "mm"), hint="", worked="")
    >>> check(task, "4.5 in").slip
    'right digits, wrong unit'
    """
    judge = _JUDGES.get(type(task))
    if judge is None:
        raise WrongUnit(f'task: got {task!r:.60}, expected an exercise. Try find("00.inch_or_metric").')
    outcome = judge(task, answer)
    if outcome.right is False and outcome.hint is None:
        return replace(outcome, hint=task.hint)
    return outcome


def feedback(task: Task, outcome: Outcome, misses: int, asked: bool = False) -> tuple[str, str | None, Worked | None]:
    """Return what to show: the sentence, the hint from the first miss on, the worked answer from the second on.

    Parameters: misses, how many wrong answers were given so far, this one included [count, 0 or more]; asked,
    whether the student asked for the worked answer, which also shows once the answer is right or handed in.
    """
    hint = outcome.hint if outcome.right is False and misses >= 1 else None
    worked = task.worked_answer() if outcome.right is not False or misses >= 2 or asked else None
    return outcome.sentence, hint, worked


def solution(task: Task) -> Answer:
    """Return one right answer, as a student would give it; used to prove that every exercise can be solved."""
    if isinstance(task, Number):
        return task.right
    if isinstance(task, Several):
        return list(task.right)
    if isinstance(task, Choice):
        return task.right
    if isinstance(task, Setting):
        return dict(task.solved)
    if isinstance(task, Function):
        return task.reference
    if isinstance(task, PlanTask):
        return task.solved()
    return task.options[0] if isinstance(task, Prediction) else "Because the working says so, line by line."


def _choice(task: Choice, answer: Answer) -> Outcome:
    if type(answer) is not str or answer not in task.options:
        return unreadable("Choose one of the answers first.")
    if answer == task.right:
        return Outcome(True, None, "That is the one.")
    return _named(task, answer) or Outcome(False, None, "Another one fits better.")


def _several(task: Several, answer: Answer) -> Outcome:
    if type(answer) not in (list, tuple) or not all(type(a) is str and a in task.options for a in answer):
        return unreadable("Tick the answers that apply first.")
    if not answer:
        return unreadable("Tick at least one answer.")
    wrongly = [option for option in task.options if (option in answer) is not (option in task.right)]
    if not wrongly:
        return Outcome(True, None, "Those are the ones, and all of them.")
    count = "One of the answers needs" if len(wrongly) == 1 else f"{len(wrongly)} of the answers need"
    named = _named(task, wrongly[0])
    sentence = f"{count} another look. {named.sentence if named else ''}".strip()
    return Outcome(False, named.slip if named else None, sentence)


def _named(task: Choice | Several, option: str) -> Outcome | None:
    return next((Outcome(False, s.name, s.sentence) for s in task.slips if s.value == option), None)


def _setting(task: Setting, answer: Answer) -> Outcome:
    if type(answer) is not dict:
        return unreadable("Fill in the boxes first.")
    values: dict[str, Any] = {}
    for ask in task.asks:
        typed = answer.get(ask.name)
        if type(typed) is not str or not typed.strip():
            return unreadable(f"Fill in this box: {ask.label}.")
        if ask.options:
            if typed not in ask.options:
                return unreadable(f"Choose one of the answers: {ask.label}.")
            values[ask.name] = typed
            continue
        try:
            values[ask.name] = read_value(typed, ask.kind)
        except LatheworksError as error:
            return unreadable(f"{ask.label}: {error}")
    try:
        return task.judge(values)
    except LatheworksError as error:
        return Outcome(False, "cannot be done", f"This cannot be worked out as set. {error}")


def _kept_text(task: Reason, answer: Answer) -> Outcome:
    if type(answer) is not str or len(answer.strip()) < task.shortest:
        return unreadable("Write a sentence or two first.")
    if len(answer) > task.longest:
        return unreadable(f"That is {len(answer)} characters; keep it to {task.longest}.")
    return Outcome(None, None, "Kept for your instructor to read. Compare it with the worked answer.")


def _prediction(task: Prediction, answer: Answer) -> Outcome:
    if type(answer) is not str or answer not in task.options:
        return unreadable("Choose one of the answers first; a guess is fine.")
    return Outcome(None, None, "Kept. Now look, and see whether you were right.")


_JUDGES: dict[type, Callable[[Any, Answer], Outcome]] = {
    Number: check_number.judge, Function: check_function.judge, Choice: _choice, Several: _several,
    Setting: _setting, PlanTask: check_plan.judge, Reason: _kept_text, Prediction: _prediction,
}  # fmt: skip
