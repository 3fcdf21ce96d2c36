"""Inch and metric on every bench: no number without its unit, said, drawn or in a table; drills by fractions."""

import re

import pytest

from latheworks.pictures.style import Look
from latheworks.reading import read_size
from latheworks.units import Q_
from latheworks.widgets import display_system
from latheworks.widgets.sizes import SizeControl
from tests.benches import MAKERS, OPENED

pytestmark = pytest.mark.usefixtures("benches")

LENGTHS = {
    "metric": "liter|mm/rev|mm/min|m/min|mm²|mm³|cm³|mm|µm|N m|kN|N|MPa|kW",
    "inch": "in/rev|in/min|ft/min|in²|in³|in|thou|lbf in|lbf ft|lbf|ksi|hp",
}
# Money is in the currency of the rates, whichever that is.
NEUTRAL = r"money|rpm|rev/min|rev|min|s|h|°|%|percent|deg|degrees"
SIGN = "[-+\u00b1\u2212]?"
NUMBER = re.compile(rf"(?<![\w./#]){SIGN}\s?\d[\d,]*(?:\.\d+)?(?:[ -]\d+/\d+|/\d+)?")
# What has digits in it but is a name, as a drawing, a box or a bar of stock bears it.
NAMES = re.compile("|".join((
    r"M\d[\d.]*(x\d[\d.]*)?(-\w+)?", r"(\d+ )?(\d+/)?\d+-\d+ (UN\w*|ACME|NPT)(-\w+)*", r"#\d+(-\d+)?",
    r"Tr ?\d+x[\w()]+(-\w+)?", r"\bG ?\d(/\d)?", "6061-T6", r"steel \d{4}", r"UN \d\.\d+", r"3/4 H\b", r"\bd\d\b",
    r"\b([Oo]perations?|[Ss]etup) \d+(\.\d+)?", r"(?<=drill )\d[\d.]* mm", r"(?<=drill )[\d /]+ in\b",
    r"\d[\d./]* mm (?=(long )?(drill|reamer|end mill))",
    r"^\d\.\d0 (?=\w+ \w)",
)))  # fmt: skip
# What is counted has the thing counted for its unit.
COUNTS = re.compile(
    r"(?i)\d[\d,]*(\.\d+)? (of \d[\d,]*(?!\.?\d)|(cutting |spring )?passes|times|places?|pieces?|(drawn )?parts|wires?"
    r"|layers|pecks?|starts?|standard deviations|grooves?|ends?|plunges?|rough|semi-finish\w*|finish\w*)\b"
    rf"|\b(spring )?pass(es)? \d+( of \d+)?|(?<=\bend )\d of \d|(?<=peck )\d+|(?<=setting )\d+"
    rf"|(?<![\w.]){SIGN}0(?= to {SIGN}[\d.])"
)
# Facts that are a bare number of something that their own words name.
BARE = re.compile("in pass|(spring )?passes|plunges|pecks( each)?|best of the rack|wins|.* over .*")
# Columns of names with a point in them: the numbers of operations.
NAMED = ("made in", "operation")
# Benches whose table has no length in it.
NO_LENGTHS = ("cost",)


def said(bench):
    """Everything that the bench says outside a table, and where."""
    yield "alt", bench.alt
    yield "verdict", bench.reading.verdict
    yield from (("note", note) for note in bench.reading.notes)
    yield from ((name, value) for name, value in bench.reading.facts)
    for axes in bench.picture.canvas.figure.axes:
        # The numbers along an axis have their unit in its title.
        for text in (*axes.texts, axes.xaxis.label, axes.yaxis.label):
            if text.get_visible():
                # A whole number alone, or at the head of a line, is the mark of a pass, a place or an operation.
                yield "picture", re.sub(r"(?m)^\d{1,2}($| (?= ?[a-z]))", "", text.get_text())
    for item in bench.controls.values():
        if isinstance(item, SizeControl) and item.spec.kind != "count":
            yield item.name, item.box.value


def bare_numbers(text, system):
    """The numbers in a text that stand there without a unit, or with one of the other system."""
    text = COUNTS.sub("some", NAMES.sub("name", " ".join(text.split())))
    unit = re.compile(rf"\s?({LENGTHS[system]}|{NEUTRAL})(?!\w)|(?= to {SIGN}\s?[\d.]+\s?({LENGTHS[system]}|{NEUTRAL}))"
                      rf"|(?= and {SIGN}\s?[\d.]+\s?({LENGTHS[system]}|{NEUTRAL}))")  # fmt: skip
    return [text[max(0, found.start() - 30) : found.end() + 20] for found in NUMBER.finditer(text)
            if not unit.match(text, found.end())]  # fmt: skip


@pytest.mark.parametrize("look", [Look("metric"), Look("inch"), Look("metric", projector=True)], ids=str)
@OPENED
def test_no_number_without_its_unit(kind, opening, look):
    display_system.system, display_system.projector = look.system, look.projector
    system, other = look.system, "inch" if look.system == "metric" else "metric"
    bench = MAKERS[kind](**opening)
    for name in ("", *bench.demonstrations()):
        if name:
            bench.demo(name)
        assert len(bench.alt) > 80
        assert re.search(rf"\d ({LENGTHS[system]}|{NEUTRAL})(?!\w)", bench.alt)
        for where, text in said(bench):
            assert not re.search(rf"\[({LENGTHS[other]})\]", text), (name, where)
            if not BARE.fullmatch(where):
                assert bare_numbers(text, system) == [], (name, where)
        for heading, column in zip(bench.table.headings, zip(*bench.table.rows, strict=True), strict=True):
            # A column of numbers has its unit in the heading, or is a count that the heading names.
            numbers = [cell for cell in column if re.search(r"\d\.\d", NAMES.sub("name", cell))]
            bare = [cell for cell in numbers if bare_numbers(cell, system)]
            assert "[" in heading or heading in NAMED or not bare, (heading, bare[:2])
            assert not re.search(rf"\[({LENGTHS[other]})\]", heading)
        assert f"[{look.length_unit}]" in "".join(bench.table.headings) or kind in NO_LENGTHS


def test_a_bare_number_is_seen():
    assert bare_numbers("the hole is 23.416 wide", "metric")
    assert bare_numbers("the hole is 23.416 mm wide", "inch")
    assert bare_numbers("left 0.0012 large, 0 to 0.002 in allowed", "inch")
    assert not bare_numbers("pass 3 of 10 takes 0.5 mm, 100 times larger, at 29.5\u00b0", "metric")


def test_what_is_sold_by_fractions_is_written_so():
    """Fractional drills and bar by 64ths of an inch; whoever types another size sees it in ten-thousandths."""
    display_system.system = "inch"
    bench = MAKERS["thread"]()
    assert dict(bench.reading.facts)["made with"] == "drill 59/64 in"
    assert bench.table.rows
    bench = MAKERS["holding"]()
    control = bench.controls["outside"]
    for number, text in ((1.25, "1 1/4 in"), (1.0, "1 in"), (0.921875, "59/64 in"), (1.2598, "1.2598 in")):
        bench.set(outside=Q_(number, "inch"))
        assert control.box.value == text
        assert read_size(text, "in") == Q_(number, "inch")
    control.slider.value = 1.375
    assert control.box.value == "1 3/8 in"
    display_system.system = "metric"
    assert control.box.value == "34.925 mm"
