"""A tool of the rack as its shape in the plane of the cut."""

from typing import Any

from latheworks.door import Door, given
from latheworks.errors import WrongUnit
from latheworks.passes.reach_tool import TurningTool
from latheworks.rack_tool import Tool


def turning_tool(tool: Any) -> TurningTool:
    """Return the shape of a turning, facing, boring, chamfer, grooving or parting tool of the rack.

    Parameters: tool, a Tool of a rack, such as rack().tool("right-hand tool"). Of a tool on a bar, the bar is the
    shank, its free length the bar_length, and its tip the reach.
    Raises LatheworksError for what is no Tool, and for one that has no such shape: a drill or a threading tool.
    Source: the rack's own entries; geometry.

    >>> from latheworks.shop import rack
    >>> turning_tool(rack().tool("16 mm boring bar")).bar_length
    <Quantity(70.0, 'millimeter')>
    """
    with Door("turning_tool") as door:
        found = door.instance(tool, "tool", Tool, "a Tool of a rack", 'rack().tool("right-hand tool")')
        if found is not None and found.insert is None and found.blade_width is None:
            door.complain("tool", given(found.name), "a tool with an insert or a blade",
                          'rack().tool("right-hand tool")', WrongUnit)  # fmt: skip
    on_bar = found.side == "inside"
    return TurningTool(
        found.insert, found.entering_angle, found.nose_radius, found.blade_width,
        shank=found.diameter if on_bar else found.shank, reach=found.tip if on_bar else found.reach,
        hand=found.hand or "right", bar_length=found.reach if on_bar else None, name=found.name,
    )  # fmt: skip
