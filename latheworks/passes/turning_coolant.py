"""Coolant: when, what, how much and why, with the caution that goes with it."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from latheworks.door import Door
from latheworks.materials import pick
from latheworks.results import Result
from latheworks.tables import cite, table


@dataclass(frozen=True, slots=True)
class CoolantAdvice(Result):
    """Advice on coolant: material, operation; rows, each (when, fluid, how much, why, caution, source) in words."""

    material: str
    operation: str
    rows: tuple[tuple[str, str, str, str, str, str], ...]

    def title(self) -> str:
        """For what."""
        return f"coolant for {self.operation} {self.material}"

    def facts(self) -> list[tuple[str, str]]:
        """Each row in words, then where to look first."""
        names = ("when", "fluid", "how much", "why", "caution", "source")
        facts = [pair for row in self.rows for pair in zip(names, row, strict=True)]
        return [*facts, ("first of all", "the fluid's safety data sheet and the shop's rules decide")]


def coolant(material: Any, operation: Any = "turning") -> CoolantAdvice:
    """Return when to use coolant, which, how much and why, with the health caution that goes with it.

    Parameters: material, a name of `materials()` or a Material; operation, "turning" (facing and boring too),
    "drilling", "parting" or "threading".
    Raises NotInTable or WrongUnit for another word.
    Source: each row its own; common practice where no other is named. The heat: see `thermal_growth`.

    >>> coolant("brass").rows[0][1]
    'dry'
    """
    with Door("coolant") as door:
        chosen = pick(door, material)
        work = door.choice(operation, "operation", tuple(dict.fromkeys(key[1] for key in _advice())))
        found = _advice().get((chosen.name, work), ())
        if not found:
            known = ", ".join(sorted({name for name, _ in _advice()}))
            door.complain("material", chosen.name, f"a material with advice: {known}", 'material="steel 1018"')
    return CoolantAdvice(chosen.name, work, found)


@cache
def _advice() -> dict[tuple[str, str], tuple[tuple[str, str, str, str, str, str], ...]]:
    """The rows by material and operation."""
    found: dict[tuple[str, str], tuple[tuple[str, str, str, str, str, str], ...]] = {}
    for row in table("coolant"):
        words = (row["when"], row["fluid"], row["how much"], row["why"], row["caution"], cite(row["source"]))
        for name in row["material"].split(";"):
            key = name, row["operation"]
            found[key] = (*found.get(key, ()), words)
    return found
