"""How long a designation takes: read for the first time, and asked for again.

python -m tests.benchmarks.threads_speed
"""

import statistics
import time

from latheworks.errors import LatheworksError
from latheworks.threads import acme, parallel_pipe, taper_pipe, thread, trapezoidal
from latheworks.threads.spec import all_names, plain
from latheworks.threads.thread import read_once

COUNT = 1000


def names() -> list[str]:
    """A thousand different designations of every family, in the shares in which the tables have them."""
    found = [name + cls for name in all_names() for cls in (("-2A", "-3B") if "U" in name else ("-6g", "-6H"))]
    found += [f"{size}-{plain(tpi)} ACME-{cls}" for size, tpi in acme.sizes().values() for cls in ("2G", "3G INT")]
    found += [f"Tr {d}x{plain(p)}-{cls}" for d, ps in trapezoidal.sizes().items() for p in ps for cls in ("7e", "8H")]
    found += [f"{size} NPT" for size in taper_pipe.sizes()]
    found += [f"G {size} {cls}" for size in parallel_pipe.sizes() for cls in ("A", "INT")]
    step = len(found) / (1.05 * COUNT)
    picked = [found[int(i * step)] for i in range(int(1.05 * COUNT))]
    good = []
    for name in picked:
        try:
            thread(name)
        except LatheworksError:
            continue  # a class that the tables do not have at this pitch
        good.append(name)
    return good[:COUNT]


def main() -> None:
    """Measure and print."""
    designations = names()
    assert len(set(designations)) == COUNT
    first = []
    for _ in range(5):
        read_once.cache_clear()
        start = time.perf_counter()
        for name in designations:
            thread(name)
        first.append(time.perf_counter() - start)
    again = []
    for name in designations:
        start = time.perf_counter()
        limits = thread(name).limits
        again.append(1e6 * (time.perf_counter() - start))
        assert limits.pitch_diameter.min < limits.pitch_diameter.max
    print(f"{COUNT} different designations, parsed and limited  {statistics.median(first):8.3f} s   (limit 0.5 s)")
    print(f"all limits of a designation, asked for again        {statistics.median(again):8.1f} us  (limit 100 us)")
    print(f"  slowest of them                                   {max(again):8.1f} us")


if __name__ == "__main__":
    main()
