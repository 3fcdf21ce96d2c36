"""The wrong answers that come back every year, each with the sentence that names it."""

from typing import Any

from latheworks.course.tasks import Slip


def radius(diameter: Any) -> Slip:
    """Half of the diameter asked for [length]."""
    return Slip("radius for diameter", diameter / 2, "This is the radius; the question asks for the diameter.")


def diameter(radius_: Any) -> Slip:
    """Twice the radius or the one-sided depth asked for [length]."""
    return Slip(
        "diameter for radius",
        radius_ * 2,
        "This is measured across, on the diameter; the question asks for one side only.",
    )


def one_side(diameter_change: Any) -> Slip:
    """Half of a change of diameter asked for [length]."""
    return Slip(
        "one side only", diameter_change / 2, "This is one side; the diameter changes by what both sides do together."
    )


def pitch_for_lead(pitch: Any) -> Slip:
    """The pitch [length] where the lead was asked."""
    return Slip(
        "pitch for lead", pitch, "This is the pitch, from one groove to the next; the lead is the travel in one turn."
    )


def lead_for_pitch(lead: Any) -> Slip:
    """The lead [length] where the pitch was asked."""
    return Slip(
        "lead for pitch", lead, "This is the lead, the travel in one turn; the pitch is from one groove to the next."
    )


def basic_size(basic: Any) -> Slip:
    """The basic size [length] where a limit was asked."""
    return Slip(
        "basic for limit",
        basic,
        "This is the basic size, before allowance and tolerance; the question asks for a limit of the class.",
    )


def other_limit(limit: Any) -> Slip:
    """The other end of the tolerance [length]."""
    return Slip("other limit", limit, "This is the limit at the other end of the tolerance. Read which one is asked.")


def other_class(value: Any, used: str, asked: str) -> Slip:
    """The value [length] of another class of thread."""
    return Slip("other class", value, f"The class asked is {asked}, and you used {used}.")


def other_thread(value: Any, used: str, asked: str) -> Slip:
    """The value of another thread or of the other of the two mating parts."""
    return Slip("other thread", value, f"This belongs to {used}; the question is about {asked}.")


def drill_for_major(major: Any) -> Slip:
    """The major diameter [length] where the drill before tapping was asked."""
    return Slip(
        "major for drill", major, "A drill as large as the thread's major diameter leaves nothing to cut a thread in."
    )
