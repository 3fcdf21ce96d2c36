"""Files of answers under attack and in trouble: odd names, damage, links and pipes, crashes, full disks, two tabs.

What each test answers stands in its docstring. A process killed while it saves is in `test_answers_kill.py`.
"""

import errno
import json
import multiprocessing
import os
import shutil
import subprocess
import sys
import tempfile
import time
import tracemalloc
from pathlib import Path

import pytest

from latheworks.course import AnswerBook, Kept, answer_file, student_key
from latheworks.errors import LatheworksError

ROOT = Path(__file__).parents[1]
NEXT = Kept("12.7 mm", 1, False, True)


@pytest.fixture
def book(tmp_path):
    return AnswerBook("me", tmp_path / "answers")


def names_in(folder):
    return sorted(p.name for p in folder.iterdir() if not p.name.endswith(".lock"))


BAD_KEYS = ["../x", "..\\x", "/etc/x", "C:\\x", "\\\\srv\\x", "CON", "con", "nul", "nul.txt", "a/b", ".", "..", "",
            "x" * 300, "a.", "a ", "﹒﹒/x", "é", "e\u0301", "-a", "A", "a\x00", "a\n"]  # fmt: skip


@pytest.mark.parametrize("key", BAD_KEYS)
def test_a_key_that_is_no_plain_file_name_is_refused(key, tmp_path):
    """Odd names, device names, paths and accents are refused, not altered, and nothing is made outside the folder."""
    with pytest.raises(LatheworksError, match="small letters"):
        student_key(key)
    with pytest.raises(LatheworksError):
        AnswerBook(key, tmp_path)
    assert list(tmp_path.iterdir()) == []


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
    """NaN, infinity, twins, wrong types, deep nesting, cut or too large files: refused, and the original is kept."""
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
    """A link, a pipe or a folder in place of the file: no hang, and what it pointed to stays untouched."""
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


def test_answers_in_a_folder_that_cannot_be_written_are_still_shown(book, monkeypatch):
    """A folder without write permission still shows what is in it."""
    book.keep("00.x", NEXT)

    def refuses(*_):
        raise PermissionError(errno.EACCES, "no")

    monkeypatch.setattr(answer_file, "locked", refuses)
    assert AnswerBook("me", book.path.parent).get("00.x") == NEXT
    assert book.keep("00.x", NEXT) is False


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EACCES, errno.EROFS, errno.EIO])
@pytest.mark.parametrize("step", ["replace", "fsync"])
def test_a_save_that_fails_says_so_keeps_the_answer_on_the_page_and_the_file_whole(book, monkeypatch, code, step):
    """A save that fails at any step leaves the previous answers intact and no temporary file."""
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
    assert not [n for n in names_in(book.path.parent) if n.endswith(".part")]
    assert book.get("00.x") == Kept("new")
    assert book.keep("00.y", NEXT)
    assert AnswerBook("me", book.path.parent).get("00.x") == Kept("new"), "saved with the next answer"


def test_a_folder_that_cannot_be_made_is_said(tmp_path):
    """A file where the folder should be."""
    (tmp_path / "answers").write_text("a file in the way")
    book = AnswerBook("me", tmp_path / "answers")
    assert book.keep("00.x", NEXT) is False
    assert "cannot be written" in book.trouble
    assert book.get("00.x") == NEXT


def _write_many(folder, page):
    book = AnswerBook("me", folder)
    for number in range(15):
        assert book.keep(f"{page}.{number}", Kept(f"{page} {number}"))


def test_two_pages_at_once_lose_nothing(tmp_path):
    """Two processes writing at once are merged, never mixed up."""
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
    """A stale lock is harmless; a lock that is held is waited for, then said, and the answer stays on the page."""
    book.keep("00.x", NEXT)
    lock = book.path.with_name(".me.lock")
    lock.write_text("left by a crash")
    assert book.keep("00.x", Kept("after the crash"))
    monkeypatch.setattr(answer_file, "PATIENCE", 0.05)
    with answer_file.locked(book.path):
        assert AnswerBook("me", book.path.parent).keep("00.x", Kept("only here")) is False
    assert answer_file.read(book.path, "me")["00.x"]["answer"] == "after the crash"
    assert book.get("00.x") == Kept("only here")
    assert "on this page only" in book.trouble


