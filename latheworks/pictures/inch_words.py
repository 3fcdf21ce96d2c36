"""The sentences of a review in inches: they are written in metric units, and a bench may be set to inches."""

import re

from latheworks.units import Q_, show, ureg

_UNITS = {name: ureg(name.replace(" ", "*")).units for name in ("mm/min", "mm", "\u00b5m", "N m", "N", "MPa")}
_NUMBER = r"-?\d+(?:\.\d+)?"
_SECOND = rf"(?:(?P<link> to | of | and )(?P<second>{_NUMBER}))?"
_SIZE = rf"(?<![\w.])(?P<first>{_NUMBER}){_SECOND} (?P<unit>{'|'.join(_UNITS)})\b"


def in_system(text: str, system: str, names: tuple[str, ...] = ()) -> str:
    """A sentence with its sizes in a unit system; names, of tools, stay as they are with the sizes in them."""
    if system == "metric":
        return text
    kept = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True) if name)
    return re.sub(f"(?P<name>{kept})|{_SIZE}" if kept else f"(?P<name>$^)|{_SIZE}", _inch, text)


def _inch(found: re.Match[str]) -> str:
    if found["name"] is not None:
        return found["name"]
    unit = _UNITS[found["unit"]]

    def written(number: str) -> str:
        # An inch wants about as many digits as 25 mm: two more behind the point.
        digits = min(4, len(number.partition(".")[2]) + 2) if found["unit"] == "mm" else None
        if found["unit"] == "mm/min":  # a slide's speed is no surface speed, which goes in feet
            return f"{float(number) / 25.4:.1f} in/min"
        return show(Q_(float(number), unit), "inch", digits)

    last = written(found["second"] or found["first"])
    if found["second"] is None:
        return last
    return f"{written(found['first']).partition(' ')[0]}{found['link']}{last}"
