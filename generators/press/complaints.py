"""The engraver's log: what it complains of, and which book parts hold more than fits."""

import re
from collections.abc import Iterator

# A glyph that no font has is printed as a box; all else in the log is a failure or an overfull page.
_SERIOUS = re.compile(r"error|warning|Cairo surface")
# How many pages music needs is only guessed before it is spaced: what does not fit is then compressed.
_HARMLESS = re.compile(r"warning: (no glyph for character|too few pages|tried to space systems on a bad number of pages)")
_OVERFULL = re.compile(r"over-full page|must be compressed|has been compressed|page-count|cannot fit|valid page breaking")
# What our house style has the engraver say when the pages of a book part are made, after all complaints about them.
_MADE = re.compile(r"book part (\d+): (\d+) of (\d+) pages")


def complaints(log: str) -> list[str]:
    """Return the lines that tell of a failure; a page that holds too much is none."""
    lines = (line.strip() for line in log.splitlines() if _SERIOUS.search(line))
    return [line for line in lines if not _HARMLESS.search(line) and not _OVERFULL.search(line)]


def overfull_parts(log: str) -> tuple[int, ...]:
    """Return the numbers of the book parts that hold more than fits on the pages that they were given."""
    return tuple(dict.fromkeys(_overfull(log)))


def _overfull(log: str) -> Iterator[int]:
    made, crowded = 0, False
    for line in log.splitlines():
        told = _MADE.fullmatch(line.strip())
        crowded = crowded or bool(_OVERFULL.search(line)) or bool(told and told[2] != told[3])
        if told:
            if crowded:
                yield int(told[1])
            made, crowded = int(told[1]) + 1, False
    if crowded:  # a source that does not say where its book parts end is one
        yield made
