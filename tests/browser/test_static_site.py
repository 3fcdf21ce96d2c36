"""The site without an install: built by its one command, served by a plain web server, run in the browser, offline."""

import json
import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect, sync_playwright

from binder.site_pages import WHAT_WORKS
from latheworks import Q_, materials, show
from latheworks.course import AnswerBook, find
from latheworks.course.first_steps import reader_says
from tests.browser.lab import FLAGS, PATIENCE, Notebook
from tests.conftest import NO_BROWSER, NO_PARTS, browser_is_required, chromium

ROOT = Path(__file__).parents[2]
# Nothing listens at the proxy, so whatever is not on this machine fails; `shop.test` is this machine by another name.
ALONE = ["--proxy-server=127.0.0.1:9", "--proxy-bypass-list=shop.test", "--host-resolver-rules=MAP shop.test 127.0.0.1"]
EXERCISE = "00.inch_or_metric"


def leave_out(reason: str, said: str = "") -> None:
    if browser_is_required():
        pytest.fail(f"{reason}\n{said}")
    pytest.skip(reason)


@pytest.fixture(scope="module")
def browser():
    path = chromium()
    if path is None:
        leave_out(NO_BROWSER)
    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=FLAGS + ALONE)
        yield started
        started.close()


@pytest.fixture(scope="module")
def built(browser, tmp_path_factory):
    """The site, as the command in binder/README.md makes it."""
    out = tmp_path_factory.mktemp("static") / "site"
    command = [sys.executable, "-m", "binder.static_site", str(out)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=300)
    if done.returncode and done.stderr.startswith(("npm", "pip could not")):
        leave_out(NO_PARTS, done.stderr)
    assert done.returncode == 0, done.stderr
    assert "It lacks " in done.stdout
    assert "numpy" in done.stdout
    # The tests ask the page itself whether its kernel is ready.
    settings = json.loads((out / "jupyter-lite.json").read_text(encoding="utf-8"))
    settings["jupyter-config-data"]["exposeAppInBrowser"] = True
    (out / "jupyter-lite.json").write_text(json.dumps(settings), encoding="utf-8")
    return out


