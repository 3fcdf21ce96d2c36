"""What holds for every bench: sliders and choices to their ends, demonstrations beside a kept setting, its one line."""

import pytest

from latheworks.units import Q_
from latheworks.widgets import display_system
from tests.benches import MAKERS, OPENED, OTHERS, SYSTEMS, choices, demonstrate, sizes, to_both_ends

pytestmark = pytest.mark.usefixtures("benches")

EVERY = pytest.mark.parametrize("kind", MAKERS)
# Where a slider goes both ways from: a hole that every material and every drill of the rack may have.
FROM = {**OTHERS, "hole": {"depth": Q_(50, "mm"), "kind": "blind"}}
# The choice on which the range of a slider hangs, or what the bench can bear: sliders go to their ends in each option.
HANGS_ON = {"cost": "edge", "facing": "mode", "order": "order", "reach": "work", "size": "holding"}
# Benches on which the end of a slider may be refused, and yet two thirds of its way have to give a picture.
WIDE = ("fit", "holding", "infeed", "pickup", "thread", "wires")


@SYSTEMS
@EVERY
def test_every_control_to_both_ends(kind, system):
    display_system.system = system
    bench = MAKERS[kind](**FROM.get(kind, {}))
    to_both_ends(bench)
    for name, _ in choices(bench):
        if name == HANGS_ON.get(kind):
            to_both_ends(bench)


@SYSTEMS
@pytest.mark.parametrize("kind", WIDE)
def test_most_of_every_slider_works(kind, system):
    display_system.system = system
    bench = MAKERS[kind](**FROM.get(kind, {}))
    for item in sizes(bench):
        bench.start_again()
        low, high, step = item.slider.min, item.slider.max, item.slider.step
        worked = 0
        for k in range(21):
            item.slider.value = low + round(k * (high - low) / 20 / step) * step
            worked += not bench.error
        assert worked >= 14, item.name


@SYSTEMS
@EVERY
def test_demonstrations_beside_a_kept_setting_and_start_again(kind, system):
    display_system.system = system
    demonstrate(MAKERS[kind]())


@EVERY
def test_each_demonstration_has_its_button(kind):
    bench = MAKERS[kind]()
    picture = bench._main.value
    buttons = [part for part in bench._parts if "lw-demo" in getattr(part, "_dom_classes", ())]
    assert [button.description for button in buttons] == list(bench.demonstrations())
    buttons[-1].click()
    assert bench._main.value != picture


@OPENED
def test_text_form_is_one_stable_line(kind, opening):
    bench = MAKERS[kind](**opening)
    line = repr(bench)
    assert "\n" not in line
    assert " at 0x" not in line
    bundle = bench._repr_mimebundle_()
    assert bundle["text/plain"] == line == repr(MAKERS[kind](**opening))
    assert "application/vnd.jupyter.widget-view+json" in bundle
