"""What every result can do: show itself as text and as HTML, as a table where it has rows, and show its working."""

from collections.abc import Sequence
from html import escape
from typing import Any

from latheworks.working import Working


def money(value: float) -> str:
    """An amount in the currency of the rates, whichever that is, with the one word that stands for its unit."""
    return f"{value:.2f} money"


class Result:
    """A mixin for frozen dataclasses. A class says its `title`, its `facts`, and, where it has rows, its `columns`."""

    __slots__ = ()

    def title(self) -> str:
        """One line that says what this is."""
        raise NotImplementedError(f"{type(self).__name__} says no title")

    def facts(self) -> Sequence[tuple[str, str]]:
        """Pairs of words and written values, in reading order."""
        return ()

    def columns(self) -> dict[str, Any]:
        """Column heading, with its unit, to the values of that column; empty where there are no rows."""
        return {}

    @property
    def working(self) -> Working:
        """The lines from which the result can be redone by hand; computed when asked for."""
        return Working(self.title(), ())

    def to_frame(self) -> Any:
        """The rows as a pandas DataFrame, headings with units."""
        import pandas  # only when asked for: it costs more than the rest of the package

        return pandas.DataFrame(self.columns())

    def __str__(self) -> str:
        facts = self.facts()
        width = max((len(name) for name, _ in facts), default=0)
        return "\n".join([self.title(), *(f"  {name:<{width}}  {value}" for name, value in facts)])

    def _repr_mimebundle_(self, **_: Any) -> dict[str, str]:
        # A dataclass writes its own repr; in a notebook the readable text stands beside the HTML, for nbval to compare.
        return {"text/plain": str(self), "text/html": self._repr_html_()}

    def _repr_html_(self) -> str:
        rows = "".join(
            f'<tr><th scope="row" style="text-align:left">{escape(name)}</th>'
            f'<td style="text-align:left">{escape(value)}</td></tr>'
            for name, value in self.facts()
        )
        caption = f'<caption style="text-align:left">{escape(self.title())}</caption>'
        return f"<table>{caption}<tbody>{rows}</tbody></table>"
