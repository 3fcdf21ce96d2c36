"""Numbers that differ from student to student: picked from small menus by a keyed hash of the student's key."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from latheworks.course.keys import digest, group_key, share, student_key
from latheworks.errors import OutOfRange, WrongUnit

Item = TypeVar("Item")

# Of signs that look or sound alike at most one: what is copied by hand must come out the same.
SIGNS = "34679ACDEFHJKMNPQRTWXY"
CODE_LENGTH = 6
_ASSIGNMENT = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}")


@dataclass(frozen=True, slots=True)
class Variant:
    """The personal numbers of one student, or one group, for one exercise; the same everywhere and in every year."""

    assignment: str
    student: str
    group: str | None
    _seed: bytes = field(repr=False)

    @property
    def code(self) -> str:
        """A short code that tells these numbers from others; the numbers do not follow from it."""
        number = int.from_bytes(digest(self._seed, "code")[:8], "big")
        letters = []
        for _ in range(CODE_LENGTH):
            number, place = divmod(number, len(SIGNS))
            letters.append(SIGNS[place])
        return "".join(letters)

    def pick(self, name: str, menu: Sequence[Item]) -> Item:
        """Return one entry of the menu; the name tells several picks of one exercise apart."""
        if not len(menu):
            raise OutOfRange(f"menu: got nothing to pick {name!r:.40} from, expected at least one entry. Try (1, 2).")
        return menu[self._number(name) % len(menu)]

    def several(self, name: str, menu: Sequence[Item], count: int) -> tuple[Item, ...]:
        """Return `count` different entries of the menu, in the menu's order."""
        if type(count) is not int or not 1 <= count <= len(menu):
            raise OutOfRange(f"count: got {count!r:.40}, expected 1 to {len(menu)}, the length of the menu. Try 1.")
        ranked = sorted(range(len(menu)), key=lambda place: self._number(name, place))
        return tuple(menu[place] for place in sorted(ranked[:count]))

    def _number(self, name: str, place: int | None = None) -> int:
        if type(name) is not str or not 1 <= len(name) <= 80 or not (name.isascii() and name.isprintable()):
            raise WrongUnit(f'name: got {name!r:.40}, expected a word for what is picked. Try "pitch".')
        kind = "pick" if place is None else f"several {place}"
        return int.from_bytes(digest(self._seed, kind, name)[:8], "big")


def variant(
    assignment: str, student: str | None = None, *, group: str | None = None, course: str | None = None
) -> Variant:
    """Return the personal numbers of one student for one assignment; those who share a group share its numbers.

    Seed = HMAC(HMAC(course key, student or group), assignment). Parameters: assignment, the exercise's name such as
    "01.tap_drill"; student, the key; group, the group's name, or "" for none; course, the course key, a pass, or the
    file that holds one [no unit]. None takes each from LATHEWORKS_STUDENT, LATHEWORKS_GROUP and LATHEWORKS_COURSE;
    where these are not set: "me", no group, and a key known to all. Raises LatheworksError for an unusable one.
    Source: our own; HMAC-SHA-256 by RFC 2104.

    >>> variant("00.inch", "ana-7", course="an-invented-course-key").pick("size", ("a", "b", "c"))
    'b'
    """
    if type(assignment) is not str or not _ASSIGNMENT.fullmatch(assignment):
        raise WrongUnit(f'assignment: got {assignment!r:.40}, expected a name. Try "01.tap_drill".')
    who, shared = student_key(student), group_key(group)
    own = share("student", who, course) if shared is None else share("group", shared, course)
    return Variant(assignment, who, shared, digest(own, assignment))
