"""Redo the lines of a working: the numbers of every line are arithmetic whose value is the result written beside it."""

import math

import pytest

MARKS = (("×", "*"), ("−", "-"), ("²", "**2"), ("³", "**3"), ("⁴", "**4"), ("^", "**"))


def worked_out(numbers: str) -> float:
    for mark, operator in MARKS:
        numbers = numbers.replace(mark, operator)
    return eval(numbers, {"__builtins__": {}, "pi": math.pi, "min": min, "max": max})


def redo(working) -> dict[str, float]:
    """Check every line that holds numbers, to half a unit of its written result; return the values by symbol."""
    values = {}
    for line in working:
        if line.numbers:
            text = line.result.split()[0]
            half = 0.5 * 10.0 ** -len(text.partition("e")[0].partition(".")[2])
            written = float(text)
            values[line.symbol] = worked_out(line.numbers)
            slack = half if "e" not in text and abs(written) >= 1 else 0.0
            assert values[line.symbol] == pytest.approx(written, rel=6e-6, abs=max(slack, 1e-12)), line
    assert values
    return values
