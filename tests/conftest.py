"""What all tests share: a loud word at the end of the run when the browser tests were left out."""

import os
import shutil

import pytest

# Helpers that assert: a failure in them shows its values too.
pytest.register_assert_rewrite("tests.benches", "tests.printed")

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
# .ci/run sets LATHEWORKS_BROWSER=required: there a missing browser is a failure, not a remark.
NO_PARTS = "npm or pip fetched nothing for the static site; install npm, or look at the network"
NO_BROWSER = "no Chromium on this machine; on Debian: apt-get install chromium"


def chromium() -> str | None:
    """The path of a Chromium of this machine's own, or None."""
    return next((path for name in BROWSERS if (path := shutil.which(name))), None)


def browser_is_required() -> bool:
    """Whether a missing browser fails the run."""
    return os.environ.get("LATHEWORKS_BROWSER") == "required"


@pytest.fixture
def benches(monkeypatch):
    """Benches raise faults of their own; afterwards all are closed, and the shared switches stand as before."""
    from latheworks.widgets import bench as bench_module  # not for every test: it takes a while to import
    from latheworks.widgets import display_system

    monkeypatch.setattr(bench_module, "STRICT", True)
    yield
    for bench in list(bench_module._open):
        bench.close()
    display_system.system, display_system.projector = "metric", False


def pytest_terminal_summary(terminalreporter):
    """Name every browser test that was left out; under xdist the reports of all workers arrive here."""
    skipped = terminalreporter.stats.get("skipped", ())
    say = terminalreporter.write_line
    for reason in (NO_BROWSER, NO_PARTS):
        left_out = sorted({report.nodeid for report in skipped if reason in str(report.longrepr)})
        if left_out:
            terminalreporter.section("BROWSER TESTS LEFT OUT", sep="!", red=True, bold=True)
            say(f"{len(left_out)} tests did NOT run: {reason}, and run again.", red=True)
            for name in left_out:
                say(f"  {name}", red=True)
