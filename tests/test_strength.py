"""Strength of threads: areas, the length that is needed, and which thread gives way."""

import math

import pytest

from latheworks import LatheworksError
from latheworks.threads import engagement, thread
from latheworks.units import Q_

STEEL, ALUMINUM = Q_(450, "MPa"), Q_(310, "MPa")  # the corer's shoe and its barrel
SHOE = "M27x1.5-6g"


def test_inch_and_metric_stress_areas_stand_on_different_roots():
    """0.9743 P off the diameter against 0.9382 P: 0.606 square inch for 1-8, and not the minor area, 0.551."""
    inch, metric = engagement("1-8 UNC-2A"), engagement("M10")
    assert inch.stress_area.m_as("in**2") == pytest.approx(math.pi / 4 * (1 - 0.9743 / 8) ** 2, rel=1e-4)
    assert metric.stress_area.m_as("mm**2") == pytest.approx(math.pi / 4 * (10 - 0.9382 * 1.5) ** 2, rel=1e-4)
    assert inch.stress_area.m_as("in**2") == pytest.approx(0.606, abs=0.0005)


def test_stripping_stands_on_the_least_material_limits():
    """The external thread shears at the largest bore, the internal one at the smallest screw."""
    joint = engagement("1/2-13 UNC-2A", Q_(1, "in"))
    out, hole = joint.external.limits, joint.internal.limits
    bore, pitch_min = hole.minor.max.m_as("in"), out.pitch_diameter.min.m_as("in")
    screw, pitch_max = out.major.min.m_as("in"), hole.pitch_diameter.max.m_as("in")
    external = math.pi * 13 * bore * (1 / 26 + 0.57735 * (pitch_min - bore))
    internal = math.pi * 13 * screw * (1 / 26 + 0.57735 * (screw - pitch_max))
    assert joint.shear_area_external.m_as("in**2") == pytest.approx(external, rel=1e-5)
    assert joint.shear_area_internal.m_as("in**2") == pytest.approx(internal, rel=1e-5)


def ridge_area(root, crest, pitch, half, pitch_diameter, at):
    """Area of a cylinder inside the ridge of a thread, for one pitch, from the ridge's width drawn point by point."""
    steps = 20_000
    inside = 0
    for k in range(steps):
        axial = (k + 0.5) / steps * pitch - pitch / 2
        height = pitch_diameter / 2 + (pitch / 4 - abs(axial)) / math.tan(half)
        inside += min(max(height, root / 2), crest / 2) >= at / 2
    return math.pi * at * inside / steps * pitch


@pytest.mark.parametrize("designation", ["M12x1.75-6g", "3/4-10 UNC-2A"])
def test_the_shear_area_is_the_cylinder_inside_the_drawn_ridge(designation):
    joint = engagement(designation)
    t, unit = joint.external, joint.external.pitch.units
    pitch, mean = t.pitch.m_as(unit), t.limits.pitch_diameter.min.m_as(unit)
    bore = joint.internal.limits.minor.max.m_as(unit)
    drawn = ridge_area(t.minor.m_as(unit) * 0.9, t.major.m_as(unit), pitch, math.radians(30), mean, bore)
    assert joint.external_per_length.m_as(unit) * pitch == pytest.approx(drawn, rel=2e-4)


def test_alike_materials_need_twice_the_stress_area_in_shear():
    joint = engagement("1/2-13 UNC-2A")
    assert joint.required_length.m_as("in") == pytest.approx(0.364, abs=0.0005)
    assert joint.area_factor < 1
    assert joint.fails_first == "external thread breaks"
    assert (joint.required_length * joint.external_per_length).m_as("in**2") == pytest.approx(2 * 0.1419, abs=1e-4)


