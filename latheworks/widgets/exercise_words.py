"""What an exercise says beside its question: whose numbers these are, and where answers can be had if not saved."""

import base64

from latheworks.course import AnswerBook
from latheworks.course.keys import EVERYBODY
from latheworks.widgets.words import safe

_OWN = (
    "These numbers are the same for everybody who has set no key. For numbers of your own, close the workbench and "
    "open it with your key, such as <code>python -m latheworks open --student ana-7</code>, or set the environment "
    "variable <code>LATHEWORKS_STUDENT</code> to your key before you open it."
)


def whose_numbers(code: str, student: str, group: str | None) -> str:
    """Return the line with the short code of the numbers; with no key set, also how to set one, folded."""
    if not code:
        return ""
    owner = f"the group {group}, answered by {student}" if group else student
    line = f"Numbers <b>{safe(code)}</b>, made for "
    if group or student != EVERYBODY:
        return f'<p class="lw-whose">{line}{safe(owner)}.</p>'
    return f'<details class="lw-whose"><summary>{line}everybody. Get your own</summary><p>{_OWN}</p></details>'


def other_numbers(kept: str, code: str) -> str:
    """Return what to say of an answer that was given to other numbers, or nothing."""
    if not kept or not code or kept == code:
        return ""
    return f"This answer was given to other numbers, {kept}. Look at the question again: yours are {code} now."


def download(book: AnswerBook) -> str:
    """Return a link that hands over all answers as a file, from the page itself; empty where all are saved."""
    if not book.unsaved:
        return ""
    content = base64.b64encode(book.as_file()).decode("ascii")
    return (
        f'<p><a class="lw-download" download="{safe(book.student)}.json" href="data:application/json;base64,{content}">'
        "Download my answers</a></p>"
    )
