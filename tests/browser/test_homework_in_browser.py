"""Every homework in a real browser: run all, answer, hand in a plan, restart: what was answered is there again."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.eyes import grave_faults
from tests.browser.lab import Notebook

LESSONS = Path(__file__).parents[2] / "lessons"
NAMES = sorted(path.relative_to(LESSONS).as_posix() for path in (LESSONS / "homework").glob("*.ipynb"))
PLAN = "homework/3_plan_the_job.ipynb"


def kept(home):
    """The answers that are on the disk."""
    return json.loads((home / "latheworks_answers" / "me.json").read_text(encoding="utf-8"))["answers"]


@pytest.mark.parametrize("name", NAMES)
def test_a_homework_lives_and_gives_answers_back(lab, page, home, name):
    notebook = Notebook(page, lab, name)
    notebook.run_all()
    assert notebook.errors() == []
    box = notebook.panel.locator(".lw-exercise input[type=text]").first
    typed = "61 rpm" if "holding" in name else "61 mm"
    box.fill(typed)
    box.press("Enter")
    panel = notebook.panel.locator(".lw-exercise", has=page.locator("input[type=text]")).first
    panel.get_by_role("button", name="Check").click()
    expect(panel.locator(".lw-feedback")).to_contain_text("Not yet")
    assert grave_faults(page) == []
    assert typed in [entry["answer"] for entry in kept(home).values()]
    notebook.run_all(restart=True)
    assert notebook.errors() == []
    expect(notebook.panel.locator(".lw-exercise input[type=text]").first).to_have_value(typed)
    if name == PLAN:
        cell = notebook.panel.locator(".jp-CodeCell", has_text="handed_in = None").locator(".cm-content")
        cell.click()
        page.keyboard.press("ControlOrMeta+A")
        page.keyboard.type("handed_in = my_plan")
        page.keyboard.press("Shift+Enter")
        page.keyboard.press("Shift+Enter")
        last = notebook.panel.locator(".lw-exercise", has_text="Plan your barrel").locator(".lw-feedback")
        expect(last).to_contain_text("Start with this one")
        expect(last).to_contain_text("tolerance")
        assert kept(home)["h3.plan"]["answer"]["plan"].startswith("{")
