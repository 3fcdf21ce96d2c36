"""Facing, parting and single cuts: times against a sum of many thin rings, and what is refused."""

import math

import numpy as np
import pytest

from latheworks.errors import LatheworksError
from latheworks.materials import materials
from latheworks.passes import chip_volume, coolant, facing_time, parting_time, turning_time
from latheworks.shop import lathe
from latheworks.units import Q_
from tests.by_hand import worked_out

FEED, SPEED = Q_(0.1, "mm/rev"), Q_(90, "m/min")
FASTEST, SLOWEST = (q.m_as("rev/min") for q in (lathe().fastest_spindle, lathe().slowest_spindle))


def by_rings(path, feed, speed, first, last, most=FASTEST, least=SLOWEST):
    """The time of many short pieces, each at its own spindle, held within the range of the lathe."""
    size = np.linspace(first, last, 200_001)
    size = (size[1:] + size[:-1]) / 2
    turns = np.clip(1000 * speed / (np.pi * size), least, most)
    return float((path / size.size / (feed * turns)).sum())


@pytest.mark.parametrize(("outside", "inside"), [(60, 0), (60, 10), (60, 20), (12, 0), (600, 400), (900, 0)])
def test_facing_is_the_sum_of_thin_rings(outside, inside):
    got = facing_time(Q_(outside, "mm"), FEED, inside=Q_(inside, "mm"), surface_speed=SPEED).time.m_as("min")
    assert got == pytest.approx(by_rings((outside - inside) / 2, 0.1, 90, outside, inside), rel=1e-7)


def test_facing_at_constant_turns_runs_at_one_speed():
    found = facing_time(Q_(60, "mm"), FEED, spindle=Q_(600, "rpm"), depth=Q_(1, "mm"))
    assert found.time.m_as("min") == pytest.approx(30 / (0.1 * 600))
    assert (found.spindle, found.last_surface_speed.m, found.last_removal_rate.m) == (Q_(600, "rpm"), 0, 0)
    # First removal: the ring 60 mm across, 1 mm deep, 0.1 mm wide a turn.
    assert found.removal_rate.m_as("mm**3/min") == pytest.approx(math.pi * 60 * 0.1 * 600)
    assert found.volume.m_as("mm**3") == pytest.approx(math.pi * 30**2)


def test_a_lower_clamp_takes_longer_and_its_share_is_told():
    free = facing_time(Q_(60, "mm"), FEED, surface_speed=SPEED)
    held = facing_time(Q_(60, "mm"), FEED, surface_speed=SPEED, most_spindle=Q_(800, "rpm"))
    assert held.time > free.time
    edge = 1000 * 90 / (math.pi * 800)
    assert held.clamp_diameter.m_as("mm") == pytest.approx(edge)
    assert held.time_at_clamp.m_as("min") == pytest.approx(edge / 2 / (0.1 * 800))
    assert facing_time(Q_(60, "mm"), FEED, inside=Q_(40, "mm"), surface_speed=SPEED).clamp_diameter is None


def test_a_taper_is_the_sum_of_short_pieces():
    found = turning_time(Q_(100, "mm"), Q_(40, "mm"), FEED, end_diameter=Q_(4, "mm"), surface_speed=SPEED)
    assert found.time.m_as("min") == pytest.approx(by_rings(math.hypot(100, 18), 0.1, 90, 40, 4), rel=1e-7)


@pytest.mark.parametrize(
    ("outside", "more"),
    [
        (60, {"surface_speed": SPEED}),  # down to the fastest spindle, and on
        (900, {"surface_speed": SPEED}),  # the slowest spindle, the surface speed, the fastest spindle
        (60, {"surface_speed": SPEED, "inside": Q_(40, "mm")}),
        (60, {"surface_speed": SPEED, "cuts": 3, "approach": Q_(2, "mm"), "overrun": Q_(0.4, "mm")}),
        (60, {"spindle": Q_(500, "rpm")}),
        (60, {"spindle": Q_(500, "rpm"), "cuts": 2, "approach": Q_(2, "mm")}),
    ],
)
def test_the_working_leads_to_the_time_in_cut(outside, more):
    found = facing_time(Q_(outside, "mm"), FEED, **more)
    lines = list(found.working)
    for line in lines:
        assert worked_out(line.numbers) == pytest.approx(float(line.result.split()[0]), rel=1e-4), line
    assert lines[-1].symbol == "t"
    assert worked_out(lines[-1].numbers) == pytest.approx(found.cutting_time.m_as("min"), rel=2e-5)


