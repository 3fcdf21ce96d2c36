"""No answer that was said to be saved is lost, and no file is ever half written, whenever a process is killed."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROUNDS = 130


@pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are forked here, which this system does not do")
def test_savers_killed_at_random_moments_lose_nothing_that_they_reported(tmp_path):
    """260 real processes, two at a time on one file as two tabs are; with SIGKILL, which nothing can catch."""
    run = subprocess.run(
        [sys.executable, "-m", "tests.kill_savers", str(tmp_path), str(ROUNDS), "7"],
        cwd=Path(__file__).parents[1], capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    counted = json.loads(run.stdout)
    assert counted["killed"] == 2 * ROUNDS
    assert counted["lost"] == 0, counted
    assert counted["left over"] == 0, "leftovers of crashes pile up"
    # Else the moments were no moments of saving, and this shows nothing.
    assert counted["in the middle"] >= 20, counted
    assert counted["saved"] >= 100, counted
