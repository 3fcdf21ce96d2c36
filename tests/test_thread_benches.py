"""The benches for fit, wires and pick-up: what they draw, say and refuse, in both systems and to both ends."""

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.threads import fit, pick_up, plating, thread, three_wires, virtual_pitch_diameter
from latheworks.units import Q_
from latheworks.widgets import display_system, fit_bench, pickup_bench, wires_bench
from tests.benches import SYSTEMS, is_refused, sizes, to_both_ends

pytestmark = pytest.mark.usefixtures("benches")

MAKERS = {"fit": fit_bench, "wires": wires_bench, "pickup": pickup_bench}


@pytest.fixture(params=sorted(MAKERS))
def bench(request):
    return MAKERS[request.param]("M24x1.5-6g")


@SYSTEMS
@pytest.mark.parametrize("designation", ["1-12 UNF-2A", "1-5 ACME-2G", "Tr 40x14(P7)-7e", "M24xPh3P1.5-6g"])
def test_every_slider_to_both_ends_after_another_thread(bench, system, designation):
    display_system.system = system
    bench.enter(next(iter(bench.controls)), designation)
    assert not bench.error, bench.error
    to_both_ends(bench)


def test_a_wrong_word_or_size_is_refused_and_the_picture_stays(bench):
    last, first = sizes(bench)[-1].name, next(iter(bench.controls))
    for name, text in ((last, "12,7 mm"), (last, "$x$ <script>"), (first, "M24x1.5-6Z"), (first, "NPT 1/2")):
        is_refused(bench, name, text, said=".")


def test_round_crests_are_not_drawn(bench):
    bench.enter(next(iter(bench.controls)), "G 1/2 A")
    assert "not drawn on this bench" in bench.error


def test_fit_judges_as_the_library_does():
    bench, joint = fit_bench("M24x1.5-6g"), fit("M24x1.5-6g")
    for size in np.linspace(-0.15, 0.15, 13):
        bench.set(oversize=Q_(size, "mm"), lead=Q_(0.02, "mm"))
        growth = virtual_pitch_diameter("M24x1.5-6g", lead_error=Q_(0.02, "mm")).growth
        passed = joint.passes(Q_(size, "mm"), growth=growth)
        assert bench.reading.good == bool(passed.accepted)
        assert bench.picture_data.virtual == pytest.approx(passed.virtual.m_as("mm"))
        assert bench.picture.mark.get_ydata()[0] == pytest.approx(size + joint.external.limits.pitch_diameter.mid.m_as(
            "mm") - joint.external.pitch_diameter.m_as("mm"))  # fmt: skip
    assert "Go stays off" in bench.reading.verdict
    bench.set(oversize=Q_(-0.15, "mm"), lead=Q_(0, "mm"))
    assert "Not-go screws on" in bench.reading.verdict


def test_fit_plating_uses_the_allowance():
    layer, bench = plating("M24x1.5-6g", Q_(5, "um"), Q_(5, "um")), fit_bench("M24x1.5-6g")
    before = bench.picture_data.cut
    bench.set(layer=Q_(5, "um"))
    assert bench.picture_data.cut - before == pytest.approx(layer.growth.max.m_as("mm"))
    assert bench.picture_data.go == pytest.approx(thread("M24x1.5-6g").pitch_diameter.m_as("mm"))
    snug = fit_bench("M24x1.5-4h", layer=Q_(5, "um"))
    assert snug.picture_data.go == pytest.approx(thread("M24x1.5-4h").limits.pitch_diameter.max.m_as("mm"))
    bench.enter("layer", "0.5 mm")
    assert "no plating" in bench.error


def test_fit_mate_follows_its_thread_and_strangers_are_refused():
    bench = fit_bench("M24x1.5-6g")
    bench.enter("external", "1-12 UNF-3A")
    assert bench.value("internal") == "1-12 UNF-3B"
    bench.enter("internal", "1-12 UNF-2B")
    assert not bench.error
    bench.enter("internal", "M24x1.5-6H")
    assert "screws onto" in bench.error


def test_wires_read_back_as_the_library_does():
    bench, wires = wires_bench("1-12 UNF-2A"), three_wires("1-12 UNF-2A")
    limits = wires.thread.limits.pitch_diameter
    for reading in np.linspace(1.004, 1.022, 10):
        bench.set(reading=Q_(reading, "in"))
        size = wires.pitch_diameter_from(Q_(reading, "in"))
        assert bench.picture_data.size == pytest.approx(size.m_as("mm"))
        assert bench.reading.good == limits.holds(size)
    bench.enter("reading", "25.6 in")
    assert "no reading of 1-12 UNF-2A" in bench.error
    bench.enter("reading", "1.0633 in")
    assert "2 turns of the thimble" in bench.reading_text


def test_other_wires_keep_the_part_and_move_the_reading():
    bench = wires_bench("1-5 ACME-2G")
    size, before = bench.picture_data.size, bench.value("reading")
    bench.enter("wire", "0.11 in")
    assert bench.picture_data.size == pytest.approx(size, abs=1e-9)
    assert bench.value("reading") > before
    assert bench.picture_data.counted
    assert bench.value("reading").m_as("in") == pytest.approx(
        three_wires("1-5 ACME-2G", Q_(0.11, "in")).over_wires.mid.m_as("in")
    )
    bench.enter("wire", "0.2 in")
    assert "rest on the crests" in bench.error
    assert "Type the best" in bench.error
    bench.enter("thread", "M24x1.5-6g")
    assert bench.value("wire") == three_wires("M24x1.5-6g").best


def test_pick_up_judges_as_the_library_does():
    bench, found = pickup_bench("M24x1.5-6g"), pick_up("M24x1.5-6g")
    for share, good, said in ((0.0, True, "whole"), (0.9, True, "Inside"), (1.5, False, "Past"), (2.2, False, "binds")):
        bench.set(error=share * found.allowed)
        assert bench.reading.good is good
        assert said in bench.reading.verdict
        assert ("binds." in bench.alt) == bool(found.after(share * found.allowed).binds)
    inside = pickup_bench("M24x1.5-6H")
    assert inside.result.cut.external is False
    assert not inside.picture_data.external


def test_pick_up_angle_and_length_are_one_error():
    bench = pickup_bench("M24xPh3P1.5-6g")
    bench.enter("turn", "6 deg")
    assert bench.value("error").m_as("mm") == pytest.approx(3.0 * 6 / 360)
    bench.enter("error", "0.1 mm")
    assert bench.value("turn").m_as("degree") == pytest.approx(12.0)
    bench.enter("thread", "M24x1.5-6g")
    assert bench.value("error") == Q_(0.1, "mm")
    assert bench.value("turn").m_as("degree") == pytest.approx(24.0)


@pytest.mark.parametrize(
    ("make", "wrong"),
    [
        (fit_bench, {"oversize": 3}), (fit_bench, {"external": "M24x1.5-6H"}), (fit_bench, {"layer": Q_(-1, "mm")}),
        (wires_bench, {"thread": "M24x1.5-6H"}), (wires_bench, {"wire": Q_(9, "mm")}), (wires_bench, {"reading": 1}),
        (pickup_bench, {"remaining": Q_(4, "mm")}), (pickup_bench, {"error": Q_(2, "mm")}),
    ],
)  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(make, wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        make(**wrong)
