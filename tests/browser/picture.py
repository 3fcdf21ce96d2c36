"""Take the README's picture anew, of the first bench of lesson 03: `python -m tests.browser.picture`."""

import io
import shutil
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from tests.browser.lab import FLAGS, Lab, Notebook
from tests.conftest import chromium

LESSONS = Path(__file__).parents[2] / "lessons"
NAME, WIDTH = "03_hold_the_work.ipynb", 1100


def main() -> None:
    """Run the lesson and keep what the bench shows."""
    with tempfile.TemporaryDirectory() as home, sync_playwright() as playwright:
        folder = shutil.copytree(LESSONS, Path(home) / "lessons")
        lab = Lab(folder / NAME, Path(home))
        try:
            browser = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
            notebook = Notebook(browser.new_page(viewport={"width": 1500, "height": 1000}), lab, NAME)
            notebook.run_all()
            bench = notebook.panel.locator(".lw-bench").first
            # Cells out of sight get their real height when they come near; then the bench moves once more.
            bench.scroll_into_view_if_needed()
            bench.locator(".lw-picture img").scroll_into_view_if_needed()
            whole = bench.screenshot()
        finally:
            lab.close()
    picture = Image.open(io.BytesIO(whole))
    # Beyond its edge a crop would be black.
    wide = min(WIDTH, picture.width)
    picture.crop((0, 0, wide, picture.height)).save(LESSONS / "pictures" / "bench.png", optimize=True)


if __name__ == "__main__":
    main()
