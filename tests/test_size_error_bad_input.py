"""What `size_error` and `thread_size_error` say of a cut that cannot be."""

import numpy as np
import pytest

from latheworks.deflection import BetweenCenters, Chuck, Shaft, size_error, thread_size_error
from latheworks.errors import Impossible, LatheworksError, OutOfRange, WrongUnit
from latheworks.threads import infeed
from latheworks.units import Q_

BAR = Shaft.bar(Q_(120, "mm"), Q_(16, "mm"), material="6061-T6")
TUBE = Shaft.bar(Q_(120, "mm"), Q_(16, "mm"), Q_(13, "mm"), "6061-T6")
CUT = {"shaft": BAR, "holding": Chuck(), "depth": Q_(0.5, "mm"), "feed": Q_(0.1, "mm/rev"), "at": Q_(60, "mm")}
THREAD = {"schedule": "M16x1.5-6g", "shaft": BAR, "holding": Chuck()}
PLAIN = Shaft.bar(Q_(120, "mm"), Q_(16, "mm"), material=Q_(69, "GPa"))
SLENDER = Shaft.bar(Q_(1500, "mm"), Q_(6, "mm"), material="6061-T6")


@pytest.mark.parametrize(
    ("changed", "kind", "words"),
    [
        ({"depth": Q_(8, "mm")}, Impossible, ("depth", "less than 8 mm", "16 mm")),
        ({"depth": Q_(1.5, "mm"), "shaft": TUBE}, Impossible, ("depth", "less than 1.5 mm", "bore of 13 mm")),
        ({"depth": Q_(20, "mm")}, Impossible, ("depth", "no more to take")),
        ({"off_center": Q_(8, "mm")}, Impossible, ("off_center", "well below the radius")),
        ({"off_center": Q_(-9, "mm")}, Impossible, ("off_center",)),
        ({"center_push": Q_(100, "N")}, Impossible, ("center_push", "no center")),
        ({"shaft": PLAIN}, WrongUnit, ("material", "modulus only")),
        ({"direction": "inwards"}, LatheworksError, ("direction", "toward the chuck")),
        ({"stretch": (Q_(80, "mm"), Q_(120, "mm"))}, OutOfRange, ("at", "80 to 120 mm")),
        ({"stretch": (Q_(80, "mm"), Q_(40, "mm"))}, Impossible, ("stretch", "80 to 40")),
        ({"stretch": Q_(80, "mm")}, WrongUnit, ("stretch", "(start, end)")),
        ({"material": "POM"}, LatheworksError, ("material", "kc1.1")),
        ({"depth": Q_(-1, "mm"), "feed": Q_(1, "mm"), "spring_passes": 2.5}, LatheworksError,
         ("3 arguments", "depth", "feed", "spring_passes")),
    ],
)  # fmt: skip
def test_a_cut_that_cannot_be_gets_a_sentence(changed, kind, words):
    with pytest.raises(kind) as refused:
        size_error(**CUT | changed)
    assert all(word in str(refused.value) for word in words)
    assert "Try" in str(refused.value)


def test_a_part_that_buckles_between_centers_is_refused_and_a_near_one_is_noted():
    limit = np.pi**2 * 69_000 * np.pi / 64 * 5.6**4 / 1500**2
    cut = CUT | {"shaft": SLENDER, "depth": Q_(0.2, "mm"), "holding": BetweenCenters(), "nose_radius": Q_(0.8, "mm")}
    with pytest.raises(Impossible, match=f"buckles under a push of {limit:.3g}"):
        size_error(**cut, center_push=Q_(1.2 * limit, "N"))
    said = " ".join(size_error(**cut, center_push=Q_(0.5 * limit, "N")).notes)
    assert "buckling load" in said
    assert "buckling" not in " ".join(size_error(**CUT).notes)


def test_a_tool_that_digs_in_is_refused():
    """A soft bar, a thick chip and an edge with no radial force of its own: the feed force pulls the part in."""
    soft = Shaft.bar(Q_(15, "mm"), Q_(30, "mm"), material=Q_(2, "MPa"))
    sharp = {"material": "brass", "nose_radius": Q_(0, "mm")}
    with pytest.raises(Impossible, match="digs in to more than twice the depth"):
        size_error(soft, Chuck(), Q_(0.2, "mm"), Q_(0.1, "mm/rev"), Q_(15, "mm"), **sharp)
    away = size_error(
        soft, Chuck(), Q_(0.2, "mm"), Q_(0.1, "mm/rev"), Q_(15, "mm"), direction="away from the chuck", **sharp
    )
    assert away.error.m > 0


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"schedule": "M16x1.5-6H"}, ("internal", "bar that bends")),
        ({"schedule": "1/2-14 NPT EXT"}, ("taper", "parallel")),
        ({"schedule": infeed("M20x1.5-6g")}, ("shaft", "16 mm", "major diameter")),
        ({"shaft": Shaft.bar(Q_(120, "mm"), Q_(16, "mm"), Q_(14.5, "mm"), "6061-T6")}, ("bore of 14.5 mm", "root")),
        ({"schedule": infeed("M16x1.5-6g", length=Q_(130, "mm"))}, ("start", "lies on the part")),
        ({"start": Q_(110, "mm")}, ("start", "110 to 126 mm")),
        ({"at": Q_(50, "mm")}, ("at", "104 to 120 mm")),
        ({"schedule": "M16x"}, ("schedule", "a thread to cut")),
        ({"schedule": 16}, ("schedule", "InfeedSchedule")),
        ({"radial_share": 3}, ("radial_share", "0 to 2")),
        ({"radial_share": "half"}, ("radial_share", "plain number")),
    ],
)
def test_a_thread_that_cannot_be_gets_a_sentence(changed, words):
    with pytest.raises(LatheworksError) as refused:
        thread_size_error(**THREAD | changed)
    assert all(word in str(refused.value) for word in words)
    assert "Try" in str(refused.value)


def test_what_the_passes_show_is_said():
    said = " ".join(size_error(**CUT, spring_passes=6, edge_force=Q_(3, "N")).notes)
    assert "takes nothing" in said or "rubs" in said
    assert "no edge force given" in " ".join(size_error(**CUT, spring_passes=1).notes)
    assert "along the axis" in " ".join(thread_size_error(infeed("M16x1.5-6g", method="flank"), BAR, Chuck()).notes)
