"""Springs one behind the other: part, tool, slide, center and quill all give to the same force."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from latheworks.door import Door, given
from latheworks.errors import WrongUnit
from latheworks.units import Q_, U

_COPY = 'stiffnesses=[Q_(50000, "N/mm"), Q_(30000, "N/mm")]'
_MOST = 100


def series(stiffnesses: Iterable[float]) -> float:
    """1/k = sum of 1/k_i on plain floats; infinite when every spring is rigid."""
    give = sum(1.0 / stiffness for stiffness in stiffnesses)
    return 1.0 / give if give else float("inf")


def in_series(stiffnesses: Any) -> Any:
    """Return the stiffness of springs that carry the same force one behind the other.

    1/k = 1/k_1 + 1/k_2 + ...: what each gives adds up, so the whole is softer than its softest spring. A center in
    its quill in the tailstock body is one such chain; tool, holder and slide are another.
    Parameters: stiffnesses, a list of 1 to 100 [N/mm, 1 or more each, may be infinite for a rigid one]. Returns
    [N/mm]. A spring that resists turning counts with its tilt stiffness over the square of its arm.
    Raises WrongUnit or OutOfRange. Source: any text on machine tools, from memory; follows from equal forces.

    >>> in_series([Q_(50, "N/um"), Q_(30, "N/um")]).to("N/um").round(2)
    <Quantity(18.75, 'newton / micrometer')>
    """
    with Door("in_series") as door:
        listed = isinstance(stiffnesses, (list, tuple)) and 0 < len(stiffnesses) <= _MOST
        if not listed:
            door.complain("stiffnesses", given(stiffnesses), f"a list of 1 to {_MOST} stiffnesses", _COPY, WrongUnit)
        values = [
            door.number(k, f"stiffnesses, number {i}", "N/mm", least=1.0, finite=False, example=_COPY)
            for i, k in enumerate(stiffnesses if listed else (), 1)
        ]
    return Q_(series(values), U.N_per_mm)
