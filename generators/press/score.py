"""Score text: the music of strains as LilyPond source, built with abjad; no page layout here."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate, pairwise

from generators.brass.horn import Horn
from generators.phrase.note import Note, Rest
from generators.phrase.pieces import Piece, cut
from generators.phrase.spans import Span, spans
from generators.phrase.study import Strain
from generators.press.beams import STEM_WAYS, beams, height_of, one_way, parted, turned
from generators.press.columns import Column, column
from generators.press.extent import (
    FREE,
    Extent,
    comma,
    depth,
    dynamic,
    extent,
    loud_above,
    slur_side,
    three,
)
from generators.press.free import free_text
from generators.press.leaves import bar_rest_text, note_text, pitch_name, rest_text
from generators.press.lines import Line, Measure, printed_lines
from generators.press.marks import Extras, TextRow, rows, word
from generators.theory.pitch import Pitch

# Less music than this, in staff spaces, is not drawn out to the margin.
NARROWEST = 12.0
# Between two lines of a strain: a break, and an empty column at the left; in a score the break alone.
PLAIN_BREAK = " \\noPageBreak \\break\n"
BREAK = f'{PLAIN_BREAK}\\column ""\n'
# How many different notes and rests are remembered: a week has some hundreds.
SPELLED = 16_384
# Triplets of shorter notes than this, in whole notes, are beamed.
BEAMED = Fraction(1, 6)
# What of a line is too short for a word, in whole notes, and in notes.
TOO_SHORT, TOO_FEW = Fraction(1, 4), 2
# What is kept free before a breath where texts stand over the notes, in staff spaces: a comma is not read with a number.
APART_FROM_TEXT = (
    "\\override BreathingSign.extra-spacing-width = #'(-1.0 . 0)\n\\override BreathingSign.extra-spacing-height = #'(-8 . 2)\n"
)
# What a dynamic without a hairpin keeps from a beam that begins at its note; how far to the left it stands where a slur does.
DYNAMIC_ALONE = "\\once \\override DynamicLineSpanner.outside-staff-padding = #0.9\n"
DYNAMIC_BESIDE = "\\once \\override DynamicText.self-alignment-X = #0.6\n"
# How far to the left of its note the first dynamic of spoken notes stands, in halves of its width: clear of their syllables.
ASIDE = 2.2
# How far from the middle line a note has a ledger line, and what keeps a tenuto from looking like one more: our choice.
LEDGER, LEDGERED = 3.0, "\\once \\override Script.padding = #0.6"
# What sets all slurs of a strain on one side.
SLURS = {1: "\\slurUp\n", -1: "\\slurDown\n", 0: ""}
# What stands in the place of a hairpin that would go over more than a line.
WORDED = {"<": "\\cresc", ">": "\\dim"}
# It ends with its line, and is told again in brackets where it goes on.
WORD_ON, WORD_ENDS = {"<": "\\crescOn", ">": "\\dimOn"}, "."


@dataclass(frozen=True, slots=True)
class Printed:
    """One strain as it goes to the page: its lines, what stands over and under its notes, and its LilyPond text."""

    strain: Strain
    horn: Horn
    column: Column
    """What stands in the column at its left."""
    lines: tuple[Line, ...]
    extents: tuple[Extent, ...]
    """How far each line reaches; one for free lines too."""
    heads: tuple[Pitch, ...]
    """The pitch of each note head, a tied note having several."""
    rows: tuple[TextRow, ...] = ()
    """The rows of texts over the notes."""
    syllables: tuple[str, ...] = ()
    """The syllables under them, one a head; none where nothing is spoken."""
    side: int = 0
    """1 where all its slurs stand over its stems, -1 where they stand under it, 0 where each finds its own side."""
    turn: str = BREAK
    """What stands between two of its lines."""
    texts: dict[str, str] = field(default_factory=dict, compare=False, repr=False)

    def with_rows(self, count: int) -> "Printed":
        """Return the strain as high as it is with so many rows of texts."""
        if self.free:
            return self
        return replace(self, extents=_extents(self, count))

    @property
    def meter(self) -> str:
        """Its meter, such as 3/4."""
        return str(self.strain.meter)

    @property
    def free(self) -> bool:
        """Whether it is printed without a staff, as lines alone."""
        return self.strain.free

    @property
    def repeated(self) -> bool:
        """Whether its own repeat signs end it."""
        return self.strain.repeats > 1

    @property
    def notes(self) -> int:
        """How many notes it has."""
        return len(self.strain.notes)

    @property
    def shape(self) -> tuple[tuple[int, int], ...]:
        """The bars and the notes and rests of each measure: strains that have the same may be broken at the same places."""
        return tuple((measure.bars, len(measure.pieces)) for line in self.lines for measure in line.measures)

    @property
    def counts(self) -> tuple[int, ...]:
        """How many measures stand on each line."""
        return tuple(len(line.measures) for line in self.lines)

    @property
    def ragged(self) -> bool:
        """Whether it is so short that it does not fill its line."""
        return len(self.lines) == 1 and not self.free and sum(measure.width for measure in self.lines[0].measures) < NARROWEST

    @property
    def short_end(self) -> bool:
        """Whether its last line is so short that it is not drawn out to the margin."""
        *others, last = [sum(measure.width for measure in line.measures) for line in self.lines] or [0.0]
        return bool(others) and last < max(others) / 3

    @property
    def opening(self) -> str:
        """Clef and key as LilyPond text; the engraver begins in treble clef by itself."""
        clef = "" if self.horn.clef.name == "treble" else f"\\clef {self.horn.clef.name}\n"
        key = self.strain.key
        return clef if self.free else f"{clef}\\key {pitch_name(Pitch(key.step, key.alter, 3))} \\{key.mode}\n"

    @property
    def music(self) -> str:
        """The rest of its LilyPond text, made once."""
        if "" not in self.texts:
            self.texts[""] = free_text(self.strain) if self.free else _text(self)
        return self.texts[""]

    @property
    def text(self) -> str:
        """The LilyPond text."""
        return self.opening + self.music


def printed(
    strain: Strain, extras: Extras, room: float, detail: str = "", counts: Sequence[int] = (), *, phrased: bool = False
) -> Printed:
    """Return a strain on lines that hold so many staff spaces; its detail stands in the column where it has room.

    Where `counts` tells how many measures stand on each line, it is broken so; `phrased`, at the ends of its phrases.
    """
    if strain.free:
        heads = tuple(note.pitch for note in strain.notes)
        return Printed(strain, extras.horn, column(strain, extras.horn, detail), (), (FREE,), heads)
    bars = tuple(_without_commas(cut(strain)))
    heads_of = [piece for bar in bars for piece in bar if isinstance(piece.event, Note)]
    over = rows(heads_of, replace(extras, tube=strain.tube, told=strain.held))
    notes = [piece.event for piece in heads_of if isinstance(piece.event, Note)]
    syllables = tuple(note.syllable for note in notes) if any(note.syllable for note in notes) else ()
    lines = tuple(_restated(printed_lines(strain, bars, over, room, counts, phrased=phrased)))
    side = slur_side(strain, extras.horn, low=extras.low)
    heads = tuple(note.pitch for note in notes)
    return Printed(strain, extras.horn, column(strain, extras.horn, detail), lines, (), heads, over, syllables, side).with_rows(
        len(over)
    )


def _restated(lines: Sequence[Line]) -> Iterator[Line]:
    """Yield lines with the dynamic told again from which a hairpin goes that begins with the line."""
    told = ""
    for line in lines:
        first = line.notes[0] if line.notes else None
        yield line.begun(told) if first and first.hairpin.strip(".o") and not first.dynamic else line
        for note in line.notes:
            told = "" if note.hairpin.strip(".") else note.dynamic or told


def _without_commas(bars: Sequence[tuple[Piece, ...]]) -> Iterator[tuple[Piece, ...]]:
    """Yield the bars without a breath mark where a rest follows anyway."""
    for bar, following in zip(bars, (*bars[1:], ()), strict=True):
        after = (*bar[1:], *following[:1])
        yield tuple(_silent_breath(piece, after[i] if i < len(after) else None) for i, piece in enumerate(bar))


def _silent_breath(piece: Piece, following: Piece | None) -> Piece:
    if isinstance(piece.event, Note) and piece.event.breath and following and isinstance(following.event, Rest):
        return replace(piece, event=replace(piece.event, breath=False))
    return piece


def _text(strain: Printed) -> str:
    """Return a strain line by line: its dynamics on one height a line, a line break (never a page break) where one ends."""
    lines, place, signs = list[str](), 0, _signs(strain)
    for line in strain.lines:
        lines.append(_level(line, strain) + "\n".join(_bars(line, signs, place, strain.strain)))
        place += len(line.pieces)
    text = strain.turn.join(lines)
    loud = "\\dynamicUp\n" if loud_above(bool(strain.syllables), len(strain.rows)) else ""
    aside = f"\\once \\override DynamicText.self-alignment-X = #{ASIDE}\n" if strain.syllables and not loud else ""
    apart = APART_FROM_TEXT if strain.rows and any(note.breath for note in strain.strain.notes) else ""
    slurs = SLURS[strain.side]
    early = f"\\partial 1*{strain.strain.upbeat}\n" if strain.strain.upbeat else ""
    threes = "\\tupletUp\n" if strain.syllables else ""
    pairs = "\\set Timing.beamExceptions = #'()\n" if strain.strain.paired else ""
    return f"{loud}{aside}{apart}{slurs}{early}{threes}{pairs}{_repeated(strain.strain, text)}"


def _level(line: Line, strain: Printed) -> str:
    """Return what sets the dynamics of a line on one height; nothing without dynamics."""
    if not dynamic(line):
        return ""
    rows = len(strain.rows)
    above, over = loud_above(bool(strain.syllables), rows), strain.side > 0
    height = depth(line, strain.horn, above, over)
    lone = not (line.grown or any(note.hairpin for note in line.notes))
    slurred = line.notes[0].slur_open and not (above or over)
    beside = DYNAMIC_BESIDE if lone and slurred else DYNAMIC_ALONE if lone and not rows else ""
    return f"\\override DynamicLineSpanner.staff-padding = #{height:.1f}\n{beside}"


def _bars(line: Line, signs: "_Signs", place: int, strain: Strain) -> Iterator[str]:
    """Yield the bars of a line whose first piece has a place in the strain."""
    for measure in line.measures:
        if measure.full:
            yield f"{bar_rest_text(strain.meter.bar, measure.bars)} |"
        else:
            # A last bar that an upbeat shortens has no bar line to check.
            whole = measure.length == strain.meter.bar or (not place and strain.upbeat)
            yield " ".join((*_words(measure, signs, place, told=not whole), *(("|",) if whole else ())))
        place += len(measure.pieces)


def _words(measure: Measure, signs: "_Signs", first: int, *, told: bool) -> Iterator[str]:
    """Yield the notes and rests of a bar, with the octave signs and triplet braces between them, its beams if they are told."""
    pieces, groups = measure.pieces, list(beams(measure.pieces, measure.beat))
    ends = {group[0]: "[" for group in groups} | {group[-1]: "]" for group in groups} if told else {}
    ways = turned(groups, pieces, signs.horn) if signs.even else [0] * len(pieces)
    shapes = _shapes(groups, pieces, ways)
    for place, piece in enumerate(pieces):
        yield from (*shapes.get(place, ()), *signs.before.get(first + place, ()))
        if isinstance(piece.event, Note):
            yield from _set_apart(piece.event, signs.horn)
        if piece.triplet in ("start", "startStop"):
            alone = not any(place in group and _mixed(group, pieces) for group in groups)
            number = _number(pieces[place:], signs.horn, ways[place], alone)
            yield from (*(number if first + place in signs.numbered else ("\\unnumbered",)), "\\tuplet 3/2 {")
        yield _spelled(piece, signs.worded.get(first + place), signs.rows) + ends.get(place, "")
        yield from (*(("}",) if piece.triplet in ("stop", "startStop") else ()), *signs.after.get(first + place, ()))
    yield from shapes.get(len(pieces), ())


def _set_apart(note: Note[Pitch], of: Horn) -> Iterator[str]:
    """Yield what sets the comma after a note over it, and its tenuto clear of a ledger line."""
    if note.breath:
        yield f"\\once \\override BreathingSign.Y-offset = #{comma(note, of):.1f}"
    if "tenuto" in note.articulations and abs(height_of(note, of)) >= LEDGER:
        yield LEDGERED


def _shapes(groups: Sequence[Sequence[int]], pieces: Sequence[Piece], ways: Sequence[int]) -> dict[int, list[str]]:
    """Return what turns stems and parts beams before the pieces of a bar, and after the last of them."""
    shapes = {place: [STEM_WAYS[way]] for place, (was, way) in enumerate(pairwise((0, *ways, 0))) if way != was}
    for place, side in (found for group in groups for found in parted(group, pieces)):
        shapes.setdefault(place, []).append(f"\\parted{side}")
    return shapes


def _mixed(group: Sequence[int], pieces: Sequence[Piece]) -> bool:
    """Tell whether notes of triplets and others are under one beam."""
    return len({bool(pieces[place].triplet) for place in group}) > 1


def _number(pieces: Sequence[Piece], horn: Horn, way: int, alone: bool) -> Iterator[str]:
    """Yield what sets the number of a triplet: without a bracket over its own beam, out of the staff."""
    end = next(place for place, piece in enumerate(pieces) if piece.triplet in ("stop", "startStop"))
    if alone and all(piece.event.length < BEAMED for piece in pieces[: end + 1]):
        yield "\\beamed"
    height = three(pieces, horn, way)
    if height is not None:
        yield f"\\{'three' if alone else 'bracketed'} #{height:.1f}"


@dataclass(frozen=True, slots=True)
class _Signs:
    """What stands between the pieces of a strain, by their places, and what is known of them only as a whole."""

    horn: Horn
    rows: int
    """How many rows of texts stand over the staff."""
    before: dict[int, list[str]]
    after: dict[int, list[str]]
    worded: dict[int, str]
    """The words for hairpins that go over more than a line; an empty one where a hairpin begins whose word stands later."""
    even: bool
    """Whether the beams of a bar turn one way."""
    numbered: frozenset[int]
    """The pieces of the first bar with triplets of every line: others have no number."""


def _extents(strain: Printed, rows: int) -> tuple[Extent, ...]:
    """Return how far the lines of a strain reach with so many rows of texts."""
    spoken, even = bool(strain.syllables), one_way(strain.strain)
    return tuple(extent(line, strain.horn, rows, spoken, strain.side > 0, even=even) for line in strain.lines)


def _signs(strain: Printed) -> _Signs:
    pieces = [piece for line in strain.lines for piece in line.pieces]
    ends = list(accumulate(len(line.pieces) for line in strain.lines))
    found = spans(pieces, strain.horn.bracketed)
    octaves = [span for span in found if span.kind == "8vb"]
    return _Signs(
        horn=strain.horn,
        rows=len(strain.rows),
        before={span.first: ["\\ottava #-1"] for span in octaves},
        after={span.last: ["\\ottava #0"] for span in octaves},
        worded=dict(_worded([span for span in found if span.kind in WORDED and _over_lines(span, ends)], pieces, ends)),
        even=one_way(strain.strain),
        numbered=frozenset(_numbered(strain)),
    )


def _over_lines(span: Span, ends: Sequence[int]) -> bool:
    """Tell whether a span goes on over the end of a line."""
    return any(span.first < end <= span.last for end in ends)


def _worded(over: Sequence[Span], pieces: Sequence[Piece], ends: Sequence[int]) -> Iterator[tuple[int, str]]:
    """Yield where the words of hairpins over more than a line stand: at its first note, or at that of the next line.

    A word that begins at the end of a line has no room there.
    """
    for span in over:
        end = next(end for end in ends if span.first < end)
        heard = [place for place in range(span.first, span.last + 1) if isinstance(pieces[place].event, Note)]
        late = sum(place < end for place in heard) <= TOO_FEW or _lasting(pieces[span.first : end]) <= TOO_SHORT
        first = next((place for place in heard if place >= end), None) if late else None
        if first is not None:
            yield span.first, ""
        begun = span.first if first is None else first
        yield begun, WORDED[span.kind]
        for end in (end for end in ends if begun + 1 < end <= span.last):
            last, on = max(place for place in heard if place < end), min(place for place in heard if place >= end)
            yield from ((last, WORD_ENDS), (on, WORD_ON[span.kind])) if begun < last and on < span.last else ()


def _lasting(pieces: Sequence[Piece]) -> Fraction:
    """Return how long pieces last, in whole notes."""
    return sum((piece.event.length for piece in pieces), Fraction(0))


def _numbered(strain: Printed) -> Iterator[int]:
    """Yield the places of the pieces in a bar with triplets where the bar before in its line has none of their values.

    And where such a bar begins otherwise: after a rest they are not known by those before.
    """
    place = 0
    for line in strain.lines:
        told = frozenset[Fraction]()
        for measure in line.measures:
            threes = frozenset(piece.face for piece in measure.pieces if piece.triplet)
            if not threes <= told or (threes and not measure.pieces[0].triplet):
                yield from range(place, place + len(measure.pieces))
            told, place = threes, place + len(measure.pieces)


@lru_cache(maxsize=SPELLED)
def _spelled(piece: Piece, worded: str | None, rows: int) -> str:
    """Return a printed note or rest as LilyPond text, with a word instead of its hairpin if there is one; made once."""
    if isinstance(piece.event, Rest):
        return rest_text(piece.face)
    sudden = f'\\suddenly "{piece.event.dynamic}"' if piece.event.role == "sudden" else ""
    said = "" if sudden or (piece.tied and not piece.event.beats) else word(piece.event)
    over, under = ("", said) if rows else (said, "")
    hairpin, begun = (piece.event.hairpin, "") if worded is None else (worded, "") if worded == WORD_ENDS else ("", worded)
    note = replace(piece.event, hairpin=hairpin, dynamic="" if sudden else piece.event.dynamic)
    return " ".join(filter(None, (note_text(note, piece.face, over, under), sudden, begun)))


def _repeated(strain: Strain, text: str) -> str:
    told = f'\n\\textEndMark \\markup \\played "{strain.repeats}×"' if strain.repeats > 2 else ""
    return f"\\repeat volta {strain.repeats} {{\n{text}{told}\n}}" if strain.repeats > 1 else text
