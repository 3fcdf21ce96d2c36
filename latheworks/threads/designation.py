"""Reading a designation as a drawing writes it; what cannot be read is answered with the nearest form that can."""

import re
from decimal import Decimal
from fractions import Fraction
from typing import Any

from latheworks.door import nearest
from latheworks.errors import Impossible, NotInTable, OutOfRange
from latheworks.threads import acme, metric, parallel_pipe, taper_pipe, trapezoidal
from latheworks.threads.parts import DASHES, HANDED, STARTED, left_hand, one_class, starts_of
from latheworks.threads.spec import (
    CLASSES,
    METRIC,
    UNIFIED,
    InchSize,
    Spec,
    all_names,
    half_up,
    inch_sizes,
    inch_sizes_by_major,
    metric_sizes,
    mixed,
    plain,
    refuse,
)

EXAMPLES = '"1/2-13 UNC-2A", "#10-24 UNC-3B" or "M10x1.5-6H"'
LONGEST = 60
STARTS_EXAMPLE, HAND_EXAMPLE = '"3/4-16 UNF-2A (2 STARTS)"', '"1/2-13 UNC-2A-LH"'
SERIES_OF_ROOT = {"UNRC": "UNC", "UNRF": "UNF", "UNREF": "UNEF", "UNR": "UN", "UNRS": "UNS"}

_SIZE = (
    r"(?:(?:#|NO\.? ?)(?P<number>[0-9]{1,2})|(?:(?P<whole>[0-9]{1,2})[ -])?(?P<fraction>[0-9]{1,2}/[0-9]{1,2})"
    r"|(?P<decimal>[0-9]{0,2}\.[0-9]{1,4})|(?P<integer>[0-9]{1,2}))(?: ?(?:\"|IN\b))?"
)
_PITCH = (
    r"(?:(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,3})?(?:[ -](?P<half>[13]/[24]))?)"
    r"|(?P<pitch>0?\.[0-9]{2,5})P ?- ?(?P<lead>[0-9]?\.[0-9]{2,5})L)"
)
_UNIFIED = re.compile(
    _SIZE + r" ?- ?" + _PITCH + STARTED + r"[ -]{0,3}(?P<series>UNR?(?:C|F|EF|S)?)?(?:[ -]{0,3}(?P<cls>[0-9][A-Z]))?"
    + HANDED, re.I | re.A,
)  # fmt: skip
_METRIC = re.compile(
    r"M ?(?P<size>[0-9]{1,3}(?:[.,][0-9]{1,2})?)"
    r"(?: ?X ?(?:PH ?(?P<lead>[0-9]{1,2}(?:[.,][0-9]{1,3})?) ?P ?(?P<fine>[0-9](?:[.,][0-9]{1,3})?)"
    r"|(?P<pitch>[0-9](?:[.,][0-9]{1,3})?)))?" + STARTED
    + r"(?:[ -]{1,3}(?P<cls>[0-9][A-Z](?:[0-9][A-Z])?))?" + HANDED, re.I | re.A,
)  # fmt: skip
FAMILIES: tuple[Any, ...] = (acme, trapezoidal, taper_pipe, parallel_pipe)
_ANY_SIZE = re.compile(r"M ?[0-9]+(?:\.[0-9]+)?|#?[0-9]{1,2}(?: [0-9]{1,2}/[0-9]{1,2}|/[0-9]{1,2})?", re.I | re.A)
_BOTH = re.compile(r"([0-9][A-Za-z](?:[0-9][A-Za-z])?) ?/ ?([0-9][A-Za-z](?:[0-9][A-Za-z])?)\s*$", re.A)