def test_a_huge_file_costs_no_memory(book):
    """100 MB in place of the answers: refused after the first megabyte, with far less than 50 MB of memory."""
    book.keep("00.x", NEXT)
    with book.path.open("wb") as file:
        file.truncate(100_000_000)
    tracemalloc.start()
    assert book.get("00.x") is None
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 10_000_000
    assert (book.path.parent / "me.damaged-1.json").stat().st_size == 100_000_000


TROUBLED = """
import os, signal, sys
from latheworks.course import AnswerBook, Kept
book = AnswerBook("me", sys.argv[1])
assert book.keep("00.x", Kept("first"))
{trouble}
assert not book.keep("00.x", Kept("second " * 400))
print(book.trouble)
again = AnswerBook("me", sys.argv[1])
assert again.unsaved and again.get("00.x").answer.startswith("second")
assert b"second" in again.as_file()
{mended}
assert again.keep("00.y", Kept("third")), again.trouble
"""


def in_trouble(folder, trouble, mended):
    """What a process of its own is told when saving fails for real; it checks that nothing is lost."""
    script = TROUBLED.format(trouble=trouble, mended=mended)
    run = subprocess.run([sys.executable, "-c", script, str(folder)], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    saved = answer_file.read(folder / "me.json", "me")
    assert saved["00.x"]["answer"].startswith("second")
    assert saved["00.y"]["answer"] == "third"
    assert str(folder) not in run.stdout
    return run.stdout


def test_a_disk_that_is_really_full(tmp_path):
    """No space left, on a small disk in memory: said, kept on the page, and saved once there is room."""
    mount = ["mount", "-t", "tmpfs", "-o", "size=16k", "none", str(tmp_path)]
    if not shutil.which("mount") or subprocess.run(mount, capture_output=True).returncode:
        pytest.skip("this system lets nobody mount a disk; a file that may not grow stands in for it below")
    try:
        fill = "full = open(sys.argv[1] + '/full', 'wb', 0)\ntry:\n    while True: full.write(bytes(512))\n"
        fill += "except OSError: pass"
        assert "disk is full" in in_trouble(tmp_path, fill, "os.unlink(sys.argv[1] + '/full'); full.close()")
    finally:
        subprocess.run(["umount", str(tmp_path)], check=True)


@pytest.mark.skipif(sys.platform == "win32", reason="no such limits there")
def test_a_file_that_may_not_grow(tmp_path):
    """The share of the disk is used up, as a limit of the system's own that fails the real write."""
    limit = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (1000, resource.RLIM_INFINITY))"
    mended = "resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY,) * 2)"
    assert "disk is full" in in_trouble(tmp_path, limit, mended)


@pytest.mark.skipif(sys.platform == "win32", reason="permissions work in another way there")
def test_a_folder_that_is_really_read_only():
    """A folder without write permission, met by a process that is not root."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "answers"
        folder.mkdir()
        if os.geteuid() == 0:
            for path in (folder.parent, folder):
                os.chown(path, 65534, 65534)
        step_down = "[os.chown(p, 65534, 65534) for p in os.scandir(sys.argv[1])]\n" if os.geteuid() == 0 else ""
        step_down += "os.geteuid() or os.setuid(65534)\nos.chmod(sys.argv[1], 0o555)"
        said = in_trouble(folder, step_down, "os.chmod(sys.argv[1], 0o755)")
        assert "cannot be written to" in said


def test_more_answers_than_a_file_takes_are_refused_and_the_file_stays_readable(book):
    """Texts that add up to more than a file may hold: refused by the writer, since the reader would refuse the file."""
    for number in range(answer_file.MOST_ANSWERS):
        book._unsaved[f"00.{number}"] = answer_file.clean_entry(
            {"answer": "x", "misses": 0, "right": None, "checked": False, "shown": False}
        )
    assert book.keep("00.0", NEXT)
    assert book.keep("01.more", NEXT) is False
    assert "too long" in book.trouble
    parts = {f"part {n}": "x" * 4000 for n in range(50)}
    assert [book.keep(f"00.{n}", Kept(parts)) for n in range(8)] == [True] * 4 + [False] * 4
    assert AnswerBook("me", book.path.parent).get("00.1") == Kept(parts)
