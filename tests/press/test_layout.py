from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import FailedRun
from generators.press.layout import paginate

ROOMS = st.sampled_from([(10.0, 10.0), (9.8, 10.2), (7.0, 7.2), (8.0, 10.0)])
HEIGHTS = st.lists(st.sampled_from([1.2, 2.0, 2.4, 3.5, 5.0, 6.0]), min_size=1, max_size=24)


def _filled(heights: list[float], counts: tuple[int, ...]) -> list[float]:
    """Return how much each page holds."""
    ends = list(accumulate(counts))
    return [sum(heights[end - count : end]) for count, end in zip(counts, ends, strict=True)]


def _fewest(heights: list[float], first: float, later: float) -> int:
    """Count the pages of one strain after another, a new page where the next does not fit."""
    pages, room = 0, 0.0
    for height in heights:
        if height > room + 1e-9:
            pages, room = pages + 1, later if pages else first
        room -= height
    return pages


@given(HEIGHTS, ROOMS)
def test_every_strain_stands_whole_on_a_page(heights: list[float], rooms: tuple[float, float]) -> None:
    """Pages take whole strains in their order, all of them, at least one each."""
    counts = paginate(heights, *rooms)

    assert len(heights) == sum(counts)
    assert 0 < min(counts)


@given(HEIGHTS, ROOMS)
def test_no_page_holds_more_than_it_can(heights: list[float], rooms: tuple[float, float]) -> None:
    """The first page and the further ones keep within their room."""
    first, *later = _filled(heights, paginate(heights, *rooms))

    assert first <= rooms[0] + 1e-9
    assert all(page <= rooms[1] + 1e-9 for page in later)


@given(HEIGHTS, ROOMS)
def test_there_are_as_few_pages_as_do(heights: list[float], rooms: tuple[float, float]) -> None:
    """No layout that keeps the strains whole has fewer pages."""
    counts = paginate(heights, *rooms)

    assert _fewest(heights, *rooms) == len(counts)


@given(st.integers(1, 60), st.sampled_from([1.0, 2.0, 3.0]), st.sampled_from([7.0, 10.0]))
def test_no_page_is_nearly_empty(count: int, height: float, room: float) -> None:
    """Strains of one size are spread so that no two pages differ by more than one strain."""
    counts = paginate([height] * count, room, room)

    assert max(counts) - min(counts) <= 1


@given(HEIGHTS, ROOMS)
def test_the_last_page_is_no_emptier_than_it_need_be(heights: list[float], rooms: tuple[float, float]) -> None:
    """Moving the last strain of the page before onto the last page would not make the two more even."""
    counts = paginate(heights, *rooms)
    pages = _filled(heights, counts)

    for i, (before, last) in enumerate(pairwise(pages)):
        moved = heights[sum(counts[: i + 1]) - 1]
        limits = [rooms[1] if i else rooms[0], rooms[1]]
        free = [limits[0] - before, limits[1] - last]
        if counts[i] > 1 and moved <= free[1] and i == len(pages) - 2:
            assert free[0] ** 2 + free[1] ** 2 <= (free[0] + moved) ** 2 + (free[1] - moved) ** 2 + 1e-6


@pytest.mark.parametrize(("counts", "heights"), [((3,), [2, 3, 5]), ((2, 2), [5] * 4), ((2, 2), [4] * 4), ((1,), [10])])
def test_pages_are_even(counts: tuple[int, ...], heights: list[float]) -> None:
    """One page where one does, else pages of like fullness."""
    assert counts == paginate(heights, 10, 10)


def test_a_strain_higher_than_a_page_is_refused() -> None:
    """The refusal tells the height, the room and what would help."""
    with pytest.raises(FailedRun, match=r"strain of 12 lines does not fit on a page of 10.*paper.*large print"):
        paginate([2, 12], 10, 10)
