"""Answers in a real browser: the page holds what cannot be saved, and hands it over; a reload brings back what was."""

import re
from pathlib import Path

import nbformat
import pytest
from playwright.sync_api import expect

from latheworks.course import answer_file, variant
from tests.browser.lab import Lab, Notebook

LESSON = "page.ipynb"
FIRST, SECOND = "00.inch_or_metric", "00.own_speed"


@pytest.fixture
def home(tmp_path):
    """A folder with a notebook of two exercises."""
    cells = ["from latheworks.widgets import exercise", f'exercise("{FIRST}")', f'exercise("{SECOND}")']
    kernel = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}}
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(source) for source in cells], metadata=kernel)
    nbformat.write(notebook, tmp_path / LESSON)
    return tmp_path


@pytest.fixture
def lab(home):
    running = Lab(home / LESSON, home)
    yield running
    running.close()


def test_answers_that_cannot_be_saved_are_downloaded_from_the_page_and_saved_later(home, lab, page):
    place = home / "latheworks_answers"
    place.write_text("a file where the folder for answers should be")
    notebook = Notebook(page, lab, LESSON)
    notebook.run_all()
    panels = notebook.panel.locator(".lw-exercise")
    expect(panels.first).to_contain_text(f"Numbers {variant(FIRST, 'me').code}, made for everybody.")
    panels.first.locator("summary").first.press("Enter")
    expect(panels.first).to_contain_text("python -m latheworks open --student ana-7")
    for panel, text in ((panels.first, "<b>1</b> mm"), (panels.last, "300 rpm")):
        box = panel.locator("input[type=text]").first
        box.fill(text)
        box.press("Enter")
        expect(panel.locator(".lw-download")).to_be_visible()
        expect(panel).to_contain_text("cannot be written to")
    with page.expect_download() as caught:
        panels.last.locator(".lw-download").press("Enter")
    assert caught.value.suggested_filename == "me.json"
    answers = answer_file.parse(Path(caught.value.path()).read_bytes(), "me")
    assert answers[FIRST]["answer"] == "<b>1</b> mm"
    assert answers[SECOND]["answer"] == {"spindle": "300 rpm"}
    assert LESSON in page.url
    # Once the folder is there, the next check saves both.
    place.unlink()
    panels.last.locator("button").first.click()
    expect(panels.last.locator(".lw-download")).to_have_count(0)
    assert answer_file.read(place / "me.json", "me").keys() == answers.keys()
    assert notebook.errors() == []


def test_a_reload_and_a_killed_kernel_bring_the_answers_back(home, lab, page):
    notebook = Notebook(page, lab, LESSON)
    notebook.run_all()
    box = notebook.panel.locator(".lw-exercise input[type=text]").first
    box.fill("9.9 mm")
    box.press("Enter")
    expect(notebook.panel.locator(".lw-feedback").first).to_contain_text("Kept.")
    page.evaluate("""async () => {
        const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
        kernel.requestExecute({code: 'import os, signal; os.kill(os.getpid(), signal.SIGKILL)'});
    }""")
    page.wait_for_function(
        "() => /restarting/i.test(document.body.innerText) || window.jupyterapp.shell.currentWidget.sessionContext"
        ".session?.kernel?.status === 'autorestarting' || document.querySelector('.jp-Dialog') !== null"
    )
    again = Notebook(page, lab, LESSON)
    again.run_all(restart=True)
    expect(again.panel.locator(".lw-exercise input[type=text]").first).to_have_value(re.compile("^9.9 mm$"))
    expect(again.panel.locator(".lw-feedback").first).to_contain_text("Your earlier answer is back.")
    assert again.errors() == []
