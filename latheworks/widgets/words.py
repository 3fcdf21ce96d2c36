"""The words of a bench: its reading, and the HTML of reading, picture and table, with every text escaped."""

import base64
from dataclasses import dataclass
from html import escape

from latheworks.pictures.style import Shown, Table

# A value of more letters than this is no longer a number with its unit.
LONG = 18


@dataclass(frozen=True)
class Reading:
    """What a setting gives, in words: the verdict against the limit, and the numbers that matter."""

    good: bool
    verdict: str
    facts: tuple[tuple[str, str], ...]
    notes: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The reading as plain lines."""
        return "\n".join([self.verdict, *(f"{name}: {value}" for name, value in self.facts), *self.notes])


def safe(text: str) -> str:
    """Words for the page: nothing in them is markup, and nothing is set as a formula.

    JupyterLab sets what stands between dollar signs, or after a stroke and bracket, in any one run of text.
    """
    return escape(text).replace("$", "<span>$</span>").replace("\\", "<span>\\</span>")


def picture_html(shown: Shown, alt: str) -> str:
    """The picture as HTML, with its words for those who cannot see it."""
    source = base64.b64encode(shown.png).decode("ascii")
    image = f'<img alt="{escape(alt)}" width="{shown.width}" height="{shown.height}" '
    return f'<div class="lw-picture">{image}src="data:image/png;base64,{source}"></div>'


def reading_html(now: Reading, kept: Reading | None, out_of_date: bool = False) -> str:
    """The reading as HTML, beside that of the kept setting; one that is out of date passes no verdict."""
    mark, name = ("\u2713", "lw-good") if now.good else ("\u2717", "lw-bad")
    if out_of_date:
        mark, name = "Out of date, the last setting that worked:", "lw-old"
    verdict = f'<p class="lw-verdict {name}">{mark} {safe(now.verdict)}</p>'
    before = dict(kept.facts) if kept else {}
    head = '<thead><tr><td></td><th scope="col">now</th><th scope="col">kept</th></tr></thead>' if kept else ""
    rows = "".join(
        f'<tr><th scope="row">{safe(words)}</th>{_cell(value)}{_cell(before.get(words, "")) if kept else ""}</tr>'
        for words, value in now.facts
    )
    notes = "".join(f'<p class="lw-note">{safe(note)}</p>' for note in now.notes)
    wide = " lw-two" if kept else ""
    return f'<div class="lw-reading{wide}">{verdict}<table>{head}<tbody>{rows}</tbody></table>{notes}</div>'


def _cell(value: str) -> str:
    """A value in the reading; only a long one may run over into a second line."""
    return f"<td{' class=lw-long' if len(value) > LONG else ''}>{safe(value)}</td>"


def table_html(table: Table) -> str:
    """The table twin as HTML."""
    head = "".join(f'<th scope="col">{safe(words)}</th>' for words in table.headings)
    body = "".join("<tr>" + "".join(f"<td>{safe(cell)}</td>" for cell in row) + "</tr>" for row in table.rows)
    caption = f"<caption>{safe(table.caption)}</caption>"
    return f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
