"""Binding: the pages of a document engraved by several engravers at once, laid anew where one proves overfull, and bound."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generators.errors import FailedRun, Refusal
from generators.press.breaking import NOTHING_PROVED, Proved, TooTallError
from generators.press.engraver import Engraved, engravers
from generators.press.laying import Laid, laid
from generators.press.pdf import Excerpt, merged, page_count
from generators.press.source import Source
from generators.sheets.document import Document

# How often music is laid out anew where a page of it proves overfull.
TRIES = 24
# A document of few pages is engraved by one engraver, a longer one by two or more, each with at most so many pages: as many on
# every machine, so that the same request gives the same bytes; of them as many work at a time as there are cores.
FEW_PAGES, MOST_PAGES = 3, 20


@dataclass(frozen=True, slots=True)
class Made:
    """A page as it was engraved: in which run, and which of its pages."""

    run: Engraved
    place: int


@dataclass(frozen=True, slots=True)
class Pressed:
    """A document as engraved: its pages, its source, and the characters that no font here has."""

    pages: tuple[Laid, ...]
    made: tuple[Made, ...]
    text: str
    boxes: tuple[str, ...] = ()

    def files(self, output: str) -> tuple[bytes, ...]:
        """Return all pages in order, in an output that has one file a page."""
        return tuple(made.run.files[output][made.place] for made in self.made)


PageKey = tuple[int, str]
"""What makes a page: how many pages there are in all, which every footer tells, and its own source."""
Done = dict[PageKey, Made | None]
"""What was engraved; None for what holds more than fits."""


def pressed(document: Document, outputs: Sequence[str]) -> Pressed:
    """Return a document engraved into the outputs pdf, svg and png; with none of them only laid out.

    Where a page proves overfull its music is laid out anew; what is then as it was before is not engraved again.
    Raises FailedRun where the engraver fails, or where a page holds too much however it is laid out.
    """
    proved: dict[int, Proved] = {}
    done: Done = {}
    for _ in range(TRIES):
        source = Source(document, _laid(document, proved))
        if not outputs:
            return Pressed(source.pages, (), "")
        _engrave(source, outputs, done)
        found = [(page, done[_key(source, place)]) for place, page in enumerate(source.pages)]
        whole = tuple(made for _, made in found if made)
        if len(whole) == len(found):
            return Pressed(source.pages, whole, source.whole, _boxes(whole))
        for page in (page for page, made in found if not made):
            proved[page.flow] = proved.get(page.flow, NOTHING_PROVED).overfull(page.strains)
    raise _overfull()


def _laid(document: Document, proved: Mapping[int, Proved]) -> tuple[Laid, ...]:
    try:
        return laid(document, proved)
    except TooTallError:
        if not proved:
            raise
        raise _overfull() from None


def _overfull() -> FailedRun:
    do = "choose fewer values or a larger paper"
    return FailedRun(Refusal("page", None, "holds more than fits, however it is laid out", do=do))


def _key(source: Source, place: int) -> PageKey:
    return len(source.pages), source.part(place)


def _engrave(source: Source, outputs: Sequence[str], done: Done) -> None:
    """Engrave what is not done yet, and note it."""
    missing = [place for place in range(len(source.pages)) if not done or _key(source, place) not in done]
    runs = shared_out(source.pages, missing)
    with engravers(len(runs), outputs) as ready:
        results = [engraver.begin(source.run(run)) for engraver, run in zip(ready, runs, strict=True)]
        for run, result in zip(runs, results, strict=True):
            done |= _noted(source, run, result())


def _noted(source: Source, run: Sequence[int], result: Engraved) -> Done:
    """Return the pages of a run, those that hold too much as None: all of them where the engraver does not say which."""
    numbers, tight = {source.pages[place].number for place in run}, set(result.overfull)
    tight = tight if tight <= numbers else numbers
    return {
        _key(source, place): None if source.pages[place].number in tight else Made(result, number)
        for number, place in enumerate(run)
    }


def shared_out(pages: Sequence[Laid], places: Sequence[int]) -> list[list[int]]:
    """Return the places of pages in runs of consecutive ones, each with about the same number of notes."""
    count = 1 if len(places) <= FEW_PAGES else max(2, -(-len(places) // MOST_PAGES))
    whole = max(1, sum(pages[place].page.notes for place in places))
    runs: list[list[int]] = []
    before, done = -1, 0
    for place in places:
        notes = pages[place].page.notes
        share = min(count - 1, (done + notes // 2) * count // whole)
        if share != before or runs[-1][-1] + 1 != place:
            runs.append([])
        runs[-1].append(place)
        before, done = share, done + notes
    return runs


def _boxes(made: Sequence[Made]) -> tuple[str, ...]:
    logs = {id(part.run): part.run.log for part in made}.values()
    return tuple(sorted({word for log in logs for line in log.splitlines() for word in line.split() if word.startswith("U+")}))


def bound_pdf(document: Document, whole: Pressed) -> bytes:
    """Return the one PDF: bookmarks, metadata, and the request attached; refused if it has not just the pages laid out."""
    parts = [Excerpt(made.run.files["pdf"][0], made.place, made.place) for made in whole.made]
    stamp = document.stamp
    metadata = {
        "Title": document.title,
        "Author": document.sheet.player,
        "Creator": "Waterkey",
        "Subject": f"Music {stamp.code}",
    }
    pdf = merged(parts, tuple(_bookmarks(document, whole.pages)), metadata, stamp.carried)
    if page_count(pdf) != len(whole.pages):
        raise FailedRun(Refusal("engraver", None, f"made {page_count(pdf)} pages where {len(whole.pages)} were laid out"))
    return pdf


def _bookmarks(document: Document, pages: Sequence[Laid]) -> list[tuple[str, int]]:
    """Return title and page, from 0, of every chapter that has a bookmark."""
    starts = {chapter: page.number - 1 for page in pages for chapter in page.chapters}
    return [(chapter.bookmark, starts[place]) for place, chapter in enumerate(document.chapters) if chapter.bookmark]
