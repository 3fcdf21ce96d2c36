"""Room for an internal threading bar: the least bore it enters, and the largest bar for a bore."""

from dataclasses import dataclass
from typing import Any

from latheworks.door import Door
from latheworks.errors import Impossible
from latheworks.results import Result
from latheworks.threads.fit_door import own, parallel_thread, system_of
from latheworks.threads.making import deepest_root
from latheworks.threads.making_kernel import least_bore
from latheworks.threads.thread import Thread
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

_CLEARANCE = Q_(0.5, U.mm)


@dataclass(frozen=True, slots=True)
class ThreadingBar(Result):
    """A threading bar in the bore of an internal thread. Lengths are in the thread's own unit.

    Fields: thread; bar, its diameter; projection, how far the tooth stands out of it; clearance; bore, the smallest
    the class allows; least_bore, the smallest that bar, tooth and clearances enter; least_projection, the least the
    tooth must stand out for the bar to clear the crests at full depth; largest_bar, the thickest for this bore with
    that projection.
    """

    thread: Thread
    bar: Any
    projection: Any
    clearance: Any
    bore: Any
    least_bore: Any
    least_projection: Any
    largest_bar: Any

    @property
    def enters(self) -> bool:
        """Whether the bar goes into the bore and comes out again past the finished crests."""
        return bool(self.least_bore.magnitude <= self.bore.magnitude * (1 + 1e-9))

    def title(self) -> str:
        return f"Threading bar for {self.thread.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.thread)
        return (("bar", f"{show(self.bar, system)}, tooth {show(self.projection, system)} out of it"),
                ("least bore it enters", show(self.least_bore, system)), ("smallest bore", show(self.bore, system)),
                ("enters", "yes" if self.enters else "no"),
                ("least projection", show(self.least_projection, system)),
                ("largest bar", show(self.largest_bar, system)),
                ("note", "A thicker bar bends less, by the fourth power of its diameter; leave room for the chips."),
                ("note", "Turn the cross slide back toward the center to draw the tooth out, before the bar comes "
                         "out."))  # fmt: skip

    @property
    def working(self) -> Working:
        """Least bore, least projection, and largest bar."""
        system = system_of(self.thread)
        sizes = " + ".join(show(size, system) for size in (self.bar, self.projection, 2 * self.clearance))
        return Working(self.title(), (
            Line("least bore", "bar + projection + 2 clearance", sizes, show(self.least_bore, system), "geometry"),
            Line("least projection", "(largest root - smallest bore)/2 + clearance", "",
                 show(self.least_projection, system), "geometry"),
            Line("largest bar", "bore - least projection - 2 clearance", show(self.bore, system),
                 show(self.largest_bar, system), "geometry"),
        ))  # fmt: skip


def threading_bar(
    thread: Thread | str, bar: Any, *, projection: Any = None, clearance: Any = _CLEARANCE
) -> ThreadingBar:
    """Return the least bore that a threading bar enters, and whether it goes into this thread's.

    Least bore = bar + projection + 2 clearance: the tooth drawn back by one clearance from the crests on its side,
    and one clearance left behind the bar on the other. At full depth the bar itself has to clear the crests, so the
    tooth must stand out by the depth of the thread + clearance at least.
    Parameters: thread, a parallel internal Thread or its designation; bar, its diameter [length, above 0, up to the
    major diameter]; projection of the tooth out of the bar [length, least projection up to the major diameter; the
    least projection when not given]; clearance [length, 0 to a quarter of the minor diameter; 0.5 mm when not
    given, common practice]. Raises LatheworksError, also for an external thread. Source: geometry, worked out here.

    >>> found = threading_bar("M16x1.5-6H", Q_(10, "mm"))
    >>> show(found.least_projection), show(found.least_bore), found.enters
    ('1.515 mm', '12.515 mm', True)
    """
    with Door("threading_bar") as door:
        cut = parallel_thread(door, thread, "thread", example="M16x1.5-6H")
        if cut.external:
            mate = cut.mate()
            door.complain("thread", f"{cut.designation}, an external thread", "an internal thread",
                          f'thread="{mate.designation}"')  # fmt: skip
            cut = mate
        bore, major = cut.limits.minor.min.m_as(U.mm), cut.major.m_as(U.mm)
        gap = door.number(clearance, "clearance", "mm", least=0, most=bore / 4, example='clearance=Q_(0.5, "mm")')
        wide = door.number(bar, "bar", "mm", above=0, most=major, example=f'bar=Q_({bore / 2:.3g}, "mm")')
        least = (deepest_root(cut) - bore) / 2 + gap
        out = least
        if projection is not None:
            hint = f'projection=Q_({least + 0.1:.3g}, "mm")'
            out = door.number(projection, "projection", "mm", above=0, most=major, example=hint)
            if out < least * (1 - 1e-9) and not door.complaints:
                expected = f"at least {least:.4g} mm, or the bar rubs on the crests at full depth"
                door.complain("projection", f"{out:.4g} mm", expected, hint, Impossible)
    return ThreadingBar(cut, own(cut, wide), own(cut, out), own(cut, gap), own(cut, bore),
                        own(cut, least_bore(wide, out, gap)), own(cut, least),
                        own(cut, max(bore - least - 2 * gap, 0.0)))  # fmt: skip
