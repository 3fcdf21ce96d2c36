"""The tool rack: the drills, reamers, end mills and boring bars that a plan may reach for."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from latheworks.door import Door, given, nearest
from latheworks.errors import Impossible, NotInTable, OutOfRange, WrongUnit
from latheworks.results import Result
from latheworks.shop_file import number_of, read_toml
from latheworks.tables import DATA
from latheworks.units import Q_, U, show

KINDS = ("center_drill", "drill", "reamer", "end_mill", "boring_bar")
_COPY = "a copy of latheworks/data/rack.toml with your tools"
_MOST = 500
# Heading, unit, the least and the most that such a tool could have; the last two where a kind needs them.
_SIZES = [("diameter [mm]", "mm", 0.1, 200.0), ("reach [mm]", "mm", 0.5, 2000.0)]
_OWN = {"drill": ("point angle [degree]", "degree", 60.0, 180.0),
        "boring_bar": ("smallest bore [mm]", "mm", 0.5, 500.0)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool: kind, name, diameter [mm], reach, how far it works into a hole [mm], point_angle of a drill [deg] and
    smallest_bore that a boring bar enters [mm], each None for the other kinds."""

    kind: str
    name: str
    diameter: Any
    reach: Any
    point_angle: Any = None
    smallest_bore: Any = None

    def __str__(self) -> str:
        return f"{self.name}, {show(self.diameter)}, reaches {show(self.reach, digits=0)}"


@dataclass(frozen=True, slots=True)
class Rack(Result):
    """A rack of tools: name; note, what rack this is; tools, in the file's order, each of one kind."""

    name: str
    note: str
    tools: tuple[Tool, ...]

    @property
    def by_kind(self) -> Mapping[str, tuple[Tool, ...]]:
        """The tools of each kind, smallest first."""
        ordered = sorted(self.tools, key=lambda tool: (tool.diameter.m_as(U.mm), -tool.reach.m_as(U.mm)))
        return {kind: tuple(tool for tool in ordered if tool.kind == kind) for kind in KINDS}

    def title(self) -> str:
        """The rack's name."""
        return self.name

    def facts(self) -> list[tuple[str, str]]:
        """What it is, and the tools of each kind."""
        rows = [(kind.replace("_", " "), "; ".join(map(str, found))) for kind, found in self.by_kind.items() if found]
        return [("what it is", self.note), *rows]


def rack(path: Any = None) -> Rack:
    """Return the tools that plans may reach for: the invented teaching rack, or the one in an instructor's file.

    Parameters: path, of a TOML file laid out as latheworks/data/rack.toml [text or a Path; the teaching rack when not
    given]. Raises LatheworksError with a sentence when the file is missing, too large or no TOML, and one message
    that names every kind, heading or number that is missing, unknown or outside what such a tool can have.
    Source: the teaching rack is invented.

    >>> rack().by_kind["reamer"][0].name
    '10 mm reamer'
    """
    if path is None:
        return _teaching_rack()
    if not isinstance(path, (str, Path)) or not str(path).strip():
        raise WrongUnit(f'rack: path: got {path!r:.60}, expected the path of a TOML file. Try rack("my_rack.toml").')
    return _read(Path(path))


@cache
def _teaching_rack() -> Rack:
    return _read(DATA / "rack.toml")


def _read(path: Path) -> Rack:
    entries = read_toml(path, "rack", _COPY)
    with Door(f"rack {path.name[:60]!r}") as door:
        for key in entries:
            _known(door, key, ("name", "note", *KINDS))
        words = [door.text(entries.get(key), key, longest=200, example="our rack") for key in ("name", "note")]
        tools = [tool for kind in KINDS for tool in _kind(door, kind, entries.get(kind, []))]
        if not tools and not door.complaints:
            door.complain("tools", "none", "one tool at least", _COPY, Impossible)
        names = [tool.name for tool in tools]
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice is not None:
            door.complain("name", f"{twice!r:.60} twice", "a name of its own for each tool", f'"{twice[:50]}, second"')
    return Rack(words[0], words[1], tuple(tools))


def _known(door: Door, key: str, allowed: tuple[str, ...]) -> None:
    if key not in allowed:
        near = nearest(key, allowed) or allowed[0]
        door.complain(f"{key!r:.60}", "a heading that is not known", "only known headings", f'"{near}"', NotInTable)


def _kind(door: Door, kind: str, rows: Any) -> list[Tool]:
    """The tools of one kind, every entry checked."""
    if not isinstance(rows, list) or len(rows) > _MOST or not all(isinstance(row, dict) for row in rows):
        kept = OutOfRange if isinstance(rows, list) else WrongUnit
        door.complain(kind, given(rows), f"up to {_MOST} tables, each begun with [[{kind}]]", _COPY, kept)
        return []
    sizes = [*_SIZES, *([_OWN[kind]] if kind in _OWN else [])]
    found = []
    for row in rows:
        for key in row:
            _known(door, key, ("name", *(heading for heading, *_ in sizes)))
        name = door.text(row.get("name"), f"name of a {kind}", longest=60, example="8 mm drill")
        values = [Q_(number_of(door, row, *size), size[1]) for size in sizes]
        own = {"drill": "point_angle", "boring_bar": "smallest_bore"}
        found.append(Tool(kind, name, values[0], values[1], **({own[kind]: values[2]} if kind in own else {})))
    return found
