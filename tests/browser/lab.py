"""JupyterLab started through our own front door on a copy of the lessons, and the page of one notebook in it."""

import contextlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Protocol

from playwright.sync_api import Browser, Locator, Page, expect

# Generous, since both cores may be busy with other tests; every wait ends as soon as its condition holds.
PATIENCE = 120_000
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
]  # fmt: skip
KEPT_HERE = (
    "JUPYTER_CONFIG_DIR", "JUPYTER_RUNTIME_DIR", "JUPYTERLAB_WORKSPACES_DIR", "JUPYTERLAB_SETTINGS_DIR", "IPYTHONDIR",
    "LATHEWORKS_ANSWERS",
)  # fmt: skip
_START = "import sys; from pathlib import Path; from latheworks.opening import open_lessons; "
_START += "sys.exit(open_lessons(port=0, browser=False, lesson=Path(sys.argv[1])))"


class Server(Protocol):
    """Whatever serves notebooks to a page."""

    def page_of(self, name: str) -> str: ...


class Lab:
    """A running JupyterLab over one folder, with every file it writes kept in a folder of its own."""

    def __init__(self, lesson: Path, home: Path) -> None:
        env = {**os.environ, **{name: str(home / name.lower()) for name in KEPT_HERE}}
        config = home / "jupyter_config_dir" / "jupyter_lab_config.json"
        config.parent.mkdir()
        config.write_text('{"LabApp": {"expose_app_in_browser": true}}', encoding="utf-8")
        self.log = home / "server.log"
        with self.log.open("w") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-c", _START, str(lesson)],
                stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=log, text=True, env=env, cwd=home,
            )  # fmt: skip
        assert self.process.stdout is not None
        self.said = []
        for line in self.process.stdout:
            self.said.append(line)
            if "http://" in line:
                break
        assert "http://" in "".join(self.said), "".join(self.said) + self.log.read_text()
        self.link = self.said[-1].strip()
        self.address, self.token = self.link.split("/lab/")[0], self.link.split("token=")[1]

    def page_of(self, name: str) -> str:
        """The address of one notebook, with a layout of its own."""
        layout = name.removesuffix(".ipynb").replace("/", "-")
        return f"{self.address}/lab/workspaces/{layout}/tree/{name}?token={self.token}"

    def close(self) -> None:
        """Stop the server, kernels and all."""
        self.process.terminate()
        try:
            self.process.wait(timeout=30)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


class Notebook:
    """One notebook open in a page, driven the way a person drives it."""

    def __init__(self, page: Page, lab: Server, name: str) -> None:
        self.page, self.faults = page, []
        page.set_default_timeout(PATIENCE)
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.goto(lab.page_of(name))
        self.panel = page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)")
        expect(self.panel).to_be_visible(timeout=PATIENCE)
        # The page calls a kernel idle before there is one, and drops what is run then.
        page.wait_for_function(
            """async () => {
                const context = window.jupyterapp?.shell?.currentWidget?.sessionContext;
                if (!context) return false;
                await context.ready;
                const kernel = context.session?.kernel;
                if (!kernel) return false;
                await kernel.info;
                return kernel.connectionStatus === 'connected' && kernel.status === 'idle';
            }""",
            timeout=PATIENCE,
        )
        self._wait_until_idle()

    def _wait_until_idle(self) -> None:
        idle = self.panel.locator('.jp-Notebook-ExecutionIndicator[data-status="idle"]')
        expect(idle).to_be_attached(timeout=PATIENCE)

    def menu(self, name: str, entry: str) -> None:
        """Choose an entry of a menu."""
        self.page.locator(".lm-MenuBar-itemLabel", has_text=name).first.click()
        self.page.locator(".lm-Menu-itemLabel", has_text=entry).first.click()

    def clear(self) -> None:
        """Clear every output and count, so that what is seen afterwards is new."""
        self.menu("Edit", "Clear Outputs of All Cells")
        expect(self.prompts.filter(has_text="[ ]").first).to_be_attached()
        expect(self.prompts.filter(has_not_text="[ ]")).to_have_count(0)

    @property
    def prompts(self) -> Locator:
        """The counts beside the code cells."""
        return self.panel.locator(".jp-CodeCell .jp-InputPrompt")

    def run_all(self, restart: bool = False) -> None:
        """Run every cell from a clean slate and wait until the last has its count."""
        self.clear()
        if restart:
            self.menu("Kernel", "Restart Kernel and Run All Cells")
            self.page.locator(".jp-Dialog .jp-mod-accept").click()
        else:
            self.menu("Run", "Run All Cells")
        self.wait_until_run()

    def wait_until_run(self) -> None:
        """Wait until every cell that has anything in it has its count, or one has failed."""
        self.page.wait_for_function(
            """() => {
                const panel = document.querySelector('.jp-NotebookPanel:not(.lm-mod-hidden)');
                const cells = [...panel.querySelectorAll('.jp-CodeCell')];
                const failed = panel.querySelector('[data-mime-type="application/vnd.jupyter.stderr"]');
                const written = cell => cell.querySelector('.cm-content').textContent.trim() !== '';
                const count = cell => cell.querySelector('.jp-InputPrompt').textContent;
                return failed || cells.filter(written).every(cell => /\\[\\d+\\]/.test(count(cell)));
            }""",
            timeout=PATIENCE,
        )
        self._wait_until_idle()

    def errors(self) -> list[str]:
        """Every error on the page: of a cell, of a widget, of the page itself."""
        # A traceback is shown as this kind too.
        shown = self.panel.locator('[data-mime-type="application/vnd.jupyter.stderr"]').all_inner_texts()
        broken = self.panel.get_by_text("Error displaying widget").all_inner_texts()
        return [*shown, *broken, *self.faults]


def write_notebook(path: Path, cells: Sequence[str]) -> Path:
    """Write a notebook of these code cells."""
    code = [{"cell_type": "code", "id": f"cell{i}", "metadata": {}, "source": source, "outputs": [],
             "execution_count": None} for i, source in enumerate(cells)]  # fmt: skip
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    whole = {"cells": code, "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5}
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(whole), encoding="utf-8")
    return path


def keep_all_cells(home: Path) -> None:
    """Let the page keep cells that are scrolled away; else finding them again is part of what is measured."""
    folder = home / "jupyterlab_settings_dir" / "@jupyterlab" / "notebook-extension"
    folder.mkdir(parents=True)
    (folder / "tracker.jupyterlab-settings").write_text('{"windowingMode": "none"}', encoding="utf-8")


@contextlib.contextmanager
def notebook_of(browser: Browser, cells: Sequence[str]) -> Iterator[Notebook]:
    """A notebook of these cells, run in JupyterLab and open on a projector's page."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        lesson = write_notebook(home / "work" / "scratch.ipynb", cells)
        keep_all_cells(home)
        page = browser.new_page(viewport={"width": 1280, "height": 720})
        with contextlib.closing(Lab(lesson, home)) as lab, contextlib.closing(page):
            notebook = Notebook(page, lab, lesson.name)
            notebook.run_all()
            yield notebook
