"""One Chromium for the tests of a file."""

import pytest
from playwright.sync_api import expect, sync_playwright

from tests.browser.lab import FLAGS, PATIENCE
from tests.conftest import NO_BROWSER, browser_is_required, chromium


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
