"""Infeed against an independent drawing of the tool, level by level, and against laws that must always hold."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.cutting import cutting_force
from latheworks.threads import infeed
from latheworks.threads import infeed_kernel as kernel
from latheworks.units import Q_, U

EVERY = list(itertools.product(kernel.LAWS, kernel.METHODS))
THREADS = ("M16x1.5-6g", "M16x1.5-6H", "1/2-13 UNC-2A", "1/2-13 UNRC-2A", "1 1/4-12 UN-2B-LH", "M16xPh3P1.5-6H")


def drawn(schedule, levels=4000):
    """Left and right edge of the tool at each level of the groove, a row a pass; nan below the tool's point.

    Drawn from what the schedule says alone: a V of 60 degrees with its flat, at each depth and side shift.
    """
    depth, flat = schedule.depth.m_as("mm")[:, None], schedule.flat.m_as("mm")
    center = (schedule.side_shift - schedule.side_shift[-1]).m_as("mm")[:, None]
    height = schedule.total_depth.m_as("mm")
    level = (np.arange(levels) + 0.5) / levels * height
    half = np.where(level < depth, flat / 2 + (depth - level) * math.tan(math.radians(30)), np.nan)
    return center - half, center + half, height / levels


def union_area(left, right, cell):
    """Area of everything under any of the passes, by sorting the edges at each level."""
    left, right = np.where(np.isnan(left), 0.0, left), np.where(np.isnan(right), 0.0, right)
    order = np.argsort(left, axis=0)
    left, right = np.take_along_axis(left, order, 0), np.take_along_axis(right, order, 0)
    reached = np.maximum.accumulate(right, axis=0)
    start = left.copy()
    start[1:] = np.maximum(left[1:], reached[:-1])
    return float(np.maximum(right - start, 0.0).sum() * cell)


@pytest.mark.parametrize(("law", "method"), EVERY)
@pytest.mark.parametrize("name", THREADS)
def test_chip_areas_match_the_drawing(name, law, method):
    schedule = infeed(name, 7, law, method)
    left, right, cell = drawn(schedule)
    done = [union_area(left[: k + 1], right[: k + 1], cell) for k in range(schedule.passes)]
    chips = np.diff(done, prepend=0.0)
    got = schedule.area.m_as("mm**2")
    assert got[: schedule.passes] == pytest.approx(chips, abs=1e-3 * done[-1])
    assert (got[schedule.passes :] == 0).all()


@pytest.mark.parametrize(("law", "method"), EVERY)
@pytest.mark.parametrize("name", THREADS)
def test_no_pass_cuts_outside_the_finished_form(name, law, method):
    left, right, _ = drawn(infeed(name, 9, law, method))
    with np.errstate(invalid="ignore"):
        assert not (left < left[-1] - 1e-9).any()
        assert not (right > right[-1] + 1e-9).any()


@pytest.mark.parametrize("name", THREADS)
def test_groove_has_the_cross_section_of_the_basic_form(name):
    """From the form alone: opening at the surface, and half a pitch wide at the pitch line (ISO 68-1, ASME B1.1)."""
    schedule = infeed(name)
    thread = schedule.thread
    pitch, height = thread.pitch.m_as("mm"), schedule.total_depth.m_as("mm")
    surface = thread.major if thread.external else thread.minor
    to_pitch_line = abs(surface - thread.pitch_diameter).m_as("mm") / 2
    flat = schedule.flat.m_as("mm")
    at_pitch_line = flat + 2 * (height - to_pitch_line) * math.tan(math.radians(30))
    # Basic diameters are rounded to 0.001 mm or 0.0001 in.
    assert at_pitch_line == pytest.approx(pitch / 2, abs=0.0015)
    opening = flat + 2 * height * math.tan(math.radians(30))
    assert opening == pytest.approx(pitch * (7 / 8 if thread.external else 3 / 4), rel=1e-12)
    assert schedule.area.sum().m_as("mm**2") == pytest.approx((opening + flat) / 2 * height, rel=1e-12)


def test_a_sharp_point_takes_equal_areas_by_the_equal_area_law():
    deepest = Q_(1.5 * 7 / 8 / (2 * math.tan(math.radians(30))), "mm")
    schedule = infeed("M16x1.5-6g", 8, "equal area", depth=deepest)
    assert schedule.flat.m_as("mm") == pytest.approx(0, abs=1e-12)
    chips = schedule.area.m_as("mm**2")[:8]
    assert chips == pytest.approx(np.full(8, chips[0]), rel=1e-9)


def test_force_is_that_of_the_root_and_the_flanks_cut_one_by_one():
    """Pass 3 of a straight infeed, its three pieces put through the public turning force one at a time."""
    schedule = infeed("M16x1.5-6g", 6, material="steel 1045")
    before, depth = (schedule.depth[k].m_as("mm") for k in (1, 2))
    step, length = depth - before, (depth + before) / 2 / math.cos(math.radians(30))

    def piece(width, thickness):
        return cutting_force("steel 1045", Q_(width, "mm"), Q_(thickness, "mm/rev")).m_as("N")

    root = piece(schedule.flat.m_as("mm"), step)
    flank = piece(length, step * math.sin(math.radians(30)))
    assert schedule.force[2].m_as("N") == pytest.approx(root + 2 * flank, rel=1e-12)


@pytest.mark.parametrize("slope", [0.0, math.tan(math.radians(29.5)), math.tan(math.radians(30))])
def test_force_pieces_add_up_to_the_chip(slope):
    """With mc = 0 the force is the specific force times the chip's area, whatever the pieces."""
    depth = kernel.cumulative_depth("equal area", 0.92, 6)
    got = kernel.pass_forces(depth, 0.25, slope, 800.0, 0.0)
    assert got == pytest.approx(800 * kernel.pass_areas(depth, 0.25), rel=1e-12)


