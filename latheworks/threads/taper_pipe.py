"""Taper pipe threads NPT of ASME B1.20.1: diameters at the planes of gaging, from the table of the standard."""

import re
from decimal import Decimal
from functools import cache

from latheworks.tables import Row, table
from latheworks.threads.parts import INCHES, KIND, inches, left_hand, one_class
from latheworks.threads.spec import NPT, Limits, Spec, Step, half_up, mixed, plain, refuse

D = Decimal
EXAMPLE = '"1/2-14 NPT"'
KINDS = ("EXT", "INT")
TAPER = D(1) / 16  # on the diameter
HEIGHT, SHARP = D("0.8"), D("0.866025")  # of the thread and of the sharp V, in pitches
PATTERN = re.compile(
    INCHES + r"(?: ?- ?(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,2})?)(?P<half> 1/2)?)?[ -]{0,3}NPT(?:[ -]{0,3}(?P<hand>LH|RH))?"
    + KIND, re.I | re.A,
)  # fmt: skip


@cache
def sizes() -> dict[str, Row]:
    """The rows of the standard by nominal size."""
    return {row["size"]: row for row in table("pipe_taper")}


@cache
def _truncation() -> dict[str, tuple[Decimal, Decimal]]:
    return {row["tpi"]: (D(row["least [in]"]), D(row["most [in]"])) for row in table("pipe_taper_truncation")}


def read(match: re.Match[str], typed: str, asked: str | None) -> Spec:
    """What an NPT designation says; the external thread unless INT is asked for."""
    value = inches(match["size"], typed, EXAMPLE)
    size = mixed(value)
    row = sizes().get(size)
    if row is None:
        near = min(sizes(), key=lambda known: abs(inches(known, typed, EXAMPLE) - value))
        raise refuse(typed, "a nominal size of " + ", ".join(sizes()), f'"{near}-{sizes()[near]["tpi"]} NPT"')
    tpi = D(row["tpi"])
    if match["tpi"] and D(match["tpi"]) + (D("0.5") if match["half"] else 0) != tpi:
        raise refuse(typed, f"{plain(tpi)} threads per inch for {size} NPT", f'"{size}-{plain(tpi)} NPT"')
    written = match["kind"].upper()[:3] if match["kind"] else None
    kind = one_class(written, asked.upper()[:3] if asked else None, typed)
    if kind not in (None, *KINDS):
        raise refuse(f"{typed}, {asked}", "EXT or INT, since NPT has no classes", f'"{size}-{plain(tpi)} NPT INT"')
    notes: tuple[str, ...] = ()
    if kind is None:
        notes += ("pipe and fitting share a designation: the external thread is taken; .mate() or INT is the internal",)
    e1 = D(row["e1 [in]"])
    # At the plane of hand-tight engagement, where the thread is gaged.
    major = half_up(e1 + HEIGHT / tpi, 5)
    return Spec(NPT, size, major, 1 / tpi, tpi, "NPT", None, 1, left_hand(match, typed, '"1/2-14 NPT-LH"'),
                kind != "INT", kind or "EXT", notes)  # fmt: skip


def row_of(spec: Spec) -> Row:
    """The row of the standard's table that a thread is in."""
    return sizes()[spec.size]


def basic(spec: Spec) -> tuple[Decimal, Decimal]:
    """Basic pitch diameter E1 and minor diameter [in] at the plane of hand-tight engagement."""
    e1 = D(row_of(spec)["e1 [in]"])
    return e1, half_up(e1 - HEIGHT * spec.pitch, 5)


def limits(spec: Spec) -> tuple[Limits, Decimal, list[Step]]:
    """Return (limits [in] at the hand-tight plane, allowance, working); one turn of the gage either way is a pitch."""
    row, p = row_of(spec), spec.pitch
    e1 = D(row["e1 [in]"])
    turn = half_up(TAPER * p, 5)
    least, most = _truncation()[row["tpi"]]
    near, far = SHARP / 2 * p - most, SHARP / 2 * p - least
    low, high = e1 - turn, e1 + turn
    found: Limits = {
        "major": (half_up(low + 2 * near, 5), half_up(high + 2 * far, 5)),
        "pitch_diameter": (low, high),
        "minor": (half_up(low - 2 * far, 5), half_up(high - 2 * near, 5)),
    }
    e0, l1 = row["e0 [in]"], row["l1 [in]"]
    name, n = spec.size, plain(spec.tpi or D(1))
    cut = f"{least} to {most}"
    steps = [
        Step("E0", "D - (0.05 D + 1.1) P", f"D {row['outside [in]']}, n {n}", f"{e0} in", "b1201"),
        Step("L1", "table of ASME B1.20.1", f"size {name}", f"{l1} in", "b1201"),
        Step("E1", "E0 + L1/16", f"{e0} + {l1}/16", f"{e1} in", "b1201"),
        Step("L2", "(0.8 D + 6.8) P", f"D {row['outside [in]']}, n {n}", f"{row['l2 [in]']} in", "b1201"),
        Step("one turn", "P/16", f"1/(16 x {n})", f"{turn} in", "b1201"),
        Step("E1 min", "E1 - one turn", f"{e1} - {turn}", f"{low} in", "b1201"),
        Step("E1 max", "E1 + one turn", f"{e1} + {turn}", f"{high} in", "b1201"),
        Step("truncation", "table of ASME B1.20.1", f"n {n}", f"{cut} in", "b1201+npt_table"),
        Step("major min", "E1 min + H - 2 x most", "", f"{found['major'][0]} in", "npt_form"),
        Step("major max", "E1 max + H - 2 x least", "", f"{found['major'][1]} in", "npt_form"),
        Step("minor min", "E1 min - H + 2 x least", "", f"{found['minor'][0]} in", "npt_form"),
        Step("minor max", "E1 max - H + 2 x most", "", f"{found['minor'][1]} in", "npt_form"),
    ]
    return found, D("0.00000"), steps


def partner(spec: Spec) -> str:
    """The kind that screws onto this one."""
    return "INT" if spec.external else "EXT"
