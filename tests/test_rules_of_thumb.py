"""Rules of thumb stand beside the computed error, and never in its place."""

import pytest

from latheworks.deflection import boring_bar_error, rules_of_thumb
from latheworks.errors import NotInTable
from latheworks.tables import source, table
from latheworks.units import Q_


def seen(use, length, diameter, computed=None):
    return rules_of_thumb(use, Q_(length, "mm"), Q_(diameter, "mm"), computed)


def test_trap_44_rules_are_shown_with_their_source_and_never_as_a_limit_of_physics():
    """3, 4 and 10 diameters mean different things; each says what, and how we know."""
    text = str(seen("turning", 160, 40, Q_(0.012, "mm")))
    assert "0.0120 mm" in text
    assert "common practice" in text
    assert "from memory" in text
    assert "Rules of thumb know neither material, force nor tolerance" in text
    bases = {source(row["source"]).basis for row in table("rules_of_thumb")}
    assert bases == {"common practice", "from memory", "read"}


@pytest.mark.parametrize(("length", "verdicts"), [
    (100, ["within", "within", "within"]), (140, ["beyond", "at the edge", "within"]),
    (500, ["beyond", "beyond", "beyond"]),
])  # fmt: skip
def test_each_rule_has_a_verdict_of_its_own(length, verdicts):
    frame = seen("turning", length, 40).to_frame()
    assert list(frame["verdict"]) == verdicts
    assert list(frame["limit [L/D]"]) == ["2.5", "3 to 4", "10"]


def test_stiffer_bars_are_let_reach_further():
    rules = {}
    for rule in seen("boring", 64, 16).rules:
        rules.setdefault(rule.made, rule)
    assert rules["steel bar"].most < rules["heavy metal bar"].most < rules["carbide bar"].most
    assert rules["carbide bar"].most < rules["damped bar"].most
    assert (rules["damped bar"].least, rules["damped bar"].most) == (7, 14)


def test_within_the_rule_the_error_may_still_be_too_large():
    """Four diameters of steel and a heavy cut: the rule is content, the bore is a tenth of a millimeter small."""
    bore = boring_bar_error(Q_(64, "mm"), Q_(16, "mm"), force=Q_(400, "N"))
    shown = seen("boring", 64, 16, bore.diameter_error)
    assert shown.rules[0].verdict(shown.ratio) == "within"
    assert bore.diameter_error.m_as("mm") < -0.1
    assert "-0.10" in str(shown)


def test_another_use_is_refused():
    with pytest.raises(NotInTable, match="boring"):
        seen("milling", 64, 16)
    assert "none given" in str(seen("boring", 64, 16))
