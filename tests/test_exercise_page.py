"""What an exercise says around its question: whose numbers, which code; and the way out when saving fails."""

import base64
import re
import threading
import time

import pytest

from latheworks.course import AnswerBook, Kept, answer_file, find, variant
from latheworks.errors import LatheworksError
from latheworks.widgets.exercise import Exercise, exercise
from latheworks.widgets.exercise_words import other_numbers, whose_numbers

NAME = "00.inch_or_metric"


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    for name in ("LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_COURSE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LATHEWORKS_ANSWERS", str(tmp_path))
    return tmp_path


def test_the_code_of_the_numbers_is_shown_and_how_to_get_ones_own():
    head = exercise(NAME).children[0].value
    assert f"Numbers <b>{variant(NAME, 'me').code}</b>, made for everybody." in head
    assert "python -m latheworks open --student ana-7" in head
    assert "LATHEWORKS_STUDENT" in head
    head = exercise(NAME, student="ana-7").children[0].value
    assert f"Numbers <b>{variant(NAME, 'ana-7').code}</b>, made for ana-7." in head
    assert "--student" not in head


def test_a_group_shares_the_question_and_each_keeps_an_answer(folder, monkeypatch):
    monkeypatch.setenv("LATHEWORKS_GROUP", "team-3")
    panels = [exercise(NAME, student=who) for who in ("ana", "ben")]
    assert len({panel.task.question for panel in panels}) == 1
    for panel in panels:
        assert f"the group team-3, answered by {panel.book.student}." in panel.children[0].value
        panel.boxes.widget.value = f"{len(panel.book.student)} mm"
    assert sorted(p.name for p in folder.glob("*.json")) == ["ana.json", "ben.json"]
    assert exercise(NAME, student="ana", group="").task.code == variant(NAME, "ana", group="").code


def test_the_course_key_is_nowhere_on_the_page_nor_in_the_answers(folder, monkeypatch):
    key = "an-invented-course-key"
    monkeypatch.setenv("LATHEWORKS_COURSE", key)
    panel = exercise(NAME, student="ana")
    panel.boxes.widget.value = "1 mm"
    panel.check_button.click()
    seed = variant(NAME, "ana")._seed.hex()
    shown = "".join([panel.children[0].value, panel.feedback.value, repr(panel), (folder / "ana.json").read_text()])
    assert key not in shown
    assert seed not in shown
    assert panel.task.code in shown


def test_an_answer_given_to_other_numbers_is_told_apart(monkeypatch):
    panel = exercise(NAME)
    panel.boxes.widget.value = "1 mm"
    panel.check_button.click()
    monkeypatch.setenv("LATHEWORKS_COURSE", "an-invented-course-key")
    again = exercise(NAME)
    assert f"given to other numbers, {panel.task.code}." in again.feedback.value
    assert f"yours are {again.task.code} now" in again.feedback.value
    again.check_button.click()
    assert "given to other numbers" not in again.feedback.value
    assert other_numbers("", "ABC") == other_numbers("ABC", "ABC") == ""
    assert whose_numbers("", "me", None) == ""


def test_an_unusable_group_is_refused():
    with pytest.raises(LatheworksError, match="Group"):
        exercise(NAME, group="../x")


def held(html):
    """The file behind the download link, and the name it is saved under."""
    (link,) = re.findall(
        r'<a class="lw-download" download="([^"]*)" href="data:application/json;base64,([^"]*)">', html
    )
    return link[0], answer_file.parse(base64.b64decode(link[1], validate=True), "me")


def test_what_cannot_be_saved_can_be_downloaded_from_any_exercise_and_survives_running_the_cell_again(monkeypatch):
    exercise(NAME).book.keep("00.saved", Kept("saved"))

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(answer_file.os, "replace", full)
        first, second = exercise(NAME), exercise("00.own_speed")
        first.boxes.widget.value = "<b>1</b> mm"
        assert "download" not in second.feedback.value
        second.boxes.widgets[0].value = "300 rpm"
        name, answers = held(second.feedback.value)
        assert name == "me.json"
        assert {entry: kept["answer"] for entry, kept in answers.items()} == {
            NAME: "<b>1</b> mm", "00.own_speed": {"spindle": "300 rpm"}, "00.saved": "saved",
        }  # fmt: skip
        again = exercise(NAME)
        assert again.boxes.widget.value == "<b>1</b> mm"
        assert "on this page only" in again.feedback.value
        assert held(again.feedback.value)[1] == answers
    again.check_button.click()
    assert "lw-download" not in again.feedback.value
    assert answer_file.parse(AnswerBook().path.read_bytes(), "me").keys() == answers.keys()


def test_one_message_is_seen_through_before_the_next(monkeypatch):
    """A kernel may hand two messages of the page to two threads."""
    panels = [exercise(NAME), exercise("00.own_speed")]
    inside, together = [], []

    def slow(self, *_):
        inside.append(1)
        together.append(len(inside))
        time.sleep(0.02)
        inside.pop()
        return True

    monkeypatch.setattr(AnswerBook, "keep", slow)
    clicks = [threading.Thread(target=panel.check_button.click) for panel in panels * 3]
    for click in clicks:
        click.start()
    for click in clicks:
        click.join()
    assert together == [1] * 6


def test_two_threads_count_every_miss_once():
    task = find(NAME)
    panel = Exercise(task, AnswerBook())
    panel.boxes.widget.value = "1 mm"
    clicks = [threading.Thread(target=panel.check_button.click) for _ in range(8)]
    for click in clicks:
        click.start()
    for click in clicks:
        click.join()
    assert panel.kept.misses == 1
    assert AnswerBook().get(NAME).misses == 1
