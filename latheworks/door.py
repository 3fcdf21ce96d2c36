"""The door of a public function: every argument is checked once, and one message names all that are wrong.

    with Door("deflection") as door:
        force = door.number(force, "force", "N", example='Q_(100, "N")')
        at = door.array(at, "at", "mm", least=0, most=length)

Leaving the block raises one error with every complaint; inside it, a bad argument yields a harmless fill-in.
"""

import difflib
import math
from collections.abc import Iterable, Sequence
from numbers import Integral
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from latheworks.errors import Complaint, Impossible, LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.units import Q_, ureg

if TYPE_CHECKING:
    import numpy as np

_PARSED: dict[str, Any] = {}
LARGEST_ARRAY = 100_000
# Beyond this no size, force or stiffness in any unit is real, and sums would overflow.
LARGEST_NUMBER = 1e15


def _unit(name: str) -> Any:
    """A unit parsed once and kept."""
    if name not in _PARSED:
        _PARSED[name] = ureg.parse_units(name)
    return _PARSED[name]


def given(value: Any) -> str:
    """A value as an error message shows it: short, and on one line."""
    text = f"{value:~P}" if isinstance(value, Q_) else repr(value)
    text = " ".join(text.split())
    return text if len(text) <= 60 else text[:57] + "..."


