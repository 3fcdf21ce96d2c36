"""Good calls of the rack's tools, their shape and the tool list, and the nonsense that makes sense there."""

from latheworks.passes import tool_list, turning_tool
from latheworks.shop import rack
from latheworks.units import Q_
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, Call

RACK_CALLS: dict[str, Call] = {
    "Rack.tool": Call(rack().tool, {"name": "right-hand tool"}),
    "turning_tool": Call(turning_tool, {"tool": rack().tool("16 mm boring bar")}),
    "tool_list": Call(tool_list, {"tools": ["right-hand tool", "16 mm boring bar"],
                                  "diameters": Q_([20.0, 20.5], "mm"), "error": Q_(0.01, "mm"), "rack": None,
                                  "system": "inch"},
                      {"diameters": MANY | MAY_BE_LEFT_OUT, "error": MAY_BE_LEFT_OUT, "rack": MAY_BE_LEFT_OUT}),
}  # fmt: skip
GIVEN_BY_RACK = {"ListedTool", "ToolList"}
