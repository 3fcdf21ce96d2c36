"""Our deflections against a symbolic beam (sympy) and a frame solver (PyNite), both general-purpose tools."""

from math import inf

import numpy as np
import pytest

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, deflected_shape, deflection
from latheworks.units import Q_
from tests.deflection_models import Case, frame, symbolic

FORCE = 150.0
RIGID_CHUCK = {"tilt": inf, "radial": inf}
SOFT_CHUCK = {"tilt": 1e8, "radial": 5e4}
BAR = ((80.0, 20.0, 0.0),)
LONG = ((300.0, 20.0, 0.0),)
STEPS = ((40.0, 30.0, 0.0), (60.0, 18.0, 0.0))
BARREL = ((60.0, 32.0, 20.0), (120.0, 32.0, 26.0))
TEN = tuple((12.0 + i, 44.0 - 2.0 * i, 10.0 + (i % 3)) for i in range(10))

BOTH = [
    Case("bar in a rigid chuck", BAR, RIGID_CHUCK),
    Case("bar in a compliant chuck", BAR, SOFT_CHUCK),
    Case("steps, thick at the chuck", STEPS, SOFT_CHUCK),
    Case("the same steps reversed", STEPS[::-1], SOFT_CHUCK),
    Case("drilled barrel in a chuck", BARREL, SOFT_CHUCK),
    Case("bar in a rigid chuck with a rigid center", BAR, RIGID_CHUCK | {"center": inf}),
    Case("bar in a compliant chuck with a compliant center", BAR, SOFT_CHUCK | {"center": 3e4}),
    Case("drilled barrel with a compliant center", BARREL, SOFT_CHUCK | {"center": 3e4}),
    Case("bar between rigid centers", ((200.0, 20.0, 0.0),), {"head": inf, "tail": inf}),
    Case("stiff bar between soft centers", ((150.0, 60.0, 0.0),), {"head": 1.2e4, "tail": 4e3}),
    Case("barrel in a chuck with a rest", BARREL, SOFT_CHUCK, rest=(150.0, 2e4)),
    Case("long bar in a chuck, with a center and a rigid rest", LONG, SOFT_CHUCK | {"center": 3e4}, (120.0, inf)),
    Case("bar between centers with a rest", ((250.0, 16.0, 5.0),), {"head": 5e4, "tail": 3e4}, rest=(100.0, 2e4)),
]  # fmt: skip
# sympy's joined beam holds its wall only for two sections in a chuck, so these have one witness.
FRAME_ONLY = [
    Case("ten hollow steps with a center", TEN, SOFT_CHUCK | {"center": 3e4}),
    Case("ten hollow steps between centers with a rest", TEN, {"head": 5e4, "tail": 3e4}, rest=(61.0, 1e5)),
    Case("ten hollow steps reversed, with a center and a rest", TEN[::-1], SOFT_CHUCK | {"center": inf}, (77.5, 2e4)),
    Case("a thin neck in mid part", ((50.0, 30.0, 0.0), (3.0, 8.0, 0.0), (40.0, 30.0, 12.0)), SOFT_CHUCK),
]
UNITS = {"tilt": "N*mm/rad"}


def ours(case: Case) -> tuple[Shaft, Chuck | ChuckAndCenter | BetweenCenters]:
    """The case as a shaft and a holding."""
    shaft = Shaft([tuple(Q_(size, "mm") for size in s) for s in case.sections], Q_(case.modulus, "MPa"))
    kind = BetweenCenters if "head" in case.holding else ChuckAndCenter if "center" in case.holding else Chuck
    stiffness = {name: Q_(value, UNITS.get(name, "N/mm")) for name, value in case.holding.items()}
    rest = case.rest and (Q_(case.rest[0], "mm"), Q_(case.rest[1], "N/mm"))
    return shaft, kind(**stiffness, rest=rest)


def near(case: Case) -> float:
    """A millionth of the largest deflection: what a value beside a rigid support may be off by."""
    return 1e-7 * float(frame(case, FORCE, case.at).max())


@pytest.mark.parametrize("case", BOTH + FRAME_ONLY, ids=lambda case: case.name)
def test_under_the_tool_agrees_with_a_frame_solver(case):
    shaft, holding = ours(case)
    got = deflection(shaft, holding, Q_(FORCE, "N"), Q_(case.at, "mm")).m_as("mm")
    assert got == pytest.approx(frame(case, FORCE, case.at), rel=1e-6, abs=near(case))


@pytest.mark.parametrize("case", BOTH + FRAME_ONLY, ids=lambda case: case.name)
def test_shape_agrees_with_a_frame_solver(case):
    shaft, holding = ours(case)
    along = np.linspace(0.0, case.length, 7)
    theirs = frame(case, FORCE, case.at, along)
    for tool, row in zip(case.at, theirs, strict=True):
        got = deflected_shape(shaft, holding, Q_(FORCE, "N"), Q_(tool, "mm"), Q_(along, "mm")).m_as("mm")
        assert got == pytest.approx(row, rel=1e-6, abs=near(case))


@pytest.mark.parametrize("case", BOTH, ids=lambda case: case.name)
def test_agrees_with_a_symbolic_beam(case):
    shaft, holding = ours(case)
    tool = case.at[2]
    along = np.array([0.0, case.at[0], tool, case.length])
    got = deflected_shape(shaft, holding, Q_(FORCE, "N"), Q_(tool, "mm"), Q_(along, "mm")).m_as("mm")
    # The symbolic beam is exact, so only rounding is allowed for.
    assert got == pytest.approx(symbolic(case, FORCE, tool, along), rel=1e-9, abs=1e-15)


def test_a_stiff_bar_on_soft_centers_leaves_a_saddle():
    """Rigid part on springs: least at a/L = k_tail/(k_head + k_tail), where it is F/(k_head + k_tail)."""
    case = next(case for case in BOTH if "soft centers" in case.name)
    shaft, holding = ours(case)
    at = np.linspace(0.0, case.length, 1501)
    got = deflection(shaft, holding, Q_(FORCE, "N"), Q_(at, "mm")).m_as("mm")
    low = got.argmin()
    assert at[low] / case.length == pytest.approx(0.25, abs=0.01)
    assert got[low] == pytest.approx(FORCE / 1.6e4, rel=0.03)
    assert got[0] == pytest.approx(FORCE / 1.2e4, rel=1e-12)
    assert got[-1] == pytest.approx(FORCE / 4e3, rel=1e-12)
