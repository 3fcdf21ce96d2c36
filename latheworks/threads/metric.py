"""Limits of size of ISO metric threads, from the tables of ISO 965-1: the tables, never their formulas."""

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import cache

from latheworks.errors import NotInTable
from latheworks.tables import table
from latheworks.threads.spec import Limits, Spec, Step, half_up, plain, refuse

D = Decimal
PITCH_HEIGHT = D("0.64951905")
MINOR_HEIGHT = D("1.08253175")
SMALL = D("1.4")  # up to this size in mm, a thread without a class is 6h and 5H
CLASS = re.compile(r"(?:([3-9])([efghGH]))?([3-9])([efghGH])")


@cache
def _pitch_rows(external: bool) -> tuple[tuple[Decimal, Decimal, Decimal, dict[str, Decimal]], ...]:
    name = "metric_external_pitch_tolerance" if external else "metric_internal_pitch_tolerance"
    return tuple((D(row["over [mm]"]), D(row["to [mm]"]), D(row["pitch [mm]"]), _grades(row)) for row in table(name))


@cache
def _crest_rows(external: bool) -> dict[Decimal, dict[str, Decimal]]:
    name = "metric_external_major_tolerance" if external else "metric_internal_minor_tolerance"
    return {D(row["pitch [mm]"]): _grades(row) for row in table(name)}


@cache
def _deviations() -> dict[Decimal, dict[str, Decimal]]:
    return {
        D(row["pitch [mm]"]): {p: D(row[f"{p} [um]"]) for p in "efghGH" if row[f"{p} [um]"]}
        for row in table("metric_deviations")
    }


def _grades(row: Mapping[str, str]) -> dict[str, Decimal]:
    """The tolerances of a row by grade, the blanks left out."""
    return {name[0]: D(value) for name, value in row.items() if name[1:] == " [um]" and value}


def pitch_grades(major: Decimal, pitch: Decimal, external: bool) -> dict[str, Decimal]:
    """Tolerance of the pitch diameter [um] by grade; empty where the standard has no row."""
    for over, to, step, grades in _pitch_rows(external):
        if over < major <= to and step == pitch:
            return grades
    return {}


def crest_grades(pitch: Decimal, external: bool) -> dict[str, Decimal]:
    """Tolerance of the major (external) or minor (internal) diameter [um] by grade."""
    return _crest_rows(external).get(pitch, {})


def tabulated(major: Decimal, pitch: Decimal, tolerance_class: str) -> bool:
    """Whether the tables have all that a tolerance class needs at this size and pitch."""
    pitch_part, crest_part, external = split_class(tolerance_class)
    positions = _deviations().get(pitch, {})
    return (
        pitch_part[0] in pitch_grades(major, pitch, external)
        and crest_part[0] in crest_grades(pitch, external)
        and pitch_part[1] in positions
        and crest_part[1] in positions
    )


def split_class(tolerance_class: str) -> tuple[str, str, bool]:
    """(pitch grade and position, crest grade and position, external) of a class such as 6g, 4g6g or 5H6H."""
    match = CLASS.fullmatch(tolerance_class)
    if match is None:
        raise refuse(tolerance_class, "a class such as 6g, 4g6g, 6H or 5H6H", '"M10x1.5-6g" or "M10x1.5-6H"',
                     name="tolerance class")  # fmt: skip
    crest = match[3] + match[4]
    pitch = match[1] + match[2] if match[1] else crest
    if pitch[1].islower() != crest[1].islower():
        raise refuse(tolerance_class, "small letters for an external thread or capitals for an internal one, not both",
                     '"M10x1.5-4g6g" or "M10x1.5-5H6H"', name="tolerance class")  # fmt: skip
    return pitch, crest, crest[1].islower()


def check_class(spec: Spec, typed: str) -> None:
    """Refuse a class that the tables do not give at this size and pitch, and say which they give."""
    pitch_part, crest_part, external = split_class(spec.tolerance_class)
    grades = pitch_grades(spec.major, spec.pitch, external)
    crests = crest_grades(spec.pitch, external)
    positions = [p for p in _deviations().get(spec.pitch, {}) if p.islower() == external]
    if tabulated(spec.major, spec.pitch, spec.tolerance_class):
        return
    where = "major" if external else "minor"
    letter = pitch_part[1] if pitch_part[1] in positions else ("g" if external else "H")
    grade = pitch_part[0] if pitch_part[0] in grades else _near(pitch_part[0], grades)
    crest = crest_part[0] if crest_part[0] in crests else "6" if "6" in crests else _near(crest_part[0], crests)
    better = f"{grade}{letter}" if grade == crest else f"{grade}{letter}{crest}{letter}"
    raise refuse(
        typed,
        f"for {spec.name} a pitch grade of {' '.join(grades)}, a {where} grade of {' '.join(crests)} "
        f"and a position of {' '.join(positions)} (ISO 965-1)",
        f'"{spec.name}-{better}"',
        NotInTable,
    )


