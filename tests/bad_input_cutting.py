"""Good calls of the cutting room's public names, and the nonsense that makes sense for an argument."""

from latheworks.cutting import (
    cutting_force,
    cutting_forces,
    economic_speed,
    edges,
    parting_force,
    power,
    roughness,
    spindle_for,
    surface_speed,
    taylor,
    tool_life,
)
from latheworks.units import Q_
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call

CUT = cutting_forces("brass", Q_(1, "mm"), Q_(0.15, "mm/rev"))
BEST = economic_speed("carbide on steel", Q_(2, "min"), 3.0, 30.0)
PLAIN = frozenset({"no unit", "whole number"})

CUTTING_CALLS: dict[str, Call] = {
    "cutting_force": Call(cutting_force, {"material": "brass", "depth": Q_(2, "mm"), "feed": Q_(0.25, "mm/rev"),
                                          "entering_angle": Q_(90, "degree")},
                          {"depth": MANY, "feed": MANY, "entering_angle": MAY_BE_LEFT_OUT}),
    "cutting_forces": Call(cutting_forces, {"material": "brass", "depth": Q_(2, "mm"), "feed": Q_(0.25, "mm/rev"),
                                            "nose_radius": Q_(0.4, "mm"), "entering_angle": Q_(95, "degree"),
                                            "wear": 1.1, "rake": Q_(6, "degree"), "thrust_ratio": 0.5,
                                            "system": "inch"},
                           {"nose_radius": MAY_BE_LEFT_OUT | MAY_BE_ZERO, "entering_angle": MAY_BE_LEFT_OUT,
                            "rake": MAY_BE_LEFT_OUT | {"zero", "negative"}}),
    "parting_force": Call(parting_force, {"material": "brass", "width": Q_(3, "mm"), "feed": Q_(0.05, "mm/rev"),
                                          "thrust_ratio": 0.5}),
    "power": Call(power, {"cut": CUT, "diameter": Q_(32, "mm"), "spindle": Q_(600, "rev/min"), "lathe": None},
                  {"lathe": MAY_BE_LEFT_OUT}),
    "surface_speed": Call(surface_speed, {"spindle": Q_(600, "rev/min"), "diameter": Q_(50, "mm")},
                          {"spindle": MANY | MAY_BE_ZERO, "diameter": MANY | MAY_BE_ZERO}),
    "spindle_for": Call(spindle_for, {"surface_speed": Q_(30, "m/min"), "diameter": Q_(50, "mm"), "lathe": None,
                                      "system": "inch"}, {"lathe": MAY_BE_LEFT_OUT}),
    "edges": Call(edges),
    "taylor": Call(taylor, {"edge": None, "n": 0.25, "one_minute_speed": Q_(75, "m/min"), "feed_exponent": 0.3,
                            "depth_exponent": 0.15},
                   {"edge": MAY_BE_LEFT_OUT, "feed_exponent": frozenset(), "depth_exponent": frozenset()}),
    "tool_life": Call(tool_life, {"surface_speed": Q_(30, "m/min"), "edge": "carbide on steel",
                                  "feed": Q_(0.25, "mm/rev"), "depth": Q_(2, "mm")},
                      {"feed": MAY_BE_LEFT_OUT, "depth": MAY_BE_LEFT_OUT}),
    "economic_speed": Call(economic_speed, {"edge": "carbide on steel", "change_time": Q_(2, "min"), "edge_cost": 3.0,
                                            "hourly_rate": 30.0}, {"edge_cost": PLAIN, "hourly_rate": PLAIN}),
    "EconomicSpeed.pieces_per_edge": Call(BEST.pieces_per_edge, {"cutting_time": Q_(1, "min")}),
    "roughness": Call(roughness, {"feed": Q_(0.05, "mm/rev"), "nose_radius": Q_(0.8, "mm"),
                                  "trailing_angle": Q_(5, "degree"), "entering_angle": Q_(95, "degree"),
                                  "system": "inch"},
                      {"nose_radius": MAY_BE_ZERO, "trailing_angle": MAY_BE_LEFT_OUT,
                       "entering_angle": MAY_BE_LEFT_OUT}),
}  # fmt: skip
GIVEN_BY_CUTTING = {
    "CuttingForces", "EconomicSpeed", "PartingForce", "Power", "Roughness", "SpindleSpeed", "Taylor",
}  # fmt: skip
