"""The teaching lathe, an instructor's own file, and the cautions."""

from pathlib import Path

import pytest

from latheworks.errors import LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.shop import Lathe, caution_kinds, cautions, lathe
from latheworks.tables import DATA, source, table
from latheworks.units import Q_

TEXT = (DATA / "lathe.toml").read_text(encoding="utf-8")


@pytest.fixture
def written(tmp_path):
    """Write an instructor's file and give its path."""

    def write(content):
        path = tmp_path / "ours.toml"
        path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return path

    return write


def test_the_teaching_lathe_says_that_it_is_invented():
    found = lathe()
    assert "invented" in found.note
    assert found is lathe()
    assert "1200 mm/min" in str(found)
    assert "invented" in found._repr_html_()
    assert found.slowest_spindle < found.fastest_spindle


def test_an_instructors_file_is_read(written):
    path = written(TEXT.replace('"power [kW]" = 1.5', '"power [kW]" = 4').replace("teaching lathe", "room 12"))
    for given in (path, str(path)):
        found = lathe(given)
        assert isinstance(found, Lathe)
        assert found.name == "room 12"
        assert found.power.m_as("kW") == 4


@pytest.mark.parametrize(
    ("old", "new", "kind", "words"),
    [
        ('"power [kW]" = 1.5', "", WrongUnit, '"power [kW]": got nothing'),
        ('"power [kW]" = 1.5', '"power [kW]" = "1.5"', WrongUnit, "got '1.5'"),
        ('"power [kW]" = 1.5', '"power [kW]" = true', WrongUnit, "got True"),
        ('"power [kW]" = 1.5', '"power [kW]" = nan', OutOfRange, "got nan"),
        ('"power [kW]" = 1.5', '"power [kW]" = inf', OutOfRange, "got inf"),
        ('"power [kW]" = 1.5', '"power [kW]" = 0', OutOfRange, "from 0.05 to 200 kW"),
        ('"power [kW]" = 1.5', '"power [kW]" = -1', OutOfRange, "from 0.05 to 200 kW"),
        ('"power [kW]" = 1.5', '"power [kW]" = [1.5]', WrongUnit, "got [1.5]"),
        ('"power [kW]" = 1.5', '"power [hp]" = 2', NotInTable, "a heading that is not known"),
        ('"slowest spindle [rev/min]" = 60', '"slowest spindle [rev/min]" = 3000', LatheworksError, "slowest 3000"),
        ('name = "teaching lathe"', 'name = ""', OutOfRange, "name: got nothing"),
        ('name = "teaching lathe"', "name = 3", WrongUnit, "name: got 3"),
    ],
)
def test_a_wrong_entry_gets_a_sentence(written, old, new, kind, words):
    assert old in TEXT
    with pytest.raises(kind) as caught:
        lathe(written(TEXT.replace(old, new)))
    assert words in str(caught.value)
    assert "Try" in str(caught.value)


def test_all_wrong_entries_come_in_one_message(written):
    with pytest.raises(LatheworksError, match="16 arguments"):
        lathe(written(""))


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"name = ", "no TOML"), (b"\xff\xfe\x00", "no TOML"), (b"#" * 70_000, "larger than"),
     (b"a = " + b"[" * 30_000, "no TOML")],
)  # fmt: skip
def test_a_file_that_is_no_lathe_gets_a_sentence(written, content, words):
    with pytest.raises(LatheworksError, match=words):
        lathe(written(content))


@pytest.mark.parametrize("path", ["/nowhere/at/all.toml", Path("nowhere.toml"), "/", "a\x00b"])
def test_a_file_that_cannot_be_read_gets_a_sentence(path):
    with pytest.raises(LatheworksError, match="cannot be read"):
        lathe(path)


@pytest.mark.parametrize("path", [3, True, "", "  ", [], Q_(3, "mm"), float("nan")])
def test_nonsense_for_a_path_is_refused(path):
    with pytest.raises(WrongUnit, match="path: got"):
        lathe(path)


def test_cautions_of_each_kind_end_with_the_standing_one():
    assert caution_kinds() == (
        "threading", "holding", "drilling", "turning", "facing", "boring", "grooving", "parting", "chamfering",
        "deburring", "gaging", "coolant", "tailstock",
    )  # fmt: skip
    for kind in caution_kinds():
        lines = cautions(kind)
        assert len(lines) >= 3
        assert "qualified staff decide" in str(lines[-1])
        assert all(line.source for line in lines)
    assert all(source(key).title for row in table("cautions") for key in row["source"].split("+"))


@pytest.mark.parametrize(("kind", "words"), [
    ("deburring", ("left hand", "handle")), ("gaging", ("spindle stopped",)), ("coolant", ("skin", "mist", "lungs")),
    ("tailstock", ("clamped", "quill", "cone")), ("parting", ("between centers", "carriage")),
])  # fmt: skip
def test_what_hurts_people_most_is_said(kind, words):
    said = "\n".join(map(str, cautions(kind)))
    assert all(word in said for word in words)


@pytest.mark.parametrize("kind", ["welding", "", "standing", "x" * 9999, 3, None, True, [], Q_(1, "mm")])
def test_an_unknown_kind_is_refused(kind):
    with pytest.raises(LatheworksError, match="kind: got"):
        cautions(kind)
