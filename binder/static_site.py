"""Build the lessons as plain files, with a kernel in the reader's own browser: `python -m binder.static_site OUT`."""

import argparse
import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from binder.site_pages import WHAT_WORKS, front_page, lesson_for_site, what_works
from binder.site_parts import START, Refused, gather, runtime_version

ROOT = Path(__file__).parents[1]
EXTENSIONS = ("@jupyter-widgets/jupyterlab-manager", "@jupyterlite/pyodide-kernel-extension")
KERNEL = "@jupyterlite/pyodide-kernel-extension:kernel"
# As the page itself asks for it a little later.
WORKER = "service-worker.js?enableCache=false"
MARK = "latheworks-site.json"


def build(out: Path, runtime: Path | None = None) -> tuple[str, ...]:
    """Build the site in a folder that is new, empty, or an earlier site; return the libraries that it lacks."""
    if out.exists() and (not out.is_dir() or (any(out.iterdir()) and not (out / MARK).is_file())):
        raise Refused(f"{out}: this is there already and is not an earlier site. Give the name of a new folder.")
    with tempfile.TemporaryDirectory() as work:
        lite, done = Path(work) / "lite", Path(work) / "site"
        lite.mkdir()
        missing = gather(lite / "static" / "pyodide", Path(work) / "fetched", ROOT, runtime)
        _contents(Path(work) / "contents", missing)
        _settings(lite, Path(work) / "contents")
        _jupyter_lite(lite, done)
        # Wheels are found through the runtime's own list; the kernel's second list would only hold them twice.
        shutil.rmtree(done / "extensions" / EXTENSIONS[1] / "static" / "pypi")
        _keep_files_first(done / "lab" / "index.html")
        (done / "index.html").write_text(front_page(ROOT / "lessons", missing), encoding="utf-8")
        (done / MARK).write_text(json.dumps({"runtime": runtime_version(), "missing": missing}) + "\n", "utf-8")
        if out.exists():
            shutil.rmtree(out)
        shutil.copytree(done, out)
    return missing


def _contents(folder: Path, missing: tuple[str, ...]) -> None:
    """The lessons as the site shows them, and what can be tried where they cannot run."""
    shutil.copytree(ROOT / "lessons" / "pictures", folder / "pictures")
    (folder / "homework").mkdir()
    for path in sorted([*(ROOT / "lessons").glob("*.ipynb"), *(ROOT / "lessons" / "homework").glob("*.ipynb")]):
        lesson = lesson_for_site(json.loads(path.read_text(encoding="utf-8")), missing)
        (folder / path.relative_to(ROOT / "lessons")).write_text(json.dumps(lesson, indent=1), encoding="utf-8")
    if missing:
        (folder / WHAT_WORKS).write_text(json.dumps(what_works(), indent=1), encoding="utf-8")


def _settings(lite: Path, contents: Path) -> None:
    """What the page is built of, and a kernel that asks nobody outside."""
    labextensions = Path(sys.prefix) / "share" / "jupyter" / "labextensions"
    absent = [name for name in EXTENSIONS if not (labextensions / name).is_dir()]
    if absent:
        raise Refused(f'{", ".join(absent)}: not installed here. Try: pip install -e ".[site]"')
    parts = {
        "apps": ["lab"],
        "contents": [str(contents)],
        "ignore_sys_prefix": ["federated_extensions"],
        "federated_extensions": [str(labextensions / name) for name in EXTENSIONS],
        "no_sourcemaps": True,
        "no_unused_shared_packages": True,
    }
    kernel = {"disablePyPIFallback": True, "loadPyodideOptions": {"packages": list(START)}}
    page = {"appName": "Latheworks", "litePluginSettings": {KERNEL: kernel}}
    quiet = {"fetchNews": "false", "checkForUpdates": False}
    for name, what in (
        ("jupyter_lite_config.json", {"LiteBuildConfig": parts}),
        ("jupyter-lite.json", {"jupyter-lite-schema-version": 0, "jupyter-config-data": page}),
        ("overrides.json", {"@jupyterlab/apputils-extension:notification": quiet}),
    ):
        (lite / name).write_text(json.dumps(what, indent=1), encoding="utf-8")


def _jupyter_lite(lite: Path, out: Path) -> None:
    command = [sys.executable, "-m", "jupyterlite_core", "build", "--lite-dir", ".", "--output-dir", str(out)]
    done = subprocess.run(command, cwd=lite, capture_output=True, text=True)
    if done.returncode:
        raise Refused(f"JupyterLite could not build the site:\n{(done.stdout + done.stderr)[-4000:]}")


def _keep_files_first(page: Path) -> None:
    """Let the page start after the worker that keeps files; a kernel that is sooner would write where nothing lasts."""
    before, start, after = page.read_text(encoding="utf-8").partition("await import(")
    if not start or start in after:
        raise Refused("JupyterLite's page starts in another way than the one known here. Look at _keep_files_first.")
    first = f"await navigator.serviceWorker?.register('../{WORKER}')"
    first += ".then(() => navigator.serviceWorker.ready).catch(console.warn);\n        "
    page.write_text(before + first + start + after, encoding="utf-8")


def main(argv: list[str] | None = None) -> int:
    """Read the command, build, and say what came of it."""
    reader = argparse.ArgumentParser(prog="python -m binder.static_site", description=__doc__)
    reader.add_argument("out", type=Path, metavar="OUT", help="the folder for the site: a new one, or an earlier site")
    reader.add_argument("--runtime", type=Path, metavar="FOLDER", help="the full Pyodide distribution, unpacked")
    asked = reader.parse_args(argv)
    try:
        missing = build(asked.out, asked.runtime)
    except Refused as error:
        print(error, file=sys.stderr)
        return 1
    print(f"The site is in {asked.out}. To look at it: python -m http.server --directory {asked.out} 8000")
    if missing:
        print(
            f"It lacks {', '.join(missing)}: lessons can be read there, but not run. binder/README.md says how to add "
            f"them, from the full Pyodide distribution {runtime_version()}."
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