def _near(grade: str, grades: dict[str, Decimal]) -> str:
    """The grade in the table nearest to the one asked for, the finer of two."""
    return min(grades, key=lambda name: (abs(int(name) - int(grade)), int(name)))


def default_class(major: Decimal) -> str:
    """The class that an external designation without one means: 6g, and 6h up to M1.4."""
    return "6h" if major <= SMALL else "6g"


def basic(spec: Spec) -> tuple[Decimal, Decimal]:
    """Basic pitch and minor diameter [mm], to three decimals as ISO 724 prints them."""
    return half_up(spec.major - PITCH_HEIGHT * spec.pitch, 3), half_up(spec.major - MINOR_HEIGHT * spec.pitch, 3)


def limits(spec: Spec) -> tuple[Limits, Decimal, list[Step]]:
    """Return (limits [mm] of major, pitch and minor diameter, allowance [mm], working)."""
    pitch_part, crest_part, external = split_class(spec.tolerance_class)
    micrometer = D("0.001")
    d, (d2, d1) = half_up(spec.major, 3), basic(spec)
    deviations = _deviations()[spec.pitch]
    at_pitch, at_crest = deviations[pitch_part[1]] * micrometer, deviations[crest_part[1]] * micrometer
    wide = pitch_grades(spec.major, spec.pitch, external)[pitch_part[0]] * micrometer
    tall = crest_grades(spec.pitch, external)[crest_part[0]] * micrometer
    pitch = plain(spec.pitch)
    letter = "d" if external else "D"
    steps = [
        Step(f"{letter}2 basic", "d - 0.649519 P", f"{d} - 0.649519 x {pitch}", f"{d2} mm", "iso965"),
        Step(f"{letter}1 basic", "d - 1.082532 P", f"{d} - 1.082532 x {pitch}", f"{d1} mm", "iso965"),
    ]
    table_of = "table of ISO 965-1"
    found: Limits
    if external:
        top, mean, low = d + at_crest, d2 + at_pitch, d1 + at_crest
        found = {"major": (top - tall, top), "pitch_diameter": (mean - wide, mean), "minor": (None, low)}
        steps += [
            Step("es", f"{table_of}, position {pitch_part[1]}", "", f"{at_pitch} mm", "iso965"),
            Step("Td", f"{table_of}, grade {crest_part[0]}", "", f"{tall} mm", "iso965"),
            Step("Td2", f"{table_of}, grade {pitch_part[0]}", "", f"{wide} mm", "iso965"),
            Step("d max", "d + es", f"{d} + {at_crest}", f"{top} mm", "iso965"),
            Step("d min", "d max - Td", f"{top} - {tall}", f"{top - tall} mm", "iso965"),
            Step("d2 max", "d2 + es", f"{d2} + {at_pitch}", f"{mean} mm", "iso965"),
            Step("d2 min", "d2 max - Td2", f"{mean} - {wide}", f"{mean - wide} mm", "iso965"),
            Step("d1 max (reference)", "d1 + es", f"{d1} + {at_crest}", f"{low} mm", "iso965"),
        ]
    else:
        low, mean = d1 + at_crest, d2 + at_pitch
        found = {"major": (d + at_crest, None), "pitch_diameter": (mean, mean + wide), "minor": (low, low + tall)}
        steps += [
            Step("EI", f"{table_of}, position {pitch_part[1]}", "", f"{at_pitch} mm", "iso965"),
            Step("TD1", f"{table_of}, grade {crest_part[0]}", "", f"{tall} mm", "iso965"),
            Step("TD2", f"{table_of}, grade {pitch_part[0]}", "", f"{wide} mm", "iso965"),
            Step("D min", "D + EI", f"{d} + {at_crest}", f"{d + at_crest} mm", "iso965"),
            Step("D2 min", "D2 + EI", f"{d2} + {at_pitch}", f"{mean} mm", "iso965"),
            Step("D2 max", "D2 min + TD2", f"{mean} + {wide}", f"{mean + wide} mm", "iso965"),
            Step("D1 min", "D1 + EI", f"{d1} + {at_crest}", f"{low} mm", "iso965"),
            Step("D1 max", "D1 min + TD1", f"{low} + {tall}", f"{low + tall} mm", "iso965"),
        ]
    return found, abs(at_pitch), steps


def partner(major: float, pitch: float, tolerance_class: str) -> str:
    """The class that usually goes with one: the first of the usual ones that the tables give here."""
    d, p = D(f"{major:g}"), D(f"{pitch:g}")
    pitch_part, _, external = split_class(tolerance_class)
    if d <= SMALL:
        choices = ["5H", "4H"] if external else ["6h"]
    elif external:
        usual = {"6": "6H", "7": "7H", "8": "7H", "9": "8H"}.get(pitch_part[0], "5H")
        choices = [usual, "4H"] if usual == "5H" else [usual, "6H", "5H", "4H"]
    else:
        usual = {"6": "6g", "7": "8g", "8": "8g"}.get(pitch_part[0], "4h")
        choices = [usual, "6g", "4h"]
    return next(c for c in choices if tabulated(d, p, c))
