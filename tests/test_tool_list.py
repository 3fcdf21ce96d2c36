"""The tool list: order, what the rack knows, what an error does, and blanks that no software fills."""

import dataclasses
import inspect
import math
from html.parser import HTMLParser

import pytest

from latheworks.errors import LatheworksError, NotInTable, OutOfRange
from latheworks.passes import ListedTool, ToolList, tool_list
from latheworks.passes.tool_list_result import BLANKS
from latheworks.shop import rack
from latheworks.tables import DATA
from latheworks.units import Q_
from tests.reach_shapes import mm

JOB = ["right-hand tool", "20 mm long drill", "16 mm boring bar", "3 mm grooving tool", "inside threading tool"]


class Cells(HTMLParser):
    """The text of every cell, row by row."""

    def __init__(self, page):
        super().__init__()
        self.rows, self.inside = [], False
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        if tag == "tr":
            self.rows.append([])
        if tag in ("td", "th"):
            self.inside = True
            self.rows[-1].append("")

    def handle_endtag(self, tag):
        self.inside = self.inside and tag not in ("td", "th")

    def handle_data(self, data):
        if self.inside:
            self.rows[-1][-1] += data


def test_the_order_is_the_job_and_a_tool_stands_once():
    found = tool_list([*JOB, "right-hand tool"])
    assert [row.tool.name for row in found.rows] == JOB
    assert [row.number for row in found.rows] == [1, 2, 3, 4, 5]


def test_a_tool_used_twice_is_judged_at_its_smallest_diameter():
    found = tool_list(["right-hand tool", "finishing tool", "right-hand tool"], Q_([30.0, 20.0, 8.0], "mm"))
    assert [row.diameter for row in found.rows] == [mm(8), mm(20)]


def test_a_hundredth_does_what_geometry_says():
    row = tool_list(JOB, mm(5), Q_(0.01, "mm")).rows[0]
    assert row.offset.diameter.m_as("mm") == pytest.approx(0.02)
    assert row.offset.length.m_as("mm") == pytest.approx(0.01)
    assert row.height.pip.m_as("mm") == pytest.approx(0.02)
    assert row.height.error.m_as("mm") == pytest.approx(2 * math.hypot(2.5, 0.01) - 5)
    assert row.nose.left_standing.m_as("mm") == pytest.approx(0.01 * (math.sqrt(2) - 1))
    assert row.left_out.left_standing.m_as("mm") == pytest.approx(0.8 * (math.sqrt(2) - 1))
    assert "diameters 0.020 mm" in str(tool_list(JOB))


def test_a_drill_has_a_depth_alone_and_a_thread_no_nose():
    rows = {row.tool.name: row for row in tool_list(JOB).rows}
    drill, threading = rows["20 mm long drill"], rows["inside threading tool"]
    assert drill.offset.diameter.m == 0
    assert drill.offset.length.m_as("mm") == pytest.approx(0.01)
    assert drill.height is drill.nose is drill.left_out is None
    assert threading.nose is None
    assert "pitch diameter" in str(tool_list(["inside threading tool"]))


def test_nothing_measured_has_a_field_or_an_argument():
    kept = {field.name for kind in (ListedTool, ToolList) for field in dataclasses.fields(kind)}
    assert kept == {
        "number",
        "tool",
        "diameter",
        "offset",
        "height",
        "nose",
        "left_out",
        "rows",
        "error",
        "rack",
        "system",
    }
    assert set(inspect.signature(tool_list).parameters) == {"tools", "diameters", "error", "rack", "system"}


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_the_blanks_of_the_page_are_empty(system):
    heads, *rows = Cells(tool_list(JOB, system=system)._repr_html_()).rows
    assert len(rows) == len(JOB)
    for tool, cells in zip(JOB, rows, strict=True):
        for name, on_axis in BLANKS.items():
            asked = on_axis or "drill" not in tool
            assert cells[heads.index(name)] == ("" if asked else "-"), (tool, name)


def test_the_blanks_of_the_table_and_of_the_text_are_empty():
    found = tool_list(JOB)
    frame = found.to_frame()
    assert len(frame) == len(JOB)
    assert all((frame[name] == "").all() for name in BLANKS)
    assert list(frame["nose radius [mm]"]) == [0.8, "", 0.4, 0.2, ""]
    text = str(found)
    assert text.count("________") == sum(len(BLANKS) if "drill" not in tool else 2 for tool in JOB)
    assert "initials ________" in text


def test_the_steps_are_those_of_the_tools_in_the_list():
    assert [name for name, _ in tool_list(JOB).steps] == [
        "each tool", "tools outside", "tools in a bore", "tools in the tailstock", "then",
    ]  # fmt: skip
    assert [name for name, _ in tool_list(["18 mm drill"]).steps] == ["each tool", "tools in the tailstock", "then"]
    said = str(tool_list(["18 mm drill"]))
    assert "center height" not in said
    assert "qualified staff decide" in said


def test_text_of_a_person_is_escaped(tmp_path):
    path = tmp_path / "ours.toml"
    text = (DATA / "rack.toml").read_text(encoding="utf-8")
    path.write_text(text.replace('"finishing tool"', '"<b>x</b>"').replace('"teaching rack"', '"<i>r</i>"'),
                    encoding="utf-8")  # fmt: skip
    page = tool_list(["<b>x</b>"], rack=rack(path))._repr_html_()
    assert "<b>x" not in page
    assert "<i>" not in page
    assert "&lt;b&gt;x" in page


@pytest.mark.parametrize(("bad", "kind", "words"), [
    ({"tools": ["right-hand tol"]}, NotInTable, 'Try "right-hand tool"'),
    ({"tools": []}, OutOfRange, "1 to 60"),
    ({"tools": JOB * 13}, OutOfRange, "1 to 60"),
    ({"tools": "right-hand tool"}, LatheworksError, "a list of"),
    ({"tools": [None]}, LatheworksError, "got None"),
    ({"diameters": Q_([1.0, 2.0], "mm")}, OutOfRange, "2 for 5 tools"),
    ({"diameters": mm(0)}, OutOfRange, "diameters"),
    ({"error": mm(-0.01)}, OutOfRange, "error"),
    ({"error": 0.01}, LatheworksError, 'error=Q_(0.01, "mm")'),
    ({"rack": "mine"}, LatheworksError, "rack: got 'mine'"),
])  # fmt: skip
def test_bad_input_is_told(bad, kind, words):
    with pytest.raises(kind) as caught:
        tool_list(**{"tools": JOB, **bad})
    assert words in str(caught.value)
