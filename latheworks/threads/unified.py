"""Limits of size of Unified inch threads, rounded in the order in which ASME B1.1 rounds them."""

from decimal import Decimal
from functools import cache, lru_cache

from latheworks.tables import table
from latheworks.threads.spec import Limits, Spec, Step, half_up, plain

D = Decimal
PITCH_HEIGHT = D("0.64951905")  # twice the addendum at the pitch line, in pitches
MINOR_HEIGHT = D("1.08253175")  # twice the height of the internal thread, in pitches
ROUNDED_ROOT = D("1.19078493")  # twice the height of the external UNR thread, in pitches

# On the pitch tolerance of class 2A, which all others are multiples of.
CLASS_FACTOR = {"1A": D("1.5"), "2A": D(1), "3A": D("0.75"), "1B": D("1.95"), "2B": D("1.3"), "3B": D("0.975")}
# Constant-pitch series whose length of engagement is the diameter; the finer ones are good for 9 pitches.
COARSE_CONSTANT = (D(4), D(6), D(8))

# What the table of printed values calls each limit: (diameter, 0 for its minimum or 1 for its maximum).
PRINTED_LIMITS = {
    (name, end): f"{name.split('_')[0]} {word}"
    for name in ("major", "pitch_diameter", "minor")
    for end, word in enumerate(("min", "max"))
}


@cache
def printed() -> dict[tuple[str, str], tuple[Decimal, str]]:
    """Values that the tables print otherwise than the formulas give: (designation, limit) to (value, source)."""
    return {
        (row["designation"], row["limit"]): (D(row["value [in]"]), row["source"]) for row in table("unified_printed")
    }


@lru_cache(maxsize=4096)
def power(base: Decimal, third: int) -> Decimal:
    """Base to the power third/3."""
    return base ** (D(third) / 3)


def engagement_length(spec: Spec) -> Decimal:
    """The length of engagement LE [in] that the tolerance is made for."""
    by_diameter = spec.series in ("UNC", "UNF") or (spec.series == "UN" and spec.tpi in COARSE_CONSTANT)
    return spec.major if by_diameter else 9 * spec.pitch


def pitch_tolerance_2a(spec: Spec) -> Decimal:
    """Td2 of class 2A [in], to six decimals."""
    length = engagement_length(spec)
    tolerance = (
        D("0.0015") * power(spec.major, 1) + D("0.0015") * length.sqrt() + D("0.015") * power(spec.pitch, 2)
    )  # fmt: skip
    return half_up(tolerance, 6)


def allowance(spec: Spec) -> tuple[Decimal, str]:
    """(es [in], source key): 0.3 of the class 2A tolerance for classes 1A and 2A, else nothing."""
    if spec.tolerance_class not in ("1A", "2A"):
        return D("0.0000"), "b11_limits"
    as_printed = printed().get((f"{spec.name}-{spec.tolerance_class}", "allowance"))
    return as_printed or (half_up(D("0.3") * pitch_tolerance_2a(spec), 4), "b11_limits")


def minor_tolerance(spec: Spec) -> tuple[Decimal, str]:
    """(TD1 [in] to four decimals, its formula) of the internal thread."""
    d, p = spec.major, spec.pitch
    flat = (D("0.25") * p - D("0.4") * p * p, "0.25 P - 0.4 P^2")
    general = (D("0.05") * power(p, 2) + D("0.03") * p / d - D("0.002"), "0.05 P^(2/3) + 0.03 P/D - 0.002")
    general = min(general, (D("0.394") * p, "0.394 P"))
    if spec.tolerance_class == "3B":
        fine = (D("0.23") * p - D("1.5") * p * p, "0.23 P - 1.5 P^2")
        chosen = max(general, fine if p <= 1 / D(13) else (D("0.12") * p, "0.12 P"))
    else:
        chosen = max(general, flat) if d < D("0.25") else flat
    return half_up(chosen[0], 4), chosen[1]


def basic(spec: Spec) -> tuple[Decimal, Decimal]:
    """Basic pitch diameter and minor diameter [in], to four decimals."""
    minor = ROUNDED_ROOT if spec.root == "UNR" else MINOR_HEIGHT
    return half_up(spec.major - PITCH_HEIGHT * spec.pitch, 4), half_up(spec.major - minor * spec.pitch, 4)