class Site:
    """The built folder behind Python's own web server, and what the page asks of anybody else."""

    def __init__(self, folder: Path) -> None:
        command = [sys.executable, "-u", "-m", "http.server", "--bind", "127.0.0.1", "--directory", str(folder), "0"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        assert self.process.stdout is not None
        self.port = int(re.search(r"port (\d+)", self.process.stdout.readline())[1])
        self.address = f"http://127.0.0.1:{self.port}"
        self.asked_outside: set[str] = set()

    def page_of(self, name: str) -> str:
        return f"{self.address}/lab/index.html?path={name}"

    def watch(self, request) -> None:
        if urlsplit(request.url).hostname not in {"127.0.0.1", "shop.test", None}:
            self.asked_outside.add(request.url)


@pytest.fixture(scope="module")
def site(built):
    running = Site(built)
    yield running
    running.process.terminate()
    running.process.wait()


@pytest.fixture(scope="module")
def reader(browser, site):
    """One reader's browser, which keeps what is stored in it from one page to the next."""
    context = browser.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
    context.on("request", site.watch)
    context.set_default_timeout(PATIENCE)
    yield context
    context.close()


def test_the_front_page_says_what_is_missing_and_what_works(site, reader):
    page = reader.new_page()
    page.goto(site.address)
    expect(page.get_by_role("heading", name="This copy cannot run the lessons")).to_be_visible()
    expect(page.get_by_label("What is missing")).to_contain_text("numpy")
    links = [link.get_attribute("href") for link in page.get_by_role("link").all()]
    lessons = sorted(path.name for path in (ROOT / "lessons").glob("*.ipynb"))
    homework = sorted(f"homework/{path.name}" for path in (ROOT / "lessons" / "homework").glob("*.ipynb"))
    shown = [link.removeprefix("lab/index.html?path=") for link in links]
    assert shown[: 1 + len(lessons)] == [WHAT_WORKS, *lessons]
    assert sorted(shown[1 + len(lessons) :]) == homework
    expect(page.get_by_label("Answers are not kept")).to_be_hidden()
    page.goto(f"http://shop.test:{site.port}")
    expect(page.get_by_label("Answers are not kept")).to_be_visible()
    page.close()


def test_a_lesson_says_so_too(site, reader):
    page = reader.new_page()
    page.goto(site.page_of("00_start_here.ipynb"))
    expect(page.locator("strong", has_text="This copy cannot run this lesson.")).to_be_visible()
    page.close()


def give(page, answer: str) -> None:
    """Put an answer into the cell that waits for one."""
    page.evaluate(
        """answer => {
            const cells = window.jupyterapp.shell.currentWidget.content.widgets.map(cell => cell.model.sharedModel);
            const box = cells.find(cell => cell.getSource().startsWith('answer = ""'));
            box.setSource(box.getSource().replace('answer = ""', `answer = "${answer}"`));
        }""",
        answer,
    )


def test_what_works_runs_alone_and_an_answer_comes_back(site, reader, tmp_path):
    page = reader.new_page()
    notebook = Notebook(page, site, WHAT_WORKS)
    right = show(find(EXERCISE).right)
    give(page, right)
    notebook.run_all()
    assert notebook.errors() == []
    said = notebook.panel.inner_text()
    # The wheel in the browser says what the library here says.
    for line in (show(Q_(250, "mm"), "inch"), reader_says("1 1/4 in"), reader_says("31,75 mm"), ", ".join(materials())):
        assert line in " ".join(said.split())
    assert f"Kept(answer='{right}'" in said

    # A page opened anew finds the answer in the browser, and hands it out as a file.
    page.close()
    page = reader.new_page()
    page.goto(f"{site.address}/lab/index.html?reset")  # nothing open, so no kernel is started for it
    files = page.locator(".jp-DirListing-item")
    files.filter(has_text="answers").dblclick()
    name = AnswerBook(folder=tmp_path).path.name
    files.filter(has_text=name).click(button="right")
    with page.expect_download() as download:
        page.locator(".lm-Menu-itemLabel", has_text="Download").click()
    download.value.save_as(tmp_path / name)
    kept = AnswerBook(folder=tmp_path).get(EXERCISE)
    assert (kept.answer, kept.right, kept.checked) == (right, True, True)
    page.close()


def test_where_nothing_lasts_it_is_said(site, reader):
    """By an address that the browser does not trust, nothing is kept; the answer says so."""
    page = reader.new_page()
    trusted, site.address = site.address, f"http://shop.test:{site.port}"
    notebook = Notebook(page, site, WHAT_WORKS)
    site.address = trusted
    give(page, "1 mm")
    notebook.run_all()
    assert notebook.errors() == []
    assert "Your answer stays on this page only." in notebook.panel.inner_text()
    page.close()


def test_nobody_outside_was_asked(site, reader):
    """Of all the pages above; and a request that is made on purpose, in a page and in a worker, is seen and fails."""
    assert site.asked_outside == set()
    page = reader.new_page()
    page.goto(site.address)
    for asking in (
        "fetch('http://elsewhere.test/page')",
        "new Promise(done => { const text = `fetch('http://elsewhere.test/worker').catch(() => postMessage(1))`;"
        " new Worker(URL.createObjectURL(new Blob([text]))).onmessage = () => done('failed'); })",
    ):
        assert (
            page.evaluate(f"({asking}).then(found => found === 'failed' ? 'failed' : 'came', () => 'failed')")
            == "failed"
        )
    assert site.asked_outside == {"http://elsewhere.test/page", "http://elsewhere.test/worker"}
    site.asked_outside.clear()
    page.close()
