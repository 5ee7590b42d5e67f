import io
import re
from unicodedata import normalize

import pytest
from pypdf import PdfReader
from pypdf.generic import Destination

from generators.press.laying import laid
from generators.press.source import Source
from generators.sheets.packet import PACKET_TITLE, packet_of
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.catalogue import PACKET as STUDIES
from tests.press.collisions import ink, overlaps
from tests.press.sheets import PACKET, PLAIN, composed, made, printed

TITLES = [made(KINDS[name].request()).title for name in STUDIES]


def _reader(sheet: Sheet = PLAIN) -> PdfReader:
    return PdfReader(io.BytesIO(printed(PACKET, sheet=sheet).contents["pdf"][0]))


def _texts() -> list[str]:
    """Return the words of each page, ligatures taken apart."""
    return [normalize("NFKC", page.extract_text()) for page in _reader().pages]


def _bookmarks(reader: PdfReader) -> list[tuple[str, int]]:
    marks = [mark for mark in reader.outline if isinstance(mark, Destination)]
    return [(str(mark.title), reader.get_destination_page_number(mark) or 0) for mark in marks]


def _squeezed(text: str) -> str:
    return "".join(text.split())


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
    told = [re.search(rf"{re.escape(title)}[ .]*?\s*(\d+)\s*$", contents, re.MULTILINE) for title, _ in marks]

    assert [page + 1 for _, page in marks] == [int(found[1]) if found else 0 for found in told]


def test_pages_are_numbered_through() -> None:
    """Each page says which it is, of how many, the cover among them."""
    texts = _texts()

    told = [re.findall(r"page *(\d+) *of *(\d+)", text) for text in texts]

    assert [[(str(i), str(len(texts)))] for i in range(1, len(texts) + 1)] == told
    assert printed(PACKET).pages == len(texts)


def test_the_cover_cautions() -> None:
    """The cover bears the title, the horn, and the cautions: stop at pain, rest, small steps, ears, and whom to believe."""
    cover = " ".join(_texts()[0].split())

    assert all(word in cover for word in (PACKET_TITLE, "Trumpet", "Pain", "Rest", "small steps", "ears", "teacher", "doctor"))


@pytest.mark.parametrize(("paper", "large"), [("a4", False), ("letter", False), ("a4", True), ("letter", True)])
def test_a_cover_has_room_for_every_study(paper: str, large: bool) -> None:
    """The contents of a packet of all studies there are fit on its cover, on either paper, and nothing there overlaps."""
    sheet = Sheet(paper=paper, large_print=large, fingerings=False, player="Third-year student", date="2026-11-25")
    document = composed(packet_of(tuple(KINDS)), sheet)
    groups = laid(document, {})

    assert len(KINDS) == len({chapter for group in groups for chapter in group.chapters}) - 1
    assert [1] == [len(group.pages) for group in groups if 0 in group.chapters]
    assert [] == overlaps(ink(Source(document, groups).run([0])))


def test_a_title_of_ones_own_stands_on_the_cover() -> None:
    """A title and player asked for stand on the cover and in the metadata; the studies keep their titles."""
    reader = _reader(Sheet(fingerings=False, title="Saltmarsh Town Band, week 3", player="Second cornet"))
    texts = [page.extract_text() for page in reader.pages]

    assert reader.metadata
    assert ("Saltmarsh Town Band, week 3", "Second cornet") == (reader.metadata.title, reader.metadata.author)
    assert "Saltmarsh Town Band" in texts[0]
    assert "Saltmarsh" not in texts[1]
    assert all("Second cornet" in text for text in texts)


def test_the_whole_text_is_one_source() -> None:
    """The text of a packet is one LilyPond file, a book part for each group of pages, with the music of every study."""
    text = printed(PACKET).contents["ly"][0].decode()
    strains = sum(len(study.strains) for study in composed(PACKET, PLAIN).studies)

    assert len(laid(composed(PACKET), {})) == text.count("\\bookpart {")
    assert strains == text.count("\\score {")
    assert 1 == text.count("\\version")
