"""Drilling: the drills there are, and what each can do."""

from latheworks.drilling.drills import Drills, drills

__all__ = ["Drills", "drills"]
