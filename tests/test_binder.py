"""What a hosted copy is built from: repo2docker reads it, and the version is the same wherever it is written."""

import subprocess
import sys
import tomllib
from pathlib import Path

import yaml

import latheworks

ROOT = Path(__file__).parents[1]


def test_repo2docker_reads_binder_and_installs_the_package():
    command = [sys.executable, "-m", "repo2docker", "--no-build", "--no-run", "--debug", str(ROOT)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    said = done.stdout + done.stderr
    assert done.returncode == 0, said
    assert 'pip install --no-cache-dir -r "binder/requirements.txt"' in said
    assert "environment for python=3.11" in said
    lines = (ROOT / "binder/requirements.txt").read_text(encoding="utf-8").splitlines()
    assert [line for line in lines if not line.startswith("#")] == ["."]


def test_the_version_is_the_same_everywhere():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    cited = yaml.safe_load((ROOT / "CITATION.cff").read_text(encoding="utf-8"))
    assert latheworks.__version__ == project["version"] == cited["version"]
    assert f"## {project['version']}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    assert cited["license"] == project["license"].split(" AND ")
    needed = {"cff-version", "message", "title", "authors"}  # required by the Citation File Format 1.2.0
    assert needed <= set(cited)
