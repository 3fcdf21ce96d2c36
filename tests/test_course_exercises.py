"""Every exercise of every lesson, for several students: it can be solved, and each slip is called by its name."""

import numpy as np
import pytest

from latheworks.course import check, feedback, find, names, solution
from latheworks.course.tasks import Choice, Function, Number, Prediction, Reason, Setting, Several
from latheworks.units import Q_, display_unit, show
from latheworks.working import Working

STUDENTS = ("me", "ana", "ben-2", "c_3", "dora", "eli", "fay-19")
NEVER = ["", " ", "nan", "nan mm", "inf mm", "-inf in", "x", "1e400 mm", "9" * 50, "<script>", "\x00",
         "0x10 mm", "٣ mm", None, True, float("nan"), float("inf"), 10**400, [], {}, [None], {"spindle": "nan rpm"},
         object()]  # fmt: skip


def slips_as_answers(task):
    """Each slip with the answer that shows it."""
    for slip in task.slips if not isinstance(task, Reason | Prediction) else ():
        answer = slip.value
        if isinstance(task, Several):
            answer = [o for o in task.options if (o in task.right) is not (o == slip.value)]
            if not answer:
                continue
        yield slip, answer


@pytest.fixture(params=names())
def name(request):
    return request.param


@pytest.mark.parametrize("student", STUDENTS)
def test_the_librarys_own_answer_passes_and_no_slip_does(name, student):
    task = find(name, student)
    right = check(task, solution(task))
    expected = None if isinstance(task, Reason | Prediction) else True
    assert right.right is expected, right
    for slip, answer in slips_as_answers(task):
        outcome = check(task, answer)
        assert outcome.right is False, f"{slip.name} passes"
        assert outcome.slip == slip.name, f"{slip.name} is taken for {outcome.slip}: {outcome.sentence}"


@pytest.mark.parametrize("student", STUDENTS[:3])
def test_nonsense_is_never_right_and_never_raises(name, student):
    task = find(name, student)
    for answer in [*NEVER, Q_(float("nan"), "mm"), Q_(float("inf"), "N"), Q_(np.nan, "rpm")]:
        outcome = check(task, answer)
        assert outcome.right is not True, answer
        assert outcome.sentence.strip()


NUMBERS = [n for n in names() if isinstance(find(n), Number) and find(n).kind != "count"]


@pytest.mark.parametrize("sized", NUMBERS)
def test_any_unit_of_the_kind_is_accepted(sized):
    task = find(sized, "me")
    other = {"length": ("inch", "thou", "um", "m"), "force": ("lbf", "kN"), "feed": ("inch/rev",),
             "spindle": ("rpm",), "stiffness": ("N/um", "lbf/thou"), "angle": ("degree",),
             "speed": ("ft/min", "m/s")}[task.kind]  # fmt: skip
    for unit in other:
        assert check(task, task.right.to(unit)).right is True


def test_feedback_is_kind_and_keeps_the_answer_to_itself(name):
    for student in STUDENTS:
        task = find(name, student)
        texts = [task.hint, *(o for s, a in slips_as_answers(task) for o in [check(task, a).sentence, s.sentence])]
        for text in texts:
            assert "Traceback" not in text
            assert "/work" not in text
            assert text.strip().lower().rstrip(".!") not in ("wrong", "incorrect", "no")
            if isinstance(task, Number):
                assert not shows(text, task.right), text
            if isinstance(task, Choice):
                assert task.right not in text


def shows(text, value):
    """Whether the text gives the right number away, in either system."""
    for system in ("metric", "inch"):
        digits = display_unit(value, system)[2]
        number = show(value, system, digits=digits).split(" ")[0]
        if len(number.strip("-0.")) > 2 and number in text:
            return True
    return False


def test_parts_are_complete(name):
    task = find(name, "me")
    assert task.question.strip()
    assert task.hint.strip() or isinstance(task, Reason | Prediction)
    worked = task.worked_answer()
    assert isinstance(worked, Working) or worked.strip()
    if isinstance(task, Choice):
        assert task.right in task.options
        assert sorted(s.value for s in task.slips) == sorted(set(task.options) - {task.right}), (
            "a slip per wrong option"
        )
        assert len(set(task.options)) == len(task.options)
    if isinstance(task, Several):
        assert [s.value for s in task.slips] == list(task.options), "a slip for every option, in order"
        assert 0 < len(task.right) < len(task.options)
    if isinstance(task, Function):
        assert len(task.inputs) >= 4
    if isinstance(task, Setting):
        assert task.slips, "list at least one setting that does not work"


def test_at_least_eight_kinds_of_slip_are_told_apart():
    named = {s.name for name in names() for s, _ in slips_as_answers(find(name, "me"))}
    assert len(named) >= 8


def test_hint_after_the_first_miss_and_the_worked_answer_after_the_second():
    task = find("00.inch_or_metric", "me")
    wrong = check(task, task.right * 3)
    assert feedback(task, wrong, 1) == (wrong.sentence, task.hint, None)
    assert feedback(task, wrong, 2)[2] == task.worked_answer()
    assert feedback(task, wrong, 1, asked=True)[2] == task.worked_answer()
