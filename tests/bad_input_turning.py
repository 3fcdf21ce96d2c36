"""Good calls of turning, facing, parting and tool setting, and the nonsense that makes sense for an argument."""

from latheworks.deflection import Chuck, grip
from latheworks.passes import (
    Groove,
    Profile,
    center_height_error,
    chip_volume,
    coolant,
    facing_time,
    nose_radius_error,
    offset_error,
    parting_time,
    taper_setting,
    turning_passes,
    turning_time,
)
from latheworks.units import Q_
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call

STEPS = [(Q_(z, "mm"), Q_(d, "mm")) for z, d in [(10, 28), (50, 28), (50, 20), (80, 20)]]
HELD = grip(Q_(60, "kN"), Q_(32, "mm"), Q_(800, "rpm"), jaw_mass=Q_(0.8, "kg"), jaw_radius=Q_(45, "mm"))
OPTION = MAY_BE_LEFT_OUT | MAY_BE_ZERO
EITHER_SIGN = MAY_BE_ZERO | {"negative"}
FEED = Q_(0.05, "mm/rev")
# Of surface speed and spindle one is given, so that leaving it out, or giving both, is refused under both names.
TURNS = {"surface_speed": Q_(30, "m/min"), "spindle": None, "most_spindle": Q_(900, "rev/min")}
TURNS_FINE = {"spindle": MAY_BE_LEFT_OUT, "most_spindle": MAY_BE_LEFT_OUT}
TRACK = {"approach": Q_(2, "mm"), "overrun": Q_(1, "mm"), "return_speed": Q_(600, "mm/min"), "lathe": None,
         "system": "inch"}  # fmt: skip
TRACK_FINE = {"approach": OPTION, "overrun": OPTION, "return_speed": MAY_BE_LEFT_OUT, "lathe": MAY_BE_LEFT_OUT}

