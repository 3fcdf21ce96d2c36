"""What a person types never becomes markup or mathematics on a page, and using the library does nothing else.

No file, no print, no change of the environment, no word to the network.
"""

import ast
import os
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import ipywidgets
import pytest

from latheworks.widgets.sizes import SizeControl
from tests.benches import MAKERS

pytestmark = pytest.mark.usefixtures("benches")

PACKAGE = Path(__file__).parents[1] / "latheworks"
PAYLOADS = (
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", '" onmouseover="alert(1)', "&lt;b&gt;",
    "</textarea><b>", "$x^{", "\\frac{1}{2}", "\u202e5 mm", "`x`", "nul\x00",
)  # fmt: skip
MODULES = sorted(path for path in PACKAGE.rglob("*.py"))


class Page(HTMLParser):
    """Tags and attributes of everything a bench puts on the page."""

    def __init__(self, html):
        super().__init__()
        self.tags, self.names = set(), set()
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.names |= {name for name, _ in attrs}


def html_of(widget):
    """The text of every HTML widget below one, and of itself."""
    found = [widget.value] if isinstance(widget, ipywidgets.HTML) else []
    return found + [text for child in getattr(widget, "children", ()) for text in html_of(child)]


@pytest.mark.parametrize("kind", MAKERS)
def test_text_typed_into_any_box_stays_text(kind):
    """Angle brackets, handlers, formulas, bidirectional signs: refused in a sentence that is escaped."""
    bench = MAKERS[kind]()
    shown = list(html_of(bench.box))
    clean = Page("".join(shown))
    typed = [item.name for item in bench.controls.values() if isinstance(item, SizeControl)]
    assert shown
    for name in typed:
        for payload in PAYLOADS:
            bench.enter(name, payload)
            assert bench.error
            page = Page("".join(html_of(bench.box)))
            assert not page.tags & {"script", "textarea", "b"}
            assert not {each for each in page.names - clean.names if each.startswith("on")}
            assert "<script>alert" not in "".join(html_of(bench.box))
    bench.start_again()
    assert not bench.error


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_control_takes_markup_as_its_label(path):
    """Labels are text: the switch that lets them hold markup is never used, and no widget reads formulas."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    words = {node.arg for node in ast.walk(tree) if isinstance(node, ast.keyword)}
    names = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    assert "description_allow_html" not in words | names
    assert not {"HTMLMath", "Output"} & (names | {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)})


WATCHED = """
import sys

def watch(event, args):
    if event.startswith(("socket.connect", "socket.getaddrinfo", "socket.sendto", "urllib")):
        raise SystemExit(f"the network was asked: {event}")
    if event == "open" and isinstance(args[1], str) and set(args[1]) & set("wax+"):
        raise SystemExit(f"a file was written: {args[0]}")

sys.addaudithook(watch)
import os
before = dict(os.environ)
import latheworks, latheworks.threads, latheworks.deflection, latheworks.drilling, latheworks.passes
import latheworks.cutting, latheworks.budget, latheworks.plan, latheworks.course
from latheworks.plan import barrel_plan, review, setup_sheet
from latheworks.threads import infeed
assert dict(os.environ) == before, "the environment was changed"
found = review(barrel_plan())
assert found.features and "<svg" in setup_sheet(barrel_plan())
assert infeed("M16x1.5-6g").passes > 3
"""


def test_importing_and_using_the_library_does_nothing_else(tmp_path):
    """In an empty folder that cannot be written to, every warning an error: no print, no file, no network."""
    home = tmp_path / "home"
    home.mkdir()
    home.chmod(0o500)
    env = {**os.environ, "HOME": str(home), "PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(PACKAGE.parent)}
    done = subprocess.run([sys.executable, "-W", "error", "-c", WATCHED], cwd=home, env=env, capture_output=True,
                          text=True, check=False)  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert list(home.iterdir()) == []


@pytest.mark.parametrize("trouble", [
    "import socket; socket.create_connection(('127.0.0.1', 9))", "open('new.txt', 'w')",
])  # fmt: skip
def test_the_watch_sees_what_it_looks_for(trouble, tmp_path):
    done = subprocess.run([sys.executable, "-c", WATCHED.split("import os\n")[0] + trouble], cwd=tmp_path,
                          capture_output=True, text=True, check=False)  # fmt: skip
    assert done.returncode == 1
    assert "was asked" in done.stderr or "was written" in done.stderr
