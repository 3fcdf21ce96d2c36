"""Opening JupyterLab at lesson 00: on this machine only, behind its token, in whatever place we were started."""

import json
import os
import re
import secrets
import signal
import sys
import webbrowser
from pathlib import Path
from typing import Any
from urllib.parse import quote

from latheworks.course.variant import variant
from latheworks.errors import LatheworksError
from latheworks.quick_schema import jsonschema

FIRST_LESSON = "00*.ipynb"
HOMEWORK = "homework"
_LESSON = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,79}")
# How many further ports are tried when the one asked for is taken.
PORTS_TRIED = 50
# A layout of our own, so that tabs left open in somebody's other work do not come up here.
LAYOUT = "latheworks"
NEWS = "@jupyterlab/apputils-extension:announcements"


def find_lesson(package: Path | None = None, here: Path | None = None) -> Path | None:
    """Return the first lesson: beside the package's checkout, else in the current folder, else None."""
    beside = (package or Path(__file__).resolve().parent).parent / "lessons"
    current = here or Path.cwd()
    for folder in (beside, current / "lessons", current):
        found = sorted(folder.glob(FIRST_LESSON))
        if found:
            return found[0].resolve()
    return None


def lesson_called(name: str, folder: Path) -> Path:
    """Return the lesson or homework of a folder that is called so: 01, h1, ready or the name of its file."""
    stem = name.removesuffix(".ipynb")
    known = [path for where in (folder, folder / HOMEWORK) for path in sorted(where.glob("*.ipynb"))]
    known = [path for path in known if _LESSON.fullmatch(path.stem)]
    chosen = [path for path in known if stem in _called(path)]
    if len(chosen) != 1:
        listed = ", ".join(path.stem for path in known)
        raise LatheworksError(f"There is no lesson {stem!r:.60}. Try one of {listed or 'another folder'}.")
    return chosen[0]


def _called(path: Path) -> set[str]:
    """What a lesson or a homework may be called: its name, and what its exercises begin with: 01, h1, ready."""
    first = path.stem.partition("_")[0]
    return {path.stem, {"readiness": "ready"}.get(first, f"h{first}") if path.parent.name == HOMEWORK else first}


def has_browser() -> bool:
    """Whether a browser with a window can be started here; one that runs in the terminal would take it over."""
    if sys.platform.startswith("linux") and not any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER")
    ):
        return False
    try:
        webbrowser.get()
    except webbrowser.Error:
        return False
    return True


