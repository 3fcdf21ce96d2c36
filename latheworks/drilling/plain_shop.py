"""Tools, a rack and a lathe as plain floats, read off their quantities once for each: that takes longest of all."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import wraps
from typing import Any, TypeVar

from latheworks.drilling import kernel
from latheworks.shop import Lathe, Rack, Tool
from latheworks.units import U

Found = TypeVar("Found")
MOST = 500


def once(make: Callable[[Any], Found]) -> Callable[[Any], Found]:
    """Keep what is made of each thing, told apart as an object: to compare its quantities takes as long as to read."""
    # The thing is kept with it, so that no other can come to have its number.
    kept: dict[int, tuple[Any, Found]] = {}

    @wraps(make)
    def found(thing: Any) -> Found:
        entry = kept.get(id(thing))
        if entry is None:
            if len(kept) >= MOST:
                kept.clear()
            entry = kept[id(thing)] = (thing, make(thing))
        return entry[1]

    return found


@dataclass(frozen=True, slots=True)
class PlainTool:
    """Diameter, reach and length of the point [mm], point angle [deg]; 118 where the tool has none of its own."""

    diameter: float
    reach: float
    point_angle: float
    tip: float


@dataclass(frozen=True, slots=True)
class PlainLathe:
    """Slowest and fastest spindle [rev/min], quill travel [mm]; of the jaws force [N], mass [kg] and radius [mm]."""

    slowest: float
    fastest: float
    quill: float
    jaw_force: float
    jaw_mass: float
    jaw_radius: float


@once
def plain_tool(tool: Tool) -> PlainTool:
    """A tool on the axis in plain floats."""
    d = float(tool.diameter.m_as(U.mm))
    angle = 118.0 if tool.point_angle is None else float(tool.point_angle.m_as(U.deg))
    return PlainTool(d, float(tool.reach.m_as(U.mm)), angle, float(kernel.point(d, angle)))


@once
def plain_lathe(machine: Lathe) -> PlainLathe:
    """A lathe in plain floats."""
    sizes = ((machine.slowest_spindle, U.rpm), (machine.fastest_spindle, U.rpm), (machine.quill_travel, U.mm),
             (machine.jaw_force, U.N), (machine.jaw_mass, "kg"), (machine.jaw_radius, U.mm))  # fmt: skip
    return PlainLathe(*(float(size.m_as(unit)) for size, unit in sizes))


@once
def by_kind(tools: Rack) -> Mapping[str, tuple[Tool, ...]]:
    """The tools of each kind, smallest first."""
    return tools.by_kind