def test_flank_infeed_needs_less_force_than_straight_in_and_starts_with_the_same_chip():
    straight, flank = (infeed("M16x1.5-6g", 8, method=method) for method in ("radial", "modified flank"))
    assert straight.force[0] == flank.force[0]
    assert (flank.force[1:8] < straight.force[1:8]).all()


schedules = {
    "pitch": st.floats(0.2, 8.0),
    "passes": st.integers(2, 60),
    "law": st.sampled_from(kernel.LAWS),
    "method": st.sampled_from(kernel.METHODS),
    "external": st.booleans(),
    "angle": st.floats(25.0, 30.0),
}


@settings(max_examples=150, deadline=None)
@given(**schedules)
def test_laws_that_always_hold(pitch, passes, law, method, external, angle):
    total = kernel.DEPTHS[kernel.depth_kind(external, None)] * pitch
    flat = kernel.OPENING[external] * pitch - 2 * total * kernel.TAN
    slope = 0.0 if method == "radial" else math.tan(math.radians(angle))
    depth = kernel.cumulative_depth(law, total, passes)
    shift, from_center = kernel.shifts(method, depth, slope)
    areas, force = kernel.pass_areas(depth, flat), kernel.pass_forces(depth, flat, slope, 1500.0, 0.22)
    assert all(np.isfinite(values).all() for values in (depth, shift, from_center, areas, force))
    assert (np.diff(depth, prepend=0.0) > 0).all()
    assert depth[-1] == pytest.approx(total, rel=1e-12)
    assert (areas > 0).all()
    assert (force > 0).all()
    assert areas.sum() == pytest.approx(kernel.groove_area(total, flat), rel=1e-9)
    assert np.diff(depth, prepend=0.0).min() == pytest.approx(kernel.smallest_step(law, total, float(passes)), rel=1e-9)
    assert from_center[-1] == 0
    assert (np.abs(from_center) <= (total - depth) * kernel.TAN + 1e-12).all()


@settings(max_examples=60, deadline=None)
@given(st.floats(0.2, 8.0), st.sampled_from(kernel.LAWS), st.booleans(), st.floats(0.001, 0.3))
def test_chosen_passes_hold_their_rule(pitch, law, external, least):
    total = kernel.DEPTHS[kernel.depth_kind(external, None)] * pitch
    flat = kernel.OPENING[external] * pitch - 2 * total * kernel.TAN
    limit = float(kernel.chip_force(0.0, 0.25 * math.sqrt(pitch), flat, 0.0, 1.0, 0.25))

    def load(count):
        return kernel.pass_forces(kernel.cumulative_depth(law, total, count), flat, 0.0, 1.0, 0.25).max()

    count = kernel.choose_passes(law, total, flat, pitch, least)
    smallest = float(kernel.smallest_step(law, total, float(count)))
    if load(count) > limit * (1 + 1e-9):
        # The least depth came first: one pass more would break it.
        assert count == 2 or kernel.smallest_step(law, total, float(count + 1)) < least <= smallest
    elif count > 4:
        assert load(count - 1) > limit


def test_inch_and_metric_say_the_same():
    inch = infeed("1/2-13 UNC-2A", 8)
    assert inch.depth.units == U.inch
    assert inch.total_depth.m_as("mm") == pytest.approx(17 / 24 * math.sqrt(0.75) * 25.4 / 13, rel=1e-9)
    assert inch.feed.m_as("mm/min") == pytest.approx(inch.spindle.m_as("rev/min") * 25.4 / 13)
