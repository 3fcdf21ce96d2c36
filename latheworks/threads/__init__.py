"""Threads: limits of size, tap drills, and the infeed that cuts them."""

from latheworks.threads.infeed import infeed
from latheworks.threads.infeed_schedule import InfeedSchedule
from latheworks.threads.taps import TapDrills, tap_drills
from latheworks.threads.thread import Limits, Thread, thread

__all__ = ["InfeedSchedule", "Limits", "TapDrills", "Thread", "infeed", "tap_drills", "thread"]
