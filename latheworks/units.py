"""The one unit registry, in which a revolution is a dimension of its own.

In a stock registry a turn is 2 pi radians, and radians have no dimension; so pi x 50 mm x 600 turns a
minute silently becomes 592 m/min instead of 94. Here feed per turn, turns per minute and angles cannot mix.
"""

import copyreg
import math
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pint

from latheworks.errors import OutOfRange, WrongUnit

ureg: Any = pint.UnitRegistry(Path(__file__).parent / "data" / "units.txt", autoconvert_offset_to_baseunit=False)
Q_: Any = ureg.Quantity


def _sent(magnitude: Any, unit: str) -> Any:
    """A quantity that came from another process."""
    return Q_(magnitude, ureg.parse_units(unit))


# pint would give it the other process's stock registry, and nothing of ours could be reckoned with it.
copyreg.pickle(Q_, lambda quantity: (_sent, (quantity.magnitude, str(quantity.units))))

# Parsing a unit's name costs ten times what using the unit does, so the common ones are parsed once.
U = SimpleNamespace(
    mm=ureg.mm, um=ureg.um, inch=ureg.inch, thou=ureg.thou, N=ureg.N, MPa=ureg.MPa, rev=ureg.rev, rpm=ureg.rpm,
    min=ureg.min, s=ureg.s, deg=ureg.degree, rad=ureg.radian, mm2=ureg.mm**2, mm_per_rev=ureg.mm / ureg.rev,
    mm_per_min=ureg.mm / ureg.min, m_per_min=ureg.m / ureg.min, N_per_mm=ureg.N / ureg.mm,
    Nmm_per_rad=ureg.N * ureg.mm / ureg.radian, one=ureg.dimensionless,
)  # fmt: skip

SYSTEMS = ("metric", "inch")

# For each dimension: the unit and the decimals a shop writes, metric then inch.
_SHOP = [
    ("mm", ("mm", 3), ("in", 4)),
    ("mm**2", ("mm**2", 3), ("in**2", 5)),
    ("mm/rev", ("mm/rev", 3), ("in/rev", 4)),
    ("rev/min", ("rev/min", 0), ("rev/min", 0)),
    ("mm/min", ("m/min", 1), ("ft/min", 0)),
    ("N", ("N", 0), ("lbf", 0)),
    ("MPa", ("MPa", 0), ("ksi", 1)),
    ("N/mm", ("N/µm", 1), ("lbf/thou", 1)),
    ("s", ("s", 1), ("s", 1)),
    ("kg", ("kg", 3), ("lb", 3)),
    ("W", ("kW", 2), ("hp", 2)),
    ("kg/m**3", ("kg/m**3", 0), ("lb/in**3", 4)),
]
_BY_DIMENSION = {ureg.parse_units(unit).dimensionality: (metric, inch) for unit, metric, inch in _SHOP}
_PARSED = {name: ureg.parse_units(name) for _, *sides in _SHOP for name, _ in sides}
_PRETTY = {"mm**2": "mm²", "in**2": "in²", "kg/m**3": "kg/m³", "lb/in**3": "lb/in³"}


@dataclass(frozen=True, slots=True)
class Span:
    """The two ends of a range, such as the limits of a size; an end left open by the standard is None.

    >>> Span(Q_(4.0, "mm"), Q_(4.2, "mm")).mid.to("mm").magnitude
    4.1
    """

    min: Any
    max: Any

    @property
    def mid(self) -> Any:
        """The middle of the range, or None when an end is open."""
        return None if self.min is None or self.max is None else (self.min + self.max) / 2

    @property
    def width(self) -> Any:
        """The tolerance: largest less smallest, or None when an end is open."""
        return None if self.min is None or self.max is None else self.max - self.min

    def holds(self, value: Any) -> bool:
        """Whether a value [mm or in] lies inside, ends included; an open end never excludes. Raises WrongUnit.

        >>> Span(Q_(4.0, "mm"), None).holds(Q_(0.5, "in"))
        True
        """
        # A millionth of a millimeter keeps a value converted from inches inside its own limit.
        one = isinstance(value, Q_) and value.is_compatible_with(U.mm) and getattr(value.magnitude, "ndim", 0) == 0
        if not one or not math.isfinite(value.magnitude):
            raise WrongUnit(f'value: got {value!r:.60}, expected one length. Try Q_(4.1, "mm").')
        size = value.m_as(U.mm)
        low = self.min is None or size >= self.min.m_as("mm") - 1e-6
        return low and (self.max is None or size <= self.max.m_as("mm") + 1e-6)

    def __str__(self) -> str:
        return f"{'open' if self.min is None else show(self.min)} to {'open' if self.max is None else show(self.max)}"


