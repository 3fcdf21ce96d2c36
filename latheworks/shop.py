"""The shop: the lathe that plans are made for, and the usual cautions of each kind of work."""

from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any

from latheworks.door import Door, nearest
from latheworks.errors import Impossible, NotInTable, WrongUnit
from latheworks.results import Result
from latheworks.shop_file import number_of, read_toml
from latheworks.tables import DATA, cite, table
from latheworks.tool_rack import Rack, Tool, rack
from latheworks.units import Q_, show

__all__ = ["Caution", "Lathe", "Rack", "Tool", "caution_kinds", "cautions", "lathe", "rack"]

# Field: its heading in the file, its unit, the least and the most that any lathe of a shop could have.
_SIZES = {
    "power": ("power [kW]", "kW", 0.05, 200.0),
    "drive_efficiency": ("drive efficiency [percent]", "percent", 20.0, 100.0),
    "base_spindle": ("base spindle [rev/min]", "rev/min", 1.0, 20_000.0),
    "slowest_spindle": ("slowest spindle [rev/min]", "rev/min", 1.0, 10_000.0),
    "fastest_spindle": ("fastest spindle [rev/min]", "rev/min", 1.0, 20_000.0),
    "largest_feed": ("largest carriage feed [mm/min]", "mm/min", 1.0, 60_000.0),
    "acceleration": ("carriage acceleration [mm/s**2]", "mm/s**2", 1.0, 50_000.0),
    "through_hole": ("through hole [mm]", "mm", 0.0, 1000.0),
    "center_distance": ("center distance [mm]", "mm", 10.0, 20_000.0),
    "swing": ("swing [mm]", "mm", 10.0, 5000.0),
    "quill_travel": ("quill travel [mm]", "mm", 5.0, 1000.0),
    "jaw_force": ("jaw force [N]", "N", 10.0, 1e6),
    "jaw_mass": ("jaw mass [kg]", "kg", 0.001, 100.0),
    "jaw_radius": ("jaw radius [mm]", "mm", 0.1, 1000.0),
}
_WORDS = ("name", "note")


@dataclass(frozen=True, slots=True)
class Lathe(Result):
    """A lathe as plans need it.

    Fields: name; note, what kind of machine this is; power of the motor [kW]; drive_efficiency, the share
    of it that reaches the work [percent]; base_spindle, below which the torque and above which the power is constant
    [rev/min]; slowest_spindle and fastest_spindle [rev/min];
    largest_feed of the carriage [mm/min]; acceleration of the carriage [mm/s^2]; through_hole [mm];
    center_distance [mm]; swing, the largest diameter over the bed [mm];
    quill_travel of the tailstock [mm]; jaw_force of all three jaws together, at rest [N]; jaw_mass of one jaw [kg];
    jaw_radius of its center of gravity [mm].
    """

    name: str
    note: str
    power: Any
    drive_efficiency: Any
    base_spindle: Any
    slowest_spindle: Any
    fastest_spindle: Any
    largest_feed: Any
    acceleration: Any
    through_hole: Any
    center_distance: Any
    swing: Any
    quill_travel: Any
    jaw_force: Any
    jaw_mass: Any
    jaw_radius: Any

    def title(self) -> str:
        """The lathe's name."""
        return self.name

    def facts(self) -> list[tuple[str, str]]:
        """Each property with its unit."""
        feed, acceleration = self.largest_feed.m_as("mm/min"), self.acceleration.m_as("mm/s**2")
        return [
            ("what it is", self.note),
            ("power of the motor", show(self.power)),
            ("share that reaches the work", f"{self.drive_efficiency.m_as('percent'):g} %"),
            ("constant torque up to", f"{show(self.base_spindle)}, constant power above"),
            ("spindle", f"{show(self.slowest_spindle)} to {show(self.fastest_spindle)}"),
            ("largest carriage feed", f"{feed:g} mm/min"),
            ("carriage acceleration", f"{acceleration:g} mm/s²"),
            ("through hole", show(self.through_hole, digits=1)),
            ("center distance", show(self.center_distance, digits=0)),
            ("swing over the bed", show(self.swing, digits=0)),
            ("quill travel", show(self.quill_travel, digits=0)),
            ("jaws at rest", f"{show(self.jaw_force)}, one weighs {show(self.jaw_mass)} at {show(self.jaw_radius)}"),
        ]


