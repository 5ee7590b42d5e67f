"""Laying: every strain stands on one page, in order; where a page proves overfull its strains part, and nothing else moves."""

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby, islice, pairwise, product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pypdf import PdfReader

from generators.errors import FailedRun
from generators.jobs.kinds import AnyRequest
from generators.press import binding, breaking
from generators.press.binding import TRIES, bound_pdf, pressed
from generators.press.breaking import FITS, MOST_LOOSE, NOTHING_PROVED, ROOMY, Proved, TooTallError
from generators.press.laying import ROWS_FEW, Laid, laid, printed_strains
from generators.press.marks import VALVES
from generators.press.pages import BlankPage, MusicPage, PanelPage
from generators.press.score import Printed
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.sheets.document import Document, Front, Music
from generators.sheets.packet import PacketRequest, packet_of
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, make
from generators.studies.etude.study import EtudeRequest
from generators.studies.fingers.study import FingersRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from generators.studies.tonguing.study import TonguingRequest
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch
from tests.exchange.samples import strain, study
from tests.press.sheets import PLAIN, composed, engraved, is_to_be_had, joined, text_of
from tests.press.stand_in import Handed, StandIn
from tests.studies.requests import requests

MONDAY = date(2026, 11, 30)
STUDIES = st.sampled_from(sorted(KINDS)).flatmap(requests)
SHEETS = st.builds(
    Sheet,
    paper=st.sampled_from(["a4", "letter"]),
    large_print=st.booleans(),
    fingerings=st.sampled_from(["none", "all"]),
    note_names=st.booleans(),
)
# Of some flows, from which strain on how many have proved too much for a page.
WIDE = st.dictionaries(st.integers(0, 5), st.sets(st.tuples(st.integers(0, 6), st.integers(2, 5)), max_size=2))
ROUTINES: dict[str, AnyRequest] = {
    "a day": DayRequest(profile=Profile(), on=MONDAY),
    "a child's light day": DayRequest(profile=Profile(grade="1", minutes=60), on=MONDAY, kind="light"),
    "a week on both sides": WeekRequest(profile=Profile(duplex=True, paper="letter"), on=MONDAY),
    "a packet of all": packet_of(tuple(KINDS)),
}
# One page of four strains, one of eight, two pages of eight and four.
KEYS = ("C", "G", "D", "A", "E", "B", "F", "Bb", "Eb", "Ab", "Db", "Gb", "Am", "Dm", "Gm", "Cm")
FOUR, EIGHT, SIXTEEN = (ScalesRequest(keys=KEYS[:count]) for count in (4, 8, 16))
LONG = "A title of many words that goes on and on and is not to be cut, " * 20


def music_pages(pages: Sequence[Laid]) -> Iterator[tuple[Laid, MusicPage]]:
    """Yield the pages of music in their places."""
    for page in pages:
        assert isinstance(page.page, MusicPage | PanelPage | BlankPage)
        if isinstance(page.page, MusicPage):
            yield page, page.page


def strains_on(page: MusicPage) -> list[Printed]:
    """Return the strains of a page in order."""
    return [strain for section in page.sections for each in section.scores for strain in each.strains]


def body(strain: Printed) -> tuple[tuple[Pitch, ...], tuple[int, ...], tuple[str, ...]]:
    """Return what of a strain is the same on every page: its note heads, the bars on its lines, and what is spoken."""
    return strain.heads, strain.counts, strain.syllables


def assert_laid(document: Document, pages: Sequence[Laid]) -> None:
    """Hold that every strain stands on one page, as wide as the paper, and that the pages count themselves through."""
    found = iter([body(strain) for _, page in music_pages(pages) for strain in strains_on(page)])

    for each in document.studies:
        ways = [[*map(body, printed_strains(each, document.sheet, eased=eased))] for eased in (False, True)]
        assert list(islice(found, len(each.strains))) in ways
    assert [] == list(found)
    assert list(range(1, len(pages) + 1)) == [page.number for page in pages]
    assert_chapters(document, pages)
    assert_spans(pages)


