"""Keys: a student's, a group's, the course's, and the pass that lets one of them make their own numbers and no others.

The course key makes everybody's numbers. It stays with the instructor, or on a server that starts the students'
notebooks. On a machine of their own students get a pass instead: their own share of the key, and nothing more.
"""

import hmac
import os
import re
from dataclasses import dataclass
from pathlib import Path

from latheworks.errors import LatheworksError

EVERYBODY = "me"
# Known to all, for reading on one's own: it hides nothing, and makes the numbers that the lessons print.
PUBLIC = "latheworks-self-study"
LONGEST_FILE = 1_000

_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
_COURSE = re.compile(r"[A-Za-z0-9_-]{16,128}")
_PASS = re.compile(r"(student|group):([a-z0-9][a-z0-9_-]{0,39}):([0-9a-f]{64})")
# Names that one operating system keeps for its devices; a file called so cannot be handed round.
_DEVICES = {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}
_VERSION = "latheworks numbers 1"


@dataclass(frozen=True, slots=True)
class Pass:
    """The share of a course key that belongs to one student or one group."""

    kind: str
    name: str
    share: bytes


def student_key(key: str | None = None) -> str:
    """Return a student's key: the one given, or the one in LATHEWORKS_STUDENT, or the pass's, or "me".

    Parameters: key, 1 to 40 small letters, digits, - and _ [no unit]. Raises LatheworksError for anything else:
    the key names a file, so it is refused rather than altered. Source: our own rule.

    >>> student_key("ana-7")
    'ana-7'
    """
    if key is None:
        key = os.environ.get("LATHEWORKS_STUDENT") or _owner("student") or EVERYBODY
    return _name(key, "Student key", "ana-7")


def group_key(key: str | None = None) -> str | None:
    """Return the name of the group that shares numbers: the one given, in LATHEWORKS_GROUP, the pass's, or None.

    Parameters: key, like a student's [no unit]; an empty text means no group, whatever the surroundings say.
    Raises LatheworksError for anything else. Source: our own rule.

    >>> group_key("team-3")
    'team-3'
    """
    if key is None:
        key = os.environ.get("LATHEWORKS_GROUP") or _owner("group") or ""
    return None if type(key) is str and not key else _name(key, "Group", "team-3")


def share(kind: str, name: str, course: str | None = None) -> bytes:
    """Return the 32 bytes from which all numbers of one student or group are made, from a course key or a pass."""
    held = course_key(course)
    if isinstance(held, Pass):
        if (held.kind, held.name) != (kind, name):
            raise LatheworksError(
                f"Course key: got the pass of {held.kind} {held.name}, expected one of {kind} {name}. "
                "Use your own key and group, or ask your instructor for the pass that belongs to them."
            )
        return held.share
    return digest(held.encode("ascii"), _VERSION, kind, name)


def course_pass(student: str | None = None, group: str | None = None, course: str | None = None) -> str:
    """Return the pass to hand to one student, or to one group: it makes their numbers, and nobody else's.

    Parameters: student or group, whose pass [no unit]; course, the course key or its file, or None for the one in
    LATHEWORKS_COURSE. The pass goes where the course key would. Raises LatheworksError for an unusable key, or for
    both or neither of student and group. Source: our own; HMAC-SHA-256 by RFC 2104.

    >>> course_pass("ana-7", course="an-invented-course-key")[:20]
    'student:ana-7:f50691'
    """
    if (student is None) is (group is None):
        raise LatheworksError('Pass: expected a student or a group. Try course_pass("ana-7").')
    if student is not None:
        kind, name = "student", student_key(student)
    else:
        kind, name = "group", _name(group, "Group", "team-3")
    return f"{kind}:{name}:{share(kind, name, course).hex()}"


def course_key(course: str | None = None) -> str | Pass:
    """Return the course key, or a pass: as given, or as in LATHEWORKS_COURSE, or the public one.

    Parameters: course, the key (16 to 128 letters, digits, - and _), a pass, or the path of a small file that holds
    one of them; a path has a dot or a slash in it, which a key has not [no unit]. Raises LatheworksError for anything
    else, without showing what was given: it may be a secret. Source: our own rule.

    >>> course_key("an-invented-course-key")
    'an-invented-course-key'
    """
    text = course if course is not None else os.environ.get("LATHEWORKS_COURSE") or PUBLIC
    if type(text) is not str:
        raise LatheworksError("Course key: expected a text. Try a file's path, or leave it out.")
    # Copied from a list or a mail, a key brings the end of its line along.
    text = text.strip()
    if not _PASS.fullmatch(text) and any(sign in text for sign in "./\\"):
        text = _from_file(text)
    held = _PASS.fullmatch(text)
    if held:
        return Pass(held[1], held[2], bytes.fromhex(held[3]))
    if not _COURSE.fullmatch(text):
        raise LatheworksError(
            f"Course key: got {len(text)} characters that are no key, expected 16 to 128 letters, digits, - or _, or a "
            "file that holds them. Try a random one: python -c 'import secrets; print(secrets.token_urlsafe(24))'."
        )
    return text


def digest(key: bytes, *parts: str) -> bytes:
    """HMAC-SHA-256 of some texts, told apart by a character that none of them holds."""
    return hmac.digest(key, "\0".join(parts).encode("ascii"), "sha256")


def _owner(kind: str) -> str | None:
    """Whose pass the surroundings hold, if they hold one of this kind."""
    held = course_key() if os.environ.get("LATHEWORKS_COURSE") else None
    return held.name if isinstance(held, Pass) and held.kind == kind else None


def _name(value: object, what: str, example: str) -> str:
    if type(value) is not str or not _NAME.fullmatch(value) or value in _DEVICES:
        raise LatheworksError(
            f"{what}: got {repr(value)[:60]}, expected 1 to 40 small letters, digits, - or _. "
            f"Try something like {example}."
        )
    return value


def _from_file(place: str) -> str:
    """The text of a small plain file; nothing of it is ever shown."""
    try:
        path = Path(place)
        # Asked first, so that a pipe in its place cannot keep us waiting.
        if not path.is_file() or path.stat().st_size > LONGEST_FILE:
            raise OSError
        return path.read_bytes()[:LONGEST_FILE].decode("ascii").strip()
    except (OSError, ValueError):
        raise LatheworksError(
            "Course key: the file that LATHEWORKS_COURSE names cannot be read, or holds no key. "
            "Look at its place, or ask your instructor for it again."
        ) from None
