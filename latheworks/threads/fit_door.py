"""What the doors of fit, making and pick-up share: a thread or its designation, lengths in the thread's own unit."""

from typing import Any

from latheworks.door import Door, given
from latheworks.errors import LatheworksError
from latheworks.threads.spec import NPT
from latheworks.threads.thread import Thread
from latheworks.threads.thread import thread as read_thread
from latheworks.units import Q_, Span, U, show

EXAMPLE = "M16x1.5-6g"


def parallel_thread(door: Door, value: Any, name: str, *, example: str = EXAMPLE) -> Thread:
    """The parallel thread asked for, or a fill-in after a complaint."""
    fill_in = read_thread(example)
    if isinstance(value, str):
        try:
            found = read_thread(value)
        except LatheworksError as error:
            expected = f"a designation ({str(error).rstrip('.')})"
            door.complain(name, given(value), expected, f'{name}="{example}"', type(error))
            return fill_in
    else:
        found = door.instance(value, name, Thread, "a Thread or its designation", f'{name}="{example}"') or fill_in
    if found.system == NPT:
        expected = "a parallel thread: a tapered one tightens as it is screwed in, and its gage reads how far that is"
        door.complain(name, found.designation, expected, f'{name}="{example}"')
        return fill_in
    return found


def pair(door: Door, external: Any, internal: Any) -> tuple[Thread, Thread]:
    """An external thread and the internal one that goes with it, or fill-ins after a complaint."""
    outer = parallel_thread(door, external, "external")
    if not outer.external:
        got = f"{outer.designation}, an internal thread"
        hint = f'external="{outer.mate().designation}", and this one as internal'
        door.complain("external", got, "an external thread", hint)
        outer = read_thread(EXAMPLE)
    if internal is None:
        return outer, outer.mate()
    # After a complaint about the other one a fill-in must not be held against this one.
    known, usual = not door.complaints, outer.mate()
    inner = parallel_thread(door, internal, "internal", example=usual.designation)
    if inner.external:
        got = f"{inner.designation}, an external thread"
        door.complain("internal", got, "an internal thread", f'internal="{inner.mate().designation}"')
        return outer, usual
    if known and not alike(outer, inner):
        expected = f"a thread that screws onto {outer.designation}: same size, pitch, starts and hand"
        door.complain("internal", inner.designation, expected, f'internal="{usual.designation}"')
        return outer, usual
    return outer, inner


def alike(one: Thread, other: Thread) -> bool:
    """Whether two threads have the same form, size, pitch, starts and hand."""
    return all(getattr(one, name) == getattr(other, name) for name in ("system", "major", "pitch", "starts", "hand"))


def system_of(thread: Thread) -> str:
    """How a thread's lengths are shown."""
    return "inch" if thread.pitch.units == U.inch else "metric"


def own(thread: Thread, millimeters: Any) -> Any:
    """A length in mm as a quantity in the thread's own unit."""
    return Q_(millimeters / 25.4, U.inch) if thread.pitch.units == U.inch else Q_(millimeters, U.mm)


def written(span: Span, system: str) -> str:
    """A span in shop digits."""
    low, high = ("open" if end is None else show(end, system) for end in (span.min, span.max))
    return f"{low} to {high}"
