"""Every bench that the library shows, by its kind, and what the tests of any of them do with one."""

import re

import pytest

from latheworks import widgets
from latheworks.widgets.controls import ChoiceControl
from latheworks.widgets.sizes import SizeControl

MAKERS = {name.removesuffix("_bench"): getattr(widgets, name) for name in widgets.__all__ if name.endswith("_bench")}
# Openings that show something else than the usual ones do.
OTHERS = {
    "budget": {"size": "M24x1.5-6H"},
    "fit": {"external": "M24x1.5-6g"},
    "pickup": {"thread": "M24x1.5-6g"},
    "wires": {"thread": "M24x1.5-6g"},
}
SYSTEMS = pytest.mark.parametrize("system", ["metric", "inch"])
OPENED = pytest.mark.parametrize(("kind", "opening"), [
    *(pytest.param(kind, {}, id=kind) for kind in MAKERS),
    *(pytest.param(kind, opening, id=f"{kind}, opened otherwise") for kind, opening in OTHERS.items()),
])  # fmt: skip
# What the end of a slider may be refused with, since it hangs on other controls; elsewhere nothing may be refused.
TOLD = r"([Tt]ry|Type) "
ENDS = {**dict.fromkeys(("fit", "groove", "holding", "infeed", "pickup", "reach", "thread", "wires"), TOLD),
        "hole": "no further|more than|has no drill"}  # fmt: skip


def sizes(bench):
    """The controls of a bench that have a slider."""
    return [item for item in bench.controls.values() if isinstance(item, SizeControl)]


def choices(bench):
    """Take every option of every choice, each from the opening settings; say which it is."""
    for item in bench.controls.values():
        if isinstance(item, ChoiceControl):
            for option in item.spec.options:
                bench.start_again()
                item.box.value = option
                assert not bench.error, (item.name, option, bench.error)
                yield item.name, option
    bench.start_again()


def to_both_ends(bench):
    """Move every slider to both ends, each from the settings that the bench has now, and see that it copes."""
    before = {name: item.value for name, item in bench.controls.items()}
    allowed = ENDS.get(bench.kind)
    for item in sizes(bench):
        bench._put_all(before, set(before))
        for end in (item.slider.max, item.slider.min):
            bench._put_all(before, set(before))
            item.slider.value = end
            told = allowed and re.search(allowed, bench.error)
            assert told or not bench.error, (item.name, end, bench.error)
            said = bench.reading_text + bench.alt
            assert not re.search(r"\bnan\b|\binf\b", said), (item.name, end, said)
    bench._put_all(before, set(before))


def is_refused(bench, name, typed, said):
    """Type what cannot be: a sentence says so, as plain text, the picture stays, and starting again mends it."""
    picture = bench._main.value
    bench.enter(name, typed)
    assert bench.error, (name, typed)
    assert re.search(said, bench.error), bench.error
    assert not re.search(r"\w_\w", bench.error), bench.error  # no name of a function: it speaks of the page
    assert not re.search("<(script|b)>", bench._error.value), bench._error.value
    assert bench.alt.startswith("Out of date."), bench.alt
    image = r'src="[^"]*"'
    assert re.findall(image, bench._main.value) == re.findall(image, picture), (name, typed)
    bench.start_again()
    assert not bench.error, bench.error
    assert bench._main.value == picture, (name, typed)


def demonstrate(bench, **kept):
    """Go through the demonstrations beside a kept setting, each drawn as it would be from nothing, and back again."""
    opening = {name: item.value for name, item in bench.controls.items()}
    picture = bench._main.value
    bench.set(**kept)
    bench.keep()
    for name in bench.demonstrations():
        bench.demo(name)
        assert not bench.error, (name, bench.error)
        assert "kept" in bench.alt.lower(), name
        fresh = bench.picture_class(bench.picture.look).show(bench.picture_data, bench._kept)
        assert fresh.png == bench.shown.png, name
    bench.start_again()
    assert {name: item.value for name, item in bench.controls.items()} == opening
    assert bench._main.value == picture
