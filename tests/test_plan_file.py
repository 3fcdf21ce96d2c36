"""Plans and parts as JSON: exact there and back, by the schema, and a broken one says which line is wrong."""

import json
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from latheworks import Q_, LatheworksError, Span
from latheworks.plan import (
    Feature,
    Operation,
    Part,
    Plan,
    Setup,
    barrel_plan,
    corer_barrel,
    cutting_shoe,
    read_part,
    read_plan,
    shoe_plan,
    write_part,
    write_plan,
)
from latheworks.plan.lines import line_of
from latheworks.tables import DATA

SCHEMA = json.loads((DATA / "plan.schema.json").read_text(encoding="utf-8"))
EVERYTHING = Plan(
    Part("pin", "brass", [
        Feature("body", "cylinder", Q_(0, "mm"), Q_(1.25, "inch"), Q_(31.75, "mm"), limits=Span(None, Q_(31.8, "mm")),
                finish=Q_(0.8, "um"), runout=Q_(50, "um"), datum="body"),
    ], Q_(32, "mm"), Q_(0.1 + 0.2, "inch") * 10, Q_(0, "inch"), Q_(0.5, "mm"), 12, 'a "note"\n{,}'),
    [Setup("one", "B", Q_(40, "mm"), "collet", "center", Q_(7, "mm"),
           [Operation("drill", ["body"], "8 mm drill", Q_(600, "rev/min"), None, Q_(0.002, "inch/rev"), Q_(1, "mm"), 3,
                      2, Q_(0, "mm"), Q_(4, "mm"), Q_(5, "mm"), "radial", False, "slow")],
           Q_(12, "kN"), Q_(5, "thou"), "the stop", Q_(0.01, "mm"), True, True, True, Q_(1e8, "N*mm/rad"),
           Q_(float("inf"), "N/mm"), Q_(30, "N/um"), "note")],
    "all of it", note="n",
)  # fmt: skip


@pytest.mark.parametrize("plan", [barrel_plan(), shoe_plan(), EVERYTHING], ids=lambda plan: plan.name)
def test_a_plan_comes_back_exactly_and_twice_the_same(plan):
    text = write_plan(plan)
    assert read_plan(text) == plan
    assert write_plan(read_plan(text)) == text
    again = read_plan(text)
    for one, two in zip(plan.part.features, again.part.features, strict=True):
        assert one.plain == two.plain


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=lambda part: part.name)
def test_a_part_comes_back_exactly(part):
    assert read_part(write_part(part)) == part


@settings(max_examples=200, deadline=None)
@given(st.floats(1e-6, 9000, allow_nan=False), st.sampled_from(["mm", "inch", "thou", "um"]))
def test_every_digit_of_a_size_comes_back(size, unit):
    setup = Setup("one", "A", Q_(1.0, "mm"), zero_error=Q_(size, unit) if Q_(size, unit) < Q_(5, "mm") else None)
    back = read_plan(write_plan(Plan(corer_barrel(), [setup]))).setups[0]
    assert back == setup
    assert setup.zero_error is None or back.zero_error.units == setup.zero_error.units


def test_files_are_by_the_published_schema():
    Draft202012Validator.check_schema(SCHEMA)
    check = Draft202012Validator(SCHEMA)
    for text in (write_plan(barrel_plan()), write_plan(EVERYTHING), write_part(cutting_shoe())):
        assert list(check.iter_errors(json.loads(text))) == []


@pytest.mark.parametrize(("kind", "name"), [(Feature, "feature"), (Operation, "operation"), (Setup, "setup"),
                                            (Part, "part")])  # fmt: skip
def test_the_schema_names_every_field_and_no_other(kind, name):
    assert set(SCHEMA["$defs"][name]["properties"]) == {each.name for each in fields(kind) if each.init}


def broken(change):
    """The barrel's plan with one change of its text, by its lines."""
    data = json.loads(write_plan(barrel_plan()))
    change(data)
    return json.dumps(data, indent=1)


def put(value, *path):
    def change(data):
        for step in path[:-1]:
            data = data[step]
        data[path[-1]] = value

    return change


