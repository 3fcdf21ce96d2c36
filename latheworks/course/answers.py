"""Answers, kept the moment they are given: one file for each student key, in a folder next to the lesson."""

import errno
import os
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from latheworks.course import answer_file
from latheworks.course.answer_file import Damaged, Entries, TooLarge
from latheworks.course.keys import student_key

FOLDER = "answers"
# What could not be saved, by the file it belongs to: shared by all exercises of a lesson, and there when a cell is
# run again, as long as the page's kernel lives.
_UNSAVED: dict[Path, Entries] = {}


@dataclass(frozen=True, slots=True)
class Kept:
    """One answer as kept: what was given, whether it was checked, how many misses so far, and the verdict.

    `code` is the short code of the numbers that the answer was given to.
    """

    answer: Any
    misses: int = 0
    right: bool | None = None
    checked: bool = False
    shown: bool = False
    code: str = ""


class AnswerBook:
    """All answers of one student.

    `trouble` is a plain sentence about what went wrong with the file, or empty. Where the file cannot be
    written, answers stay in memory, that is on the page, until it can; `unsaved` says so.
    """

    def __init__(self, student: str | None = None, folder: str | Path | None = None) -> None:
        """Open the book of a student; the folder is the one given, or in LATHEWORKS_ANSWERS, or `answers` here."""
        self.student = student_key(student)
        place = Path(folder or os.environ.get("LATHEWORKS_ANSWERS") or FOLDER)
        self.path = place / f"{self.student}.json"
        self.trouble = ""
        self._unsaved = _UNSAVED.setdefault(self.path.absolute(), {})

    @property
    def unsaved(self) -> bool:
        """Whether some answer is on the page only."""
        return bool(self._unsaved)

    def as_file(self) -> bytes:
        """Return all answers, also those that could not be saved, in the form of the file; for a download."""
        return answer_file.as_bytes(self.student, self._look() | self._unsaved)

    def get(self, name: str) -> Kept | None:
        """Return what is kept for one exercise, or None; a damaged file is set aside and the newest copy used."""
        entries: Entries = {}
        self.trouble = ""
        if os.path.lexists(self.path) or any(map(os.path.lexists, answer_file.copies(self.path))):
            try:
                with answer_file.locked(self.path):
                    entries = self._load()
            except (OSError, Damaged) as error:
                # Reading needs no lock, so a folder that cannot be written to still shows its answers.
                entries = self._look()
                self.trouble = _reading(error)
        if self._unsaved:
            self.trouble = _ONLY_HERE
        entry = self._unsaved.get(name) or entries.get(name)
        return None if entry is None else Kept(**entry)

    def keep(self, name: str, kept: Kept) -> bool:
        """Keep one answer at once, beside those that other pages have kept; False, and `trouble`, where it cannot."""
        self.trouble = ""
        try:
            entry = answer_file.clean_entry({
                "answer": kept.answer, "misses": min(kept.misses, 1_000_000), "right": kept.right,
                "checked": kept.checked, "shown": kept.shown, "code": kept.code,
            })  # fmt: skip
        except Damaged:
            self.trouble = _TOO_LONG
            return False
        self._unsaved[name] = entry
        if not _lasts(self.path):
            self.trouble = f"This page has no place in the browser for files. {_STAYS}; then open it anew."
            return False
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with answer_file.locked(self.path):
                entries = self._load() | self._unsaved
                answer_file.write(self.path, self.student, entries)
        except TooLarge:
            del self._unsaved[name]
            self.trouble = _TOO_LONG
            return False
        except (OSError, Damaged) as error:
            self.trouble = _writing(error)
            return False
        self._unsaved.clear()
        return True

    def _load(self) -> Entries:
        """Read the file, or set it aside and read the newest good copy; the lock is held."""
        try:
            return answer_file.read(self.path, self.student)
        except FileNotFoundError:
            missing = True
        except Damaged as error:
            place = answer_file.set_aside(self.path)
            if place is None:
                raise
            missing = False
            self.trouble = f"The answers file was damaged ({error}); it was set aside as {place.name}."
        entries = self._look()
        if missing and entries:
            self.trouble = "The answers file was missing."
        if self.trouble:
            self.trouble += " The newest copy was used." if entries else " No copy of it could be read."
        if entries:
            answer_file.write(self.path, self.student, entries)
        return entries

    def _look(self) -> Entries:
        """The answers of the file or the newest copy that can be read; nothing is changed."""
        for place in (self.path, *answer_file.copies(self.path)):
            try:
                return answer_file.read(place, self.student)
            except (OSError, Damaged):
                continue
        return {}


def _lasts(path: Path) -> bool:
    """Whether what is written there outlives the page; in a browser, only what is on its drive does."""
    return sys.platform != "emscripten" or path.resolve().is_relative_to("/drive")


_TOO_LONG = "This answer is too long to be kept. Shorten it and check again."
_ONLY_HERE = "Some of your answers are on this page only, since they could not be saved. Download them, or check again."
_STAYS = "Your answer stays on this page only. Do not close it before you have downloaded your answers"


def _writing(error: Exception) -> str:
    """What to tell a student whose answer could not be saved; no path and no code."""
    if isinstance(error, TimeoutError):
        return f"Another page is writing your answers just now. {_STAYS}; or check again in a moment."
    if isinstance(error, Damaged):
        return f"Something else stands where your answers file belongs. {_STAYS}; ask your instructor."
    if isinstance(error, OSError) and error.errno in _FULL:
        return f"The disk is full, so your answer could not be saved. {_STAYS}; or make room and check again."
    return f"The folder for answers cannot be written to. {_STAYS}; ask your instructor for a folder of your own."


# No room on the disk, no room left of one's share of it, or a file larger than one may write.
_FULL = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}


def _reading(error: Exception) -> str:
    if isinstance(error, TimeoutError):
        return "Another page is writing your answers just now. Run this cell again in a moment."
    return "Your answers can be read but not written to. Ask your instructor for a folder of your own."
