"""The floors of the house: imports point down, heavy libraries stay upstairs, files are short, importing is quick."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "latheworks"
LONGEST = 300
# Every room and the floor it stands on; a module belongs to the room with the longest matching name.
FLOORS = {
    "latheworks.units": 0, "latheworks.errors": 0, "latheworks.tables": 0, "latheworks.working": 0,
    "latheworks.door": 0, "latheworks.reading": 0, "latheworks.results": 0, "latheworks.quick_schema": 0,
    "latheworks": 1,  # the names the package itself shows
    "latheworks.threads": 1, "latheworks.deflection": 1, "latheworks.drilling": 1, "latheworks.cutting": 1,
    "latheworks.materials": 1, "latheworks.shop": 1, "latheworks.budget": 1, "latheworks.drill_sets": 1,
    "latheworks.shop_file": 1, "latheworks.tool_rack": 1, "latheworks.rack_tool": 1, "latheworks.passes": 1,
    "latheworks.plan": 2, "latheworks.course": 2, "latheworks.glimpse": 2, "latheworks.opening": 2,
    "latheworks.prompt_link": 2, "latheworks.ready_kernel": 2, "latheworks.commands": 2,
    "latheworks.__main__": 2,
    "latheworks.pictures": 3,
    "latheworks.widgets": 4,
}  # fmt: skip
# Libraries and the lowest floor that may import them; pyplot keeps figures of its own, so nobody may.
UPSTAIRS = {"matplotlib": 3, "ipywidgets": 4, "traitlets": 4, "IPython": 4, "matplotlib.pyplot": 99, "pylab": 99}
REGISTRY_HOME = "latheworks.units"


def name_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


SOURCES = {name_of(path): path.read_text(encoding="utf-8") for path in sorted(PACKAGE.rglob("*.py"))}


def floor_of(module: str, rooms: dict[str, int]) -> int | None:
    """The floor of a module, or None; only the package's own front page belongs to the room 'latheworks'."""
    if module in rooms:
        return rooms[module]
    parts = module.split(".")
    above = (".".join(parts[:n]) for n in range(len(parts) - 1, 1, -1))
    return next((rooms[room] for room in above if room in rooms), None)


def imports(module: str, tree: ast.AST) -> set[str]:
    """Everything a module imports, wherever in the file, with names that are modules written in full."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            package = module.split(".")[: -node.level] if node.level else []
            base = ".".join([*package, *((node.module or "").split(".") if node.module else [])])
            inner = {f"{base}.{alias.name}" for alias in node.names}
            modules = {name for name in inner if name in SOURCES or name in UPSTAIRS or name.split(".")[0] in UPSTAIRS}
            found |= modules or {base}
    return found


def faults(module: str, source: str) -> list[str]:
    """What a module does that its floor does not allow."""
    tree, floor = ast.parse(source), floor_of(module, FLOORS)
    if floor is None:
        return [f"{module} has no floor: give its room one in tests/test_floors.py"]
    found = []
    for name in sorted(imports(module, tree)):
        if name.split(".")[0] == "latheworks":
            other = floor_of(name, FLOORS)
            if other is None or other > floor:
                found.append(f"{module} on floor {floor} climbs to {name} on floor {other}")
        found += [f"{module} on floor {floor} imports {name}" for library, lowest in UPSTAIRS.items()
                  if floor < lowest and (name == library or name.startswith(f"{library}."))]  # fmt: skip
    makes = {node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", None) for node in ast.walk(tree)}
    if module != REGISTRY_HOME and ("UnitRegistry" in makes or "pint" in imports(module, tree)):
        found.append(f"{module} reaches for a unit registry of its own")
    return found


@pytest.mark.parametrize("module", SOURCES)
def test_a_module_keeps_to_its_floor(module):
    assert faults(module, SOURCES[module]) == []


@pytest.mark.parametrize(("module", "source", "said"), [
    ("latheworks.attic", "", "no floor"),
    ("latheworks.tables.inner", "import latheworks.threads.thread", "climbs"),
    ("latheworks.units", "from latheworks.materials import material", "climbs"),
    ("latheworks.errors", "from latheworks import threads", "climbs"),
    ("latheworks.deflection.bend", "def f():\n    from latheworks import widgets", "climbs"),
    ("latheworks.course.check", "from ..widgets import exercise", "climbs"),
    ("latheworks.threads.thread", "from matplotlib.figure import Figure", "imports matplotlib"),
    ("latheworks.course.check", "import matplotlib", "imports matplotlib"),
    ("latheworks.pictures.bar", "from matplotlib import pyplot as plt", "imports matplotlib.pyplot"),
    ("latheworks.widgets.bench", "import matplotlib.pyplot", "imports matplotlib.pyplot"),
    ("latheworks.pictures.bar", "import ipywidgets", "imports ipywidgets"),
    ("latheworks.materials", "from pint import UnitRegistry", "registry"),
    ("latheworks.widgets.bench", "import pint\nureg = pint.UnitRegistry()", "registry"),
])  # fmt: skip
def test_each_rule_bites(module, source, said):
    assert said in " ".join(faults(module, source))


def test_a_lower_floor_is_open_to_all_above():
    assert faults("latheworks.widgets.bench", "from latheworks.units import Q_\nimport ipywidgets, numpy") == []


def test_importing_the_package_brings_none_of_the_heavy_libraries():
    rooms = "latheworks, latheworks.threads, latheworks.deflection, latheworks.drilling, latheworks.course"
    heavy = "('matplotlib', 'ipywidgets', 'pandas', 'IPython', 'sympy')"
    code = f"import sys; import {rooms}; print([name for name in {heavy} if name in sys.modules])"
    assert subprocess.check_output([sys.executable, "-c", code], text=True).strip() == "[]"


def test_what_a_lesson_imports_leaves_alone_what_few_cells_need():
    """Where a grammar of web addresses is installed, jsonschema alone takes as long as all the rest."""
    unwanted = "('jsonschema', 'pandas', 'sympy', 'matplotlib.pyplot')"
    code = f"import sys, latheworks.widgets; print([name for name in {unwanted} if name in sys.modules])"
    assert subprocess.check_output([sys.executable, "-c", code], text=True).strip() == "[]"


def written_files():
    folders = [PACKAGE, ROOT / "tests", ROOT / "binder", ROOT / ".ci"]
    paths = [*ROOT.glob("*"), *(path for folder in folders for path in folder.rglob("*"))]
    return [path for path in paths if path.is_file() and path.suffix in {".py", ".md", ""}]


def test_no_file_is_too_long():
    lines = {str(path.relative_to(ROOT)): path.read_text(encoding="utf-8").count("\n") + 1 for path in written_files()}
    assert len(lines) > 60
    assert {name: count for name, count in lines.items() if count > LONGEST} == {}


def test_importing_costs_little_more_than_the_libraries_it_stands_on():
    """At most 1.3 times numpy, pint and pint's stock registry, the best of several, turn by turn in one run."""
    clock = "import time; start = time.perf_counter(); {}; print(time.perf_counter() - start)"
    ours, stock = "import latheworks", "import numpy, pint; pint.UnitRegistry()"
    times = {ours: [], stock: []}
    for _ in range(5):
        for what, taken in times.items():
            taken.append(float(subprocess.check_output([sys.executable, "-c", clock.format(what)], text=True)))
    assert min(times[ours]) <= 1.3 * min(times[stock]), times
