"""The exercise on the page: what is kept, what comes back, what is said, and that nothing typed becomes markup."""

import re
import warnings
from html.parser import HTMLParser

import ipywidgets as w
import pytest

from latheworks.course import AnswerBook, Kept, answer_file, find, names, solution
from latheworks.course.check_number import UNITS
from latheworks.course.tasks import Function, Number, PlanTask, Prediction, Reason, Setting, Slip, good
from latheworks.errors import LatheworksError
from latheworks.units import Q_
from latheworks.widgets.exercise import Exercise, exercise

PAYLOADS = ["<script>alert(1)</script>", "<img src=x onerror=alert(1)>", '" onmouseover="x', "&lt;b&gt;",
            "</textarea><b>", "javascript:alert(1)", "]]>", "\u202e", "$x^{", "`x`", "\x00", "a" * 10_000]  # fmt: skip


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("LATHEWORKS_ANSWERS", str(tmp_path))
    monkeypatch.delenv("LATHEWORKS_STUDENT", raising=False)
    return tmp_path


def typed(task):
    """A right answer as a student would type or choose it."""
    if not isinstance(task, Number):
        return solution(task)
    unit = UNITS[task.kind][0]
    written = {"dimensionless": "", "degree": " deg"}.get(unit, f" {unit}")
    return f"{task.right.m_as(unit):.9f}{written}"


def test_a_miss_a_hint_then_the_worked_answer_then_right_and_all_of_it_comes_back():
    panel = exercise("00.inch_or_metric")
    panel.boxes.widget.value = "1 mm"
    code = find("00.inch_or_metric").code
    assert panel.book.get("00.inch_or_metric") == Kept("1 mm", 0, None, False, code=code)
    panel.check_button.click()
    assert "Not yet" in panel.feedback.value
    assert "Hint." in panel.feedback.value
    assert "<details>" not in panel.feedback.value
    panel.check_button.click()
    assert panel.kept.misses == 1, "the same answer twice is one miss"
    panel.boxes.widget.value = "2 mm"
    panel.check_button.click()
    assert "<details>" in panel.feedback.value
    again = exercise("00.inch_or_metric")
    assert again.boxes.widget.value == "2 mm"
    assert again.feedback.value == panel.feedback.value
    again.boxes.widget.value = typed(again.task)
    again.check_button.click()
    assert "✓ Right" in again.feedback.value
    assert again.book.get("00.inch_or_metric") == Kept(typed(again.task), 2, True, True, code=code)
    assert again.error is None


def test_an_answer_that_cannot_be_read_is_no_miss():
    panel = exercise("00.inch_or_metric")
    panel.boxes.widget.value = "12,7 mm"
    panel.check_button.click()
    assert panel.kept.misses == 0
    assert "comma" in panel.feedback.value
    assert "Hint." not in panel.feedback.value


def test_the_worked_answer_shows_when_asked_for_and_that_is_kept():
    panel = exercise("00.own_speed")
    assert "<details>" not in panel.feedback.value
    panel.show_button.click()
    assert "<details>" in panel.feedback.value
    assert panel.book.get("00.own_speed").shown is True


@pytest.mark.parametrize("name", names())
def test_every_exercise_shows_restores_and_can_be_solved_on_the_page(name):
    panel = exercise(name)
    assert panel.error is None
    head = "Prediction" if isinstance(panel.task, Prediction) else "Exercise"
    assert repr(panel).startswith(f"{head} {name}: ")
    assert f"<b>{head}.</b>" in panel.children[0].value
    assert "\n" not in repr(panel)
    assert panel._repr_mimebundle_()["text/plain"] == repr(panel)
    before = repr(panel)
    if isinstance(panel.task, Function):
        solved = exercise(name, panel.task.reference)
        assert "✓ Right" in solved.feedback.value
        assert solved.kept.right is True
        return
    if isinstance(panel.task, PlanTask):
        solved = exercise(name, plan=panel.task.solved())
        assert "✓ Right" in solved.feedback.value
        assert exercise(name).feedback.value == solved.feedback.value
        return
    answer = typed(panel.task)
    panel.boxes.write(answer)
    assert panel.book.get(name).answer == answer, "kept on the change, before any check"
    panel.check_button.click()
    expected = "Kept" if isinstance(panel.task, Reason | Prediction) else "✓ Right"
    assert expected in panel.feedback.value
    again = exercise(name)
    assert again.boxes.read() == answer
    assert expected in again.feedback.value
    assert repr(again) == before


