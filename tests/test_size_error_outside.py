"""The balance of force and bending against outside tools: a frame solver in a plain loop, and a symbolic beam.

The loop knows nothing of our solver: it puts a depth into the force, asks the frame solver how far the part bends
under it, and takes from that the depth that is left, until nothing changes.
"""

from math import hypot, inf, sqrt

import numpy as np
import pytest
import sympy

from latheworks import material
from latheworks.cutting.kernel import radial_force
from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, size_error, thread_size_error
from latheworks.deflection.moving_kernel import cut_down, under_tool
from latheworks.deflection.size_door import sizes
from latheworks.threads import infeed
from latheworks.threads.infeed_kernel import chip_force
from latheworks.units import Q_
from tests.deflection_models import Case, frame
from tests.test_deflection_outside import ours

SOFT = {"tilt": 1e8, "radial": 5e4}
CASES = [
    Case("barrel in a chuck", ((120.0, 32.0, 20.0), (80.0, 30.0, 26.0)), SOFT),
    Case("bar in a rigid chuck", ((80.0, 12.0, 0.0),), {"tilt": inf, "radial": inf}),
    Case("slender bar in a chuck with a center", ((300.0, 16.0, 0.0),), SOFT | {"center": 3e4}),
    Case("steps between centers", ((100.0, 24.0, 8.0), (120.0, 18.0, 8.0)), {"head": 5e4, "tail": 3e4}),
    Case("bar in a chuck with a rest", ((250.0, 20.0, 0.0),), SOFT, rest=(150.0, 2e4)),
    Case("bar with a center and a rest", ((300.0, 15.0, 5.0),), SOFT | {"center": 3e4}, rest=(120.0, 2e4)),
    Case("bar between centers with a rest", ((250.0, 16.0, 5.0),), {"head": 5e4, "tail": 3e4}, rest=(100.0, 2e4)),
]
STUFF = material("6061-T6")
KC, MC = STUFF.specific_cutting_force.m_as("MPa"), STUFF.chip_thickness_exponent
FEED, NOSE, ANGLE, TOOL, EDGE = 0.12, 0.8, 75.0, 4e4, 1.5


def split(case, tool, depth, near_old, far_old):
    """The case with its sections split under the tool and turned down where they are no longer old."""
    sections, start = [], 0.0
    for size, outside, bore in case.sections:
        for low, high, old in (
            (start, min(start + size, tool), near_old), (max(start, tool), start + size, far_old),
        ):  # fmt: skip
            if high > low:
                sections.append((high - low, outside - (0.0 if old else 2 * depth), bore))
        start += size
    return Case(case.name, tuple(sections), case.holding, case.rest, case.modulus)


def diameter(case, tool):
    ends = np.cumsum([size for size, _, _ in case.sections])
    return case.sections[int(np.searchsorted(ends, tool * (1 - 1e-12)))][1]


def by_hand(case, tool, depth, springs, toward, height):
    """The error of each pass, by iteration with the frame solver from outside."""
    blank = diameter(case, tool) / 2
    stand, met, errors = sqrt(blank**2 - height**2) - depth, blank, []
    for k in range(springs + 1):
        bar = split(case, tool, depth, k == 0 and toward, k == 0 and not toward)
        at = np.array([tool])
        sag, turn = float(frame(bar, 1.0, at)), float(frame(bar, 0.0, at, couple=1.0))
        lever = blank - (depth / 2 if k == 0 else depth)
        taken = 0.0
        for _ in range(400):
            tangential, feed, radial = (float(f) for f in radial_force(KC, MC, taken, FEED, NOSE, ANGLE))
            away = sag * (radial + EDGE) + (radial + EDGE) / TOOL + (-1 if toward else 1) * turn * feed * lever
            left = hypot(stand + away, height - sag * tangential)
            new = max(met - left, 0.0)
            if abs(new - taken) < 1e-13:
                break
            taken += (new - taken) / 4
        met -= taken
        errors.append(2 * (met - (blank - depth)))
    return errors


