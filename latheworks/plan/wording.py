"""Sentences that keep their sizes as numbers, so that each can be written in millimeters or in inches."""

from __future__ import annotations

from typing import NamedTuple

from latheworks.units import SYSTEMS, Span, show

_INCH, _POUND = 25.4, 4.4482216152605  # mm, N: exact
_MOST = 4  # decimals of an inch, as `show` has them
# Kind: unit and factor to it from the plain unit, metric then inch; decimals in inches, None for two more than the
# metric way has, since an inch is about 25 mm; a size as it was given is exact, and gets them all.
_KINDS: dict[str, tuple[tuple[str, float], tuple[str, float], int | None]] = {
    "length": (("mm", 1.0), ("in", 1.0 / _INCH), None),
    "small": (("µm", 1000.0), ("in", 1.0 / _INCH), _MOST),
    "roughness": (("µm", 1.0), ("µin", 1000.0 / _INCH), 0),
    "travel": (("mm/min", 1.0), ("in/min", 1.0 / _INCH), 1),
    "force": (("N", 1.0), ("lbf", 1.0 / _POUND), 0),
    "torque": (("N m", 0.001), ("lbf in", 1.0 / (_INCH * _POUND)), 0),
    "stress": (("MPa", 1.0), ("ksi", _INCH**2 / (1000.0 * _POUND)), 1),
    "warming": (("K", 1.0), ("°F", 1.8), 0),
}


class Amount(NamedTuple):
    """A value of a kind in its plain unit (mm, N, N mm, MPa, mm/min, K; um of a roughness), or two with a word between
    them; digits of the metric way, None for a size as it was given, in as few as show it."""

    kind: str
    values: tuple[float, ...]
    digits: int | None
    link: str = ""

    def written(self, system: str) -> str:
        """The value or values, and their unit once."""
        *sides, decimals = _KINDS[self.kind]
        (name, factor), digits = sides[SYSTEMS.index(system)], self.digits
        if system == "inch":
            digits = decimals if decimals is not None else _MOST if digits is None else min(_MOST, digits + 2)
        return f" {self.link} ".join(_plain(value * factor, digits) for value in self.values) + f" {name}"


def _plain(value: float, digits: int | None) -> str:
    return f"{value:g}" if digits is None else f"{value:.{digits}f}"


class Sentence(NamedTuple):
    """Words with a place, {}, for each part: amounts, and names, which stay as they are with the sizes in them."""

    text: str
    parts: tuple[Amount | str, ...]

    def written(self, system: str) -> str:
        """The sentence in a unit system."""
        return self.text.format(*(part if isinstance(part, str) else part.written(system) for part in self.parts))


Words = str | Sentence  # without a size in it, a sentence is a plain text


def written(words: Words, system: str) -> str:
    """A sentence in a unit system, whether it has sizes in it or not."""
    return words if isinstance(words, str) else words.written(system)


def say(text: str, *parts: Amount | str) -> Sentence:
    """A sentence with sizes in it."""
    return Sentence(text, parts)


def mm(value: float, digits: int | None = None, to: float | None = None, link: str = "to") -> Amount:
    """A length [mm], or two of them with a word between."""
    return Amount("length", (value,) if to is None else (value, to), digits, link)


def amount(kind: str, value: float, digits: int | None = 0) -> Amount:
    """A value of another kind, in its plain unit."""
    return Amount(kind, (value,), digits)


def from_to(span: Span, system: str) -> str:
    """The two ends of a range in a unit system; an open end is said."""
    low, high = ("open" if end is None else show(end, system) for end in (span.min, span.max))
    return f"{low} to {high}"
