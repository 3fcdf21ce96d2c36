"""The tool list of a job: what the rack knows of each tool, what an error of setting does, and blanks to fill in."""

from __future__ import annotations

from typing import Any

from latheworks.door import Door, given, nearest
from latheworks.errors import NotInTable, OutOfRange, WrongUnit
from latheworks.passes.offsets import center_height_error, offset_error
from latheworks.passes.offsets_nose import nose_radius_error
from latheworks.passes.tool_list_result import ListedTool, ToolList
from latheworks.shop import Rack, Tool
from latheworks.shop import rack as teaching_rack
from latheworks.units import Q_, U, check_system

MOST_TOOLS = 60
_TOOLS = 'tools=["right-hand tool", "finishing tool"]'


def tool_list(tools: Any, diameters: Any = None, error: Any = None, rack: Any = None,
              system: Any = "metric") -> ToolList:  # fmt: skip
    """Return the tools of a job in order, what an error of setting does with each, and blanks for the machine.

    An offset wrong by e across makes 2 e on diameters, along e on faces; a tool e off center height leaves a pip of
    2 e on a face and makes 2 sqrt((D/2)^2 + e^2) - D on a diameter; a nose radius wrong by e leaves e (sqrt 2 - 1) on a
    45 degree chamfer. Blanks (offsets, wear, center height, measured diameter, initials) have no argument and no
    field: a person fills them in at the machine.

    Parameters: tools, a list of 1 to 60 names of the rack's tools, in order; one that comes again is listed
    where it is first used; diameters, the smallest that each cuts, one for all or one for each in the list
    [mm, above 0 to 5000; 20 when left out]; error, of setting [mm, 0.0001 to 1; 0.01 when left out]; rack, the
    teaching rack when left out; system, "metric" or "inch" for the text.
    Raises LatheworksError naming a tool that the rack does not have, with the nearest name, and what else is wrong.
    Source: geometry, as in `offset_error`, `center_height_error` and `nose_radius_error`; the steps: common practice.

    >>> found = tool_list(["right-hand tool", "16 mm boring bar"], Q_(20, "mm"))
    >>> found.rows[0].offset.diameter, found.rows[1].tool.stickout
    (<Quantity(0.02, 'millimeter')>, <Quantity(70.0, 'millimeter')>)
    """
    system = check_system(system)
    with Door("tool_list") as door:
        owned = teaching_rack()
        if rack is not None:
            owned = door.instance(rack, "rack", Rack, "a Rack", 'rack("my_rack.toml"), or leave it out') or owned
        chosen = _chosen(door, tools, owned)
        e = door.number(Q_(0.01, U.mm) if error is None else error, "error", "mm", least=1e-4, most=1,
                        example='error=Q_(0.01, "mm")')  # fmt: skip
        sizes = door.array(Q_(20.0, U.mm) if diameters is None else diameters, "diameters", "mm", above=0, most=5000,
                           example='diameters=Q_(20, "mm")').ravel()  # fmt: skip
        if not door.complaints and sizes.size not in (1, len(chosen)):
            door.complain("diameters", f"{sizes.size} for {len(chosen)} tools", "one for all, or one for each",
                          'diameters=Q_(20, "mm")', OutOfRange)  # fmt: skip
    smallest: dict[str, float] = {}
    for i, tool in enumerate(chosen):
        size = float(sizes[0] if sizes.size == 1 else sizes[i])
        smallest[tool.name] = min(size, smallest.get(tool.name, size))
    by_name = {tool.name: tool for tool in reversed(chosen)}
    rows = tuple(_row(i, by_name[name], size, e) for i, (name, size) in enumerate(smallest.items(), 1))
    return ToolList(rows, Q_(e, U.mm), owned.name, system)


def _chosen(door: Door, tools: Any, owned: Rack) -> list[Tool]:
    """The tools asked for; a complaint for each that the rack does not have."""
    if not isinstance(tools, (list, tuple)) or not 0 < len(tools) <= MOST_TOOLS:
        door.complain("tools", given(tools), f"a list of 1 to {MOST_TOOLS} names of tools", _TOOLS,
                      OutOfRange if isinstance(tools, (list, tuple)) else WrongUnit)  # fmt: skip
        return []
    known = {tool.name: tool for tool in owned.tools}
    found = []
    for each in tools:
        if isinstance(each, str) and each in known:
            found.append(known[each])
        else:
            near = nearest(each, known) or next(iter(known))
            door.complain("tools", given(each), f"the name of a tool of the {owned.name[:40]}", f'"{near}"',
                          NotInTable if isinstance(each, str) else WrongUnit)  # fmt: skip
    return found


def _row(number: int, tool: Tool, size: float, e: float) -> ListedTool:
    """One tool with what the error does; on the axis it is the depth alone, and threads have no nose to allow for."""
    error, none = Q_(e, U.mm), Q_(0.0, U.mm)
    if tool.side == "axis":
        return ListedTool(number, tool, None, offset_error(none, error))
    nose = left_out = None
    if tool.insert is not None:
        nose, left_out = nose_radius_error(error), nose_radius_error(tool.nose_radius)
    return ListedTool(number, tool, Q_(size, U.mm), offset_error(error, error),
                      center_height_error(Q_(size, U.mm), error), nose, left_out)  # fmt: skip
