"""ISO metric trapezoidal threads: reading and limits of size from the tables of ISO 2902 and 2903."""

import re
from decimal import ROUND_HALF_DOWN, ROUND_HALF_UP, Decimal
from functools import cache

from latheworks.errors import Impossible, NotInTable
from latheworks.tables import Row, table
from latheworks.threads.parts import HANDED, MOST_STARTS, STARTED, left_hand, one_class, starts_of
from latheworks.threads.spec import TRAPEZOIDAL, Limits, Spec, Step, half_up, plain, refuse

D = Decimal
UM = D("0.001")
EXAMPLE = '"Tr 40x7-7e"'
CLASSES = ("7e", "8e", "8c", "9c", "7H", "8H", "9H")
PARTNERS = {"7e": "7H", "8e": "8H", "8c": "8H", "9c": "9H", "7H": "7e", "8H": "8e", "9H": "9c"}
# The pitch tolerance of several starts is that of one start times a factor; five and more starts share the last.
START_FACTOR = (D(1), D("1.12"), D("1.25"), D("1.4"), D("1.6"))
# Of these pitch tolerances the table of root tolerances rounds the half micrometer of 1.25 Td2 down, of others up.
HALF_DOWN = (D(170), D(250), D(630))

_NUMBER = r"[0-9]{1,2}(?:[.,][0-9]{1,2})?"
PATTERN = re.compile(
    rf"TR ?(?P<size>[0-9]{{1,3}})(?: ?X ?(?:(?P<lead>[0-9]{{1,3}}(?:[.,][0-9]{{1,2}})?) ?\( ?P ?(?P<fine>{_NUMBER}) ?\)"
    rf"|(?P<pitch>{_NUMBER})))?" + STARTED + r"(?: ?(?P<hand0>LH))?(?:[ -]{1,3}(?P<cls>[0-9][A-Z]))?" + HANDED,
    re.I | re.A,
)  # fmt: skip


@cache
def sizes() -> dict[Decimal, tuple[Decimal, ...]]:
    """Pitches of each size of the general plan, the preferred one first."""
    return {
        D(row["major [mm]"]): tuple(D(p) for p in row["pitches [mm]"].split()) for row in table("trapezoidal_sizes")
    }


@cache
def pitches() -> dict[Decimal, Row]:
    """What depends on the pitch alone: clearance, deviations, tolerances of the crests."""
    return {D(row["pitch [mm]"]): row for row in table("trapezoidal_pitches")}


@cache
def _tolerances() -> tuple[tuple[Decimal, Decimal, Decimal, Row], ...]:
    return tuple((D(row["over [mm]"]), D(row["to [mm]"]), D(row["pitch [mm]"]), row)
                 for row in table("trapezoidal_pitch_tolerance"))  # fmt: skip


def tolerance_row(major: Decimal, pitch: Decimal) -> Row | None:
    """The row of pitch tolerances of a size, or None where the standard has none."""
    return next((row for over, to, step, row in _tolerances() if over < major <= to and step == pitch), None)


def read(match: re.Match[str], typed: str, asked: str | None) -> Spec:
    """What a trapezoidal designation says."""

    def number(name: str) -> Decimal | None:
        return D(plain(D(match[name].replace(",", ".")))) if match[name] else None

    major, pitch, lead = D(match["size"]), number("pitch") or number("fine"), number("lead")
    if pitch is None or tolerance_row(major, pitch) is None:
        raise _no_pitch(major, typed)
    notes: tuple[str, ...] = ()
    if pitch not in sizes().get(major, ()):
        notes += (f"Tr {plain(major)}x{plain(pitch)} is not in the general plan of ISO 2902; limits are from ISO 2903",)
    starts = starts_of(match, typed, '"Tr 40x14(P7)-7e"')
    if lead is not None:
        count = lead / pitch
        if count != int(count) or not 1 <= count <= MOST_STARTS or starts not in (None, int(count)):
            right = f"Tr {plain(major)}x{plain(pitch * (starts or 2))}(P{plain(pitch)})"
            expected = f"a lead of a whole number of pitches, 1 to {MOST_STARTS} starts"
            raise refuse(typed, expected, f'"{right}"', Impossible)
        starts = int(count)
    cls = one_class(match["cls"], asked, typed)
    if cls is not None and cls not in CLASSES:
        near = next((c for c in CLASSES if c.lower() == cls.lower()), "7e")
        stem = f"Tr {plain(major)}x{plain(pitch)}"
        raise refuse(typed if match["cls"] else f"{typed}, {asked}",
                     "a class of " + " ".join(CLASSES) + " (small letter external, capital internal)",
                     f'"{stem}-{near}"')  # fmt: skip
    if cls is None:
        cls = "7e"
        notes += ("no class was given: 7e, for an external thread, is taken; .mate() is the 7H that fits it",)
    starts = starts or 1
    if starts > 1:
        notes += (f"pitch tolerance of {starts} starts: {_factor(starts)} times that of one; all else is from the "
                  "pitch",)  # fmt: skip
    return Spec(TRAPEZOIDAL, f"Tr {plain(major)}", major, pitch, None, "Tr", None, starts,
                left_hand(match, typed, '"Tr 40x7-7e LH"'), cls[1].islower(), cls, notes)  # fmt: skip


