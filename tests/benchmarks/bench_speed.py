"""The benches and lessons in a real page: key to picture, a drag, the kernel's memory, opening, running all.

Run it with `python -m tests.benchmarks.bench_speed`, or with names: kinds of bench, `lessons`, or both. It starts
JupyterLab on this machine alone, opens headless Chromium, and prints what it measured, for every bench beside the same
picture through `interact` and the inline backend. It is a measurement, not a test: nothing fails on it.
"""

import contextlib
import math
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Error, sync_playwright

from tests.benches import MAKERS
from tests.browser.lab import FLAGS, PATIENCE, Lab, Notebook, notebook_of
from tests.conftest import NO_BROWSER, chromium

LESSONS = Path(__file__).parents[2] / "lessons"
KEYS, MOVES, DRAG = 50, 500, 3.0
SETUP = """%matplotlib inline
import os
from ipywidgets import interact, FloatSlider
from IPython.display import display
from latheworks import Q_
from latheworks.widgets import *
from latheworks.widgets.sizes import SizeControl
print("kernel", os.getpid())"""
# The last size of a bench is what is moved most; it alone is pressed, dragged, and handed to interact.
OURS = """bench = {kind}_bench()
control = [item for item in bench.controls.values() if isinstance(item, SizeControl)][-1]
control.widget.add_class("speed")
bench"""
# The same picture, made and drawn anew by a function under interact, as a notebook without a bench would.
PLAIN = """other = {kind}_bench()
moved = other.controls[control.name]
def plain(x):
    value = round(x) if moved.spec.kind == "count" else Q_(float(x), moved._target())
    values = {{name: item.value for name, item in other.controls.items()}}
    data = other.compute({{**values, moved.name: value}})[1]
    picture = other.picture_class(other.picture.look)
    picture.update(data, None)
    display(picture.canvas.figure)
slider = moved.slider
interact(plain, x=FloatSlider(min=slider.min, max=slider.max, step=slider.step, value=slider.value));"""

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
# So many moves of the slider, to and fro by a step, each when the last picture is there; some steps change nothing.
MOVE = """async moves => {
  const slider = document.querySelector(".speed input[type=range]"), place = document.querySelector(".lw-main");
  for (let i = 0; i < moves; i++) {
    const before = place.innerHTML;
    slider.valueAsNumber += (slider.value === slider.max || i % 2) && slider.value !== slider.min
      ? -slider.step : +slider.step;
    slider.dispatchEvent(new Event("input"));
    for (let n = 0; n < 50 && place.innerHTML === before; n++)
      await new Promise(next => setTimeout(next, 4));
  }
}"""
# During a drag: when the slider last changed, and when each new picture was there.
WATCH = """() => {
  const slider = document.querySelector(".speed input[type=range]"), place = document.querySelector(".lw-main");
  const seen = window.latheworksDrag = {pictures: 0, last: 0, input: 0};
  slider.addEventListener("input", () => { seen.input = performance.now(); });
  let before = place.querySelector("img").src;
  new MutationObserver(() => {
    const image = place.querySelector("img");
    if (!image || image.src === before) return;
    before = image.src;
    image.decode().then(() => requestAnimationFrame(() => { seen.pictures += 1; seen.last = performance.now(); }));
  }).observe(place, {subtree: true, childList: true, attributes: true});
}"""
SLIDER = ".speed input[type=range]"