# A family that is named but not readable as written: what to look for, what is read, and its names.
_WORDS: tuple[tuple[re.Pattern[str], tuple[str, list[str]]], ...] = (
    (re.compile(r"ACME", re.I), ("a general purpose ACME thread; stub and centralizing ones are not tabled here",
     [f"{size}-{plain(tpi)} ACME-2G" for size, tpi in acme.sizes().values()])),
    (re.compile(r"\bTR ?[0-9]", re.I), ("an ISO trapezoidal thread as a drawing has it",
     [f"Tr {plain(d)}x{plain(p[0])}-7e" for d, p in trapezoidal.sizes().items()])),
    (re.compile(r"\b(?:NPT|NPS)", re.I), ("a taper pipe thread NPT; NPTF, NPS and NPSM are not tabled here",
     [f"{size}-{row['tpi']} NPT" for size, row in taper_pipe.sizes().items()])),
    (re.compile(r"\b(?:BSP|RC?|G) ?[0-9PT]", re.I), ("a parallel pipe thread G; the taper R and Rc are not tabled here",
     [f"G {size}" for size in parallel_pipe.sizes()])),
    (re.compile(r"UNJ|MJ", re.I), ("a thread without the J root: UNJ and MJ are not tabled here", ["M10x1.5-6g"])),
)  # fmt: skip


def read(typed: str, tolerance_class: str | None) -> Spec:
    """Take a designation apart; raises LatheworksError with the nearest readable form."""
    text = " ".join(typed.translate(DASHES).split())
    both = _BOTH.search(text)
    if both:
        stem = text[: both.start()]
        raise refuse(typed, "one thread, not a fit of two", f'"{stem}{both[1]}" or "{stem}{both[2]}"', Impossible)
    match = _METRIC.fullmatch(text)
    if match:
        return _metric(match, typed, tolerance_class)
    match = _UNIFIED.fullmatch(text)
    if match:
        return _unified(match, typed, tolerance_class)
    for family in FAMILIES:
        match = family.PATTERN.fullmatch(text)
        if match:
            return family.read(match, typed, tolerance_class)
    raise _unreadable(text, typed)


def _unreadable(text: str, typed: str) -> NotInTable:
    """The error for text that is no designation at all, with the nearest one that is."""
    for word, family in _WORDS:
        if word.search(text):
            expected, names = family
            return refuse(typed, expected, f'"{nearest(text, names) or names[0]}"')  # type: ignore[return-value]
    stem = re.split(r"[ -]+[0-9][A-Za-z]", text)[0]
    size = _ANY_SIZE.search(text)
    written = size[0].lower().replace("m ", "m") if size else ""
    asked = {f"m{written}"} if re.search(r"[0-9] ?mm", text, re.I) else {written, f"#{written}"}
    same = [name for name in all_names() if re.split("[-x]", name)[0].lower() in asked]
    named = nearest(stem, same or all_names()) if size else None
    near = same[:2] if same and stem == written else [named] if named else same[:2]
    hint = " or ".join(f'"{name}"' for name in near) if near else EXAMPLES
    return refuse(typed, "a Unified or ISO metric thread as a drawing has it", hint)  # type: ignore[return-value]


# Unified


def _unified(match: re.Match[str], typed: str, asked: str | None) -> Spec:
    tpi, starts = _tpi(match, typed)
    size, major, row = _inch_size(match, tpi, typed)
    written = (match["series"] or "").upper()
    root = "UNR" if written.startswith("UNR") else "UN"
    wanted = SERIES_OF_ROOT.get(written, written)
    cls = one_class(match["cls"].upper() if match["cls"] else None, asked.upper() if asked else None, typed)
    if cls is not None and cls not in CLASSES:
        stem = f"{size}-{plain(tpi)} {written or 'UN'}"
        raise refuse(asked or typed, "a class of " + " ".join(CLASSES), f'"{stem}-2A" or "{stem}-2B"')
    series, notes = _series(row, size, tpi, wanted, cls or "2A", typed)
    if not Decimal("0.01") <= 1 / tpi / major <= Decimal("0.25"):
        hint = f'"{size}-{plain(next(iter(row.series.values()), tpi))}"' if row and row.series else EXAMPLES
        raise refuse(typed, "a pitch of 1 to 25 hundredths of the diameter", hint, OutOfRange)
    if cls is None:
        cls = "2A"
        notes += ("no class was given: 2A, for an external thread, is taken; .mate() is the 2B that fits it",)
    external = cls[1] == "A"
    if root == "UNR" and not external:
        name = {v: k for k, v in SERIES_OF_ROOT.items()}[series]
        hint = f'"{size}-{plain(tpi)} {series}-{cls}" or "{size}-{plain(tpi)} {name}-{cls[0]}A"'
        raise refuse(typed, "class A with UNR, since only external threads have the rounded root", hint, Impossible)
    if cls[0] == "1" and (series not in ("UNC", "UNF") or major < Decimal("0.25")):
        notes += ("the tables print class 1 only for UNC and UNF from 1/4 in; here it is by the same formulas",)
    if starts > 1:
        notes += ("limits are those of a single start of the same pitch",)
    left = left_hand(match, typed, HAND_EXAMPLE)
    return Spec(
        UNIFIED, size, major, 1 / tpi, tpi, series, root if external else None, starts, left, external, cls, notes
    )


