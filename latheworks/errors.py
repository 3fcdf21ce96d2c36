"""The errors a person meets: one base, four kinds, every text says what to try next."""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Complaint:
    """One argument that does not fit, as data: what another room needs to say it in words of its own.

    `name` of the argument; what was `given`, `expected` and the `hint`, as the error's text has them; `value` as it
    came; `least` and `most`, the bounds in reach, as quantities or counts; `because`, why the bound stands, in pieces
    of text and quantities, so that a reader's own unit system can write it.
    """

    name: str
    given: str
    expected: str
    hint: str
    kind: type["LatheworksError"]
    value: Any = None
    least: Any = None
    most: Any = None
    because: tuple[Any, ...] = ()


class LatheworksError(ValueError):
    """Something asked of Latheworks cannot be done as asked; the text says what was given, expected, and to try."""

    complaints: tuple[Complaint, ...] = ()


class WrongUnit(LatheworksError):
    """A value of the wrong kind or dimension, such as a bare number where a length is needed."""


class OutOfRange(LatheworksError):
    """A value of the right kind that is too small, too large, or not a finite number."""


class NotInTable(LatheworksError):
    """A name or a designation that no table here lists."""


class Impossible(LatheworksError):
    """Values that are each fine, but that no real part or machine could have together."""
