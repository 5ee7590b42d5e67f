import io
import re
from functools import cache
from unicodedata import normalize

import pytest
from pypdf import PdfReader
from pypdf.generic import Destination

from generators.jobs.render import Rendered, render_all
from generators.press.binding import Pressed
from generators.press.laying import laid
from generators.press.pages import MusicPage
from generators.press.source import Source
from generators.sheets.document import Front
from generators.sheets.packet import PACKET_TITLE, packet_of
from generators.sheets.panels import Contents, TitlePanel
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, kind_of
from generators.studies.catalogue import PACKET as STUDIES
from generators.studies.flow.study import FlowRequest
from tests.press.collisions import ink, overlaps
from tests.press.sheets import PACKET, PLAIN, composed, made

TITLES = [made(KINDS[name].request()).title for name in STUDIES]


@cache
def _whole(sheet: Sheet = PLAIN) -> tuple[Rendered, Pressed]:
    """Return the packet as PDF and source, and its pages; engraved once on each sheet."""
    return render_all(composed(PACKET, sheet), ("pdf", "ly"))


def _reader(sheet: Sheet = PLAIN) -> PdfReader:
    return PdfReader(io.BytesIO(_whole(sheet)[0]["pdf"][0].content))


def _texts() -> list[str]:
    """Return the words of each page, ligatures taken apart."""
    return [normalize("NFKC", page.extract_text()) for page in _reader().pages]


def _bookmarks(reader: PdfReader) -> list[tuple[str, int]]:
    marks = [mark for mark in reader.outline if isinstance(mark, Destination)]
    return [(str(mark.title), reader.get_destination_page_number(mark) or 0) for mark in marks]


def _squeezed(text: str) -> str:
    """Return a text without what a reader may take otherwise: spaces, and the signs of a music font."""
    return "".join(letter for letter in text if letter.isascii() and not letter.isspace())


def test_bookmarks_lead_to_the_studies() -> None:
    """The contents and every study have a bookmark, in order, each to the page that has its title."""
    marks, texts = _bookmarks(_reader()), _texts()

    assert ["Contents", *TITLES] == [title for title, _ in marks]
    assert 0 == marks[0][1]
    assert all(_squeezed(title) in _squeezed(texts[page]) for title, page in marks[1:])


def test_the_contents_tell_the_pages() -> None:
    """The number beside a title in the contents is that of the page its bookmark leads to, counted from 1."""
    contents = _texts()[0]
    marks = _bookmarks(_reader())[1:]
    told = [re.search(rf"{re.escape(title).replace('♭', '.')}[ .]*?\s*(\d+)\s*$", contents, re.MULTILINE) for title, _ in marks]

    assert [page + 1 for _, page in marks] == [int(found[1]) if found else 0 for found in told]


def test_pages_are_numbered_through() -> None:
    """Each page says which it is, of how many, the cover among them."""
    texts = _texts()

    told = [re.findall(r"page *(\d+) *of *(\d+)", text) for text in texts]

    assert [[(str(i), str(len(texts)))] for i in range(1, len(texts) + 1)] == told
    assert len(_whole()[1].pages) == len(texts)


def test_the_cover_cautions() -> None:
    """The cover bears the title, the horn, and the cautions: stop at pain, rest, small steps, ears, and whom to believe."""
    cover = " ".join(_texts()[0].split())

    assert all(word in cover for word in (PACKET_TITLE, "Trumpet", "Pain", "rest", "small steps", "ears", "teacher", "doctor"))


@pytest.mark.parametrize(("grade", "title"), [("3", f"{PACKET_TITLE}, grade 3"), ("", PACKET_TITLE)])
def test_the_cover_names_the_grade(grade: str, title: str) -> None:
    """The title of a cover tells the grade that all its studies are for; the contents tell valves and tempi as the pages do."""
    cover = composed(packet_of(("slurs",), grade=grade), Sheet(date="2026-11-25")).chapters[0]
    panels = cover.pages[0] if isinstance(cover, Front) else ()
    found = [panel.title for panel in panels if isinstance(panel, TitlePanel)]
    words = [entry.words for panel in panels if isinstance(panel, Contents) for entry in panel.entries]

    assert [title] == found
    assert words[0].startswith("Valves 0, 2, 1,")
    assert "to 76, about" in words[0]


@pytest.mark.parametrize(("paper", "large"), [("letter", False), ("a4", True)])
def test_a_cover_has_room_for_every_study(paper: str, large: bool) -> None:
    """The contents of a packet of all studies there are fit on its cover, in either print, and nothing there overlaps."""
    sheet = Sheet(paper=paper, large_print=large, fingerings="none", player="Third-year student", date="2026-11-25")
    document = composed(packet_of(tuple(KINDS)), sheet)
    pages = laid(document, {})

    assert len(KINDS) == len([chapter for page in pages for chapter in page.chapters]) - 1
    assert [(1, (0,), -1)] == [(page.number, page.chapters, page.flow) for page in pages if page.flow == -1]
    assert [] == overlaps(ink(Source(document, pages).run([0])))


OWN = Sheet(fingerings="none", title="Saltmarsh Town Band, week 3", player="Second cornet")


def test_a_title_of_ones_own_stands_on_the_cover() -> None:
    """A title and player asked for stand on the cover and in the metadata; later pages run under the title."""
    reader = _reader(OWN)
    texts = [page.extract_text() for page in reader.pages]

    assert reader.metadata
    assert (OWN.title, OWN.player) == (reader.metadata.title, reader.metadata.author)
    assert OWN.player in texts[0]
    assert all(OWN.title in text for text in texts)


def test_a_loose_page_tells_whose_it_is() -> None:
    """The player's name stands on every page."""
    assert all(OWN.player in page.extract_text() for page in _reader(OWN).pages)


def test_studies_keep_their_titles() -> None:
    """Each study has its title over its first strain, once, though studies share pages; one that goes on says so."""
    texts, pages = _texts(), _whole()[1].pages
    squeezed = _squeezed("".join(texts[1:]))
    music = [page.page for page in pages if isinstance(page.page, MusicPage)]

    assert all(_squeezed(title) in squeezed for title in TITLES)
    assert max(len(page.chapters) for page in pages) > 1
    assert [page.section for page in music if page.section] == [
        title for text in texts[1:] for title in TITLES if _squeezed(f"{title}, continued") in _squeezed(text)
    ]


def test_the_whole_text_is_one_source() -> None:
    """The text of a packet is one LilyPond file, a book part for each page, with the music of every study."""
    rendered, whole = _whole()
    text, pages = rendered["ly"][0].content.decode(), whole.pages
    scores = sum(len(section.scores) for page in pages if isinstance(page.page, MusicPage) for section in page.page.sections)

    assert len(pages) == text.count("\\bookpart {")
    assert scores == text.count("\\score {")
    assert 1 == text.count("\\version")


def test_a_first_packet_grows_with_the_grade() -> None:
    """From grade 3 on no two grades have the same flow, the tongue is multiple from grade 5; named studies stay as they are."""
    own = {grade: {kind_of(each).name: each for each in packet_of(grade=grade).studies} for grade in "3456"}
    flows = [each for studies in own.values() if isinstance(each := studies["flow"], FlowRequest)]
    named = packet_of(("flow", "tonguing"), grade="5").studies

    assert 4 == len({(flow.shape, flow.length) for flow in flows})
    assert ["5", "6"] == [grade for grade, studies in own.items() if "tonguing" in studies]
    assert [KINDS[name].request(grade="5") for name in ("flow", "tonguing")] == list(named)
