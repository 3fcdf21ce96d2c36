"""What the site's kernel is made of: the Pyodide runtime, the wheels that it loads, and its list of them."""

import hashlib
import json
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from dataclasses import dataclass
from email.parser import HeaderParser
from pathlib import Path
from typing import Any

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name, parse_wheel_filename

RUNTIME = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip")
LIST = "pyodide-lock.json"
# Loaded together with the runtime, so that the kernel need not look for them one by one.
START = ("micropip", "piplite", "ipykernel", "comm", "pyodide-kernel", "jedi", "ipython")
# Asked for by a wheel, and part of the page instead.
NOT_IN_THE_KERNEL = {"jupyterlab", "jupyterlab-widgets", "widgetsnbextension"}


class Refused(Exception):
    """Something the site cannot be built from, in words for whoever builds it."""


@dataclass(frozen=True)
class Wheel:
    """One wheel in the site: its name, its file, and its entry in the list."""

    name: str
    path: Path
    entry: dict[str, Any]


def runtime_version() -> str:
    """The version of Pyodide that the kernel was made for."""
    from jupyterlite_pyodide_kernel.constants import PYODIDE_VERSION

    return PYODIDE_VERSION


def gather(into: Path, fetched: Path, project: Path, given: Path | None = None) -> tuple[str, ...]:
    """Put runtime, wheels and a list of just these into one folder; return the compiled libraries that are missing.

    Parameters: into, the folder to fill; fetched, a folder for downloads; project, the folder of pyproject.toml;
    given, a folder with the full Pyodide distribution, or None. Raises Refused.
    """
    fetched.mkdir(parents=True, exist_ok=True)
    runtime = _given_runtime(given) if given else _npm_runtime(fetched)
    known = json.loads((runtime / LIST).read_text(encoding="utf-8"))
    found, missing = _Shelf(runtime, known, fetched).collect(_ours(project, fetched))
    into.mkdir(parents=True)
    for source in (*(runtime / name for name in RUNTIME), *(wheel.path for wheel in found.values())):
        shutil.copy(source, into)
    known["packages"] = {name: wheel.entry for name, wheel in sorted(found.items())}
    (into / LIST).write_text(json.dumps(known, indent=1), encoding="utf-8")
    return missing


def _given_runtime(folder: Path) -> Path:
    """The folder given, if it is the distribution of the right version, whole or unpacked one folder deeper."""
    inner = folder / "pyodide"
    folder = inner if (inner / LIST).is_file() else folder
    absent = [name for name in (*RUNTIME, LIST) if not (folder / name).is_file()]
    if absent:
        raise Refused(
            f"{folder}: {', '.join(absent)} not found, expected the full Pyodide distribution {runtime_version()}, "
            "unpacked. binder/README.md says where it is to be had."
        )
    if f'"{runtime_version()}"' not in (folder / "pyodide.mjs").read_text(encoding="utf-8"):
        raise Refused(f"{folder}: this is another version of Pyodide, expected {runtime_version()}.")
    return folder


def _npm_runtime(fetched: Path) -> Path:
    """The npm package, which holds the runtime without any wheels; npm checks what arrives."""
    npm = shutil.which("npm")
    if npm is None:
        raise Refused("npm: not found. Install it, or give the full Pyodide distribution with --runtime.")
    command = [npm, "pack", f"pyodide@{runtime_version()}", "--silent", "--ignore-scripts"]
    done = subprocess.run(command, cwd=fetched, capture_output=True, text=True)
    if done.returncode:
        raise Refused(f"npm could not fetch pyodide {runtime_version()}:\n{done.stderr[-2000:]}")
    with tarfile.open(fetched / done.stdout.strip().splitlines()[-1]) as package:
        package.extractall(fetched, filter="data")
    return fetched / "package"


