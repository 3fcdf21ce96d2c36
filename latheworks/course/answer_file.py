"""The answers file: its strict reading, its safe writing, and the lock that lets two tabs share it."""

import contextlib
import json
import os
import stat
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from latheworks.errors import LatheworksError

SCHEMA = "latheworks answers 1"
LARGEST = 1_000_000
LONGEST_TEXT = 4_000
LONGEST_PLAN = 60_000
MOST_PARTS = 50
MOST_ANSWERS = 500
COPIES = 3
FIELDS = frozenset(("answer", "misses", "right", "checked", "shown", "code"))
PATIENCE = 2.0

Entries = dict[str, dict[str, Any]]


class Damaged(LatheworksError):
    """An answers file that is not what was written; `code` is a short stable word for what is wrong."""

    def __init__(self, what: str, code: str = "odd entry") -> None:
        super().__init__(what)
        self.code = code


class TooLarge(LatheworksError):
    """More answers than one file takes."""


def read(path: Path, student: str) -> Entries:
    """Return the answers in the file; raises Damaged for anything but our own schema, OSError where it is not there."""
    return parse(take(path), student)


def take(path: Path) -> bytes:
    """Return the bytes of a plain file of the usual size; raises Damaged or OSError."""
    # A link, a pipe or a device in place of the file must neither be followed nor hang the reader.
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    if not stat.S_ISREG(path.lstat().st_mode):
        raise Damaged("it is not a plain file", "no plain file")
    with os.fdopen(os.open(path, flags), "rb") as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise Damaged("it is not a plain file", "no plain file")
        raw = file.read(LARGEST + 1)
    if len(raw) > LARGEST:
        raise Damaged("it is too large", "too large")
    return raw


def parse(raw: bytes, student: str) -> Entries:
    """Return the answers in the bytes of a file; raises Damaged."""
    return parse_all(raw, student)[0]


def parse_all(raw: bytes, student: str) -> tuple[Entries, tuple[str, ...]]:
    """Return the answers in the bytes of a file, and the names in it that nobody knows; raises Damaged."""
    if len(raw) > LARGEST:
        raise Damaged("it is too large", "too large")
    try:
        data = json.loads(raw.decode("utf-8"), object_pairs_hook=_no_twins, parse_constant=_refuse, parse_float=_refuse)
    except Damaged:
        raise
    except (ValueError, RecursionError) as error:
        raise Damaged("it is not whole", "not whole") from error
    if type(data) is not dict or data.get("schema") != SCHEMA:
        raise Damaged("it was not written by this version", "other version")
    if data.get("student") != student:
        raise Damaged("it belongs to another student key", "other key")
    answers = data.get("answers")
    if type(answers) is not dict or len(answers) > MOST_ANSWERS:
        raise Damaged("it holds no list of answers", "no answers")
    entries = {_text(name, 80): clean_entry(entry) for name, entry in answers.items()}
    strange = {*data} - {"schema", "student", "answers"}
    return entries, tuple(sorted(strange.union(*(set(entry) - FIELDS for entry in answers.values()))))


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
    # An entry of before there were codes has none.
    code = _text(entry.get("code", ""), 20)
    return {"answer": clean_answer(entry.get("answer")), "misses": misses, "right": right, "code": code, **flags}


def is_plan(answer: Any) -> bool:
    """Whether an answer has the form in which a plan is kept."""
    # The type of the name first: one that equals everything is no name.
    return type(answer) is dict and [*map(type, answer)] == [str] and "plan" in answer


def clean_answer(answer: Any) -> Any:
    """Return an answer made of plain texts only: one, a list, or a mapping of them; raises Damaged."""
    if type(answer) is list and len(answer) <= MOST_PARTS:
        return [_text(part, LONGEST_TEXT) for part in answer]
    # A plan is the one long answer, and is kept in this form and no other.
    if is_plan(answer):
        return {"plan": _text(answer["plan"], LONGEST_PLAN)}
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
        raise Damaged("a name appears twice", "name twice")
    return dict(pairs)


def _refuse(number: str) -> float:
    # Sizes are kept as the text that was typed, so a bare decimal is not ours; NaN and infinity come here too.
    raise Damaged("it holds a bare number that is not whole", "bare number")


def as_bytes(student: str, entries: Entries) -> bytes:
    """The file's bytes for these answers. Raises TooLarge where they could not be read back."""
    whole = {"schema": SCHEMA, "student": student, "answers": entries}
    raw = json.dumps(whole, indent=1, sort_keys=True, allow_nan=False).encode("ascii")
    if len(raw) > LARGEST or len(entries) > MOST_ANSWERS:
        raise TooLarge("more answers than one file takes")
    return raw


def write(path: Path, student: str, entries: Entries) -> None:
    """Replace the file by the answers, keeping the last copies; all or nothing. Raises OSError or TooLarge.

    The lock is held.
    """
    with _beside(path, "new") as temporary:
        _fill(temporary, as_bytes(student, entries))
        _keep_copies(path)
        os.replace(temporary, path)
    _settle(path.parent)


@contextlib.contextmanager
def _beside(path: Path, what: str) -> Iterator[Path]:
    """The place of the half-written file; whatever a crash left there goes, and nothing stays after a failure."""
    # One name only, since the lock lets one writer in: so leftovers of crashes cannot pile up.
    temporary = path.with_name(f".{path.stem}.{what}.part")
    with contextlib.suppress(FileNotFoundError):
        os.unlink(temporary)
    try:
        yield temporary
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def _fill(place: Path, content: bytes) -> None:
    """Write a new file, down to the disk; a link in its place is not followed."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(place, flags, 0o600), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _settle(folder: Path) -> None:
    """Ask the system to put the folder's new names on the disk, where it can: the answers are whole without it."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def copies(path: Path) -> list[Path]:
    """Where the kept copies are, newest first."""
    return [path.with_name(f"{path.stem}.{number}.json") for number in range(1, COPIES + 1)]


def _keep_copies(path: Path) -> None:
    """Move each copy one place back and make the present file the newest copy."""
    if not path.exists():
        return
    places = copies(path)
    # Written out rather than linked: some shared folders have no links, and the file must stay in place meanwhile.
    with _beside(path, "copy") as temporary:
        _fill(temporary, path.read_bytes())
        for older, newer in zip(reversed(places), reversed(places[:-1]), strict=False):
            if newer.exists():
                os.replace(newer, older)
        os.replace(temporary, places[0])


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

elif sys.platform == "emscripten":

    def _try_lock(handle: int) -> bool:
        # A kernel inside a browser is the only process that sees its files.
        return True

else:
    import fcntl

    def _try_lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
