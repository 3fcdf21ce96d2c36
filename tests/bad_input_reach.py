"""Good calls of what a tool reaches, which tool takes what, and grooves, and the nonsense that makes sense there."""

from latheworks.passes import Groove, TurningTool, groove_passes, insert_angles, nose_shift, reach, split
from latheworks.units import Q_
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call
from tests.reach_shapes import blade, mm, profile

STEP = profile([(0, 30), (40, 30), (40, 20), (60, 20)], stock=mm(32))
GROOVE = Groove(mm(20), mm(5), mm(26), 3, mm(8), mm(0.4), mm(0.2))
PLAIN = frozenset({"no unit", "whole number"})

REACH_CALLS: dict[str, Call] = {
    "TurningTool": Call(TurningTool, {"insert": "D", "entering_angle": Q_(93, "degree"), "nose_radius": mm(0.4),
                                      "blade_width": None, "shank": mm(20), "reach": mm(20), "hand": "right",
                                      "bar_length": mm(60), "name": "finishing tool"},
                        {"entering_angle": MAY_BE_LEFT_OUT, "nose_radius": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
                         "blade_width": MAY_BE_LEFT_OUT, "shank": MAY_BE_LEFT_OUT, "reach": MAY_BE_LEFT_OUT,
                         "bar_length": MAY_BE_LEFT_OUT, "name": MAY_BE_LEFT_OUT | {"text"}}),
    "TurningTool.copying_angle": Call(TurningTool("D").copying_angle, {"free_angle": Q_(2, "degree")},
                                      {"free_angle": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "insert_angles": Call(insert_angles),
    "nose_shift": Call(nose_shift, {"tool": TurningTool("D"), "nose_radius": mm(0.8), "system": "inch"},
                       {"nose_radius": MAY_BE_ZERO}),
    "reach": Call(reach, {"profile": STEP, "tool": TurningTool("D"), "jaws": (mm(0), mm(80)),
                          "center": (mm(60), mm(12)), "clearance": mm(2), "system": "inch"},
                  {"jaws": MAY_BE_LEFT_OUT, "center": MAY_BE_LEFT_OUT, "clearance": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "split": Call(split, {"profile": STEP, "tools": [TurningTool("D"), blade(3)], "surface_speed": Q_(60, "m/min"),
                          "feeds": Q_([0.2, 0.05], "mm/rev"), "depths": Q_([1.0, 3.0], "mm"),
                          "tool_change": Q_(1, "min"), "hourly_rate": 30.0, "lathe": None, "system": "inch"},
                  {"surface_speed": MANY, "feeds": MANY, "depths": MANY, "tool_change": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
                   "hourly_rate": PLAIN, "lathe": MAY_BE_LEFT_OUT}),
    "groove_passes": Call(groove_passes, {"groove": GROOVE, "diameter": mm(32), "tool": blade(3), "material": "brass",
                                          "surface_speed": Q_(100, "m/min"), "feed": Q_(0.05, "mm/rev"),
                                          "overlap": mm(0.3), "allowance": mm(0.1), "peck": mm(2),
                                          "speed_share": Q_(50, "percent"), "allowed_stress": Q_(300, "MPa"),
                                          "side": "outside", "lathe": None, "system": "inch"},
                          {"feed": MAY_BE_LEFT_OUT, "overlap": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
                           "allowance": MAY_BE_LEFT_OUT | MAY_BE_ZERO, "peck": MAY_BE_LEFT_OUT,
                           "speed_share": MAY_BE_LEFT_OUT, "allowed_stress": MAY_BE_LEFT_OUT,
                           "lathe": MAY_BE_LEFT_OUT}),
}  # fmt: skip
GIVEN_BY_REACH = {"GroovePasses", "NoseShift", "Reach", "Share", "Split", "Standing"}
