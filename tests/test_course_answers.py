"""Keeping answers: at once, whole or not at all, beside other pages, and readable after anything that happens."""

import errno
import json
import multiprocessing
import os
import time

import pytest

from latheworks.course import AnswerBook, Kept, answer_file, student_key
from latheworks.errors import LatheworksError

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


BAD_KEYS = ["../x", "..\\x", "/etc/x", "C:\\x", "\\\\srv\\x", "CON", "con", "nul", "nul.txt", "a/b", ".", "..", "",
            "x" * 300, "a.", "a ", "﹒﹒/x", "é", "e\u0301", "-a", "A", "a\x00", "a\n"]  # fmt: skip


@pytest.mark.parametrize("key", BAD_KEYS)
def test_a_key_that_is_no_plain_file_name_is_refused(key, tmp_path):
    with pytest.raises(LatheworksError, match="small letters"):
        student_key(key)
    with pytest.raises(LatheworksError):
        AnswerBook(key, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_three_copies_are_kept_and_no_more(book):
    for number in range(6):
        book.keep("00.x", Kept(str(number)))
    assert names_in(book.path.parent) == ["me.1.json", "me.2.json", "me.3.json", "me.json"]
    kept = [answer_file.read(p, "me")["00.x"]["answer"] for p in (book.path, *answer_file.copies(book.path))]
    assert kept == ["5", "4", "3", "2"]


def entry(**change):
    fields = {"answer": "1 mm", "misses": 0, "right": None, "checked": False, "shown": False} | change
    return json.dumps({"schema": answer_file.SCHEMA, "student": "me", "answers": {"00.x": fields}})


GOOD = entry()
DAMAGE = {
    "cut short": GOOD[:-9],
    "empty": "",
    "not ours": "[1, 2]",
    "NaN": entry(misses=float("nan")),
    "Infinity": entry(right=float("inf")),
    "1e400": GOOD.replace('"misses": 0', '"misses": 1e400'),
    "number as text": entry(misses="0"),
    "number as answer": entry(answer=12.7),
    "bool as count": entry(misses=True),
    "below zero": entry(misses=-1),
    "huge count": GOOD.replace('"misses": 0', '"misses": ' + "9" * 400),
    "huge digits": GOOD.replace('"misses": 0', '"misses": ' + "9" * 9000),
    "twice": GOOD.replace('"misses": 0', '"misses": 0, "misses": 0'),
    "yes for true": entry(checked=1),
    "null answer": entry(answer=None),
    "deep answer": entry(answer=[["a"]]),
    "long answer": entry(answer="x" * 5000),
    "many parts": entry(answer=["x"] * 51),
    "half a sign": GOOD.replace("1 mm", "\\ud800"),
    "deep": "[" * 200_000,
    "deep objects": '{"a":' * 100_000,
    "other schema": GOOD.replace("answers 1", "answers 2"),
    "other student": GOOD.replace('"me"', '"you"'),
    "large": GOOD + " " * 1_000_001,
    "BOM": "\ufeff" + GOOD,
    "not UTF-8": b"\xff\xfe" + GOOD.encode(),
}


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_file_is_set_aside_and_the_newest_good_copy_used(book, damage):
    book.keep("00.x", Kept("old"))
    book.keep("00.x", Kept("new"))
    raw = DAMAGE[damage] if isinstance(DAMAGE[damage], bytes) else DAMAGE[damage].encode()
    book.path.write_bytes(raw)
    again = AnswerBook("me", book.path.parent)
    assert again.get("00.x") == Kept("old")
    assert "set aside" in again.trouble
    assert "newest copy" in again.trouble
    assert (book.path.parent / "me.damaged-1.json").read_bytes() == raw
    assert AnswerBook("me", book.path.parent).get("00.x") == Kept("old")
    assert again.keep("00.y", NEXT)


def test_links_pipes_and_folders_are_not_followed(book, tmp_path):
    other = tmp_path / "other.json"
    other.write_text(GOOD)
    book.keep("00.x", Kept("old"))
    makes = [lambda p: os.symlink(other, p), os.mkfifo, os.mkdir, lambda p: os.symlink(tmp_path / "nowhere", p)]
    for make in makes:
        book.path.unlink()
        make(book.path)
        start = time.monotonic()
        again = AnswerBook("me", book.path.parent)
        again.get("00.x")
        assert again.keep("00.x", Kept("back"))
        assert time.monotonic() - start < 1
        assert AnswerBook("me", book.path.parent).get("00.x") == Kept("back")
    assert other.read_text() == GOOD


def test_a_missing_file_comes_back_from_its_copy_and_says_so(book):
    book.keep("00.x", Kept("old"))
    book.keep("00.x", Kept("new"))
    book.path.unlink()
    assert book.get("00.x") == Kept("old")
    assert "missing" in book.trouble
    assert "newest copy" in book.trouble


def test_answers_in_a_folder_that_cannot_be_written_are_still_shown(book, monkeypatch):
    book.keep("00.x", NEXT)

    def refuses(*_):
        raise PermissionError(errno.EACCES, "no")

    monkeypatch.setattr(answer_file, "locked", refuses)
    assert AnswerBook("me", book.path.parent).get("00.x") == NEXT
    assert book.keep("00.x", NEXT) is False


def test_unknown_fields_are_left_out(book):
    book.path.parent.mkdir()
    book.path.write_text(entry(score=100))
    assert book.get("00.x") == Kept("1 mm")


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EACCES, errno.EROFS, errno.EIO])
@pytest.mark.parametrize("step", ["replace", "fsync"])
def test_a_save_that_fails_says_so_keeps_the_answer_on_the_page_and_the_file_whole(book, monkeypatch, code, step):
    book.keep("00.x", Kept("old"))
    before = book.path.read_bytes()

    def fails(*_):
        raise OSError(code, os.strerror(code))

    with monkeypatch.context() as patch:
        patch.setattr(answer_file.os, step, fails)
        assert book.keep("00.x", Kept("new")) is False
    assert "stays on this page" in book.trouble
    assert str(book.path) not in book.trouble
    assert ("full" in book.trouble) is (code == errno.ENOSPC)
    assert book.path.read_bytes() == before
    assert not [n for n in names_in(book.path.parent) if n.endswith(".tmp")]
    assert book.get("00.x") == Kept("new")
    assert book.keep("00.y", NEXT)
    assert AnswerBook("me", book.path.parent).get("00.x") == Kept("new"), "saved with the next answer"


