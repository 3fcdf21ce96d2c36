"""Finding the answers files that were handed in: names are looked at, nothing is opened, no link is followed."""

import os
import re
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass, replace
from pathlib import Path

from latheworks.course.keys import student_key
from latheworks.errors import LatheworksError, OutOfRange

MOST_NAMES = 100_000
LONGEST_FOLDER = 120
# Copies that `answer_file` keeps beside the file; they are not handed in.
_COPY = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}\.(\d|damaged-\d{1,2})\.json")


@dataclass(frozen=True, slots=True)
class Found:
    """One name that was found: where, as it can be shown; the key it bears; `code`, why it is not opened, or empty."""

    place: str
    path: Path
    key: str
    code: str = ""
    notes: tuple[str, ...] = ()


def look(folder: Path, listed: Collection[str] = ()) -> tuple[list[Found], list[tuple[str, str]]]:
    """Return the answers files of a folder, and of one level of folders in it, and what was left out and why.

    An answers file is called KEY.json. It lies in the folder itself, or in a folder of any name in it, such as one for
    each student; a folder that is called by a key that is listed holds that student's file and no other.
    Raises LatheworksError for what is no folder.
    """
    found: list[Found] = []
    left: list[tuple[str, str]] = []
    for entry in _entries(folder):
        if _hidden(entry, "", left):
            continue
        if entry.is_symlink():
            found.append(Found(shown(entry.name), Path(entry.path), _key_of(entry.name), "no plain file"))
        elif entry.is_dir(follow_symlinks=False):
            found += _inside(entry, left, listed)
        else:
            found += _file(entry, "", left)
    keys = Counter(each.key for each in found if not each.code)
    twice = "This key was handed in more than once. Each file is graded; a person has to say which one counts."
    return [replace(each, notes=(twice,)) if not each.code and keys[each.key] > 1 else each for each in found], left


def _inside(folder: "os.DirEntry[str]", left: list[tuple[str, str]], listed: Collection[str]) -> list[Found]:
    """The answers files in a folder."""
    name, path = shown(folder.name), Path(folder.path)
    if len(folder.name) > LONGEST_FOLDER or not folder.name.isprintable():
        return [Found(name, path, "", "odd folder")]
    owner = folder.name if folder.name in listed else ""
    found: list[Found] = []
    try:
        entries = _entries(path)
    except LatheworksError:
        return [Found(name, path, _key(folder.name), "cannot be opened")]
    for entry in entries:
        if _hidden(entry, f"{name}/", left):
            continue
        if entry.is_symlink():
            place = f"{name}/{shown(entry.name)}"
            found.append(Found(place, Path(entry.path), owner or _key_of(entry.name), "no plain file"))
        elif entry.is_dir(follow_symlinks=False):
            left.append((f"{name}/{shown(entry.name)}", "a folder inside a folder"))
        else:
            found += _file(entry, f"{name}/", left)
    if owner:
        # The folder says whose it is, so that nobody's name stands on what another handed in.
        found = [replace(each, key=owner, code=each.code or "other folder") if each.key != owner else each
                 for each in found]  # fmt: skip
    return found or [Found(name, path, _key(folder.name), "no file")]


def _hidden(entry: "os.DirEntry[str]", before: str, left: list[tuple[str, str]]) -> bool:
    """Whether a name is hidden, as locks and a system's own files are; one that could be handed in is listed."""
    if entry.name.startswith(".") and entry.name.lower().endswith(".json"):
        left.append((before + shown(entry.name), "a hidden name"))
    return entry.name.startswith(".")


def _file(entry: "os.DirEntry[str]", before: str, left: list[tuple[str, str]]) -> list[Found]:
    """An answers file, or nothing where it is something else."""
    place, path = before + shown(entry.name), Path(entry.path)
    if os.path.splitext(entry.name)[1].lower() != ".json":
        left.append((place, "no .json file"))
        return []
    if _COPY.fullmatch(entry.name):
        left.append((place, "a copy that is kept beside the answers"))
        return []
    key = _key_of(entry.name)
    return [Found(place, path, key, "" if key else "odd name")]


def _key_of(name: str) -> str:
    """The student key that a file's name bears, or nothing."""
    return _key(name.removesuffix(".json")) if name.endswith(".json") else ""


def _key(text: str) -> str:
    """The text where it is a student key, else nothing."""
    try:
        return student_key(text)
    except LatheworksError:
        return ""


def _entries(folder: Path) -> "list[os.DirEntry[str]]":
    """What lies in a folder, sorted by name."""
    try:
        with os.scandir(folder) as listing:
            entries = []
            for entry in listing:
                entries.append(entry)
                if len(entries) > MOST_NAMES:
                    raise OutOfRange(f"grade: folder: more than {MOST_NAMES} names in it. Try a smaller one.")
    except (OSError, ValueError) as error:
        if isinstance(error, LatheworksError):
            raise
        raise LatheworksError(
            f"grade: folder: {shown(str(folder))[-80:]!r} cannot be read. Try the folder that holds the answers files."
        ) from None
    return sorted(entries, key=lambda entry: entry.name)


def shown(name: str) -> str:
    """A name as it can be shown: short, and with a mark for each sign that cannot be seen."""
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in name[:LONGEST_FOLDER])
