"""The groove bench: a blade, a groove, and what each plunge takes and costs the blade."""

from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.errors import Impossible, OutOfRange
from latheworks.materials import pick
from latheworks.passes import Groove, GroovePasses, TurningTool, groove_passes
from latheworks.pictures.plunging import PlungePicture, Plunging
from latheworks.pictures.style import Look
from latheworks.units import Q_, U, show
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Spec
from latheworks.widgets.sizes import Size, given, mm, mm_per_rev

ALLOWANCE, CORNER, SHANK, STRESS = 0.1, 0.2, 12.0, 300.0  # the room's usual ones; shank and corners for teaching


class GrooveBench(Bench):
    """A groove, a blade, a feed, and the plunge shown."""

    kind: ClassVar[str] = "groove"
    title: ClassVar[str] = "Cut the groove, plunge by plunge"
    picture_class = PlungePicture

    def __init__(self, opening: Mapping[str, Any], work: Mapping[str, Any]) -> None:
        self._opening, self._work = opening, work
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start, mouth = self._opening, self._work["mouth"]
        return (
            Size("width", "Width", "b", start["width"], mm(1), mm(12), (0.5, 0.02), mm(0.3), mm(40)),
            Size("depth", "Depth", "t", start["depth"], mm(0.5), mm(min(12.0, 0.45 * mouth)), (0.5, 0.02),
                 mm(0.2), mm(0.49 * mouth)),
            Size("blade", "Blade width", "w", start["blade"], mm(1), mm(5), (0.5, 0.02), mm(0.3), mm(20)),
            Size("out", "Blade out", "L", start["out"], mm(4), mm(40), (1.0, 0.05), mm(1), mm(100)),
            Size("feed", "Feed", "f", start["feed"], mm_per_rev(0.01), mm_per_rev(0.2), (0.01, 0.0005),
                 mm_per_rev(0.01), mm_per_rev(1.0), kind="feed"),
            Size("shown", "Show step", "k", start["shown"], 1, start["shown"] + 9, (1, 1), 1, 2000, kind="count"),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        wide, deep = Q_(8.0, U.mm), Q_(min(9.0, 0.4 * self._work["mouth"]), U.mm)
        return {
            "First plunge": {"shown": 1},
            "Wide groove": {"width": wide, "shown": 3},
            "Deep": {"depth": deep, "blade": Q_(2.0, U.mm), "out": Q_(12.0, U.mm), "shown": 1},
            "Far out": {"blade": Q_(1.0, U.mm), "out": Q_(40.0, U.mm), "feed": Q_(0.2, U.mm_per_rev), "shown": 1},
            "Just as wide": {"blade": self._opening["width"], "shown": 1},
        }

    def follow(self, changed: Names) -> None:
        if changed & {"width", "blade", "depth"}:
            held = {name: item.value for name, item in self.controls.items()}
            last = self._last(held)
            shown = self.controls["shown"]
            # Fewer plunges take the one shown along; one that is asked for beyond the last is refused.
            if "shown" not in changed and last and shown.value > last:
                shown.put(last)
            if last and shown.high != last:
                shown.run(1, last)
        elif self.picture_data is None:
            self.controls["shown"].run(1, self._last({name: item.value for name, item in self.controls.items()}) or 1)

    def _last(self, values: Mapping[str, Any]) -> int:
        """How many steps there are; 0 where the library refuses the setting."""
        try:
            found = self._found({**values, "feed": Q_(0.01, U.mm_per_rev)})
        except (Impossible, OutOfRange, ValueError):
            return 0
        return int(found.plunges.size) + (found.allowance.m_as(U.mm) > 0)

    def _found(self, values: Mapping[str, Any]) -> GroovePasses:
        blade, width, depth, out = (values[name] for name in ("blade", "width", "depth", "out"))
        control = self.controls
        if blade > width:
            raise Impossible(f"Blade width: {control['blade'].as_typed()} is wider than the groove. "
                             f"Type {control['blade'].written(width)} or less.")  # fmt: skip
        if depth > out:
            raise Impossible(
                f"Depth: {control['depth'].as_typed()} is deeper than the blade stands out. "
                f"Type {control['depth'].written(out)} or less, or let the blade out farther."
            )
        corner = min(CORNER, blade.m_as(U.mm) / 2)
        left = min(ALLOWANCE, (width - blade).m_as(U.mm) / 2, depth.m_as(U.mm) / 2)
        mouth = Q_(self._work["mouth"], U.mm)
        cut = Groove(Q_(0.0, U.mm), width, mouth - 2 * depth, self._work["count"],
                     None if self._work["count"] == 1 else 2 * width, Q_(corner, U.mm))  # fmt: skip
        tool = TurningTool(nose_radius=Q_(corner, U.mm), blade_width=blade, shank=Q_(SHANK, U.mm), reach=out,
                           hand="neutral")  # fmt: skip
        return groove_passes(
            cut, mouth, tool, self._work["material"], self._work["speed"], values["feed"],
            allowance=Q_(left if left > 0.02 else 0.0, U.mm), allowed_stress=Q_(STRESS, U.MPa),
        )  # fmt: skip

    def compute(self, values: Mapping[str, Any]) -> tuple[GroovePasses, Plunging]:
        found = self._found(values)
        last = int(found.plunges.size) + (found.allowance.m_as(U.mm) > 0)
        if values["shown"] > last:
            raise OutOfRange(f"There is no step {values['shown']}: the last one is step {last}. Type {last} or less.")
        middle = found.groove.width.m_as(U.mm) / 2
        data = Plunging(
            found.material, self._work["mouth"], found.groove.width.m_as(U.mm), found.depth.m_as(U.mm),
            found.tool.blade_width.m_as(U.mm), found.tool.nose_radius.m_as(U.mm), found.tool.reach.m_as(U.mm),
            found.tool.shank.m_as(U.mm), found.plunges.m_as(U.mm) - middle, found.widths.m_as(U.mm),
            found.stops.m_as(U.mm), found.allowance.m_as(U.mm), values["shown"], found.feed.m_as(U.mm_per_rev),
            found.feed_asked.m_as(U.mm_per_rev), found.feed_reason, found.spindle.m_as(U.rpm), found.force.m_as(U.N),
            found.stress.m_as(U.MPa), STRESS, found.sag.m_as(U.mm), found.side_bend.m_as(U.mm),
            found.time.m_as(U.min), found.groove.count, found.notes,
        )  # fmt: skip
        return found, data

    def read(self, data: Plunging, look: Look) -> Reading:
        def feed(value: float) -> str:
            return show(Q_(value, U.mm_per_rev), look.system)

        facts = [
            ("plunges", f"{len(data.places)}"),
            ("pecks each", f"{len(data.stops)}"),
            ("left for floor and walls", look.mm(data.allowance)),
            ("spindle", show(Q_(data.spindle, U.rpm))),
            ("feed used", feed(data.feed)),
            ("main force", look.newton(data.force)),
            ("depth over blade width", f"{data.depth / data.blade:.1f}"),
            ("side bend at a wall", look.mm(data.side_bend, look.digits + 1)),
            (f"time for {data.count}" if data.count > 1 else "time", f"{data.minutes:.2f} min"),
        ]
        if data.feed_reason:
            verdict = f"The feed was {data.feed_reason}: {feed(data.feed)} instead of {feed(data.feed_asked)}."
        elif data.notes:
            verdict = "The blade bears the feed, with a remark below."
        else:
            verdict = "The blade bears the feed that was asked for."
        said = tuple(f"{note[0].upper()}{note[1:]}." for note in data.notes)
        return Reading(data.good, verdict, tuple(facts), (*said, "Lock the carriage before you plunge."))


def groove_bench(width: Any = None, depth: Any = None, blade: Any = None, out: Any = None, feed: Any = None,
                 shown: int = 1, mouth: Any = None, count: int = 1, material: Any = "aluminum 6061-T6",
                 surface_speed: Any = None) -> GrooveBench:  # fmt: skip
    """Return a bench for cutting a groove with a blade: its plunges, its pecks, and the load on the blade.

    Plunges, feed and load as in `latheworks.passes.groove_passes`, the shank 12 mm, the corners 0.2 mm.

    Parameters, all optional, a grip groove of the soil corer by default: width of the groove [mm, 0.3 to 40] and its
    depth on the radius [mm, 0.2 to less than half of the mouth]; blade, its width [mm, 0.3 to 20, no more than the
    groove's]; out, how far it stands out of its holder [mm, 1 to 100]; feed [mm/rev, 0.01 to 1]; shown, the step
    shown first [1 or more]; mouth, the diameter cut into [mm, 2 to 1000]; count, how many grooves [1 to 200];
    material, a name from the table; surface_speed of turning it [m/min, above 0 to 5000; 100 when left out].
    Raises LatheworksError for what cannot be. Source: `latheworks.passes.groove_passes`.

    >>> groove_bench().reading.verdict
    'The blade bears the feed that was asked for.'
    """

    with Door("groove_bench") as door:
        across = door.number(given(mouth, 32.0), "mouth", "mm", least=2.0, most=1000.0)
        room, deep = given(width, 4.0), given(depth, 1.5)
        wide = door.number(room, "width", "mm", least=0.3, most=40.0)
        door.number(deep, "depth", "mm", least=0.2, most=0.49 * across)
        thin = given(blade, min(3.0, wide))
        door.number(thin, "blade", "mm", least=0.3, most=min(20.0, wide))
        long = given(out, 8.0)
        door.number(long, "out", "mm", least=1.0, most=100.0)
        advance = given(feed, 0.05, U.mm_per_rev)
        door.number(advance, "feed", "mm/rev", least=0.01, most=1.0)
        first = door.whole(shown, "shown", least=1, most=2000)
        grooves = door.whole(count, "count", least=1, most=200)
        stuff = pick(door, material)
        speed = given(surface_speed, 100.0, U.m_per_min)
        door.number(speed, "surface_speed", "m/min", above=0.0, most=5000.0)
    opening = {"width": room, "depth": deep, "blade": thin, "out": long, "feed": advance, "shown": first}
    bench = GrooveBench(opening, {"mouth": across, "count": grooves, "material": stuff.name, "speed": speed})
    if bench.error:
        bench.close()
        raise Impossible(bench.error)
    return bench
