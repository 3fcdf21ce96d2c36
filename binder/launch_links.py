"""Print a link for each notebook that opens it in a hosted copy: `python -m binder.launch_links OWNER/REPOSITORY`."""

import argparse
import re
import sys
import tomllib
from pathlib import Path
from urllib.parse import quote

from binder.site_pages import homework_titles, lesson_titles

ROOT = Path(__file__).parents[1]
SERVICE = "https://mybinder.org/v2/gh"


def launch_links(repository: str) -> list[str]:
    """A line of Markdown for each lesson and homework, on the tag of this version."""
    if not re.fullmatch(r"[A-Za-z0-9-]+/[A-Za-z0-9._-]+", repository):
        raise ValueError(f"{repository}: expected OWNER/REPOSITORY, such as some-school/latheworks.")
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    start = f"{SERVICE}/{repository}/v{project['version']}"
    titles = lesson_titles(ROOT / "lessons") | homework_titles(ROOT / "lessons")
    return [f"- [{title}]({start}?labpath={quote(f'lessons/{place}', safe='')})" for place, title in titles.items()]


def main(argv: list[str] | None = None) -> int:
    """Read the name and print the links."""
    reader = argparse.ArgumentParser(prog="python -m binder.launch_links", description=__doc__)
    reader.add_argument("repository", metavar="OWNER/REPOSITORY", help="where the tagged release is kept")
    try:
        print(*launch_links(reader.parse_args(argv).repository), sep="\n")
    except ValueError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
