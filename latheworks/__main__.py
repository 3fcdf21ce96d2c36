"""The front door: `python -m latheworks` opens the workbench, `python -m latheworks glimpse` shows that it lives."""

import argparse
import sys
from collections.abc import Sequence

from latheworks.door import nearest

WORDS = ("open", "glimpse")


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the command line asks for and return the exit code: 0 done, 1 could not, 2 not understood."""
    parser = argparse.ArgumentParser(
        prog="python -m latheworks",
        description="Plan lathe work before standing at the machine.",
        epilog="A planning aid for training: the shop's rules, the machine's manual and qualified staff decide.",
    )
    parser.add_argument(
        "word", nargs="?", default="open",
        help="open (the default): start JupyterLab at lesson 00. glimpse: print the example job here.",
    )  # fmt: skip
    parser.add_argument("--inch", action="store_true", help="glimpse: show sizes in inches")
    parser.add_argument("--port", type=int, default=8888, help="open: the first port to try (default 8888)")
    parser.add_argument("--no-browser", action="store_true", help="open: print the link and start no browser")
    asked = parser.parse_args(argv)
    if asked.word not in WORDS:
        near = nearest(asked.word, WORDS)
        guess = f" Did you mean {near!r}?" if near else ""
        words = f"'open' (or no word at all) starts the lessons, '{WORDS[1]}' prints the example job here."
        print(f"latheworks does not know the word {asked.word[:40]!r}.{guess} {words}", file=sys.stderr)
        return 2
    if not 1 <= asked.port <= 65535:
        print(f"--port: got {asked.port}, expected 1 to 65535. Try --port 8888.", file=sys.stderr)
        return 2
    if asked.word == "glimpse":
        from latheworks.glimpse import glimpse

        print(glimpse("inch" if asked.inch else "metric"))
        return 0
    from latheworks.opening import open_lessons

    return open_lessons(port=asked.port, browser=not asked.no_browser)


if __name__ == "__main__":
    sys.exit(main())
