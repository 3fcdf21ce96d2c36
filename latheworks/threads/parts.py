"""What designations of every family share: hand, starts, an inch size, a class that may come as an argument."""

import re
from decimal import Decimal
from fractions import Fraction

from latheworks.errors import Impossible, OutOfRange
from latheworks.threads.spec import refuse

WORDS = {"TWO": 2, "THREE": 3, "FOUR": 4}
MOST_STARTS = 8

# Digits are spelled 0-9: \d would let in the digits of other scripts.
_TAIL = r"(?:[ -]{0,3}(?:(?P<hand>LH|RH)|\(?(?P<starts>[0-9]|TWO|THREE|FOUR)[ -]STARTS?\)?))"
HANDED = _TAIL + "?" + re.sub(r"\?P<(\w+)>", r"?P<\g<1>2>", _TAIL) + "?"
STARTED = r"(?: ?\((?P<starts0>[0-9]|TWO|THREE|FOUR)[ -]STARTS?\))?"
KIND = r"(?:[ ,-]{0,3}(?P<kind>EXT|INT)(?:ERNAL)?)?"
INCHES = (
    r"(?P<size>[0-9]{1,2}[ -][0-9]{1,2}/[0-9]{1,2}|[0-9]{1,2}/[0-9]{1,2}|[0-9]{0,2}\.[0-9]{1,4}|[0-9]{1,2})"
    r"(?: ?(?:\"|IN\b))?"
)
DASHES = str.maketrans({**dict.fromkeys("‐‑‒–—−", "-"), **dict.fromkeys("×✕", "x"), **dict.fromkeys("″”“", '"'),
                        "½": " 1/2", "¼": " 1/4", "¾": " 3/4"})  # fmt: skip


def starts_of(match: re.Match[str], typed: str, example: str) -> int | None:
    """The number of starts in words or digits, or None when not written."""
    written = {match[name].upper() for name in ("starts0", "starts", "starts2") if match[name]}
    if not written:
        return None
    numbers = {WORDS.get(word) or int(word) for word in written}
    if len(numbers) > 1 or not 1 <= min(numbers) <= MOST_STARTS:
        raise refuse(typed, f"one number of starts, from 1 to {MOST_STARTS}", example, OutOfRange)
    return numbers.pop()


def left_hand(match: re.Match[str], typed: str, example: str) -> bool:
    """Whether the thread is left hand; both hands at once are refused."""
    hands = {match[name].upper() for name in ("hand0", "hand", "hand2") if match.groupdict().get(name)}
    if len(hands) > 1:
        raise refuse(typed, "one hand, LH or RH", example, Impossible)
    return hands == {"LH"}


def one_class(written: str | None, asked: str | None, typed: str) -> str | None:
    """The class from the designation or from the argument, which must not disagree."""
    if written and asked and written != asked:
        hint = f'thread("{typed}") without tolerance_class, or .mate("{asked}") for the thread that screws onto it'
        raise refuse(typed, f"one class, not {written} and {asked}", hint, Impossible)
    return written or asked


def inches(text: str, typed: str, example: str) -> Fraction:
    """An inch size as written: 1 1/2, 1-1/2, 7/16, .500 or 2."""
    total = Fraction(0)
    for part in re.split("[ -]", text):
        if part.endswith("/0") or part.endswith("/00"):
            raise refuse(typed, "a size such as 1/2", example, OutOfRange)
        total += Fraction(part if not part.startswith(".") else f"0{part}")
    return total


def decimal(value: Fraction) -> Decimal:
    """A fraction as an exact or 28-digit decimal."""
    return Decimal(value.numerator) / value.denominator