@pytest.mark.parametrize("direction", ["toward the chuck", "away from the chuck"])
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_balance_is_that_of_a_frame_solver_in_a_loop(case, direction):
    shaft, holding = ours(case)
    at = np.array([0.31, 0.83]) * case.length
    got = size_error(
        shaft, holding, Q_(0.7, "mm"), Q_(FEED, "mm/rev"), Q_(at, "mm"), material=STUFF, nose_radius=Q_(NOSE, "mm"),
        entering_angle=Q_(ANGLE, "degree"), spring_passes=2, edge_force=Q_(EDGE, "N"),
        tool_stiffness=Q_(TOOL, "N/mm"), off_center=Q_(0.3, "mm"), direction=direction,
    )  # fmt: skip
    for column, tool in zip(got.per_pass.m_as("mm").T, at, strict=True):
        theirs = by_hand(case, tool, 0.7, 2, direction == "toward the chuck", 0.3)
        assert column == pytest.approx(theirs, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("case", [CASES[0], CASES[2], CASES[3]], ids=lambda case: case.name)
def test_a_thread_is_in_balance_with_a_frame_solver_in_a_loop(case):
    cut = Case(case.name, ((case.length, 20.0, 6.0),), case.holding)
    shaft, holding = ours(cut)
    plan = infeed("M20x1.5-6g", passes=5, material=STUFF, length=Q_(40, "mm"), spring_passes=2)
    tool = cut.length - 15.0
    got = thread_size_error(plan, shaft, holding, Q_(tool, "mm"), radial_share=0.6, edge_force=Q_(EDGE, "N"))
    half, flat, met = 10.0, plan.flat.m_as("mm"), 10.0
    for k, depth in enumerate(plan.depth.m_as("mm")):
        root = Case("", ((cut.length - 40, 20.0, 6.0), (40.0, 20.0 - 2 * depth, 6.0)), cut.holding)
        sag, taken = float(frame(root, 1.0, np.array([tool]))), 0.0
        for _ in range(400):
            main = float(chip_force(half - met, half - met + taken, flat, 0.0, KC, MC))
            left = hypot(half - depth + sag * (0.6 * main + EDGE), sag * main)
            new = max(met - left, 0.0)
            if abs(new - taken) < 1e-13:
                break
            taken += (new - taken) / 4
        met -= taken
        assert got.per_pass[k].m_as("mm") == pytest.approx(2 * (met - half + depth), rel=1e-6)


def test_the_section_under_a_moving_tool_is_that_of_a_symbolic_beam():
    """Cutting toward the chuck in a step: sag and couple by integration of the moments in sympy."""
    a, s = sympy.Rational(130), sympy.symbols("s")
    shaft = Shaft(
        [(Q_(100, "mm"), Q_(30, "mm"), Q_(10, "mm")), (Q_(80, "mm"), Q_(20, "mm"), Q_(0, "mm"))], Q_(70, "GPa")
    )
    finished = cut_down(sizes(shaft), 70_000.0, 0.0, 180.0, 2.0)
    rigid = BetweenCenters(head=Q_(inf, "N/mm"), tail=Q_(inf, "N/mm"))
    soft = [1 / (70_000 * sympy.pi / 64 * i) for i in (30**4 - 10**4, 20**4, 16**4)]
    pieces = [(0, 100, soft[0]), (100, 130, soft[1]), (130, 180, soft[2])]
    long = 180
    force = [s * (1 - a / long), s * (1 - a / long), a * (1 - s / long)]
    couple = [-s / long, -s / long, 1 - s / long]
    sag = sum(sympy.integrate(f * f * e, (s, u, v)) for (u, v, e), f in zip(pieces, force, strict=True))
    turn = sum(sympy.integrate(f * c * e, (s, u, v)) for (u, v, e), f, c in zip(pieces, force, couple, strict=True))
    got = under_tool(rigid, shaft.beam, finished, np.array([130.0]))
    assert [float(part[0]) for part in got] == pytest.approx([float(sag), float(turn)], rel=1e-12)


@pytest.mark.parametrize(
    "case", CASES + [Case("springs", c.sections, c.holding, c.rest) for c in CASES[:1]], ids=lambda c: c.name
)
def test_an_unchanged_part_has_the_flexibility_of_its_holding(case):
    shaft, holding = ours(case)
    at = np.linspace(0.0, case.length, 23)
    sag, turn = under_tool(holding, shaft.beam, shaft.beam._replace(), at)
    f = holding.flexibility(shaft.beam)
    assert sag == pytest.approx(f(at, at), rel=1e-11, abs=1e-12 * f(at, at).max())
    ahead, behind = f(at, np.minimum(at + 1e-3, case.length)), f(at, np.maximum(at - 1e-3, 0.0))
    slope = (ahead - behind)[1:-1] / 2e-3
    # At a step the slope itself has a kink.
    assert turn[1:-1] == pytest.approx(slope, rel=2e-5, abs=1e-6 * np.abs(slope).max())


def test_the_kinds_of_holding_are_all_there():
    assert {type(ours(case)[1]) for case in CASES} == {Chuck, ChuckAndCenter, BetweenCenters}
