"""What is amiss with a phrase, from its staff places."""

import pytest

from generators.studies.etude.contour import burden

SUNG = [28, 30, 31, 32, 34, 33, 32, 30, 31, 29, 28]


def amiss(places: list[int], *before: list[int], crowns: bool = False) -> float:
    """Return what is amiss with a phrase."""
    return burden(places, before, crowns=crowns)


def test_a_phrase_that_goes_somewhere_has_nothing_amiss() -> None:
    """A line that rises to one height and comes home by step costs nothing."""
    assert 0 == amiss(SUNG)


@pytest.mark.parametrize(
    "places",
    [
        [28, 29, 28, 29, 28, 29, 30, 29, 28, 28],
        [34, 32, 31, 30, 29, 28, 29, 30, 29, 28],
        [28, 30, 34, 32, 34, 32, 31, 30, 29, 28],
        [28, 30, 31, 32, 34, 32, 31, 30, 28, 24],
        [28, 30, 31, 32, 34, 32, 31, 33, 29, 28],
    ],
    ids=[
        "circles",
        "has its height at once",
        "strikes its height again",
        "leaps to its end",
        "falls to the note before its end",
    ],
)
def test_what_is_amiss_costs(places: list[int]) -> None:
    """Each fault that is named costs something."""
    assert amiss(places) > amiss(SUNG)


def test_a_crown_is_above_all_before() -> None:
    """A phrase kept for the height of a tune costs more where another has been as high; so does one that has the last one's."""
    lower = [place - 2 for place in SUNG]

    assert 0 == amiss(SUNG, lower, crowns=True)
    assert amiss(SUNG, SUNG, lower, crowns=True) > amiss(SUNG, SUNG, lower)
    assert amiss(SUNG, SUNG) > 0