@dataclass(frozen=True, slots=True)
class Caution:
    """One usual caution: the line to show and where it comes from."""

    text: str
    source: str

    def __str__(self) -> str:
        return self.text


def lathe(path: Any = None) -> Lathe:
    """Return the lathe that plans are made for: the invented teaching lathe, or the one in an instructor's file.

    Parameters: path, of a TOML file laid out as latheworks/data/lathe.toml [text or a Path; the teaching lathe when
    not given]. Each size stands under its heading with the unit, such as "power [kW]" = 1.5.

    Raises LatheworksError with a sentence when the file is missing, too large or no TOML, and one message that
    names every heading that is missing, unknown, not a number or outside what a lathe can have.
    Source: the teaching lathe is invented.

    >>> lathe().fastest_spindle.m_as("rev/min")
    2000.0
    """
    if path is None:
        return _teaching_lathe()
    if not isinstance(path, (str, Path)) or not str(path).strip():
        raise WrongUnit(f'lathe: path: got {path!r:.60}, expected the path of a TOML file. Try lathe("my_lathe.toml").')
    return _read(Path(path))


def cautions(kind: Any) -> tuple[Caution, ...]:
    """Return the usual cautions of a kind of work, the standing one last.

    Parameters: kind, one of `caution_kinds()`. Raises LatheworksError for another word.
    Source: each caution carries its own; common practice, no source, where nothing else is said.

    >>> print(cautions("threading")[-1])
    A planning aid for training: the shop's rules, the machine's manual and qualified staff decide.
    """
    with Door("cautions") as door:
        chosen = door.choice(kind, "kind", caution_kinds())
    return tuple(
        Caution(row["caution"], cite(row["source"]))
        for wanted in (chosen, "standing")
        for row in table("cautions")
        if row["kind"] == wanted
    )


@cache
def caution_kinds() -> tuple[str, ...]:
    """Return the kinds of work that have cautions, in the table's order.

    Raises nothing. Source: latheworks/data/cautions.csv.

    >>> caution_kinds()[:4]
    ('threading', 'holding', 'drilling', 'turning')
    """
    return tuple(dict.fromkeys(row["kind"] for row in table("cautions") if row["kind"] != "standing"))


@cache
def _teaching_lathe() -> Lathe:
    return _read(DATA / "lathe.toml")


def _read(path: Path) -> Lathe:
    """A lathe from a file, every entry checked."""
    entries = read_toml(path, "lathe", "a copy of latheworks/data/lathe.toml with your machine's numbers")
    with Door(f"lathe {path.name[:60]!r}") as door:
        found = _checked(door, entries)
    return found


def _checked(door: Door, entries: dict[str, Any]) -> Lathe:
    headings = [*_WORDS, *(heading for heading, *_ in _SIZES.values())]
    for key in entries:
        if key not in headings:
            near = nearest(key, headings) or headings[0]
            door.complain(f"{key!r:.60}", "a heading that is not known", "only known headings", f'"{near}"', NotInTable)
    words = {key: door.text(entries.get(key), key, longest=200, example="our shop's lathe") for key in _WORDS}
    numbers = {field: number_of(door, entries, *rest) for field, rest in _SIZES.items()}
    if numbers["slowest_spindle"] > numbers["fastest_spindle"]:
        got = f"slowest {numbers['slowest_spindle']:g} above fastest {numbers['fastest_spindle']:g} rev/min"
        door.complain("spindle", got, "the slowest below the fastest", "to change the two about", Impossible)
    sizes = {field: Q_(value, _SIZES[field][1]) for field, value in numbers.items()}
    return Lathe(**{field.name: {**words, **sizes}[field.name] for field in fields(Lathe)})
