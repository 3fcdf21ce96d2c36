"""Keeping answers: at once, whole or not at all, beside other pages, and readable after anything that happens."""

import json

import pytest

from latheworks.course import AnswerBook, Kept, answer_file

NEXT = Kept("12.7 mm", 1, False, True)


@pytest.fixture
def book(tmp_path):
    return AnswerBook("me", tmp_path / "answers")


def names_in(folder):
    return sorted(p.name for p in folder.iterdir() if not p.name.endswith(".lock"))


def test_kept_at_once_and_back_again(book):
    for answer in ("12.7 mm", "ünïcode ½ \u202e <b>", ["a", "b"], {"spindle": "300 rpm"}, []):
        assert book.keep("00.x", Kept(answer, 2, None, True, True))
        assert AnswerBook("me", book.path.parent).get("00.x") == Kept(answer, 2, None, True, True)
    assert json.loads(book.path.read_text())["schema"] == "latheworks answers 1"
    assert book.get("00.other") is None


def test_default_place_and_key_come_from_the_surroundings(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LATHEWORKS_STUDENT", raising=False)
    monkeypatch.delenv("LATHEWORKS_ANSWERS", raising=False)
    assert AnswerBook().get("00.x") is None
    assert list(tmp_path.iterdir()) == [], "looking writes nothing"
    AnswerBook().keep("00.x", NEXT)
    assert (tmp_path / "answers" / "me.json").exists()
    monkeypatch.setenv("LATHEWORKS_STUDENT", "ana-7")
    monkeypatch.setenv("LATHEWORKS_ANSWERS", str(tmp_path / "elsewhere"))
    AnswerBook().keep("00.x", NEXT)
    assert (tmp_path / "elsewhere" / "ana-7.json").exists()


def test_three_copies_are_kept_and_no_more(book):
    for number in range(6):
        book.keep("00.x", Kept(str(number)))
    assert names_in(book.path.parent) == ["me.1.json", "me.2.json", "me.3.json", "me.json"]
    kept = [answer_file.read(p, "me")["00.x"]["answer"] for p in (book.path, *answer_file.copies(book.path))]
    assert kept == ["5", "4", "3", "2"]


def test_a_missing_file_comes_back_from_its_copy_and_says_so(book):
    book.keep("00.x", Kept("old"))
    book.keep("00.x", Kept("new"))
    book.path.unlink()
    assert book.get("00.x") == Kept("old")
    assert "missing" in book.trouble
    assert "newest copy" in book.trouble


def test_unknown_fields_are_left_out(book):
    book.path.parent.mkdir()
    fields = {"answer": "1 mm", "misses": 0, "right": None, "checked": False, "shown": False, "score": 100}
    whole = {"schema": answer_file.SCHEMA, "student": "me", "answers": {"00.x": fields}, "total": 100}
    book.path.write_text(json.dumps(whole))
    assert book.get("00.x") == Kept("1 mm")


def test_too_long_an_answer_is_refused(book):
    assert book.keep("00.x", Kept("x" * 5000)) is False
    assert "too long" in book.trouble


def test_an_answer_remembers_which_numbers_it_was_given_to(book):
    assert book.keep("00.x", Kept("1 mm", code="YDTQNP"))
    assert AnswerBook("me", book.path.parent).get("00.x").code == "YDTQNP"


def test_what_could_not_be_saved_is_shared_by_the_books_of_a_page_and_can_be_downloaded(book, tmp_path):
    book.keep("00.x", Kept("saved"))
    assert not book.unsaved
    with answer_file.locked(book.path), pytest.MonkeyPatch.context() as patch:
        patch.setattr(answer_file, "PATIENCE", 0.0)
        assert not book.keep("00.y", Kept("here only"))
    again, other = AnswerBook("me", book.path.parent), AnswerBook("ana", book.path.parent)
    assert again.unsaved
    assert again.get("00.y") == Kept("here only")
    assert "on this page only" in again.trouble
    assert not other.unsaved
    handed = answer_file.parse(again.as_file(), "me")
    assert [handed[name]["answer"] for name in ("00.x", "00.y")] == ["saved", "here only"]
    assert again.keep("00.z", NEXT)
    assert not book.unsaved
    assert not again.trouble
    assert AnswerBook("me", book.path.parent).get("00.y") == Kept("here only")
