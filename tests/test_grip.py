"""Jaws at speed: what they hold, when they let go, and how the result says so."""

import math

import pytest

from latheworks.deflection import clamping_friction, grip
from latheworks.deflection import grip_kernel as kernel
from latheworks.errors import Impossible, NotInTable, OutOfRange, WrongUnit
from latheworks.tables import table
from latheworks.units import Q_
from tests.by_hand import redo

JAWS = {"jaw_mass": Q_(0.8, "kg"), "jaw_radius": Q_(45, "mm")}
CUT = {"cutting_force": Q_(300, "N"), "cut_diameter": Q_(32, "mm")}


def held(clamping=12000, diameter=32, spindle=800, **more):
    return grip(Q_(clamping, "N"), Q_(diameter, "mm"), Q_(spindle, "rpm"), **(JAWS | more))


def newtons(force):
    return force.m_as("N")


def test_trap_40_grip_is_lost_with_speed_squared_outside_and_gained_inside():
    lost = [newtons(held(spindle=n).centrifugal_force) for n in (500, 1000, 2000)]
    assert lost[1:] == pytest.approx([4 * lost[0], 16 * lost[0]])
    assert lost[0] == pytest.approx(3 * 0.8 * 0.045 * (2 * math.pi * 500 / 60) ** 2)
    out, inn = held(spindle=1000), held(spindle=1000, gripping="inside")
    assert newtons(out.effective_force) == pytest.approx(12000 - lost[1])
    assert newtons(inn.effective_force) == pytest.approx(12000 + lost[1])
    assert inn.permissible_spindle is None


def test_trap_40_below_zero_the_part_is_out_and_a_sentence_says_stop():
    """The speed at which the jaws' own weight takes all of the grip: sqrt(F0/S(m r)); beyond it, no number is given."""
    release = 30 / math.pi * math.sqrt(12000 / (3 * 0.8 * 0.045))
    assert held(spindle=release * 0.999).effective_force is not None
    gone = held(spindle=release * 1.001, **CUT)
    assert gone.effective_force is None
    assert gone.finding == "stop"
    assert gone.says.startswith("Stop:")
    assert "would be released" in gone.says
    assert "grip at speed" not in dict(gone.facts())


def test_trap_41_gripping_small_to_cut_large_needs_the_ratio_of_the_diameters():
    same, small = held(diameter=32, **CUT), held(diameter=16, **CUT)
    assert newtons(small.needed_force) == pytest.approx(2 * newtons(same.needed_force))
    assert (same.cut_ratio, small.cut_ratio) == (1.0, 2.0)
    assert newtons(same.needed_force) == pytest.approx(300 / 0.10)


def test_trap_36_drill_thrust_needs_friction_or_a_shoulder():
    drill = {"torque": Q_(6, "N*m"), "thrust": Q_(2000, "N")}
    loose, stopped = held(**drill), held(**drill, shoulder=True)
    around = 2 * 6000 / 32
    assert newtons(loose.needed_force) == pytest.approx(math.hypot(around, 2000) / 0.10)
    assert newtons(stopped.needed_force) == pytest.approx(around / 0.10)
    assert loose.finding == "stop"
    assert "be pushed into the chuck" in loose.says
    assert stopped.finding == "holds"
    assert "shoulder" in str(loose)


def test_trap_50_the_speed_printed_in_a_manual_is_not_the_one_its_data_give():
    """A chuck maker's manual prints 1495 rev/min; its own 17723 N, 3000 N, 1.5, 1.5 and 2.668 kg m give 500."""
    own = kernel.permissible(17723, 1.5 * 3000, 1.5, 2.668)
    assert own == pytest.approx(500, abs=0.5)
    assert kernel.permissible(17723, 1.5 * 3000, 1.0, 2.668) == pytest.approx(672, abs=0.5)
    assert own < 1495 / 2.9
    moment = {"jaw_mass": Q_(2.668 / 3 / 0.1, "kg"), "jaw_radius": Q_(100, "mm")}
    there = grip(Q_(17723, "N"), Q_(100, "mm"), Q_(1495, "rpm"), **moment, friction=1.0, cutting_force=Q_(3000, "N"),
                 cut_diameter=Q_(100, "mm"))  # fmt: skip
    assert there.permissible_spindle.m_as("rpm") == pytest.approx(500, abs=0.5)
    assert there.finding == "stop"
    assert "released" in there.says


