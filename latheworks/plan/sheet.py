"""The setup sheet: one printable page of a plan, for the machine and for the instructor who checks it."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from latheworks.errors import LatheworksError, WrongUnit
from latheworks.plan.file import write_plan
from latheworks.plan.plan import Plan
from latheworks.plan.review import review
from latheworks.plan.review_result import OperationRow, Review
from latheworks.plan.sheet_drawing import setup_drawing
from latheworks.plan.wording import from_to, mm
from latheworks.shop import cautions
from latheworks.tables import DATA
from latheworks.threads import Thread
from latheworks.units import Span, U, check_system, show, show_stock

FIRST_CHECKS = (
    "eye protection on; hair, sleeves and rings tied back or off; no gloves",
    "the chuck key is out of the chuck, and the guard is closed",
    "the work is gripped as drawn, runs true, and turns free by hand",
    "jaws, tool, holder and slide clear each other over the whole travel",
    "tailstock and quill are locked where one is used",
    "the tool is on center height and its stickout is short",
    "spindle speed and feed are set as written, and below every limit of the chuck",
    "the trainee can say where the stop is and what the first cut will do",
)
# The kind of caution that goes with an operation, where it is not turning.
_CAUTIONS = {
    "face": "facing", "thread": "threading", "drill": "drilling", "center drill": "drilling", "ream": "drilling",
    "bore": "boring", "groove": "grooving", "chamfer": "chamfering", "part off": "parting", "deburr": "deburring",
    "gage": "gaging",
}  # fmt: skip
SIGN_OFF = ("Trainee", "Instructor, before the first cut", "Measured and accepted by")


def setup_sheet(plan: Plan, path: str | Path | None = None, system: Any = "metric") -> str:
    """Return the setup sheet of a plan: one HTML page without script or address, made to be printed on A4 or Letter.

    It holds the title block, a drawing of each setup, the operations in tens with tools, speeds, feeds and passes, the
    threads with their limits and passes, what to measure with which instrument, the findings of the review, cautions,
    what an instructor checks before the first cut, blank lines to sign, and a hash of the plan. Lines to sign are never
    filled, and nothing on it calls a plan safe. Sizes stand in both unit systems where a person reads them off a dial.
    Parameters: plan, a `Plan`; path of a file to write [text or a Path that ends in .html; none]; system, "metric" or
    "inch", which comes first. Raises LatheworksError for what is no Plan or a file that cannot be written.
    Source: contents of a setup sheet, common practice; the numbers as in `review`.

    >>> from latheworks.plan.examples import shoe_plan
    >>> setup_sheet(shoe_plan()).count("<section")
    7
    """
    system = check_system(system)
    if not isinstance(plan, Plan):
        raise WrongUnit(f"setup_sheet: plan: got {plan!r:.60}, expected a Plan. Try setup_sheet(barrel_plan()).")
    if path is not None and (not isinstance(path, (str, Path)) or Path(path).suffix != ".html"):
        raise WrongUnit(f'setup_sheet: path: got {path!r:.60}, expected one that ends in .html. Try "my_sheet.html".')
    text = _page().render(_contents(review(plan, system), system))
    if path is not None:
        try:
            Path(path).write_text(text, encoding="utf-8")
        except OSError as error:
            raise LatheworksError(
                f"setup_sheet: path: {str(path)[:80]!r} cannot be written ({str(error)[:60]}). Try your own folder."
            ) from None
    return text


def plan_hash(plan: Plan) -> str:
    """A short fingerprint of everything in a plan, so that a sheet and its file can be held together."""
    digest = hashlib.sha256(write_plan(plan).encode()).hexdigest()[:16]
    return "-".join(digest[i : i + 4] for i in range(0, 16, 4))


@cache
def _page() -> Any:
    kept = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return kept.from_string((DATA / "setup_sheet.html").read_text(encoding="utf-8"))


def _contents(found: Review, system: str) -> dict[str, Any]:
    plan, part = found.plan, found.plan.part
    kinds = ["holding", *dict.fromkeys(_kind(row) for row in found.operations)]
    asked = [each for setup in plan.setups for each in setup.operations]
    kinds += ["tailstock"] * any(setup.support != "none" for setup in plan.setups)
    kinds += ["coolant"] * any(each.coolant for each in asked)
    lines = [str(line) for kind in kinds for line in cautions(kind)]
    standing = str(cautions("turning")[-1])
    return {
        "plan": plan, "part": part, "review": found, "system": system, "hash": plan_hash(plan),
        "both": lambda value: both(value, system), "minutes": minutes,
        "standing": standing, "cautions": [line for line in dict.fromkeys(lines) if line != standing],
        "setups": [_setup(found, i, system) for i in range(1, len(plan.setups) + 1)],
        "threads": [_thread(found, each.name, each.thread, system) for each in part.features if each.thread],
        "sizes": [_size(row, system) for row in found.sizes if (row.limits.min, row.limits.max) != (None, None)],
        "checks": FIRST_CHECKS, "signs": SIGN_OFF,
        "stock": f"{both(part.stock_diameter, system, show_stock)} x {both(part.stock_length, system)}"
                 + (f", bore {both(part.stock_bore, system, show_stock)}" if part.stock_bore else ""),
    }  # fmt: skip


def _kind(row: OperationRow) -> str:
    """The kind of caution that goes with an operation."""
    return _CAUTIONS.get(row.kind, "turning")


def both(value: Any, system: str, write: Callable[..., str] = show) -> str:
    """A size in the one system and, in brackets, in the other; nothing for what is not there."""
    if value is None:
        return ""
    other = "inch" if system == "metric" else "metric"
    return f"{write(value, system)} ({write(value, other)})"


def minutes(value: Any) -> str:
    """A time as a shop reckons it."""
    return f"{value.m_as('min'):.1f} min"


def _limits(span: Span, system: str) -> str:
    """Limits in both systems."""
    return f"{_ends(span, system)} ({_ends(span, 'inch' if system == 'metric' else 'metric')})"


def _ends(span: Span, system: str) -> str:
    """The ends of a range, in a narrow column: with their unit once."""
    if span.min is None or span.max is None:
        return from_to(span, system)
    return mm(float(span.min.m_as(U.mm)), 3, float(span.max.m_as(U.mm))).written(system)


def _setup(found: Review, number: int, system: str) -> dict[str, Any]:
    """One setup: its drawing and its operations."""
    setup = found.plan.setups[number - 1]
    rows = [row for row in found.operations if row.setup == number]
    picture = ""
    if rows:
        # What setup_drawing returns is made of numbers and escaped words only.
        picture = Markup(setup_drawing(setup, rows[0].before, rows[-1].after, system, number))
    notes = [each for each in found.findings if each.where.setup == number and each.level in ("stop", "caution")]
    return {"setup": setup, "number": number, "picture": picture, "rows": [_operation(row, system) for row in rows],
            "findings": notes}  # fmt: skip


def _operation(row: OperationRow, system: str) -> dict[str, str]:
    """The cells of one operation."""
    times = str(row.passes) if row.passes else ""
    return {
        "number": str(row.operation), "title": row.title_text, "tool": row.tool or "",
        "spindle": "" if not row.spindle else show(row.spindle),
        "speed": "" if not row.surface_speed else show(row.surface_speed, system),
        "feed": "" if not row.feed else show(row.feed, system),
        "depth": "" if not row.depth else show(row.depth, system),
        "passes": times + (f" + {row.spring_passes} spring" if row.spring_passes else ""),
        "peck": "" if not row.peck else f"pecks of {mm(float(row.peck.m_as(U.mm)), 1).written(system)}",
        "time": minutes(row.time),
    }  # fmt: skip


def _thread(found: Review, name: str, thread: Thread | None, system: str) -> dict[str, Any]:
    """A thread's limits, and the depth after each pass."""
    assert thread is not None
    row = next((row for row in found.operations if row.kind == "thread" and name in row.features), None)
    depths = [] if row is None or row.pass_depths is None else [show(depth, system) for depth in row.pass_depths]
    limits = [("major diameter", thread.limits.major), ("pitch diameter", thread.limits.pitch_diameter),
              ("minor diameter", thread.limits.minor)]  # fmt: skip
    return {
        "name": name, "designation": thread.designation, "depths": depths,
        "facts": [("pitch", both(thread.pitch, system)), ("starts", str(thread.starts)), ("hand", thread.hand),
                  *((word, _limits(span, system)) for word, span in limits)],
    }  # fmt: skip


def _size(row: Any, system: str) -> dict[str, str]:
    """What to measure, between which limits, with what; the reading is left blank."""
    expected = "not made" if row.predicted is None else _ends(row.predicted, system)
    return {
        "name": f"{row.name}, {row.measure}", "limits": _limits(row.limits, system), "instrument": row.instrument,
        "expected": expected, "use": "" if row.use is None else f"{100 * row.use:.0f} %",
    }  # fmt: skip
