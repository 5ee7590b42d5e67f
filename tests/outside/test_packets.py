"""Week and studio packets opened by pypdf: pages, bookmarks, page sizes, attached requests.

Page size: ANSI/ASME Y14.1 size A (8.5 by 11 in); that of A4 is tried with the sheets.
"""

import io
import json
from datetime import date

import pytest
from pypdf import PdfReader

from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.sheets.sheet import Sheet
from tests.press.sheets import printed

FIRST = date(2026, 11, 30)
POINT = 25.4 / 72
LETTER = (215.9, 279.4)


@pytest.fixture(scope="module")
def reader() -> PdfReader:
    """Return the reader of a short week on US Letter, printed on both sides."""
    profile = Profile(name="third-year student", grade="2", minutes=8, paper="letter", duplex=True)
    week = printed(WeekRequest(profile=profile, on=FIRST, daily=True), ("pdf",), Sheet(paper="letter"))
    return PdfReader(io.BytesIO(week.contents["pdf"][0]))


def test_pages_are_of_the_paper(reader: PdfReader) -> None:
    """Every page has the size of the standard, to a millimetre."""
    sizes = {(round(float(page.mediabox.width) * POINT), round(float(page.mediabox.height) * POINT)) for page in reader.pages}

    assert {tuple(map(round, LETTER))} == sizes


def test_bookmarks_lead_to_the_days(reader: PdfReader) -> None:
    """There is a bookmark for the cover, the etude and each of the seven days, in the order of their pages."""
    places = [reader.get_destination_page_number(mark) for mark in reader.outline]  # type: ignore[arg-type]

    assert 9 == len(places)
    assert sorted(places) == places
    assert [0, 1] == places[:2]


def test_every_day_begins_on_a_right_hand_page(reader: PdfReader) -> None:
    """Printed on both sides, days begin on odd pages, and their first page names the day."""
    marks = list(reader.outline)[2:]
    places = [reader.get_destination_page_number(mark) for mark in marks]  # type: ignore[arg-type]

    assert all(place % 2 == 0 for place in places)
    assert all(
        str(mark["/Title"]).split()[0] in reader.pages[place].extract_text() for mark, place in zip(marks, places, strict=True)
    )


def test_the_request_lies_inside(reader: PdfReader) -> None:
    """The whole request is attached as JSON: kind, player, day and paper."""
    (attached,) = reader.attachments.values()
    carried = json.loads(attached[0])

    assert "week" == carried["kind"]
    assert "third-year student" == carried["request"]["profile"]["name"]
    assert FIRST.isoformat() == carried["request"]["on"]
    assert ("letter", "letter") == (carried["request"]["profile"]["paper"], carried["sheet"]["paper"])


def test_pages_are_numbered_through(reader: PdfReader) -> None:
    """The footers count through the packet."""
    count = len(reader.pages)

    assert f"page 1 of {count}" in reader.pages[0].extract_text()
    assert f"page {count} of {count}" in reader.pages[-1].extract_text()
