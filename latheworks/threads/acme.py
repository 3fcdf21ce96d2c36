"""ACME threads, general purpose: reading and limits of size by ASME B1.5, screw and nut under one designation."""

import re
from decimal import Decimal
from fractions import Fraction
from functools import cache

from latheworks.errors import Impossible, OutOfRange
from latheworks.tables import table
from latheworks.threads.parts import HANDED, INCHES, KIND, STARTED, decimal, inches, left_hand, one_class, starts_of
from latheworks.threads.spec import ACME, Limits, Spec, Step, half_up, mixed, plain, refuse

D = Decimal
EXAMPLE = '"1-5 ACME-2G"'
HANDS = '"1-5 ACME-2G-LH"'
PATTERN = re.compile(
    INCHES + r" ?- ?(?:(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,3})?(?:[ -](?P<half>1/2))?)"
    r"|(?P<pitch>[01]?\.[0-9]{1,5})P ?- ?(?P<lead>[0-9]?\.[0-9]{1,5}|[0-9])L)" + STARTED
    + r"[ -]{0,3}ACME(?:[ -]{0,3}(?P<cls>[0-9][A-Z]))?" + HANDED + KIND, re.I | re.A,
)  # fmt: skip

# The pitches of B1.5's table of basic dimensions, in threads per inch.
TABLED_TPI = tuple(D(n) for n in ("16", "14", "12", "10", "8", "6", "5", "4", "3", "2.5", "2", "1.5", "1"))
# Allowance on the pitch diameter, and the two parts of its tolerance: x sqrt(D), y sqrt(P) + z sqrt(D).
CLASS_FACTORS = {
    "2G": (D("0.008"), D("0.030"), D("0.006")),
    "3G": (D("0.006"), D("0.014"), D("0.0028")),
    "4G": (D("0.004"), D("0.010"), D("0.002")),
}
LARGEST_PITCH = D("0.4")  # of the diameter; coarser ones leave no core


@cache
def sizes() -> dict[Fraction, tuple[str, Decimal]]:
    """The standard sizes: size in inches to (written size, threads per inch)."""
    return {inches(row["size"], "", EXAMPLE): (row["size"], D(row["tpi"])) for row in table("acme_sizes")}


def read(match: re.Match[str], typed: str, asked: str | None) -> Spec:
    """What an ACME designation says."""
    tpi, starts = _tpi(match, typed)
    value = inches(match["size"], typed, EXAMPLE)
    major = decimal(value)
    if not D("0.25") <= major <= 5:
        raise refuse(typed, "a size from 1/4 to 5 in", EXAMPLE, OutOfRange)
    row = sizes().get(value)
    size = row[0] if row else mixed(value) if 64 % value.denominator == 0 else f"{major:.4f}"
    if 1 / tpi > LARGEST_PITCH * major:
        near = row or sizes()[min(sizes(), key=lambda known: abs(known - value))]
        hint = f'"{near[0]}-{plain(near[1])} ACME-2G"'
        raise refuse(typed, "a pitch of at most 0.4 of the diameter", hint, OutOfRange)
    notes: tuple[str, ...] = ()
    if row is None or row[1] != tpi:
        usual = f"; the standard pitch of {size} is {plain(row[1])} to the inch" if row else ""
        notes += (f"{size}-{plain(tpi)} is not a standard size of ASME B1.5: limits are by its formulas{usual}",)
    wanted, kind = _asked(asked)
    cls = one_class(match["cls"].upper() if match["cls"] else None, wanted, typed)
    stem = f"{size}-{plain(tpi)} ACME"
    if cls is not None and cls not in CLASS_FACTORS:
        raise refuse(typed if match["cls"] else f"{typed}, {asked}", "a general purpose class 2G 3G 4G; centralizing "
                     "and stub threads are not tabled here", f'"{stem}-2G"')  # fmt: skip
    kind = kind or (match["kind"] or "").upper()[:3]
    if cls is None:
        cls = "2G"
        notes += ("no class was given: 2G is taken",)
    if not kind:
        notes += ("screw and nut share a designation: the external thread is taken; .mate() or INT is the internal",)
    if starts > 1:
        notes += ("limits are those of a single start of the same pitch, as the standard allows",)
    return Spec(ACME, size, major, 1 / tpi, tpi, "ACME", None, starts, left_hand(match, typed, HANDS),
                kind != "INT", cls, notes)  # fmt: skip


def _asked(asked: str | None) -> tuple[str | None, str]:
    """Class and kind from an argument such as 2G, INT or 2G INT."""
    words = (asked or "").upper().split()
    kind = words.pop() if words and words[-1] in ("EXT", "INT") else ""
    return " ".join(words) or None, kind


