"""The pages as pictures: staves evenly dense, pages full, nothing near the edge, over studies, papers, print and fingerings."""

import io

import numpy as np
import pytest
from PIL import Image

from generators.press.binding import pressed
from generators.press.pages import MusicPage
from generators.sheets.packet import PacketRequest
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.fingers.study import FingersRequest
from generators.studies.kit.request import Request
from tests.press.measures import Measured, measured
from tests.press.sheets import composed

RESOLUTION = 150
# Millimetres between the tops of two staves, at the least and in the middle of a page: of plain print, and of large print or
# with rows of valves over every staff; what keeps free of ink at the sides, and what of a page but the last is filled.
NARROWEST, WIDEST, WIDEST_LARGE = 16, 26, 38
EDGE, FULL = 13, 0.55


WITH_STAVES = [kind.request() for kind in KINDS.values() if kind.name != "buzz"]


def _pages(requests: list[Request], sheet: Sheet) -> list[Measured]:
    """Return the measures of every page of music in a packet of such studies, engraved."""
    whole = pressed(composed(PacketRequest(studies=tuple(requests)), sheet), ("png",))
    files = zip(whole.pages, whole.files("png"), strict=True)
    return [measured(png, RESOLUTION) for page, png in files if isinstance(page.page, MusicPage)]


@pytest.mark.parametrize(("paper", "requests"), [("a4", WITH_STAVES), ("letter", WITH_STAVES[::3])])
def test_pages_are_dense_and_even(paper: str, requests: list[Request]) -> None:
    """Every study, every third on Letter: staves stand as near as they may, none farther, each page but the last is full."""
    found = _pages(requests, Sheet(paper=paper, fingerings="none", date="none"))

    assert all(min(page.pitches) >= NARROWEST for page in found)
    assert [] == [page.pitch for page in found if page.pitch > WIDEST]
    assert all(min(page.left, page.right) >= EDGE for page in found)
    assert [] == [page.filled for page in found[:-1] if page.filled < FULL]


@pytest.mark.parametrize(
    ("large", "fingerings", "requests"), [(True, "all", WITH_STAVES[1::3]), (False, "new", WITH_STAVES[2::3])]
)
def test_larger_print_and_rows_keep_within_their_measures(large: bool, fingerings: str, requests: list[Request]) -> None:
    """In large print, and with valves over the notes, no staves touch, none stands far off, and nothing leaves the margins."""
    found = _pages(requests, Sheet(large_print=large, fingerings=fingerings, date="none"))

    assert all(min(page.pitches) >= NARROWEST for page in found)
    assert [] == [page.pitch for page in found if page.pitch > WIDEST_LARGE]
    assert all(min(page.left, page.right) >= EDGE for page in found)


def test_many_signs_keep_within_the_margins() -> None:
    """A line of quick half-steps with a sign before most notes is broken before it leaves the page."""
    (page,) = _pages([FingersRequest(keys=("Gb",), cells="chromatic")], Sheet(date="none"))

    assert min(page.left, page.right) >= EDGE


def test_the_measures_see_staves_and_gaps() -> None:
    """Two staves drawn by hand are found where they are, with the white around them."""
    page = np.full((1000, 800), 255, dtype=np.uint8)
    for top in (200, 400):
        page[top : top + 50 : 12, 100:700] = 0
    found = measured(_png(page), 254.0)

    assert [pytest.approx(20.0, abs=0.2)] == list(found.pitches)
    assert pytest.approx(0.448, abs=0.005) == found.filled
    assert pytest.approx(10.0, abs=0.2) == found.left == pytest.approx(found.right, abs=0.2)


def _png(page: np.ndarray) -> bytes:
    file = io.BytesIO()
    Image.fromarray(page).save(file, "PNG")
    return file.getvalue()
