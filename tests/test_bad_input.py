"""Every argument of every public name, given nonsense: one sentence that names the argument, and never a NaN out."""

import dataclasses
import inspect
import math
import re

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.units import Q_
from tests.bad_input_table import CALLS, GIVEN, KERNELS
from tests.nonsense import NONSENSE
from tests.public_names import classes, functions, methods

ARGUMENTS = [(name, argument) for name, call in CALLS.items() for argument in call.good]
# A stiffness may be infinite, and a result may say so.
STIFFNESS = {"N/mm", "N*mm/rad"}


def unit_of(value):
    """The unit in which nonsense is fed where this value is good."""
    return value.units if isinstance(value, Q_) else "mm"


def faulty(value, path="result"):
    """Where in a result a NaN or an infinity hides that has no place there."""
    if isinstance(value, Q_):
        stiffness = any(value.is_compatible_with(unit) for unit in STIFFNESS)
        numbers = np.asarray(value.magnitude, dtype=float)
        bad = np.isnan(numbers) if stiffness else ~np.isfinite(numbers)
        return [path] if bad.any() else []
    if isinstance(value, (float, np.floating)):
        return [] if math.isfinite(value) else [path]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        parts = [(f.name, getattr(value, f.name)) for f in dataclasses.fields(value)]
    elif isinstance(value, (tuple, list)):
        parts = [(str(index), item) for index, item in enumerate(value)]
    elif isinstance(value, np.ndarray) and value.dtype.kind == "f":
        return [] if np.isfinite(value).all() else [path]
    else:
        return []
    return [hit for part, item in parts for hit in faulty(item, f"{path}.{part}")]


def test_every_public_name_is_in_the_table():
    wanted = set(functions()) | (set(classes()) - GIVEN)
    wanted |= {name for name in methods() if name.partition(".")[2] not in KERNELS}
    assert wanted == set(CALLS)


@pytest.mark.parametrize("name", CALLS)
def test_every_argument_is_in_the_table_and_the_good_call_works(name):
    call = CALLS[name]
    assert set(inspect.signature(call.call).parameters) == set(call.good)
    assert set(call.fine) | set(call.said) <= set(call.good)
    result = call.call(**call.good)
    assert faulty(result) == []
    assert not re.search(r"\bnan\b", str(result))


@pytest.mark.parametrize("what", NONSENSE)
@pytest.mark.parametrize(("name", "argument"), ARGUMENTS, ids=[f"{name}-{argument}" for name, argument in ARGUMENTS])
def test_nonsense_is_refused_by_name(name, argument, what):
    call = CALLS[name]
    given = {**call.good, argument: NONSENSE[what](unit_of(call.good[argument]))}
    if what in call.fine.get(argument, ()):
        assert faulty(call.call(**given)) == []
        return
    with pytest.raises(LatheworksError) as refused:
        call.call(**given)
    said = str(refused.value)
    assert re.search(call.said.get(argument, argument), said)
    assert re.search(r"\b(Try|try|Write|write|Check)\b", said)
    assert len(said) < 1000
    assert "\n" not in said.strip() or "  - " in said


def test_the_search_for_faults_finds_them():
    nan = Q_(math.nan, "mm")
    assert faulty((nan, [Q_([1.0, math.inf], "N")], math.nan)) == ["result.0", "result.1.0", "result.2"]
    assert faulty((Q_(math.inf, "N/mm"), Q_(1.0, "mm"), np.array([1.0]), "nan")) == []
    assert faulty(Q_(math.nan, "N/mm")) == ["result"]