def test_looking_at_a_lesson_writes_nothing(folder):
    for name in names():
        exercise(name)
        exercise(name, lambda *_: None)
    assert list(folder.iterdir()) == []


LEAD = Function(
    name="99.lead", question="Write it.", hint="h", worked="w", reference=lambda p, s: p * s,
    inputs=tuple({"pitch": Q_(p, "mm"), "starts": 2} for p in (1.0, 2.0)),
    slips=(Slip("pitch for lead", lambda p, s: p, "This is the pitch."),),
)  # fmt: skip


def test_a_function_is_checked_when_its_cell_runs_and_only_numbers_are_kept(folder):
    assert "gives nothing back yet" in Exercise(LEAD, AnswerBook(), lambda p, s: None).feedback.value
    assert list(folder.iterdir()) == []
    panel = Exercise(LEAD, AnswerBook(), lambda p, s: p)
    assert "This is the pitch." in panel.feedback.value
    assert panel.book.get("99.lead") == Kept(["1.000000000000 mm", "2.000000000000 mm"], 1, False, True)
    assert Exercise(LEAD, AnswerBook(), lambda p, s: p).kept.misses == 1
    assert "✓ Right" in Exercise(LEAD, AnswerBook(), LEAD.reference).feedback.value


class Tags(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.tags = set()
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        for name, _ in attrs:
            assert not name.startswith("on"), name


@pytest.mark.parametrize("payload", PAYLOADS)
def test_nothing_typed_becomes_markup(payload):
    echo = Setting(question=payload, hint=payload, worked=payload, name="99.echo", asks=(), solved={},
                   judge=lambda values: good(payload))  # fmt: skip
    reason = Reason(question=payload, hint=payload, worked=payload, name="99.reason")
    number = Number(question=payload, hint=payload, worked=payload, name="99.number", right=Q_(1, "mm"),
                    within=Q_(0.1, "mm"), slips=(Slip("x", Q_(5, "mm"), payload),))  # fmt: skip
    for task, answer in ((echo, {}), (reason, payload), (number, payload), (number, "5 mm")):
        panel = Exercise(task, AnswerBook())
        panel.boxes.write(answer)
        panel.check()
        panel.show_worked()
        assert panel.error is None
        found = set()
        for widget in everything(panel):
            if isinstance(widget, w.HTML | w.HTMLMath):
                found |= Tags(widget.value).tags
                # The page sets formulas between dollar signs: none may stand in one run of text.
                assert not re.search(r"\$[^<]*\$", widget.value)
            assert not getattr(widget, "description_allow_html", False)
        assert found <= {"style", "div", "p", "b", "br", "details", "summary", "span"}


def everything(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from everything(child)


def test_every_box_has_its_label_and_feedback_is_announced():
    for name in names():
        panel = exercise(name)
        for box in panel.boxes.widgets:
            assert box.description.strip()
        for kind in (w.Button,):
            assert all(b.description.strip() for b in everything(panel) if isinstance(b, kind))
        panel.check()
        assert 'role="status"' in panel.feedback.value


def test_trouble_with_saving_is_said_on_the_page_and_the_answer_stays(monkeypatch):
    panel = exercise("00.inch_or_metric")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(answer_file.os, "replace", full)
    panel.boxes.widget.value = "1 mm"
    assert "disk is full" in panel.feedback.value
    panel.check_button.click()
    assert "disk is full" in panel.feedback.value
    assert panel.boxes.widget.value == "1 mm"


def test_an_error_of_our_own_is_said_not_lost(monkeypatch):
    panel = exercise("00.inch_or_metric")
    monkeypatch.setattr(panel, "check", lambda: 1 / 0)
    panel.check_button.click()
    assert "did not work" in panel.feedback.value
    assert "ZeroDivision" not in panel.feedback.value
    assert isinstance(panel.error, ZeroDivisionError)


def test_unknown_exercises_and_keys_are_refused_kindly():
    with pytest.raises(LatheworksError, match="Try exercise"):
        exercise("00.inch_or_metrics")
    with pytest.raises(LatheworksError, match="Student key"):
        exercise("00.inch_or_metric", student="../x")


def test_no_warning_is_raised_by_a_panel():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        exercise(names()[0]).check()
    assert find(names()[0]).question