def _no_pitch(major: Decimal, typed: str) -> NotInTable:
    """The error for a size or a pitch that the tables do not have."""
    near = min(sizes(), key=lambda known: (abs(known - major), known))
    size, listed = f"Tr {plain(near)}", " ".join(plain(p) for p in sizes()[near])
    hint = f'"{size}x{plain(sizes()[near][0])}-7e"'
    return refuse(typed, f"a pitch that is tabled; {size} has {listed}", hint)  # type: ignore[return-value]


def _factor(starts: int) -> Decimal:
    return START_FACTOR[min(starts, len(START_FACTOR)) - 1]


def clearance(spec: Spec) -> Decimal:
    """The clearance ac at crest and root [mm]."""
    return D(pitches()[spec.pitch]["clearance [mm]"])


def basic(spec: Spec) -> tuple[Decimal, Decimal]:
    """Basic pitch and minor diameter [mm], to three decimals."""
    return half_up(spec.major - spec.pitch / 2, 3), half_up(spec.major - spec.pitch, 3)


def limits(spec: Spec) -> tuple[Limits, Decimal, list[Step]]:
    """Return (limits [mm] of major, pitch and minor diameter, allowance, working)."""
    grade, position = spec.tolerance_class[0], spec.tolerance_class[1]
    row, table_row = pitches()[spec.pitch], tolerance_row(spec.major, spec.pitch)
    assert table_row is not None  # read() has looked
    d, p, ac = half_up(spec.major, 3), plain(spec.pitch), clearance(spec)
    d2, d1 = basic(spec)
    one = D(table_row[f"{'external' if spec.external else 'internal'} {grade} [um]"])
    factor = _factor(spec.starts)
    wide = half_up(one * factor, 0) * UM
    place = "table of ISO 2903"
    letter = "d" if spec.external else "D"
    steps = [
        Step(f"{letter}2 basic", "d - 0.5 P", f"{d} - 0.5 x {p}", f"{d2} mm", "iso2901"),
        Step("ac", "table of ISO 2901", f"P {p}", f"{ac} mm", "iso2901"),
        Step(f"T{letter}2", f"{place}, grade {grade}" + (f", x {factor}" if factor > 1 else ""), "", f"{wide} mm",
             "iso2903"),
    ]  # fmt: skip
    found: Limits
    if spec.external:
        es = -D(row[f"{position} [um]"])
        rule = ROUND_HALF_DOWN if one in HALF_DOWN else ROUND_HALF_UP
        deep = (D("1.25") * one + es).quantize(D(1), rounding=rule) * UM
        es *= UM
        tall = D(row["major 4 [um]"]) * UM
        low = half_up(spec.major - spec.pitch - 2 * ac, 3)
        found = {"major": (d - tall, d), "pitch_diameter": (d2 - es - wide, d2 - es), "minor": (low - deep, low)}
        steps += [
            Step("es", f"{place}, position {position}", "", f"-{es} mm", "iso2903"),
            Step("d min", "d - Td", f"{d} - {tall}", f"{d - tall} mm", "iso2903"),
            Step("d2 max", "d2 + es", f"{d2} - {es}", f"{d2 - es} mm", "iso2903"),
            Step("d2 min", "d2 max - Td2", f"{d2 - es} - {wide}", f"{d2 - es - wide} mm", "iso2903"),
            Step("d3 max", "d - P - 2 ac", f"{d} - {p} - 2 x {ac}", f"{low} mm", "iso2901"),
            Step("Td3", "1.25 Td2 + |es|", f"1.25 x {one * UM} + {es}", f"{deep} mm", "iso2903"),
            Step("d3 min", "d3 max - Td3", f"{low} - {deep}", f"{low - deep} mm", "iso2903"),
        ]
        return found, es, steps
    tall = D(row["minor 4 [um]"]) * UM
    found = {"major": (d + half_up(2 * ac, 3), None), "pitch_diameter": (d2, d2 + wide), "minor": (d1, d1 + tall)}
    steps += [
        Step("D4 min", "d + 2 ac", f"{d} + 2 x {ac}", f"{found['major'][0]} mm", "iso2901"),
        Step("D2 max", "D2 + TD2", f"{d2} + {wide}", f"{d2 + wide} mm", "iso2903"),
        Step("D1 min", "d - P", f"{d} - {p}", f"{d1} mm", "iso2901"),
        Step("D1 max", "D1 + TD1", f"{d1} + {tall}", f"{d1 + tall} mm", "iso2903"),
    ]
    return found, D("0.000"), steps


def partner(spec: Spec) -> str:
    """The class that usually goes with a thread's own."""
    return PARTNERS[spec.tolerance_class]
