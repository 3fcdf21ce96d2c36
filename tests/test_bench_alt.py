"""What a bench says of its picture: the words change with it, and their numbers are the bench's own."""

import re

import pytest

from latheworks.widgets import display_system
from latheworks.widgets.controls import ChoiceControl
from latheworks.widgets.sizes import SizeControl
from tests.benches import MAKERS

pytestmark = pytest.mark.usefixtures("benches")

NUMBER = re.compile(r"\d[\d,]*\.\d+")


def moves(bench):
    """Every control to a few of its settings, each from the opening ones."""
    for item in bench.controls.values():
        bench.start_again()
        if isinstance(item, ChoiceControl):
            for option in item.spec.options:
                item.box.value = option
                yield f"{item.name} {option}"
        elif isinstance(item, SizeControl):
            low, high, step = item.slider.min, item.slider.max, item.slider.step
            for share in (0.3, 0.5, 0.7):
                item.slider.value = low + round(share * (high - low) / step) * step
                yield f"{item.name} {share}"


@pytest.mark.parametrize("kind", MAKERS)
def test_the_words_change_with_the_picture(kind):
    bench = MAKERS[kind]()
    said = {}
    for what in moves(bench):
        if not bench.error:
            # Another picture never has all the words, its own and the reading's, of one before.
            words = bench.alt, bench.reading_text
            assert said.setdefault(words, bench.shown.png) == bench.shown.png, what
    assert len({alt for alt, _ in said}) >= 3


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("kind", MAKERS)
def test_the_numbers_in_the_words_are_those_of_the_bench(kind, system):
    display_system.system = system
    bench = MAKERS[kind]()
    for name in bench.demonstrations():
        bench.demo(name)
        found = set(NUMBER.findall(bench.alt))
        axes = bench.picture.canvas.figure.axes
        drawn = [text.get_text() for each in axes for text in each.texts if text.get_visible()]
        boxes = [item.box.value for item in bench.controls.values()]
        cells = [cell for row in bench.table.rows for cell in row]
        others = set(NUMBER.findall("\n".join([bench.reading_text, *drawn, *boxes, *cells])))
        assert len(found & others) >= min(2, (len(found) + 1) // 2) > 0, (name, found, others)


@pytest.mark.parametrize("kind", MAKERS)
def test_the_words_tell_of_what_is_kept(kind):
    bench = MAKERS[kind]()
    plain = bench.alt
    bench.keep()
    assert bench.alt.startswith(plain)
    assert "kept" in bench.alt[len(plain) :].lower()
