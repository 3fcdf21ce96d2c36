"""The control for a size: a box that reads what a person types, and a slider. It never moves a number in silence."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import ipywidgets

from latheworks.errors import LatheworksError, OutOfRange, WrongUnit
from latheworks.reading import read_value
from latheworks.units import Q_, U, display_unit
from latheworks.widgets.controls import LABEL, ONE_AT_A_TIME, Changed, Control
from latheworks.widgets.slider import Slider

_TYPED: dict[str, tuple[str | None, str | None]] = {
    "length": ("mm", "in"), "force": ("N", "lbf"), "spindle": ("rev/min", "rev/min"), "angle": ("deg", "deg"),
    "feed": ("mm/rev", "in/rev"), "speed": ("m/min", "ft/min"), "count": (None, None),
}  # fmt: skip
_SHOWN = {"deg": "\u00b0"}
_FINEST = {"mm": 3, "in": 4, "N": 1, "lbf": 2, "mm/rev": 3, "in/rev": 4, "m/min": 1, "ft/min": 0}


def mm(value: float) -> Any:
    """A length."""
    return Q_(float(value), U.mm)


def mm_per_rev(value: float) -> Any:
    """A feed."""
    return Q_(float(value), U.mm_per_rev)


def m_per_min(value: float) -> Any:
    """A surface speed."""
    return Q_(float(value), U.m_per_min)


def given(value: Any, otherwise: float, unit: Any = U.mm) -> Any:
    """What was asked for when a bench was opened, or its usual number."""
    return Q_(otherwise, unit) if value is None else value


@dataclass(frozen=True)
class Size:
    """A number with a unit: its words and symbol, where the slider runs, and what is possible at all.

    `steps` are one arrow key, metric and inch, in the units shown. `least` and `most` bound what may be typed.
    `by_fraction` is for what is sold by fractions of an inch: such a size is written as one.
    """

    name: str
    words: str
    symbol: str
    start: Any
    low: Any
    high: Any
    steps: tuple[float, float]
    least: Any = None
    most: Any = None
    kind: str = "length"
    by_fraction: bool = False

    def make(self, changed: Changed, system: str) -> "SizeControl":
        """Make the control."""
        return SizeControl(self, changed, system)


class SizeControl(Control):
    """A box to type an exact size in, the primary control, and a slider beside it."""

    def __init__(self, spec: Size, changed: Changed, system: str) -> None:
        self.spec, self.name, self._changed, self._system = spec, spec.name, changed, system
        self._typed, self._quiet = False, False
        self.low, self.high, self._exact = spec.low, spec.high, False
        self.box = ipywidgets.Text(continuous_update=False, style={"description_width": LABEL})
        self.slider = Slider()
        self.widget = ipywidgets.HBox([self.box, self.slider])
        self.put(spec.start)
        self.box.observe(self._on_typed, "value")
        self.slider.observe(self._on_slid, "value")

    @property
    def unit(self) -> str | None:
        """The unit shown, and meant when none is typed."""
        return _TYPED[self.spec.kind][self._system == "inch"]

    def number(self, value: Any) -> float:
        """A value as the number shown."""
        return float(value) if self.spec.kind == "count" else float(value.m_as(self._target()))

    def _target(self) -> Any:
        return U.rpm if self.spec.kind == "spindle" else display_unit(self.spec.start, self._system)[0]

    def written(self, value: Any) -> str:
        """A value as the box writes it."""
        number = self.number(value)
        if self.spec.by_fraction and self.unit == "in" and (fraction := _fraction(number)):
            return f"{fraction} in"
        number = round(number, _FINEST.get(self.unit or "", 3))
        unit = _SHOWN.get(self.unit or "", self.unit)
        return f"{number:.10g}" + (f" {unit}" if unit else "")

    def as_typed(self) -> str:
        """What a person typed, or the value as the box writes it."""
        return self.box.value if self._typed else self.written(self.value)

    def check(self, value: Any) -> Any:
        """Return the value, or raise with a sentence that says what is possible."""
        spec = self.spec
        if spec.kind == "count":
            number = float(value.m_as(U.one)) if isinstance(value, Q_) else value
            if isinstance(number, bool) or not isinstance(number, (int, float)) or not math.isfinite(number):
                raise WrongUnit(f"{spec.words}: {value!r:.40} is not a count. Type {self.written(spec.start)}.")
            if number != int(number):
                raise OutOfRange(f"{spec.words}: {number:g} is not a whole number. Type {round(number)}.")
            value = int(number)
        elif not isinstance(value, Q_) or not value.is_compatible_with(spec.start):
            raise WrongUnit(f"{spec.words}: {value!r:.40} is not a {spec.kind}. Type {self.written(spec.start)}.")
        elif not math.isfinite(value.magnitude):
            raise OutOfRange(f"{spec.words}: a {spec.kind} is a finite number. Type {self.written(spec.start)}.")
        for limit, wrong, words in ((spec.least, "small", "least"), (spec.most, "large", "most")):
            if limit is not None and (value < limit if wrong == "small" else value > limit):
                raise OutOfRange(
                    f"{spec.words}: {self.written(value)} is too {wrong}; the {words} is {self.written(limit)}. "
                    f"Type {self.written(spec.start)}."
                )
        return value

    def put(self, value: Any) -> None:
        if isinstance(value, str):
            self.value, self._typed, text = self.check(read_value(value, self.spec.kind, self.unit)), True, value
        else:
            self.value, self._typed = self.check(value), False
            text = self.written(self.value)
        self.refused = None
        self._show(text)

    def enter(self, text: str) -> None:
        self.box.value = text

    def run(self, low: Any, high: Any) -> None:
        """Let the slider run from low to high, exactly."""
        self.low, self.high, self._exact = low, high, True
        self._show(self.box.value)

    def show_in(self, system: str) -> None:
        self._system = system
        self._show(self.box.value if self._typed or self.refused else self.written(self.value))

    def _show(self, text: str) -> None:
        step, low, high = self.spec.steps[self._system == "inch"], self.number(self.low), self.number(self.high)
        if not self._exact:
            low, high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
            low = low if low > 0 or self.number(self.low) <= 0 else step
        unit = _SHOWN.get(self.unit or "", self.unit)
        words = ", ".join(part for part in (self.spec.words, self.spec.symbol) if part) + (f" [{unit}]" if unit else "")
        value = min(max(self.number(self.value), low), high)
        self._quiet = True
        try:
            with self.slider.hold_sync():
                self.slider.min, self.slider.max, self.slider.step, self.slider.value = low, high, step, value
                self.slider.label, self.slider.unit = f"{words}, by steps", unit or ""
            self.box.description = words
            self.box.value = text
        finally:
            self._quiet = False

    def _on_typed(self, change: Mapping[str, Any]) -> None:
        with ONE_AT_A_TIME:
            if self._quiet:
                return
            try:
                self.put(str(change["new"]))
            except LatheworksError as error:
                words = self.spec.words
                self.refused = str(error) if str(error).startswith(f"{words}: ") else f"{words}: {error}"
            self._changed(self.name)

    def _on_slid(self, change: Mapping[str, Any]) -> None:
        with ONE_AT_A_TIME:
            if self._quiet:
                return
            number = round(float(change["new"]), 9)
            try:
                self.value = self.check(round(number) if self.spec.kind == "count" else Q_(number, self._target()))
                self._typed, self.refused = False, None
            except LatheworksError as error:
                self.refused = str(error)
            # The picture first, the box after: the picture takes longer to show.
            self._changed(self.name)
            if not self.refused:
                self._quiet = True
                self.box.value = self.written(self.value)
                self._quiet = False


def _fraction(number: float) -> str:
    """A number as a mixed number in 64ths at most, or nothing when it is none of them or is whole."""
    parts = round(64 * number)
    if abs(64 * number - parts) > 1e-7 or parts % 64 == 0 or parts < 0:
        return ""
    whole, rest = divmod(parts, 64)
    return f"{whole} {Fraction(rest, 64)}" if whole else str(Fraction(rest, 64))
