"""How good a tune is by count: how far from what its kind does, on either side; the ear has set the bands."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from generators.studies.etude.freshness import commonplace
from generators.studies.etude.rhythm import stroke_values
from generators.studies.etude.tune import Tune

# Bands as the middle and how far from it is still well: our choice, by ear and by what is commonly said of tunes.
_TURNS, _ANSWERED, _STRUCK, _RHYTHMS, _ALIKE = (0.34, 0.1), (0.3, 0.25), (2.0, 1.5), (0.55, 0.5), (0.55, 0.5)
_CLIMAX, _LATER = 0.1, 5.0
# A phrase has so many different notes at the least, and comes straight back so often without harm.
_DIFFERENT, _SOME, _CIRCLING = 5, 0.15, 50.0
# A share of moves may be so far from what the kind does.
_NEAR, _WIDE = 0.1, 3
# How far the last note is from the one before it at the most.
_LAST = 3
# What it costs that another phrase reaches its highest note.
_SHARED = 50.0
# What it costs that its phrases have little news.
_COMMON = 0.12
# What a fault that was left costs, more than anything else.
_FAULT = 25.0


def merit(tune: Tune) -> float:
    """Return how far a tune is from the bands of its kind: 0 is best."""
    bands = sum(((value - middle) / width) ** 2 for value, (middle, width) in _counts(tune))
    return bands + _dull(tune) + _worn(tune) + _SHARED * _heights(tune) + _FAULT * tune.faults


def _counts(tune: Tune) -> Iterator[tuple[float, tuple[float, float]]]:
    """Yield what is counted of a tune with its band."""
    places = [tone.place for tone in tune.line]
    moves = [b - a for a, b in pairwise(places)]
    for steps in range(_WIDE + 1):
        found = sum(abs(move) == steps if steps < _WIDE else abs(move) >= _WIDE for move in moves) / len(moves)
        wished = sum(share for step, share in tune.kind.moves.items() if step == steps or (step > steps == _WIDE))
        yield found, (wished, _NEAR)
    yield sum(a * b < 0 for a, b in pairwise(moves)) / len(moves), _TURNS
    yield _struck(places), _STRUCK
    values = [stroke.size for phrase in tune.phrases for stroke in phrase.strokes]
    yield sum(a == b for a, b in pairwise(values)) / len(values), _ALIKE
    bars = [stroke_values(bar) for phrase in tune.phrases for bar in phrase.bars]
    yield len(set(bars)) / len(bars), _RHYTHMS
    leaps = [(a, b) for a, b in pairwise(moves) if abs(a) >= _WIDE]
    if leaps:
        yield sum(a * b < 0 and abs(b) == 1 for a, b in leaps) / len(leaps), _ANSWERED


def _heights(tune: Tune) -> int:
    """Return how many phrases reach the highest note beside the one that has it, and whether that one strikes it again."""
    tops = [max(phrase.places) for phrase in tune.phrases]
    crowned = tune.phrases[tops.index(max(tops))]
    return tops.count(max(tops)) - 1 + (crowned.places.count(max(tops)) > 1)


def _worn(tune: Tune) -> float:
    """Return what it costs that a phrase has little news."""
    return _COMMON * sum(map(commonplace, tune.phrases)) / len(tune.phrases)


def _struck(places: Sequence[int]) -> float:
    return float(places.count(max(places)))


def _dull(tune: Tune) -> float:
    """Return what it costs that the highest note comes at once, that phrases stand still, and that the end is not led to."""
    places = [tone.place for tone in tune.line]
    early = places.index(max(places)) / len(places) < _CLIMAX * (len(tune.phrases) > 2)
    still = sum(_still([tone.place for tone in phrase.line]) for phrase in tune.phrases) / len(tune.phrases)
    return _LATER * early + still + (0.0 if abs(places[-1] - places[-2]) <= _LAST else 4.0)


def _still(places: Sequence[int]) -> float:
    """Return what it costs that a phrase circles few notes, or comes back to the last but one too often."""
    back = sum(a == c for a, c in zip(places, places[2:], strict=False)) / max(1, len(places) - 2)
    return max(0, _DIFFERENT - len(set(places))) * 2.5 + _CIRCLING * max(0.0, back - _SOME)