@pytest.mark.parametrize(("change", "said"), [
    (put(70, "setups", 0, "stickout"), r'setups 1, stickout: got 70, expected a size such as "12.5 mm"'),
    (put("70 furlongs", "setups", 1, "stickout"), "setups 2, stickout: got '70 furlongs', expected a number and"),
    (put("-3 mm", "setups", 1, "stickout"), "setups 2: Setup: stickout"),
    (put("70 mm", "setups", 1, "sickout"), r"setups 2: Additional properties .*'sickout'"),
    (put("mill", "setups", 0, "operations", 2, "kind"), 'setups 1, operations 3, kind: got "mill", expected one of'),
    (put("600 mm", "setups", 0, "operations", 2, "spindle"), "setups 1, operations 3: Operation: spindle"),
    (put("900 mm", "part", "features", 4, "end"), "part: Part: stock_length"),
    (put("M16x1.5-6H", "part", "features", 9, "designation"), None),
    (put("M16x1.5-9Q", "part", "features", 9, "designation"), "part features 10: Feature: designation"),
    (put("unobtainium", "part", "material"), "part: Part: material"),
    (put([], "setups"), "setups: expected|setups: got"),
    (put("latheworks plan 2", "schema"), "schema"),
])  # fmt: skip
def test_a_broken_plan_says_where_and_names_its_line(change, said):
    text = broken(change)
    if said is None:
        assert read_plan(text).part.feature("socket thread").plain.pitch == 1.5
        return
    with pytest.raises(LatheworksError, match=r"line \d+, .*(" + said + ")") as caught:
        read_plan(text)
    number = int(str(caught.value).split("line ")[1].split(",")[0])
    assert 1 <= number <= text.count("\n") + 1


@pytest.mark.parametrize(("path", "text"), [
    (("setups", 1, "stickout"), '"stickout"'), (("setups", 0, "operations", 5, "tool"), '"5 mm long drill"'),
    (("part", "features", 4, "limits", "max"), '"max": "30 mm"'), (("name",), '"name": "corer barrel"'),
])  # fmt: skip
def test_the_line_named_is_the_line(path, text):
    whole = write_plan(barrel_plan())
    assert text in whole.split("\n")[line_of(whole, path) - 1]


def test_a_line_is_found_among_brackets_in_words():
    whole = '{\n "note": "a } { [ \\" ] ",\n "list": [1, [2, {"x": 3}],\n  {"y": [true, null]}\n ],\n "last": 5\n}'
    assert line_of(whole, ("list", 2, "y", 1)) == 4
    assert line_of(whole, ("last",)) == 6
    assert line_of(whole, ("list", 7)) == 3


@pytest.mark.parametrize("text", [
    "{", '{"schema": "latheworks plan 1", "schema": "latheworks plan 1"}', '{"schema": NaN}', '{"x": Infinity}',
    '{"schema": "latheworks plan 1"}', "{}", '{"a":' * 5000 + "1" + "}" * 5000, "{" + " " * 200_001 + "}",
    '{"schema": "latheworks plan 1", "part": [], "setups": 3}',
])  # fmt: skip
def test_what_is_no_plan_is_a_sentence(text):
    with pytest.raises(LatheworksError, match="Try"):
        read_plan(text)


@pytest.mark.parametrize("source", [None, 3, "", "no/such/file.json", b"{}", Path()])
def test_a_source_that_is_none_is_a_sentence(source):
    with pytest.raises(LatheworksError, match="read_plan: "):
        read_plan(source)


def test_a_file_is_written_and_read(tmp_path):
    path = tmp_path / "plan.json"
    text = write_plan(barrel_plan(), path)
    assert path.read_text(encoding="utf-8") == text
    assert read_plan(path) == barrel_plan()
    path.write_bytes(b"\xff\xfe{}")
    with pytest.raises(LatheworksError, match="cannot be read"):
        read_plan(path)
    with pytest.raises(LatheworksError, match="cannot be written"):
        write_plan(barrel_plan(), tmp_path / "no_folder" / "plan.json")


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_any_value_changed_for_nonsense_is_a_plan_or_a_sentence(data):
    """Never another error, whatever stands in one place of the file."""
    tree = json.loads(write_plan(shoe_plan()))
    at, key = tree, data.draw(st.sampled_from(sorted(tree)))
    while isinstance(at[key], (dict, list)) and at[key] and data.draw(st.booleans()):
        at = at[key]
        key = data.draw(st.sampled_from(sorted(at) if isinstance(at, dict) else range(len(at))))
    at[key] = data.draw(st.sampled_from([None, True, 0, -1, 1e308, "", "5", "5 mm", "nan mm", "1e999 mm", [], {}, [[]],
                                         "inf N/mm", "x" * 300]))  # fmt: skip
    try:
        read_plan(json.dumps(tree))
    except LatheworksError as error:
        assert "Try" in str(error)
