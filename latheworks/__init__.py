"""Latheworks: plan lathe work before standing at the machine.

A planning aid for training. The shop's rules, the machine's manual and qualified staff decide.

>>> from latheworks import Q_, read_size, show
>>> show(read_size("1 1/4 in")), show(Q_(31.75, "mm"), "inch")
('31.750 mm', '1.2500 in')
"""

from latheworks.errors import LatheworksError
from latheworks.materials import material, materials
from latheworks.reading import read_size
from latheworks.units import Q_, Span, show, ureg

__all__ = ["Q_", "LatheworksError", "Span", "material", "materials", "read_size", "show", "ureg"]
__version__ = "0.2.0"
