"""From a key press on a slider to the changed picture, in a real page: our benches and plain interact, side by side.

Run it with `python -m tests.benchmarks.bench_speed`. It starts JupyterLab on this machine alone, opens headless
Chromium, and prints the median and the worst of 50 key presses for each bench, the same for the same picture
through `interact` and the inline backend, and the ratio. It is a measurement, not a test: nothing fails on it.
"""

import contextlib
import json
import statistics
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from tests.browser.lab import FLAGS, Lab, Notebook
from tests.conftest import NO_BROWSER, chromium

KEYS = 50
# For each bench: its making, the control whose slider is pressed, and how a slider's number becomes its value.
BENCHES = {
    "holding": ("holding_bench()", "at", "Q_(float(x), 'mm')"),
    "infeed": ("infeed_bench()", "shown", "round(x)"),
    "thread": ("thread_bench()", "hole", "Q_(float(x), 'mm')"),
}
SETUP = """%matplotlib inline
from ipywidgets import interact, FloatSlider
from IPython.display import display
from latheworks import Q_
from latheworks.widgets import *"""
# The same picture, made and drawn anew by a function under interact, as a notebook without a bench would.
PLAIN = """hidden_{kind} = {making}
def plain_{kind}(x):
    values = {{name: control.value for name, control in hidden_{kind}.controls.items()}}
    data = hidden_{kind}.compute({{**values, "{control}": {convert}}})[1]
    picture = hidden_{kind}.picture_class(hidden_{kind}.picture.look)
    picture.update(data, None)
    display(picture.canvas.figure)
slider = hidden_{kind}.controls["{control}"].slider
interact(plain_{kind}, x=FloatSlider(min=slider.min, max=slider.max, step=slider.step, value=slider.value));"""

# Time from the key going down until the frame with the changed, decoded picture is out: a message posted while a
# frame is being prepared arrives once it is painted.
MEASURE = """([handle, area]) => new Promise((done, fail) => {
  const slider = document.querySelector(handle), place = document.querySelector(area);
  const before = place.querySelector("img").src;
  let start = 0;
  slider.addEventListener("keydown", () => { start = performance.now(); }, {capture: true, once: true});
  const watch = new MutationObserver(async () => {
    const image = place.querySelector("img");
    if (!image || image.src === before || !image.src) return;
    watch.disconnect();
    try { await image.decode(); } catch (error) { return fail(error); }
    const painted = new MessageChannel();
    painted.port1.onmessage = () => done(performance.now() - start);
    requestAnimationFrame(() => painted.port2.postMessage(0));
  });
  watch.observe(place, {subtree: true, childList: true, attributes: true});
  setTimeout(() => { watch.disconnect(); fail(new Error("no new picture in 10 s")); }, 10000);
  slider.focus();
  window.latheworksReady = true;
})"""


@contextlib.contextmanager
def notebook_of(cells: Sequence[str]) -> Iterator[Any]:
    """Run a notebook of these cells in JupyterLab and headless Chromium; give its page."""
    path = chromium()
    if path is None:
        raise SystemExit(NO_BROWSER)
    code = [{"cell_type": "code", "id": f"cell{i}", "metadata": {}, "source": source, "outputs": [],
             "execution_count": None} for i, source in enumerate(cells)]  # fmt: skip
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        lesson = home / "work" / "speed.ipynb"
        lesson.parent.mkdir()
        whole = {"cells": code, "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5}
        lesson.write_text(json.dumps(whole), encoding="utf-8")
        # Else the page takes cells out that are scrolled away, and finding them again is no part of the measure.
        tracker = (
            home / "jupyterlab_settings_dir" / "@jupyterlab" / "notebook-extension" / "tracker.jupyterlab-settings"
        )
        tracker.parent.mkdir(parents=True)
        tracker.write_text('{"windowingMode": "none"}', encoding="utf-8")
        with contextlib.closing(Lab(lesson, home)) as lab, sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
            notebook = Notebook(browser.new_page(viewport={"width": 1280, "height": 720}), lab, lesson.name)
            notebook.run_all()
            yield notebook.page
            browser.close()


def presses(page: Any, handle: str, area: str, keys: int) -> list[float]:
    """Press an arrow key on a slider so many times, each when the last picture is there; times in ms."""
    page.wait_for_selector(f"{area} img", timeout=60_000)
    page.locator(handle).first.scroll_into_view_if_needed()
    times = []
    # There and back in runs of three, so that the slider stays in its range; the first two warm up.
    for i in range(keys + 2):
        key = "ArrowLeft" if (i // 3) % 2 == 0 else "ArrowRight"
        page.evaluate(f"(arguments) => {{ window.latheworksTime = ({MEASURE})(arguments); }}", [handle, area])
        page.wait_for_function("window.latheworksReady")
        page.keyboard.press(key)
        times.append(float(page.evaluate("window.latheworksTime")))
    return times[2:]


def main() -> None:
    """Measure every bench beside plain interact, and print both."""
    cells = [SETUP]
    for kind, (making, control, convert) in BENCHES.items():
        cells += [f"bench_{kind} = {making}\nbench_{kind}",
                  PLAIN.format(kind=kind, making=making, control=control, convert=convert)]  # fmt: skip
    print(f"Key press to painted picture, {KEYS} presses each, ms")
    print(f"{'bench':<10}{'ours: median':>14}{'worst':>8}{'interact: median':>19}{'worst':>8}{'ratio':>8}")
    with notebook_of(cells) as page:
        for i, (kind, (_, control, _)) in enumerate(BENCHES.items()):
            ours = presses(page, f".lw-{kind} .lw-control-{control} .noUi-handle", f".lw-{kind} .lw-main", KEYS)
            plain = f".jp-Cell:nth-child({2 * i + 3})"
            theirs = presses(page, f"{plain} .noUi-handle", f"{plain} .jp-OutputArea-output", KEYS)
            a, b = statistics.median(ours), statistics.median(theirs)
            print(f"{kind:<10}{a:>14.0f}{max(ours):>8.0f}{b:>19.0f}{max(theirs):>8.0f}{a / b:>8.2f}", flush=True)


if __name__ == "__main__":
    main()
