"""Findings, sizes and the sheet in both unit systems: every kind of finding, number by number, and names left alone."""

import re

import pint
import pytest

from latheworks import LatheworksError
from latheworks.plan import barrel_plan, review, setup_sheet, shoe_plan
from latheworks.plan.findings import Finding, Where
from latheworks.plan.outcome import Flaw
from latheworks.plan.wording import amount, mm, say, written
from tests.test_review_findings import BAD
from tests.test_sheet import Reader

# pint's own registry, which knows inches and pounds from outside this project.
OUTSIDE = pint.UnitRegistry()
METRIC = {"mm/min": "mm/min", "mm/rev": "mm", "m/min": "m/min", "N m": "N*m", "mm": "mm", "µm": "um", "N": "N",
          "MPa": "MPa", "K": "delta_degC"}  # fmt: skip
INCH = {"in/min": "in/min", "in/rev": "in", "ft/min": "ft/min", "lbf in": "lbf*in", "µin": "uin", "in": "in",
        "lbf": "lbf", "ksi": "ksi", "°F": "delta_degF"}  # fmt: skip
NUMBER = r"-?\d+(?:\.\d+)?"


def sizes(text, units):
    """The numbers of a sentence that have one of these units, each with it; "2 to 3 mm" are two."""
    pattern = rf"({NUMBER})(?: (?:to|of) ({NUMBER}))? ({'|'.join(units)})(?![\w/])"
    return [(number, unit) for *numbers, unit in re.findall(pattern, text) for number in numbers if number]


def names_of(plan):
    """Names with sizes in them: tools, threads, features."""
    names = {tool.name for tool in plan.tools.tools} | {each.name for each in plan.part.features}
    names |= {op.tool for setup in plan.setups for op in setup.operations if op.tool}
    return names | {each.thread.designation for each in plan.part.features if each.thread}


def bare(text, plan):
    """A text less the names in it."""
    return re.sub("|".join(re.escape(name) for name in sorted(names_of(plan), key=len, reverse=True)), "", text)


def texts(finding):
    return [finding.what, finding.why, finding.by_how_much, finding.helps]


@pytest.mark.parametrize("code", BAD)
def test_every_kind_of_finding_says_the_same_in_both_systems(code):
    plan = BAD[code]()
    found = review(plan), review(plan, "inch")
    assert len(found[0].findings) == len(found[1].findings)
    for metric, inch in zip(found[0].findings, found[1].findings, strict=True):
        assert (metric.code, metric.level, metric.where) == (inch.code, inch.level, inch.where)
        for one, other in zip(texts(metric), texts(inch), strict=True):
            one, other = bare(one, plan), bare(other, plan)
            assert not sizes(one, INCH), one
            assert not sizes(other, METRIC), other
            left, right = sizes(one, METRIC), sizes(other, INCH)
            assert len(left) == len(right), (one, other)
            for (number, unit), (second, shown) in zip(left, right, strict=True):
                there = OUTSIDE.Quantity(float(number), METRIC[unit])
                here = OUTSIDE.Quantity(float(second), INCH[shown]).m_as(METRIC[unit])
                # Each is rounded to its last digit.
                room = 0.5 * 10.0 ** -len(number.partition(".")[2])
                room += OUTSIDE.Quantity(0.5 * 10.0 ** -len(second.partition(".")[2]), INCH[shown]).m_as(METRIC[unit])
                assert here == pytest.approx(there.magnitude, abs=1.001 * room), (one, other)


def test_the_findings_with_sizes_are_many():
    seen = set()
    for code, make in BAD.items():
        found = [each for each in review(make(), "inch").findings if each.code == code]
        seen |= {code for each in found if any(sizes(text, INCH) for text in texts(each))}
    assert len(seen) > 30


def test_a_finding_goes_from_one_system_to_the_other_and_back():
    for each in review(BAD["bar does not enter"]()).findings:
        assert each.in_system("inch").in_system("metric") == each
        assert str(each.in_system("metric")) == str(each)
    with pytest.raises(LatheworksError, match="system"):
        each.in_system("imperial")