def limits(spec: Spec) -> tuple[Limits, Decimal, list[Step]]:
    """Return (limits [in] of major, pitch and minor diameter, allowance, working); None where the standard is open."""
    tolerance = pitch_tolerance_2a(spec)
    factor = CLASS_FACTOR[spec.tolerance_class]
    wide = half_up(tolerance * factor, 6)
    length = engagement_length(spec)
    how = "D" if length == spec.major else "9 P"
    steps = [
        Step("P", "1/n", f"1/{plain(spec.tpi or D(1))}", f"{half_up(spec.pitch, 8)} in", "b11_limits"),
        Step("LE", how, "", f"{half_up(length, 4)} in", "b11_limits"),
        Step(
            "Td2(2A)",
            "0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3)",
            f"D {spec.major}, LE {half_up(length, 4)}",
            f"{tolerance} in",
            "b11_limits",
        ),
    ]
    if factor != 1:
        steps.append(
            Step(
                "Td2" if spec.external else "TD2",
                f"{factor} Td2(2A)",
                f"{factor} x {tolerance}",
                f"{wide} in",
                "b11_limits",
            )
        )
    half = half_up(PITCH_HEIGHT * spec.pitch, 6)
    found, es, steps = (_external if spec.external else _internal)(spec, wide, half, steps)
    for (name, end), limit in PRINTED_LIMITS.items():
        if (value := printed().get((f"{spec.name}-{spec.tolerance_class}", limit))) is not None:
            low, high = found[name]
            if value[0] != (low, high)[end]:
                steps.append(Step(limit, "as the tables print it", "", f"{value[0]} in", value[1]))
            found[name] = (value[0], high) if end == 0 else (low, value[0])
    return found, es, steps


def _external(spec: Spec, wide: Decimal, half: Decimal, steps: list[Step]) -> tuple[Limits, Decimal, list[Step]]:
    es, key = allowance(spec)
    part = D("0.090") if spec.tolerance_class == "1A" else D("0.060")
    tall = half_up(part * power(spec.pitch, 2), 6)
    root, name = (ROUNDED_ROOT, "UNR") if spec.root == "UNR" else (MINOR_HEIGHT, "UN")
    depth = half_up(root * spec.pitch, 6)
    major_max = half_up(spec.major, 4) - es
    major_min = half_up(major_max - tall, 4)
    pitch_max = half_up(major_max - half, 4)
    pitch_min = half_up(pitch_max - wide, 4)
    minor_max = half_up(major_max - depth, 4)
    formula = "0.300 Td2(2A)" if key == "b11_limits" and es else "as printed" if es else "none for class 3A"
    steps += [
        Step("es", formula, "", f"{es} in", key),
        Step("d max", "D - es", f"{half_up(spec.major, 4)} - {es}", f"{major_max} in", "mh31_examples"),
        Step("Td", f"{part} P^(2/3)", "", f"{tall} in", "b11_limits"),
        Step("d min", "d max - Td", f"{major_max} - {tall}", f"{major_min} in", "mh31_examples"),
        Step("d2 max", f"d max - {PITCH_HEIGHT} P", f"{major_max} - {half}", f"{pitch_max} in", "mh31_examples"),
        Step("d2 min", "d2 max - Td2", f"{pitch_max} - {wide}", f"{pitch_min} in", "mh31_examples"),
        Step(
            f"d1 max ({name}, reference)",
            f"d max - {root} P",
            f"{major_max} - {depth}",
            f"{minor_max} in",
            "mh31_examples",
        ),
    ]
    return (
        {"major": (major_min, major_max), "pitch_diameter": (pitch_min, pitch_max), "minor": (None, minor_max)},
        es,
        steps,
    )


def _internal(spec: Spec, wide: Decimal, half: Decimal, steps: list[Step]) -> tuple[Limits, Decimal, list[Step]]:
    exact = half_up(spec.major, 4) - half_up(MINOR_HEIGHT * spec.pitch, 6)
    tall, formula = minor_tolerance(spec)
    # Tables print three decimals from #6 up, four below; class 3B adds a zero to its minimum.
    small = spec.major < D("0.138")
    third = spec.tolerance_class == "3B"
    minor_min = half_up(half_up(exact, 4 if small else 3), 4 if small or third else 3)
    minor_max = half_up(exact + tall, 4 if small or third else 3)
    pitch_min = half_up(half_up(spec.major, 4) - half, 4)
    pitch_max = half_up(pitch_min + wide, 4)
    steps += [
        Step(
            "D2 min", f"D - {PITCH_HEIGHT} P", f"{half_up(spec.major, 4)} - {half}", f"{pitch_min} in", "mh31_examples"
        ),
        Step("D2 max", "D2 min + TD2", f"{pitch_min} + {wide}", f"{pitch_max} in", "mh31_examples"),
        Step("D1 min", f"D - {MINOR_HEIGHT} P", f"{exact} before rounding", f"{minor_min} in", "mh31_examples"),
        Step("TD1", formula, "", f"{tall} in", "b11_limits"),
        Step("D1 max", "D1 min + TD1", f"{exact} + {tall}", f"{minor_max} in", "mh31_examples"),
    ]
    return (
        {"major": (half_up(spec.major, 4), None), "pitch_diameter": (pitch_min, pitch_max),
         "minor": (minor_min, minor_max)},
        D("0.0000"),
        steps,
    )  # fmt: skip