def assert_chapters(document: Document, pages: Sequence[Laid]) -> None:
    """Hold that all chapters begin in order, odd ones on odd pages, and that no page is blank but before those."""
    begun = [(chapter, page.number) for page in pages for chapter in page.chapters]
    odd = [number for chapter, number in begun if document.chapters[chapter].odd]

    assert list(range(len(document.chapters))) == [chapter for chapter, _ in begun]
    assert all(number % 2 for number in odd)
    assert {page.number for page in pages if isinstance(page.page, BlankPage)} <= {number - 1 for number in odd}


def assert_spans(pages: Sequence[Laid]) -> None:
    """Hold that the pages of a flow follow one another without a gap, and tell how many strains each has."""
    found = list(music_pages(pages))

    assert [last - first for page, _ in found for first, last in [page.strains]] == [len(strains_on(page)) for _, page in found]
    for _, run in groupby((page for page, _ in found), key=lambda page: page.flow):
        spans = [page.strains for page in run]
        assert [(0, spans[0][1]), *((before[1], after[1]) for before, after in pairwise(spans))] == spans


@given(st.lists(STUDIES, min_size=1, max_size=4), SHEETS, WIDE, st.booleans())
def test_every_strain_stands_on_one_page(
    wanted: list[Request], sheet: Sheet, wide: dict[int, set[tuple[int, int]]], packet: bool
) -> None:
    """Whatever studies, paper and refused pages: all strains stand on the pages, each once, in the order of the studies."""
    asked = tuple(request for request in wanted if is_to_be_had(request, sheet))
    assume(asked)
    document = composed(PacketRequest(studies=asked), sheet) if packet else joined(asked, sheet)
    proved = {flow: Proved(refused=frozenset((first, first + count) for first, count in spans)) for flow, spans in wide.items()}
    pages = laid(document, proved)

    assert_laid(document, pages)
    assert_refused(proved, pages)


def assert_refused(proved: dict[int, Proved], pages: Sequence[Laid]) -> None:
    """Hold that no page has all strains of a span that was refused."""
    together = [
        (page.flow, span)
        for page in pages
        for span in proved.get(page.flow, NOTHING_PROVED).refused
        if page.strains[0] <= span[0] and span[1] <= page.strains[1]
    ]

    assert [] == together


@pytest.mark.parametrize("name", ROUTINES)
def test_every_strain_of_a_routine_stands_on_one_page(name: str) -> None:
    """The law holds for days, weeks and packets, with pages refused too."""
    document = composed(ROUTINES[name], Sheet(paper="letter"))
    pages = laid(document, {})
    proved = {page.flow: Proved(refused=frozenset({page.strains})) for page in pages if page.strains[1] - page.strains[0] > 1}

    again = laid(document, proved)

    assert_laid(document, pages)
    assert_laid(document, again)
    assert_refused(proved, again)


@pytest.mark.parametrize("name", ROUTINES)
def test_a_page_tells_what_it_holds(name: str) -> None:
    """The first page of a flow has a head or a running line; a study has its heading where it begins, and nowhere else."""
    document = composed(ROUTINES[name], Sheet(paper="letter"))
    pages = list(music_pages(laid(document, {})))
    headings = [section.heading for _, page in pages for section in page.sections if section.heading]

    assert len(document.studies) == len(headings)
    assert all(page.strains[0] == 0 for page, shown in pages if shown.head)
    assert all(section.heading for _, page in pages for section in page.sections[1:])
    assert all(0 <= page.loose <= MOST_LOOSE for _, page in pages)


@pytest.mark.parametrize("name", ["a day", "a week on both sides"])
def test_a_footer_tells_the_lowest_and_the_highest_note_of_its_paper(name: str) -> None:
    """The range at the foot of every page of a day is that of all its notes, the mouthpiece alone left out."""
    pages = list(music_pages(laid(composed(ROUTINES[name]), {})))

    for flow in {place.flow for place, _ in pages}:
        own = [page for place, page in pages if place.flow == flow]
        strains = [strain for page in own for strain in strains_on(page) if not strain.free]
        pitches = [note.pitch for strain in strains for note in strain.strain.notes]
        lowest, highest = (pick(pitch.midi for pitch in pitches) for pick in (min, max))
        told = [{pitch.pretty for pitch in pitches if pitch.midi == end} for end in (lowest, highest)]

        assert {page.foot for page in own} <= {f"{low} to {high}" for low, high in product(*told)}


