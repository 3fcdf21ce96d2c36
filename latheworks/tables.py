"""The published tables: CSV files with units in the header, printed digits kept as text, a source for every row."""

import csv
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from latheworks.door import nearest
from latheworks.errors import NotInTable

DATA = Path(__file__).parent / "data"
BASES = ("read", "common practice", "from memory", "invented")

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number comes from, and how we know: read, common practice, from memory, or invented for teaching."""

    key: str
    title: str
    edition: str
    where: str
    basis: str

    def __str__(self) -> str:
        words = [self.title, self.edition, self.where]
        known = {"read": "", "common practice": "common practice, no source"}.get(self.basis, self.basis)
        return ", ".join(word for word in [*words, known] if word)


@cache
def table(name: str) -> tuple[Row, ...]:
    """Return the rows of a table in latheworks/data, header to printed text; raises NotInTable for another name.

    >>> table("drills_letter")[0]["name"]
    'A'
    """
    path = DATA / f"{name}.csv"
    if name not in tables():
        raise NotInTable(f"No table {name!r:.60}. Try {nearest(name, tables()) or tables()[0]!r}.")
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(MappingProxyType(row) for row in csv.DictReader(file))


@cache
def tables() -> tuple[str, ...]:
    """The names of all tables, in order."""
    return tuple(sorted(path.stem for path in DATA.glob("*.csv")))


@cache
def sources() -> Mapping[str, Source]:
    """All sources by key."""
    with (DATA / "sources.toml").open("rb") as file:
        entries = tomllib.load(file)
    return MappingProxyType({
        key: Source(key, e["title"], e.get("edition", ""), e.get("where", ""), e["basis"]) for key, e in entries.items()
    })  # fmt: skip


def source(key: str) -> Source:
    """Return one source by its key; raises NotInTable for an unknown one."""
    if key not in sources():
        raise NotInTable(f"No source {key!r:.60}. Try {nearest(key, sources()) or next(iter(sources()))!r}.")
    return sources()[key]


def cite(keys: str) -> str:
    """Write out one or more sources given as `key` or `key+key`."""
    return "; ".join(str(source(key)) for key in keys.split("+"))
