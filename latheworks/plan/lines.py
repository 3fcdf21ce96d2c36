"""Where in a JSON text a value stands, so that a message can name its line."""

import re
from collections.abc import Sequence
from json.decoder import scanstring  # type: ignore[attr-defined]

_BLANK = re.compile(r"[ \t\r\n]*")
_PLAIN = re.compile(r"[-+.0-9A-Za-z]+")


def line_of(text: str, path: Sequence[str | int]) -> int:
    """The line, from 1, on which the value at a path of keys and places begins; the last one found on the way to it.

    The text has been read as JSON before, so it is well formed.
    """
    begin, at = 0, _skip(text, 0)
    for step in path:
        found = _inside(text, at, step)
        if found is None:
            break
        begin, at = found
    return text.count("\n", 0, begin) + 1


def _skip(text: str, at: int) -> int:
    match = _BLANK.match(text, at)
    return match.end() if match else at


def _inside(text: str, at: int, step: str | int) -> tuple[int, int] | None:
    """Where the entry of a list or an object begins, and where its value does; None where there is none."""
    if at >= len(text) or text[at] != ("{" if isinstance(step, str) else "["):
        return None
    at, number = _skip(text, at + 1), 0
    while at < len(text) and text[at] not in "}]":
        begin, name = at, None
        if isinstance(step, str):
            name, at = scanstring(text, at + 1, True)
            at = _skip(text, _skip(text, at) + 1)
        if step in (name, number) and (isinstance(step, str) == (name is not None)):
            return begin, at
        at = _skip(text, _past(text, at))
        at = _skip(text, at + 1) if at < len(text) and text[at] == "," else at
        number += 1
    return None


def _past(text: str, at: int) -> int:
    """The place behind a whole value."""
    if text[at] == '"':
        return int(scanstring(text, at + 1, True)[1])
    if text[at] not in "{[":
        match = _PLAIN.match(text, at)
        return match.end() if match else at + 1
    deep = 0
    while True:
        if text[at] == '"':
            at = int(scanstring(text, at + 1, True)[1])
            continue
        deep += (text[at] in "{[") - (text[at] in "}]")
        at += 1
        if deep == 0:
            return at
