"""The bench: controls, a picture and a reading, wired on one path from a change to what is shown."""

import contextlib
from collections.abc import Mapping
from typing import Any, ClassVar

import ipywidgets
import traitlets

from latheworks.errors import LatheworksError, NotInTable
from latheworks.pictures.canvas import Picture
from latheworks.pictures.style import Look, Shown, Table
from latheworks.widgets.controls import ONE_AT_A_TIME, Spec, control
from latheworks.widgets.display import display_system
from latheworks.widgets.refusals import in_shop_words
from latheworks.widgets.style_sheet import STYLE
from latheworks.widgets.words import Reading, picture_html, reading_html, safe, table_html

# Tests set this, so that what is not a LatheworksError is raised as well as shown.
STRICT = False
_OUT_OF_DATE = "The picture and the numbers below are out of date: they show the last setting that worked."
_open: list["Bench"] = []
Names = set[str]


class Bench:
    """A picture with a few controls, its reading, and the numbers as a table.

    A bench of one kind says its `title`, its controls (work, tool, setting, in that order), its demonstration
    settings, how it computes, and how it reads. `result` is the library's own result; `picture_data` what is drawn.
    """

    kind: ClassVar[str]
    title: ClassVar[str]
    picture_class: ClassVar[type[Picture]]
    # Which control an argument of the library is set by, where their names differ.
    also: ClassVar[Mapping[str, str]] = {}

    def __init__(self) -> None:
        self.result: Any = None
        self.picture_data: Any = None
        self.reading: Reading | None = None
        self.shown: Shown | None = None
        self.error = ""
        self._kept: Any = None
        self._cell = _cell()
        self._close_those_replaced()
        self.controls = {spec.name: control(spec, self._changed, display_system.system) for spec in self.specs()}
        self._start = {name: item.value for name, item in self.controls.items()}
        self.picture = self.picture_class(display_system.look)
        self._build()
        display_system.observe(self._look_changed, ["system", "projector"])
        _open.append(self)
        self._look_changed({})

    # What a bench of one kind says.
    def specs(self) -> tuple[Spec, ...]:
        """The controls, in order."""
        raise NotImplementedError

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        """Named settings to step through: a name to the values that differ from the opening ones."""
        return {}

    def follow(self, changed: Names) -> None:
        """Let controls that nobody has just set follow those that changed."""

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, Any]:
        """Return the library's result and what the picture draws; raise LatheworksError for what cannot be."""
        raise NotImplementedError

    def read(self, data: Any, look: Look) -> Reading:
        """Put what the picture draws into words."""
        raise NotImplementedError

    # What lessons and tests use.
    def set(self, **values: Any) -> None:
        """Set controls by name, as quantities, or as the text a person would type; raise what is refused."""
        with ONE_AT_A_TIME:
            before = {name: item.value for name, item in self.controls.items()}
            try:
                for name, value in values.items():
                    self._control(name).put(value)
            except LatheworksError:
                for name, value in before.items():
                    self.controls[name].put(value)
                raise
            self._refresh(set(values))
            if self.error:
                raise LatheworksError(self.error)

    def enter(self, name: str, text: str) -> None:
        """Do what a person does who types or chooses this text in a control."""
        self._control(name).enter(text)

    def value(self, name: str) -> Any:
        """The value of a control."""
        return self._control(name).value

    def demo(self, name: str) -> None:
        """Go to a demonstration setting: the opening settings with a few changed."""
        found = self.demonstrations()
        if name not in found:
            raise NotInTable(f"demo: got {name!r:.40}, expected one of {', '.join(found)}.")
        self._put_all({**self._start, **found[name]}, set(found[name]))

    def start_again(self) -> None:
        """Go back to the opening settings, and forget the kept one."""
        with ONE_AT_A_TIME:
            self._kept = None
            self._put_all(self._start, set(self._start))

    def keep(self) -> None:
        """Keep what is shown, to compare with."""
        with ONE_AT_A_TIME:
            self._kept = self.picture_data
            self._show()

    @property
    def reading_text(self) -> str:
        """The reading in plain words."""
        return "" if self.reading is None else self.reading.text

    @property
    def alt(self) -> str:
        """What the picture shows, in words, as the page has it."""
        if self.shown is None:
            return "No picture yet."
        return f"Out of date. {self.shown.alt}" if self.error else self.shown.alt

    @property
    def table(self) -> Table | None:
        """The numbers of the picture."""
        return None if self.shown is None else self.shown.table

    def close(self) -> None:
        """Take the bench out of the notebook."""
        display_system.unobserve(self._look_changed, ["system", "projector"])
        for link in self._links:
            link.unlink()
        if self in _open:
            _open.remove(self)
        own = (part for item in self.controls.values() for part in (item.widget, *item.widget.children))
        for widget in (*self._parts, *own):
            widget.close()

    def __repr__(self) -> str:
        said = self.error or (self.reading.verdict if self.reading else "nothing shown")
        return f"{self.title} (bench): {' '.join(said.split())}"

    def _repr_mimebundle_(self, **_: Any) -> dict[str, Any]:
        return {**self.box._repr_mimebundle_(), "text/plain": repr(self)}

    # The one path from a change to what is shown.
    def _control(self, name: str) -> Any:
        if name not in self.controls:
            raise NotInTable(f"This bench has no control {name!r:.40}; it has {', '.join(self.controls)}.")
        return self.controls[name]

    def _changed(self, name: str) -> None:
        self._refresh({name})

    def _put_all(self, values: Mapping[str, Any], changed: Names) -> None:
        with ONE_AT_A_TIME:
            for name, value in values.items():
                self.controls[name].put(value)
            self._refresh(changed)

    def _refresh(self, changed: Names) -> None:
        refused = [item.refused for item in self.controls.values() if item.refused]
        try:
            if refused:
                raise LatheworksError("\n".join(refused))
            self.follow(changed)
            found = self.compute({name: item.value for name, item in self.controls.items()})
            self._draw(*found)
        except LatheworksError as error:
            self._complain(in_shop_words(error, self.controls, self.also, display_system.system))
        except Exception as error:
            self._complain(f"This bench met a fault of its own ({type(error).__name__}). Press Start again.")
            if STRICT:
                raise

    def _draw(self, result: Any, data: Any) -> None:
        # Words before numbers are kept, so that a fault in either leaves the last good setting whole.
        reading, shown = self.read(data, self.picture.look), self.picture.show(data, self._kept)
        self.result, self.picture_data, self.reading, self.shown, self.error = result, data, reading, shown, ""
        self._show_texts()

    def _show(self) -> None:
        if self.picture_data is not None:
            self._draw(self.result, self.picture_data)

    def _complain(self, sentence: str) -> None:
        self.error = sentence
        self._show_texts()

    def _look_changed(self, _: Any) -> None:
        with ONE_AT_A_TIME:
            look = display_system.look
            if self.picture.look != look:
                self.picture = self.picture_class(look)
            for item in self.controls.values():
                item.show_in(look.system)
            (self.box.add_class if look.projector else self.box.remove_class)("lw-projector")
            self._refresh(set())

    # What the page shows. Every text from outside is escaped here.
    def _build(self) -> None:
        def html(*classes: str) -> Any:
            part = ipywidgets.HTML()
            for name in classes:
                part.add_class(name)
            return part

        def button(words: str, action: Any, name: str) -> Any:
            part = ipywidgets.Button(description=words)
            part.add_class(name)
            part.on_click(lambda _: action())
            return part

        def row(parts: list[Any], *classes: str) -> Any:
            box = ipywidgets.HBox(parts)
            for name in classes:
                box.add_class(name)
            return box

        self._error, self._main = html("lw-error"), html("lw-main")
        self._table, fold, title = html("lw-table"), html("lw-fold"), html("lw-title")
        title.value = STYLE + safe(self.title)
        fold.value = "<details><summary>The numbers as a table</summary></details>"
        plain = {"description_width": "initial"}
        units = ipywidgets.Dropdown(options=["metric", "inch"], description="Units", style=plain)
        big = ipywidgets.Checkbox(description="Projector", indent=False)
        units.add_class("lw-system")
        big.add_class("lw-big")
        self._links = [traitlets.link((display_system, "system"), (units, "value")),
                       traitlets.link((display_system, "projector"), (big, "value"))]  # fmt: skip
        controls = row([item.widget for item in self.controls.values()], "lw-controls")
        demos = [button(name, lambda name=name: self.demo(name), "lw-demo") for name in self.demonstrations()]
        actions = [button("Start again", self.start_again, "lw-reset"), button("Keep this one", self.keep, "lw-keep")]
        show = [ipywidgets.HTML("Show:"), *demos] if demos else []
        self.box = ipywidgets.VBox([
            row([title, *actions, units, big], "lw-row"), controls, row(show, "lw-row", "lw-shows"),
            self._error, self._main, fold, self._table,
        ])  # fmt: skip
        self.box.add_class("lw-bench")
        self.box.add_class(f"lw-{self.kind}")
        self._parts = [self.box, *self.box.children, title, units, big, *actions, *show]

    def _show_texts(self) -> None:
        if self.error:
            self._error.value = f'<div role="alert">{safe(self.error)}\n{_OUT_OF_DATE if self.shown else ""}</div>'
            self.box.add_class("lw-stale")
        elif self._error.value:
            self._error.value = ""
            self.box.remove_class("lw-stale")
        if self.shown is None or self.reading is None:
            return
        kept = None if self._kept is None else self.read(self._kept, self.picture.look)
        # One widget, so one message: each costs the page about as much as a picture does.
        self._main.value = picture_html(self.shown, self.alt) + reading_html(self.reading, kept, bool(self.error))
        self._table.value = table_html(self.shown.table)

    def _close_those_replaced(self) -> None:
        """Running a cell again makes new benches: those it made before would go on computing unseen."""
        for other in list(_open):
            if self._cell and other._cell and other._cell[0] == self._cell[0] and other._cell != self._cell:
                other.close()


def _cell() -> tuple[str, str] | None:
    """The notebook cell that is running and which run of it this is; None outside a notebook."""
    with contextlib.suppress(Exception):
        from IPython.core.getipython import get_ipython

        shell: Any = get_ipython()
        message = shell.get_parent()
        cell = message["metadata"].get("cellId")
        return (cell, message["header"]["msg_id"]) if cell else None
    return None