@pytest.mark.parametrize(
    ("asked", "sheet"),
    [
        (LowRequest(pedals=True, depth="C3"), Sheet(fingerings="all", intonation=True)),
        (packet_of(("flow", "slurs", "scales", "arpeggios", "entrances", "etude"), low="C4", high="G4"), Sheet()),
    ],
)
def test_a_page_more_is_not_for_a_few_staves(asked: AnyRequest, sheet: Sheet) -> None:
    """Music under rows of texts that all but fits on its pages has no other one for three staves at the most."""
    *_, (_, last) = music_pages(laid(composed(asked, sheet), {}))

    assert sum(len(strain.lines) for strain in strains_on(last)) > ROWS_FEW


def test_music_that_flows_shares_pages() -> None:
    """The studies of a packet follow one another on pages that they share, and more than one begins on some."""
    pages = laid(composed(packet_of(("flow", "scales", "slurs"), keys=("C",)), PLAIN), {})

    assert {-1, 1} == {page.flow for page in pages}
    assert max(len(page.chapters) for page in pages) > 1


def test_other_music_begins_its_own_page() -> None:
    """Chapters that do not flow begin a page each, under a head of their own."""
    pages = laid(chapters(FOUR, FOUR, SIXTEEN), {})

    assert [(0,), (1,), (2,), ()] == [page.chapters for page in pages]
    assert [True, True, True, False] == [bool(page.head) for _, page in music_pages(pages)]


@pytest.mark.parametrize(("even", "name"), [(True, "a day"), (False, "a packet of all")])
def test_days_fill_both_sides_of_their_paper(even: bool, name: str) -> None:
    """The music of a day is to fill an even number of pages, that of a packet any."""
    assert {even} == {chapter.even for chapter in composed(ROUTINES[name]).chapters if isinstance(chapter, Music)}


def test_a_cover_does_not_flow() -> None:
    """Pages without music stand between pages of music as they are."""
    cover, *studies = composed(packet_of(("flow", "scales"), keys=("C",)), PLAIN).chapters
    assert isinstance(cover, Front)
    document = replace(composed(FOUR), chapters=(*studies, cover, *studies))
    pages = laid(document, {})

    assert [0, -1, 3] == [flow for flow, _ in groupby(page.flow for page in pages)]


def test_a_page_tells_how_loud_it_begins() -> None:
    """A study that goes on over the page tells its dynamic again, though it has not changed, and nowhere else."""
    document = composed(SlursRequest(path="there-and-back", values=(4, 8), high="G5"), Sheet(paper="letter", large_print=True))
    told = [[strain.strain.notes[0].dynamic for strain in strains_on(page)] for _, page in music_pages(laid(document, {}))]

    assert len(told) > 1
    assert all(first and not any(others) for first, *others in told)


def _valves(document: Document, *, bare: bool = False) -> list[list[tuple[Pitch, str]]]:
    """Return the notes with their valves, page by page; of strains without any too, if asked."""
    return [
        [
            valves
            for strain in strains_on(page)
            if bare or any(row.name == VALVES for row in strain.rows)
            for valves in zip(strain.heads, _valve_row(strain), strict=True)
        ]
        for _, page in music_pages(laid(document, {}))
    ]


def _valve_row(strain: Printed) -> Sequence[str]:
    """Return the valves over the notes of a strain, empty where none stand."""
    return next((row.texts for row in strain.rows if row.name == VALVES), ("",) * len(strain.heads))


@pytest.mark.parametrize("request_", [SIXTEEN, FlowRequest()], ids=["scales", "flow"])
def test_new_fingerings_stand_once_on_a_page(request_: AnyRequest) -> None:
    """The valves of a note stand on every page at the first note of its pitch, and at no other."""
    every, new = (_valves(composed(request_, Sheet(fingerings=wanted)), bare=True) for wanted in ("all", "new"))
    told = iter([valves for page in every for valves in page])
    pages = [list(islice(told, len(page))) for page in new]

    assert [[valves for place, valves in enumerate(page) if _is_new(place, page)] for page in pages] == [
        [valves for valves in page if valves[1]] for page in new
    ]


def _is_new(place: int, page: Sequence[tuple[Pitch, str]]) -> bool:
    """Tell whether a note of a page is the first of its pitch."""
    return page[place][0] not in {midi for midi, _ in page[:place]}


