"""Grading whole-job submissions, each with a plan of its own, on two processes: time and memory.

python -m tests.benchmarks.grade_speed [HOW_MANY ...]
"""

import resource
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from latheworks.course import grade
from tests.grade_class import COURSE, answers, hand_in, teach


def peak(who: int) -> float:
    """The most memory held so far [MB]."""
    return resource.getrusage(who).ru_maxrss / (1024 if sys.platform != "darwin" else 1024**2)


def main() -> None:
    """Measure and print."""
    teach()
    for many in map(int, sys.argv[1:] or ("100", "1000")):
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place)
            for number in range(many):
                student = f"s{number}"
                hand_in(folder, student, answers(student, change=-0.0002 * (number % 1000)))
            busy = time.process_time()
            start = time.perf_counter()
            with ProcessPoolExecutor(2, initializer=teach) as pool:
                grades = grade(folder, pool, assignment="x9", course=COURSE)
            took = time.perf_counter() - start
            busy = time.process_time() - busy
            pages = time.perf_counter()
            grades.to_pages(folder / "pages")
            grades.to_csv(folder / "grades.csv")
            pages = time.perf_counter() - pages
        used = resource.getrusage(resource.RUSAGE_CHILDREN)
        assert len(grades.graded) == many
        assert all(row.marks[0].code == "right" for row in grades.rows)
        print(f"{many:6} submissions: {took:7.1f} s, {1000 * took / many:6.1f} ms each; this process {busy:.1f} s and "
              f"{peak(resource.RUSAGE_SELF):.0f} MB, workers so far {used.ru_utime + used.ru_stime:.0f} s and at most "
              f"{peak(resource.RUSAGE_CHILDREN):.0f} MB; pages and table {pages:.1f} s")  # fmt: skip


if __name__ == "__main__":
    main()
