"""What a page gives to those who do not see it: the faults that axe-core finds in our own markup."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# JupyterLab's own parts of the page are not ours to mend; these are what benches, exercises and results put on it.
OURS = (".lw-bench", ".lw-exercise", ".jp-RenderedHTMLCommon table")


def grave_faults(page: Page, whole: bool = False) -> list[str]:
    """Serious and critical faults in what is ours, or in the whole page; each with the place it was found at."""
    ours = [[part] for part in (("html",) if whole else OURS) if page.locator(part).count()]
    assert ours, "nothing of ours is on this page"
    found = Axe().run(page, context={"include": ours}, options={"resultTypes": ["violations"]}).response
    return [
        f"{rule['id']} ({rule['impact']}): {node['html'][:200]}"
        for rule in found["violations"]
        if rule["impact"] in ("serious", "critical")
        for node in rule["nodes"]
    ]
