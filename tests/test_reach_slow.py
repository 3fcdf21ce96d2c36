"""Reach beside a slow closing that knows nothing of pieces: a wedge or box grown by a ball, place after place."""

import numpy as np
import pytest

from latheworks.passes import Profile, reach
from tests.reach_shapes import blade, mm, outline, slow_closing, tool

STEP = 0.02
TOOLS = {
    "55 at 93": tool(reach=6),
    "35 at 93, left": tool("V", 93, 0.8, reach=6, hand="left"),
    "square at 45": tool("S", 45, 0.8, reach=5, shank=10),
    "80 at 95": tool("C", 95, 0.4, reach=8),
    "35 neutral": tool("V", None, 0.4, hand="neutral", reach=8, shank=12),
    "round": tool("R", None, 1.5, reach=4),
    "blade": blade(2, 3, 0.2, shank=12),
    "blade, left": blade(3, 2, 0.4, shank=12, hand="left"),
}


def shapes(seed):
    """Steps and slopes on whole steps of the grid, so that both see the same corners."""
    rng = np.random.default_rng(seed)
    z = np.cumsum(rng.integers(40, 150, 9)) * STEP
    z -= z[0]
    r = rng.uniform(10, 14, 9)
    return z, r


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("name", TOOLS)
def test_it_agrees_with_the_slow_closing_on_slopes(name, seed):
    z, r = shapes(seed)
    grid = np.arange(0, z[-1] + STEP / 2, STEP)
    f = np.interp(grid, z, r)
    slow = slow_closing(grid, f, TOOLS[name])
    found = reach(Profile.along(mm(z), mm(2 * r), stock=mm(60)), TOOLS[name])
    fast = np.interp(grid, found.z.m_as("mm"), found.left.m_as("mm") / 2)
    assert float(np.mean(np.abs(fast - slow))) < 0.01
    gap = float(np.sum(slow - f) * STEP)
    assert float(np.sum(fast - f) * STEP) == pytest.approx(gap, rel=0.02, abs=0.03)


@pytest.mark.parametrize("name", TOOLS)
def test_it_agrees_with_the_slow_closing_on_walls(name):
    z, r = shapes(11)
    twice, steps = np.repeat(z, 2)[1:-1], np.repeat(r[:-1], 2)
    grid = np.arange(0, z[-1] + STEP / 2, STEP)
    # Walls stand between two points of the even grid, half a step from each.
    f = steps[np.searchsorted(twice, grid - STEP / 4, "left").clip(0, steps.size - 1) // 2 * 2]
    slow = slow_closing(grid, f, TOOLS[name])
    found = reach(Profile.along(mm(twice), mm(2 * steps), stock=mm(60)), TOOLS[name])
    fast = np.interp(grid, found.z.m_as("mm"), found.left.m_as("mm") / 2)
    apart = np.abs(fast - slow)
    away = np.min(np.abs(grid[:, None] - twice), axis=1) > 1.5 * STEP
    assert float(np.mean(apart[away])) < 0.04
    assert float(np.sum((fast - slow)[away]) * STEP) == pytest.approx(
        0, abs=0.03 * float(np.sum(slow - f) * STEP) + 0.1
    )


def test_the_slow_outline_is_a_tool():
    """Of the slow side alone: a 55 degree insert at 93 rises by tan 32 behind and not at all in front of its nose."""
    dz = np.array([-0.5, -0.39, 0.0, 2.0, 3.0])
    t = outline(tool(reach=30), dz)
    assert np.isinf(t[0])
    assert 0.2 < t[1] < 0.4
    assert t[2] == pytest.approx(0)
    assert t[4] - t[3] == pytest.approx(np.tan(np.radians(32)), abs=2e-3)