def test_a_weak_nut_needs_more_length_and_strips_first():
    """Half the strength inside: 0.364 in becomes 0.505 in."""
    joint = engagement("1/2-13 UNC-2A", Q_(0.4, "in"), external_strength=Q_(60, "ksi"), internal_strength=Q_(30, "ksi"))
    assert joint.area_factor == pytest.approx(1.387, abs=0.001)
    assert joint.required_length.m_as("in") == pytest.approx(0.505, abs=0.0005)
    assert joint.fails_first == "internal thread strips"
    assert any("short of the required length" in note for note in joint.notes)


def test_a_short_joint_of_alike_materials_strips_the_screw():
    joint = engagement("1/2-13 UNC-2A", Q_(0.3, "in"), external_strength=STEEL, internal_strength=STEEL)
    assert joint.fails_first == "external thread strips"
    assert joint.external_stripping_force < joint.breaking_force < 2 * joint.internal_stripping_force


@pytest.mark.parametrize("strengths", [(450, 450), (450, 310), (600, 200), (310, 450)])
def test_at_the_required_length_the_screw_gives_way(strengths):
    kind = {"external_strength": Q_(strengths[0], "MPa"), "internal_strength": Q_(strengths[1], "MPa")}
    needed = engagement(SHOE, **kind).required_length
    assert engagement(SHOE, needed * 1.0001, **kind).fails_first == "external thread breaks"
    assert engagement(SHOE, needed * 0.999, **kind).fails_first != "external thread breaks"


def test_forces_are_areas_times_strengths():
    joint = engagement(SHOE, Q_(10, "mm"), external_strength=STEEL, internal_strength=ALUMINUM)
    assert joint.breaking_force.m_as("N") == pytest.approx(joint.stress_area.m_as("mm**2") * 450)
    assert joint.internal_stripping_force.m_as("N") == pytest.approx(joint.shear_area_internal.m_as("mm**2") * 155)
    inch = engagement("1/2-13 UNC-2A", external_strength=Q_(60, "ksi"), internal_strength=Q_(60, "ksi"))
    assert inch.breaking_force.m_as("lbf") == pytest.approx(60_000 * inch.stress_area.m_as("in**2"), rel=1e-9)
    assert engagement(SHOE).breaking_force is None


def test_either_thread_of_the_pair_may_be_given():
    """The barrel's hole and the shoe's thread are one joint."""
    from_shoe, from_barrel = engagement(SHOE), engagement("M27x1.5-6H")
    assert from_shoe.shear_area_internal.m_as("mm**2") == pytest.approx(from_barrel.shear_area_internal.m_as("mm**2"))
    assert from_barrel.external.designation == SHOE
    assert engagement(thread(SHOE)).required_length == from_shoe.required_length


def test_a_closer_mate_gives_more_area():
    assert (
        engagement("M10-6g", mate_class="5H").shear_area_external
        > engagement("M10-6g", mate_class="6H").shear_area_external
    )


def test_high_strength_steel_has_the_smaller_stress_area_and_the_notes_say_so():
    """Above 100 ksi: pi (d2min/2 - 0.16238/n)^2, 0.13757 for 1/2-13 UNC-2A; some editions change at 180 ksi."""
    at_100, above = (engagement("1/2-13 UNC-2A", external_strength=Q_(s, "ksi"), internal_strength=Q_(100, "ksi"))
                     for s in (100, 120))  # fmt: skip
    assert at_100.stress_area.m_as("in**2") == pytest.approx(0.1419, abs=5e-5)
    assert above.stress_area.m_as("in**2") == pytest.approx(0.13757, abs=5e-6)
    assert any("100 ksi" in note and "180 ksi" in note for note in above.notes)
    assert "0.16238" in above.working.text()


def test_a_pitch_error_changes_the_strip_strength_in_proportion():
    """Each unit of pitch diameter takes tan 30 of axial thickness off the ridge."""
    joint = engagement("M10x1.5-6g")
    for error in (-0.1, -0.02, 0.02):
        off = joint.with_pitch_error(Q_(error, "mm"))
        bore = joint.internal.limits.minor.max.m_as("mm")
        change = math.pi * bore * math.tan(math.radians(30)) * error / 1.5 * 10
        gained = (off.shear_area_external - joint.shear_area_external).m_as("mm**2")
        assert gained == pytest.approx(change, rel=1e-9)
        assert off.shear_ratio == pytest.approx(1 + change / joint.shear_area_external.m_as("mm**2"))
        assert off.shear_area_internal.m_as("mm**2") == pytest.approx(joint.shear_area_internal.m_as("mm**2"))
    assert joint.with_pitch_error(Q_(-0.1, "mm")).required_length > joint.required_length
    assert joint.shear_ratio == 1


