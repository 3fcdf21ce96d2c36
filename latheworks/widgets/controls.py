"""The controls of a bench: what all share, choices, and words. None ever changes a value in silence."""

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Protocol

import ipywidgets

from latheworks.errors import LatheworksError, NotInTable, WrongUnit

# A notebook's kernel may hand what the page sends to more than one thread: one change is seen through at a time.
ONE_AT_A_TIME = threading.RLock()
Changed = Callable[[str], None]
# Wide enough for the longest words; in em, so that it grows with the words.
LABEL = "10.5em"


class Control:
    """What all controls share: a name, a value, a widget, and why the last entry was refused, if it was."""

    name: str
    widget: Any
    value: Any
    refused: str | None = None

    def put(self, value: Any) -> None:
        """Take a value from a program; raise LatheworksError and change nothing when it cannot be taken."""
        raise NotImplementedError

    def enter(self, text: str) -> None:
        """Do what typing or choosing this text does."""
        raise NotImplementedError

    def written(self, value: Any) -> str:
        """A value as the control writes it."""
        return str(value)

    def as_typed(self) -> str:
        """The value as a person sees it in the control."""
        return str(self.value)

    def show_in(self, system: str) -> None:
        """Show in metric or inch; what a person typed stays as it was typed."""


class Spec(Protocol):
    """What describes a control, and makes it."""

    @property
    def name(self) -> str:
        """The control's name in a program."""

    def make(self, changed: Changed, system: str) -> Any:
        """Make the control."""


@dataclass(frozen=True)
class Choice:
    """One of a few named settings."""

    name: str
    words: str
    options: tuple[str, ...]
    start: str

    def make(self, changed: Changed, system: str) -> "ChoiceControl":
        """Make the control."""
        return ChoiceControl(self, changed)


class ChoiceControl(Control):
    """A drop-down list."""

    def __init__(self, spec: Choice, changed: Changed) -> None:
        self.spec, self.name, self._changed, self._quiet = spec, spec.name, changed, False
        self.box = ipywidgets.Dropdown(options=list(spec.options), value=spec.start, description=spec.words,
                                       style={"description_width": LABEL})  # fmt: skip
        self.widget = ipywidgets.HBox([self.box])
        self.value = spec.start
        self.box.observe(self._on_chosen, "value")

    def put(self, value: Any) -> None:
        if value not in self.spec.options:
            known = ", ".join(self.spec.options)
            raise NotInTable(f"{self.spec.words}: {value!r:.40} is not one of {known}. Choose {self.spec.start}.")
        self._quiet, self.value = True, value
        try:
            self.box.value = value
        finally:
            self._quiet = False

    def enter(self, text: str) -> None:
        self.box.value = text

    def _on_chosen(self, change: Mapping[str, Any]) -> None:
        with ONE_AT_A_TIME:
            if not self._quiet:
                self.value = change["new"]
                self._changed(self.name)


@dataclass(frozen=True)
class Words:
    """A text, such as a thread's designation."""

    name: str
    words: str
    start: str
    longest: int = 80

    def make(self, changed: Changed, system: str) -> "WordsControl":
        """Make the control."""
        return WordsControl(self, changed)


class WordsControl(Control):
    """A box for a text."""

    def __init__(self, spec: Words, changed: Changed) -> None:
        self.spec, self.name, self._changed, self._quiet = spec, spec.name, changed, False
        self.box = ipywidgets.Text(value=spec.start, description=spec.words, continuous_update=False,
                                   style={"description_width": LABEL})  # fmt: skip
        self.widget = ipywidgets.HBox([self.box])
        self.value = spec.start
        self.box.observe(self._on_typed, "value")

    def put(self, value: Any) -> None:
        if not isinstance(value, str) or not value.strip() or len(value) > self.spec.longest:
            raise WrongUnit(f"{self.spec.words}: type 1 to {self.spec.longest} characters. Type {self.spec.start}.")
        self._quiet, self.value, self.refused = True, value, None
        try:
            self.box.value = value
        finally:
            self._quiet = False

    def enter(self, text: str) -> None:
        self.box.value = text

    def _on_typed(self, change: Mapping[str, Any]) -> None:
        with ONE_AT_A_TIME:
            if self._quiet:
                return
            try:
                self.put(change["new"])
            except LatheworksError as error:
                self.refused = str(error)
            self._changed(self.name)


def control(spec: Spec, changed: Changed, system: str) -> Any:
    """Make the control for its description, with the classes by which the page knows it."""
    made = spec.make(changed, system)
    made.widget.add_class("lw-control")
    made.widget.add_class(f"lw-control-{spec.name}")
    if len(made.widget.children) == 1:
        made.widget.add_class("lw-wide")
    return made
