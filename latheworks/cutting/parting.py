"""The force of a parting or grooving blade, which cuts over its whole width and pushes straight at the axis."""

from dataclasses import dataclass
from typing import Any

from latheworks.cutting import kernel
from latheworks.cutting.forces import band, published_pairs
from latheworks.cutting.plain_numbers import pair, plain
from latheworks.door import Door
from latheworks.materials import pick
from latheworks.results import Result
from latheworks.units import Q_, Span, U, show

CAUTION = "never part between centers: the pieces close on the blade; support or catch the free piece"


@dataclass(frozen=True, slots=True)
class PartingForce(Result):
    """The forces of a blade: material, width [mm], feed [mm/rev], tangential, radial and tangential_band [N]."""

    material: str
    width: Any
    feed: Any
    tangential: Any
    radial: Any
    tangential_band: Span

    def title(self) -> str:
        """What cut this is."""
        return f"{self.material}, a blade of {show(self.width)} at {show(self.feed)}"

    def facts(self) -> list[tuple[str, str]]:
        """Both forces, the band, and the caution."""
        low, high = show(self.tangential_band.min), show(self.tangential_band.max)
        return [
            ("tangential force", f"{show(self.tangential)}, published values from {low} to {high}"),
            ("radial force", f"{show(self.radial)}, straight at the axis: nothing of it goes along the axis"),
            ("caution", CAUTION),
        ]


def parting_force(material: Any, width: Any, feed: Any,
                  thrust_ratio: Any = kernel.THRUST_RATIO) -> PartingForce:  # fmt: skip
    """Return the forces of a parting or grooving blade.

    Fc = kc1.1 b h^(1 - mc), with b the blade's width and h the feed toward the axis; the thrust, a stated share of
    it, is all radial. The neck gets thinner every turn while this force stays.

    Parameters: material, a name of `materials()` or a Material; width of the blade [mm, above 0 to 20]; feed toward
    the axis [mm/rev, above 0 to 2]; thrust_ratio, thrust over main force [0.1 to 2].
    Raises LatheworksError for a wrong dimension or a value outside its range, NotInTable for a material with no pair.
    Source: Kienzle's form and the direction from memory; the caution and the share: common practice.

    >>> parting_force("steel 1018", Q_(3, "mm"), Q_(0.1, "mm/rev")).radial.round(0)
    <Quantity(328.0, 'newton')>
    """
    with Door("parting_force") as door:
        chosen = pick(door, material)
        first = pair(door, chosen)
        b = door.number(width, "width", "mm", above=0, most=20, example='width=Q_(3.0, "mm")')
        f = door.number(feed, "feed", "mm/rev", above=0, most=2, example='feed=Q_(0.05, "mm/rev")')
        ratio = plain(door, thrust_ratio, "thrust_ratio", least=0.1, most=2, example="thrust_ratio=0.5")
    forces = [float(kernel.kienzle(kc, mc, b, f)) for kc, mc, _ in published_pairs(chosen, first)]
    main = forces[0]
    return PartingForce(
        chosen.name, Q_(b, U.mm), Q_(f, U.mm_per_rev), Q_(main, U.N), Q_(ratio * main, U.N), band(forces)
    )
