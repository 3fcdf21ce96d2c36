"""The front door: `python -m latheworks` opens the lessons; other words do what a course needs."""

import argparse
import sys
from collections.abc import Sequence
from textwrap import fill

from latheworks import commands
from latheworks.door import nearest
from latheworks.errors import LatheworksError


def parsers() -> tuple[argparse.ArgumentParser, dict[str, argparse.ArgumentParser]]:
    """The parser of the command line, and that of each word."""
    parser = argparse.ArgumentParser(
        prog="python -m latheworks",
        description="Plan lathe work before standing at the machine.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    words = parser.add_subparsers(dest="word", metavar="WORD", title="words; open is meant where there is none")
    opens = words.add_parser("open", help="start JupyterLab at a lesson")
    opens.add_argument("lesson", nargs="?", default="00", help="its number or its name, such as 03 or h1 (default 00)")
    opens.add_argument("--port", type=int, default=8888, metavar="N", help="the first port to try (default 8888)")
    opens.add_argument("--student", metavar="KEY", help="the key whose numbers and answers to use, such as ana-7")
    opens.add_argument("--group", metavar="NAME", help="the group whose numbers to use, such as team-3")
    opens.add_argument("--no-browser", action="store_true", help="print the link and start no browser")
    shows = words.add_parser("glimpse", help="print the example job here")
    shows.add_argument("--inch", action="store_true", help="show sizes in inches")
    commands.add_to(words)
    each = dict(words.choices)
    usages = [" ".join(one.format_usage().split()[4:]).replace("[-h] ", "") for one in each.values()]
    listed = "\n".join(fill(usage, 110, initial_indent="  ", subsequent_indent=" " * 10) for usage in usages)
    parser.epilog = (
        f"options of each word:\n{listed}\n\nA planning aid for training: the shop's rules, the machine's manual and "
        "qualified staff decide."
    )
    return parser, each


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the command line asks for and return the exit code: 0 done, 1 could not, 2 not understood."""
    parser, words = parsers()
    given = list(sys.argv[1:] if argv is None else argv)
    if not given or (given[0].startswith("-") and given[0] not in ("-h", "--help")):
        given.insert(0, "open")
    if not given[0].startswith("-") and given[0] not in words:
        near = nearest(given[0], tuple(words))
        guess = f" Did you mean {near!r}?" if near else ""
        known = "'open' (or no word at all) starts the lessons, 'glimpse' prints the example job; --help lists all."
        print(f"latheworks does not know the word {given[0][:40]!r}.{guess} {known}", file=sys.stderr)
        return 2
    asked = parser.parse_args(given)
    if asked.word == "glimpse":
        from latheworks.glimpse import glimpse

        print(glimpse("inch" if asked.inch else "metric"))
        return 0
    if asked.word != "open":
        return commands.run(asked)
    if not 1 <= asked.port <= 65535:
        print(f"--port: got {asked.port}, expected 1 to 65535. Try --port 8888.", file=sys.stderr)
        return 2
    from latheworks.opening import find_lesson, lesson_called, open_lessons, use_keys

    if trouble := use_keys(asked.student, asked.group):
        print(trouble, file=sys.stderr)
        return 2
    first = find_lesson()
    try:
        lesson = first and lesson_called(asked.lesson, first.parent)
    except LatheworksError as error:
        print(error, file=sys.stderr)
        return 2
    return open_lessons(port=asked.port, browser=not asked.no_browser, lesson=lesson)


if __name__ == "__main__":
    sys.exit(main())