def check_system(system: Any) -> str:
    """Return the display system, "metric" or "inch", or raise WrongUnit."""
    if not isinstance(system, str) or system not in SYSTEMS:
        raise WrongUnit(f'system: got {system!r:.60}, expected "metric" or "inch". Try system="inch".')
    return system


def display_unit(quantity: Any, system: str = "metric") -> tuple[Any, str, int]:
    """Return (unit, its written form, decimals) in which a shop writes this kind of quantity."""
    side = _BY_DIMENSION.get(quantity.dimensionality)
    if side is None:
        return quantity.units, f"{quantity.units:~P}", 3
    name, decimals = side[SYSTEMS.index(system)]
    return _PARSED[name], _PRETTY.get(name, name), decimals


def show(quantity: Any, system: str = "metric", digits: int | None = None) -> str:
    """Write a quantity as a shop would: its usual unit, its usual decimals, never a number without a unit.

    Parameters: quantity, any quantity [any unit of the registry], one value or an array; system, "metric"
    or "inch"; digits, decimals to show instead of the usual ones (0 to 12). Angles show in degrees and bare
    ratios as plain numbers. Raises WrongUnit for anything that is not a quantity and OutOfRange for a value
    that is not finite. Source: decimals are common practice (0.001 mm, 0.0001 in), no source.

    >>> show(Q_(0.5, "in")), show(Q_(12.7, "mm"), "inch"), show(Q_(29.5, "degree"))
    ('12.700 mm', '0.5000 in', '29.50°')
    """
    system = check_system(system)
    if not isinstance(quantity, Q_) or isinstance(quantity.magnitude, (bool, str)):
        raise WrongUnit(f"quantity: got {quantity!r:.60}, expected a value with a unit. Try show(Q_(12.7, 'mm')).")
    whole = isinstance(digits, int) and not isinstance(digits, bool)
    if digits is not None and (not whole or not 0 <= digits <= 12):
        raise OutOfRange(f"digits: got {digits!r:.40}, expected a whole number from 0 to 12. Try digits=3.")
    if quantity.dimensionless:
        angle = quantity.units in (U.deg, U.rad)
        values, unit, decimals = (quantity.m_as(U.deg), "°", 2) if angle else (quantity.m_as(U.one), "", 3)
    else:
        target, unit, decimals = display_unit(quantity, system)
        values, unit = quantity.m_as(target), f" {unit}"
    decimals = decimals if digits is None else digits
    written = [float(each) for each in (values.ravel() if hasattr(values, "ravel") else (values,))]
    if not written:
        raise OutOfRange("quantity: got an empty list, expected at least one value. Check the step that made it.")
    if not all(map(math.isfinite, written)):
        raise OutOfRange(f"quantity: got {values!r:.60}, expected finite numbers. Check the step that made it.")
    return ", ".join(_fixed(each, decimals) for each in written) + unit


def show_stock(quantity: Any, system: str = "metric") -> str:
    """Write a stock size as it is sold: in inches as a fraction, down to sixty-fourths, where it is one.

    Parameters: quantity, one length [any unit of length]; system, "metric" or "inch". Raises as `show`. Source: bar is
    sold by fractions of an inch: common practice, no source.

    >>> show_stock(Q_(1.375, "in"), "inch"), show_stock(Q_(35, "mm"), "inch"), show_stock(Q_(1.375, "in"))
    ('1 3/8 in', '1.3780 in', '34.925 mm')
    """
    written = show(quantity, system)
    if system != "inch":
        return written
    parts = quantity.m_as(U.inch) * 64
    if round(parts) < 1 or abs(parts - round(parts)) > 64e-5:
        return written
    whole, rest = divmod(Fraction(round(parts), 64), 1)
    return " ".join(str(part) for part in (whole, rest) if part) + " in"


def _fixed(value: float, decimals: int) -> str:
    """Fixed decimals, without a minus sign on a rounded zero."""
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if math.isclose(float(text), 0.0, abs_tol=0.0) else text
