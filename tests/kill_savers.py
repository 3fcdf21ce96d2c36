"""Kills processes while they save answers, and looks what is left: `python -m tests.kill_savers FOLDER ROUNDS SEED`.

A process of its own, light and with one thread, so that forking is quick and safe. Each round starts two savers on one
file, as two tabs are, and kills both at random moments. Prints what it counted, as JSON; stops at the first loss.
"""

import json
import os
import random
import signal
import sys
import time
from pathlib import Path

from latheworks.course import AnswerBook, Kept, answer_file

STUDENT = "me"
LONGEST_LIFE = 0.03


def save_until_killed(folder: Path, saver: str, number: int, pipe: int) -> None:
    """Save one answer after another, and report each one that the book says is saved."""
    book = AnswerBook(STUDENT, folder)
    while True:
        number += 1
        name = f"{saver}.{number % 3}"
        if book.keep(name, Kept(str(number) * 40)):
            os.write(pipe, f"{name} {number}\n".encode())


def start(folder: Path, saver: str, number: int) -> tuple[int, int]:
    """Start a saver; return its process and the pipe on which it reports."""
    ours, theirs = os.pipe()
    process = os.fork()
    if process == 0:
        try:
            save_until_killed(folder, saver, number, theirs)
        finally:
            os._exit(1)
    os.close(theirs)
    return process, ours


def kill(process: int, pipe: int) -> dict[str, int]:
    """Kill a saver; return the last number that it reported as saved under each name."""
    os.kill(process, signal.SIGKILL)
    os.waitpid(process, 0)
    with os.fdopen(pipe, "rb") as reports:
        lines = reports.read().decode().splitlines()
    return {name: int(number) for name, number in (line.split() for line in lines)}


def main(folder: Path, rounds: int, seed: int) -> dict[str, int]:
    """Kill two savers a round; return how many died, how many of them in the middle, and how many reports stood."""
    chance = random.Random(seed)
    counted = {"killed": 0, "in the middle": 0, "saved": 0, "lost": 0, "left over": 0}
    kept = {}
    for turn in range(rounds):
        # Numbers only grow, so that a newer answer is told from an older one.
        savers = [start(folder, f"{tab}{turn % 5}", turn * 10_000) for tab in "ab"]
        for process, pipe in savers:
            time.sleep(chance.uniform(0, LONGEST_LIFE))
            reported = kill(process, pipe)
            counted["killed"] += 1
            counted["in the middle"] += any(folder.glob(".*.part"))
            counted["saved"] += len(reported)
            kept |= reported
        # Strict: anything but a whole file raises, and the run fails.
        found = answer_file.read(folder / f"{STUDENT}.json", STUDENT) if kept else {}
        for name, number in kept.items():
            digits = found[name]["answer"] if name in found else ""
            there = int(digits[: len(digits) // 40] or 0)
            # A saver killed between saving and reporting leaves a newer answer than the one it reported.
            counted["lost"] += there < number or digits != str(there) * 40
            kept[name] = there
    known = {f"{STUDENT}.json", f".{STUDENT}.lock", *(f".{STUDENT}.{what}.part" for what in ("new", "copy"))}
    known |= {place.name for place in answer_file.copies(folder / f"{STUDENT}.json")}
    counted["left over"] = len({place.name for place in folder.iterdir()} - known)
    return counted


if __name__ == "__main__":
    print(json.dumps(main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))))
