"""Benches: every control to both ends, typed sizes, reset, keep, demonstrations, the shared switch, and bad input."""

import re

import pytest

from latheworks.errors import LatheworksError
from latheworks.units import Q_
from latheworks.widgets import bench as bench_module
from latheworks.widgets import display_system, holding_bench, infeed_bench, thread_bench
from latheworks.widgets.controls import Choice, ChoiceControl, WordsControl
from latheworks.widgets.sizes import SizeControl
from tests.benches import sizes

pytestmark = pytest.mark.usefixtures("benches")

MAKERS = {"holding": holding_bench, "infeed": infeed_bench, "thread": thread_bench}


@pytest.fixture(params=sorted(MAKERS))
def bench(request):
    return MAKERS[request.param]()


def page(bench):
    """All HTML that the bench has put on the page."""
    return "".join(part.value for part in (bench._error, bench._main, bench._table))


def test_controls_are_few_and_named(bench):
    assert 2 <= len(bench.controls) <= 6
    for item in bench.controls.values():
        assert item.box.description.strip()
        if isinstance(item, SizeControl):
            unit = "" if item.spec.kind == "count" else "["
            assert unit in item.box.description
            assert item.slider.label == f"{item.box.description}, by steps"
            assert item.slider.unit == (item.box.description.split("[")[-1].rstrip("]") if unit else "")
            assert not item.box.continuous_update


def test_a_wrong_size_is_refused_with_a_sentence(bench):
    item = sizes(bench)[-1]
    before, picture, value = bench.result, bench._main.value, item.value
    bench.enter(item.name, "25 mil")
    assert 'role="alert"' in bench._error.value
    assert "mil" in bench.error or "count" in bench.error
    assert "out of date" in bench._error.value
    assert "lw-stale" in bench.box._dom_classes
    assert bench.result is before
    assert item.value == value
    assert bench.shown.png
    assert bench.alt.startswith("Out of date.")
    # The same picture still stands there; only its words say that it is out of date.
    assert bench._main.value.split("src=")[1].split(">")[0] == picture.split("src=")[1].split(">")[0]
    # An old verdict must not pass for one on what was typed.
    assert "Out of date" in bench._main.value
    assert not re.search("\u2713|\u2717|lw-good|lw-bad", bench._main.value)
    assert item.box.value == "25 mil"
    # Another control may move, but while one entry is refused nothing pretends to be current.
    other = next(i for i in bench.controls.values() if i is not item)
    other.box.value = other.spec.options[1] if isinstance(other.spec, Choice) else other.box.value + " "
    assert bench.error
    bench.start_again()
    assert not bench.error
    assert not bench._error.value
    assert "lw-stale" not in bench.box._dom_classes
    assert bench._main.value == picture


def test_typed_text_stays_as_typed():
    bench = holding_bench()
    bench.enter("length", "9 1/2 in")
    bench.enter("outside", '1.25"')
    assert bench.value("length") == Q_(9.5, "inch")
    display_system.system = "inch"
    display_system.system = "metric"
    assert bench.controls["length"].box.value == "9 1/2 in"
    assert bench.controls["outside"].box.value == '1.25"'
    assert "241.300 mm" in bench.alt
    bench.enter("length", "200")
    assert bench.value("length") == Q_(200.0, "mm")


def test_beyond_the_slider_but_possible_is_taken():
    bench = holding_bench()
    bench.enter("length", "600 mm")
    assert not bench.error
    assert bench.value("length") == Q_(600.0, "mm")
    assert bench.controls["length"].slider.value == bench.controls["length"].slider.max
    bench.enter("length", "3000 mm")
    assert "too large" in bench.error
    assert bench.value("length") == Q_(600.0, "mm")
    bench.enter("length", "0.5 mm")
    assert "too small" in bench.error
    assert "5 mm" in bench.error


def test_what_cannot_be_is_said_in_plain_words():
    bench = holding_bench()
    bench.enter("bore", "32 mm")
    assert "leaves no wall" in bench.error
    assert "16 mm" in bench.error
    bench.start_again()
    bench.enter("at", "300 mm")
    assert "past the end" in bench.error
    infeeds = infeed_bench()
    infeeds.enter("shown", "99")
    assert "no pass 99" in infeeds.error
    infeeds.enter("shown", "2.5")
    assert "whole number" in infeeds.error
    infeeds.start_again()
    infeeds.enter("spindle", "900 rpm")
    assert "spindle" in infeeds.error.lower()
    threads = thread_bench()
    threads.enter("designation", "G 1/2")
    assert "not drawn on this bench" in threads.error
    threads.enter("designation", "M24x1.5-6Z")
    assert threads.error
    assert "lw-stale" in threads.box._dom_classes