def _tpi(match: re.Match[str], typed: str) -> tuple[Decimal, int]:
    """Threads per inch and starts, from threads per inch or from pitch and lead."""
    starts = starts_of(match, typed, STARTS_EXAMPLE)
    if match["tpi"]:
        whole = re.split("[ -]", match["tpi"])[0]
        tpi = Decimal(whole)
        if match["half"]:
            top, bottom = match["half"].split("/")
            tpi += Decimal(top) / Decimal(bottom)
        if not 4 <= tpi <= 80:
            raise refuse(typed, "4 to 80 threads per inch", EXAMPLES, OutOfRange)
        return tpi, starts or 1
    pitch, lead = Decimal(match["pitch"]), Decimal(match["lead"])
    tpi = (2 / pitch).quantize(Decimal(1)) / 2 if pitch else Decimal(0)
    # Pitch and lead are written to four decimals, so they may be off by half of the last one, each start.
    slack = Decimal("0.00006")
    if not 4 <= tpi <= 80 or abs(1 / tpi - pitch) > slack:
        raise refuse(typed, "a pitch of a whole number of threads per inch", '".750-.0625P-.1875L(3-STARTS)UNF-2A"')
    count = int((lead / pitch).quantize(Decimal(1)))
    if not 1 <= count <= 8 or abs(count / tpi - lead) > count * slack or starts not in (None, count):
        right = starts or min(max(count, 1), 8)
        raise refuse(typed, f"a lead of starts x pitch, {half_up(right / tpi, 4)} in for {right} starts",
                     '".750-.0625P-.1875L(3-STARTS)UNF-2A"', Impossible)  # fmt: skip
    return tpi, count


def _inch_size(match: re.Match[str], tpi: Decimal, typed: str) -> tuple[str, Decimal, InchSize | None]:
    """(written size, major diameter [in], row of the table or None)."""
    sizes, by_major = inch_sizes(), inch_sizes_by_major()
    if match["integer"] and _is_number(match["integer"], tpi):
        return _number(match["integer"], typed)
    if match["number"]:
        return _number(match["number"], typed)
    if match["decimal"]:
        major = half_up(Decimal(match["decimal"]), 4)
        digits = len(match["decimal"].split(".")[1])
        # A size written to three decimals, .312, means the tabled size that it is cut short from, .3125.
        cut = [m for m in by_major if digits == 3 and major <= m < major + Decimal("0.001")]
        row = by_major.get(major) or (by_major[cut[0]] if cut else None)
        size = row.size if row else f"{major}"
        major = row.major if row else major
    else:
        value = Fraction(0)
        if match["fraction"]:
            top, bottom = match["fraction"].split("/")
            if not int(bottom):
                raise refuse(typed, "a size such as 1/2", EXAMPLES, OutOfRange)
            value += Fraction(int(top), int(bottom))
        value += int(match["whole"] or match["integer"] or 0)
        size = mixed(value)
        row = sizes.get(size)
        major = row.major if row else half_up(Decimal(value.numerator) / value.denominator, 4)
    if not Decimal("0.06") <= major <= 6:
        raise refuse(typed, "a size from 0.060 in (#0) to 6 in", EXAMPLES, OutOfRange)
    return size, major, row


def _is_number(integer: str, tpi: Decimal) -> bool:
    """Whether a bare whole number is a number size: 10-24 and 6-32 are, 1-8 and 6-4 are inches."""
    row = inch_sizes().get(f"#{int(integer)}")
    return row is not None and (int(integer) in (0, 8, 10, 12) or row.series_of(tpi) != "UNS" or tpi > 32)


