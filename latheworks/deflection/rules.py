"""Rules of thumb for length over diameter, each with where it comes from, beside the error that was computed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from latheworks.deflection.shaft import LONGEST, SMALLEST
from latheworks.door import Door
from latheworks.results import Result
from latheworks.tables import cite, table
from latheworks.units import Q_, U, show

_USES = ("turning", "boring")


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of thumb: for what it is, from and to which ratio, what it means, and its source."""

    made: str
    least: float
    most: float
    meaning: str
    source: str

    def verdict(self, ratio: float) -> str:
        """Where a ratio stands: "within", "at the edge" or "beyond"."""
        return "within" if ratio <= self.least else "at the edge" if ratio <= self.most else "beyond"

    def span(self) -> str:
        """The limit in words."""
        return f"{self.least:g}" if self.least == self.most else f"{self.least:g} to {self.most:g}"


@dataclass(frozen=True, slots=True)
class RulesOfThumb(Result):
    """Rules of thumb beside a computed error; none of them is a limit of physics.

    Fields: use, "turning" or "boring"; length and diameter [mm]; ratio, one over the other; rules, as `Rule`;
    computed, the error of the diameter that was worked out [mm], or None.
    """

    use: str
    length: Any
    diameter: Any
    ratio: float
    rules: tuple[Rule, ...]
    computed: Any

    def title(self) -> str:
        """One line that says what this is."""
        return f"{self.use.capitalize()}: {show(self.length)} of {show(self.diameter)}, {self.ratio:.1f} diameters"

    def facts(self) -> list[tuple[str, str]]:
        """The computed error first, then every rule with its source."""
        error = "none given: work it out for this cut" if self.computed is None else show(self.computed, digits=4)
        said = [("computed error of the diameter", error)]
        for rule in self.rules:
            said.append((f"{rule.made}, {rule.span()}", f"{rule.verdict(self.ratio)}: {rule.meaning} ({rule.source})"))
        note = "Rules of thumb know neither material, force nor tolerance. Where they and the error differ, the error "
        return [*said, ("note", note + "decides about size; chatter may still ask for less.")]

    def columns(self) -> dict[str, Any]:
        """The rules, a row each."""
        return {
            "held or made": [rule.made for rule in self.rules],
            "limit [L/D]": [rule.span() for rule in self.rules],
            "verdict": [rule.verdict(self.ratio) for rule in self.rules],
            "source": [rule.source for rule in self.rules],
        }


def rules_of_thumb(use: Any, length: Any, diameter: Any, computed: Any = None) -> RulesOfThumb:
    """Return the rules of thumb for length over diameter, with their sources, beside the error that was computed.

    ratio = L/D; each rule says whether it is within, at the edge of its span, or beyond.
    Parameters: use, "turning" (stickout and diameter of the part) or "boring" (overhang and diameter of the bar);
    length and diameter [mm, 0.01 mm to 10 m]; computed, the error of the diameter that was worked out, as by
    `boring_bar_error` [mm; left out, none is shown]. Raises WrongUnit, OutOfRange or NotInTable.
    Source: latheworks/data/rules_of_thumb.csv; most of them common practice, no source.

    >>> seen = rules_of_thumb("boring", Q_(64, "mm"), Q_(16, "mm"))
    >>> seen.ratio, seen.rules[0].made, seen.rules[0].verdict(seen.ratio)
    (4.0, 'steel bar', 'within')
    """
    with Door("rules_of_thumb") as door:
        chosen = door.choice(use, "use", _USES)
        long = door.number(length, "length", "mm", least=SMALLEST, most=LONGEST, example='length=Q_(64, "mm")')
        across = door.number(diameter, "diameter", "mm", least=SMALLEST, most=LONGEST, example='diameter=Q_(16, "mm")')
        error = None
        if computed is not None:
            error = Q_(door.number(computed, "computed", "mm", example='computed=Q_(0.02, "mm")'), U.mm)
    rules = tuple(
        Rule(row["held or made"], float(row["from [1]"]), float(row["to [1]"]), row["meaning"], cite(row["source"]))
        for row in table("rules_of_thumb")
        if row["use"] == chosen
    )
    return RulesOfThumb(chosen, Q_(long, U.mm), Q_(across, U.mm), long / across, rules, error)
