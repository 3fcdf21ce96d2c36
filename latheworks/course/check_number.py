"""Judging a number with its unit. Every comparison is written so that a NaN fails it."""

import math
from typing import Any

from latheworks.course.tasks import Number, Outcome
from latheworks.errors import LatheworksError
from latheworks.reading import read_value
from latheworks.units import Q_

# For each kind: the unit used inside, and the others whose digits get mixed up with it. Units a power of ten away
# from the first are left out: there the decimal point is the better word for the slip.
UNITS = {
    "length": ("mm", "inch", "thou"),
    "force": ("N", "lbf"),
    "spindle": ("rpm",),
    "speed": ("m/min", "foot/min"),
    "feed": ("mm/rev", "inch/rev", "thou/rev"),
    "stiffness": ("N/um", "lbf/thou"),
    "angle": ("degree",),
    "count": ("dimensionless",),
}
INCH = 25.4


def judge(task: Number, answer: Any) -> Outcome:
    """Judge a typed number, or a quantity, against the right value and the slips."""
    given = _read(task, answer)
    if isinstance(given, Outcome):
        return given
    unit = UNITS[task.kind][0]
    value, right, within = (float(q.m_as(unit)) for q in (given, task.right, task.within))
    if not math.isfinite(value):
        return Outcome(
            False, "cannot be read", "A size is a finite number. Type digits and a unit.", None, counts=False
        )
    if close(value, right, within):
        return Outcome(True, None, "That is what the working gives.")
    for slip in task.slips:
        wrong = float(slip.value.m_as(unit))
        # A slip too near the right answer cannot be told from rounding, so it is not claimed.
        if not close(wrong, right, 2 * within) and close(value, wrong, within):
            return Outcome(False, slip.name, slip.sentence)
    return _general(task, given, value, right, within)


def close(value: float, right: float, within: float) -> bool:
    """Whether two finite numbers differ by no more than a finite tolerance; False for anything else."""
    if not (math.isfinite(value) and math.isfinite(right) and math.isfinite(within) and within > 0):
        return False
    # A float rounding of the difference must not fail an answer that lies on the edge.
    return abs(value - right) <= within * (1 + 1e-9)


def _read(task: Number, answer: Any) -> Any:
    """The quantity meant, or the outcome of an answer that cannot be read."""
    # No subclass: it could say anything of itself.
    if type(answer) is Q_:
        import numpy as np  # only for a computed answer: a typed one is judged without it

        if type(answer.magnitude) in (int, float, np.float64) and answer.is_compatible_with(task.right):
            return answer
        return Outcome(False, "wrong kind", f"The question asks for a {task.kind}.", None, counts=False)
    if type(answer) is not str or not answer.strip():
        word = "number" if task.kind == "count" else "number and its unit"
        return Outcome(False, "cannot be read", f"Type a {word} first.", None, counts=False)
    try:
        return read_value(answer, task.kind)
    except LatheworksError as error:
        return Outcome(False, "cannot be read", str(error), None, counts=False)


def _general(task: Number, given: Any, value: float, right: float, within: float) -> Outcome:
    """The slips that any number can show, and the last resort: too large or too small."""
    relative = within / abs(right) if right else 0.0
    names = UNITS[task.kind]
    for name in names:
        if given.units != Q_(1, name).units and relative:
            digits = task.right.m_as(name)
            if close(float(given.magnitude), digits, relative * abs(digits)):
                return Outcome(False, "right digits, wrong unit", "The digits are right, and the unit is another one.")
    if task.kind in ("length", "feed") and any(close(value, right * k, within * k) for k in (INCH, 1 / INCH)):
        return Outcome(
            False, "off by 25.4", "This is off by 25.4: a change between inches and millimeters went astray."
        )
    if right and close(value, -right, within):
        return Outcome(False, "sign", "The size is right, and the sign is the other one.")
    for power in (1, 2, 3):
        if right and any(close(value, right * k, within * k) for k in (10.0**power, 10.0**-power)):
            return Outcome(False, "power of ten", "The digits are right, and the decimal point is in another place.")
    # Not where a quarter of the size is off: with few places that is no longer a matter of rounding.
    if close(value, right, min(6 * within, max(within, abs(right) / 4))):
        return Outcome(False, "rounded too far", "Very near: this was rounded further than the question allows.")
    side = "larger" if value > right else "smaller"
    return Outcome(False, None, f"This is {side} than what the working gives.")