def test_every_note_that_is_fingered_is_so_once_where_it_is_new() -> None:
    """A note of the mouthpiece alone, or on a tube told beside it, tells no valves: the next one on the page does."""
    new = _valves(composed(ROUTINES["a day"], Sheet(fingerings="new")))

    assert all({midi for midi, _ in page} == {midi for midi, text in page if text} for page in new)


def test_fingerings_of_its_own_a_note_keeps() -> None:
    """An alternate fingering stands at its note however often it was told."""
    request = FingersRequest(changes=("1-2>3",))
    (page,) = _valves(composed(request, Sheet(fingerings="new")))
    own = [told for told in page if told[1] == "3"]

    assert len(own) > len(set(own)) > 1


@pytest.mark.parametrize("seed", range(4))
def test_a_section_tells_its_loudness(seed: int) -> None:
    """A section of a tune tells how loud it begins, unless the note before it does."""
    tune = make(EtudeRequest(grade="2", kind="march", seed=seed))
    printed = printed_strains(tune, PLAIN)

    for before, own, shown in zip(tune.strains, tune.strains[1:], printed[1:], strict=False):
        begun = own.notes[0].dynamic
        assert begun
        assert (shown.strain.notes[0].dynamic == "") == (before.notes[-1].dynamic == begun and not own.notes[0].hairpin)


def chapters(*asked: Request, odd: bool = False) -> Document:
    """Return a document of some studies, each on pages of its own, on odd ones if wanted."""
    document = joined(asked, PLAIN)
    return replace(document, chapters=tuple(replace(chapter, odd=odd) for chapter in document.chapters))


def stand_in(monkeypatch: pytest.MonkeyPatch, crowded: set[int] | None = None, most: int = 99) -> StandIn:
    """Put a stand-in in the engravers' place: some pages are overfull with more than so many strains."""

    def overfull(part: Handed) -> bool:
        return (crowded is None or part.number in crowded) and part.text.count("\\score {") > most

    made = StandIn(overfull)
    monkeypatch.setattr(binding, "engravers", made.engravers)
    return made


def spans_of(pages: Sequence[Laid], flow: int) -> list[tuple[int, int]]:
    """Return the strains on each page of a flow."""
    return [page.strains for page in pages if page.flow == flow]


def test_what_fits_is_engraved_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing is overfull every page is handed over once, in order, and comes out in order."""
    engravers = stand_in(monkeypatch)
    whole = pressed(chapters(FOUR, SIXTEEN, FOUR, SIXTEEN), ("svg",))

    assert 1 == len(engravers.rounds)
    assert 2 == len(engravers.rounds[0])
    assert [part.image for run in engravers.rounds[0] for part in run] == list(whole.files("svg"))
    assert [1, 2, 3, 4, 5, 6] == [part.number for run in engravers.rounds[0] for part in run]
    assert 6 == len(whole.pages) == len(whole.files("svg"))


def test_what_is_overfull_is_engraved_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of three chapters on odd pages the middle one is overfull: it alone is handed over anew and takes the empty page."""
    engravers = stand_in(monkeypatch, {3}, 3)
    document = chapters(FOUR, FOUR, FOUR, odd=True)
    first, whole = laid(document, {}), pressed(document, ("svg",))

    assert [0, -1, 1, -1, 2] == [page.flow for page in first]
    assert [0, -1, 1, 1, 2] == [page.flow for page in whole.pages]
    assert [[3, 4]] == [[part.number for part in run] for run in engravers.rounds[-1]]
    assert 1 + len(ROOMY) == len(engravers.rounds)
    assert tuple(part.image for part in engravers.rounds[-1][0]) == whole.files("svg")[2:4]


def test_only_the_overfull_chapter_gets_more_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """The other chapters keep their strains on their pages, wherever those come to lie."""
    stand_in(monkeypatch, {2}, 3)
    document = chapters(FOUR, FOUR, EIGHT)
    before, after = laid(document, {}), pressed(document, ("svg",)).pages

    assert [[(0, 4)], [(0, 4)], [(0, 8)]] == [spans_of(before, flow) for flow in range(3)]
    assert [[(0, 4)], [(0, 8)]] == [spans_of(after, flow) for flow in (0, 2)]
    assert 2 == len(spans_of(after, 1))


