"""A plan's operations as a ribbon of boxes with their findings, and above it how the worst share of tolerance grows."""

from typing import Any

import numpy as np

from latheworks.pictures.canvas import nice
from latheworks.pictures.drafting import Sheet, box, together
from latheworks.pictures.plan_data import PlanLine, Played
from latheworks.pictures.style import FILL

# No finding rests on color: each level has its letter, its hatch and its line.
MARKS = {"stop": "S", "caution": "c", "note": "n"}
MOST_LETTERS = 40
_TOP, _LOW = 0.62, 0.34  # of the axes: where the curve may reach, and where the ribbon ends


class PlanRibbon:
    """The boxes of the plan that is shown, and the curves of one plan or two."""

    def __init__(self, canvas: Any, axes: Any) -> None:
        self._canvas, self.axes = canvas, axes
        canvas.limits(axes, (0.0, 1.0), (0.0, 1.0))
        still, top = Sheet(canvas, axes, resting=True), Sheet(canvas, axes)
        self.heading = still.words("", fixed=True, across="left", up="top",
                                   backed=False)  # fmt: skip
        self.heading.set_position((0.0, 1.0))
        self.plain = still.shapes("quiet", 0.8)
        self.noted = still.shapes("quiet", 1.0, "finished")
        self.cautioned = still.shapes("outline", 1.4, "second")
        self.stopped = still.areas("result", "result", "////", width=1.8)
        self.limit = still.line("limit", width=1.6)
        self.limit_words = still.words("all of it", "limit", across="left", up="bottom", backed=False)
        self.setups = [still.words(across="left", up="top", backed=False) for _ in range(6)]
        self.letters = [still.words(backed=False) for _ in range(MOST_LETTERS)]
        self.other = still.line("kept", "kept", 1.6)
        self.course = still.line("quiet", "finished", 1.2)
        self.grown = top.line("result", width=2.4)
        self.now = top.area(None, "result", width=2.4)
        self.here = top.line("result", marker="o", markersize=6)
        self.here_words = top.words("", "result", up="bottom")

    def put(self, data: Played) -> None:
        """Draw the plan that is shown up to the operation that is shown."""
        plan = data.plan
        most = max(float(each.worst_uses().max()) for each in data.plans)
        self._height = nice(max(1.25, 1.1 * min(most, 10.0)))
        self._canvas.when_changed("ribbon", (id(plan), len(data.plans), data.active), lambda: self._rest(data))
        uses = self._up(plan)
        steps = np.repeat(np.arange(plan.count + 1), 2)[1:] / plan.count
        known = 2 * data.at + 1
        self.grown.set_data(steps[:known], np.repeat(uses, 2)[:-1][:known])
        x = data.at / plan.count
        self.here.set_data([x], [uses[data.at]])
        self.now.set_xy(box((data.at - 1) / plan.count, 0.16, x, _LOW))
        worst = plan.worst(data.at)
        self.here_words.set_text("" if worst is None or worst.use is None else f"{100 * worst.use:.0f} %")
        self.here_words.set_position((min(max(x, 0.13), 0.96), uses[data.at] + 0.02))

    def _up(self, plan: PlanLine) -> np.ndarray:
        return np.asarray(_LOW + 0.04 + (_TOP - _LOW) * np.minimum(plan.worst_uses(), self._height) / self._height)

    def _rest(self, data: Played) -> None:
        plan = data.plan
        count = plan.count
        dashed = "; dashed: the other plan" if len(data.plans) > 1 else ""
        self.heading.set_text(f"worst share of a tolerance so far{dashed}")
        found: dict[str | None, list[np.ndarray]] = {None: [], "note": [], "caution": [], "stop": []}
        for i, step in enumerate(plan.steps):
            found[step.level].append(box((i + 0.06) / count, 0.18, (i + 0.94) / count, _LOW - 0.02))
        for artist, grave, fill in ((self.plain, None, "work"), (self.noted, "note", "work"),
                                    (self.cautioned, "caution", "limit")):  # fmt: skip
            artist.set_verts(found[grave])
            artist.set_facecolor(FILL[fill])
        self.stopped.set_path(together(found["stop"]))
        for i, words in enumerate(self.letters):
            step_level = plan.steps[i].level if i < count <= MOST_LETTERS else None
            words.set_text(MARKS.get(step_level or "", ""))
            words.set_position(((i + 0.5) / count, 0.25))
        level = _LOW + 0.04 + (_TOP - _LOW) / self._height
        self.limit.set_data([0, 1], [level, level])
        self.limit_words.set_position((0.0, level))
        starts = [i for i, step in enumerate(plan.steps) if i == 0 or step.setup != plan.steps[i - 1].setup]
        for k, words in enumerate(self.setups):
            words.set_text(f"setup {plan.steps[starts[k]].setup}" if k < len(starts) else "")
            words.set_position((starts[k] / count if k < len(starts) else 0.0, 0.15))
        self.course.set_data(np.repeat(np.arange(count + 1), 2)[1:] / count, np.repeat(self._up(plan), 2)[:-1])
        self.other.set_data([], [])
        if len(data.plans) > 1:
            other = data.plans[1 - data.active]
            ups = np.repeat(self._up(other), 2)[:-1]
            self.other.set_data(np.repeat(np.arange(other.count + 1), 2)[1:] / other.count, ups)
