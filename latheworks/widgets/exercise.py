"""One exercise on the page: the question, the boxes, a Check button, and what came of it."""

from collections.abc import Callable
from typing import Any

import ipywidgets as w

from latheworks.course import AnswerBook, Kept, Outcome, check, feedback, find, group_key
from latheworks.course.check_function import as_texts, run
from latheworks.course.check_plan import text_of
from latheworks.course.tasks import Function, PlanTask, Prediction, Task
from latheworks.widgets.controls import ONE_AT_A_TIME
from latheworks.widgets.exercise_boxes import boxes_for
from latheworks.widgets.exercise_style import STYLE
from latheworks.widgets.exercise_words import download, other_numbers, whose_numbers
from latheworks.widgets.words import safe
from latheworks.working import Working


class Exercise(w.VBox):
    """The panel of one exercise. An answer is kept on every change and every check, and restored when run again."""

    def __init__(
        self, task: Task, book: AnswerBook, function: Callable[..., Any] | None = None, group: str | None = None,
        plan: Any = None,
    ) -> None:  # fmt: skip
        self.task, self.book, self.function, self.plan = task, book, function, plan
        self.kept = book.get(task.name) or Kept(None)
        self._restoring = False
        self.boxes = boxes_for(task, self._changed)
        handed = isinstance(task, Prediction)
        self.check_button = w.Button(description="Keep my guess" if handed else "Check", button_style="")
        self.show_button = w.Button(description="Show the worked answer")
        self.check_button.on_click(lambda _: self._safely(self.check))
        self.show_button.on_click(lambda _: self._safely(self.show_worked))
        # What is made in code is checked by running its cell, so that its file never holds a program.
        self._made = isinstance(task, Function | PlanTask)
        buttons = [] if self._made else [self.check_button]
        self.feedback = w.HTML()
        self._head = "Prediction" if handed else "Exercise"
        whose = whose_numbers(task.code, book.student, group)
        question = w.HTML(STYLE + f'<div class="lw-question"><b>{self._head}.</b> {_lines(task.question)}</div>{whose}')
        super().__init__([question, *self.boxes.widgets, w.HBox([*buttons, self.show_button]), self.feedback])
        self.add_class("lw-exercise")
        self._safely(self._restore)

    def __repr__(self) -> str:
        return f"{self._head} {self.task.name}: {' '.join(self.task.question.split())}"

    def _repr_mimebundle_(self, **options: Any) -> Any:
        # The stock one cuts the text short; a reader without a kernel should see the whole question.
        return {**super()._repr_mimebundle_(**options), "text/plain": repr(self)}

    def check(self) -> Outcome:
        """Judge what the boxes hold (or the function, or the plan), keep it, and say what came of it."""
        answer, outcome = self._judge()
        if self._made and not outcome.counts:
            self._say(outcome)
            return outcome
        again = self.kept.checked and self.kept.answer == answer
        missed = outcome.right is False and outcome.counts and not again
        self._keep(answer, self.kept.misses + missed, outcome.right, True, self.kept.shown)
        self._say(outcome)
        return outcome

    def show_worked(self) -> None:
        """Show the worked answer on request, and keep that it was asked for."""
        answer, outcome = self._judge()
        self._keep(answer, self.kept.misses, self.kept.right, self.kept.checked, True)
        self._say(outcome if self.kept.checked else None)

    def _judge(self) -> tuple[Any, Outcome]:
        """What is answered, as data, and its outcome."""
        if isinstance(self.task, PlanTask):
            text = text_of(self.plan) if self.plan is not None else text_of(self.kept.answer)
            return ({"plan": text}, check(self.task, text)) if isinstance(text, str) else (self.kept.answer, text)
        if not isinstance(self.task, Function):
            answer = self.boxes.read()
            return answer, check(self.task, answer)
        values = run(self.task, self.function) if callable(self.function) else None
        answer = as_texts(self.task, values) if isinstance(values, list) else []
        return answer, check(self.task, self.function)

    def _keep(self, answer: Any, misses: int, right: bool | None, checked: bool, shown: bool) -> bool:
        """Keep an answer with the code of the numbers it was given to; False where it is on the page only."""
        self.kept = Kept(answer, misses, right, checked, shown, self.task.code)
        return self.book.keep(self.task.name, self.kept)

    def _changed(self) -> None:
        """Keep a draft as soon as a box changes; the verdict on an earlier answer no longer stands."""

        def keep() -> None:
            if self._restoring:
                return
            saved = self._keep(self.boxes.read(), self.kept.misses, None, False, self.kept.shown)
            note = "Kept. Press the button to have it checked." if saved else ""
            self._put("lw-note", "", note)

        self._safely(keep)

    def _restore(self) -> None:
        """Put back what was answered earlier; what is made in code is judged at once: running the cell is the check."""
        if self._made:
            self.check()
            return
        if self.kept.answer is not None:
            self._restoring = True
            self.boxes.write(self.kept.answer)
            self._restoring = False
        if self.kept.checked:
            self._say(check(self.task, self.boxes.read()))
        elif self.kept.answer is not None or self.book.trouble:
            self._put("lw-note", "", "Your earlier answer is back." if self.kept.answer is not None else "")

    def _say(self, outcome: Outcome | None) -> None:
        if outcome is None:
            self._put("lw-note", "", "Here is the worked answer.", None, self.task.worked_answer())
            return
        sentence, hint, worked = feedback(self.task, outcome, self.kept.misses, self.kept.shown)
        kind, word = {True: ("lw-right", "✓ Right"), False: ("lw-miss", "↻ Not yet"), None: ("lw-note", "")}[
            outcome.right
        ]
        if not outcome.counts:
            kind, word = "lw-note", "Not checked yet"
        self._put(kind, word, sentence, hint, worked, outcome.lines)

    def _put(
        self, kind: str, word: str, sentence: str, hint: str | None = None, worked: Any = None,
        findings: tuple[str, ...] = (),
    ) -> None:  # fmt: skip
        """Write the feedback; every text is escaped, and the kind is told by words and a mark, not by color alone."""
        parts = [f"<p><b>{safe(word)}.</b> {_lines(sentence)}</p>" if word else f"<p>{_lines(sentence)}</p>"]
        if other := other_numbers(self.kept.code, self.task.code):
            parts.insert(0, f"<p>{safe(other)}</p>")
        if findings:
            parts.append(f"<ul>{''.join(f'<li>{_lines(line)}</li>' for line in findings)}</ul>")
        if hint:
            parts.append(f"<p><b>Hint.</b> {_lines(hint)}</p>")
        if worked is not None:
            inside = worked._repr_html_() if isinstance(worked, Working) else f"<p>{_lines(worked)}</p>"
            parts.append(f"<details><summary>The worked answer</summary>{inside}</details>")
        if self.book.trouble:
            parts.append(f"<p><b>About saving.</b> {_lines(self.book.trouble)}</p>{download(self.book)}")
        self.feedback.value = f'<div class="lw-feedback {kind}" role="status">{"".join(parts)}</div>'

    def _safely(self, action: Callable[[], Any]) -> None:
        """Run what a click or a change asks for; an error of our own is said in a sentence instead of being lost."""
        with ONE_AT_A_TIME:
            self.error: Exception | None = None
            try:
                action()
            except Exception as error:
                self.error = error
                self._put(
                    "lw-miss", "",
                    "Something in this exercise did not work. Run the cell again, or tell your instructor.",
                )  # fmt: skip


def _lines(text: str) -> str:
    return safe(text).replace("\n", "<br>")


def exercise(
    name: str, function: Callable[..., Any] | None = None, student: str | None = None, group: str | None = None,
    plan: Any = None,
) -> Exercise:  # fmt: skip
    """Show one exercise of a lesson.

    Parameters: name, such as "00.inch_or_metric"; function, the student's own, for an exercise that compares one;
    student, the key whose numbers and answers to use, and group, whose numbers to use instead, or None for what
    LATHEWORKS_STUDENT and LATHEWORKS_GROUP say; plan, the student's own, for an exercise that asks for one: it is kept
    as data, and comes back judged when left out. Raises NotInTable for an unknown name and LatheworksError for an
    unusable key.

    >>> exercise("00.inch_or_metric").task.name
    '00.inch_or_metric'
    """
    task = find(name, student, group=group)
    return Exercise(task, AnswerBook(student), function, group_key(group), plan)
