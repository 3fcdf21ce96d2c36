"""How much room the chips take: a bulk factor from published weights of turnings and chips."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from latheworks.door import Door
from latheworks.errors import NotInTable
from latheworks.materials import pick
from latheworks.results import Result
from latheworks.tables import cite, table
from latheworks.units import Q_, Span

KINDS = ("loose turnings", "tight turnings", "broken chips")


@dataclass(frozen=True, slots=True)
class ChipVolume(Result):
    """The room that chips take: material; kind; solid volume [cm^3]; factor and volume [cm^3], as Spans; source."""

    material: str
    kind: str
    solid: Any
    factor: Span
    volume: Span
    source: str

    def title(self) -> str:
        """What chips."""
        return f"{self.kind} of {self.material}"

    def facts(self) -> list[tuple[str, str]]:
        """The volumes in liters and the factor."""
        low, high = (end.m_as("liter") for end in (self.volume.min, self.volume.max))
        return [
            ("metal cut", f"{self.solid.m_as('cm**3'):.1f} cm³"),
            ("bulk factor", f"{self.factor.min.m:.0f} to {self.factor.max.m:.0f}"),
            ("room for the chips", f"{low:.2f} to {high:.2f} liter"),
            ("source", self.source),
        ]


def chip_volume(material: Any, volume: Any, kind: Any = "loose turnings") -> ChipVolume:
    """Return the room that the chips of a volume of metal take.

    Volume x bulk factor, the weight of the solid over that of the chips, by volume.
    Parameters: material, a name of `materials()` or a Material; volume of metal cut [cm^3, above 0 to 1e6]; kind,
    "loose turnings" (long strings and balls), "tight turnings" (the same pressed down) or "broken chips".
    Raises LatheworksError for a wrong dimension or a value outside its range, and NotInTable where no weight is known.
    Source: a chip conveyor maker's guide to metal chips, read; real heaps differ more than the range shown.

    >>> print(chip_volume("6061", Q_(10, "cm**3")).volume)
    169.000 cm³ to 338.000 cm³
    """
    with Door("chip_volume") as door:
        chosen = pick(door, material)
        solid = door.number(volume, "volume", "cm**3", above=0, most=1e6, example='volume=Q_(50, "cm**3")')
        form = door.choice(kind, "kind", KINDS)
        factor = _factors().get((chosen.name, form))
        if factor is None and not door.complaints:
            known = sorted({name for name, known in _factors() if known == form})
            door.complain("material", chosen.name, f"a material with a known weight of {form}: {', '.join(known)}",
                          f'material="{known[0]}"', NotInTable)  # fmt: skip
    assert factor is not None  # the door has said so otherwise
    low, high, source = factor
    return ChipVolume(chosen.name, form, Q_(solid, "cm**3"), Span(Q_(low, ""), Q_(high, "")),
                      Span(Q_(solid * low, "cm**3"), Q_(solid * high, "cm**3")), source)  # fmt: skip


@cache
def _factors() -> dict[tuple[str, str], tuple[float, float, str]]:
    """Least and greatest factor and its source, by material and kind."""
    found = {}
    for row in table("swarf"):
        for kind in KINDS:
            weights = [float(part) for part in row[f"{kind} [lb/ft3]"].split()]
            for name in row["materials"].split(";") if weights else ():
                solid = float(row["solid [lb/ft3]"])
                found[name, kind] = (solid / max(weights), solid / min(weights), cite(row["source"]))
    return found
