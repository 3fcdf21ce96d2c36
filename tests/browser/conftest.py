"""One Chromium, and one JupyterLab over a copy of the lessons, for the tests of a file; a fresh page for each test."""

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect, sync_playwright

from tests.browser.lab import FLAGS, PATIENCE, Lab
from tests.conftest import NO_BROWSER, browser_is_required, chromium

LESSONS = Path(__file__).parents[2] / "lessons"


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


@pytest.fixture
def page(browser):
    page = browser.new_page(viewport={"width": 1280, "height": 900})
    yield page
    page.close()


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """The folder that the lab is at home in: the lessons below it, and beside them the answers."""
    return tmp_path_factory.mktemp("lab")


@pytest.fixture(scope="module")
def lab(browser, home):
    folder = shutil.copytree(LESSONS, home / "lessons", ignore=shutil.ignore_patterns("answers", ".ipynb_checkpoints"))
    # As when it is opened: the workbench begins in the folder of the lessons, and the homeworks lie in it.
    running = Lab(folder / "00_start_here.ipynb", home)
    yield running
    running.close()
