"""A plan played: the bar becoming the part in its holding, its sizes against their limits, and what was found where."""

from latheworks.pictures.canvas import Picture
from latheworks.pictures.held_work import HeldWork
from latheworks.pictures.plan_data import PlanLine, Played, SizeLine
from latheworks.pictures.plan_ribbon import MARKS, PlanRibbon
from latheworks.pictures.size_strip import ROWS, SizeStrip, rows_of
from latheworks.pictures.style import Table

_WIDE, _HIGH = 0.99, 0.345


class PlanPicture(Picture):
    """One operation in its holding on top, the sizes of one plan or two below, the ribbon of operations at the foot."""

    width, height = 640, 450

    def build(self) -> None:
        canvas = self.canvas
        upper = canvas.axes(0.005, 0.653, _WIDE, _HIGH, frame=False)
        self.work = HeldWork(canvas, upper, self.look, _WIDE * self.width / (_HIGH * self.height))
        self.alone = SizeStrip(canvas, canvas.axes(0.31, 0.235, 0.52, 0.37, frame=False), "alone")  # fmt: skip
        self.first = SizeStrip(canvas, canvas.axes(0.30, 0.235, 0.18, 0.37, frame=False), "first")
        self.second = SizeStrip(canvas, canvas.axes(0.66, 0.235, 0.18, 0.37, frame=False), "second")
        self.ribbon = PlanRibbon(canvas, canvas.axes(0.01, 0.0, 0.98, 0.215, frame=False))

    def update(self, data: Played, kept: Played | None) -> None:
        self.work.put(data.step, data.plan.blank)
        old = None if kept is None else {(e.name, e.measure): e for e in kept.plan.made(kept.at)}
        if len(data.plans) == 1:
            rows: list[SizeLine | None] = list(rows_of(data.plan.sizes))
            ghost = None if old is None else [None if e is None else old.get((e.name, e.measure)) for e in rows]
            self.alone.put(rows, data.at, ghost, "likely size between its limits")
        else:
            for i, strip in enumerate((self.first, self.second)):
                rows = matched(data.plans, data.active, i)
                ghost = None if old is None or i != data.active else [
                    None if e is None else old.get((e.name, e.measure)) for e in rows]  # fmt: skip
                mark = "\u25b6 " if i == data.active else ""
                heading = f"{mark}{short(data.plans[i].name, 20)}"
                strip.put(rows, min(data.at, data.plans[i].count), ghost, heading, names=i == 0)
        self.ribbon.put(data)

    def alt(self, data: Played, kept: Played | None) -> str:
        step, plan, mm = data.step, data.plan, self.look.mm
        u = step.outline[0]
        # As the drawing has it.
        far = mm(step.stickout, None if self.look.system == "inch" else 1)
        words = (
            f"{step.number.capitalize()}, {data.at} of {plan.count}: {step.title}, with {step.tool or 'no tool'}. "
            f"The setup is {step.setup_name}: {step.held}, sticking out {far}. "
            f"The work is {mm(float(u[-1] - u[0]))} long now. "
        )
        worst = plan.worst(data.at)
        words += "No size with limits is there yet. " if worst is None else (
            f"{len(plan.made(data.at))} of {len(limited(plan))} sizes with limits are there; {worst.title} uses most, "
            f"{percent(worst.use)} of its tolerance. ")  # fmt: skip
        words += (
            " ".join(fault.in_system(self.look.system).sentence for fault in step.faults) or "Clear of findings here."
        )
        if len(data.plans) > 1:
            other = data.plans[1 - data.active]
            there = other.worst(other.count)
            end = "" if there is None else f" and uses at most {percent(there.use)} of a tolerance, {there.title}"
            words += f" The other plan, {other.name}, takes {minutes(other.minutes)}{end}."
        if kept is not None:
            words += f" The kept setting is {kept.step.number} of {kept.plan.name}."
        return words

    def table(self, data: Played) -> Table:
        plan, look = data.plan, self.look
        unit = look.length_unit
        body = []
        for each in sorted(limited(plan), key=lambda one: plan.count + 1 if one.made is None else one.made):
            got = ("", "") if each.got is None else tuple(look.number(value) for value in each.got)
            made = "never" if each.made is None else plan.steps[each.made - 1].number
            ends = ("" if value is None else look.number(value) for value in (each.low, each.high))
            body.append((each.name, each.measure, *ends, *got, percent(each.use), made, each.spent))
        headings = ("size", "measure", f"least [{unit}]", f"most [{unit}]", f"likely from [{unit}]", f"to [{unit}]",
                    "tolerance used", "made in", "most of it spent on")  # fmt: skip
        return Table(f"{plan.name}: sizes at the end of the plan", headings, tuple(body))


def limited(plan: PlanLine) -> list[SizeLine]:
    """The sizes that have limits."""
    return [each for each in plan.sizes if each.low is not None or each.high is not None]


def matched(plans: tuple[PlanLine, ...], active: int, i: int) -> list[SizeLine | None]:
    """The rows of plan i in the order of the first plan; those of both that use most."""
    uses: dict[tuple[str, str], float] = {}
    lines = [{(e.name, e.measure): e for e in limited(plan)} for plan in plans]
    for each in lines:
        for key, line in each.items():
            uses[key] = max(uses.get(key, 0.0), 999.0 if line.use is None else line.use)
    chosen = set(sorted(uses, key=lambda key: -uses[key])[:ROWS])
    made = {key: line.made or 0 for key, line in {**lines[-1], **lines[0]}.items()}
    return [lines[i].get(key) for key in sorted(chosen, key=lambda key: (made[key], list(uses).index(key)))]


def percent(use: float | None) -> str:
    """A share of a tolerance in words."""
    return "not known" if use is None else f"{100 * use:.0f} %" if use < 10 else "over 1000 %"


def minutes(value: float) -> str:
    """A time in words."""
    return f"{value:.1f} min"


def short(words: str, most: int) -> str:
    """Words cut to fit."""
    return words if len(words) <= most else f"{words[: most - 1]}\u2026"


__all__ = ["MARKS", "PlanPicture"]
