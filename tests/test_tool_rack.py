"""The turning tools of the rack: what each kind says, what is taken where nothing is said, and what cannot be."""

import dataclasses

import pytest

from latheworks.errors import LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.passes import TurningTool, reach, turning_tool
from latheworks.rack_tool import HEADINGS, KINDS, ON_AXIS, WORDS, Tool
from latheworks.shop import rack
from latheworks.tables import DATA
from latheworks.threads import thread
from latheworks.units import Q_
from tests.reach_shapes import mm, profile

TEXT = (DATA / "rack.toml").read_text(encoding="utf-8")
OUTER = [tool for tool in rack().tools if tool.side != "axis" and not tool.threads]


@pytest.fixture
def written(tmp_path):
    """A rack of our own from the teaching rack's text with one thing changed."""

    def write(old, new, times=1):
        assert old in TEXT
        path = tmp_path / "ours.toml"
        path.write_text(TEXT.replace(old, new, times), encoding="utf-8")
        return rack(path)

    return write


def alone(tmp_path, text):
    """A rack of a single tool."""
    path = tmp_path / "one.toml"
    path.write_text(f'name = "ours"\nnote = "one tool"\n{text}', encoding="utf-8")
    return rack(path).tools[0]


def test_every_kind_of_the_teaching_rack_has_a_tool():
    assert all(rack().by_kind[kind] for kind in KINDS)
    assert sum(map(len, rack().by_kind.values())) == len(rack().tools)


def test_headings_and_fields_fit_together():
    fields = {field.name for field in dataclasses.fields(Tool)}
    assert {heading.field for heading in HEADINGS.values()} | set(WORDS) <= fields
    for must, may in KINDS.values():
        assert set(must) | set(may) <= set(HEADINGS) | set(WORDS)
        assert not set(must) & set(may)


@pytest.mark.parametrize("tool", OUTER, ids=lambda tool: tool.name)
def test_a_tool_gives_the_shape_that_a_pass_needs(tool):
    shape = turning_tool(tool)
    assert isinstance(shape, TurningTool)
    assert (shape.name, shape.insert, shape.hand) == (tool.name, tool.insert, tool.hand)
    assert shape.nose_radius == tool.nose_radius
    assert shape.blade_width == tool.blade_width
    if tool.side == "inside":
        assert (shape.shank, shape.reach, shape.bar_length) == (tool.diameter, tool.tip, tool.reach)
    else:
        assert (shape.shank, shape.reach, shape.bar_length) == (tool.shank, tool.reach, None)


def test_the_shape_goes_into_reach():
    wanted = profile([(0, 30), (40, 30), (40, 20), (60, 20)], stock=mm(32))
    left = reach(wanted, turning_tool(rack().tool("finishing tool"))).area.m
    assert left < reach(wanted, turning_tool(rack().tool("round-nosed tool"))).area.m


@pytest.mark.parametrize("name", ["20 mm long drill", "10 mm reamer", "threading tool", "inside threading tool"])
def test_what_has_no_such_shape_is_refused(name):
    with pytest.raises(LatheworksError, match="insert or a blade"):
        turning_tool(rack().tool(name))


def test_a_tool_is_picked_by_name_and_a_near_name_is_offered():
    assert rack().tool("finishing tool").insert == "D"
    with pytest.raises(NotInTable, match='Try "finishing tool"'):
        rack().tool("finshing tool")
    with pytest.raises(WrongUnit, match="name: got 3"):
        rack().tool(3)


def test_no_bar_of_the_rack_gets_to_the_middle_of_the_barrel():
    """A 250 mm bore of 20 mm is drilled from both ends; 125 mm of steel bar in it would be 8 diameters out."""
    bars = [tool for tool in rack().by_kind["boring_bar"] if tool.smallest_bore <= mm(20)]
    assert bars
    for bar in bars:
        assert bar.reach < mm(125)
        assert (bar.reach / bar.diameter).m <= 5.0
    assert [drill for drill in rack().by_kind["drill"] if drill.diameter == mm(20) and drill.reach > mm(125 + 20)]


def test_the_rack_has_what_the_corer_needs():
    """The socket's thread, its relief, the grip grooves, the cut-off: of the lessons' own drawing."""
    pitch = thread("1-12 UNF-2B").pitch
    inside = [t for t in rack().by_kind["inside_threading_tool"] if t.least_pitch <= pitch <= t.largest_pitch]
    assert any(t.smallest_bore <= mm(23.1) and t.reach >= mm(24) for t in inside)
    assert any(t.least_pitch <= pitch <= t.largest_pitch for t in rack().by_kind["threading_tool"])
    assert any(t.blade_width < mm(4) and t.nose_radius <= mm(0.2) for t in rack().by_kind["grooving_tool"])
    assert any(t.smallest_bore <= mm(23.1) and t.tip >= mm(1.4) for t in rack().by_kind["inside_grooving_tool"])
    assert any(t.reach >= mm(19) for t in rack().by_kind["parting_tool"])
    assert any(t.smallest_bore <= mm(18) and t.reach >= mm(64) for t in rack().by_kind["boring_bar"])


