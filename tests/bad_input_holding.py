"""A good call of every public name about holding, boring bars, heat and vibration; see `bad_input_table`."""

from latheworks.deflection import (
    BetweenCenters,
    Chuck,
    Shaft,
    boring_bar_error,
    center_thrust,
    clamping_friction,
    grip,
    in_series,
    jaw_squeeze,
    natural_frequency,
    rules_of_thumb,
    thermal_growth,
)
from latheworks.units import Q_
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, RIGID, Call

BARREL = Shaft.bar(Q_(250, "mm"), Q_(32, "mm"), Q_(26, "mm"), material="6061-T6")
STIFF = Q_(50_000, "N/mm")
# What is fine for a plain number, by its bounds.
PLAIN = frozenset({"no unit", "whole number"})

HOLDING_CALLS: dict[str, Call] = {
    "boring_bar_error": Call(
        boring_bar_error,
        {"overhang": Q_(64, "mm"), "diameter": Q_(16, "mm"), "bar": "steel", "hole": Q_(4, "mm"), "force": None,
         "depth": Q_(0.5, "mm"), "cutting_stiffness": Q_(300, "N/mm"), "edge_force": Q_(10, "N"), "spring_passes": 2,
         "holder": STIFF},
        {"hole": MAY_BE_LEFT_OUT | MAY_BE_ZERO, "force": MAY_BE_LEFT_OUT, "edge_force": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
         "spring_passes": frozenset({"whole number"}), "holder": MAY_BE_LEFT_OUT | RIGID},
    ),
    "in_series": Call(in_series, {"stiffnesses": [STIFF, Q_(30_000, "N/mm")]}),
    "clamping_friction": Call(clamping_friction, {"jaws": "smooth", "workpiece": "machined"}),
    "grip": Call(
        grip,
        {"clamping_force": Q_(12_000, "N"), "grip_diameter": Q_(32, "mm"), "spindle": Q_(800, "rev/min"), "jaws": 3,
         "jaw_mass": Q_(0.8, "kg"), "jaw_radius": Q_(45, "mm"), "gripping": "outside", "friction": 0.1,
         "cutting_force": Q_(300, "N"), "cut_diameter": Q_(32, "mm"), "torque": None, "thrust": Q_(200, "N"),
         "shoulder": False, "machining_safety": 1.5, "clamping_safety": 1.5},
        {"spindle": MAY_BE_ZERO, "jaws": frozenset({"whole number"}), "friction": MAY_BE_LEFT_OUT,
         "cutting_force": MAY_BE_ZERO, "torque": MAY_BE_LEFT_OUT, "thrust": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
         "shoulder": frozenset({"bool"}), "machining_safety": PLAIN, "clamping_safety": PLAIN},
    ),
    "jaw_squeeze": Call(
        jaw_squeeze,
        {"outside": Q_(32, "mm"), "bore": Q_(28, "mm"), "width": Q_(20, "mm"), "force": Q_(1000, "N"),
         "material": Q_(69_000, "MPa"), "jaws": 3},
        {"force": MAY_BE_ZERO, "jaws": frozenset({"whole number"})},
        {"outside": "outside|bore"},
    ),
    "thermal_growth": Call(
        thermal_growth,
        {"material": "6061-T6", "diameter": Q_(32, "mm"), "warming": None, "power": Q_(200, "W"), "time": Q_(60, "s"),
         "mass": Q_(0.18, "kg"), "heat_share": 0.1, "coolant": 0.5},
        {"diameter": MANY, "warming": MAY_BE_LEFT_OUT, "power": MAY_BE_ZERO, "time": MAY_BE_ZERO},
    ),
    "center_thrust": Call(
        center_thrust,
        {"shaft": BARREL, "holding": BetweenCenters(), "warming": Q_(15, "K"), "axial_stiffness": Q_(20_000, "N/mm"),
         "eased": Q_(0.01, "mm")},
        {"warming": MAY_BE_ZERO, "axial_stiffness": MAY_BE_LEFT_OUT | RIGID, "eased": MAY_BE_LEFT_OUT | MAY_BE_ZERO},
    ),
    "natural_frequency": Call(natural_frequency, {"shaft": BARREL, "holding": Chuck()}),
    "rules_of_thumb": Call(
        rules_of_thumb,
        {"use": "boring", "length": Q_(64, "mm"), "diameter": Q_(16, "mm"), "computed": Q_(-0.02, "mm")},
        {"computed": MAY_BE_LEFT_OUT | frozenset({"zero", "negative"})},
    ),
}  # fmt: skip