def _tpi(match: re.Match[str], typed: str) -> tuple[Decimal, int]:
    """Threads per inch and starts, from threads per inch or from pitch and lead."""
    starts = starts_of(match, typed, '"1-5 ACME-2G (2 STARTS)"')
    listed = " ".join(plain(n) for n in TABLED_TPI)
    if match["tpi"]:
        tpi = D(re.split("[ -]", match["tpi"])[0]) + (D("0.5") if match["half"] else 0)
        if tpi not in TABLED_TPI:
            near = min(TABLED_TPI, key=lambda n: abs(n - tpi))
            raise refuse(typed, f"threads per inch that ASME B1.5 tables: {listed}",
                         f'"{match["size"]}-{plain(near)} ACME-2G" if the diameter carries it')  # fmt: skip
        return tpi, starts or 1
    pitch, lead = D(match["pitch"]), D(match["lead"])
    tpi = min(TABLED_TPI, key=lambda n: abs(1 / n - pitch))
    # Pitch and lead are written to four decimals, so they may be off by half of the last one, each start.
    slack = D("0.00006")
    if abs(1 / tpi - pitch) > slack:
        raise refuse(typed, f"the pitch of a tabled number of threads per inch: {listed}", '".500-.1P-.2L-ACME-2G"')
    count = int((lead * tpi).quantize(D(1)))
    if not 1 <= count <= 8 or abs(count / tpi - lead) > count * slack or starts not in (None, count):
        right = starts or min(max(count, 1), 8)
        raise refuse(typed, f"a lead of starts x pitch, {half_up(right / tpi, 4)} in for {right} starts",
                     '".500-.1P-.2L-ACME-2G"', Impossible)  # fmt: skip
    return tpi, count


def clearance(spec: Spec) -> Decimal:
    """How far major and minor diameters of screw and nut stay apart [in]: 0.020, or 0.010 finer than 10 to the inch."""
    return D("0.020") if (spec.tpi or D(1)) <= 10 else D("0.010")


def basic(spec: Spec) -> tuple[Decimal, Decimal]:
    """Basic pitch and minor diameter [in], to four decimals."""
    return half_up(spec.major - spec.pitch / 2, 4), half_up(spec.major - spec.pitch, 4)


def limits(spec: Spec) -> tuple[Limits, Decimal, list[Step]]:
    """Return (limits [in] of major, pitch and minor diameter, allowance, working)."""
    d, p, gap = half_up(spec.major, 4), spec.pitch, clearance(spec)
    x, y, z = CLASS_FACTORS[spec.tolerance_class]
    root = spec.major.sqrt()
    width = y * p.sqrt() + z * root
    crest = max(D("0.05") * p, D("0.005"))
    d2, d1 = basic(spec)
    wide = half_up(width, 4)
    steps = [
        Step("P", "1/n", f"1/{plain(spec.tpi or D(1))}", f"{half_up(p, 6)} in", "b15"),
        Step("T2", f"{y} sqrt(P) + {z} sqrt(D)", f"P {half_up(p, 6)}, D {d}", f"{half_up(width, 6)} in", "b15"),
        Step("clearance", "0.020, or 0.010 finer than 10 to the inch", "", f"{gap} in", "b15"),
        Step("T crest", "0.05 P, at least 0.005", f"0.05 x {half_up(p, 6)}", f"{half_up(crest, 6)} in", "b15"),
    ]
    found: Limits
    if spec.external:
        es = half_up(x * root, 4)
        deep = half_up(D("1.5") * width, 6)
        top, low = d2 - es, half_up(spec.major - p - gap, 4)
        found = {"major": (half_up(spec.major - crest, 4), d), "pitch_diameter": (top - wide, top),
                 "minor": (half_up(low - deep, 4), low)}  # fmt: skip
        steps += [
            Step("es", f"{x} sqrt(D)", f"{x} x sqrt({d})", f"{es} in", "b15"),
            Step("d min", "D - T crest", f"{d} - {half_up(crest, 6)}", f"{found['major'][0]} in", "b15"),
            Step("d2 max", "D - P/2 - es", f"{d2} - {es}", f"{top} in", "b15"),
            Step("d2 min", "d2 max - T2", f"{top} - {wide}", f"{top - wide} in", "b15"),
            Step("d3 max", "D - P - clearance", f"{d} - {half_up(p, 6)} - {gap}", f"{low} in", "b15"),
            Step("d3 min", "d3 max - 1.5 T2", f"{low} - {deep}", f"{found['minor'][0]} in", "b15"),
        ]
        return found, es, steps
    found = {"major": (d + gap, d + 2 * gap), "pitch_diameter": (d2, d2 + wide),
             "minor": (d1, half_up(spec.major - p + crest, 4))}  # fmt: skip
    steps += [
        Step("D min", "D + clearance", f"{d} + {gap}", f"{d + gap} in", "b15"),
        Step("D max", "D min + clearance", f"{d + gap} + {gap}", f"{d + 2 * gap} in", "b15"),
        Step("D2 min", "D - P/2", f"{d} - {half_up(p / 2, 6)}", f"{d2} in", "b15"),
        Step("D2 max", "D2 min + T2", f"{d2} + {wide}", f"{d2 + wide} in", "b15"),
        Step("D1 min", "D - P", f"{d} - {half_up(p, 6)}", f"{d1} in", "b15"),
        Step("D1 max", "D1 min + T crest", f"{d1} + {half_up(crest, 6)}", f"{found['minor'][1]} in", "b15"),
    ]
    return found, D("0.0000"), steps


def partner(spec: Spec) -> str:
    """The class that usually goes with a thread's own: the same one."""
    return spec.tolerance_class