def test_what_is_left_out_is_the_stated_default(tmp_path):
    bar = alone(
        tmp_path, '[[boring_bar]]\nname = "b"\n"diameter [mm]" = 8\n"reach [mm]" = 32\n"smallest bore [mm]" = 10'
    )
    assert (bar.insert, bar.nose_radius, bar.entering_angle) == ("C", mm(0.4), Q_(93, "degree"))
    assert (bar.tip, bar.stickout) == (mm(2), mm(32))
    assert (bar.edge, bar.edge_price, bar.change_time) == ("carbide", 4.0, Q_(2, "min"))
    drill = rack().by_kind["drill"][0]
    assert (drill.edge, drill.edge_price, drill.change_time) == ("high-speed steel", 1.5, Q_(3, "min"))
    turning = rack().tool("right-hand tool")
    assert turning.stickout == 1.5 * turning.shank
    assert rack().tool("threading tool").thread_angle == Q_(60, "degree")


def test_a_price_and_a_time_of_our_own_are_kept(written):
    more = '"name" = "finishing tool"\n"edge price [money]" = 7.5\n"change time [min]" = 0\n"edge" = "coated carbide"'
    tool = written('"name" = "finishing tool"', more).tool("finishing tool")
    assert (tool.edge_price, tool.change_time, tool.edge) == (7.5, Q_(0, "min"), "coated carbide")


@pytest.mark.parametrize(("old", "new", "kind", "words"), [
    ('"insert" = "D"', '"insert" = "Q"', NotInTable, "insert: got 'Q'"),
    ('"insert" = "D"', '"insert" = 5', WrongUnit, '"insert": got 5'),
    ('"insert" = "D"\n', "", WrongUnit, '"insert": got None'),
    ('"entering angle [degree]" = 93', '"entering angle [degree]" = 140', LatheworksError, "back of the insert rubs"),
    ('"hand" = "left"', '"hand" = "both"', NotInTable, 'hand: got \'both\''),
    ('"nose radius [mm]" = 0.8', '"nose radius [mm]" = 9', LatheworksError, "more than the nose radius"),
    ('"nose radius [mm]" = 2\n', '"nose radius [mm]" = 0\n', LatheworksError, "round insert"),
    ('"blade width [mm]" = 3\n"nose radius [mm]" = 0.2', '"blade width [mm]" = 3\n"nose radius [mm]" = 2',
     OutOfRange, "at most 1.5 mm"),
    ('"blade width [mm]" = 2\n', "", WrongUnit, "blade width"),
    ('"smallest bore [mm]" = 18', '"smallest bore [mm]" = 16', LatheworksError, "room for the bar and its tip"),
    ('"smallest bore [mm]" = 18', '"smallest bore [mm]" = 18\n"tip [mm]" = 3', LatheworksError, "room for the bar"),
    ('"largest pitch [mm]" = 3\n"diameter', '"largest pitch [mm]" = 0.9\n"diameter', LatheworksError, "least below"),
    ('"largest pitch [mm]" = 3\n"diameter', '"largest pitch [mm]" = 6\n"diameter', LatheworksError, "its thread"),
    ('"shank [mm]" = 12', '"shank [mm]" = -12', OutOfRange, "shank"),
    ('"shank [mm]" = 12', '"shank [mm]" = 12\n"edge price [money]" = -1', OutOfRange, "0 to 100000 money"),
    ('"shank [mm]" = 12', '"shank [mm]" = 12\n"edge price [money]" = inf', OutOfRange, "edge price"),
    ('"shank [mm]" = 12', '"shank [mm]" = 12\n"change time [min]" = "2"', WrongUnit, "got '2'"),
    ('"shank [mm]" = 12', '"shank [mm]" = 12\n"edge" = "stone"', NotInTable, "edge: got 'stone'"),
    ('"shank [mm]" = 12', '"shank [mm]" = 12\n"point angle [degree]" = 118', NotInTable, "not known"),
])  # fmt: skip
def test_a_wrong_entry_gets_a_sentence(written, old, new, kind, words):
    with pytest.raises(kind) as caught:
        written(old, new)
    assert words in str(caught.value)
    assert "Try" in str(caught.value)


def test_a_message_names_the_tool(written):
    with pytest.raises(LatheworksError, match=r"'right-hand tool', nose_radius|'right-hand tool', reach"):
        written('"nose radius [mm]" = 0.8', '"nose radius [mm]" = 9')


def test_tools_on_the_axis_have_no_insert():
    assert all(tool.insert is None and tool.side == "axis" for tool in rack().tools if tool.kind in ON_AXIS)
