"""How worn a phrase is: it halts, says one bar too often, closes as before, or runs as anybody's would."""

from collections.abc import Sequence
from itertools import accumulate, pairwise

from generators.studies.etude.rhythm import BarRhythm, evens, stroke_values
from generators.studies.etude.tune import TunePhrase

# All of it is our choice, by ear. What it costs that a bar before the last ends on a note of half a bar, and in the middle of
# a phrase; that all begin with one; that all have one rhythm.
_HALTED, _HALF_WAY, _HEAVY, _ONE = 0.5, 0.6, 2.0, 1.0
# A bar is heard so often without harm, a rhythm so often; what each time more costs.
_OFTEN, _STALE, _RHYTHMS, _BEATEN = 2, 0.9, 5, 0.3
# So many bars of a phrase may be those of another, in their places; what each more costs.
_LITERAL, _COPIED = 2, 6.0
# What it costs to close with the last three notes of another phrase, and with the rhythm of its last two bars.
_CLOSED, _SAME_END = 1.5, 0.4
# Of so many notes in a row not all are of one value; what each time costs that they are.
_RUN, _EVEN = 8, 2.5
# An idea has so many values and different notes at the least, and goes over so many steps; what it costs that it lacks one of
# them, and that two pairs of notes, each struck twice, follow one another.
_VALUES, _PITCHES, _REACHED, _FACELESS, _PAIRED = 2, 4, 4, 1.2, 0.7
# So many notes in a row have that much news at the least: a value that changes, a leap, a third, a note again; what is missing
# costs.
_NOTES, _NEWS, _COMMON = 8, 4.5, 0.12
# So often at the least their value changes; what it costs that it does not.
_CHANGES, _PLAIN = 3, 0.15
_CHANGED, _LEAPT, _THIRD, _AGAIN = 1.0, 2.0, 0.6, 0.5


def wear(phrase: TunePhrase, before: Sequence[TunePhrase], bar: float) -> float:
    """Return how worn a phrase is after those before it; 0 for not at all."""
    told = 0.0 if before else _faceless(phrase)
    return (
        told
        + _halts(phrase.bars, bar)
        + _said(phrase, before)
        + _ends(phrase, before)
        + _runs(phrase, before)
        + _paired(phrase)
    )


def _faceless(phrase: TunePhrase) -> float:
    """Return what it costs that the idea of a tune has no face: one value, few notes, no skip, no way gone."""
    many = len(phrase.upbeat) + len(phrase.bars[0]) + len(phrase.bars[1])
    values = {stroke.size for bar in phrase.bars[:2] for stroke in bar}
    idea = phrase.places[:many]
    skips = sum(abs(b - a) > 1 for a, b in pairwise(idea))
    narrow = max(0, _REACHED - (max(idea) - min(idea)))
    return _FACELESS * ((len(values) < _VALUES) + max(0, _PITCHES - len(set(idea))) + (skips == 0) + narrow)


def _paired(phrase: TunePhrase) -> float:
    """Return what it costs that notes are struck in pairs."""
    moves = [b - a for a, b in pairwise(phrase.places)]
    return _PAIRED * sum(a == c == 0 != b for a, b, c in zip(moves, moves[1:], moves[2:], strict=False))


def plainness(bars: Sequence[BarRhythm], bar: float) -> float:
    """Return how plain a rhythm is: it halts, and runs on in one value."""
    values = [stroke.size for one in bars for stroke in one if not stroke.rest]
    changed = [0, *accumulate(a != b for a, b in pairwise(values))]
    plain = sum([(_CHANGES - b + a) ** 2 for a, b in zip(changed, changed[_NOTES - 1 :], strict=False) if b - a < _CHANGES])
    return _halts(bars, bar) + _PLAIN * plain


def _halts(bars: Sequence[BarRhythm], bar: float) -> float:
    first = bars[:3]
    held = [2 * one[-1].size >= bar or one[-1].rest for one in first]
    heavy = all(2 * one[0].size >= bar for one in first)
    alike = len(set(map(stroke_values, first))) == 1
    return _HALTED * sum(held) + _HALF_WAY * held[1] + _HEAVY * heavy + _ONE * alike


def _said(phrase: TunePhrase, before: Sequence[TunePhrase]) -> float:
    heard = [one for other in before for one in other.told]
    own = phrase.told[:3]
    stale = sum(max(0, heard.count(one) - _OFTEN + 1) for one in own)
    rhythms = [values for values, _ in heard]
    copied = max((sum(a == b for a, b in zip(other.told, phrase.told, strict=True)) for other in before), default=0)
    return (
        _COPIED * max(0, copied - _LITERAL)
        + _STALE * stale
        + _BEATEN * sum(max(0, rhythms.count(values) - _RHYTHMS + 1) for values, _ in own)
    )


def _ends(phrase: TunePhrase, before: Sequence[TunePhrase]) -> float:
    closed = any(one.places[-3:] == phrase.places[-3:] for one in before)
    return _CLOSED * closed + _SAME_END * any(
        [values for values, _ in one.told[2:]] == [values for values, _ in phrase.told[2:]] for one in before
    )


def _runs(phrase: TunePhrase, before: Sequence[TunePhrase]) -> float:
    heard = (*(before[-1].strokes[-_RUN:] if before else ()), *phrase.strokes)
    return _EVEN * evens(heard, _RUN) + _COMMON * commonplace(phrase)


def commonplace(phrase: TunePhrase) -> float:
    """Return how much news is missing in the moves and values of a phrase: what has none, anybody has written."""
    values = [stroke.size for stroke in phrase.strokes if not stroke.rest]
    moves = [abs(b - a) for a, b in pairwise(phrase.places)]
    changes = [a != b for a, b in pairwise(values)]
    news = [_NEW.get(move, _LEAPT) + _CHANGED * changed for move, changed in zip(moves, changes, strict=True)]
    return sum(max(0.0, _NEWS - sum(news[i : i + _NOTES - 1])) ** 3 for i in range(len(news) - _NOTES + 2))


_NEW = {0: _AGAIN, 1: 0.0, 2: _THIRD}