def test_turning_removes_the_ring_between_both_diameters():
    found = turning_time(Q_(100, "mm"), Q_(40, "mm"), FEED, depth=Q_(2, "mm"), spindle=Q_(500, "rpm"))
    assert (found.removal_rate * found.time).m_as("mm**3") == pytest.approx(math.pi / 4 * (40**2 - 36**2) * 100)
    assert found.volume.m_as("mm**3") == pytest.approx(math.pi / 4 * (40**2 - 36**2) * 100)


def test_cuts_approach_overrun_and_return_add_up():
    found = turning_time(Q_(95, "mm"), Q_(40, "mm"), FEED, spindle=Q_(500, "rpm"), cuts=3, approach=Q_(3, "mm"),
                         overrun=Q_(2, "mm"), return_speed=Q_(1000, "mm/min"))  # fmt: skip
    assert found.cutting_time.m_as("min") == pytest.approx(3 * 100 / 50)
    assert found.idle_time.m_as("min") == pytest.approx(3 * 100 / 1000)


def test_parting_is_facing_with_a_blade_and_pecks_cost_time():
    plunge = parting_time(Q_(32, "mm"), Q_(3, "mm"), FEED, surface_speed=SPEED)
    assert plunge.cutting_time == facing_time(Q_(32, "mm"), FEED, surface_speed=SPEED).cutting_time
    pecked = parting_time(Q_(32, "mm"), Q_(3, "mm"), FEED, surface_speed=SPEED, peck=Q_(1.5, "mm"))
    assert pecked.pecks == 11
    assert plunge.idle_time.m_as("min") == pytest.approx(16 / 1200)
    assert (pecked.idle_time - plunge.idle_time).m_as("min") == pytest.approx(10 * 2 / 1200)
    assert plunge.volume.m_as("mm**3") == pytest.approx(math.pi * 16**2 * 3)


@pytest.mark.parametrize(("call", "said"), [
    (lambda: facing_time(Q_(20, "mm"), FEED, inside=Q_(20, "mm"), spindle=Q_(500, "rpm")), "hole smaller"),
    (lambda: facing_time(Q_(20, "mm"), FEED), "neither"),
    (lambda: parting_time(Q_(20, "mm"), Q_(3, "mm"), FEED, spindle=Q_(500, "rpm"), peck=Q_(0, "mm")), "peck"),
    (lambda: parting_time(Q_(20, "mm"), Q_(3, "mm"), FEED, spindle=Q_(500, "rpm"), peck=Q_(1, "um")), "1000 pecks"),
    (lambda: turning_time(Q_(20, "mm"), Q_(20, "mm"), FEED, spindle=Q_(500, "rpm"), cuts=10_000), "500"),
    (lambda: turning_time(Q_(20, "mm"), Q_(20, "mm"), FEED, spindle=Q_(500, "rpm"), depth=Q_(11, "mm")), "radius"),
])  # fmt: skip
def test_nonsense_is_refused_in_words(call, said):
    with pytest.raises(LatheworksError, match=said):
        call()


def test_every_part_shows_itself():
    found = facing_time(Q_(60, "mm"), FEED, surface_speed=SPEED, depth=Q_(1, "mm"), system="inch")
    assert "at its fastest" in str(found)
    assert "t1 + t2" in found.working.text()
    assert "D0" not in facing_time(Q_(60, "mm"), FEED, spindle=Q_(500, "rpm")).working.text()
    assert "<table>" in found._repr_html_()


def test_chips_take_many_times_the_room_of_the_metal():
    # 490 lb a cubic foot solid; loose turnings 10 to 25, broken chips 55 to 75 (the maker's guide).
    loose, broken = (chip_volume("steel 1018", Q_(100, "cm**3"), kind) for kind in ("loose turnings", "broken chips"))
    assert (loose.factor.min.m, loose.factor.max.m) == pytest.approx((19.6, 49.0))
    assert broken.volume.max.m_as("cm**3") == pytest.approx(100 * 490 / 55)
    with pytest.raises(LatheworksError, match="known weight"):
        chip_volume("POM", Q_(100, "cm**3"))


@pytest.mark.parametrize("operation", ["turning", "drilling", "parting", "threading"])
def test_there_is_advice_on_coolant_for_every_material_with_its_caution(operation):
    for name in materials():
        found = coolant(name, operation)
        assert all(all(row) for row in found.rows)
        assert "safety data sheet" in str(found)
        assert found.rows[0][4].partition(":")[0] in {"Skin", "Mist", "Fire", "Chips", "Dust", "Heat"}
