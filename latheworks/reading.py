"""Reading what a person types: a number, a fraction or a mixed number, and one unit. Nothing is evaluated."""

import math
import re
from fractions import Fraction
from typing import Any

from latheworks.errors import LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.units import Q_, ureg

LONGEST = 40

# What may be typed for each kind of value: spelling -> the registry's name.
_UNITS: dict[str, dict[str, str]] = {
    "length": {
        **dict.fromkeys(("in", "inch", "inches", '"', "″", "”", "''"), "inch"),
        **dict.fromkeys(("thou", "thous"), "thou"),
        **dict.fromkeys(("um", "µm", "μm", "micron", "microns"), "um"),
        "mm": "mm", "cm": "cm", "m": "m",
        **dict.fromkeys(("ft", "foot", "feet"), "foot"),
    },
    "force": {"N": "N", "n": "N", "kN": "kN", "kn": "kN", "lbf": "lbf", "lb": "lbf"},
    "spindle": dict.fromkeys(("rpm", "rev/min", "turns/min"), "rpm"),
    "speed": {"m/min": "m/min", "ft/min": "foot/min", "sfm": "foot/min"},
    "feed": {"mm/rev": "mm/rev", "in/rev": "inch/rev", "thou/rev": "thou/rev"},
    "stiffness": {"N/um": "N/um", "N/µm": "N/um", "N/mm": "N/mm", "lbf/thou": "lbf/thou"},
    "angle": dict.fromkeys(("deg", "degree", "degrees", "°"), "degree"),
    "count": {},
}  # fmt: skip
_UNIT_OBJECTS = {name: ureg.parse_units(name) for kind in _UNITS.values() for name in kind.values()}

# Digits are spelled out as 0-9, since \d would also take the digits of other scripts.
_TYPED = re.compile(
    r"(?P<sign>[-+\u2212]?)\s?(?:"
    r"(?P<whole>[0-9]{1,6})(?:\s|-)(?P<mixed>[0-9]{1,6}/[0-9]{1,6})|(?P<fraction>[0-9]{1,6}/[0-9]{1,6})|"
    r"(?P<decimal>[0-9]{1,12}(?:\.[0-9]{0,12})?|\.[0-9]{1,12}))\s{0,2}(?P<unit>[^\s0-9.,+-][^0-9.,]{0,11})?"
)

_HINTS = [
    (re.compile(r"[0-9],[0-9]"), "a comma cannot be read safely: it is a decimal mark in some countries and a "
     "thousands mark in others. Write a point, and no thousands mark, such as 31.75 mm"),
    (re.compile(r"\bmils?\b", re.I), '"mil" means a thousandth of an inch to some and an angle or a millimeter '
     "to others. Write thou, such as 5 thou"),
    (re.compile(r"\b(?:nan|inf|infinity)\b|∞", re.I), "a size is a finite number. Write digits, such as 12.7 mm"),
    (re.compile(r"[0-9]e[+-]?[0-9]", re.I), "powers of ten are not read here. Write the number out, such as 0.001 mm"),
    (re.compile(r"[½¼¾⅛⅜⅝⅞]"), "write the fraction with a stroke, such as 1 1/2 in"),
    (re.compile(r"^\s*[-+]?[0-9./ ]+'\s*$"), "one mark means feet; write ft, or two marks for inches, such as 7/16\""),
    (re.compile(r"\*|\^|\("), "sums are not worked out here. Write one number and one unit, such as 12.7 mm"),
]  # fmt: skip
_EXAMPLES = {"length": "12.7 mm, 7/16 in or 1 1/4 in", "force": "150 N or 30 lbf", "spindle": "300 rpm",
             "speed": "90 m/min or 300 ft/min",
             "feed": "0.1 mm/rev or 0.004 in/rev", "stiffness": "20 N/µm or 110 lbf/thou", "angle": "45 deg",
             "count": "6"}  # fmt: skip


def read_size(text: str, unit: str | None = None) -> Any:
    """Read a length as a person types it: a number, a fraction or a mixed number, and one unit.

    Parameters: text, up to 40 characters, such as `1 1/4 in`, `7/16"`, `0.5 thou`, `31.75 mm`; unit, the unit
    meant when none is typed ("mm" or "in"), or None to insist on one. A leading minus is read. Raises WrongUnit
    for a missing or unknown unit, OutOfRange for text that is too long or a fraction over nothing, and
    LatheworksError for text that cannot be read, each with a line to copy. Source: our own small grammar;
    fractions as the trade writes them.

    >>> read_size("1 1/4 in").to("mm").magnitude
    31.75
    >>> read_size('7/16"').magnitude, read_size("12.7", unit="mm").magnitude
    (0.4375, 12.7)
    """
    return read_value(text, "length", unit)


def read_value(text: str, kind: str, unit: str | None = None) -> Any:
    """Read a value of one kind as typed; the same grammar as read_size, with the units of that kind.

    Parameters: text, up to 40 characters; kind, one of "length", "force", "spindle", "speed", "feed", "stiffness",
    "angle", "count"; unit, the unit meant when none is typed. Returns a quantity (a bare ratio for "count").
    Raises the same errors as read_size, and NotInTable for an unknown kind. Source: our own grammar.

    >>> read_value("30 lbf", "force").to("N").magnitude.__round__(2)
    133.45
    """
    if not isinstance(kind, str) or kind not in _UNITS:
        raise NotInTable(f'kind: got {kind!r:.40}, expected one of {", ".join(_UNITS)}. Try kind="length".')
    example = _EXAMPLES[kind]
    if not isinstance(text, str):
        raise WrongUnit(f'text: got {text!r:.40}, expected typed text. Try "{example.split(",")[0]}".')
    if len(text) > LONGEST:
        raise OutOfRange(f"That is {len(text)} characters; {_a(kind)} takes at most {LONGEST}. Try {example}.")
    for pattern, hint in _HINTS:
        if pattern.search(text):
            raise LatheworksError(f"Cannot read {text!r} as {_a(kind)}: {hint}.")
    match = _TYPED.fullmatch(text.strip())
    if match is None:
        raise LatheworksError(f"Cannot read {text!r} as {_a(kind)}. Try one number and one unit: {example}.")
    number = _number(match, text, example)
    if unit is not None and (not isinstance(unit, str) or unit not in _UNITS[kind]):
        raise WrongUnit(f"unit: got {unit!r:.40}, expected a unit of {kind} in quotes. Try {example}.")
    typed = (match["unit"] or "").strip() or unit
    if kind == "count":
        if typed:
            raise WrongUnit(f"Cannot read {text!r}: a count has no unit. Try {example}.")
        return Q_(number, ureg.dimensionless)
    if typed is None:
        raise WrongUnit(f"{text!r} has no unit, and {_a(kind)} needs one. Try {example}.")
    name = _UNITS[kind].get(typed) or _UNITS[kind].get(typed.lower())
    if name is None:
        raise WrongUnit(f"{typed!r} is not a unit of {kind} read here. Try {example}.")
    return Q_(number, _UNIT_OBJECTS[name])


def _a(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def _number(match: re.Match[str], text: str, example: str) -> float:
    """Turn the matched digits into a float, exactly for fractions."""
    stroke = match["mixed"] or match["fraction"]
    if stroke is None:
        number = Fraction(match["decimal"])
    else:
        top, bottom = (int(part) for part in stroke.split("/"))
        if bottom == 0:
            raise OutOfRange(f"{text!r} divides by nothing. Try {example}.")
        number = int(match["whole"] or 0) + Fraction(top, bottom)
    return math.copysign(float(number), -1.0) if match["sign"] in ("-", "−") and number else float(number)
