"""Week and studio packets opened by pypdf: pages, bookmarks, page sizes, attached requests.

Page sizes: ISO 216 (A4, 210 by 297 mm) and ANSI/ASME Y14.1 size A (8.5 by 11 in).
"""

import json
from datetime import date

import pytest
from pypdf import PdfReader

from generators.jobs.routines import DayRequest, print_week
from generators.routine.profile import Profile

FIRST = date(2026, 11, 30)
POINT = 25.4 / 72
SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


@pytest.fixture(scope="module", params=["a4", "letter"])
def packet(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, PdfReader]:
    """Return the paper and the reader of a short week, printed on both sides."""
    profile = Profile(name="third-year student", grade="2", minutes=10, paper=request.param, duplex=True)
    report = print_week(DayRequest(profile=profile, on=FIRST), tmp_path_factory.mktemp("week") / "week")
    return request.param, PdfReader(report.files[0])


def test_pages_are_of_the_paper(packet: tuple[str, PdfReader]) -> None:
    """Every page has the size of the standard, to a millimetre."""
    paper, reader = packet
    sizes = {(round(float(page.mediabox.width) * POINT), round(float(page.mediabox.height) * POINT)) for page in reader.pages}

    assert {tuple(round(side) for side in SIZES[paper])} == sizes


def test_bookmarks_lead_to_the_days(packet: tuple[str, PdfReader]) -> None:
    """There is a bookmark for the cover, the etude and each of the seven days, in the order of their pages."""
    _, reader = packet
    places = [reader.get_destination_page_number(mark) for mark in reader.outline]  # type: ignore[arg-type]

    assert 9 == len(places)
    assert sorted(places) == places
    assert [0, 1] == places[:2]


def test_every_day_begins_on_a_right_hand_page(packet: tuple[str, PdfReader]) -> None:
    """Printed on both sides, days begin on odd pages, and their first page names the day."""
    _, reader = packet
    marks = list(reader.outline)[2:]
    places = [reader.get_destination_page_number(mark) for mark in marks]  # type: ignore[arg-type]

    assert all(place % 2 == 0 for place in places)
    assert all(
        str(mark["/Title"]).split()[0] in reader.pages[place].extract_text() for mark, place in zip(marks, places, strict=True)
    )


def test_the_request_lies_inside(packet: tuple[str, PdfReader]) -> None:
    """The whole request is attached as JSON and stands in the metadata."""
    paper, reader = packet
    (attached,) = reader.attachments.values()
    request = json.loads(attached[0])
    facts = reader.metadata

    assert "third-year student" == request["week"]["profile"]["name"]
    assert paper == request["week"]["profile"]["paper"]
    assert facts is not None
    assert request == json.loads(str(facts["/Keywords"]))


def test_pages_are_numbered_through(packet: tuple[str, PdfReader]) -> None:
    """The footers count through the packet."""
    _, reader = packet
    count = len(reader.pages)

    assert f"page 1 of {count}" in reader.pages[0].extract_text()
    assert f"page {count} of {count}" in reader.pages[-1].extract_text()
