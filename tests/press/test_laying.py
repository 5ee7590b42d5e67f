"""Laying: every strain stands on one page, in order; where a page proves overfull its chapter alone gets more room."""

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from generators.brass.horn import horn
from generators.errors import FailedRun
from generators.jobs.kinds import AnyRequest
from generators.press import binding
from generators.press.binding import TRIES, bound_pdf, pressed
from generators.press.laying import Group, laid
from generators.press.layout import TooTallError
from generators.press.marks import Extras
from generators.press.pages import BlankPage, PanelPage, SectionsPage, StudyPage
from generators.press.score import Printed
from generators.press.score import printed as score
from generators.press.source import Source
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.sheets.document import Document, Music
from generators.sheets.packet import PacketRequest, packet_of
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from tests.press.sheets import PLAIN, composed, is_to_be_had, joined
from tests.press.stand_in import Handed, StandIn
from tests.studies.requests import requests

MONDAY = date(2026, 11, 30)
STUDIES = st.sampled_from(sorted(KINDS)).flatmap(requests)
SHEETS = st.builds(Sheet, paper=st.sampled_from(["a4", "letter"]), large_print=st.booleans(), fingerings=st.booleans())
SLACKS = st.dictionaries(st.integers(0, 5), st.integers(1, 3))
ROUTINES: dict[str, AnyRequest] = {
    "a day": DayRequest(profile=Profile(), on=MONDAY),
    "a child's light day": DayRequest(profile=Profile(grade="1", minutes=60), on=MONDAY, kind="light"),
    "a week on both sides": WeekRequest(profile=Profile(duplex=True, paper="letter"), on=MONDAY),
    "a packet of all": packet_of(tuple(KINDS)),
}
# One page of four strains, two pages of a strain more.
FOUR, EIGHT = (ScalesRequest(keys=("C", "G", "D", "A", "E", "B", "F", "Bb")[:count]) for count in (4, 8))
LONG = "A title of many words that goes on and on and is not to be cut, " * 9


def printed_strains(groups: Sequence[Group]) -> Iterator[tuple[int, Printed]]:
    """Yield every strain of the pages in order, with the number of its page."""
    for group in groups:
        for number, page in enumerate(group.pages, group.first_page):
            assert isinstance(page, StudyPage | SectionsPage | PanelPage | BlankPage)
            sections = (
                page.sections if isinstance(page, SectionsPage) else (page.section,) if isinstance(page, StudyPage) else ()
            )
            yield from ((number, strain) for section in sections for strain in section.strains)


def unbroken(strain: Printed) -> str:
    """Return the text of a strain without its line breaks."""
    return strain.text.replace(" \\noPageBreak \\break", "")


def assert_laid(document: Document, groups: Sequence[Group]) -> None:
    """Hold that every strain stands on one page, chapters and pages follow one another, and odd chapters begin on odd pages."""
    sheet, found = document.sheet, list(printed_strains(groups))
    expected = [
        unbroken(score(strain, Extras(horn(study.horn), bool(sheet.fingerings), sheet.intonation), 34))
        for study in document.studies
        for strain in study.strains
    ]
    pages = [page for page, _ in found]
    chapters = [chapter for group in groups for chapter in group.chapters]
    ends = [1, *(group.first_page + len(group.pages) for group in groups)]

    assert expected == [unbroken(strain) for _, strain in found]
    assert sorted(pages) == pages
    assert list(range(len(document.chapters))) == chapters
    assert ends[:-1] == [group.first_page for group in groups]
    assert all(group.pages for group in groups)
    assert all(group.first_page % 2 for group in groups for chapter in group.chapters if document.chapters[chapter].odd)


@settings(max_examples=30)
@given(st.lists(STUDIES, min_size=1, max_size=4), SHEETS, SLACKS, st.booleans())
def test_every_strain_stands_on_one_page(wanted: list[Request], sheet: Sheet, slack: dict[int, int], packet: bool) -> None:
    """Whatever studies, paper and empty lines: all strains stand on the pages, each once, in the order of the studies."""
    asked = tuple(request for request in wanted if is_to_be_had(request, sheet))
    assume(asked)
    document = composed(PacketRequest(studies=asked), sheet) if packet else joined(asked, sheet)
    try:
        groups = laid(document, slack)
    except TooTallError:
        assert slack
    else:
        assert_laid(document, groups)


@pytest.mark.parametrize("slack", [0, 2])
@pytest.mark.parametrize("name", ROUTINES)
def test_every_strain_of_a_routine_stands_on_one_page(name: str, slack: int) -> None:
    """The law holds for days, weeks and packets, with lines left empty too."""
    document = composed(ROUTINES[name], Sheet(paper="letter"))

    assert_laid(document, laid(document, dict.fromkeys(range(len(document.chapters)), slack)))


def chapters(*requests: Request, odd: bool = False) -> Document:
    """Return a document of some studies, each on pages of its own, on odd ones if wanted."""
    document = joined(requests, PLAIN)
    return replace(document, chapters=tuple(replace(chapter, odd=odd) for chapter in document.chapters))


