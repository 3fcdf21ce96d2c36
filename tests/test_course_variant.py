"""Numbers for each student: the same everywhere, shared by a group, made again by an instructor, always in the menu."""

import csv
import hashlib
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from latheworks.course import course_pass, find, group_key, student_key, variant
from latheworks.course.keys import PUBLIC, course_key
from latheworks.course.variant import CODE_LENGTH, SIGNS
from latheworks.errors import LatheworksError

COURSE = "an-invented-course-key"
GOLDEN = Path(__file__).with_name("variants_golden.csv")
NAMES = ("LATHEWORKS_STUDENT", "LATHEWORKS_GROUP", "LATHEWORKS_COURSE")


@pytest.fixture(autouse=True)
def nothing_set(monkeypatch):
    for name in NAMES:
        monkeypatch.delenv(name, raising=False)


def rows():
    with GOLDEN.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['assignment']}-{row['student'][:8]}-{row['group']}")
def test_the_golden_file_comes_out_again(row):
    """Made once, by an HMAC written out from RFC 2104 with hashlib; homework given out rests on it: it never moves."""
    numbers = variant(row["assignment"], row["student"], group=row["group"], course=row["course"])
    assert numbers.code == row["code"]
    assert numbers.pick("size", range(1000)) == int(row["pick of 1000"])
    assert numbers.several("of", range(20), 5) == tuple(map(int, row["5 of 20"].split()))


def by_rfc_2104(key, text):
    """HMAC as RFC 2104 section 2 defines it, for SHA-256 and its blocks of 64 bytes."""
    key = (hashlib.sha256(key).digest() if len(key) > 64 else key).ljust(64, b"\0")
    inner = hashlib.sha256(bytes(b ^ 0x36 for b in key) + text).digest()
    return hashlib.sha256(bytes(b ^ 0x5C for b in key) + inner).digest()


def test_a_number_can_be_worked_out_apart_from_the_library():
    # The first test case of RFC 4231, section 4.2.
    vector = "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"
    assert by_rfc_2104(b"\x0b" * 20, b"Hi There").hex() == vector
    own = by_rfc_2104(COURSE.encode(), b"latheworks numbers 1\0student\0ana-7")
    seed = by_rfc_2104(own, b"01.tap_drill")
    number = int.from_bytes(by_rfc_2104(seed, b"pick\0size")[:8], "big")
    assert variant("01.tap_drill", "ana-7", course=COURSE).pick("size", range(1000)) == number % 1000


def test_another_run_with_another_hash_seed_gives_the_same():
    code = "from latheworks.course.variant import variant; print(variant('01.tap_drill', 'ana-7').code)"
    said = {
        subprocess.check_output(
            [sys.executable, "-c", code], text=True, cwd=GOLDEN.parents[1], env={**os.environ, "PYTHONHASHSEED": seed}
        ).strip()
        for seed in ("0", "1", "4242")
    }  # fmt: skip
    assert said == {variant("01.tap_drill", "ana-7").code}


def test_student_group_assignment_and_course_each_matter():
    made = [
        variant("a", "ana"), variant("b", "ana"), variant("a", "ben"), variant("a", "ana", course=COURSE),
        variant("a", "ana", group="ana"), variant("a", "ana", group="team-3"),
    ]  # fmt: skip
    assert len({numbers.code for numbers in made}) == len(made)


def test_a_group_shares_its_numbers_and_nobody_else_has_them():
    ana, ben = (variant("a", who, group="team-3", course=COURSE) for who in ("ana", "ben"))
    assert ana.code == ben.code
    assert [ana.pick(str(i), range(100)) for i in range(20)] == [ben.pick(str(i), range(100)) for i in range(20)]
    assert (ana.student, ben.student, ana.group) == ("ana", "ben", "team-3")
    assert find("00.inch_or_metric", "ana", group="t").question == find("00.inch_or_metric", "ben", group="t").question


def test_the_surroundings_say_who_it_is_and_an_instructor_makes_it_again(monkeypatch, tmp_path):
    assert variant("a") == variant("a", "me", group="", course=PUBLIC)
    file = tmp_path / "course.key"
    file.write_text(f"  {COURSE}\n")
    for held in (COURSE, str(file)):
        monkeypatch.setenv("LATHEWORKS_COURSE", held)
        monkeypatch.setenv("LATHEWORKS_STUDENT", "ana-7")
        assert variant("a") == variant("a", "ana-7", course=COURSE)
    monkeypatch.setenv("LATHEWORKS_GROUP", "team-3")
    assert variant("a") == variant("a", "ana-7", group="team-3", course=COURSE)
    assert variant("a", group="") == variant("a", "ana-7", group="", course=COURSE)