def presses(page: Any, handle: str, area: str, at_end: bool) -> list[float]:
    """Press an arrow key on a slider so many times, each when the last picture is there; times in ms."""
    page.wait_for_selector(f"{area} img", timeout=PATIENCE)
    page.locator(handle).first.scroll_into_view_if_needed()
    times = []
    # There and back in runs of three, so that the slider stays in its range; the first two warm up.
    for i in range(KEYS + 2):
        there = (i // 3) % 2 == 0
        key = "ArrowLeft" if there == at_end else "ArrowRight"
        page.evaluate(f"(arguments) => {{ window.latheworksTime = ({MEASURE})(arguments); }}", [handle, area])
        page.wait_for_function("window.latheworksReady")
        page.keyboard.press(key)
        times.append(float(page.evaluate("window.latheworksTime")))
    return times[2:]


def drag(page: Any) -> tuple[int, float]:
    """Drag the slider to and fro for some seconds: how many pictures came, and how far the last one lagged [ms]."""
    page.evaluate(WATCH)
    slider = page.locator(SLIDER)
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    middle, reach = box["x"] + box["width"] / 2, 0.4 * box["width"]
    page.mouse.move(middle, box["y"] + box["height"] / 2)
    page.mouse.down()
    start = time.perf_counter()
    while (gone := time.perf_counter() - start) < DRAG:
        # To and fro once in a second and a half.
        share = abs((gone / 0.75) % 2 - 1) * 2 - 1
        page.mouse.move(middle + share * reach, box["y"] + box["height"] / 2)
        page.wait_for_timeout(8)
    page.mouse.up()
    page.wait_for_timeout(1000)
    seen = page.evaluate("window.latheworksDrag")
    return int(seen["pictures"]), float(seen["last"] - seen["input"])


def memory(process: int) -> float:
    """What a process holds [MB]."""
    status = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    return int(status.split("VmRSS:")[1].split()[0]) / 1024


def one_bench(browser: Browser, kind: str) -> str:
    """Measure a bench beside plain interact, in a notebook of its own; return a line of the table."""
    cells = [SETUP, OURS.format(kind=kind), PLAIN.format(kind=kind)]
    with notebook_of(browser, cells) as notebook:
        page = notebook.page
        kernel = int(notebook.panel.locator(".jp-OutputArea-output").first.inner_text().split()[-1])
        at_end = page.locator(SLIDER).evaluate("slider => slider.value === slider.max")
        ours = presses(page, SLIDER, ".lw-main", at_end)
        pictures, lag = drag(page)
        before = memory(kernel)
        page.evaluate(MOVE, MOVES)
        after = memory(kernel)
        plain = ".jp-Cell:nth-child(3)"
        # A picture that does not change at all under interact has no time to measure.
        theirs = [math.nan]
        with contextlib.suppress(Error):
            theirs = presses(page, f"{plain} .noUi-handle", f"{plain} .jp-OutputArea-output", at_end)
    a, b = statistics.median(ours), statistics.median(theirs)
    return (f"{kind:<10}{a:>8.0f}{max(ours):>7.0f}{pictures:>10}{lag:>6.0f}{after:>9.0f}{after - before:>+8.1f}"
            f"{b:>11.0f}{max(theirs):>7.0f}{a / b:>7.2f}")  # fmt: skip


def one_lesson(browser: Browser, name: str) -> str:
    """Open a lesson in a started server and a page that has seen nothing, and run all of it."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        lessons = shutil.copytree(LESSONS, home / "lessons", ignore=shutil.ignore_patterns("answers"))
        page = browser.new_context(viewport={"width": 1280, "height": 720}).new_page()
        with contextlib.closing(Lab(lessons / name, home)) as lab, contextlib.closing(page):
            # As somebody is led who was given the link: by our own layout, new and empty of all else.
            lab.page_of = lambda _: lab.link  # type: ignore[method-assign]
            start = time.perf_counter()
            notebook = Notebook(page, lab, name)
            opened = time.perf_counter()
            notebook.clear()
            clicked = time.perf_counter()
            notebook.menu("Run", "Run All Cells")
            page.wait_for_selector(".lw-picture img", timeout=PATIENCE)
            page.wait_for_function("document.querySelector('.lw-picture img').complete")
            first = time.perf_counter()
            notebook.wait_until_run()
            done = time.perf_counter()
    return f"{name:<28}{opened - start:>10.1f}{opened - start + first - clicked:>15.1f}{done - clicked:>10.1f}"


def main() -> None:
    """Measure what was asked for, or all of it."""
    path = chromium()
    if path is None:
        raise SystemExit(NO_BROWSER)
    asked = sys.argv[1:] or [*MAKERS, "lessons"]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        kinds = [kind for kind in MAKERS if kind in asked]
        if kinds:
            print(f"{KEYS} key presses, a drag of {DRAG:g} s, {MOVES} moves; times in ms, memory of the kernel in MB")
            print(f"{'bench':<10}{'median':>8}{'worst':>7}{'pictures':>10}{'lag':>6}{'memory':>9}{'grown':>8}"
                  f"{'interact':>11}{'worst':>7}{'ratio':>7}")  # fmt: skip
        for kind in kinds:
            print(one_bench(browser, kind), flush=True)
        if "lessons" in asked:
            print(f"{'lesson, times in s':<28}{'opened':>10}{'first picture':>15}{'run all':>10}")
            for lesson in sorted(LESSONS.glob("*.ipynb")):
                print(one_lesson(browser, lesson.name), flush=True)
        browser.close()


if __name__ == "__main__":
    main()