def test_at_the_fastest_spindle_the_clamping_force_is_just_the_required_one():
    fastest = held(**CUT).permissible_spindle
    at = held(spindle=fastest.m_as("rpm"), **CUT)
    assert newtons(at.required_force) == pytest.approx(12000, rel=1e-9)
    over = held(spindle=1.02 * fastest.m_as("rpm"), **CUT)
    assert over.finding == "caution"
    assert "less margin" in over.says


def test_a_grip_too_weak_at_rest_has_no_speed_at_all():
    weak = held(clamping=2000, **CUT)
    assert weak.finding == "stop"
    assert "turn in the jaws" in weak.says
    assert weak.permissible_spindle.m == 0
    assert "none: clamp harder" in str(weak)


def test_from_inside_nobody_counts_on_speed():
    """A cut that holds only thanks to speed is a stop: the spindle starts and stops with the tool near."""
    weak = held(clamping=2000, spindle=2000, gripping="inside", **CUT)
    assert newtons(weak.effective_force) > newtons(weak.needed_force)
    assert weak.finding == "stop"
    assert newtons(weak.required_force) == pytest.approx(1.5 * newtons(weak.needed_force))
    slow = held(spindle=100, gripping="inside", **CUT)
    assert newtons(slow.required_force) == pytest.approx(1.5 * (1.5 * 3000 - newtons(slow.centrifugal_force)))


def test_low_safety_factors_are_at_best_a_caution():
    assert held(**CUT).finding == "holds"
    thin = held(**CUT, machining_safety=1.2)
    assert thin.finding == "caution"
    assert "VDI 3106" in thin.says


def test_friction_comes_from_the_printed_table_unless_given():
    assert held(**CUT).friction == clamping_friction() == 0.10
    assert clamping_friction("serrated", "unmachined") == 0.45
    assert held(**CUT, friction=Q_(20, "percent")).friction == pytest.approx(0.20)
    values = {(row["workpiece"], row["jaws"]): float(row["friction [1]"]) for row in table("jaw_friction")}
    for surface in ("ground", "machined", "unmachined"):
        assert values[surface, "smooth"] < values[surface, "diamond"] < values[surface, "serrated"]


def test_heavier_jaws_further_out_lose_more():
    light = newtons(held().centrifugal_force)
    assert newtons(held(jaw_mass=Q_(1.6, "kg")).centrifugal_force) == pytest.approx(2 * light)
    assert newtons(held(jaw_radius=Q_(90, "mm")).centrifugal_force) == pytest.approx(2 * light)
    assert newtons(held(jaws=4).centrifugal_force) == pytest.approx(4 / 3 * light)


@pytest.mark.parametrize("more", [CUT, {**CUT, "gripping": "inside"}, {"torque": Q_(2, "N*m"), "thrust": Q_(400, "N")},
                                  {**CUT, "thrust": Q_(300, "N"), "shoulder": True}], ids=str)  # fmt: skip
def test_the_working_can_be_redone_by_hand(more):
    result = held(**more)
    values = redo(result.working)
    assert values["F"] == pytest.approx(newtons(result.effective_force), rel=1e-6)
    assert values["required"] == pytest.approx(newtons(result.required_force), rel=1e-6)


@pytest.mark.parametrize(("bad", "kind", "said"), [
    ({"torque": Q_(6, "N*m"), **CUT}, Impossible, "not both"),
    ({"cutting_force": Q_(300, "N")}, WrongUnit, "cut_diameter"),
    ({"friction": 3}, OutOfRange, "a plain number from 0.01 to 1"),
    ({"friction": Q_(3, "mm")}, WrongUnit, "plain number"),
    ({"shoulder": "yes"}, WrongUnit, "True or False"),
    ({"gripping": "inwards"}, NotInTable, "outside"),
])  # fmt: skip
def test_bad_input_speaks_in_sentences(bad, kind, said):
    with pytest.raises(kind, match=said):
        held(**bad)