def _number(number: str, typed: str) -> tuple[str, Decimal, InchSize]:
    row = inch_sizes().get(f"#{int(number)}")
    if row is None:
        numbers = [size for size in inch_sizes() if size.startswith("#")]
        near = min(numbers, key=lambda size: abs(int(size[1:]) - int(number)))
        raise refuse(typed, "a number size of " + " ".join(numbers), f'"{near}-{plain(_first_tpi(near))}"')
    return row.size, row.major, row


def _first_tpi(size: str) -> Decimal:
    return next(iter(inch_sizes()[size].series.values()))


def _series(
    row: InchSize | None, size: str, tpi: Decimal, wanted: str, cls: str, typed: str
) -> tuple[str, tuple[str, ...]]:
    """The series that the standard gives this size and pitch, and a note where that is not what was written."""
    official = row.series_of(tpi) if row else "UNS"
    here = f"{size}-{plain(tpi)}"
    if wanted in ("", official):
        return official, () if wanted else (f"no series was given: {here} is {official}",)
    if wanted == "UN":
        return official, (f"{here} is listed as {official}",)
    named = row.series.get(wanted) if row else None
    tail = f"-{cls}"
    right = f'"{here} {official}{tail}"'
    if wanted == "UNS":
        raise refuse(typed, f"the series the standard lists: {here} is {official}", right)
    if named is None:
        raise refuse(
            typed, f"a series that has this size: there is no {wanted} at {size}, and {here} is {official}", right
        )
    proper = f'"{size}-{plain(named)} {wanted}{tail}"'
    raise refuse(typed, f"{size}-{plain(named)} for {wanted}; {here} is {official}", f"{proper} or {right}")


# ISO metric


def _metric(match: re.Match[str], typed: str, asked: str | None) -> Spec:
    def number(name: str) -> Decimal | None:
        return Decimal(plain(Decimal(match[name].replace(",", ".")))) if match[name] else None

    major, pitch, starts = (
        number("size") or Decimal(0),
        number("pitch") or number("fine"),
        starts_of(match, typed, STARTS_EXAMPLE),
    )
    row, lead = metric_sizes().get(major), number("lead")
    notes: tuple[str, ...] = ()
    if pitch is None:
        if row is None or row.coarse is None:
            raise _no_pitch(major, typed)
        pitch = row.coarse
    if not metric.pitch_grades(major, pitch, True):
        raise _no_pitch(major, typed)
    if row is None or pitch not in row.pitches:
        notes += (f"M{plain(major)}x{plain(pitch)} is not in the general plan of ISO 261; limits are from ISO 965-1",)
    if lead is not None:
        count = lead / pitch
        if count != int(count) or not 1 <= count <= 8 or starts not in (None, int(count)):
            right = f"M{plain(major)}xPh{plain(pitch * (starts or 2))}P{plain(pitch)}"
            raise refuse(typed, "a lead Ph of a whole number of pitches P, 1 to 8 starts", f'"{right}"', Impossible)
        starts = int(count)
    cls = one_class(match["cls"], asked, typed)
    if cls is None:
        cls = metric.default_class(major)
        notes += (f"no class was given: {cls}, for an external thread, is taken; .mate() is the thread that fits it",)
    pitch_part, crest_part, external = metric.split_class(cls)
    cls = crest_part if pitch_part == crest_part else pitch_part + crest_part
    if starts is not None and starts > 1:
        notes += ("limits are those of a single start of the same pitch",)
    left = left_hand(match, typed, HAND_EXAMPLE)
    spec = Spec(METRIC, f"M{plain(major)}", major, pitch, None, "M", None, starts or 1, left, external, cls, notes)
    metric.check_class(spec, typed if match["cls"] else f"{typed}, {cls}")
    return spec


def _no_pitch(major: Decimal, typed: str) -> NotInTable:
    """The error for a size or a pitch that ISO 965-1 does not table."""
    sizes = metric_sizes()
    row = sizes.get(major) or min(sizes.values(), key=lambda size: abs(size.major - major))
    pitches = " ".join(plain(pitch) for pitch in row.pitches)
    expected = f"a pitch that is tabled; {row.size} has {pitches}"
    return refuse(typed, expected, f'"{row.size}x{plain(row.pitches[0])}"')  # type: ignore[return-value]
