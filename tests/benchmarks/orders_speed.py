"""How long the search for orders takes: the barrel's whole space, its hand-written plan's own, and the shoe's.

python -m tests.benchmarks.orders_speed
"""

import time

from latheworks.plan import barrel_plan, corer_barrel, cutting_shoe, orders
from latheworks.plan.job import forget
from latheworks.units import Q_

LIMIT = Q_(120, "s")


def main():
    """Print wall and processor time, labels and judged operations, per second of the processor."""
    orders(barrel_plan(), limit=LIMIT)  # tables read, modules loaded
    for name, what in (("barrel, proposed", corer_barrel()), ("barrel, its plan's own", barrel_plan()),
                       ("shoe, proposed", cutting_shoe())):  # fmt: skip
        forget()
        wall, used = time.perf_counter(), time.process_time()
        found = orders(what, limit=LIMIT)
        wall, used = time.perf_counter() - wall, time.process_time() - used
        word = "exact" if found.exact else "cut off"
        print(f"{name:24} {used:6.2f} s of processor, {wall:6.2f} s, {word}, {found.found} plans; "
              f"{found.labels} labels, {found.labels / used:,.0f}/s; {found.evaluations} operations judged, "
              f"{found.evaluations / used:,.0f}/s")  # fmt: skip


if __name__ == "__main__":
    main()
