"""Every bench on a projector's page, by keyboard alone, and as those meet it who do not see it."""

import pytest
from playwright.sync_api import expect

from tests.benches import MAKERS
from tests.browser.eyes import grave_faults
from tests.browser.lab import PATIENCE, notebook_of

WIDE, HIGH = 1280, 720
SMALLEST = 18  # px, on the projector's page
PARTS = ".lw-title, .lw-picture img, .lw-reading, .lw-control, .lw-row"

# Boxes that are shown, in px of the page.
BOXES = """(bench, parts) => [...bench.querySelectorAll(parts)].map(part => {
    const box = part.getBoundingClientRect();
    return [part.className, box.left, box.top, box.right, box.bottom];
})"""
# Every size of letters in the bench that anybody can read.
LETTERS = """bench => {
    const found = {}, walk = document.createTreeWalker(bench, NodeFilter.SHOW_TEXT);
    const note = element => {
        if (!element.getClientRects().length) return;
        found[parseFloat(getComputedStyle(element).fontSize)] = element.outerHTML.slice(0, 120);
    };
    while (walk.nextNode()) {
        const text = walk.currentNode;
        if (text.data.trim() && !['STYLE', 'OPTION'].includes(text.parentElement.tagName)) note(text.parentElement);
    }
    bench.querySelectorAll('input, select').forEach(note);
    return found;
}"""
CUT_OFF = """bench => [...bench.querySelectorAll('label, button, .lw-reading td, .lw-reading th, select')]
    .filter(part => part.scrollWidth > part.clientWidth + 1).map(part => part.textContent)"""
OWN_SIZE = """bench => {
    const image = bench.querySelector('.lw-picture img');
    return image.complete && image.clientWidth && image.clientWidth === image.naturalWidth;
}"""
CODE_SHOWN = "bench => bench.closest('.jp-Cell').querySelector('.jp-InputArea')?.checkVisibility() ?? false"
FOCUSED = """bench => {
    const all = [...bench.querySelectorAll('input, select, button, summary')];
    const at = all.indexOf(document.activeElement);
    const ring = at < 0 ? '' : getComputedStyle(document.activeElement).outlineStyle;
    return [at, all.length, ring];
}"""


@pytest.fixture(scope="module")
def notebook(browser):
    cells = ["from latheworks.widgets import *", *(f"{kind} = {kind}_bench()\n{kind}" for kind in MAKERS)]
    with notebook_of(browser, cells) as opened:
        assert opened.errors() == []
        yield opened


@pytest.fixture(params=MAKERS)
def kind(request):
    return request.param


@pytest.fixture
def bench(notebook, kind):
    found = notebook.page.locator(f".lw-bench.lw-{kind}")
    show(found)
    yield found
    found.get_by_role("button", name="Start again").click()


@pytest.fixture(scope="class")
def projector(notebook):
    """The switch on, by keyboard, and off again."""
    for on in (len(MAKERS), 0):
        switch = notebook.page.locator(".lw-big input").first
        switch.focus()
        switch.press("Space")
        expect(notebook.page.locator(".lw-bench.lw-projector")).to_have_count(on)
        if on:
            yield


def show(bench):
    """Scroll to the bench, as a person at the projector does."""
    bench.evaluate("bench => bench.closest('.jp-Cell').scrollIntoView()")


def source(bench):
    return bench.locator(".lw-picture img").get_attribute("src")


def wait_for_other(bench, before):
    bench.page.wait_for_function(
        "([bench, before]) => bench.querySelector('.lw-picture img').src !== before",
        arg=[bench.element_handle(), before], timeout=PATIENCE,
    )  # fmt: skip


@pytest.mark.usefixtures("projector")
class TestProjector:
    def test_all_of_it_is_seen_from_the_back(self, bench):
        demos = bench.locator(".lw-demo")
        # Plainly, and as full as it gets: a kept setting beside a demonstration.
        for full in (False, True):
            if full:
                before = source(bench)
                bench.get_by_role("button", name="Keep this one").click()
                expect(bench.locator(".lw-reading.lw-two")).to_be_attached()
                demos.last.click()
                wait_for_other(bench, before)
            show(bench)
            for name, left, top, right, bottom in bench.evaluate(BOXES, PARTS):
                assert 0 <= left < right <= WIDE, (name, left, right)
                assert 0 <= top < bottom <= HIGH, (name, top, bottom, full)
            letters = {float(size): where for size, where in bench.evaluate(LETTERS).items()}
            assert letters
            assert min(letters) >= SMALLEST, letters[min(letters)]
            assert bench.evaluate(CUT_OFF) == []
            # Letters in a picture are as large as it was drawn for only where it is shown at its own size.
            bench.page.wait_for_function(OWN_SIZE, arg=bench.element_handle(), timeout=PATIENCE)
        assert not bench.evaluate(CODE_SHOWN)