def test_a_pitch_error_of_an_internal_thread_works_the_other_way():
    joint = engagement("M10-6H")
    large = joint.with_pitch_error(Q_(0.002, "in"))
    assert large.shear_ratio < 1
    assert large.shear_area_internal < joint.shear_area_internal
    assert any("outside its class" in note for note in large.notes)
    back = large.with_pitch_error(Q_(0, "mm"))
    assert back.shear_area_internal.m_as("mm**2") == pytest.approx(joint.shear_area_internal.m_as("mm**2"))


def test_power_threads_use_their_own_angle():
    joint = engagement("1/2-10 ACME-3G", Q_(1, "in"))
    bore, mean = joint.internal.limits.minor.max.m_as("in"), joint.external.limits.pitch_diameter.min.m_as("in")
    expected = math.pi * bore * (0.5 + 10 * math.tan(math.radians(14.5)) * (mean - bore))
    assert joint.shear_area_external.m_as("in**2") == pytest.approx(expected, rel=1e-9)
    assert any("wear" in note for note in joint.notes)
    trapezoidal = engagement("Tr 40x7-7e")
    assert trapezoidal.stress_area.m_as("mm**2") == pytest.approx(math.pi / 4 * ((36.5 + 32) / 2) ** 2, rel=1e-6)


def test_the_cautions_are_always_there():
    for joint in (engagement(SHOE), engagement("1/2-13 UNC-2A", Q_(1.2, "in"))):
        assert "not a design approval" in joint.notes[-1]
        assert "full threads" in joint.notes[0]
    assert any("adds little" in note for note in engagement("1/2-13 UNC-2A", Q_(1.2, "in")).notes)


BAD = [
    (lambda: engagement(3), "a Thread or its designation"),
    (lambda: engagement("M10", 10), "Q_("),
    (lambda: engagement("M10", Q_(0, "mm")), "more than 0 mm"),
    (lambda: engagement("M10", Q_(1, "m")), "at most 200 mm"),
    (lambda: engagement("M10", Q_(10, "N")), "length"),
    (lambda: engagement("M10", external_strength=Q_(500, "MPa")), "for each thread, or for neither"),
    (lambda: engagement("M10", external_strength=Q_(500, "mm"), internal_strength=Q_(0, "MPa")), "2 arguments"),
    (lambda: engagement("M10", mate_class="6g"), "internal"),
    (lambda: engagement("M10", mate_class=6), "mate_class"),
    (lambda: engagement("1/2-14 NPT"), "pipe"),
    (lambda: engagement("M10").with_pitch_error(-0.1), "error=Q_(-0.002"),
    (lambda: engagement("M10-6g").with_pitch_error(Q_(-2, "mm")), "leaves some thread"),
    (lambda: engagement("M10-6g").with_pitch_error(Q_(2, "mm")), "space for the mate"),
]


@pytest.mark.parametrize(("call", "words"), BAD)
def test_bad_input_gets_a_helpful_sentence(call, words):
    with pytest.raises(LatheworksError) as caught:
        call()
    assert words in str(caught.value)


def test_the_result_shows_itself():
    joint = engagement(SHOE, external_strength=STEEL, internal_strength=ALUMINUM).with_pitch_error(Q_(-0.05, "mm"))
    assert "of the shear area is kept" in str(joint)
    assert "gives way first" in joint._repr_html_()
    symbols = [line.symbol for line in joint.working]
    assert symbols == ["At", "As", "An", "Le", "J", "required"]
    assert all(line.source for line in joint.working)