def test_names_keep_the_sizes_in_them_and_their_braces():
    words = say("{} reaches {}, {} does not", "16 mm boring bar {0}", mm(127.0), "M16x1.5")
    assert written(words, "inch") == "16 mm boring bar {0} reaches 5.0000 in, M16x1.5 does not"
    assert written(words, "metric") == "16 mm boring bar {0} reaches 127 mm, M16x1.5 does not"
    plan = BAD["tool too short"]()
    assert any("3 mm drill does not reach" in each.what for each in review(plan, "inch").findings)


# Source: 1 in = 25.4 mm and 1 lbf = 4.448 222 N, NIST SP 811, appendix B, from memory; the outside registry agrees.
@pytest.mark.parametrize(("part", "metric", "inch"), [
    (mm(25.4, 1, 50.8, "of"), "25.4 of 50.8 mm", "1.000 of 2.000 in"),
    (mm(0.254, 3), "0.254 mm", "0.0100 in"),
    (mm(254.0, 0), "254 mm", "10.00 in"),
    (amount("travel", 508.0), "508 mm/min", "20.0 in/min"),
    (amount("small", 0.254), "254 µm", "0.0100 in"),
    (amount("force", 4448.222), "4448 N", "1000 lbf"),
    (amount("torque", 11298.5, 1), "11.3 N m", "100 lbf in"),
    (amount("stress", 68.94757), "69 MPa", "10.0 ksi"),
    (amount("roughness", 1.6, 1), "1.6 µm", "63 µin"),
    (amount("warming", 10.0), "10 K", "18 °F"),
])  # fmt: skip
def test_an_amount_is_written_as_a_shop_does(part, metric, inch):
    assert (part.written("metric"), part.written("inch")) == (metric, inch)


def test_what_reads_the_same_is_told_once():
    from latheworks.plan.findings import ranked

    flaws = [Flaw("stop", "over-cut", "cut away", None, "why", say("{} too deep", mm(size, 2)))
             for size in (0.5, 0.5000001, 0.61)]  # fmt: skip
    found = ranked([Finding(flaw, Where(1, 10)) for flaw in flaws])
    assert [each.by_how_much for each in found] == ["0.50 mm too deep", "0.61 mm too deep"]


def test_rows_and_table_of_a_review_are_in_its_system():
    found = review(barrel_plan(), "inch")
    for row in (*found.sizes, *found.operations):
        assert not sizes(bare(str(row), found.plan), METRIC), str(row)
    assert any(sizes(row.limits, INCH) for row in found.operations)
    assert sizes(str(found.row("body")), INCH)
    table, metric = found.columns(), review(barrel_plan()).columns()
    assert "aim [mm]" not in table
    assert [25.4 * size for size in table["aim [in]"]] == pytest.approx(metric["aim [mm]"])


@pytest.mark.parametrize("code", [*BAD, "barrel", "shoe"])
@pytest.mark.parametrize("system", ["metric", "inch"])
def test_a_sheet_is_in_its_system_and_the_other_only_in_brackets(code, system):
    plan = {"barrel": barrel_plan, "shoe": shoe_plan, **BAD}[code]()
    page = setup_sheet(plan, system=system)
    read = Reader(page)
    words = [*read.texts, *(value for _, name, value in read.attributes if name == "aria-label")]
    mine, other = (METRIC, INCH) if system == "metric" else (INCH, METRIC)
    assert any(sizes(text, mine) for text in words)
    for text in words:
        plain = re.sub(rf"\((?:(?:open|{NUMBER}(?: \w+)?) to )?(?:open|{NUMBER} \w+)\)", "", bare(text, plan))
        assert not sizes(plain, other), text


def test_speeds_and_feeds_of_an_inch_sheet_are_those_of_the_shop():
    page = setup_sheet(barrel_plan(), system="inch")
    assert re.search(r">\d+ ft/min<", page)
    assert re.search(r">0\.\d{4} in/rev<", page)
    assert "m/min" not in page
    assert re.search(r"pecks of 0\.\d{3} in", page)
