"""An instructor's TOML file, of a lathe or of a rack of tools: read with a bound on its size, each number checked."""

import math
import tomllib
from pathlib import Path
from typing import Any

from latheworks.door import Door
from latheworks.errors import LatheworksError, OutOfRange, WrongUnit

_LARGEST_FILE = 64_000


def read_toml(path: Path, what: str, copy: str) -> dict[str, Any]:
    """The entries of an instructor's file, of a lathe or of a rack; a sentence when it cannot be read."""
    try:
        with path.open("rb") as file:
            content = file.read(_LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        raise LatheworksError(
            f"{what}: path: {str(path)[:80]!r} cannot be read ({str(error)[:60]}). Try {copy}."
        ) from None
    if len(content) > _LARGEST_FILE:
        raise OutOfRange(f"{what}: path: {path.name!r:.60} is larger than {_LARGEST_FILE} bytes. Try {copy}.")
    try:
        return tomllib.loads(content.decode("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        raise LatheworksError(f"{what}: path: {path.name!r:.60} is no TOML ({str(error)[:120]}). Try {copy}.") from None


def number_of(door: Door, entries: dict[str, Any], heading: str, unit: str, least: float, most: float) -> float:
    """One number of a file; complain at the door and return the least where it is none."""
    value = entries.get(heading)
    wanted = f"a number from {least:g} to {most:g} {unit}"
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        got = "nothing" if value is None else f"{value!r:.60}"
        door.complain(f'"{heading}"', got, wanted, f'"{heading}" = {(least * most) ** 0.5:.3g}', WrongUnit)
        return least
    if not math.isfinite(value) or not least <= value <= most:
        door.complain(f'"{heading}"', f"{value:g}", wanted, "the maker's number for it", OutOfRange)
        return least
    return float(value)
