"""The printed lines of a strain: as few as hold it, broken where the player breathes, no bar alone, no silence first."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, groupby

from generators.phrase.note import Note, Rest
from generators.phrase.pieces import Piece
from generators.phrase.signs import NEW_SIGN, REMINDER, signs
from generators.phrase.study import Strain
from generators.press.marks import TextRow
from generators.theory.pitch import Pitch

# A strain of so many bars with notes is one line if these have room.
SYSTEM_BARS = 7
# What a line costs; its emptiness, squared; an end where nobody breathes, half of it where one may but the sentence goes on; a
# bar alone; a silent start; in a piece, an end that is not one of a phrase: our choice.
_LINE, _EMPTY, _BREATHLESS, _ALONE, _SILENT, _PHRASELESS = 10.0, 4.0, 9.0, 30.0, 20.0, 16.0
# What a crowded line costs by how much it is over its room, and how full it may be at the most.
_CROWDED, TIGHT = 50.0, 1.21
# What things take of a line pressed together, in staff spaces: a note, a sign before it, one in brackets, a dot; a rest in the
# bar, a bar line; a silent bar, a rest of several; a sign of the key; a letter of the rows over the notes, the gap between two
# texts. Measured on engraved lines that were given no room.
_NOTE, _SIGNS, _DOT, _REST, _BAR, _SILENCE, _COUNT = 1.65, {"": 0.0, NEW_SIGN: 1.0, REMINDER: 2.2}, 1.0, 1.9, 0.6, 7.0, 11.0
_KEY_SIGN, _LETTER, _GAP = 1.0, 0.85, 0.8
# What an end inside a tied note costs, and what an end under a slur costs on top of one where nobody breathes: our choice.
_TIED, _SLURRED = 15.0, 12.0
# What it costs that a hairpin must become a word, for it goes on over the end of a line: our choice.
_WORDED = 2.0
_QUARTER = Fraction(1, 4)
# How much of its line music takes that is spaced well, pressed together.
WELL = 0.8


@dataclass(frozen=True, slots=True)
class Measure:
    """A printed bar with its pieces, or one rest of so many whole bars."""

    pieces: tuple[Piece, ...]
    bars: int
    width: float
    """What it takes pressed together, in staff spaces."""
    wished: bool
    """Whether the strain itself ends a line here."""
    slurred: bool = False
    """Whether a slur goes on over its end."""
    followed: bool = False
    """Whether a rest follows it."""
    growing: bool = False
    """Whether a hairpin goes on over its end."""
    beat: Fraction = _QUARTER
    """The beat that it is counted in, in whole notes."""

    @property
    def full(self) -> bool:
        """Whether it is one rest of whole bars."""
        return _rests(self.pieces)

    @property
    def length(self) -> Fraction:
        """How long its notes and rests last, in whole notes."""
        return sum((piece.event.length for piece in self.pieces), Fraction(0))

    @property
    def heard(self) -> bool:
        """Whether it has a note."""
        return any(isinstance(piece.event, Note) for piece in self.pieces)

    def begun(self, dynamic: str) -> "Measure":
        """Return the bar with a dynamic at its first note."""
        found = ((at, piece, piece.event) for at, piece in enumerate(self.pieces) if isinstance(piece.event, Note))
        at, piece, note = next(found)
        loud = replace(piece, event=replace(note, dynamic=dynamic))
        return replace(self, pieces=(*self.pieces[:at], loud, *self.pieces[at + 1 :]))

    @property
    def tied(self) -> bool:
        """Whether its last note goes on over the bar line."""
        last = self.pieces[-1].event
        return isinstance(last, Note) and last.tie

    @property
    def breathes(self) -> bool:
        """Whether a breath or a rest ends it, or follows."""
        last = self.pieces[-1].event
        return self.followed or isinstance(last, Rest) or last.breath


@dataclass(frozen=True, slots=True)
class Line:
    """One printed line."""

    measures: tuple[Measure, ...]
    grown: bool = False
    """Whether a hairpin of the line before goes on over its start."""

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its pieces in order."""
        return tuple(piece for measure in self.measures for piece in measure.pieces)

    @property
    def notes(self) -> tuple[Note[Pitch], ...]:
        """Its note heads in order."""
        return tuple(piece.event for piece in self.pieces if isinstance(piece.event, Note))

    def begun(self, dynamic: str) -> "Line":
        """Return the line with a dynamic at its first note."""
        at = next(place for place, measure in enumerate(self.measures) if measure.heard)
        return replace(self, measures=(*self.measures[:at], self.measures[at].begun(dynamic), *self.measures[at + 1 :]))


def printed_lines(
    strain: Strain,
    bars: Sequence[tuple[Piece, ...]],
    rows: Sequence[TextRow],
    room: float,
    counts: Sequence[int] = (),
    *,
    phrased: bool = False,
) -> tuple[Line, ...]:
    """Return the lines of a strain whose bars are cut into pieces, with rows of texts over them; `room` in staff spaces.

    Where `counts` tells how many measures stand on each line, it is broken so if they have room; `phrased`, where the strain
    itself wishes if the bars have room.
    """
    measures, well = _measures(strain, bars, rows), WELL * (room - _KEY_SIGN * abs(strain.key.fifths))
    told = _lined(measures, counts)
    if told and all(sum(measure.width for measure in line.measures) <= TIGHT * well for line in told):
        return told
    return _lined(measures, _broken(measures, well, _PHRASELESS if phrased else _BREATHLESS))


