"""A tool of the rack on plain floats, and which kinds of tool do which operation."""

from __future__ import annotations

from functools import cached_property
from typing import Any, NamedTuple

from latheworks.rack_tool import Tool
from latheworks.units import U

BAR = 210_000.0  # MPa, a bar of steel

# The kinds of tool, as the rack names them, that suit each kind of operation: outside, inside.
SUITS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "face": (("turning_tool",), ()),
    "center drill": ((), ("center_drill",)),
    "turn": (("turning_tool",), ()),
    "taper": (("turning_tool",), ("boring_bar",)),
    "groove": (("grooving_tool", "parting_tool"), ("inside_grooving_tool",)),
    "drill": ((), ("drill",)),
    "bore": ((), ("boring_bar",)),
    "ream": ((), ("reamer",)),
    "thread": (("threading_tool",), ("inside_threading_tool",)),
    "chamfer": (("chamfer_tool", "turning_tool"), ("inside_chamfer_tool", "boring_bar")),
    "part off": (("parting_tool",), ()),
    "deburr": ((), ()),
    "gage": ((), ()),
}
BY_HAND = ("deburr", "gage")
ON_AXIS = ("center drill", "drill", "ream")


class PlainTool(NamedTuple):
    """A tool [mm, deg, min]: kind; name; on a bar inside a bore or not; diameter of a drill or a bar; reach, how far it
    works; point, the angle of a drill; smallest_bore that it enters; tip, how far the edge stands out of a bar; nose
    radius; entering angle; blade, its width or 0; edge; hand; pitches that it threads, 0 where none; thread angle;
    edge price; change time; insert, its letter."""

    kind: str
    name: str
    inside: bool
    diameter: float
    reach: float
    point: float
    smallest_bore: float
    tip: float
    nose: float
    entering: float
    blade: float
    edge: str
    hand: str
    least_pitch: float
    largest_pitch: float
    angle: float
    price: float
    change: float
    insert: str


def plain_tool(tool: Tool) -> PlainTool:
    """A tool of the rack on plain floats."""

    def size(value: Any, unit: Any = U.mm, usual: float = 0.0) -> float:
        return usual if value is None else float(value.m_as(unit))

    return PlainTool(
        tool.kind, tool.name, tool.side == "inside", size(tool.diameter), size(tool.reach),
        size(tool.point_angle, U.deg, 118.0), size(tool.smallest_bore), size(tool.tip), size(tool.nose_radius),
        size(tool.entering_angle, U.deg, 90.0), size(tool.blade_width), tool.edge or "high-speed steel",
        tool.hand or "right", size(tool.least_pitch), size(tool.largest_pitch), size(tool.thread_angle, U.deg, 60.0),
        float(tool.edge_price), size(tool.change_time, U.min), tool.insert or "",
    )  # fmt: skip


class Kit:
    """The tools of a rack, each on plain floats from the first time it is asked for."""

    def __init__(self, rack: Any) -> None:
        self.rack = rack
        self._plain: dict[str, PlainTool] = {}

    @cached_property
    def by_name(self) -> dict[str, Tool]:
        """The rack's tools by name."""
        return {tool.name: tool for tool in self.rack.tools}

    def tool(self, name: str | None) -> PlainTool | None:
        """A tool of the rack on plain floats; None where there is none of that name."""
        if name is None or name not in self.by_name:
            return None
        if name not in self._plain:
            self._plain[name] = plain_tool(self.by_name[name])
        return self._plain[name]


def bar_free(tool: PlainTool, deep: float) -> float:
    """How far a bar stands out of its holder for a bore so deep [mm]: 5 mm past the bore, its reach at most."""
    return max(min(tool.reach, deep + 5.0), tool.diameter)