def test_one_switch_for_all_benches():
    benches = [make() for make in MAKERS.values()]
    values = [{name: item.value for name, item in bench.controls.items()} for bench in benches]
    units = next(p for p in benches[1]._parts if "lw-system" in getattr(p, "_dom_classes", ()))
    units.value = "inch"
    for bench, before in zip(benches, values, strict=True):
        assert re.search(r"\d in\b", bench.alt)
        assert not re.search(r"\d mm\b", bench.alt.replace("drill 22.5 mm", ""))
        assert re.search(r"\d in\b", bench.reading_text)
        assert "[in" in "".join(bench.table.headings)
        # A switch of units is a matter of display: no value moves.
        assert {name: item.value for name, item in bench.controls.items()} == before
    units.value = "metric"
    assert all(re.search(r"\d mm\b", bench.alt) for bench in benches)


def test_projector_makes_everything_larger(bench):
    width = bench.shown.width
    display_system.projector = True
    assert "lw-projector" in bench.box._dom_classes
    assert bench.shown.width > width
    display_system.projector = False
    assert "lw-projector" not in bench.box._dom_classes
    assert bench.shown.width == width


@pytest.mark.parametrize(
    "payload", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "$\\frac{1}{0}$", "\\(x\\)"]
)
def test_payloads_are_only_words(bench, payload):
    for item in bench.controls.values():
        if not isinstance(item, ChoiceControl):
            bench.enter(item.name, payload)
            assert bench.error
            html = page(bench)
            assert "<script" not in html
            assert "onerror=alert(1)>" not in html
            # The page sets formulas between such marks: none may stand in one run of text.
            assert not re.search(r"\$[^<]*\$|\\\(", html)
    bench.start_again()


def test_set_and_value(bench):
    item = sizes(bench)[-1]
    with pytest.raises(LatheworksError, match="no control"):
        bench.set(nothing=1)
    with pytest.raises(LatheworksError):
        bench.set(**{item.name: "x"})
    with pytest.raises(LatheworksError):
        bench.set(**{item.name: True})
    with pytest.raises(LatheworksError, match="demo"):
        bench.demo("nothing of the kind")
    assert not bench.error


def test_set_by_name():
    bench = holding_bench()
    bench.set(length=Q_(4, "in"), at="2 in", holding="between centers")
    assert bench.value("at") == Q_(2.0, "inch")
    assert "between centers" in bench.reading_text
    with pytest.raises(LatheworksError, match="past the end"):
        bench.set(at=Q_(5, "in"))
    with pytest.raises(LatheworksError, match="not a length"):
        bench.set(length=Q_(5, "N"))


def test_a_move_of_the_slider_is_not_sent_back_to_it():
    slider = holding_bench().controls["length"].slider
    assert slider.traits()["value"].metadata["echo_update"] is False


def test_alt_text_and_table_are_on_the_page(bench):
    alt = re.search(r'<div class="lw-picture"><img alt="([^"]*)"', bench._main.value)[1]
    assert '<div class="lw-reading"><p class="lw-verdict' in bench._main.value
    assert alt == bench.alt
    assert len(alt) > 80
    assert all(f">{row[0]}<" in bench._table.value for row in bench.table.rows)


def test_a_fault_of_our_own_is_shown_too(bench, monkeypatch):
    def broken(*_):
        raise ZeroDivisionError("x")

    monkeypatch.setattr(type(bench), "compute", broken)
    with pytest.raises(ZeroDivisionError):
        bench.start_again()
    assert "fault of its own" in bench.error
    monkeypatch.setattr(bench_module, "STRICT", False)
    bench.start_again()
    assert "fault of its own" in bench.error


def test_words_control_refuses_what_is_too_long():
    bench = thread_bench()
    assert isinstance(bench.controls["designation"], WordsControl)
    bench.enter("designation", "M" * 500)
    assert "characters" in bench.error
    bench.enter("designation", "")
    assert bench.error
    bench.enter("designation", "M20")
    assert not bench.error