class Door:
    """Collects what is wrong with a call and says it all at once when the block is left."""

    def __init__(self, function: str) -> None:
        self.function = function
        self.complaints: list[Complaint] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if kind is None and self.complaints:
            lines = [
                f"{each.name}: got {each.given}, expected {each.expected}. Try {each.hint}." for each in self.complaints
            ]
            listed = "\n".join(f"  - {line}" for line in lines)
            said = lines[0] if len(lines) == 1 else f"{len(lines)} arguments need another look.\n{listed}"
            raised = self.complaints[0].kind(f"{self.function}: {said}")
            raised.complaints = tuple(self.complaints)
            raise raised

    def complain(self, name: str, got: str, expected: str, hint: str, kind: type[LatheworksError] = Impossible,
                 **parts: Any) -> None:  # fmt: skip
        """Add one complaint: the argument, what was given, what was expected, a line to copy or a thing to try.

        `parts` are what `Complaint` holds besides: the value, the bounds in reach, and why they stand.
        """
        self.complaints.append(Complaint(name, got, expected, hint, kind, **parts))

    def number(self, value: Any, name: str, unit: str, *, least: float | None = None, above: float | None = None,
               most: float | None = None, below: float | None = None, finite: bool = True,
               example: str | None = None) -> float:  # fmt: skip
        """Return one quantity as a float in the unit; bounds are in that unit, `above` and `below` excluded."""
        checked = self._magnitudes(value, name, unit, least, above, most, below, finite, example)
        if checked is None:
            return self._fill(least, above, most, below)
        if checked.ndim:
            self.complain(
                name, given(value), "one value, not a list", example or f'{name}=Q_(1.0, "{unit}")', WrongUnit
            )
            return self._fill(least, above, most, below)
        return float(checked)

    def array(self, value: Any, name: str, unit: str, *, least: float | None = None, above: float | None = None,
              most: float | None = None, below: float | None = None, finite: bool = True,
              example: str | None = None) -> "np.ndarray":  # fmt: skip
        """Return a quantity as a float array in the unit, of the shape given (a scalar stays 0-dimensional)."""
        checked = self._magnitudes(value, name, unit, least, above, most, below, finite, example)
        import numpy as np

        return np.asarray(self._fill(least, above, most, below)) if checked is None else checked

    def whole(self, value: Any, name: str, *, least: int = 0, most: int = 1000) -> int:
        """Return a whole number within its bounds."""
        good = isinstance(value, Integral) and not isinstance(value, bool)
        if not good or not least <= value <= most:
            kind = OutOfRange if good else WrongUnit
            self.complain(
                name,
                given(value),
                f"a whole number from {least} to {most}",
                f"{name}={max(least, min(2, most))}",
                kind,
                value=value,
                least=least,
                most=most,
            )
            return least
        return int(value)

    def choice(self, value: Any, name: str, allowed: Sequence[str]) -> str:
        """Return one of the allowed words; the nearest is suggested for another."""
        if isinstance(value, str) and value in allowed:
            return value
        near = nearest(value, allowed) or allowed[0]
        expected = "one of " + ", ".join(f'"{word}"' for word in allowed)
        self.complain(
            name,
            given(value),
            expected,
            f'{name}="{near}"',
            NotInTable if isinstance(value, str) else WrongUnit,
        )
        return allowed[0]

    def text(self, value: Any, name: str, *, longest: int = 80, example: str = "some text") -> str:
        """Return a text that is neither empty nor too long."""
        if not isinstance(value, str):
            self.complain(name, given(value), "text in quotes", f'"{example}"', WrongUnit)
            return example
        if not value.strip() or len(value) > longest:
            got = "nothing" if not value.strip() else f"{len(value)} characters"
            self.complain(name, got, f"1 to {longest} characters", f'"{example}"', OutOfRange)
            return example
        return value

    def instance(self, value: Any, name: str, classes: type | tuple[type, ...], expected: str, hint: str) -> Any:
        """Return the value when it is of one of the classes; complain and return None when not."""
        if isinstance(value, classes):
            return value
        self.complain(name, given(value), expected, hint, WrongUnit)
        return None

    @staticmethod
    def _fill(least: float | None, above: float | None, most: float | None, below: float | None) -> float:
        """A value inside the bounds, so that checks that follow in the block do not stumble."""
        low = least if least is not None else above
        high = most if most is not None else below
        if low is not None and high is not None and math.isfinite(high):
            return (low + high) / 2
        return (low + 1.0) if low is not None else (high - 1.0 if high is not None and math.isfinite(high) else 1.0)

    def _magnitudes(self, value: Any, name: str, unit: str, least: float | None, above: float | None,
                    most: float | None, below: float | None, finite: bool,
                    example: str | None) -> "np.ndarray | None":  # fmt: skip
        """The checked magnitudes in the unit, or None after a complaint."""
        # Here and not above: what needs no checked number, a table or a typed size, then works where there is no numpy.
        import numpy as np

        named = {"at least": least, "more than": above, "at most": most, "less than": below}
        bounds = [f"{word} {limit:g} {unit}" for word, limit in named.items() if limit is not None]
        expected = f"a value in {unit} or the like" + (", " + " and ".join(bounds) if bounds else "")
        hint = example or f'{name}=Q_({self._fill(least, above, most, below):g}, "{unit}")'
        if not isinstance(value, Q_):
            self.complain(name, given(value), expected, hint, WrongUnit)
            return None
        raw = np.asarray(value.magnitude)
        if raw.dtype.kind not in "iuf":
            self.complain(name, given(value), expected + ", made of plain numbers", hint, WrongUnit)
            return None
        target = _unit(unit)
        if value.units == target:
            numbers = raw.astype(float)
        elif value.is_compatible_with(target):
            numbers = np.asarray(value.m_as(target), dtype=float)
        else:
            self.complain(name, given(value), expected, hint, WrongUnit)
            return None
        if numbers.size == 0 or numbers.size > LARGEST_ARRAY:
            got = "an empty list" if numbers.size == 0 else f"{numbers.size} values"
            self.complain(name, got, f"1 to {LARGEST_ARRAY} values in {unit}", hint, OutOfRange)
            return None
        inside = ~np.isnan(numbers)
        with np.errstate(invalid="ignore"):
            inside &= (np.abs(numbers) <= LARGEST_NUMBER) | (~np.isfinite(numbers) if not finite else False)
            inside &= (numbers >= least) if least is not None else True
            inside &= (numbers > above) if above is not None else True
            inside &= (numbers <= most) if most is not None else True
            inside &= (numbers < below) if below is not None else True
        if not inside.all():
            first = float(numbers.ravel()[np.argmin(inside.ravel())])
            got = given(value) if numbers.ndim == 0 else f"{first:g} {unit} among the values"
            low, high = least if least is not None else above, most if most is not None else below
            ends = [None if end is None or not math.isfinite(end) else Q_(float(end), target) for end in (low, high)]
            self.complain(name, got, expected if bounds else "a finite " + expected[2:], hint, OutOfRange,
                          value=Q_(first, target), least=ends[0], most=ends[1])  # fmt: skip
            return None
        return numbers


def nearest(value: Any, allowed: Iterable[str]) -> str | None:
    """The allowed word most like the one given, or None when nothing is near."""
    names = list(allowed)
    folded = {name.lower(): name for name in names}
    near = difflib.get_close_matches(str(value)[:80].lower(), folded, n=1, cutoff=0.5)
    return folded[near[0]] if near else None