def _lined(measures: Sequence[Measure], counts: Sequence[int]) -> tuple[Line, ...]:
    """Return lines of so many measures each."""
    parts = [tuple(measures[end - count : end]) for count, end in zip(counts, accumulate(counts), strict=True)]
    return tuple(Line(part, bool(place) and parts[place - 1][-1].growing) for place, part in enumerate(parts))


def _measures(strain: Strain, bars: Sequence[tuple[Piece, ...]], rows: Sequence[TextRow]) -> list[Measure]:
    """Return the printed bars of a strain: full bars of rest in a row are one."""
    wished, heads, under, growing, measures = set(accumulate(strain.lines)), 0, False, False, list[Measure]()
    numbered, before = list(enumerate(bars, 1)), list(signs(map(_pitches, bars), strain.key))
    for silent, run in groupby(numbered, key=lambda bar: _rests(bar[1])):
        group = list(run)
        if silent:
            width = _COUNT if len(group) > 1 else _SILENCE
            measures.append(Measure(group[0][1], len(group), width, group[-1][0] in wished))
            continue
        for number, pieces in group:
            notes = [piece.event for piece in pieces if isinstance(piece.event, Note)]
            texts = [row.texts[heads : heads + len(notes)] for row in rows]
            under = _goes_on(notes, under)
            growing = _grows_on(notes, growing)
            rest = number < len(bars) and isinstance(bars[number][0].event, Rest)
            width = _width(pieces, before[number - 1], texts)
            measures.append(Measure(pieces, 1, width, number in wished, under, rest, growing, strain.meter.beat))
            heads += len(notes)
    return measures


def _pitches(pieces: Sequence[Piece]) -> list[Pitch]:
    return [piece.event.pitch for piece in pieces if isinstance(piece.event, Note)]


def _goes_on(notes: Sequence[Note[Pitch]], under: bool) -> bool:
    """Tell whether a slur goes on after some notes, the first of them under one or not."""
    for note in notes:
        under = (under or note.slur_open) and not note.slur_close
    return under


def _grows_on(notes: Sequence[Note[Pitch]], growing: bool) -> bool:
    """Tell whether a hairpin goes on after some notes, the first of them within one or not; it ends at the next dynamic."""
    for note in notes:
        growing = bool(note.hairpin.strip(".")) if note.hairpin or note.dynamic else growing
    return growing


def _rests(pieces: Sequence[Piece]) -> bool:
    return len(pieces) == 1 and not pieces[0].face


def _width(pieces: Sequence[Piece], before: Sequence[str], texts: Sequence[Sequence[str]]) -> float:
    """Return what a bar takes with the signs before its notes; a note is as wide as the widest text over it."""
    written = [max((_GAP + _LETTER * len(row[i]) for row in texts if row[i]), default=0.0) for i in range(len(before))]
    dots = [_DOT * (piece.face.numerator > 1) for piece in pieces if isinstance(piece.event, Note)]
    plain = [_NOTE + _SIGNS[sign] + dot for sign, dot in zip(before, dots, strict=True)]
    return _BAR + sum(map(max, written, plain)) + _REST * (len(pieces) - len(before))


def _broken(measures: Sequence[Measure], room: float, bare: float) -> tuple[int, ...]:
    """Return how many measures stand on each line; one that is wider than the room stands alone.

    `bare` is what it costs to end a line where the strain does not wish it and nobody breathes.
    """
    ends = list(accumulate((measure.width for measure in measures), initial=0.0))
    best: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
    for end in range(1, len(measures) + 1):
        best.append(min(_ways(measures, end, ends, room, best, bare)))
    return best[-1][1]


def _ways(
    measures: Sequence[Measure],
    end: int,
    ends: Sequence[float],
    room: float,
    best: Sequence[tuple[float, tuple[int, ...]]],
    bare: float,
) -> Iterator[tuple[float, tuple[int, ...]]]:
    """Yield what it costs to end a line after so many measures, with those on each line so far."""
    heard, crossed = 0, False
    for start in reversed(range(end)):
        heard += not measures[start].full
        crossed = crossed or (start + 1 < end and measures[start].wished)
        if heard > SYSTEM_BARS or (crossed and end - start > SYSTEM_BARS):
            return
        width = ends[end] - ends[start]
        if width <= TIGHT * room or end - start == 1:
            cost, counts = best[start]
            yield cost + _cost(measures, start, end, bare) + _fullness(width / room), (*counts, end - start)


def _fullness(share: float) -> float:
    """Return what it costs that a line is so full: a little if it is empty, more if it is tight."""
    return _EMPTY * (1 - share) ** 2 if share < 1 else _CROWDED * (share - 1)


def _cost(measures: Sequence[Measure], start: int, end: int, bare: float) -> float:
    heard = [measure for measure in measures[start:end] if not measure.full]
    alone = _ALONE if len(heard) <= 1 and end - start < len(measures) else 0.0
    silent = _SILENT if start and measures[start].full and measures[start].bars == 1 else 0.0
    last = measures[end - 1]
    tied = _TIED * last.tied + _SLURRED * (last.slurred and not last.wished) + _WORDED * (last.growing and end < len(measures))
    away = 0.0 if end == len(measures) or last.wished else bare / 3 if last.breathes else bare
    return _LINE + alone + silent + away + tied
