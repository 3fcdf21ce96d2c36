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
      h = 0.6134 P = 0.6134 x 1.5 = 0.920 mm   [1]
      [1] 17/24 H
    """

    title: str
    lines: tuple[Line, ...]

    def __iter__(self) -> Iterator[Line]:
        return iter(self.lines)

    def __str__(self) -> str:
        return self.text()

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources that the lines name, each once, in the order of the lines."""
        return tuple(dict.fromkeys(line.source for line in self.lines if line.source))

    def _number(self, line: Line) -> str:
        """Which of the sources a line rests on; one source may serve many lines, so it is written out once."""
        return f"[{self.sources.index(line.source) + 1}]" if line.source else ""

    def text(self) -> str:
        """The working as plain text, a line a step, then the sources by number."""
        rows = []
        for line in self.lines:
            steps = " = ".join(part for part in (line.symbol, line.formula, line.numbers, line.result) if part)
            rows.append(f"  {steps}" + (f"   {self._number(line)}" if line.source else ""))
        return "\n".join([self.title, *rows, *(f"  [{i}] {source}" for i, source in enumerate(self.sources, 1))])

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        printer.text(self.text())

    def _repr_html_(self) -> str:
        # The page sets cells of an output to the right unless each of them says otherwise.
        left = 'style="text-align:left"'
        words = ("what", "formula", "numbers", "result", "source")
        head = "".join(f'<th scope="col" {left}>{word}</th>' for word in words)
        body = "".join(
            f'<tr><th scope="row" {left}>{escape(line.symbol)}</th>'
            + "".join(f"<td {left}>{escape(part)}</td>"
                      for part in (line.formula, line.numbers, line.result, self._number(line)))
            + "</tr>"
            for line in self.lines
        )  # fmt: skip
        caption = f"<caption {left}>{escape(self.title)}</caption>"
        table = f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
        listed = "".join(f"<div>[{i}] {escape(source)}</div>" for i, source in enumerate(self.sources, 1))
        return table + listed
