"""The pages that are ours from top to bottom: for every eye, and on a screen as narrow as a large zoom makes it."""

import pytest

from binder.site_pages import front_page
from latheworks.course import grade
from latheworks.course.grade_pages import write_pages
from latheworks.plan import barrel_plan, setup_sheet, shoe_plan
from tests.browser.conftest import LESSONS
from tests.browser.eyes import grave_faults
from tests.grade_class import COURSE, hand_in, taught

PAGES = ("sheet of the barrel", "sheet of the shoe in inches", "front", "front without libraries", "class", "student")


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """Each page as a file."""
    folder = tmp_path_factory.mktemp("pages")
    setup_sheet(barrel_plan(), folder / "barrel.html")
    setup_sheet(shoe_plan(), folder / "shoe.html", "inch")
    (folder / "front.html").write_text(front_page(LESSONS, ()), encoding="utf-8")
    (folder / "bare.html").write_text(front_page(LESSONS, ("numpy", "pandas")), encoding="utf-8")
    with taught():
        hand_in(folder / "in", "ana-7")
        hand_in(folder / "in", "ben", {})
        grades = grade(folder / "in", assignment="x9", roster={"ana-7": None, "ben": None, "cho": None}, course=COURSE)
    write_pages(grades, folder / "out")
    student = next(path for path in (folder / "out").rglob("*.html") if "ana-7" in path.name)
    files = [folder / name for name in ("barrel.html", "shoe.html", "front.html", "bare.html")]
    return dict(zip(PAGES, [*files, folder / "out" / "class.html", student], strict=True))


@pytest.mark.parametrize("name", PAGES)
def test_nothing_grave_is_found_in_it(page, written, name):
    page.goto(written[name].as_uri())
    assert grave_faults(page, whole=True) == []


def test_a_grave_fault_would_be_found(page, written):
    page.goto(written["front"].as_uri())
    page.evaluate(
        "document.body.insertAdjacentHTML('beforeend', '<img src=\"x.png\"><p style=\"color: #ccc\">pale</p>')"
    )
    said = "\n".join(grave_faults(page, whole=True))
    assert "image-alt" in said
    assert "color-contrast" in said


@pytest.mark.parametrize("name", PAGES)
def test_read_on_a_narrow_screen_it_is_scrolled_one_way_only(page, written, name):
    """WCAG 2.2, 1.4.10, reflow: 320 px; a table of data may be wider, but then it scrolls by itself."""
    page.set_viewport_size({"width": 320, "height": 640})
    page.goto(written[name].as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
