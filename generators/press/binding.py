"""Binding: laid-out pages engraved in parallel and merged into one PDF with bookmarks and the request inside."""

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from generators.errors import FailedRun
from generators.press.engraver import Engraved, engraved
from generators.press.layout import LayoutError
from generators.press.pages import AnyPage, source
from generators.press.pdf import merged, page_count, whole_pdf
from generators.sheets.sheet import Sheet

# How many lines fewer a page is given where it proves overfull.
SLACKS = range(5)
ENGRAVED_FORMATS = ("pdf", "svg", "png")


class OverfullError(Exception):
    """A page holds more than fits; it can be laid out anew with fewer lines."""


@dataclass(frozen=True, slots=True)
class Laid:
    """Pages in order, and the bookmarks over them: title and page from 0."""

    pages: tuple[AnyPage, ...]
    bookmarks: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Facts:
    """What the PDF says of itself."""

    title: str
    player: str
    code: str
    request: str
    """The whole request as JSON."""

    def metadata(self) -> dict[str, str]:
        """Return the PDF's document information."""
        return {
            "Title": self.title,
            "Author": self.player,
            "Creator": "Waterkey",
            "Subject": f"Request {self.code}",
            "Keywords": self.request,
        }


@dataclass(frozen=True, slots=True)
class Prints:
    """What was engraved: how many pages, and the content of every format (svg and png: one for each page)."""

    pages: int
    contents: dict[str, tuple[bytes, ...]]
    boxes: tuple[str, ...]
    """Characters that no font here has, printed as boxes."""


def bound(lay_out: Callable[[int], Laid], sheet: Sheet, formats: Sequence[str], facts: Facts) -> Prints:
    """Return pages in the formats pdf, ly, svg and png; `lay_out` takes how many lines of every page to leave empty.

    Raises FailedRun where the engraver fails; a page that proves overfull is laid out again with fewer lines.
    """
    for slack in SLACKS:
        try:
            return _bound(lay_out(slack), sheet, formats, facts)
        except OverfullError:
            continue
        except LayoutError:
            if slack == 0:
                raise
            break
    raise FailedRun("a page holds more than fits, however it is laid out; choose fewer values or a larger paper.")


def _bound(laid: Laid, sheet: Sheet, formats: Sequence[str], facts: Facts) -> Prints:
    wanted = [name for name in ENGRAVED_FORMATS if name in formats]
    groups = shared_out(laid.pages, os.cpu_count() or 1)
    parts = engraved(_sources(groups, sheet, len(laid.pages)), wanted, count=len(groups)) if wanted else []
    if any(part.overfull for part in parts):
        raise OverfullError
    contents = {name: tuple(page for part in parts for page in part.files[name]) for name in wanted}
    if "pdf" in formats:
        contents["pdf"] = (_pdf(contents["pdf"], laid, facts),)
    if "ly" in formats:
        contents["ly"] = (source(laid.pages, sheet).encode(),)
    return Prints(len(laid.pages), contents, _boxes(parts))


def _sources(groups: Sequence[Sequence[AnyPage]], sheet: Sheet, total: int) -> Iterator[str]:
    """Yield one source for each core."""
    first = 1
    for group in groups:
        yield source(group, sheet, first, total)
        first += len(group)


def shared_out(pages: Sequence[AnyPage], workers: int) -> list[list[AnyPage]]:
    """Return the pages in as many runs as there are workers, in order, each with about the same number of notes."""
    whole = sum(page.notes for page in pages)
    groups: list[list[AnyPage]] = [[] for _ in range(workers)]
    done = 0
    for page in pages:
        groups[min(workers - 1, (done + page.notes // 2) * workers // max(1, whole))].append(page)
        done += page.notes
    return [group for group in groups if group]


def _boxes(parts: Sequence[Engraved]) -> tuple[str, ...]:
    found = {word for part in parts for line in part.log.splitlines() for word in line.split() if word.startswith("U+")}
    return tuple(sorted(found))


def _pdf(parts: Sequence[bytes], laid: Laid, facts: Facts) -> bytes:
    """Return the one PDF, refused if it has not just the pages that were laid out."""
    pdf = merged([whole_pdf(part) for part in parts], laid.bookmarks, facts.metadata(), facts.request)
    if page_count(pdf) != len(laid.pages):
        raise OverfullError
    return pdf
