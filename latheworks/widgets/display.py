"""What all benches of a notebook share: inch or metric, desk or projector."""

import traitlets

from latheworks.pictures.style import Look


class DisplaySystem(traitlets.HasTraits):
    """The switches that every bench of the notebook watches.

    >>> DisplaySystem().look
    Look(system='metric', projector=False)
    """

    system = traitlets.Enum(["metric", "inch"], default_value="metric")
    projector = traitlets.Bool(False)

    @property
    def look(self) -> Look:
        """What pictures are to be drawn for."""
        return Look(self.system, self.projector)


display_system = DisplaySystem()
