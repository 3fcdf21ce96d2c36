"""Passes: the wanted shape, what a tool can reach of it, turning, facing, parting, grooves, and tool setting."""

from latheworks.cutting.finish import roughness
from latheworks.passes.facing import facing_time
from latheworks.passes.groove import groove_passes
from latheworks.passes.groove_result import GroovePasses
from latheworks.passes.offsets import (
    HeightError,
    OffsetError,
    TaperSetting,
    center_height_error,
    offset_error,
    taper_setting,
)
from latheworks.passes.offsets_nose import NoseError, nose_radius_error
from latheworks.passes.parting import parting_time
from latheworks.passes.profile import Groove, Profile
from latheworks.passes.rack_shape import turning_tool
from latheworks.passes.reach import reach
from latheworks.passes.reach_nose import NoseShift, nose_shift
from latheworks.passes.reach_result import Reach, Standing
from latheworks.passes.reach_tool import TurningTool, insert_angles
from latheworks.passes.split import Share, Split, split
from latheworks.passes.tool_list import tool_list
from latheworks.passes.tool_list_result import ListedTool, ToolList
from latheworks.passes.turning import turning_passes
from latheworks.passes.turning_chips import ChipVolume, chip_volume
from latheworks.passes.turning_coolant import CoolantAdvice, coolant
from latheworks.passes.turning_result import TurningPlan
from latheworks.passes.turning_time import CutTime, turning_time

__all__ = [
    "ChipVolume", "CoolantAdvice", "CutTime", "Groove", "GroovePasses", "HeightError", "ListedTool", "NoseError",
    "NoseShift", "OffsetError", "Profile", "Reach", "Share", "Split", "Standing", "TaperSetting", "ToolList",
    "TurningPlan", "TurningTool", "center_height_error", "chip_volume", "coolant", "facing_time", "groove_passes",
    "insert_angles", "nose_radius_error", "nose_shift", "offset_error", "parting_time", "reach", "roughness",
    "split", "taper_setting", "tool_list", "turning_passes", "turning_time", "turning_tool",
]  # fmt: skip
