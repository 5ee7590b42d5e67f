"""The small algebra on phrases: each function takes phrases and returns one; none changes its argument."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Any, TypeVar

from generators.phrase.note import Degree, Note, P, Phrase, Rest

Q = TypeVar("Q")


def length(phrase: Phrase[P]) -> Fraction:
    """Return the length in whole notes: `length(line) == Fraction(4)` for four bars of 4/4."""
    # Summed as whole numbers by denominator: fractions are slow to add, and every plan of a day adds up thousands.
    parts: dict[int, int] = {}
    for event in phrase:
        value = event.length
        parts[value.denominator] = parts.get(value.denominator, 0) + value.numerator
    return sum((Fraction(count, denominator) for denominator, count in parts.items()), Fraction(0))


def notes(phrase: Phrase[P]) -> tuple[Note[P], ...]:
    """Return the notes alone, without the rests."""
    return tuple(event for event in phrase if isinstance(event, Note))


def then(*phrases: Phrase[P]) -> Phrase[P]:
    """Return the phrases one after another."""
    return tuple(event for phrase in phrases for event in phrase)


def times(phrase: Phrase[P], count: int) -> Phrase[P]:
    """Return the phrase so many times over."""
    return phrase * count


def line(pitches: Iterable[P], lengths: Iterable[Fraction]) -> Phrase[P]:
    """Return a bare line of pitches with the given lengths; both must be equally many."""
    return tuple(Note(pitch, value) for pitch, value in zip(pitches, lengths, strict=True))


def mapped(phrase: Phrase[P], change: Callable[[P], Q]) -> Phrase[Q]:
    """Return the phrase with every pitch changed and every mark kept."""
    return tuple(event if isinstance(event, Rest) else with_pitch(event, change(event.pitch)) for event in phrase)


def with_pitch(note: Note[P], pitch: Q) -> Note[Q]:
    """Return the note with all its marks on another pitch, of another kind if need be."""
    # Field by field: replace() takes three times as long, and every line of every candidate passes here.
    return Note(
        pitch,
        note.length,
        note.slur_open,
        note.slur_close,
        note.tie,
        note.articulations,
        note.dynamic,
        note.hairpin,
        note.breath,
        note.may_breathe,
        note.syllable,
        note.valves,
        note.glide,
        note.role,
        note.beats,
    )


def shifted(phrase: Phrase[Degree], steps: int) -> Phrase[Degree]:
    """Return a line of degrees moved along its scale (a sequence)."""
    return mapped(phrase, lambda degree: Degree(degree.index + steps, degree.alter))


def inverted(phrase: Phrase[Degree], axis: int) -> Phrase[Degree]:
    """Return a line of degrees mirrored in a degree: `inverted(inverted(x, a), a) == x`."""
    return mapped(phrase, lambda degree: Degree(2 * axis - degree.index, -degree.alter))


def augmented(phrase: Phrase[P], factor: Fraction) -> Phrase[P]:
    """Return the phrase with every length multiplied."""
    return tuple(replace(event, length=event.length * factor) for event in phrase)


def on(phrase: Phrase[P], index: int, **changes: Any) -> Phrase[P]:
    """Return the phrase with marks changed on its note number `index` (negative from the end); rests do not count."""
    places = [i for i, event in enumerate(phrase) if isinstance(event, Note)]
    place = places[index]
    return (*phrase[:place], replace(phrase[place], **changes), *phrase[place + 1 :])


def slurred(phrase: Phrase[P]) -> Phrase[P]:
    """Return the phrase under one slur, first note to last; a single note stays as it is."""
    return phrase if len(notes(phrase)) < 2 else on(on(phrase, 0, slur_open=True), -1, slur_close=True)


def slurred_by_step(phrase: Phrase[P], place: Callable[[P], int]) -> Phrase[P]:
    """Return the phrase with its slurs parted where a note is no neighbour of the one before it; `place` is its step."""
    result, under = list(phrase), False
    for i, (event, after) in enumerate(pairwise(phrase)):
        if not isinstance(event, Note):
            continue
        under = (under or event.slur_open) and not (event.slur_close and not event.slur_open)
        if under and isinstance(after, Note) and abs(place(after.pitch) - place(event.pitch)) > 1:
            result[i], result[i + 1] = _parted(result[i], after)
    return tuple(result)


def _parted(before: Note[P] | Rest, after: Note[P]) -> tuple[Note[P] | Rest, Note[P]]:
    """Return two notes under a slur with the end of one on the first, and the beginning of another on the second."""
    assert isinstance(before, Note)  # noqa: S101 - a slur joins notes
    one = replace(before, slur_open=False) if before.slur_open else replace(before, slur_close=True)
    return one, replace(after, slur_close=False) if after.slur_close else replace(after, slur_open=True)


def slurred_to_bars(phrase: Phrase[P], bar: Fraction) -> Phrase[P]:
    """Return the phrase with every slur that begins within a bar ended at its bar line, where the next one begins."""
    result, starts, begun, under = list(phrase), onsets(phrase), Fraction(0), False
    for i, (event, after) in enumerate(pairwise(phrase)):
        if not isinstance(event, Note):
            continue
        begun = starts[i] % bar if event.slur_open else begun
        under = (under or event.slur_open) and not (event.slur_close and not event.slur_open)
        if under and begun and starts[i + 1] % bar == 0 and isinstance(after, Note):
            result[i], result[i + 1] = _parted(result[i], after)
            begun = Fraction(0)
    return tuple(result)


def onsets(phrase: Phrase[P]) -> tuple[Fraction, ...]:
    """Return where each event begins, in whole notes from the start."""
    return tuple(accumulate((event.length for event in phrase), initial=Fraction(0)))[: len(phrase)]


def breaths(phrase: Phrase[P]) -> tuple[tuple[Note[P], ...], ...]:
    """Return the stretches between breaths and rests, in order, without the rests."""
    stretches: list[list[Note[P]]] = [[]]
    for event in phrase:
        if isinstance(event, Rest):
            stretches.append([])
            continue
        stretches[-1].append(event)
        if event.breath:
            stretches.append([])
    return tuple(tuple(stretch) for stretch in stretches if stretch)


def spread(phrase: Phrase[P], lengths: Sequence[Fraction]) -> Phrase[P]:
    """Return the phrase with new lengths laid over its events, repeating as needed."""
    return tuple(replace(event, length=lengths[i % len(lengths)]) for i, event in enumerate(phrase))
