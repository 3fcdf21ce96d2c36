"""The table and the pages of a grading: no formula, no markup, no script, no address; numbers stay numbers."""

import csv
import io
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.course import grade
from latheworks.course.csv_text import STARTS, as_csv, cell, put
from latheworks.course.grade_pages import bars, class_page, page_names, plain, spread, student_page
from latheworks.course.grades import HEAD, Grades, Mark, Row
from latheworks.errors import LatheworksError

PAYLOADS = ["<script>alert(1)</script>", "<img src=x onerror=alert(1)>", '" onmouseover="x', "' onclick='x",
            "&lt;b&gt;",
            "javascript:alert(1)", "</textarea><b>", "]]>", "a\u202eb", "$x^{", "\\frac{1}", "`x`", "a\x00b", "http://x.y/z",
            "HTTPS://x.y", "{{ 7 * 7 }}", "{% raw %}", "</style><style>*{}", "a" * 10_000]  # fmt: skip
RISKY = ["=1+1", "+1", "-1+1", "@SUM(A1)", "=cmd|' /C calc'!A0", "\t=1", "\r=1", "\n=1", "  =1", '"=1', "'=1", '" =1',
         "\uff1d1", "\uff0b1", "\uff0d1", "\uff20x", "\ufe661", "\ufe621", " \uff1d1", "\u200b=1", "\ufeff=1",
         "\u00a0=1",
         "=HYPERLINK(1)", "-2+3+cmd", "|x", "%0A=1", "\u201c=1", "`=1", "\x00=1", "\u202e=1"]  # fmt: skip


# CSV.
@pytest.mark.parametrize("risky", RISKY)
def test_a_text_that_a_spreadsheet_would_reckon_with_is_neutralised(risky):
    made = cell(risky)
    assert made.startswith("'")
    assert next(csv.reader(io.StringIO(as_csv(["x"], [[risky]]), newline="")), None) == ["x"]
    assert list(csv.reader(io.StringIO(as_csv(["x"], [[risky]]), newline="")))[1] == [made]


@pytest.mark.parametrize("value", [-3.2, 0, 17.5, -1, 1e-9])
def test_numbers_stay_numbers(value):
    assert cell(value) is value
    assert as_csv(["x"], [[value]]).splitlines()[1] == repr(value)


@pytest.mark.parametrize(
    "text", ["-3.2", "12", "ana-7", "Müller, Ana", 'the "best"', "two\nlines", "a;=1+1", "5 = 5", ""]
)
def test_plain_texts_are_as_they_were_and_are_quoted(text):
    assert cell(text) == text
    made = as_csv(["x", "y"], [[text, 1]])
    assert list(csv.reader(io.StringIO(made, newline="")))[1] == [text, "1"]
    assert made.split("\r\n")[1].startswith('"')


@settings(max_examples=400, deadline=None)
@given(st.lists(st.tuples(st.text(max_size=40), st.floats(allow_nan=False, allow_infinity=False)), max_size=5))
def test_whatever_the_text_the_reader_gets_back_what_was_written_and_no_formula(rows):
    back = list(csv.reader(io.StringIO(as_csv(["t", "n"], rows), newline="")))
    assert [len(row) for row in back] == [2] * (len(rows) + 1)
    for (text, number), (seen, digits) in zip(rows, back[1:], strict=True):
        assert seen == cell(text)
        assert float(digits) == number
        assert seen[:1] not in STARTS or re.fullmatch(r"-?\d+(\.\d+)?", seen) or not seen


def test_a_file_is_never_written_over_and_no_link_followed(tmp_path):
    (tmp_path / "mine.csv").write_text("mine")
    (tmp_path / "link.csv").symlink_to(tmp_path / "mine.csv")
    (tmp_path / "nowhere.csv").symlink_to(tmp_path / "made.csv")
    for name in ("mine.csv", "link.csv", "nowhere.csv"):
        with pytest.raises(LatheworksError, match="already"):
            Grades((), ()).to_csv(tmp_path / name)
    for bad in (5, "x.txt", "", tmp_path / "no" / "such.csv", "a\x00b.csv"):
        with pytest.raises(LatheworksError):
            put(bad, "x", ".csv")
    assert {path.name for path in tmp_path.iterdir()} == {"mine.csv", "link.csv", "nowhere.csv"}
    assert (tmp_path / "mine.csv").read_text() == "mine"