def test_demonstrations_by_keyboard_alone(bench, kind):
    """Tab to each and press it: the page then says what the library says of that setting."""
    demos, itself = bench.locator(".lw-demo"), MAKERS[kind]()
    assert demos.all_inner_texts() == list(itself.demonstrations())
    bench.locator(".lw-control").last.locator("input, select").last.focus()
    for index, name in enumerate(itself.demonstrations()):
        itself.demo(name)
        bench.page.keyboard.press("Tab")
        expect(demos.nth(index)).to_be_focused()
        bench.page.keyboard.press("Space")
        expect(bench.locator(".lw-picture img")).to_have_attribute("alt", itself.alt)
        expect(demos.nth(index)).to_be_focused()
    itself.close()


def test_tab_goes_through_everything_in_order_and_shows_where_it_is(bench):
    bench.get_by_role("button", name="Start again").focus()
    at, count, ring = bench.evaluate(FOCUSED)
    assert at == 0
    for expected in range(1, count):
        bench.page.keyboard.press("Tab")
        at, _, ring = bench.evaluate(FOCUSED)
        assert at == expected
        assert ring == "solid" or bench.page.evaluate("document.activeElement.type") == "checkbox"
    table = bench.locator(".lw-table table")
    expect(table).not_to_be_visible()
    bench.page.keyboard.press("Enter")
    expect(table).to_be_visible()
    bench.page.keyboard.press("Enter")
    expect(table).not_to_be_visible()


def tree(bench):
    """The bench in the page's accessibility tree: role, name and spoken value of all that can be used."""
    session = bench.page.context.new_cdp_session(bench.page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    inside = {node["backendDOMNodeId"]: node for node in nodes if "backendDOMNodeId" in node and not node["ignored"]}
    session.send("DOM.getDocument")
    found = []
    for part in bench.locator("input, select, button, summary, img").element_handles():
        part.evaluate("part => window.latheworksPart = part")
        thing = session.send("Runtime.evaluate", {"expression": "window.latheworksPart"})["result"]["objectId"]
        number = session.send("DOM.describeNode", {"objectId": thing})["node"]["backendNodeId"]
        node = inside.get(number)
        assert node is not None, part.evaluate("part => part.outerHTML")
        found.append((node["role"]["value"], node["name"]["value"], part.get_attribute("aria-valuetext")))
    session.detach()
    return found


def test_each_control_has_its_name_in_the_accessibility_tree(bench):
    found = tree(bench)
    assert all(name.strip() for _, name, _ in found), found
    boxes = [name for role, name, _ in found if role == "textbox"]
    sliders = [(name, value) for role, name, value in found if role == "slider"]
    assert len(sliders) == bench.locator("input[type=range]").count() > 0
    for name, value in sliders:
        words = name.removesuffix(", by steps")
        assert words in boxes
        # It speaks the size with the unit that its name shows.
        assert value
        if "[" in words:
            assert value.endswith(words.split("[")[1].rstrip("]")), (name, value)


def test_no_grave_fault_for_those_who_do_not_see_it(notebook):
    assert grave_faults(notebook.page) == []


def test_the_page_moves_no_size_that_was_typed(notebook):
    """A size between two steps stays, also when the ends of its slider move; then a key takes it to the next step."""
    bench = notebook.page.locator(".lw-holding")
    show(bench)
    tool, long = (bench.locator(f".lw-control-{name}") for name in ("at", "length"))
    for part, text in ((tool, "123.4 mm"), (long, "247.3 mm")):
        before = source(bench)
        box = part.locator("input[type=text]")
        box.fill(text)
        box.press("Enter")
        wait_for_other(bench, before)
    slider = long.locator("input[type=range]")
    slider.press("ArrowRight")
    expect(long.locator("input[type=text]")).to_have_value("250 mm")
    expect(tool.locator("input[type=text]")).to_have_value("123.4 mm")
    expect(slider).to_have_attribute("aria-valuetext", "250 mm")
    expect(tool.locator("input[type=range]")).to_have_attribute("aria-valuetext", "123.4 mm")
    bench.get_by_role("button", name="Start again").click()
