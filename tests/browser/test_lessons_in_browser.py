"""Every lesson in a real browser: run all, move a slider by keyboard, type a wrong size, restart and run again."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect
from playwright.sync_api import TimeoutError as StillTheSame

from tests.browser.eyes import grave_faults
from tests.browser.lab import PATIENCE, Notebook

LESSONS = Path(__file__).parents[2] / "lessons"
NAMES = sorted(path.name for path in LESSONS.glob("*.ipynb"))
A_WHILE = 15_000
CHANGED = """([bench, part, before]) => {
    const found = bench.querySelector(part);
    return found && (found.getAttribute('src') || found.innerText) !== before;
}"""


def wait_for_change(bench: Locator, part: str, before: str, patience: float = PATIENCE) -> None:
    bench.page.wait_for_function(CHANGED, arg=[bench.element_handle(), part, before], timeout=patience)


def move_a_slider(bench: Locator) -> None:
    """One arrow key on a slider changes the picture and the reading.

    A slider may stand where a step of it changes nothing, such as a tool's depth above what the power bears: then the
    next one has to.
    """
    picture = bench.locator(".lw-picture img").get_attribute("src")
    reading = bench.locator(".lw-reading").inner_text()
    sliders = bench.locator(".lw-control input[type=range]")
    last = sliders.count() - 1
    for place in range(last + 1):
        slider = sliders.nth(place)
        at_end = slider.evaluate("slider => slider.value === slider.max")
        slider.press("ArrowLeft" if at_end else "ArrowRight")
        try:
            wait_for_change(bench, ".lw-picture img", picture, PATIENCE if place == last else A_WHILE)
            wait_for_change(bench, ".lw-reading", reading, PATIENCE if place == last else A_WHILE)
            break
        except StillTheSame:
            if place == last:
                raise
    assert bench.locator(".lw-picture img").get_attribute("alt")


def type_a_wrong_size(bench: Locator) -> None:
    """A decimal comma is refused in a sentence, the last picture stays and is marked; the right size mends it."""
    box = bench.locator(".lw-control:has(input[type=range]) input[type=text]").first
    right, picture = box.input_value(), bench.locator(".lw-picture img").get_attribute("src")
    box.fill("12,7 mm")
    box.press("Enter")
    sentence = bench.locator(".lw-error")
    expect(sentence).to_contain_text("comma")
    assert bench.locator(".lw-picture img").get_attribute("src") == picture
    expect(bench.locator(".lw-picture img")).to_have_attribute("alt", re.compile("^Out of date"))
    box.fill(right)
    box.press("Enter")
    expect(sentence).to_be_empty()


@pytest.mark.parametrize("name", NAMES)
def test_a_lesson_lives(lab, page, name):
    notebook = Notebook(page, lab, name)
    notebook.run_all()
    assert notebook.errors() == []
    benches = notebook.panel.locator(".lw-bench")
    assert benches.count() > 0
    for index in range(benches.count()):
        move_a_slider(benches.nth(index))
        type_a_wrong_size(benches.nth(index))
    assert grave_faults(page) == []
    notebook.run_all(restart=True)
    assert notebook.errors() == []
    assert notebook.panel.locator(".lw-bench").count() == benches.count()
