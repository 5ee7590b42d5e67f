"""Notes on their places in a strain."""

from generators.phrase.note import Rest
from generators.phrase.places import places
from tests.exchange.samples import strain


def test_places() -> None:
    """Notes are found in the bar they begin in, with their neighbours, slurred or not."""
    found = list(places(strain("1/2.( 2/2 3/4) r/4 4/4")))

    assert [1, 1, 2, 2] == [place.bar for place in found]
    assert [False, True, True, False] == [place.slurred for place in found]
    assert isinstance(found[2].after, Rest)
    assert None is found[0].before
