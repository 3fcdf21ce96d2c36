"""Parallel pipe threads G of ISO 228-1: the table of the standard, 55 degree form, sealed beside the thread."""

import re
from decimal import Decimal
from functools import cache

from latheworks.tables import Row, table
from latheworks.threads.parts import INCHES, KIND, inches, left_hand, one_class
from latheworks.threads.spec import PARALLEL_PIPE, Limits, Spec, Step, mixed, refuse

D = Decimal
EXAMPLE = '"G 1/2 A"'
CLASSES = ("A", "B", "INT")
PATTERN = re.compile(
    r"G ?" + INCHES + r"(?:[ -]{0,3}(?P<cls>[AB]))?(?:[ -]{0,3}(?P<hand>LH|RH))?" + KIND, re.I | re.A
)  # fmt: skip


@cache
def sizes() -> dict[str, Row]:
    """The rows of the standard by size."""
    return {row["size"]: row for row in table("pipe_parallel")}


def read(match: re.Match[str], typed: str, asked: str | None) -> Spec:
    """What a G designation says; without a class letter it is the internal thread."""
    value = inches(match["size"], typed, EXAMPLE)
    size = mixed(value)
    if size not in sizes():
        near = min(sizes(), key=lambda known: abs(inches(known, typed, EXAMPLE) - value))
        raise refuse(typed, "a size of " + ", ".join(sizes()), f'"G {near} A"')
    written = match["cls"].upper() if match["cls"] else None
    kind = {"INT": "INT", "EXT": "A"}.get((match["kind"] or "").upper()[:3])
    if kind == "A" and written:
        kind = written
    cls = one_class(one_class(written, kind, typed), asked.upper() if asked else None, typed) or "INT"
    if cls not in CLASSES:
        raise refuse(f"{typed}, {asked}", "class A or B for the external thread, INT for the internal one",
                     f'"G {size} A" or "G {size}"')  # fmt: skip
    row = sizes()[size]
    return Spec(PARALLEL_PIPE, f"G {size}", D(row["major [mm]"]), D(row["pitch [mm]"]), D(row["tpi"]), "G", None, 1,
                left_hand(match, typed, '"G 1/2 A-LH"'), cls != "INT", cls)  # fmt: skip


def _row(spec: Spec) -> Row:
    return sizes()[spec.size.removeprefix("G ")]


def basic(spec: Spec) -> tuple[Decimal, Decimal]:
    """Pitch and minor diameter [mm] as the table prints them."""
    row = _row(spec)
    return D(row["pitch diameter [mm]"]), D(row["minor [mm]"])


def limits(spec: Spec) -> tuple[Limits, Decimal, list[Step]]:
    """Return (limits [mm] of major, pitch and minor diameter, allowance, working)."""
    row = _row(spec)
    d, (d2, d1) = spec.major, basic(spec)
    letter, place = ("d" if spec.external else "D"), "table of ISO 228-1"
    steps = [
        Step(f"{letter}2", place, f"size {spec.size}", f"{d2} mm", "iso228+threadlib_bspp"),
        Step(f"{letter}1", place, f"size {spec.size}", f"{d1} mm", "iso228+threadlib_bspp"),
    ]
    found: Limits
    if spec.external:
        wide, tall = D(row[f"pitch tolerance {spec.tolerance_class} [mm]"]), D(row["major tolerance [mm]"])
        found = {"major": (d - tall, d), "pitch_diameter": (d2 - wide, d2), "minor": (None, d1)}
        steps += [
            Step("d max", place, f"size {spec.size}", f"{d} mm", "iso228+threadlib_bspp"),
            Step("d min", "d - Td", f"{d} - {tall}", f"{d - tall} mm", "iso228+threadlib_bspp"),
            Step("d2 min", f"d2 - Td2, class {spec.tolerance_class}", f"{d2} - {wide}", f"{d2 - wide} mm",
                 "iso228+threadlib_bspp"),
        ]  # fmt: skip
    else:
        wide, tall = D(row["pitch tolerance A [mm]"]), D(row["minor tolerance [mm]"])
        found = {"major": (d, None), "pitch_diameter": (d2, d2 + wide), "minor": (d1, d1 + tall)}
        steps += [
            Step("D min", place, f"size {spec.size}", f"{d} mm", "iso228+threadlib_bspp"),
            Step("D2 max", "D2 + TD2", f"{d2} + {wide}", f"{d2 + wide} mm", "iso228+threadlib_bspp"),
            Step("D1 max", "D1 + TD1", f"{d1} + {tall}", f"{d1 + tall} mm", "iso228+threadlib_bspp"),
        ]
    return found, D("0.000"), steps


def partner(spec: Spec) -> str:
    """The class that goes with a thread's own: the one internal class, or A."""
    return "INT" if spec.external else "A"
