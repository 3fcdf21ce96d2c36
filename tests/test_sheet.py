"""The setup sheet: what it holds, what it never holds, and that nothing a person types becomes markup."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from latheworks import LatheworksError
from latheworks.plan import barrel_plan, review, setup_sheet, shoe_plan
from latheworks.plan.sheet import FIRST_CHECKS, SIGN_OFF, both, plan_hash
from latheworks.shop import cautions
from latheworks.units import Q_

PAYLOADS = [
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", '" onmouseover="alert(1)', "&lt;b&gt;",
    "javascript:alert(1)", "</textarea></td></table>", "]]>", "\u202egnp.exe", "$\\frac{1}{2}$", "`x`", "{{ 7*7 }}",
    "{% for x in y %}", "nul\x00here", "'--",
]  # fmt: skip


class Reader(HTMLParser):
    """All tags, attributes and texts of a page."""

    def __init__(self, page):
        super().__init__()
        self.tags, self.attributes, self.texts, self.cells, self.open = [], [], [], [], []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, *each) for each in attrs]
        if tag in ("td", "th"):
            self.cells.append("")

    def handle_data(self, data):
        self.texts.append(data)
        if self.cells:
            self.cells[-1] += data


def tags_of(plan):
    return Reader(setup_sheet(plan)).tags


@pytest.fixture(scope="module")
def page():
    return setup_sheet(barrel_plan())


def test_it_holds_no_script_no_address_and_no_handler(page):
    read = Reader(page)
    assert not {"script", "iframe", "object", "embed", "link", "img", "form", "input"} & set(read.tags)
    assert "http" not in page
    assert "javascript" not in page.lower()
    assert "url(" not in re.sub(r"url\(#\w+\)", "", page)
    assert [each for each in read.attributes if each[1].startswith("on")] == []
    assert [each for each in read.attributes if each[1] in ("href", "src", "action")] == []


def test_every_part_of_it_is_there(page):
    words = " ".join(" ".join(Reader(page).texts).split())
    found = review(barrel_plan())
    for part in ("corer barrel", "aluminum 6061-T6", "teaching lathe", "Quantity", *FIRST_CHECKS, *SIGN_OFF,
                 plan_hash(barrel_plan()), found.verdict, "1-12 UNF-2B", "radial depth after each pass"):  # fmt: skip
        assert part in words
    assert page.count("<svg") == len(barrel_plan().setups)
    for row in found.operations:
        assert row.title_text in words
        assert row.tool is None or row.tool in words
    for row in found.sizes:
        assert f"{row.name}, {row.measure}" in words or (row.limits.min is None and row.limits.max is None)
    for each in found.findings:
        if each.level != "note" and each.where.setup is not None:
            assert each.what in words
    for line in (*cautions("holding"), *cautions("threading"), *cautions("drilling")):
        assert str(line) in words


def test_operations_are_numbered_in_tens(page):
    cells = Reader(page).cells
    assert [str(10 * n) for n in range(1, 6)] == [cell for cell in cells if cell in {"10", "20", "30", "40", "50"}][:5]


def test_lines_to_sign_and_readings_are_left_blank(page):
    end = page[page.index('class="sign"') :]
    assert re.findall(r"<td>(.*?)</td>", end) == [""] * (2 * len(SIGN_OFF))
    measure = page[page.index('aria-label="Measuring"') : page.index('aria-label="Cautions"')]
    rows = re.findall(r"<tr>(.*?)</tr>", measure, re.S)[1:]
    assert rows
    assert all(row.rstrip().endswith("<td></td>") for row in rows)


@pytest.mark.parametrize("plan", [barrel_plan(), shoe_plan()], ids=lambda plan: plan.name)
def test_software_never_says_safe_or_approved(plan):
    words = setup_sheet(plan).lower()
    assert not re.search(r"\b(safe|approved|certified|guaranteed|ok to)\b", words)
    assert str(cautions("turning")[-1]).lower().replace("'", "&#39;") in words


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_sizes_stand_in_both_systems(system):
    page = setup_sheet(barrel_plan(), system=system)
    assert ("35.000 mm (1.3780 in)" if system == "metric" else "1.3780 in (35.000 mm)") in page
    assert both(Q_(1.0, "inch"), "inch") == "1.0000 in (25.400 mm)"


@pytest.mark.parametrize("payload", PAYLOADS)
def test_what_a_person_types_stays_text(payload):
    plain, setup = barrel_plan(), barrel_plan().setups[0]
    first = replace(setup, name=payload[:40], zero=payload, note=payload)
    feature = plain.part.features[1]
    part = replace(plain.part, name=payload, features=(plain.part.features[0], replace(feature, name=payload[:40]),
                                                       *plain.part.features[2:]))  # fmt: skip
    tool = replace(setup.operations[0], tool=payload, features=(payload[:40],), note=payload)
    plan = replace(plain, name=payload, note=payload, part=part,
                   setups=(replace(first, operations=(tool, *setup.operations[1:])), *plain.setups[1:]))  # fmt: skip
    page = setup_sheet(plan)
    read = Reader(page)
    assert set(read.tags) == set(tags_of(barrel_plan()))
    assert [each for each in read.attributes if each[1].startswith("on")] == []
    # A parser turns the nought sign into its replacement; all else comes back as it was typed.
    assert payload.replace("\x00", "") in "".join(read.texts).replace("\x00", "").replace("\ufffd", "")


def test_the_hash_is_that_of_the_plan_alone():
    plan = barrel_plan()
    assert plan_hash(plan) == plan_hash(barrel_plan())
    assert re.fullmatch(r"([0-9a-f]{4}-){3}[0-9a-f]{4}", plan_hash(plan))
    assert plan_hash(replace(plan, note="x")) != plan_hash(plan)
    first = replace(plan.setups[0], stickout=Q_(71, "mm"))
    assert plan_hash(replace(plan, setups=(first, *plan.setups[1:]))) != plan_hash(plan)


def test_it_is_written_to_a_file(tmp_path):
    path = tmp_path / "sheet.html"
    text = setup_sheet(shoe_plan(), path)
    assert path.read_text(encoding="utf-8") == text
    with pytest.raises(LatheworksError, match=r"ends in .html"):
        setup_sheet(shoe_plan(), tmp_path / "sheet.pdf")
    with pytest.raises(LatheworksError, match="cannot be written"):
        setup_sheet(shoe_plan(), tmp_path / "none" / "sheet.html")


def test_a_plan_of_nothing_still_makes_a_sheet():
    plan = barrel_plan()
    bare = replace(plan, setups=(replace(plan.setups[0], operations=()),))
    assert "stop" in setup_sheet(bare)


def test_stock_of_an_inch_size_is_written_as_it_is_sold():
    plan = barrel_plan()
    bought = replace(plan, part=replace(plan.part, stock_diameter=Q_(1.5, "in")))
    assert "1 1/2 in (38.100 mm) x 10.0000 in" in setup_sheet(bought, system="inch")
    assert "38.100 mm (1 1/2 in) x 254.000 mm" in setup_sheet(bought)
