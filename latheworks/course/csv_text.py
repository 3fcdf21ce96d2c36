"""Tables as CSV text that a spreadsheet shows as they are: no text in them is taken for a formula."""

import csv
import io
import os
import re
import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from latheworks.errors import LatheworksError, WrongUnit

# What makes a spreadsheet reckon; a wide or small form of the same sign counts too.
STARTS = "=+-@|%"
_NUMBER = re.compile(r"-?\d{1,15}(\.\d{1,15})?", re.ASCII)
_QUOTES = "'\"`´‘’‚‛“”„‟«»‹›"


def cell(value: Any) -> Any:
    """A value for a cell: a plain number as it is, a text with an apostrophe before it where it could be a formula.

    >>> cell("=1+1"), cell(-3.2), cell("-3.2")
    ("'=1+1", -3.2, '-3.2')
    """
    if type(value) in (int, float):
        return value
    text = "".join(map(_shown, str(value)))
    return f"'{text}" if _could_be_formula(str(value)) else text


def _could_be_formula(text: str) -> bool:
    if _NUMBER.fullmatch(text):
        return False
    if text[:1] in ("\t", "\r", "\n"):
        return True
    # Spreadsheets pass over spaces, quotes and signs without width before they look.
    bare = next((sign for sign in text if not (sign.isspace() or sign in _QUOTES or _hidden(sign))), "")
    return bool(bare) and unicodedata.normalize("NFKC", bare)[:1] in STARTS


def _hidden(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp", "Mn")


def _shown(sign: str) -> str:
    """A sign as it is; one that steers a terminal or a reader, but for the ends of lines, as a mark."""
    return "�" if unicodedata.category(sign) in ("Cc", "Cs") and sign not in "\t\r\n" else sign


def as_csv(heading: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """The table as text: numbers bare, every text quoted, so that no other separator can cut one open."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow([cell(name) for name in heading])
    writer.writerows([cell(value) for value in row] for row in rows)
    return out.getvalue()


def put(path: str | Path, text: str, suffix: str, private: bool = False) -> None:
    """Put a text into a new file. Raises LatheworksError where something is there already or it cannot be written."""
    if not isinstance(path, (str, Path)) or Path(path).suffix != suffix:
        raise WrongUnit(f'path: got {path!r:.60}, expected one that ends in {suffix}. Try "my_file{suffix}".')
    try:
        # A link or a file in its place stays as it is.
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        with os.fdopen(os.open(path, flags, 0o600 if private else 0o666), "wb") as file:
            file.write(text.encode("utf-8"))
    except FileExistsError:
        raise LatheworksError(f"{Path(path).name!r:.80} is there already. Try another name, or move it away.") from None
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else "its name"
        raise LatheworksError(f"{Path(path).name!r:.80} cannot be written ({why}). Try a folder of your own.") from None
