"""How well a phrase is drawn, from its staff places alone: it goes somewhere, has one height, and is not the last one again."""

from collections.abc import Sequence
from itertools import pairwise

# All of it is our choice, by ear. A phrase has so many different notes at the least; what each that is missing costs.
_DIFFERENT, _MISSING = 5, 1.5
# It goes over so many steps at the least, and so many of its notes are one at the most; what less costs, and what more.
_REACHED, _NARROW, _DWELT, _DWELLING = 4, 1.0, 0.32, 14.0
# Of all notes so many may be the last but one again, and so many a turn back; what more costs.
_BACK, _TURNED, _CIRCLING, _ZIGZAG = 0.12, 0.48, 18.0, 10.0
# Its height is one note, between these shares of its way; what it costs that it is struck again, and that it stands elsewhere.
_FROM, _TO, _STRUCK, _MISPLACED = 0.15, 0.85, 0.3, 1.5
# What it costs each time that it is struck more often than so.
_OFTEN, _WORN = 3, 1.0
# In either half it goes so many steps from its first note; what it costs to stay, and to have its height where the last had.
_FAR, _STAYING, _SAME_HEIGHT = 3, 1.2, 0.7
# What it costs that a tune comes to its height over one note alone, and within how many it may rise to it.
_SUDDEN, _STEPS = 4.0, 6
# What it costs that a phrase kept for the height of a tune is not above all before, to come to its last note by more
# than a third, and to fall as far to the one before it.
_UNCROWNED, _LEAPT, _WIDEST, _FALLEN = 12.0, 2.5, 3, 2.0


def burden(places: Sequence[int], before: Sequence[Sequence[int]], *, crowns: bool) -> float:
    """Return what is amiss with a phrase after those before it, as staff places; 0 for nothing. One crowns its tune."""
    return _circling(places) + _height(places, before, crowns=crowns) + _going(places) + _closing(places)


def _circling(places: Sequence[int]) -> float:
    moves = [b - a for a, b in pairwise(places)]
    back = sum(a == c for a, c in zip(places, places[2:], strict=False)) / max(1, len(places) - 2)
    turned = sum(a * b < 0 for a, b in pairwise(moves)) / max(1, len(moves) - 1)
    few = _MISSING * max(0, _DIFFERENT - len(set(places))) + _NARROW * max(0, _REACHED - (max(places) - min(places)))
    dwelt = max(map(places.count, set(places))) / len(places)
    return (
        few + _DWELLING * max(0.0, dwelt - _DWELT) + _CIRCLING * max(0.0, back - _BACK) + _ZIGZAG * max(0.0, turned - _TURNED)
    )


def _height(places: Sequence[int], before: Sequence[Sequence[int]], *, crowns: bool) -> float:
    top = max(places)
    at = places.index(top) / len(places)
    struck = places.count(top)
    cost = _STRUCK * min(2, struck - 1) + _WORN * max(0, struck - _OFTEN) + _MISPLACED * (not _FROM <= at <= _TO)
    if not before:
        return cost
    highest = max(map(max, before))
    sudden = crowns and not _risen(places)
    return cost + _SAME_HEIGHT * (top == max(before[-1])) + _UNCROWNED * (crowns and top <= highest) + _SUDDEN * sudden


def _risen(places: Sequence[int]) -> bool:
    """Tell whether a line rises to its height over more than one note."""
    at = places.index(max(places))
    return any(places[i] <= min(places[i:at]) and places[at] - places[i] > 1 for i in range(max(1, at - _STEPS), at - 1))


def _going(places: Sequence[int]) -> float:
    """Return what it costs that a half of a phrase comes no way from its first note."""
    middle = len(places) // 2
    gone = [max(abs(place - half[0]) for place in half) for half in (places[: middle + 1], places[middle:])]
    return _STAYING * sum(max(0, _FAR - far) for far in gone)


def _closing(places: Sequence[int]) -> float:
    before, led, last = places[-3:]
    return _LEAPT * (abs(last - led) >= _WIDEST) + _FALLEN * (before - led >= _WIDEST)
