"""Threads: limits of size, tap drills, and the infeed that cuts them."""

from latheworks.threads.fit import Fit, fit
from latheworks.threads.fit_errors import VirtualPitchDiameter, virtual_pitch_diameter
from latheworks.threads.fit_plating import Plating, plating
from latheworks.threads.infeed import infeed
from latheworks.threads.infeed_schedule import InfeedSchedule
from latheworks.threads.making import making
from latheworks.threads.making_bar import ThreadingBar, threading_bar
from latheworks.threads.making_gears import ChangeGears, ThreadingDial, change_gears, threading_dial
from latheworks.threads.making_result import Making
from latheworks.threads.pickup import CarryOn, PickUp, carry_on, pick_up
from latheworks.threads.strength import Engagement, engagement
from latheworks.threads.taps import TapDrills, tap_drills
from latheworks.threads.thread import Limits, Thread, thread
from latheworks.threads.wires import ThreeWires, three_wires

__all__ = [
    "CarryOn",
    "ChangeGears",
    "Engagement",
    "Fit",
    "InfeedSchedule",
    "Limits",
    "Making",
    "PickUp",
    "Plating",
    "TapDrills",
    "Thread",
    "ThreadingBar",
    "ThreadingDial",
    "ThreeWires",
    "VirtualPitchDiameter",
    "carry_on",
    "change_gears",
    "engagement",
    "fit",
    "infeed",
    "making",
    "pick_up",
    "plating",
    "tap_drills",
    "thread",
    "threading_bar",
    "threading_dial",
    "three_wires",
    "virtual_pitch_diameter",
]
