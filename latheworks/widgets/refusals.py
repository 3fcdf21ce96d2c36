"""What a bench says when the library refuses a setting: its own labels, and values as they were typed."""

import re
from collections.abc import Mapping
from typing import Any

from latheworks.errors import Complaint, LatheworksError
from latheworks.units import Q_, show


def in_shop_words(error: LatheworksError, controls: Mapping[str, Any], also: Mapping[str, str], system: str) -> str:
    """Put an error of the library into words for the page.

    `controls` are the bench's, by name; `also` says which control stands for an argument of another name.
    """
    if error.complaints:
        named = ((each, controls.get(also.get(each.name, each.name))) for each in error.complaints)
        return "\n".join(_sentence(each, control, system) for each, control in named)
    # The name of a function means nothing on the page.
    return re.sub(r"^\w+: (?=\w[\w ]*: got )", "", str(error))


def _sentence(each: Complaint, control: Any, system: str) -> str:
    """One complaint: what is wrong with which control, why, and what to type."""
    because = "".join(part if isinstance(part, str) else show(part, system) for part in each.because)
    if control is None:
        words = each.name.replace("_", " ").capitalize()
        return f"{words}: {each.given} does not fit here: expected {because or each.expected}."
    said = f"{control.spec.words}: {control.as_typed()}"
    why = f": {because}" if because else ""
    for bound, more, way in ((each.most, True, "more than the {} allowed here"),
                             (each.least, False, "less than the {} needed here")):  # fmt: skip
        if bound is not None and _like(each.value, bound) and (each.value > bound if more else each.value < bound):
            limit = control.written(bound)
            return f"{said} is {way.format(limit)}{why}. Type {limit} or {'less' if more else 'more'}."
    # A program's hint may name its argument; a box holds the value alone.
    hint = (
        each.hint.removeprefix(f"{each.name}=").replace('"', "")
        if isinstance(control.value, str)
        else control.written(control.spec.start)
    )
    return f"{said} does not fit here: {because or f'expected {each.expected}'}. Type {hint}."


def _like(value: Any, bound: Any) -> bool:
    """Whether the two can be compared."""
    if isinstance(bound, Q_):
        return isinstance(value, Q_) and value.is_compatible_with(bound)
    return isinstance(value, (int, float))
