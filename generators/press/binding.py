"""Binding: the pages of a document engraved by several engravers at once, laid anew where one proves overfull, and bound."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from generators.errors import FailedRun, Refusal
from generators.press.engraver import Engraved, engravers
from generators.press.laying import Group, laid
from generators.press.layout import TooTallError
from generators.press.pdf import Excerpt, merged, page_count
from generators.press.source import Source
from generators.sheets.document import Document

# How often a chapter is given fewer lines where a page of it proves overfull.
TRIES = 5
# A document of few pages is engraved by one engraver, a longer one by two or more, each with at most so many pages: as many on
# every machine, so that the same request gives the same bytes; of them as many work at a time as there are cores.
FEW_PAGES, MOST_PAGES = 3, 20


@dataclass(frozen=True, slots=True)
class Made:
    """A group of pages as it was engraved: in which run, and from which of its pages on."""

    run: Engraved
    first: int
    count: int

    def pages(self, output: str) -> tuple[bytes, ...]:
        """Return its pages in an output that has one file a page."""
        return self.run.files[output][self.first : self.first + self.count]


@dataclass(frozen=True, slots=True)
class Pressed:
    """A document as engraved: its pages' places, its source, and the characters that no font here has."""

    groups: tuple[Group, ...]
    made: tuple[Made, ...]
    text: str
    boxes: tuple[str, ...] = ()

    @property
    def page_count(self) -> int:
        """How many pages it has."""
        return sum(len(group.pages) for group in self.groups)

    def pages(self, output: str) -> tuple[bytes, ...]:
        """Return all pages in order, in an output that has one file a page."""
        return tuple(page for made in self.made for page in made.pages(output))


PageKey = tuple[int, str]
"""What makes a group of pages: how many pages there are in all, which every footer tells, and its own source."""
Done = dict[PageKey, Made | None]
"""What was engraved; None for what holds more than fits."""


def pressed(document: Document, outputs: Sequence[str]) -> Pressed:
    """Return a document engraved into the outputs pdf, svg and png; with none of them only laid out.

    A page that proves overfull is laid out anew with its chapter, and what is then the same as before is not engraved again.
    Raises FailedRun where the engraver fails, or where a page holds too much however it is laid out.
    """
    slack: dict[int, int] = {}
    done: Done = {}
    for _ in range(TRIES):
        source = Source(document, _laid(document, slack))
        if not outputs:
            return Pressed(source.groups, (), "")
        _engrave(source, outputs, done)
        found = [(group, done[_key(source, place)]) for place, group in enumerate(source.groups)]
        tight = [chapter for group, made in found if not made for chapter in group.chapters[:1]]
        if not tight:
            made = tuple(made for _, made in found if made)
            return Pressed(source.groups, made, source.whole, _boxes(made))
        slack |= {chapter: slack.get(chapter, 0) + 1 for chapter in tight}
    raise _overfull()


def _laid(document: Document, slack: dict[int, int]) -> tuple[Group, ...]:
    try:
        return laid(document, slack)
    except TooTallError:
        if not slack:
            raise
        raise _overfull() from None


def _overfull() -> FailedRun:
    do = "choose fewer values or a larger paper"
    return FailedRun(Refusal("page", None, "holds more than fits, however it is laid out", do=do))


def _key(source: Source, place: int) -> PageKey:
    return source.pages, source.part(place)


def _engrave(source: Source, outputs: Sequence[str], done: Done) -> None:
    """Engrave what is not done yet, and note it."""
    missing = [place for place in range(len(source.groups)) if not done or _key(source, place) not in done]
    runs = shared_out(source.groups, missing)
    with engravers(len(runs), outputs) as ready:
        results = [engraver.begin(source.run(run)) for engraver, run in zip(ready, runs, strict=True)]
        for run, result in zip(runs, results, strict=True):
            done |= _noted(source, run, result())


def _noted(source: Source, run: Sequence[int], result: Engraved) -> Done:
    """Return the groups of a run, those that hold too much as None: all of them where the engraver does not say which."""
    groups = [source.groups[place] for place in run]
    numbers, tight = {group.first_page for group in groups}, set(result.overfull)
    tight = tight if tight <= numbers else numbers
    firsts = accumulate((len(group.pages) for group in groups), initial=0)
    return {
        _key(source, place): None if group.first_page in tight else Made(result, first, len(group.pages))
        for place, group, first in zip(run, groups, firsts, strict=False)
    }


def shared_out(groups: Sequence[Group], places: Sequence[int]) -> list[list[int]]:
    """Return the places of groups in runs of consecutive ones, each with about the same number of notes."""
    pages = sum(len(groups[place].pages) for place in places)
    count = 1 if pages <= FEW_PAGES else max(2, -(-pages // MOST_PAGES))
    whole = max(1, sum(groups[place].notes for place in places))
    runs: list[list[int]] = []
    before, done = -1, 0
    for place in places:
        share = min(count - 1, (done + groups[place].notes // 2) * count // whole)
        if share != before or runs[-1][-1] + 1 != place:
            runs.append([])
        runs[-1].append(place)
        before, done = share, done + groups[place].notes
    return runs


def _boxes(made: Sequence[Made]) -> tuple[str, ...]:
    logs = {id(part.run): part.run.log for part in made}.values()
    return tuple(sorted({word for log in logs for line in log.splitlines() for word in line.split() if word.startswith("U+")}))


def bound_pdf(document: Document, whole: Pressed) -> bytes:
    """Return the one PDF: bookmarks, metadata, and the request attached; refused if it has not just the pages laid out."""
    parts = [Excerpt(made.run.files["pdf"][0], made.first, made.first + made.count - 1) for made in whole.made]
    stamp = document.stamp
    metadata = {
        "Title": document.title,
        "Author": document.sheet.player,
        "Creator": "Waterkey",
        "Subject": f"Music {stamp.code}",
    }
    pdf = merged(parts, tuple(_bookmarks(document, whole.groups)), metadata, stamp.carried)
    if page_count(pdf) != whole.page_count:
        raise FailedRun(Refusal("engraver", None, f"made {page_count(pdf)} pages where {whole.page_count} were laid out"))
    return pdf


def _bookmarks(document: Document, groups: Sequence[Group]) -> list[tuple[str, int]]:
    """Return title and page, from 0, of every chapter that has a bookmark."""
    starts = {chapter: group.first_page - 1 for group in groups for chapter in group.chapters}
    return [(chapter.bookmark, starts[place]) for place, chapter in enumerate(document.chapters) if chapter.bookmark]
