"""Passes: the wanted shape, turning, facing, parting, and tool setting."""

from latheworks.cutting.finish import roughness
from latheworks.passes.facing import facing_time
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
from latheworks.passes.turning import turning_passes
from latheworks.passes.turning_chips import ChipVolume, chip_volume
from latheworks.passes.turning_coolant import CoolantAdvice, coolant
from latheworks.passes.turning_result import TurningPlan
from latheworks.passes.turning_time import CutTime, turning_time

__all__ = [
    "ChipVolume", "CoolantAdvice", "CutTime", "Groove", "HeightError", "NoseError", "OffsetError", "Profile",
    "TaperSetting", "TurningPlan", "center_height_error", "chip_volume", "coolant", "facing_time",
    "nose_radius_error", "offset_error", "parting_time", "roughness", "taper_setting", "turning_passes",
    "turning_time",
]  # fmt: skip
