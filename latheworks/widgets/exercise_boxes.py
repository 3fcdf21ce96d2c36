"""The boxes in which an exercise is answered: text, radio buttons, checkboxes; each with a label of its own."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol

import ipywidgets as w

from latheworks.course.tasks import Choice, Function, Number, PlanTask, Prediction, Reason, Setting, Several, Task

_EXAMPLES = {
    "length": "12.7 mm or 1/2 in", "force": "150 N or 30 lbf", "spindle": "300 rev/min", "feed": "0.1 mm/rev",
    "speed": "90 m/min", "stiffness": "20 N/µm", "angle": "45 deg", "count": "a number",
}  # fmt: skip
_WIDE = {"description_width": "initial"}


class Boxes(Protocol):
    """What the panel needs of its boxes."""

    @property
    def widgets(self) -> Sequence[Any]:
        """The widgets in reading order."""

    def read(self) -> Any:
        """What is answered now, as plain data."""

    def write(self, answer: Any) -> None:
        """Put an earlier answer back; anything that does not fit is left out."""


class One:
    """A single box."""

    def __init__(self, widget: Any) -> None:
        self.widget = widget
        self.widgets: Sequence[Any] = (widget,)

    def read(self) -> Any:
        """What is answered; an empty text where nothing is chosen."""
        return "" if self.widget.value is None else self.widget.value

    def write(self, answer: Any) -> None:
        """Put the answer back where it is a text, and one of the options."""
        options = getattr(self.widget, "options", None)
        if type(answer) is str and (options is None or answer in options):
            self.widget.value = answer


class Ticks:
    """Checkboxes, one an option."""

    def __init__(self, options: Sequence[str]) -> None:
        self.widgets: Sequence[Any] = tuple(
            w.Checkbox(value=False, description=o, indent=False, layout=w.Layout(width="auto")) for o in options
        )

    def read(self) -> list[str]:
        """The options ticked."""
        return [box.description for box in self.widgets if box.value]

    def write(self, answer: Any) -> None:
        """Tick what was ticked."""
        for box in self.widgets:
            box.value = type(answer) is list and box.description in answer


class Form:
    """Several named boxes."""

    def __init__(self, named: Mapping[str, One]) -> None:
        self.named = named
        self.widgets: Sequence[Any] = tuple(one.widget for one in named.values())

    def read(self) -> dict[str, Any]:
        """The text of each box by name."""
        return {name: one.read() for name, one in self.named.items()}

    def write(self, answer: Any) -> None:
        """Put each text back in the box of its name."""
        for name, one in self.named.items():
            one.write(answer.get(name) if type(answer) is dict else None)


def boxes_for(task: Task, changed: Callable[[], None]) -> Boxes:
    """Return the boxes for a task; `changed` is called after a change made by a person or by code."""
    boxes: Boxes
    if isinstance(task, Number):
        boxes = One(_text("Your answer", task.kind))
    elif isinstance(task, Choice | Prediction):
        label = "Your guess" if isinstance(task, Prediction) else "Your answer"
        boxes = One(_radio(label, task.options))
    elif isinstance(task, Several):
        boxes = Ticks(task.options)
    elif isinstance(task, Reason):
        area = w.Textarea(description="Your reason", placeholder="Two sentences", continuous_update=False, rows=3,
                          style=_WIDE, layout=w.Layout(width="95%"))  # fmt: skip
        boxes = One(area)
    elif isinstance(task, Setting):
        boxes = Form({
            a.name: One(_radio(a.label, a.options) if a.options else _text(a.label, a.kind)) for a in task.asks
        })  # fmt: skip
    else:
        assert isinstance(task, Function | PlanTask)
        boxes = Form({})
    for widget in boxes.widgets:
        widget.observe(lambda _: changed(), names="value")
    return boxes


def _text(label: str, kind: str) -> w.Text:
    return w.Text(description=label, placeholder=_EXAMPLES[kind], continuous_update=False, style=_WIDE)


def _radio(label: str, options: Sequence[str]) -> w.RadioButtons:
    return w.RadioButtons(description=label, options=list(options), value=None, style=_WIDE,
                          layout=w.Layout(width="95%"))  # fmt: skip
