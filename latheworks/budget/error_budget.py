"""What the contributions add up to, against a tolerance."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from latheworks.budget import kernel
from latheworks.budget.contribution import ON_SIZE, Contribution, listed
from latheworks.budget.result import ErrorBudget, in_unit, millimeters
from latheworks.door import Door, given
from latheworks.errors import Impossible, WrongUnit
from latheworks.units import Q_, Span, U

SAMPLES, FEWEST, MOST_SAMPLES = 100_000, 1_000, 1_000_000
SEED, LARGEST_SEED = 1, 2**32 - 1
LARGEST = 10_000.0  # mm: no larger size is turned
_HAIR = 1e-9  # mm: rounding in a conversion of inches, no more
_TOLERANCE = 'tolerance=Span(Q_(31.95, "mm"), Q_(32.00, "mm"))'


def error_budget(contributions: Sequence[Contribution], tolerance: Any, aim: Any = None, coverage: int = 2,
                 samples: int = SAMPLES, seed: int = SEED) -> ErrorBudget:  # fmt: skip
    """Return what contributions add up to in a size, how much of its tolerance they use, and the chance that it holds.

    Mean = aim + sum of shifts; s = sqrt(sum of s_i^2); likely: mean -+ coverage x s; worst case: mean -+ sum of
    half-widths, a normal one with 3 s; use: the part of the room between aim and limit that is taken, on the side
    taken most; Cp = (max - min)/6s, Cpk = least of (max - mean)/3s and (mean - min)/3s. The chance comes from seeded
    draws (PCG64) of every contribution, independent of each other: no correlation.
    Parameters: contributions, one or a list of `Contribution`, on "diameter" or "radius", each with its own name;
    tolerance, the limits of the size, a Span of which one end may be open, or one width around the aim [length, above
    0]; aim, the size meant, between the limits [length; the middle when not given; 0 with a width]; coverage, the
    standard deviations of the likely range [1 to 6]; samples [1,000 to 1,000,000]; seed [0 to 4,294,967,295], the
    same seed gives the same answer. Raises LatheworksError with one message for all that do not fit.
    Source: sum of squares and coverage JCGM 100:2008, 5.1 and 6.2, from memory, checked against worked budgets;
    draws JCGM 101:2008, from memory; capability read in lecture notes; 3 s in the worst case: common practice.

    >>> wear = Contribution("tool wear", Q_(0.004, "mm"), Q_(0.004, "mm"), "uniform", on="radius")
    >>> dial = Contribution("re-zeroing", spread=Q_(0.006, "mm"), kind="uniform", on="radius")
    >>> found = error_budget([wear, dial], Span(Q_(31.95, "mm"), Q_(32.0, "mm")))
    >>> str(found.worst), round(found.likely_use, 2), round(found.cpk, 2)
    ('31.963 mm to 32.003 mm', 0.99, 0.68)
    """
    with Door("error_budget") as door:
        items = listed(door, contributions, "contributions", tuple(ON_SIZE))
        found, unit = _limits(door, tolerance)
        size = _aim(door, aim, found, width_only=isinstance(tolerance, Q_))
        k = door.whole(coverage, "coverage", least=1, most=6)
        count = door.whole(samples, "samples", least=FEWEST, most=MOST_SAMPLES)
        number = door.whole(seed, "seed", least=0, most=LARGEST_SEED)
    limits = found or (0.0, 0.0)
    if isinstance(tolerance, Q_):
        limits = (size + limits[0], size + limits[1])
    parts = [item.plain for item in items]
    shift, deviations, reaches = kernel.shift(parts), kernel.deviations(parts), kernel.reaches(parts)
    s, reach, mean = kernel.root_sum_square(deviations), float(reaches.sum()), size + shift
    errors = size + kernel.draw(parts, count, np.random.Generator(np.random.PCG64(number)))
    small, large = (int(out.sum()) for out in (errors < limits[0] - _HAIR, errors > limits[1] + _HAIR))
    both = all(math.isfinite(end) for end in limits)

    def length(value: float) -> Any:
        return in_unit(value, unit)

    def use(half: float) -> float:
        return max((shift + half) / (limits[1] - size), (half - shift) / (size - limits[0]), 0.0)

    chance = (count - small - large) / count
    each = np.abs([factor * bias for bias, _, _, factor in parts]) + reaches
    return ErrorBudget(
        contributions=items,
        limits=Span(*(length(end) if math.isfinite(end) else None for end in limits)),
        aim=length(size),
        shift=length(shift),
        mean=length(mean),
        standard_deviation=length(s),
        coverage=k,
        worst=Span(length(mean - reach), length(mean + reach)),
        likely=Span(length(mean - k * s), length(mean + k * s)),
        spread_shares=_shares(np.square(deviations)),
        worst_shares=_shares(each),
        worst_use=use(reach),
        likely_use=use(k * s),
        cp=(limits[1] - limits[0]) / (6 * s) if s > 0 and both else None,
        cpk=min(limits[1] - mean, mean - limits[0]) / (3 * s) if s > 0 else None,
        chance=chance,
        chance_small=small / count,
        chance_large=large / count,
        chance_half_width=kernel.half_width_of(chance, count) if s > 0 else 0.0,
        normal_chance=kernel.normal_below(limits[1] + _HAIR, mean, s) - kernel.normal_below(limits[0] - _HAIR, mean, s),
        samples=count,
        seed=number,
    )


def _shares(values: np.ndarray) -> np.ndarray:
    """Each as a share of the sum; all 0 where there is nothing to share."""
    total = float(values.sum())
    return values / total if total > 0 else np.zeros_like(values)


def _limits(door: Door, tolerance: Any) -> tuple[tuple[float, float] | None, Any]:
    """The limits in mm, None after a complaint, and the unit to answer in; around 0 where a width was given."""
    if isinstance(tolerance, Span):
        ends = [end for end in (tolerance.min, tolerance.max) if end is not None]
        if not ends:
            door.complain(
                "tolerance", "a Span open at both ends", "a limit at one end at least", _TOLERANCE, Impossible
            )
            return None, U.mm
        before = len(door.complaints)
        for end in ends:
            door.number(end, "tolerance", "mm", least=-LARGEST, most=LARGEST, example=_TOLERANCE)
        if len(door.complaints) > before:
            return None, U.mm
        low, high = millimeters(tolerance)
        if not low < high:
            door.complain("tolerance", str(tolerance), "limits with room between them", _TOLERANCE, Impossible)
            return None, U.mm
        return (low, high), ends[0].units
    if not isinstance(tolerance, Q_):
        door.complain("tolerance", given(tolerance), "a Span of limits, or one width", _TOLERANCE, WrongUnit)
        return None, U.mm
    before = len(door.complaints)
    width = door.number(tolerance, "tolerance", "mm", above=0, most=LARGEST, example='tolerance=Q_(0.05, "mm")')
    return (None, U.mm) if len(door.complaints) > before else ((-width / 2, width / 2), tolerance.units)


def _aim(door: Door, aim: Any, limits: tuple[float, float] | None, *, width_only: bool) -> float:
    """The size meant in mm, between the limits where they are known."""
    if limits is None:
        # Bad limits are not held against the aim.
        return 0.0 if aim is None else door.number(aim, "aim", "mm", least=-LARGEST, most=LARGEST)
    middle = (limits[0] + limits[1]) / 2
    if aim is None:
        if math.isinf(middle):
            door.complain("aim", "none", "the size meant, since the tolerance is open at one end",
                          'aim=Q_(31.98, "mm")', Impossible)  # fmt: skip
            return next(end for end in limits if math.isfinite(end))
        return middle
    if width_only:
        return door.number(aim, "aim", "mm", least=-LARGEST, most=LARGEST)
    low, high = (None if math.isinf(end) else end for end in limits)
    return door.number(aim, "aim", "mm", above=low, below=high, least=None if low is not None else -LARGEST,
                       most=None if high is not None else LARGEST)  # fmt: skip
