"""The answers of lesson 06 by hand: angles on a straight line, the round nose short of its corner, a clamped beam."""

import math
import re

import pytest

from latheworks.course import check, find
from latheworks.units import Q_

STUDENTS = ("me", "ana", "ben-2", "c_3", "dora", "eli")
CORNERS = {"C": 80, "D": 55, "T": 60, "V": 35}  # ISO 1832


@pytest.mark.parametrize("student", STUDENTS)
def test_the_steepest_fall(student):
    task = find("06.steepest_fall", student)
    letter, kappa = re.search(r"insert (\w),.*angle of (\d+) degrees", task.question).groups()
    assert task.right.m_as("degree") == pytest.approx(180 - int(kappa) - CORNERS[letter])


@pytest.mark.parametrize("student", STUDENTS)
def test_another_nose_ends_further_short_of_the_corner(student):
    """From the sharp corner the middle of a nose stands r / sin(eps/2) off along the bisector, the nose r below it."""
    task = find("06.other_insert", student)
    letter, old, new = re.search(r"insert (\w) at 93 .*?of ([\d.]+) mm.*? with ([\d.]+) mm", task.question).groups()
    half = math.radians(CORNERS[letter] / 2)
    bisector = math.radians(180 - 93 - CORNERS[letter]) + half

    def short(r):
        return r / math.sin(half) * math.sin(bisector) - r

    assert task.right.m_as("mm") == pytest.approx(2 * (short(float(new)) - short(float(old))))


@pytest.mark.parametrize("student", STUDENTS)
def test_the_tools_that_clear_the_relief(student):
    """Narrow enough, corners no rounder, far enough out, and none that has but one cutting edge before a wall."""
    task = find("06.clears_the_relief", student)
    room, deep = (float(re.search(rf"{word} ([\d.]+) mm", task.question)[1]) for word in ("relief", "down to"))
    corner = float(re.search(r"corners of ([\d.]+) mm", task.question)[1])
    expected = []
    for name in task.options:
        sizes = [float(number) for number in re.findall(r"([\d.]+) mm", name)]
        if name.startswith("blade"):
            width, radius, out = sizes
            same = abs(width - room) < 1e-9
            fits = width <= room and radius <= corner and out > (25.4 - deep) / 2
            if fits and not (same and radius < corner):
                expected.append(name)
    assert list(task.right) == expected
    assert len(expected) == 2


def test_the_edge_sinks_by_a_clamped_beam_under_the_force_that_brings_the_stress():
    task = find("06.edge_sinks", "me")
    for given in task.inputs:
        stress, out, height, modulus = (
            given[name].m_as(unit)
            for name, unit in (("stress", "MPa"), ("out", "mm"), ("height", "mm"), ("modulus", "MPa"))
        )
        for width in (2.0, 5.0):
            second_moment = width * height**3 / 12
            force = stress * second_moment / (height / 2) / out
            sunk = force * out**3 / (3 * modulus * second_moment)
            assert task.reference(*given.values()).m_as("mm") == pytest.approx(sunk)


@pytest.mark.parametrize("student", STUDENTS)
def test_every_plan_that_works_passes(student):
    """A neutral blade, or the right-hand one so far out that its shank passes over the center."""
    task = find("06.mend_the_plan", student)
    for change, right in (
        ({}, True), ({"hand": "right", "out": "12 mm"}, True), ({"blade": "2 mm"}, True),
        ({"hand": "right", "out": "10 mm"}, False), ({"hand": "left"}, False), ({"blade": "0 mm"}, False),
        ({"blade": "-3 mm", "out": "-9 mm"}, False), ({"corner": "-1 mm"}, False),
    ):  # fmt: skip
        outcome = check(task, {**task.solved, **change})
        assert outcome.right is right, (change, outcome)
        assert outcome.sentence


def test_the_laid_back_wall_needs_one_tool():
    worked = find("06.square_or_sloped", "me").worked_answer()
    assert "with 1 tool." in worked
    square, laid_back = (float(each) for each in re.findall(r": ([\d.]+) min", worked))
    assert square - laid_back > 1.0  # one change of tool, a minute, and the plunges
    assert Q_(square, "min") < Q_(5, "min")
