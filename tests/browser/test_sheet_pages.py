"""The setup sheet as a browser prints it: one or two pages on A4 and on Letter, nothing cut off at the side."""

import re
from pathlib import Path

import pytest

from latheworks.plan import barrel_plan, setup_sheet, shoe_plan

PLANS = {"barrel": barrel_plan, "shoe": shoe_plan}


def pages(pdf: bytes) -> int:
    """The leaves of a PDF's page tree (ISO 32000-1, 7.7.3.3: each has the type Page)."""
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints_on_two_pages_at_most(browser, tmp_path: Path, name, system, paper):
    path = tmp_path / "sheet.html"
    setup_sheet(PLANS[name](), path, system)
    page = browser.new_page()
    try:
        page.goto(path.as_uri())
        assert 1 <= pages(page.pdf(format=paper)) <= 2
        # What is wider than the paper would be cut off.
        width = {"A4": 794, "Letter": 816}[paper] - 2 * 34
        page.set_viewport_size({"width": width, "height": 1000})
        page.emulate_media(media="print")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    finally:
        page.close()