def test_a_pass_makes_its_owners_numbers_and_no_others(monkeypatch):
    held = course_pass("ana-7", course=COURSE)
    assert COURSE not in held
    monkeypatch.setenv("LATHEWORKS_COURSE", held)
    assert student_key() == "ana-7"
    assert variant("a") == variant("a", "ana-7", course=COURSE)
    assert course_pass("ana-7") == held
    for call in (lambda: variant("a", "ben"), lambda: variant("a", group="team-3"), lambda: course_pass("ben")):
        with pytest.raises(LatheworksError, match="the pass of student ana-7, expected one of"):
            call()
    monkeypatch.setenv("LATHEWORKS_COURSE", course_pass(group="team-3", course=COURSE))
    assert group_key() == "team-3"
    assert student_key() == "me"
    assert variant("a", "ben").code == variant("a", "ana", group="team-3", course=COURSE).code


@pytest.mark.parametrize("both", [{}, {"student": "ana", "group": "team-3"}])
def test_a_pass_is_for_a_student_or_for_a_group(both):
    with pytest.raises(LatheworksError, match="a student or a group"):
        course_pass(**both)


SECRET = "short-secret!"
BAD_COURSES = ["", SECRET, "x" * 129, "key with spaces in it", "ключ-ключ-ключ-ключ", "student:ana:12", 5, b"x" * 20,
               "./no/such/file", "a\0/b", ".", "student:ANA:" + "0" * 64]  # fmt: skip


@pytest.mark.parametrize("course", BAD_COURSES)
def test_an_unusable_course_key_is_refused_and_not_shown(course):
    with pytest.raises(LatheworksError, match="Course key") as caught:
        variant("a", "ana", course=course)
    assert SECRET not in str(caught.value)
    assert "no/such" not in str(caught.value)


def test_a_file_that_is_no_small_text_is_refused_at_once_and_not_shown(tmp_path):
    os.mkfifo(tmp_path / "pipe.key")
    (tmp_path / "large.key").write_text("a" * 1001)
    (tmp_path / "not.key").write_bytes(b"\xff" * 30)
    (tmp_path / "folder.key").mkdir()
    (tmp_path / "secret.key").write_text(SECRET)
    for file in tmp_path.iterdir():
        with pytest.raises(LatheworksError, match="Course key") as caught:
            course_key(str(file))
        assert SECRET not in str(caught.value)
        assert str(tmp_path) not in str(caught.value)


def test_a_key_or_pass_copied_with_the_end_of_its_line_is_the_same():
    own = course_pass("ana-7", course="an-invented-course-key")
    for text in ("an-invented-course-key", own):
        assert course_key(f"{text}\r\n") == course_key(text)


BAD_NAMES = ["../x", "A", "", " ", "a.b", "x" * 41, "con", "é", "a\n", 5, b"a", True, ["a"]]


@pytest.mark.parametrize("name", BAD_NAMES)
def test_an_unusable_key_or_group_or_assignment_is_refused(name):
    with pytest.raises(LatheworksError, match="Student key"):
        variant("a", name)
    if name != "":
        with pytest.raises(LatheworksError, match="Group"):
            variant("a", "ana", group=name)
    if name not in ("A", "a.b", "x" * 41, "con"):
        with pytest.raises(LatheworksError, match="assignment"):
            variant(name, "ana")


@pytest.mark.parametrize("name", ["", 5, None, "a\0b", "ä", "x" * 81])
def test_a_pick_has_a_plain_name_and_something_to_pick_from(name):
    numbers = variant("a", "ana")
    with pytest.raises(LatheworksError, match="name: got"):
        numbers.pick(name, (1, 2))
    with pytest.raises(LatheworksError, match="menu: got nothing"):
        numbers.pick("size", ())
    for count in (0, 3, True, 1.0, "1"):
        with pytest.raises(LatheworksError, match="count: got"):
            numbers.several("size", (1, 2), count)


def test_a_code_has_no_signs_that_look_alike_and_hardly_ever_comes_twice():
    assert len(set(SIGNS)) == len(SIGNS)
    for alike in ("0O", "1IL", "2Z", "5S", "6G", "8B", "UV"):
        assert len(set(alike) & set(SIGNS)) <= 1
    codes = Counter(variant("a", f"s{i}", course=COURSE).code for i in range(10_000))
    assert all(len(code) == CODE_LENGTH and set(code) <= set(SIGNS) for code in codes)
    # There are 22 ** 6 codes: by the birthday sum 10,000 draws hold 0.44 pairs on average.
    assert len(codes) >= 9_998


def test_neither_the_code_nor_the_object_shows_what_numbers_are_made_from():
    numbers = variant("a", "ana", course=COURSE)
    own = course_pass("ana", course=COURSE).rpartition(":")[2]
    for text in (repr(numbers), str(numbers), numbers.code):
        assert COURSE not in text
        assert own not in text
        assert numbers._seed.hex() not in text
        assert repr(numbers._seed) not in text