def _ours(project: Path, fetched: Path) -> list[Path]:
    """Our own wheel, and the kernel's, which come with its page extension."""
    source = fetched / "source"
    # Built from a copy, since building leaves folders behind.
    for name in ("latheworks", "pyproject.toml", "README.md", "LICENSE"):
        if (project / name).is_dir():
            shutil.copytree(project / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(project / name, source)
    _pip("wheel", "--no-deps", "--wheel-dir", str(fetched / "ours"), str(source))
    extension = Path(sys.prefix) / "share/jupyter/labextensions/@jupyterlite/pyodide-kernel-extension/static/pypi"
    mocks = [path for path in extension.glob("*.whl") if not path.name.startswith("widgetsnbextension")]
    return [*(fetched / "ours").glob("latheworks-*.whl"), *mocks]


def _pip(*arguments: str) -> None:
    command = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", *arguments]
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode:
        raise Refused(f"pip could not fetch what the site needs:\n{done.stderr[-2000:]}")


class _Shelf:
    """Where wheels come from: the runtime's folder, else pip; what is compiled comes from the folder only."""

    def __init__(self, runtime: Path, known: dict[str, Any], fetched: Path) -> None:
        self.runtime, self.known, self.fetched = runtime, known["packages"], fetched / "wheels"
        self.python = known["info"]["python"]

    def collect(self, ours: list[Path]) -> tuple[dict[str, Wheel], tuple[str, ...]]:
        """Our wheels and all that they need, and the names of those that are nowhere to be had."""
        found: dict[str, Wheel] = {}
        missing: set[str] = set()
        wanted = {name: Requirement(name) for name in START}
        arrived = [self._read(path) for path in ours]
        while arrived or wanted:
            found |= {wheel.name: wheel for wheel in arrived}
            for wheel in arrived:
                wanted |= self._asks(wheel)
            wanted = {name: need for name, need in wanted.items() if name not in found and name not in missing}
            lost = {name for name in wanted if self._compiled(name) and not self._on_the_shelf(name)}
            missing |= lost
            arrived = self._fetch([need for name, need in wanted.items() if name not in lost])
            wanted = {}
        for wheel in found.values():
            wheel.entry["depends"] = sorted(set(self._asks(wheel)) & set(found))
        return found, tuple(sorted(missing))

    def _compiled(self, name: str) -> bool:
        return name in self.known and "-none-any." not in self.known[name]["file_name"]

    def _on_the_shelf(self, name: str) -> bool:
        return name in self.known and (self.runtime / self.known[name]["file_name"]).is_file()

    def _fetch(self, needs: list[Requirement]) -> list[Wheel]:
        """One wheel for each need, in the version that the runtime's list names where it names one."""
        taken, lines = [], []
        for need in needs:
            name = canonicalize_name(need.name)
            listed = self.known.get(name)
            if listed and not need.specifier.contains(listed["version"], prereleases=True):
                raise Refused(f"{need}: Pyodide {runtime_version()} has {listed['version']}, which does not fit.")
            if self._on_the_shelf(name):
                taken.append(self._take(name))
            else:
                lines.append(f"{name}=={listed['version']}" if listed else f"{name}{need.specifier}")
        if lines:
            before = set(self.fetched.glob("*.whl"))
            # Only wheels for any machine: nothing is built and nothing of this machine gets in.
            _pip("download", "--no-deps", "--only-binary=:all:", "--implementation=py", "--abi=none", "--platform=any",
                 "--python-version", self.python, "--dest", str(self.fetched), *lines)  # fmt: skip
            taken += [self._read(path) for path in sorted(set(self.fetched.glob("*.whl")) - before)]
        return taken

    def _take(self, name: str) -> Wheel:
        """A wheel of the distribution, with its own entry, if it is what the list says."""
        entry = dict(self.known[name])
        path = self.runtime / entry["file_name"]
        if hashlib.sha256(path.read_bytes()).hexdigest() != entry["sha256"]:
            raise Refused(f"{path}: this file is not the one in {LIST}. Unpack the distribution again.")
        return Wheel(name, path, entry)

    def _read(self, path: Path) -> Wheel:
        """Any other wheel, with an entry made from what is in it."""
        name, version, *_ = parse_wheel_filename(path.name)
        with zipfile.ZipFile(path) as wheel:
            tops = {line.partition("/")[0] for line in wheel.namelist()}
        tops = {top.removesuffix(".py") for top in tops if not re.search(r"\.(dist-info|data)$", top)}
        entry = {
            "name": name, "version": str(version), "file_name": path.name, "install_dir": "site",
            "sha256": hashlib.sha256(path.read_bytes()).hexdigest(), "package_type": "package",
            "imports": sorted(top for top in tops if top.isidentifier()), "depends": [], "unvendored_tests": False,
        }  # fmt: skip
        return Wheel(name, path, entry)

    def _asks(self, wheel: Wheel) -> dict[str, Requirement]:
        """What a wheel asks for in this runtime, by name."""
        if wheel.path.parent == self.runtime:
            asked = {canonicalize_name(name): Requirement(name) for name in self.known[wheel.name]["depends"]}
        else:
            asked = self._requires(wheel.path)
        return {name: need for name, need in asked.items() if name not in NOT_IN_THE_KERNEL}

    def _requires(self, path: Path) -> dict[str, Requirement]:
        """What the metadata of a wheel asks for."""
        with zipfile.ZipFile(path) as opened:
            inside = next(name for name in opened.namelist() if re.fullmatch(r"[^/]+\.dist-info/METADATA", name))
            head = HeaderParser().parsestr(opened.read(inside).decode("utf-8"))
        here = {
            "python_version": ".".join(self.python.split(".")[:2]), "python_full_version": self.python, "extra": "",
            "sys_platform": "emscripten", "platform_system": "Emscripten", "platform_machine": "wasm32",
            "os_name": "posix", "implementation_name": "cpython", "platform_python_implementation": "CPython",
        }  # fmt: skip
        needs = [Requirement(line) for line in head.get_all("Requires-Dist", [])]
        return {canonicalize_name(need.name): need for need in needs if not need.marker or need.marker.evaluate(here)}