# Pages.
class Page(HTMLParser):
    """The tags, attributes and text of a page."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.tags, self.attributes, self.words = [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, name, value) for name, value in attrs]

    def handle_data(self, data):
        self.words.append(data)


def a_class(text="plain"):
    """A class in which every text that could come from a student or a file is the one given."""
    marks = (
        Mark("x.plan", 3.0, 20, "missed", text, text, (text, text), misses=2, shown=True, plan=True),
        Mark("x.why", 0.0, 0, "to be read", "", text, answer=text), Mark("x.size", 2.0, 2, "right", "", text,
        answer=text),
    )  # fmt: skip
    rows = (Row("ana-7", text, text, "graded", marks, (text,)), Row("", "", text, "odd name", marks))
    return Grades((("x.plan", 20), ("x.why", 0), ("x.size", 2)), rows, ((text, text),))


@pytest.mark.parametrize("payload", PAYLOADS, ids=range(len(PAYLOADS)))
def test_no_text_becomes_markup_a_script_or_an_address_and_none_is_lost(payload):
    for page, plainly in ((class_page(a_class(payload), ["ana-7.html", ""]), class_page(a_class(), ["ana-7.html", ""])),
                          (student_page(a_class(payload), a_class(payload).rows[0]),
                           student_page(a_class(), a_class().rows[0]))):  # fmt: skip
        made, usual = Page(page), Page(plainly)
        assert made.tags == usual.tags
        assert made.attributes == usual.attributes
        assert not any(name.startswith("on") for _, name, _ in made.attributes)
        assert "<script" not in page.lower()
        assert not re.search("https?://", page, re.IGNORECASE)
        seen = payload.replace("\u202e", "[U+202E]").replace("\x00", "[U+0000]")
        assert seen in "".join(made.words)
        assert "\u202e" not in page


def test_the_pages_need_nothing_from_elsewhere_and_say_that_points_are_no_leave_to_cut():
    for page in (class_page(a_class(), ["ana-7.html", ""]), student_page(a_class(), a_class().rows[0])):
        made = Page(page)
        known = "html head meta title style body h1 h2 p b table tr th td svg rect text line ul li a div blockquote"
        assert set(made.tags) <= set(known.split())
        addresses = [value for _, name, value in made.attributes if name in ("href", "src", "action", "style")]
        assert set(addresses) <= {"students/ana-7.html"}
        assert "default-src 'none'" in page
        assert "never say that anybody may cut" in page
        assert not re.search(r"\b(safe|approved|may cut)\b", re.sub("never say that anybody may cut", "", page))


def test_who_has_a_stop_what_slipped_and_how_points_lie(tmp_path):
    page = class_page(a_class("over-cut"), ["ana-7.html", ""])
    before, after = page.split("What slipped most")
    assert "over-cut" in before
    assert "students/ana-7.html" in before
    assert re.search(r"<td class=\"k\">x.plan</td><td>over-cut</td><td class=\"n\">1</td>", after)
    bins = spread(a_class())
    assert [count for *_, count in bins] == [0, 0, 1, 0, 0, 0, 0, 0, 0, 0]
    assert bins[2][:2] == (4.4, 6.6)
    rows = re.findall(r'<td class="n">([\d.]+)</td><td class="n">([\d.]+)</td><td class="n">(\d+)</td>', after)
    assert [(float(low), float(high), int(count)) for low, high, count in rows] == bins, "the picture's twin"
    assert f'aria-label="Spread of the points from 0 to 22: {", ".join(str(count) for *_, count in bins)}"' in after
    assert bars([], 0) == ""
    empty = Grades((), ())
    assert "Nothing that was answered slipped." in class_page(empty, [])


def test_what_was_not_looked_into_takes_a_line_for_each_reason_and_not_for_each_file():
    copies = tuple((f"ana-7.{k}.json", "a copy") for k in range(30))
    page = class_page(Grades((), (), (*copies, ("readme.txt", "no .json file"))), [])
    rows = re.findall(r"<tr><td class=\"f\">(.*)</td><td></td><td>Not looked into: (.*)\.</td></tr>", page)
    assert [why for _, why in rows] == ["a copy", "no .json file"]
    assert rows[0][0].startswith("ana-7.0.json, ana-7.1.json, ")
    assert rows[0][0].endswith(" and 22 more")
    assert rows[1][0] == "readme.txt"


def test_pages_go_into_a_new_folder_and_nowhere_else(tmp_path):
    place = tmp_path / "out"
    two = Grades((("x.size", 2),), tuple(Row(who, "", f"{n}.json", "graded", (Mark("x.size", 2.0, 2, "right"),))
                                         for n, who in enumerate(["ana-7", "ana-7", "", "cy"])))  # fmt: skip
    assert page_names(two) == ["ana-7.html", "ana-7.2.html", "", "cy.html"]
    assert two.to_pages(place) == 4
    made = {str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*") if path.is_file()}
    assert made == {"out/class.html", *(f"out/students/{name}" for name in ("ana-7.html", "ana-7.2.html", "cy.html"))}
    (tmp_path / "file").write_text("x")
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "mine.txt").write_text("x")
    (tmp_path / "linked").symlink_to(tmp_path / "elsewhere")
    (tmp_path / "elsewhere").mkdir()
    for bad in (place, tmp_path / "file", tmp_path / "linked", tmp_path / "own", 5, "", "a\x00b"):
        with pytest.raises(LatheworksError, match="Try"):
            two.to_pages(bad)
    assert [path.name for path in (tmp_path / "own").iterdir()] == ["mine.txt"]
    assert not list((tmp_path / "elsewhere").iterdir())


def test_texts_for_a_page():
    assert str(plain("a\u202eb")) == "a[U+202E]b"
    assert str(plain("<b>&")) == "&lt;b&gt;&amp;"
    assert str(plain(-3.5)) == "-3.5"


def test_the_heading_is_stable_and_every_row_has_its_columns(tmp_path):
    (tmp_path / "o, connor.json").write_text("{")
    grades = grade(tmp_path, assignment="00.inch_or_metric", roster=["cy"])
    rows = list(csv.reader(io.StringIO(grades.to_csv(tmp_path / "g.csv"), newline="")))
    assert (tmp_path / "g.csv").read_bytes().decode() == grades.to_csv()
    assert rows[0] == [*HEAD, "00.inch_or_metric points", "00.inch_or_metric found"]
    assert {len(row) for row in rows} == {12}
    assert rows[1][2:4] == ["o, connor.json", "odd name"]