def stand_in(monkeypatch: pytest.MonkeyPatch, crowded: set[int] | None = None, most: int = 99) -> StandIn:
    """Put a stand-in in the engravers' place: what begins on some pages is overfull with more than so many strains a page."""

    def overfull(part: Handed) -> bool:
        return (crowded is None or part.number in crowded) and part.text.count("\\score {") > most * part.pages

    made = StandIn(overfull)
    monkeypatch.setattr(binding, "engravers", made.engravers)
    return made


def test_what_fits_is_engraved_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing is overfull every chapter is handed over once, in order, and its pages come out in order."""
    engravers = stand_in(monkeypatch)
    whole = pressed(chapters(FOUR, EIGHT, FOUR, EIGHT), ("svg",))

    assert 1 == len(engravers.rounds)
    assert 2 == len(engravers.rounds[0])
    assert [image for run in engravers.rounds[0] for part in run for image in part.images] == list(whole.pages("svg"))
    assert whole.page_count == len(whole.pages("svg"))


def test_what_is_overfull_is_engraved_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of three chapters on odd pages the middle one is overfull: it alone is handed over anew and takes the empty page."""
    engravers = stand_in(monkeypatch, {3}, 3)
    document = chapters(FOUR, FOUR, FOUR, odd=True)
    first = laid(document, {})
    whole = pressed(document, ("svg",))

    assert [(0,), (), (1,), (), (2,)] == [group.chapters for group in first]
    assert [(0,), (), (1,), (2,)] == [group.chapters for group in whole.groups]
    assert [1, 1, 2, 1] == [len(group.pages) for group in whole.groups]
    assert [[3]] == [[part.number for part in run] for run in engravers.rounds[-1]]
    assert 2 == sum(1 for handed in engravers.rounds if handed)
    assert engravers.rounds[-1][0][0].images == whole.pages("svg")[2:4]


def test_only_the_overfull_chapter_gets_more_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """The other chapters keep their strains on their pages, wherever those come to lie."""
    stand_in(monkeypatch, {2}, 3)
    document = chapters(FOUR, FOUR, EIGHT)
    before, after = laid(document, {}), pressed(document, ("svg",)).groups

    def strains(group: Group) -> list[int]:
        pages = [page for page, _ in printed_strains([group])]
        return [pages.count(page) for page in dict.fromkeys(pages)]

    assert [[4], [4], [3, 5]] == list(map(strains, before))
    assert [[4], [2, 2], [3, 5]] == list(map(strains, after))


def test_every_page_tells_how_many_there_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where more room takes a page more, the pages that were good are engraved again: their footers tell the number too."""
    stand_in(monkeypatch, {2}, 3)
    whole = pressed(chapters(FOUR, FOUR, FOUR), ("svg",))

    assert ["1 of 4", "2 of 4", "3 of 4", "4 of 4"] == [page.decode().partition(":")[0] for page in whole.pages("svg")]


def test_a_layout_that_failed_is_not_engraved_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a line less changes nothing, nothing is handed over until something changes."""
    engravers = stand_in(monkeypatch, {1}, 2)
    document = chapters(replace(FOUR, keys=("C", "G", "D")))
    assert Source(document, laid(document, {})).whole == Source(document, laid(document, {0: 1})).whole
    pressed(document, ("svg",))

    texts = [text for place in range(len(engravers.rounds)) for text in engravers.texts(place)]
    assert 2 == len(texts) == len(set(texts))


@pytest.mark.parametrize("requests", [(FOUR,), (FOUR, EIGHT)])
def test_what_never_fits_is_refused(requests: tuple[Request, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """However few strains there are on a page it is overfull: after a few tries that is refused."""
    engravers = stand_in(monkeypatch, most=0)
    with pytest.raises(FailedRun) as refused:
        pressed(chapters(*requests), ("svg",))

    assert ("page", "holds more than fits, however it is laid out") == (refused.value.refusal.what, refused.value.refusal.why)
    assert len(engravers.rounds) <= TRIES


def test_without_an_output_nothing_is_engraved(monkeypatch: pytest.MonkeyPatch) -> None:
    """MusicXML and MIDI need no page: the document is laid out, and that is all."""
    engravers = stand_in(monkeypatch)

    assert 3 == pressed(chapters(FOUR, EIGHT), ()).page_count
    assert [] == engravers.rounds


def test_a_long_title_is_given_the_room_it_takes() -> None:
    """A real page: a title of nine lines, which no measure foresees, moves strains of its chapter on and stands there whole."""
    document = chapters(FOUR, EIGHT, FOUR)
    titled = [replace(chapter, title=LONG) if i == 1 else chapter for i, chapter in enumerate(document.chapters)]
    assert all(isinstance(chapter, Music) for chapter in titled)
    document = replace(document, chapters=tuple(titled))
    before, whole = laid(document, {}), pressed(document, ("pdf",))
    texts = [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(bound_pdf(document, whole))).pages]

    assert [1, 2, 1] == [len(group.pages) for group in before]
    assert [1, 3, 1] == [len(group.pages) for group in whole.groups]
    assert [f"page {i} of 5" for i in range(1, 6)] == [
        found[0] for text in texts if (found := re.search(r"page \d+ of \d+", text))
    ]
    assert " ".join(LONG.split()) in texts[1]
