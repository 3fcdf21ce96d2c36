"""What a designation says, before any limit is worked out: sizes, pitch, series, class, hand, starts."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from latheworks.errors import Complaint, LatheworksError, NotInTable
from latheworks.tables import table

UNIFIED, METRIC, ACME, TRAPEZOIDAL = "unified", "iso metric", "acme", "iso trapezoidal"
NPT, PARALLEL_PIPE = "npt", "iso parallel pipe"
# The angle between the flanks, in degrees.
INCLUDED_ANGLE = {UNIFIED: 60, METRIC: 60, ACME: 29, TRAPEZOIDAL: 30, NPT: 60, PARALLEL_PIPE: 55}
INCH_SYSTEMS = (UNIFIED, ACME, NPT)
SERIES = ("UNC", "UNF", "UNEF")
CLASSES = ("1A", "2A", "3A", "1B", "2B", "3B")
ROUNDED_SERIES = {"UNC": "UNRC", "UNF": "UNRF", "UNEF": "UNREF", "UN": "UNR", "UNS": "UNRS"}


Limits = dict[str, tuple[Decimal | None, Decimal | None]]


class Step(NamedTuple):
    """One line of working, with the keys of its source."""

    symbol: str
    formula: str
    numbers: str
    result: str
    keys: str


@dataclass(frozen=True, slots=True)
class Spec:
    """A designation taken apart. Sizes are exact decimals, in inches for INCH_SYSTEMS and in mm for the others."""

    system: str
    size: str
    major: Decimal
    pitch: Decimal
    tpi: Decimal | None
    series: str
    root: str | None
    starts: int
    left: bool
    external: bool
    tolerance_class: str
    notes: tuple[str, ...] = ()

    @property
    def lead(self) -> Decimal:
        """The travel in one turn: starts x pitch."""
        return self.starts * self.pitch

    @property
    def name(self) -> str:
        """Size, pitch and series, without class, hand or starts: what a table is searched by."""
        if self.system in (METRIC, TRAPEZOIDAL):
            return f"{self.size}x{plain(self.pitch)}"
        if self.system == PARALLEL_PIPE:
            return self.size
        return f"{self.size}-{plain(self.tpi or 1)} {self.series}"

    @property
    def designation(self) -> str:
        """The whole designation in one agreed spelling."""
        hand = "-LH" if self.left else ""
        if self.system == METRIC:
            pitch = plain(self.pitch) if self.starts == 1 else f"Ph{plain(self.lead)}P{plain(self.pitch)}"
            return f"{self.size}x{pitch}-{self.tolerance_class}{hand}"
        if self.system == TRAPEZOIDAL:
            pitch = plain(self.pitch) if self.starts == 1 else f"{plain(self.lead)}(P{plain(self.pitch)})"
            return f"{self.size}x{pitch}-{self.tolerance_class}{hand.replace('-', ' ')}"
        if self.system == PARALLEL_PIPE:
            return self.size + (f" {self.tolerance_class}" if self.external else "") + hand
        if self.system == NPT:
            return f"{self.name}{hand} {self.tolerance_class}"
        series = ROUNDED_SERIES[self.series] if self.root == "UNR" else self.series
        starts = f" ({self.starts} STARTS)" if self.starts > 1 else ""
        kind = " INT" if self.system == ACME and not self.external else ""
        return f"{self.size}-{plain(self.tpi or 1)} {series}-{self.tolerance_class}{hand}{starts}{kind}"


def plain(value: Decimal | int) -> str:
    """A decimal without trailing zeros and never in powers of ten."""
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def half_up(value: Decimal, places: int) -> Decimal:
    """Round to decimal places, a half going up, as ASME B1.30 does."""
    return value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def refuse(
    got: str, expected: str, hint: str, kind: type[LatheworksError] = NotInTable, name: str = "designation"
) -> LatheworksError:
    """The error for a designation or a class: what was given, what was expected, what to try."""
    shown = got if len(got) <= 60 else got[:57] + "..."
    refused = kind(f"thread: {name}: got {shown!r}, expected {expected}. Try {hint}.")
    refused.complaints = (Complaint(name, repr(shown), expected, hint, kind, got),)
    return refused


@dataclass(frozen=True, slots=True)
class InchSize:
    """A row of the table of Unified sizes."""

    size: str
    major: Decimal
    series: dict[str, Decimal]
    constant: tuple[Decimal, ...]

    def series_of(self, tpi: Decimal) -> str:
        """The series that this number of threads per inch belongs to at this size; UNS when to none."""
        for name, threads in self.series.items():
            if threads == tpi:
                return name
        return "UN" if tpi in self.constant else "UNS"


@cache
def inch_sizes() -> dict[str, InchSize]:
    """The Unified sizes by their written size."""
    rows = {}
    for row in table("unified_sizes"):
        series = {name: Decimal(row[name.lower()]) for name in SERIES if row[name.lower()]}
        constant = tuple(Decimal(tpi) for tpi in row["un"].split())
        rows[row["size"]] = InchSize(row["size"], Decimal(row["major [in]"]), series, constant)
    return rows


@cache
def inch_sizes_by_major() -> dict[Decimal, InchSize]:
    """The Unified sizes by their major diameter, to four decimals of an inch."""
    return {half_up(row.major, 4): row for row in inch_sizes().values()}


@dataclass(frozen=True, slots=True)
class MetricSize:
    """A row of the table of ISO metric sizes; `coarse` is None where the plan gives the size fine pitches only."""

    size: str
    major: Decimal
    coarse: Decimal | None
    fine: tuple[Decimal, ...]

    @property
    def pitches(self) -> tuple[Decimal, ...]:
        """All pitches of the size, the coarse one first."""
        return ((self.coarse,) if self.coarse else ()) + self.fine


@cache
def metric_sizes() -> dict[Decimal, MetricSize]:
    """The ISO metric sizes by their major diameter in mm."""
    rows = {}
    for row in table("metric_sizes"):
        major = Decimal(row["major [mm]"])
        coarse = Decimal(row["coarse [mm]"]) if row["coarse [mm]"] else None
        fine = tuple(Decimal(pitch) for pitch in row["fine [mm]"].split())
        rows[major] = MetricSize(row["size"], major, coarse, fine)
    return rows


@cache
def all_names() -> tuple[str, ...]:
    """Every size, pitch and series in the tables, as written without a class."""
    names = []
    for row in inch_sizes().values():
        names += [f"{row.size}-{plain(tpi)} {name}" for name, tpi in row.series.items()]
        names += [f"{row.size}-{plain(tpi)} UN" for tpi in row.constant]
    for metric in metric_sizes().values():
        names += [f"{metric.size}x{plain(pitch)}" for pitch in metric.pitches]
    return tuple(names)


def mixed(value: Fraction) -> str:
    """A fraction of an inch as the trade writes it: 1 1/4, 7/16, 2."""
    whole, rest = divmod(value.numerator, value.denominator)
    part = f"{rest}/{value.denominator}" if rest else ""
    return f"{whole} {part}".strip() if whole else part
