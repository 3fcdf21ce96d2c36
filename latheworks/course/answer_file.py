"""The answers file: its strict reading, its safe writing, and the lock that lets two tabs share it."""

import contextlib
import json
import math
import os
import stat
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from latheworks.errors import LatheworksError

SCHEMA = "latheworks answers 1"
LARGEST = 1_000_000
LONGEST_TEXT = 4_000
MOST_PARTS = 50
MOST_ANSWERS = 500
COPIES = 3
PATIENCE = 2.0

Entries = dict[str, dict[str, Any]]


class Damaged(LatheworksError):
    """An answers file that is not what was written."""


def read(path: Path, student: str) -> Entries:
    """Return the answers in the file; raises Damaged for anything but our own schema, OSError where it is not there."""
    # A link, a pipe or a device in place of the file must neither be followed nor hang the reader.
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    if not stat.S_ISREG(path.lstat().st_mode):
        raise Damaged("it is not a plain file")
    with os.fdopen(os.open(path, flags), "rb") as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise Damaged("it is not a plain file")
        raw = file.read(LARGEST + 1)
    if len(raw) > LARGEST:
        raise Damaged("it is too large")
    return parse(raw, student)


def parse(raw: bytes, student: str) -> Entries:
    """Return the answers in the bytes of a file; raises Damaged."""
    try:
        data = json.loads(raw.decode("utf-8"), object_pairs_hook=_no_twins, parse_constant=_refuse, parse_float=_refuse)
    except (ValueError, RecursionError) as error:
        raise Damaged("it is not whole") from error
    if type(data) is not dict or data.get("schema") != SCHEMA:
        raise Damaged("it was not written by this version")
    if data.get("student") != student:
        raise Damaged("it belongs to another student key")
    answers = data.get("answers")
    if type(answers) is not dict or len(answers) > MOST_ANSWERS:
        raise Damaged("it holds no list of answers")
    return {_text(name, 80): clean_entry(entry) for name, entry in answers.items()}


def clean_entry(entry: Any) -> dict[str, Any]:
    """Return one entry with the known fields only; raises Damaged where a field has another type or size."""
    if type(entry) is not dict:
        raise Damaged("an entry is not one of ours")
    misses, right = entry.get("misses"), entry.get("right")
    if type(misses) is not int or not 0 <= misses <= 1_000_000:
        raise Damaged("a count is out of range")
    if right is not None and type(right) is not bool:
        raise Damaged("a verdict is neither yes nor no")
    flags = {name: entry.get(name) for name in ("checked", "shown")}
    if any(type(flag) is not bool for flag in flags.values()):
        raise Damaged("a mark is neither yes nor no")
    return {"answer": clean_answer(entry.get("answer")), "misses": misses, "right": right, **flags}


def clean_answer(answer: Any) -> Any:
    """Return an answer made of plain texts only: one, a list, or a mapping of them; raises Damaged."""
    if type(answer) is list and len(answer) <= MOST_PARTS:
        return [_text(part, LONGEST_TEXT) for part in answer]
    if type(answer) is dict and len(answer) <= MOST_PARTS:
        return {_text(name, 80): _text(part, LONGEST_TEXT) for name, part in answer.items()}
    return _text(answer, LONGEST_TEXT)


def _text(value: Any, longest: int) -> str:
    if type(value) is not str or len(value) > longest:
        raise Damaged("an answer is not a text of the usual length")
    if any(0xD800 <= ord(sign) <= 0xDFFF for sign in value):
        raise Damaged("an answer holds half a sign")
    return value


def _no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len({name for name, _ in pairs}) != len(pairs):
        raise Damaged("a name appears twice")
    return dict(pairs)


def _refuse(number: str) -> float:
    # Sizes are kept as the text that was typed, so a bare decimal is not ours; NaN and infinity come here too.
    raise Damaged(f"it holds a bare number that is not whole ({math.nan if len(number) > 20 else number})")


def write(path: Path, student: str, entries: Entries) -> None:
    """Replace the file by the answers, keeping the last copies; all or nothing. Raises OSError."""
    text = json.dumps(
        {"schema": SCHEMA, "student": student, "answers": entries}, indent=1, sort_keys=True, allow_nan=False
    )
    handle, temporary = tempfile.mkstemp(prefix=f".{path.stem}-", suffix=".tmp", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("ascii"))
            file.flush()
            os.fsync(file.fileno())
        _keep_copies(path)
        os.replace(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def copies(path: Path) -> list[Path]:
    """Where the kept copies are, newest first."""
    return [path.with_name(f"{path.stem}.{number}.json") for number in range(1, COPIES + 1)]


def _keep_copies(path: Path) -> None:
    """Move each copy one place back and make the present file the newest copy."""
    if not path.exists():
        return
    places = copies(path)
    for older, newer in zip(reversed(places), reversed(places[:-1]), strict=False):
        if newer.exists():
            os.replace(newer, older)
    # Written out rather than linked: some shared folders have no links, and the file must stay in place meanwhile.
    handle, temporary = tempfile.mkstemp(prefix=f".{path.stem}-", suffix=".tmp", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(path.read_bytes())
        os.replace(temporary, places[0])
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def set_aside(path: Path) -> Path | None:
    """Move a damaged file out of the way without losing it; None where that is not possible."""
    for number in range(1, 100):
        place = path.with_name(f"{path.stem}.damaged-{number}.json")
        if not os.path.lexists(place):
            try:
                os.rename(path, place)
            except OSError:
                return None
            return place
    return None


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold the lock of an answers file; the system frees it when a process ends. Raises TimeoutError or OSError."""
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)
    handle = os.open(path.with_name(f".{path.stem}.lock"), flags, 0o600)
    try:
        limit = time.monotonic() + PATIENCE
        while not _try_lock(handle):
            if time.monotonic() > limit:
                raise TimeoutError("another page holds the answers file")
            time.sleep(0.02)
        yield
    finally:
        os.close(handle)


if sys.platform == "win32":
    import msvcrt

    def _try_lock(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _try_lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