def test_every_page_tells_how_many_there_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where more room takes a page more, the pages that were good are engraved again: their footers tell the number too."""
    stand_in(monkeypatch, {2}, 3)
    whole = pressed(chapters(FOUR, FOUR, FOUR), ("svg",))

    assert ["1 of 4", "2 of 4", "3 of 4", "4 of 4"] == [page.decode().partition(":")[0] for page in whole.files("svg")]


def test_what_was_engraved_is_not_engraved_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a page is laid anew and their number stays, the pages that were good are not handed over again."""
    engravers = stand_in(monkeypatch, {3}, 6)
    pressed(chapters(SIXTEEN, EIGHT), ("svg",))
    handed = [part for each in engravers.rounds for run in each for part in run]

    first, *later = [[part.number for run in each for part in run] for each in engravers.rounds]

    assert [1, 2, 3] == first
    assert 1 not in later[0]
    assert len(handed) == len(set(handed))


@pytest.mark.parametrize("asked", [(FOUR,), (FOUR, SIXTEEN)])
def test_what_never_fits_is_refused(asked: tuple[Request, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """However few strains there are on a page it is overfull: after a few tries that is refused."""
    engravers = stand_in(monkeypatch, most=0)
    with pytest.raises(FailedRun) as refused:
        pressed(chapters(*asked), ("svg",))

    assert ("page", "holds more than fits, however it is laid out") == (refused.value.refusal.what, refused.value.refusal.why)
    assert len(engravers.rounds) <= TRIES


def test_a_strain_too_tall_for_the_paper_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no page holds a strain by its measure, nothing is engraved, and larger paper is what would do."""
    engravers = stand_in(monkeypatch)
    monkeypatch.setattr(breaking, "FITS", 0.1)
    with pytest.raises(TooTallError, match="larger paper"):
        pressed(chapters(FOUR), ("svg",))

    assert [] == engravers.rounds


def test_without_an_output_nothing_is_engraved(monkeypatch: pytest.MonkeyPatch) -> None:
    """MusicXML and MIDI need no page: the document is laid out, and that is all."""
    engravers = stand_in(monkeypatch)
    whole = pressed(chapters(FOUR, SIXTEEN), ())

    assert 3 == len(whole.pages)
    assert ((), "") == (whole.made, whole.text)
    assert [] == engravers.rounds


def test_every_page_is_a_book_part() -> None:
    """Each page, blank ones too, is a book part of its own, with its number and with room for one page."""
    document = chapters(FOUR, SIXTEEN, FOUR, odd=True)
    numbers = re.findall(r"\\bookpart \{\s*\\paper \{\s*page-post-process = #\(part-made (\d+) ", text_of(document))

    assert [str(page.number) for page in laid(document, {})] == numbers
    assert len(numbers) == text_of(document).count("\\bookpart {")


def _texts(document: Document, whole: binding.Pressed) -> list[str]:
    """Return the words of each page of a document."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(bound_pdf(document, whole))).pages]


def test_a_long_title_is_given_the_room_it_takes() -> None:
    """A real page: a title of many lines moves strains of its chapter on and stands there whole."""
    document = chapters(FOUR, EIGHT, FOUR)
    titled = [replace(chapter, title=LONG) if i == 1 else chapter for i, chapter in enumerate(document.chapters)]
    assert all(isinstance(chapter, Music) for chapter in titled)
    document = replace(document, chapters=tuple(titled))
    whole = pressed(document, ("pdf",))
    texts = _texts(document, whole)

    assert [0, 1, 1, 2] == [page.flow for page in whole.pages]
    assert [f"page {i} of 4" for i in range(1, 5)] == [
        found[0] for text in texts if (found := re.search(r"page \d+ of \d+", text))
    ]
    assert " ".join(LONG.split()) in texts[1]


MEASURED: dict[str, tuple[AnyRequest, Sheet]] = {
    "a packet": (packet_of(tuple(KINDS)), PLAIN),
    "all rows": (packet_of(("flow", "scales", "slurs", "low")), Sheet(fingerings="all", note_names=True, intonation=True)),
    "a day": (ROUTINES["a day"], Sheet(large_print=True)),
    "a beginner's day": (DayRequest(profile=Profile(grade="1", minutes=12), on=MONDAY), Sheet(paper="letter")),
}


@pytest.mark.parametrize("name", MEASURED)
def test_measures_hold(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Real pages: what is laid on a page by its measure fits there, unless its staves were set apart as far as may be."""
    monkeypatch.setattr(breaking, "ROOMY", ROOMY[-1:])
    document = composed(*MEASURED[name])
    (found,) = engraved([text_of(document)], ("svg",))

    assert len(found.overfull) <= 1


def test_measures_that_err_are_put_right(monkeypatch: pytest.MonkeyPatch) -> None:
    """Real pages: where more was laid on a page than it holds, the engraver says so, and all strains come out on good ones."""
    document = chapters(ScalesRequest(keys=KEYS[:8], rhythm="sixteenths", pattern="turns"))
    monkeypatch.setattr(breaking, "FITS", FITS + 0.6)
    hoped, whole = laid(document, {}), pressed(document, ("pdf",))

    assert [(0, 8)] == spans_of(hoped, 0)
    assert 2 == len(spans_of(whole.pages, 0))
    assert_laid(document, whole.pages)
    assert len(whole.pages) == len(_texts(document, whole))


EIGHTHS = " | ".join(["1/8 2 3 4 5 6 7 1'"] * 3)
WIDE_KEYS, NARROW_KEYS = ("Cb", "C#", "Gb"), ("C", "G", "F")


def broken(*keys: str) -> list[tuple[int, ...]]:
    """Return how the lines of one music are broken in each of some keys, with note names over it."""
    strains = tuple(strain(EIGHTHS, parse_key(key)) for key in keys)
    sheet = Sheet(fingerings="none", note_names=True, large_print=True)
    return [found.counts for found in printed_strains(study(*strains), sheet)]


def test_strains_of_one_shape_are_broken_alike() -> None:
    """Where more than half of them need more lines than the others, all take as many; one alone makes nobody follow."""
    alone = {key: broken(key)[0] for key in (*WIDE_KEYS, *NARROW_KEYS)}
    wide, narrow = alone["Cb"], alone["C"]

    assert len(wide) > len(narrow)
    assert [wide, wide, wide] == broken("Cb", "C#", "C")
    assert [narrow, narrow, wide] == broken("C", "G", "Cb")


@pytest.mark.parametrize(
    ("told", "sketches"),
    [
        (["mf", "", ""], ["[mf]1/4 2 3 4", "[mf]2/4 3 4 5", "[mf]3/4 4 5 6"]),
        (["mf", "p", "mf"], ["[mf]1/4 2 3 4", "[p]2/4 3 4 5", "[mf]3/4 4 5 6"]),
        (["mf", "mf"], ["[mf<]1/4 2 3 [f]4", "[mf]2/4 3 4 5"]),
        (["mf", "mf"], ["[mf]1/4 2 3 4", "[mf<]2/4 3 4 [f]5"]),
        (["", ""], ["1/4 2 3 4", "2/4 3 4 5"]),
    ],
)
def test_a_dynamic_is_not_said_again(told: list[str], sketches: list[str]) -> None:
    """A strain that is as loud as the one before, all through both, has no dynamic."""
    found = printed_strains(study(*map(strain, sketches)), PLAIN)

    assert told == [printed.strain.notes[0].dynamic for printed in found]


def test_what_goes_on_tells_its_tempo() -> None:
    """The running line over a study that goes on tells its title and its tempo, one over a new study tells neither."""
    pages = [page for _, page in music_pages(laid(chapters(SIXTEEN, FOUR), {}))]

    assert ["", "92 to 132", ""] == [page.tempo for page in pages]


def test_crowded_lines_are_broken_where_the_page_has_room() -> None:
    """A study alone on a page has its crowded strains on two lines; where that took another page they stay on one."""
    alone = next(music_pages(laid(composed(SlursRequest(path="over-and-back"), PLAIN), {})))[1]
    lines = [len(strain.lines) for strain in strains_on(alone)]
    full = composed(
        TonguingRequest(kind="double", tempo=88, goal=132, keys=("G", "Eb"), patterns=("five-notes", "arpeggio")), PLAIN
    )

    assert [1, 1, 1, 1, 1, 1, 1, 2, 2] == lines
    assert 1 == len(laid(full, {}))
