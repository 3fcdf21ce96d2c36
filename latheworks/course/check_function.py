"""Comparing a student's function with the library's. It runs in the student's own session; only numbers are kept."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from latheworks.course.check_number import UNITS, close
from latheworks.course.tasks import Function, Outcome
from latheworks.errors import LatheworksError
from latheworks.reading import read_value
from latheworks.units import Q_, show

# What stopped a function, in plain words; a message of Python's own could show paths and code.
_STOPS = {
    NameError: "a name in it is not known (check the spelling)",
    TypeError: "it used a value in a way that does not fit, or takes another number of arguments",
    ZeroDivisionError: "it divided by zero",
    AttributeError: "it asked a value for something that it does not have",
    KeyError: "it looked up an entry that does not exist",
    IndexError: "it looked past the end of a list",
}


def judge(task: Function, answer: Any) -> Outcome:
    """Judge a function, or the list of texts that it returned earlier."""
    if type(answer) is list:
        values = _from_texts(task, answer)
    elif callable(answer):
        values = run(task, answer)
    else:
        return _unfinished("There is no function yet. Write it in the cell above, run that cell, and run this one.")
    if isinstance(values, Outcome):
        return values
    right = _expected(task, task.reference)
    agree = [_near(task, v, r) for v, r in zip(values, right, strict=True)]
    if all(agree):
        return Outcome(True, None, f"It agrees with the library at all {len(right)} inputs.")
    for slip in task.slips:
        if all(_near(task, v, w) for v, w in zip(values, _expected(task, slip.value), strict=True)):
            return Outcome(False, slip.name, slip.sentence)
    first = agree.index(False)
    tally = f"It agrees at {sum(agree)} of {len(agree)} inputs. " if any(agree) else "It runs, but does not agree yet. "
    return Outcome(False, None, f"{tally}The first to look at: {_write(task.inputs[first])}.")


def run(task: Function, function: Callable[..., Any]) -> list[float] | Outcome:
    """Call the function at every input; return plain numbers in the kind's own unit, or why that failed."""
    values = []
    for given in task.inputs:
        try:
            result = function(*given.values())
        except LatheworksError as error:
            return Outcome(False, "stopped", f"With {_write(given)} the library refused: {error}")
        except Exception as error:
            why = next((words for kind, words in _STOPS.items() if isinstance(error, kind)), "of an error inside it")
            return Outcome(False, "stopped", f"With {_write(given)} it stopped: {why}.")
        number = _plain(task, result)
        if isinstance(number, Outcome):
            return number
        values.append(number)
    return values


def as_texts(task: Function, values: list[float]) -> list[str]:
    """Write the values as an answer to be kept: data that can be judged again without the function."""
    unit = UNITS[task.kind][0]
    suffix = "" if task.kind == "count" else f" {unit.replace('degree', 'deg')}"
    return [f"{value:.12f}{suffix}" for value in values]


def _plain(task: Function, result: Any) -> float | Outcome:
    unit = UNITS[task.kind][0]
    if result is None:
        return _unfinished(
            "The function gives nothing back yet. Replace None by your formula and run both cells again."
        )
    if task.kind != "count" and not isinstance(result, Q_):
        return Outcome(False, "no unit", f"What comes back has no unit; the question asks for a {task.kind}.")
    import numpy as np  # only for a function of a student's own: the rest of the course needs none

    magnitude = result.magnitude if isinstance(result, Q_) else result
    if type(magnitude) not in (int, float, np.float64, np.int64):
        return Outcome(False, "wrong kind", "What comes back is not one plain number for each input.")
    if isinstance(result, Q_):
        if not result.is_compatible_with(unit):
            return Outcome(False, "wrong unit", f"What comes back has a unit that is not one of a {task.kind}.")
        magnitude = result.m_as(unit)
    if not math.isfinite(magnitude) or abs(magnitude) >= 1e11:
        return Outcome(
            False, "not finite", "What comes back is not a sensible finite number. Look for a division by 0."
        )
    return float(magnitude)


def _expected(task: Function, function: Callable[..., Any]) -> list[float]:
    unit = UNITS[task.kind][0]
    results = [function(*given.values()) for given in task.inputs]
    return [float(r.m_as(unit)) if isinstance(r, Q_) else float(r) for r in results]


def _near(task: Function, value: float, right: float) -> bool:
    # The floor keeps a right answer of zero, or one kept as text, comparable.
    return close(value, right, max(task.within * abs(right), 1e-11))


def _from_texts(task: Function, texts: list[Any]) -> list[float] | Outcome:
    if len(texts) != len(task.inputs):
        return _unfinished("The answer kept earlier is of another length. Run the cell with your function again.")
    values = []
    for text in texts:
        try:
            values.append(float(read_value(text, task.kind).m_as(UNITS[task.kind][0])))
        except LatheworksError:
            return _unfinished("The answer kept earlier cannot be read. Run the cell with your function again.")
    return values


def _unfinished(sentence: str) -> Outcome:
    return Outcome(False, "unfinished", sentence, None, counts=False)


def _write(given: Mapping[str, Any]) -> str:
    """The inputs of one call in words."""
    return ", ".join(f"{name.replace('_', ' ')} = {_shown(value)}" for name, value in given.items())


def _shown(value: Any) -> Any:
    """An input as the question has it: a time in the unit it was given in, anything else as the shop shows it."""
    if not isinstance(value, Q_):
        return value
    return f"{value:g~P}" if value.check("[time]") else show(value)
