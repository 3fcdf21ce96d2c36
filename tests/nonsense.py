"""What no public function should swallow, and the form of a line in the table of calls."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from latheworks.units import Q_

# Each makes a value out of the unit of a good one.
NONSENSE: dict[str, Callable[[Any], Any]] = {
    "wrong dimension": lambda unit: Q_(3.0, "K" if Q_(1.0, unit).is_compatible_with("kg") else "kg"),
    "no unit": lambda unit: 3.5,
    "whole number": lambda unit: 3,
    "bare nan": lambda unit: math.nan,
    "nan": lambda unit: Q_(math.nan, unit),
    "infinity": lambda unit: Q_(math.inf, unit),
    "minus infinity": lambda unit: Q_(-math.inf, unit),
    "zero": lambda unit: Q_(0.0, unit),
    "negative": lambda unit: Q_(-1.0, unit),
    "huge": lambda unit: Q_(1e308, unit),
    "text": lambda unit: "twelve",
    "empty text": lambda unit: "",
    "long text": lambda unit: "1" * 10_000,
    "bool": lambda unit: True,
    "none": lambda unit: None,
    "empty array": lambda unit: Q_([], unit),
    "array": lambda unit: Q_([1.0, 2.0], unit),
    "array with nan": lambda unit: Q_([1.0, math.nan], unit),
    "bare array": lambda unit: np.array([1.0, 2.0]),
    "list": lambda unit: [3.0],
    "empty list": lambda unit: [],
    "dict": lambda unit: {},
    "class": lambda unit: object,
}
# Names for what makes sense in more than one place.
MAY_BE_LEFT_OUT = frozenset({"none"})
MAY_BE_ZERO = frozenset({"zero"})
MANY = frozenset({"array"})
RIGID = frozenset({"infinity"})


@dataclass(frozen=True)
class Call:
    """One public name, a good call of it, what nonsense is fine for an argument, and how a message names it."""

    call: Callable[..., Any]
    good: Mapping[str, Any] = field(default_factory=dict)
    fine: Mapping[str, frozenset[str]] = field(default_factory=dict)
    said: Mapping[str, str] = field(default_factory=dict)
