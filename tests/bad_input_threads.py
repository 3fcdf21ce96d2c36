"""The lines of the table of calls for threads; see bad_input_table."""

from latheworks.shop import lathe
from latheworks.threads import (
    carry_on,
    change_gears,
    engagement,
    fit,
    infeed,
    making,
    pick_up,
    plating,
    tap_drills,
    thread,
    threading_bar,
    threading_dial,
    three_wires,
    virtual_pitch_diameter,
)
from latheworks.units import Q_
from tests.nonsense import MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call

THREAD = thread("M16x1.5-6g")
NUT = "M16x1.5-6H"
GIVEN_BY_THREADS = {
    "CarryOn", "ChangeGears", "Engagement", "Fit", "InfeedSchedule", "Limits", "Making", "PickUp", "Plating",
    "TapDrills", "Thread", "ThreadingBar", "ThreadingDial", "ThreeWires", "VirtualPitchDiameter",
}  # fmt: skip

THREAD_CALLS: dict[str, Call] = {
    "thread": Call(thread, {"designation": "1/2-13 UNC", "tolerance_class": "2A"}, {"tolerance_class": MAY_BE_LEFT_OUT},
                   {"tolerance_class": "class"}),
    "Thread.mate": Call(THREAD.mate, {"tolerance_class": "6H"}, {"tolerance_class": MAY_BE_LEFT_OUT},
                        {"tolerance_class": "class"}),
    "tap_drills": Call(tap_drills, {"thread": "M16x1.5-6H", "sets": ("metric",), "wanted": Q_(75, "percent"),
                                    "height": "3/4 H"}, {"sets": MAY_BE_LEFT_OUT}),
    "infeed": Call(infeed, {"thread": THREAD, "passes": 6, "law": "equal area", "method": "modified flank",
                            "compound_angle": Q_(29.5, "degree"), "least_depth": Q_(0.02, "mm"), "spring_passes": 2,
                            "spindle": Q_(300, "rev/min"), "material": "brass", "lathe": lathe(),
                            "depth": Q_(0.9, "mm"), "length": Q_(20, "mm")},
                   {**dict.fromkeys(("compound_angle", "least_depth", "spindle", "lathe", "depth", "length"),
                                    MAY_BE_LEFT_OUT),
                    "passes": MAY_BE_LEFT_OUT | {"whole number"}, "spring_passes": frozenset({"whole number"})}),
    "three_wires": Call(three_wires, {"thread": THREAD, "wire": Q_(0.87, "mm")}, {"wire": MAY_BE_LEFT_OUT}),
    "ThreeWires.pitch_diameter_from": Call(three_wires(THREAD).pitch_diameter_from, {"reading": Q_(16.2, "mm")}),
    "ThreeWires.judge": Call(three_wires(THREAD).judge, {"reading": Q_(16.2, "mm")}),
    "engagement": Call(engagement, {"thread": THREAD, "length": Q_(12, "mm"), "external_strength": Q_(450, "MPa"),
                                    "internal_strength": Q_(310, "MPa"), "mate_class": "6H"},
                       {"length": MAY_BE_LEFT_OUT, "mate_class": MAY_BE_LEFT_OUT}, {"mate_class": "class"}),
    "Engagement.with_pitch_error": Call(engagement(THREAD).with_pitch_error, {"error": Q_(-0.05, "mm")},
                                        {"error": MAY_BE_ZERO | {"negative"}}),
    "fit": Call(fit, {"external": THREAD, "internal": NUT}, {"internal": MAY_BE_LEFT_OUT}),
    "Fit.passes": Call(fit(THREAD).passes, {"oversize": Q_(0.05, "mm"), "part": "external", "growth": Q_(0.01, "mm")},
                       {"oversize": MAY_BE_ZERO | {"negative"}, "growth": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "virtual_pitch_diameter": Call(
        virtual_pitch_diameter,
        {"thread": THREAD, "pitch_diameter": Q_(14.95, "mm"), "lead_error": Q_(0.02, "mm"),
         "leading_error": Q_(0.5, "degree"), "trailing_error": Q_(0.5, "degree")},
        {"pitch_diameter": MAY_BE_LEFT_OUT, "lead_error": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
         "leading_error": MAY_BE_LEFT_OUT | MAY_BE_ZERO | {"negative"},
         "trailing_error": MAY_BE_LEFT_OUT | MAY_BE_ZERO | {"negative"}}),
    "plating": Call(plating, {"thread": THREAD, "least": Q_(0.005, "mm"), "most": Q_(0.008, "mm")},
                    {"least": MAY_BE_ZERO, "most": MAY_BE_LEFT_OUT}),
    "pick_up": Call(pick_up, {"external": THREAD, "internal": NUT, "cutting": "external", "remaining": Q_(0.1, "mm")},
                    {"internal": MAY_BE_LEFT_OUT, "remaining": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "PickUp.after": Call(pick_up(THREAD).after, {"error": Q_(0.03, "mm")}, {"error": MAY_BE_ZERO}),
    "carry_on": Call(carry_on, {"thread": THREAD, "taken_out": True, "run_out": Q_(0.06, "mm"),
                                "mark": Q_(2, "degree")},
                     {"taken_out": frozenset({"bool"}), "run_out": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
                      "mark": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "making": Call(making, {"thread": THREAD, "lathe": lathe(), "relief_width": Q_(4.5, "mm"),
                            "chamfer_angle": Q_(45, "degree"), "tool_relief": Q_(10, "degree"),
                            "least_clearance": Q_(3, "degree"), "reaction": Q_(0.5, "s")},
                   {"lathe": MAY_BE_LEFT_OUT, "relief_width": MAY_BE_LEFT_OUT,
                    "tool_relief": MAY_BE_LEFT_OUT | MAY_BE_ZERO, "least_clearance": MAY_BE_ZERO}),
    "threading_bar": Call(threading_bar, {"thread": NUT, "bar": Q_(10, "mm"), "projection": Q_(1.6, "mm"),
                                          "clearance": Q_(0.5, "mm")},
                          {"projection": MAY_BE_LEFT_OUT, "clearance": MAY_BE_ZERO}),
    "threading_dial": Call(threading_dial, {"thread": THREAD, "leadscrew": Q_(3, "mm"), "teeth": 16, "lines": 8},
                           {"lines": frozenset({"whole number"})}),
    "change_gears": Call(change_gears, {"thread": THREAD, "leadscrew": Q_(3, "mm"), "gears": (20, 40, 60, 80)}),
}  # fmt: skip
