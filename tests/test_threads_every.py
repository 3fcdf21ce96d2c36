"""What holds for every thread in the tables: every size, series and class."""

from itertools import pairwise

import pytest

from latheworks import LatheworksError
from latheworks.tables import table
from latheworks.threads import metric, thread
from latheworks.threads import spec as tables_of
from latheworks.threads.unified import PRINTED_LIMITS, printed

CLASSES = {"A": ("1A", "2A", "3A"), "B": ("1B", "2B", "3B")}
UNIFIED = [name for name in tables_of.all_names() if not name.startswith("M")]
METRIC = [name for name in tables_of.all_names() if name.startswith("M")]


def check(one):
    assert thread(one.designation) == one
    low = one.limits
    assert low.pitch_diameter.min.magnitude < low.pitch_diameter.max.magnitude
    crest = low.major if one.external else low.minor
    assert 0 < crest.min.magnitude < crest.max.magnitude
    assert low.minor.max.magnitude < low.pitch_diameter.min.magnitude < low.pitch_diameter.max.magnitude
    assert low.pitch_diameter.max.magnitude < low.major.min.magnitude
    assert 0 < one.lead_angle.magnitude < 8


def fits(bolt, nut):
    """The allowance: the largest bolt enters the smallest nut, at each of the three diameters."""
    hair = 1e-9
    slack = nut.limits.pitch_diameter.min.magnitude - bolt.limits.pitch_diameter.max.magnitude
    assert slack >= bolt.allowance.magnitude - 1.5e-4
    assert slack >= -hair
    assert nut.limits.major.min.magnitude >= bolt.limits.major.max.magnitude - hair
    # Minor limits of nuts are rounded to three decimals, so they may lie half of one below the sharp form.
    assert nut.limits.minor.min.magnitude >= bolt.limits.minor.max.magnitude - 0.00051


@pytest.mark.parametrize("number", range(10))
def test_every_unified_thread(number):
    for name in UNIFIED[number::10]:
        both = {c: thread(f"{name}-{c}") for c in (*CLASSES["A"], *CLASSES["B"])}
        for one in both.values():
            check(one)
            assert one.mate().external is not one.external
        for a in CLASSES["A"]:
            for b in CLASSES["B"]:
                fits(both[a], both[b])
        widths = [both[c].limits.pitch_diameter.width.magnitude for c in ("3A", "2A", "1A")]
        assert widths == sorted(widths)


@pytest.mark.parametrize("number", range(10))
def test_every_metric_thread_in_every_tabled_class(number):
    for name in METRIC[number::10]:
        made = {}
        for letter in "efghGH":
            for grade in "3456789":
                for crest in ("4", "6", "8") if letter.islower() else ("4", "5", "6", "7", "8"):
                    written = grade + letter if grade == crest else grade + letter + crest + letter
                    try:
                        one = thread(f"{name}-{written}")
                    except LatheworksError:
                        assert not metric.tabulated(*_key(name), written)
                        continue
                    check(one)
                    made[written] = one
        bolts, nuts = [t for t in made.values() if t.external], [t for t in made.values() if not t.external]
        assert bolts
        assert nuts
        for bolt in bolts:
            fits(bolt, nuts[0])
            fits(bolt, bolt.mate())
        for nut in nuts:
            fits(nut.mate(), nut)


def _key(name):
    size, pitch = name[1:].split("x")
    return tables_of.Decimal(size), tables_of.Decimal(pitch)


def test_every_size_has_the_usual_classes():
    for name in METRIC:
        small = _key(name)[0] <= tables_of.Decimal("1.4")
        assert thread(name).tolerance_class == ("6h" if small else "6g")
        assert thread(name).mate().tolerance_class in (("5H", "4H") if small else ("6H", "5H", "4H"))


def test_every_printed_value_is_used():
    limits = {*PRINTED_LIMITS.values(), "allowance"}
    for (designation, limit), (value, _) in printed().items():
        one = thread(designation)
        assert one.designation == designation
        assert limit in limits
        if limit == "allowance":
            assert one.allowance.m_as("in") == pytest.approx(float(value))
        else:
            name, end = next(key for key, word in PRINTED_LIMITS.items() if word == limit)
            found = getattr(getattr(one.limits, name), ("min", "max")[end])
            assert found.m_as("in") == pytest.approx(float(value))


def test_the_grades_are_whole_steps_of_preferred_numbers():
    # ISO 965-1: grades follow R10 steps, ratio 10^(1/10) each (from memory); tables are rounded to R40 numbers.
    for name, first in (("metric_external_pitch_tolerance", "3 [um]"), ("metric_internal_pitch_tolerance", "4 [um]")):
        for row in table(name):
            cells = [float(v) for k, v in row.items() if k.endswith("[um]") and v]
            assert row[first]
            for fine, coarse in pairwise(cells):
                assert coarse / fine == pytest.approx(10**0.1, rel=0.045)
