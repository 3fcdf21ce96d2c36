"""The tool rack: the tools that a plan may reach for, from the invented teaching rack or an instructor's file."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from latheworks.door import Door, given, nearest
from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.rack_tool import HEADINGS, KINDS, ON_AXIS, STICKOUT, WORDS, Tool
from latheworks.results import Result
from latheworks.shop_file import number_of, read_toml
from latheworks.tables import DATA
from latheworks.units import Q_, U

_COPY = "a copy of latheworks/data/rack.toml with your tools"
_MOST = 500


@dataclass(frozen=True, slots=True)
class Rack(Result):
    """A rack of tools: name; note, what rack this is; tools, in the file's order, each of one kind."""

    name: str
    note: str
    tools: tuple[Tool, ...]

    @property
    def by_kind(self) -> Mapping[str, tuple[Tool, ...]]:
        """The tools of each kind, smallest first."""
        ordered = sorted(self.tools, key=lambda tool: tool.order)
        return {kind: tuple(tool for tool in ordered if tool.kind == kind) for kind in KINDS}

    def tool(self, name: Any) -> Tool:
        """Return the tool of this name.

        Parameters: name, as it stands in the rack [text]. Raises NotInTable, with the nearest name, where the rack has
        none of that name, and WrongUnit for what is no text.

        >>> rack().tool("finishing tool").insert
        'D'
        """
        found = next((tool for tool in self.tools if isinstance(name, str) and tool.name == name), None)
        if found is not None:
            return found
        with Door("Rack.tool") as door:
            near = nearest(name, [tool.name for tool in self.tools]) or self.tools[0].name
            kind = NotInTable if isinstance(name, str) else WrongUnit
            door.complain("name", given(name), f"the name of a tool of the {self.name[:40]}", f'"{near}"', kind)
        raise AssertionError

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
    must, may = KINDS[kind]
    found = []
    for row in rows:
        wrong = len(door.complaints)
        for key in row:
            _known(door, key, ("name", *must, *may))
        name = door.text(row.get("name"), f"name of a {kind}", longest=60, example="8 mm drill")
        values: dict[str, Any] = {}
        for heading in (*must, *may):
            if heading not in row and may.get(heading, row) is None:
                continue
            entries = {heading: may[heading], **row} if heading in may else row
            values |= _value(door, entries, heading)
        tool = Tool(kind, name, **values)
        found.append(_completed(door, tool) if len(door.complaints) == wrong else tool)
    return found


def _value(door: Door, row: Mapping[str, Any], heading: str) -> dict[str, Any]:
    """One entry, by its field."""
    if heading == "insert":
        return {heading: door.text(row.get(heading), '"insert"', longest=5, example="C")}
    words = WORDS.get(heading)
    if words is not None:
        return {heading: door.choice(row.get(heading), heading, words)}
    field, unit, least, most = HEADINGS[heading]
    number = number_of(door, dict(row), heading, unit, least, most)
    return {field: number if unit == "money" else Q_(number, U.deg if unit == "degree" else unit)}


def _completed(door: Door, tool: Tool) -> Tool:
    """The tool with what follows from the rest, after the checks that take two of its numbers."""
    more: dict[str, Any] = {}
    if tool.smallest_bore is not None:
        room = (tool.smallest_bore - tool.diameter).m_as(U.mm)
        more["tip"] = tool.tip if tool.tip is not None else Q_(room, U.mm)
        if room <= 0 or more["tip"].m_as(U.mm) > room + 1e-9:
            door.complain(f"{tool.name!r:.60}", f"a bar of {tool.diameter.m_as(U.mm):g} mm and its tip in a smallest "
                          f"bore of {tool.smallest_bore.m_as(U.mm):g} mm", "room for the bar and its tip",
                          "a larger smallest bore, or a thinner bar")  # fmt: skip
            return tool
    if tool.stickout is None:
        more["stickout"] = STICKOUT * tool.shank if tool.shank is not None else tool.reach
    if tool.threads and tool.least_pitch > tool.largest_pitch:
        door.complain(f"{tool.name!r:.60}", "a least pitch above the largest", "the least below the largest",
                      "to change the two about")  # fmt: skip
    depth = 0.7 * tool.largest_pitch.m_as(U.mm) if tool.threads else 0.0
    if depth > (more.get("tip") or tool.reach).m_as(U.mm):
        door.complain(f"{tool.name!r:.60}", f"a largest pitch of {tool.largest_pitch.m_as(U.mm):g} mm",
                      f"an edge that stands out by the depth of its thread, {depth:.3g} mm or so",
                      "a smaller largest pitch")  # fmt: skip
    full = Tool(**({name: getattr(tool, name) for name in Tool.__dataclass_fields__} | more))
    if tool.kind in ON_AXIS or tool.threads:
        return full
    # A tool's shape has its own checks, and stands on the rooms that import this file.
    from latheworks.passes.rack_shape import turning_tool

    try:
        shape = turning_tool(full)
    except LatheworksError as error:
        for each in error.complaints:
            door.complain(f"{tool.name!r:.60}, {each.name}", each.given, each.expected, each.hint, each.kind)
        return full
    return Tool(**({name: getattr(full, name) for name in Tool.__dataclass_fields__}
                   | {"entering_angle": shape.entering_angle, "nose_radius": shape.nose_radius}))  # fmt: skip