def test_a_folder_that_cannot_be_made_is_said(tmp_path):
    (tmp_path / "answers").write_text("a file in the way")
    book = AnswerBook("me", tmp_path / "answers")
    assert book.keep("00.x", NEXT) is False
    assert "cannot be written" in book.trouble
    assert book.get("00.x") == NEXT


def test_too_long_an_answer_is_refused(book):
    assert book.keep("00.x", Kept("x" * 5000)) is False
    assert "too long" in book.trouble


def _write_many(folder, page):
    book = AnswerBook("me", folder)
    for number in range(15):
        assert book.keep(f"{page}.{number}", Kept(f"{page} {number}"))


def test_two_pages_at_once_lose_nothing(tmp_path):
    context = multiprocessing.get_context("spawn")
    pages = [context.Process(target=_write_many, args=(tmp_path, page)) for page in ("a", "b")]
    for page in pages:
        page.start()
    for page in pages:
        page.join(60)
        assert page.exitcode == 0
    entries = answer_file.read(tmp_path / "me.json", "me")
    assert len(entries) == 30


def test_a_lock_left_behind_does_not_lock_anybody_out_and_a_held_one_is_said(book, monkeypatch):
    book.keep("00.x", NEXT)
    lock = book.path.with_name(".me.lock")
    lock.write_text("left by a crash")
    assert book.keep("00.x", Kept("after the crash"))
    monkeypatch.setattr(answer_file, "PATIENCE", 0.05)
    with answer_file.locked(book.path):
        assert AnswerBook("me", book.path.parent).keep("00.x", Kept("no")) is False
    assert book.get("00.x") == Kept("after the crash")
