"""From studies to finished sheets: pages laid out, engraved in parallel, merged, with the request inside."""

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.brass.horn import horn
from generators.errors import FailedRun
from generators.phrase.study import Study
from generators.press.code import as_json, code
from generators.press.cover import CAUTIONS, Cover, entries
from generators.press.engraver import Engraved, OverfullError, engraved
from generators.press.packet import merged, page_count
from generators.press.pages import AnyPage, pages, source
from generators.press.sheet import Sheet
from generators.studies.request import Request

SLACKS = range(5)


@dataclass(frozen=True, slots=True)
class Prints:
    """What was engraved: how many pages, and the content of every format (svg and png: one for each page)."""

    pages: int
    contents: dict[str, tuple[bytes, ...]]
    boxes: tuple[str, ...]
    """Characters that no font here has, printed as boxes."""


def prints(requests: Sequence[Request], studies: Sequence[Study], sheet: Sheet, formats: Sequence[str], packet: bool) -> Prints:
    """Return the sheets of some studies in the formats pdf, ly, svg and png; a packet has a cover.

    Raises FailedRun where the engraver fails; a page that proves overfull is laid out again with fewer lines.
    """
    for slack in SLACKS:
        try:
            return _printed(requests, studies, sheet, formats, packet, slack)
        except OverfullError:
            continue
    raise FailedRun("a page holds more than fits, however it is laid out; choose fewer values or a larger paper.")


def _printed(
    requests: Sequence[Request], studies: Sequence[Study], sheet: Sheet, formats: Sequence[str], packet: bool, slack: int
) -> Prints:
    everything, bookmarks = _laid_out(requests, studies, sheet, packet, slack)
    contents: dict[str, tuple[bytes, ...]] = {}
    engraver_formats = [name for name in ("pdf", "svg", "png") if name in formats]
    boxes: tuple[str, ...] = ()
    if engraver_formats:
        parts = engraved(list(_sources(everything, sheet)), engraver_formats)
        contents = {name: tuple(page for part in parts for page in part.files[name]) for name in engraver_formats}
        boxes = _boxes(parts)
    if "pdf" in formats:
        contents["pdf"] = (_pdf(contents["pdf"], len(everything), requests, studies, sheet, bookmarks),)
    if "ly" in formats:
        contents["ly"] = (source(everything, sheet).encode(),)
    return Prints(len(everything), contents, boxes)


def _laid_out(
    requests: Sequence[Request], studies: Sequence[Study], sheet: Sheet, packet: bool, slack: int
) -> tuple[list[AnyPage], list[tuple[str, int]]]:
    """Return the pages in order, and the bookmarks of a packet."""
    mark = code(list(requests), sheet)
    # The title of a packet stands on its cover; the studies keep their own.
    inner = replace(sheet, title="") if packet else sheet
    per_study = [pages(study, inner, mark, slack=slack) for study in studies]
    if not packet:
        return [page for group in per_study for page in group], []
    starts = [2 + sum(len(group) for group in per_study[:i]) for i in range(len(per_study))]
    bookmarks = [("Contents", 0), *((study.title, start - 1) for study, start in zip(studies, starts, strict=True))]
    return [_cover(studies, starts, sheet, mark), *(page for group in per_study for page in group)], bookmarks


def _sources(everything: Sequence[AnyPage], sheet: Sheet) -> Iterator[str]:
    """Yield one source for each core."""
    first = 1
    for group in shared_out(everything, os.cpu_count() or 1):
        yield source(group, sheet, first, len(everything))
        first += len(group)


def _cover(studies: Sequence[Study], starts: Sequence[int], sheet: Sheet, mark: str) -> Cover:
    minutes = round(sum(study.playing + study.resting for study in studies) / 60)
    return Cover(
        title=sheet.title or "Practice packet",
        band=horn(studies[0].horn).name,
        player=sheet.player,
        date=sheet.date,
        contents=entries(studies, starts),
        cautions=CAUTIONS,
        foot_left=f"about {minutes} min, rests included",
        foot_right=mark,
    )


def shared_out(everything: Sequence[AnyPage], workers: int) -> list[list[AnyPage]]:
    """Return the pages in as many runs as there are workers, in order, each with about the same number of notes."""
    whole = sum(page.notes for page in everything)
    groups: list[list[AnyPage]] = [[] for _ in range(workers)]
    done = 0
    for page in everything:
        groups[min(workers - 1, (done + page.notes // 2) * workers // max(1, whole))].append(page)
        done += page.notes
    return [group for group in groups if group]


def _boxes(parts: Sequence[Engraved]) -> tuple[str, ...]:
    found = {word for part in parts for line in part.log.splitlines() for word in line.split() if word.startswith("U+")}
    return tuple(sorted(found))


def _pdf(
    parts: Sequence[bytes],
    expected: int,
    requests: Sequence[Request],
    studies: Sequence[Study],
    sheet: Sheet,
    bookmarks: list[tuple[str, int]],
) -> bytes:
    """Return the one PDF, refused if it has not just the pages that were laid out."""
    text = as_json(list(requests), sheet)
    title = sheet.title or (studies[0].title if len(studies) == 1 and not bookmarks else "Practice packet")
    metadata = {
        "Title": title,
        "Author": sheet.player,
        "Creator": "Waterkey",
        "Subject": f"Request {code(list(requests), sheet)}",
        "Keywords": text,
    }
    pdf = merged(parts, bookmarks, metadata, text)
    if page_count(pdf) != expected:
        raise OverfullError
    return pdf
