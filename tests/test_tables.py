"""Every table in latheworks/data: whole rows, a unit or a name for every column, a known source for every row."""

import re

import pytest

from latheworks.errors import NotInTable
from latheworks.tables import BASES, DATA, cite, source, sources, table, tables

NUMBER = re.compile(r"[-+]?[0-9]*\.?[0-9]+")


def test_there_are_tables():
    assert {"unified_sizes", "metric_sizes", "drills_number"} <= set(tables())


@pytest.mark.parametrize("name", tables())
def test_rows_are_whole_and_sourced(name):
    rows = table(name)
    assert rows, "an empty table"
    for row in rows:
        assert None not in row, f"a row longer than the header: {dict(row)}"
        assert None not in row.values(), f"a row shorter than the header: {dict(row)}"
        assert all(key in sources() for key in row["source"].split("+")), dict(row)


@pytest.mark.parametrize("name", tables())
def test_columns_with_a_unit_hold_printed_numbers(name):
    for row in table(name):
        for heading, text in row.items():
            if "[" in heading:
                assert all(NUMBER.fullmatch(part) for part in text.split()), f"{heading}: {text!r}"


@pytest.mark.parametrize("name", tables())
def test_no_row_stands_twice(name):
    rows = [tuple(row.values()) for row in table(name)]
    assert len(rows) == len(set(rows))


def test_sources_are_complete_and_used():
    used = {key for name in tables() for row in table(name) for key in row["source"].split("+")}
    cited = "\n".join(path.read_text(encoding="utf-8") for path in DATA.parent.rglob("*.py"))
    cited += "\n".join(path.read_text(encoding="utf-8") for path in DATA.parent.parent.glob("tests/published/*.csv"))
    for key, entry in sources().items():
        assert entry.basis in BASES, key
        assert entry.title, key
        assert key in used or key in cited, f"{key} is cited nowhere"


def test_a_citation_names_title_and_basis():
    assert str(source("b9411")).startswith("ASME B94.11")
    assert "from memory" in cite("b9411")
    assert "; " in cite("b9411+iso235")


@pytest.mark.parametrize(("ask", "bad"), [(table, "drills_leter"), (source, "b9412"), (table, "../units"), (table, "")])
def test_unknown_names_get_a_suggestion(ask, bad):
    with pytest.raises(NotInTable, match="Try"):
        ask(bad)
