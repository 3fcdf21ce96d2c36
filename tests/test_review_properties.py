"""What holds for every plan: a tighter tolerance never helps, nothing stiffer harms, nonsense is found, not thrown."""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from latheworks.plan import Operation, Part, Plan, Setup, review
from latheworks.plan.findings import LEVELS
from latheworks.plan.operation import KINDS
from latheworks.plan.setup import HOLDINGS, SUPPORTS
from latheworks.shop import rack
from latheworks.units import Q_
from tests.review_parts import (
    FEATURES,
    FINISHING,
    HEAD_OPERATIONS,
    TURNING,
    foot,
    head,
    limits,
    mm,
    on,
    pin,
    plan,
    swapped,
)

SLOW = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
TOOLS = [None, "no such tool", *[tool.name for tool in rack().tools]]
NAMES = [*FEATURES, "no such feature"]


def with_width(name, half):
    """The pin with one size's limits at a half-width about its middle."""
    feature = FEATURES[name]
    middle = feature.plain.aim
    return pin(**{name: replace(feature, limits=limits(middle - half, middle + half))})


@SLOW
@given(st.sampled_from(["foot", "head", "slot", "hole"]), st.floats(0.003, 0.2), st.floats(0.05, 1.0))
def test_a_tighter_tolerance_never_turns_a_stop_into_a_pass(name, half, share):
    wide, tight = review(plan(part=with_width(name, half))), review(plan(part=with_width(name, half * share)))
    one, two = wide.row(name).use, tight.row(name).use
    assert two >= one - 1e-9
    graver = [LEVELS.index(each.verdict) if each.verdict in LEVELS else 2 for each in (wide, tight)]
    assert graver[1] <= graver[0]


def turned(**more):
    """How far a bar bends at its end in a chuck, cut once [mm on the diameter]."""
    setup = {"stickout": mm(120), "tilt": Q_(1e8, "N*mm/rad"), "radial": Q_(5e4, "N/mm")} | more
    passes = {"spring_passes": setup.pop("spring_passes", 0)}
    part = Part("bar", "6061-T6", [on("held", "cylinder", 0, 40, 22), on("body", "cylinder", 40, 160, 22,
                limits=limits(21, 23))], mm(24), mm(160))  # fmt: skip
    cut = Operation("turn", ["body"], TURNING, feed=Q_(0.2, "mm/rev"), passes=1, **passes)
    found = review(Plan(part, [Setup("one", "A", operations=[cut], **setup)]))
    return found.operations[0].diameter_error.m_as("mm"), found.time.m_as("min")


@SLOW
@given(st.floats(3e6, 1e9), st.floats(3e6, 1e9), st.floats(2e3, 1e6), st.floats(2e3, 1e6))
def test_a_stiffer_holding_never_makes_the_size_worse(tilt, other_tilt, radial, other_radial):
    soft = turned(tilt=Q_(min(tilt, other_tilt), "N*mm/rad"), radial=Q_(min(radial, other_radial), "N/mm"))[0]
    hard = turned(tilt=Q_(max(tilt, other_tilt), "N*mm/rad"), radial=Q_(max(radial, other_radial), "N/mm"))[0]
    assert hard <= soft * (1 + 1e-6)


@SLOW
@given(st.floats(60, 115), st.floats(60, 115))
def test_more_stickout_never_helps(one, two):
    """The whole cut is farther out, and no shorter: only what lies in the jaws changes."""

    def bent(out):
        part = Part("bar", "6061-T6", [on("held", "cylinder", 0, 110, 22), on("body", "cylinder", 110, 160, 22,
                    limits=limits(21, 23))], mm(24), mm(160))  # fmt: skip
        cut = Operation("turn", ["body"], TURNING, feed=Q_(0.2, "mm/rev"), passes=1)
        return review(Plan(part, [Setup("one", "A", mm(out), operations=[cut])])).operations[0].diameter_error.m

    short, long = sorted((one, two))
    assert bent(short) <= bent(long) * (1 + 1e-6)


@SLOW
@given(st.integers(0, 6))
def test_a_spring_pass_never_lengthens_the_error_but_always_the_time(spring):
    error, minutes = turned(spring_passes=spring)
    less, more = turned(spring_passes=spring + 1)
    assert less <= error * (1 + 1e-9)
    assert more > minutes


def numbers(low, high, unit):
    return st.one_of(st.none(), st.floats(low, high).map(lambda value: Q_(value, unit)))


OPERATIONS = st.builds(
    Operation, kind=st.sampled_from(KINDS), features=st.lists(st.sampled_from(NAMES), max_size=4),
    tool=st.sampled_from(TOOLS), spindle=numbers(1, 20_000, "rev/min"), feed=numbers(1e-6, 10, "mm/rev"),
    depth=numbers(1e-6, 20, "mm"), passes=st.one_of(st.none(), st.integers(1, 200)), spring_passes=st.integers(0, 20),
    leave=numbers(0, 20, "mm"), peck=numbers(1e-3, 500, "mm"), drill_depth=numbers(1e-3, 2000, "mm"),
    coolant=st.sampled_from([None, True, False]),
)  # fmt: skip
SETUPS = st.builds(
    Setup, name=st.just("some"), grips=st.sampled_from("AB"), stickout=numbers(0.01, 500, "mm").filter(bool),
    holding=st.sampled_from(HOLDINGS), support=st.sampled_from(SUPPORTS), operations=st.lists(OPERATIONS, max_size=5),
    jaw_force=numbers(1, 1e6, "N"), runout=numbers(0, 5, "mm"), zero_error=numbers(0, 5, "mm"), stop=st.booleans(),
    tailstock_locked=st.booleans(), quill_locked=st.booleans(), tilt=numbers(1e3, 1e12, "N*mm/rad"),
    radial=numbers(1, 1e9, "N/mm"), center=numbers(1, 1e9, "N/mm"),
)  # fmt: skip


def all_numbers(found):
    yield from (found.time.m, found.cost, found.worst_use)
    for row in found.operations:
        yield from (row.time.m, row.power_share, row.torque_share, row.grip_share)
        yield from (each.m for each in (row.spindle, row.feed, row.depth, row.diameter_error) if each is not None)
    for row in found.sizes:
        yield row.aim.m
        if row.predicted is not None:
            yield from (end.m for end in (row.predicted.min, row.predicted.max))
        yield from (share for _, share in row.budget)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(st.lists(SETUPS, min_size=1, max_size=3), st.sampled_from(["6061-T6", "steel 1045", "POM", "brass"]))
def test_nonsense_is_found_and_never_thrown(setups, material):
    found = review(Plan(pin(material), setups))
    assert found.verdict == "stop"
    assert all(map(math.isfinite, all_numbers(found)))
    assert all(0 <= each.where.setup <= len(setups) for each in found.findings if each.where.setup)
    assert str(found)
    assert found.to_frame().shape[0] == len(found.sizes)


def test_a_review_does_not_hang_on_what_was_reviewed_before():
    whole, spoiled = plan(), plan(foot(), head(swapped(HEAD_OPERATIONS, 2, tool=FINISHING, spring_passes=0)))
    first = review(whole)
    review(spoiled)
    again = review(whole)
    assert [each.code for each in first.findings] == [each.code for each in again.findings]
    assert first.worst_use == again.worst_use
    fresh = review(plan())
    assert fresh.worst_use == pytest.approx(first.worst_use)
    assert fresh.time == first.time
