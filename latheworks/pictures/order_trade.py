"""What an order gives: the work held for the one cut, each size against its limits, time against accuracy."""

from dataclasses import dataclass

from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drafting import Sheet
from latheworks.pictures.held_work import HeldWork
from latheworks.pictures.plan_data import PlanLine, SizeLine
from latheworks.pictures.plan_play import limited, minutes, percent
from latheworks.pictures.size_strip import SizeStrip, rows_of
from latheworks.pictures.style import Table

_WIDE, _HIGH = 0.99, 0.345
TITLES = {"first": "thread first", "last": "thread last"}


@dataclass(frozen=True)
class Trade:
    """A plan with one cut looked at: which operation it is, whether it comes first or last, the sizes that hang on it,
    the marks of both orders as the bench began with them, (name, minutes, worst share of those sizes), and what is
    set: spring passes, and the half-width to which a zero is found [mm]."""

    line: PlanLine
    at: int
    order: str
    close: tuple[SizeLine, ...]
    marks: tuple[tuple[str, float, float], ...]
    springs: int
    zero: float

    @property
    def worst(self) -> SizeLine:
        """The size that uses most of its tolerance, of those that hang on the cut."""
        return max(self.close, key=lambda each: each.use or 0.0)

    @property
    def use(self) -> float:
        """What it uses."""
        return self.worst.use or 0.0


class TradePicture(Picture):
    """The cut in its holding on top, the sizes at the left below, and the trade at the right."""

    width, height = 640, 430

    def build(self) -> None:
        canvas = self.canvas
        upper = canvas.axes(0.005, 0.65, _WIDE, _HIGH, frame=False)
        self.work = HeldWork(canvas, upper, self.look, _WIDE * self.width / (_HIGH * self.height))
        self.strip = SizeStrip(canvas, canvas.axes(0.29, 0.05, 0.15, 0.53, frame=False), "sizes")
        self.axes = canvas.axes(0.655, 0.125, 0.335, 0.455)
        self.axes.set_xlabel("time of one part [min]", labelpad=1)
        still, top = Sheet(canvas, self.axes, resting=True), Sheet(canvas, self.axes)
        title = still.words("worst share, thread's setup [%]", fixed=True, across="right", up="bottom", backed=False)
        title.set_position((1.0, 1.02))
        self.limit = still.line("limit", width=1.6)
        self.limit_words = still.words("all of it", "limit", across="left", up="bottom", backed=False)
        self.marks = still.line("quiet", width=0.0, marker="D", markersize=5, markerfacecolor="none")
        self.mark_words = [still.words("", "quiet", up="bottom") for _ in range(2)]
        self.kept = top.line("kept", "kept", marker="s", markersize=8, markerfacecolor="none")
        self.kept_words = top.words("", "kept", up="top")
        self.here = top.line("result", marker="o", markersize=8)
        self.here_words = top.words("", "result", up="bottom")

    def update(self, data: Trade, kept: Trade | None) -> None:
        self.work.put(data.line.steps[data.at - 1], data.line.blank)
        rows: list[SizeLine | None] = list(rows_of(data.line.sizes))
        old = None if kept is None else {(e.name, e.measure): e for e in kept.line.made(kept.line.count)}
        ghost = None if old is None else [None if e is None else old.get((e.name, e.measure)) for e in rows]
        self.strip.put(rows, data.line.count, ghost, "sizes in the end")
        points = [*data.marks, ("now", data.line.minutes, data.use)]
        if kept is not None:
            points.append(("kept", kept.line.minutes, kept.use))
        times, uses = [x for _, x, _ in points], [100 * min(y, 10.0) for _, _, y in points]
        room = nice(max(10.0, 1.5 * (max(times) - min(times))))
        middle = round((max(times) + min(times)) / 2 / 5) * 5
        top = nice(max(120.0, 1.2 * max(uses)))
        self.canvas.limits(self.axes, (middle - room / 2, middle + room / 2), (0.0, top))
        key = (middle, room, top, data.marks)
        self.canvas.when_changed("marks", key, lambda: self._rest(data, middle - room / 2, middle + room / 2, top))
        self._point(self.here, self.here_words, "now", data.line.minutes, uses[2], 0.04 * top)
        if kept is None:
            self.kept.set_data([], [])
            self.kept_words.set_text("")
        else:
            self._point(self.kept, self.kept_words, "kept", kept.line.minutes, uses[3], -0.04 * top)

    def _point(self, mark: object, words: object, said: str, x: float, y: float, up: float) -> None:
        mark.set_data([x], [y])  # type: ignore[attr-defined]
        words.set_text(said)  # type: ignore[attr-defined]
        words.set_position((x, y + up))  # type: ignore[attr-defined]

    def _rest(self, data: Trade, low: float, high: float, top: float) -> None:
        self.limit.set_data([low, high], [100, 100])
        self.limit_words.set_position((low + 0.01 * (high - low), 100))
        self.marks.set_data([x for _, x, _ in data.marks], [100 * min(y, 10.0) for _, _, y in data.marks])
        for words, (name, x, y) in zip(self.mark_words, data.marks, strict=True):
            words.set_text(name)
            words.set_position((x, 100 * min(y, 10.0) - 0.13 * top))

    def alt(self, data: Trade, kept: Trade | None) -> str:
        step, mm = data.line.steps[data.at - 1], self.look.mm
        # Written as their boxes have them.
        zero = f"\u00b1{mm(data.zero)}" if self.look.system == "inch" else f"\u00b1{data.zero:g} mm"
        words = (
            f"{TITLES[data.order].capitalize()}: {step.number}, {step.held}, sticking out "
            f"{mm(step.stickout)}, {data.springs} spring passes, the zero found to {zero}. {data.worst.title} uses "
            f"{percent(data.use)} of its tolerance, the most of the sizes that hang on this cut, mostly spent on "
            f"{data.worst.spent}. One part takes {minutes(data.line.minutes)}."
        )
        if kept is None:
            return words
        return f"{words} Kept: {percent(kept.use)} in {minutes(kept.line.minutes)}."

    def table(self, data: Trade) -> Table:
        unit, look = self.look.length_unit, self.look
        body = []
        for each in limited(data.line):
            got = ("", "") if each.got is None else tuple(look.number(value) for value in each.got)
            ends = ("" if value is None else look.number(value) for value in (each.low, each.high))
            hangs = "yes" if each in data.close else ""
            body.append((each.name, each.measure, *ends, *got, percent(each.use), each.spent, hangs))
        headings = ("size", "measure", f"least [{unit}]", f"most [{unit}]", f"likely from [{unit}]", f"to [{unit}]",
                    "tolerance used", "most of it spent on", "hangs on the thread's setup")  # fmt: skip
        return Table("Sizes in the end", headings, tuple(body))
