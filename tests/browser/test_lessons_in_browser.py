"""Every lesson in a real browser: run all, move a slider by keyboard, type a wrong size, restart and run again."""

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect, sync_playwright

from tests.browser.lab import FLAGS, PATIENCE, Lab, Notebook
from tests.conftest import NO_BROWSER, browser_is_required, chromium

LESSONS = Path(__file__).parents[2] / "lessons"
NAMES = sorted(path.name for path in LESSONS.glob("*.ipynb"))
CHANGED = """([bench, part, before]) => {
    const found = bench.querySelector(part);
    return found && (found.getAttribute('src') || found.innerText) !== before;
}"""


@pytest.fixture(scope="module")
def browser():
    path = chromium()
    if path is None:
        if browser_is_required():
            pytest.fail(NO_BROWSER)
        pytest.skip(NO_BROWSER)
    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


@pytest.fixture(scope="module")
def lab(browser, tmp_path_factory):
    home = tmp_path_factory.mktemp("lab")
    folder = shutil.copytree(LESSONS, home / "lessons", ignore=shutil.ignore_patterns("answers", ".ipynb_checkpoints"))
    running = Lab(folder / NAMES[0], home)
    yield running
    running.close()


@pytest.fixture
def page(browser):
    page = browser.new_page(viewport={"width": 1280, "height": 900})
    yield page
    page.close()


def wait_for_change(bench: Locator, part: str, before: str) -> None:
    bench.page.wait_for_function(CHANGED, arg=[bench.element_handle(), part, before], timeout=PATIENCE)


def move_a_slider(bench: Locator) -> None:
    """One arrow key on the first slider changes the picture and the reading."""
    handle = bench.locator(".lw-control .noUi-handle").first
    picture = bench.locator(".lw-picture img").get_attribute("src")
    reading = bench.locator(".lw-reading").inner_text()
    at_end = float(handle.get_attribute("aria-valuenow")) >= float(handle.get_attribute("aria-valuemax"))
    handle.focus()
    handle.press("ArrowLeft" if at_end else "ArrowRight")
    wait_for_change(bench, ".lw-picture img", picture)
    wait_for_change(bench, ".lw-reading", reading)
    assert bench.locator(".lw-picture img").get_attribute("alt")


def type_a_wrong_size(bench: Locator) -> None:
    """A decimal comma is refused in a sentence, the last picture stays and is marked; the right size mends it."""
    box = bench.locator(".lw-control:has(.noUi-handle) input[type=text]").first
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
    notebook.run_all(restart=True)
    assert notebook.errors() == []
    assert notebook.panel.locator(".lw-bench").count() == benches.count()
