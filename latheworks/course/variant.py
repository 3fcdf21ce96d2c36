"""Numbers that differ from student to student: picked from small menus by a hash of the student's key."""

import hashlib
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from latheworks.errors import LatheworksError, OutOfRange, WrongUnit

Item = TypeVar("Item")

EVERYBODY = "me"
_KEY = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
# Names that one operating system keeps for its devices; a file called so cannot be handed round.
_DEVICES = {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}


def student_key(key: str | None = None) -> str:
    """Return a student's key: the one given, or the one in LATHEWORKS_STUDENT, or "me".

    Parameters: key, 1 to 40 small letters, digits, - and _ [no unit]. Raises LatheworksError for anything else:
    the key names a file, so it is refused rather than altered. Source: our own rule.

    >>> student_key("ana-7")
    'ana-7'
    """
    value = key if key is not None else os.environ.get("LATHEWORKS_STUDENT", "") or EVERYBODY
    if type(value) is not str or not _KEY.fullmatch(value) or value in _DEVICES:
        shown = repr(value)[:60]
        raise LatheworksError(
            f"Student key: got {shown}, expected 1 to 40 small letters, digits, - or _. Try something like ana-7."
        )
    return value


@dataclass(frozen=True, slots=True)
class Variant:
    """The personal numbers of one student for one exercise; the same on every machine and in every year."""

    assignment: str
    student: str

    def pick(self, name: str, menu: Sequence[Item]) -> Item:
        """Return one entry of the menu; the name tells several picks of one exercise apart."""
        if not isinstance(name, str) or not name:
            raise WrongUnit(f'name: got {name!r:.40}, expected a word for what is picked. Try "pitch".')
        if not len(menu):
            raise OutOfRange(f"menu: got nothing to pick {name} from, expected at least one entry. Try (1, 2).")
        return menu[self._number(name) % len(menu)]

    def several(self, name: str, menu: Sequence[Item], count: int) -> tuple[Item, ...]:
        """Return `count` different entries of the menu, in the menu's order."""
        if not 1 <= count <= len(menu):
            raise OutOfRange(f"count: got {count!r:.40}, expected 1 to {len(menu)}, the length of the menu. Try 1.")
        ranked = sorted(range(len(menu)), key=lambda place: self._number(f"{name} {place}"))
        return tuple(menu[place] for place in sorted(ranked[:count]))

    def _number(self, name: str) -> int:
        # hashlib, since hash() and random differ between runs and versions of Python.
        digest = hashlib.sha256("\0".join((self.assignment, self.student, name)).encode()).digest()
        return int.from_bytes(digest[:8], "big")


def variant(assignment: str, student: str | None = None) -> Variant:
    """Return the personal numbers of one student for one assignment.

    Parameters: assignment, the exercise's name such as "01.tap_drill"; student, the key, or None for the
    default one. Raises LatheworksError for an unusable key. Source: our own; SHA-256 by FIPS 180-4, from memory.

    >>> variant("00.inch", "me").pick("size", ("a", "b", "c")) in ("a", "b", "c")
    True
    """
    if not isinstance(assignment, str) or not assignment:
        raise WrongUnit(f'assignment: got {assignment!r:.40}, expected a name. Try "01.tap_drill".')
    return Variant(assignment, student_key(student))
