"""The working: the ordered lines from which anybody can redo a result by hand."""

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Any


@dataclass(frozen=True, slots=True)
class Line:
    """One step: the symbol, its formula, the numbers put in, the result with its unit, and the source."""

    symbol: str
    formula: str
    numbers: str
    result: str
    source: str


@dataclass(frozen=True, slots=True)
class Working:
    """An ordered set of lines with a title; shows as a table in a notebook and as text elsewhere.

    >>> print(Working("Depth", (Line("h", "0.6134 P", "0.6134 x 1.5", "0.920 mm", "17/24 H"),)))
    Depth
      h = 0.6134 P = 0.6134 x 1.5 = 0.920 mm   [17/24 H]
    """

    title: str
    lines: tuple[Line, ...]

    def __iter__(self) -> Iterator[Line]:
        return iter(self.lines)

    def __str__(self) -> str:
        return self.text()

    def text(self) -> str:
        """The working as plain text, a line a step."""
        rows = []
        for line in self.lines:
            steps = " = ".join(part for part in (line.symbol, line.formula, line.numbers, line.result) if part)
            rows.append(f"  {steps}" + (f"   [{line.source}]" if line.source else ""))
        return "\n".join([self.title, *rows])

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        printer.text(self.text())

    def _repr_html_(self) -> str:
        head = "".join(f'<th scope="col">{word}</th>' for word in ("what", "formula", "numbers", "result", "source"))
        body = "".join(
            f'<tr><th scope="row">{escape(line.symbol)}</th>'
            + "".join(f"<td>{escape(part)}</td>" for part in (line.formula, line.numbers, line.result, line.source))
            + "</tr>"
            for line in self.lines
        )
        return (
            f"<table><caption>{escape(self.title)}</caption><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
        )
