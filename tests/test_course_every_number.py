"""Whatever the key: every set of numbers that an exercise can give is possible in the shop, and can be solved.

The menus are short, so all their sets are built, which says more than any number of keys; then 10,000 keys are drawn
from each menu, to see that they give every entry, about equally often, and nothing else.
"""

import math
import re
from collections import Counter

import pytest

from latheworks.course import check, find, names, solution, variant
from latheworks.course.tasks import Number, Prediction, Reason
from latheworks.shop import lathe
from latheworks.working import Working
from tests.every_number import walk
from tests.test_course_exercises import slips_as_answers

KEYS = 10_000
SIZES = re.compile(r"(?<![\w./])([-−]?\d+(?:\.\d+)?) (mm|N|rev/min|µm|m/min|deg)(?![\w/]| a minute| per)")
# Nothing in the lessons is longer than the barrel's 250 mm, but for what two lengths of it make together.
MOST = {"mm": 500, "N": 5000, "µm": 1000, "m/min": 600, "deg": 360}


@pytest.fixture(scope="module", params=names())
def every(request):
    return request.param, [(task, list(asked)) for task, asked in walk(request.param)]


def texts(task):
    """The question, the options, and the worked answer."""
    worked = task.worked_answer()
    yield task.question
    yield worked.text() if isinstance(worked, Working) else worked
    yield from getattr(task, "options", ())


def test_every_set_of_numbers_is_possible(every):
    name, built = every
    if isinstance(built[0][0], Number):
        assert len({task.question for task, _ in built}) > 1, f"{name} asks everybody for the same number"
    fastest = lathe().fastest_spindle.m_as("rpm")
    for task, _ in built:
        for text in texts(task):
            assert not re.search(r"\b(nan|inf|infinity)\b", text), f"{name}: {text}"
        for digits, unit in SIZES.findall(" / ".join([task.question, *getattr(task, "options", ())])):
            assert 0 <= float(digits) <= MOST.get(unit, fastest), f"{name} asks about {digits} {unit}"
        if isinstance(task, Number):
            assert math.isfinite(task.right.m)
            assert task.right.m > 0
            assert 0 < task.within <= abs(task.right) / 2, f"{name}: anything would pass"


def test_every_set_of_numbers_can_be_solved_and_names_its_slips(every):
    name, built = every
    # A thousand choices of inputs for one function differ too little to work through every one.
    for task, _ in built if len(built) < 200 else built[::7]:
        outcome = check(task, solution(task))
        assert outcome.right is (None if isinstance(task, Reason | Prediction) else True), f"{name}: {outcome}"
        for slip, answer in slips_as_answers(task):
            outcome = check(task, answer)
            assert (outcome.right, outcome.slip) == (False, slip.name), f"{name}: {task.question}"


def test_10_000_keys_give_every_entry_of_every_menu_about_equally_often(every):
    name, built = every
    menus = {label: (menu, count) for _, asked in built for label, menu, count in asked}
    for label, (menu, count) in menus.items():
        entries = {entry: place for place, entry in enumerate(menu)}
        assert len(entries) == len(menu), f"{name}: {label} holds an entry twice"
        drawn = Counter()
        for number in range(KEYS if count is None else KEYS // 10):
            numbers = variant(name, f"s{number}", course="an-invented-course-key")
            drawn.update([numbers.pick(label, menu)] if count is None else numbers.several(label, menu, count))
        assert set(drawn) == set(menu)
        share = (count or 1) / len(menu)
        rounds = KEYS if count is None else KEYS // 10
        # Five standard deviations of so many draws.
        off = 5 * math.sqrt(rounds * share * (1 - share))
        assert all(abs(times - rounds * share) <= off for times in drawn.values()), f"{name}: {label}: {drawn}"


def test_what_keys_give_is_among_the_sets_walked_through(every):
    name, built = every
    questions = Counter(task.question for task, _ in built)
    for number in range(12):
        assert find(name, f"s{number}").question in questions
    assert find(name, "s1").question == find(name, "s1").question