TURNING_CALLS: dict[str, Call] = {
    "Profile": Call(
        Profile,
        {"points": STEPS, "side": "outside", "stock": Q_(32, "mm"), "chamfers": {2: Q_(1, "mm")}, "fillets": None,
         "grooves": None},
        {"stock": MAY_BE_LEFT_OUT, "grooves": MAY_BE_LEFT_OUT,
         **dict.fromkeys(("chamfers", "fillets"), MAY_BE_LEFT_OUT | {"dict"})},
    ),
    "Profile.along": Call(
        Profile.along,
        {"z": Q_([0.0, 40.0], "mm"), "diameter": Q_([30.0, 26.0], "mm"), "side": "outside", "stock": Q_(32, "mm")},
        {"z": MANY, "diameter": MANY, "stock": MAY_BE_LEFT_OUT},
    ),
    "Groove": Call(
        Groove,
        {"start": Q_(20, "mm"), "width": Q_(3, "mm"), "diameter": Q_(24, "mm"), "count": 2, "spacing": Q_(6, "mm"),
         "floor_radius": Q_(0.2, "mm"), "edge_chamfer": Q_(0.3, "mm")},
        {"start": EITHER_SIGN, "diameter": MAY_BE_ZERO, "count": frozenset({"whole number"}),
         "floor_radius": OPTION, "edge_chamfer": OPTION},
    ),
    "turning_passes": Call(
        turning_passes,
        {"profile": STEPS, "material": "brass", "feed": FEED, "side": "outside", "stock": Q_(32, "mm"), **TURNS,
         "finish_allowance": Q_(0.2, "mm"), "finish_feed": Q_(0.02, "mm/rev"), "most_depth": Q_(2, "mm"),
         "nose_radius": Q_(0.4, "mm"), "entering_angle": Q_(95, "degree"), "wear": 1.1, "held": HELD,
         "holding": Chuck(), "other_diameter": Q_(8, "mm"), "tool_stiffness": Q_(20_000, "N/mm"),
         "most_deflection": Q_(0.5, "mm"), "setting_time": Q_(5, "s"), **TRACK},
        {"side": MAY_BE_LEFT_OUT, "stock": MAY_BE_LEFT_OUT, **TURNS_FINE, **TRACK_FINE, "finish_allowance": OPTION,
         "finish_feed": MAY_BE_LEFT_OUT, "most_depth": MAY_BE_LEFT_OUT, "nose_radius": OPTION,
         "entering_angle": MAY_BE_LEFT_OUT, "held": MAY_BE_LEFT_OUT, "holding": MAY_BE_LEFT_OUT,
         "other_diameter": OPTION, "tool_stiffness": MAY_BE_LEFT_OUT, "most_deflection": MAY_BE_LEFT_OUT,
         "setting_time": OPTION},
    ),
    "turning_time": Call(
        turning_time,
        {"length": Q_(50, "mm"), "diameter": Q_(30, "mm"), "feed": FEED, "end_diameter": Q_(20, "mm"),
         "depth": Q_(1, "mm"), **TURNS, "cuts": 2, **TRACK},
        {"end_diameter": MAY_BE_LEFT_OUT, "depth": MAY_BE_LEFT_OUT, "cuts": frozenset({"whole number"}), **TURNS_FINE,
         **TRACK_FINE},
        {"end_diameter": "end_diameter|depth"},
    ),
    "facing_time": Call(
        facing_time,
        {"outside": Q_(30, "mm"), "feed": FEED, "inside": Q_(8, "mm"), "depth": Q_(1, "mm"), **TURNS, "cuts": 2,
         **TRACK},
        {"inside": OPTION, "depth": MAY_BE_LEFT_OUT, "cuts": frozenset({"whole number"}), **TURNS_FINE, **TRACK_FINE},
    ),
    "parting_time": Call(
        parting_time,
        {"diameter": Q_(30, "mm"), "width": Q_(3, "mm"), "feed": FEED, "bore": Q_(8, "mm"), "peck": Q_(1, "mm"),
         **TURNS, **TRACK},
        {"bore": OPTION, "peck": MAY_BE_LEFT_OUT, **TURNS_FINE, **TRACK_FINE},
    ),
    "chip_volume": Call(chip_volume, {"material": "brass", "volume": Q_(5, "cm**3"), "kind": "broken chips"}),
    "coolant": Call(coolant, {"material": "brass", "operation": "parting"}),
    "offset_error": Call(offset_error, {"radial": Q_(0.1, "mm"), "along": Q_(0.2, "mm"),
                                        "half_angle": Q_(20, "degree"), "system": "inch"},
                         {"radial": EITHER_SIGN, "along": EITHER_SIGN, "half_angle": MAY_BE_LEFT_OUT | EITHER_SIGN}),
    "center_height_error": Call(center_height_error, {"diameter": Q_(10, "mm"), "height": Q_(0.2, "mm"),
                                                      "touch_off": Q_(20, "mm"), "system": "inch"},
                                {"diameter": MANY, "height": EITHER_SIGN, "touch_off": MAY_BE_LEFT_OUT}),
    "taper_setting": Call(taper_setting, {"large": Q_(30, "mm"), "small": Q_(20, "mm"), "length": Q_(50, "mm"),
                                          "whole_length": Q_(200, "mm"), "system": "inch"},
                          {"small": MAY_BE_ZERO, "whole_length": MAY_BE_LEFT_OUT}),
    "nose_radius_error": Call(nose_radius_error, {"nose_radius": Q_(0.4, "mm"), "half_angle": Q_(20, "degree"),
                                                  "corner_radius": Q_(2, "mm"), "system": "inch"},
                              {"nose_radius": MAY_BE_ZERO, "half_angle": MAY_BE_LEFT_OUT | EITHER_SIGN,
                               "corner_radius": OPTION}),
}  # fmt: skip
GIVEN_BY_TURNING = {
    "ChipVolume", "CoolantAdvice", "CutTime", "HeightError", "NoseError", "OffsetError", "TaperSetting", "TurningPlan",
}  # fmt: skip