def is_root() -> bool:
    """Whether this process runs as root, which a container usually does."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def arguments(lesson: Path, port: int, browser: bool, token: str) -> list[str]:
    """What JupyterLab is told: loopback only, token on, no list of extensions fetched from the network."""
    told = {
        "ServerApp.ip": "127.0.0.1",
        "ServerApp.port": port,
        "ServerApp.port_retries": PORTS_TRIED,
        "ServerApp.root_dir": root_of(lesson),
        "ServerApp.open_browser": browser,
        "ServerApp.allow_root": is_root(),
        "ServerApp.kernel_websocket_connection_class": "latheworks.prompt_link.PromptLink",
        "ServerApp.kernel_manager_class": "latheworks.ready_kernel.ReadyKernels",
        # Else the kernel warns whoever reads the terminal that others on this machine might listen.
        "ReadyKernels.transport_encryption": "auto",
        "IdentityProvider.token": token,
        "LabApp.default_url": landing(lesson),
        "LabApp.extension_manager": "readonly",
        "Application.log_level": "ERROR",
    }
    return [f"--{name}={value}" for name, value in told.items()]


def root_of(lesson: Path) -> Path:
    """The folder that the page begins in: that of the lessons, for a homework too."""
    return lesson.parent.parent if lesson.parent.name == HOMEWORK else lesson.parent


def landing(lesson: Path) -> str:
    """The page that opens: the lesson, in our own layout."""
    return f"/lab/workspaces/{LAYOUT}/tree/{quote(lesson.relative_to(root_of(lesson)).as_posix())}"


def lay_out(lesson: Path) -> None:
    """Put the lesson into our layout, where nobody has left one yet.

    Without a layout that holds it JupyterLab opens a notebook about a second later, after it has kept an empty one. A
    later version that reads layouts otherwise opens it then, by the address of the page.
    """
    from jupyterlab.commands import get_workspaces_dir  # type: ignore[import-untyped]
    from jupyterlab_server.workspaces_handler import WorkspacesManager

    layouts, place = WorkspacesManager(get_workspaces_dir()), lesson.relative_to(root_of(lesson)).as_posix()
    if not layouts.load(LAYOUT)["data"]:
        tab = f"notebook:{place}"
        main = {"dock": {"type": "tab-area", "currentIndex": 0, "widgets": [tab]}, "current": tab}
        # The list of files beside it: that is the way to the other lessons.
        left = {"collapsed": False, "visible": True, "current": "filebrowser", "widgets": ["filebrowser"]}
        layout = {"main": main, "left": left, "relativeSizes": [0.2, 0.8, 0]}
        opened = {"layout-restorer:data": layout, tab: {"data": {"path": place, "factory": "Notebook"}}}
        layouts.save(LAYOUT, json.dumps({"data": opened, "metadata": {"id": LAYOUT}}))


def quick_page(_: Any, page: dict[str, Any]) -> dict[str, Any]:
    """The page's settings without JupyterLab's question about news, since lessons ask nothing of the network.

    And without its look at whether it should be built anew, which keeps the server busy while a lesson opens.
    """
    return {**page, "buildCheck": False, "disabledExtensions": [*page.get("disabledExtensions", ()), NEWS]}


def sentences(link: str, asked: int, port: int, browser: bool) -> str:
    """What the person reads: notices first, then the link on a line of its own."""
    lines = []
    if is_root():
        lines.append("You are root here, as in most containers. JupyterLab refuses root unless told; it was told.")
    if port != asked:
        lines.append(f"Port {asked} is taken, so this is port {port}.")
    lines.append("Your browser should open by itself. If it does not, open this link:" if browser else
                 "No browser is started from here. Open this link in one on this machine:")  # fmt: skip
    return "\n".join([*lines, "", f"    {link}", "", "Ctrl-C here closes the lessons."])


def use_keys(student: str | None, group: str | None) -> str:
    """Check the keys that the lessons will use and hand those given to them; return what is wrong, or nothing."""
    try:
        # Making any numbers tries the keys, and the course key or pass with them.
        variant("00.any", student, group=group)
    except LatheworksError as error:
        return str(error)
    # Every notebook that is started from here inherits them.
    given = {"LATHEWORKS_STUDENT": student, "LATHEWORKS_GROUP": group}
    os.environ.update({name: key for name, key in given.items() if key is not None})
    return ""


def open_lessons(port: int = 8888, browser: bool = True, lesson: Path | None = None) -> int:
    """Start JupyterLab at a lesson, the first unless told, and stay until Ctrl-C; return 0, or 1 without lessons."""
    lesson = lesson or find_lesson()
    if lesson is None:
        print(
            "No lessons found: the folder 'lessons' is neither beside the latheworks package nor where you are now.\n"
            "Go to the folder that holds README.md and lessons, and run this again.",
            file=sys.stderr,
        )
        return 1
    shown = browser and has_browser()
    # JupyterLab imports it too, and would wait for its grammar.
    jsonschema()
    # Imported late: --help and the glimpse should not wait for it.
    from jupyterlab.labapp import LabApp  # type: ignore[import-untyped]

    try:
        token = secrets.token_hex(24)
        server = LabApp.initialize_server(argv=arguments(lesson, port, shown, token))
        server.web_app.settings["page_config_hook"] = quick_page
        lay_out(lesson)
        link = f"http://127.0.0.1:{server.port}{landing(lesson)}?token={token}"
        # One Ctrl-C closes it, kernels and all, with no question: answers are kept the moment they are given.
        signal.signal(signal.SIGINT, lambda *_: server.stop(from_signal=True))
        # Queued behind the server's own start, so that the link works when it is read.
        server.io_loop.add_callback(print, sentences(link, port, server.port, shown), flush=True)
        server.io_loop.add_callback(server.kernel_manager.make_ready)
        server.start()
    except KeyboardInterrupt:
        pass
    print("\nThe lessons are closed.")
    return 0
