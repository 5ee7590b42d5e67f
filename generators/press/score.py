"""Score text: the music of strains as LilyPond source, built with abjad; no page layout here."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from generators.brass.horn import Horn
from generators.phrase.lines import line_up
from generators.phrase.note import Note, Rest
from generators.phrase.pieces import Piece, cut
from generators.phrase.study import Strain
from generators.phrase.wording import brief_label, full_label
from generators.press.free import free_text
from generators.press.leaves import bar_rest_text, note_text, pitch_name, rest_text
from generators.press.marks import Extras, octave_signs, over, under
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Printed:
    """One strain as it goes to the page: LilyPond text, its lines, and its syllables (one a note) if it has any."""

    label: str
    """What stands over it, and as short lines what stands at its left."""
    brief: tuple[str, ...]
    meter: str
    engraved: Callable[[], str]
    """Its text, built when it is asked for: so one part can be engraved while the next is written."""
    repeated: bool
    lines: int
    notes: int
    heads: int
    """Note heads, a tied note having several."""
    syllables: tuple[str, ...]
    height: float
    """What it takes of a page, in plain lines of music."""
    free: bool = False
    """Printed without a staff, as lines alone."""

    swelling: bool = False
    """Whether it has a hairpin, which always has room."""

    @property
    def text(self) -> str:
        """The LilyPond text."""
        return self.engraved()

    @property
    def ragged(self) -> bool:
        """Whether it is so short that it does not fill its line."""
        return self.lines == 1 and self.notes < 8 and not self.free and not self.swelling


# What the label of a strain takes, and a row of syllables or of small texts at a line; a staff space is a ninth of a line.
LABEL, SYLLABLES, FIGURES, SPACE = 0.2, 0.25, 0.1, 1 / 9
# The staff places beyond the outer lines between which nothing hangs out: C4 to G5 in treble clef.
BELOW, ABOVE = 2, 1
# How many different notes and rests are remembered: a week has some hundreds.
SPELLED = 16_384
# A compact line holds more bars, if they hold few notes.
COMPACT_BARS, COMPACT_NOTES = 7, 28


def printed(strain: Strain, extras: Extras, notes_a_line: int, compact: bool = False) -> Printed:
    """Return a strain as LilyPond text, its lines broken where the strain says, or more often if they would be cramped.

    A compact one is laid out anew on as few lines as will hold it.
    """
    if strain.free:
        return _free(strain, extras.horn)
    measures = _measures(strain)
    breaks = _compact(strain) if compact else _breaks(strain, notes_a_line)
    above = replace(extras, tube=strain.tube)
    heads = [piece.event for measure in measures for piece in measure.pieces if isinstance(piece.event, Note)]
    syllables = tuple(head.syllable for head in heads)
    return Printed(
        _label(strain),
        _brief(strain),
        str(strain.meter),
        partial(_text, strain, measures, breaks, above),
        strain.repeats > 1,
        len(breaks),
        len(strain.notes),
        len(heads),
        syllables if any(syllables) else (),
        _height(strain, len(breaks), above) - (LABEL if compact else 0),
        swelling=any(note.hairpin in ("<", ">") for note in strain.notes),
    )


def _text(strain: Strain, measures: "Sequence[_Measure]", breaks: Sequence[int], extras: Extras) -> str:
    ends = {sum(breaks[: i + 1]) for i in range(len(breaks) - 1)}
    text = "\n".join(f"{_bar(measure, extras)} {_bar_end(measure, ends)}" for measure in measures)
    loud = "\\dynamicUp\n" if any(note.syllable for note in strain.notes) else ""
    return f"{_opening(strain, extras.horn)}\n{loud}{_repeated(strain, text)}"


def _free(strain: Strain, horn: Horn) -> Printed:
    count = len(strain.notes)
    return Printed(
        _label(strain),
        _brief(strain),
        str(strain.meter),
        partial(_free_text, strain, horn),
        False,
        1,
        count,
        count,
        (),
        LABEL + 1,
        free=True,
    )


def _free_text(strain: Strain, horn: Horn) -> str:
    return f"{_clef(horn)}{free_text(strain)}"


@dataclass(frozen=True, slots=True)
class _Measure:
    """One printed bar: its pieces, or a rest of so many whole bars; and the number of the bar it begins with."""

    first: int
    count: int
    pieces: tuple[Piece, ...]
    full: bool
    bar: Strain
    later_triplets: bool = False


def _measures(strain: Strain) -> list[_Measure]:
    """Return the bars of a strain, those of one long rest as one; triplets after the first bar with them are unnumbered."""
    measures: list[_Measure] = []
    threes = False
    for number, pieces in enumerate(_without_commas(cut(strain))):
        silent = len(pieces) == 1 and not pieces[0].face
        if silent and measures and measures[-1].full:
            measures[-1] = replace(measures[-1], count=measures[-1].count + 1)
            continue
        measures.append(_Measure(number, 1, pieces, silent, strain, threes))
        threes = threes or any(piece.triplet for piece in pieces)
    return measures


def _without_commas(bars: Sequence[tuple[Piece, ...]]) -> Iterator[tuple[Piece, ...]]:
    """Yield the bars without a breath mark where a rest follows anyway."""
    for bar, following in zip(bars, (*bars[1:], ()), strict=True):
        after = (*bar[1:], *following[:1])
        yield tuple(_silent_breath(piece, after[i] if i < len(after) else None) for i, piece in enumerate(bar))


def _silent_breath(piece: Piece, following: Piece | None) -> Piece:
    if isinstance(piece.event, Note) and piece.event.breath and following and isinstance(following.event, Rest):
        return replace(piece, event=replace(piece.event, breath=False))
    return piece


def _compact(strain: Strain) -> tuple[int, ...]:
    """Return the strain's own lines, or fewer where its bars are light."""
    fewer = line_up(strain.bars, COMPACT_NOTES, COMPACT_BARS)
    rested = any(isinstance(event, Rest) and event.length > strain.meter.bar for event in strain.music)
    return fewer if not rested and (not strain.lines or len(fewer) < len(strain.lines)) else strain.lines


def _breaks(strain: Strain, notes_a_line: int) -> tuple[int, ...]:
    """Return the bars on each line: the strain's own, or a finer layout where a line would hold too many notes."""
    bars = strain.bars
    lines = strain.lines or line_up(bars, notes_a_line)
    result: list[int] = []
    start = 0
    for count in lines:
        part = bars[start : start + count]
        crowded = sum(len(bar) for bar in part) - sum(1 for bar in part if len(bar) == 1) > notes_a_line
        result += line_up(part, notes_a_line) if crowded else (count,)
        start += count
    return tuple(result)


def _bar(measure: _Measure, extras: Extras) -> str:
    """Return the notes and rests of a bar, with the octave signs and triplet braces between them."""
    if measure.full:
        return bar_rest_text(measure.bar.meter.bar, measure.count)
    signs = octave_signs(measure.pieces, extras.horn)
    number = "\\unnumbered " if measure.later_triplets else ""
    words: list[str] = []
    for place, piece in enumerate(measure.pieces):
        words += signs.get(place, ())
        words += [f"{number}\\tuplet 3/2 {{"] if piece.triplet in ("start", "startStop") else ()
        words.append(_spelled(piece, extras))
        words += ["}"] if piece.triplet in ("stop", "startStop") else ()
    return " ".join((*words, *signs.get(len(measure.pieces), ())))


@lru_cache(maxsize=SPELLED)
def _spelled(piece: Piece, extras: Extras) -> str:
    """Return a printed note or rest as LilyPond text; equal ones are made once."""
    if isinstance(piece.event, Rest):
        return rest_text(piece.face)
    return note_text(piece.event, piece.face, over(piece.event, piece.tied, extras), under(piece.event))


def _bar_end(measure: _Measure, ends: set[int]) -> str:
    """Return the bar check, and a line break (never a page break) where a line of the strain ends."""
    return "| \\noPageBreak \\break" if measure.first + measure.count in ends else "|"


def _opening(strain: Strain, horn: Horn) -> str:
    key = strain.key
    return f"{_clef(horn)}\\key {pitch_name(Pitch(key.step, key.alter, 3))} \\{key.mode}"


def _clef(horn: Horn) -> str:
    """Return the clef; the engraver begins in treble clef by itself."""
    return "" if horn.clef.name == "treble" else f"\\clef {horn.clef.name}\n"


def _label(strain: Strain) -> str:
    label = full_label(strain.label)
    return f"{label}, {strain.repeats} times" if strain.repeats > 2 else label


def _brief(strain: Strain) -> tuple[str, ...]:
    times = (f"{strain.repeats}×",) if strain.repeats > 2 else ()
    return (*brief_label(strain.label), *times)


def _repeated(strain: Strain, text: str) -> str:
    return f"\\repeat volta {strain.repeats} {{\n{text}\n}}" if strain.repeats > 1 else text


def _height(strain: Strain, lines: int, extras: Extras) -> float:
    """Return what a strain takes of a page: its lines, deeper where notes hang out or rows of text are added."""
    low, high = extras.horn.clef.bottom.place - BELOW, extras.horn.clef.top.place + ABOVE
    places = [note.pitch.place for note in strain.notes] or [low]
    hanging = (max(0, low - min(places)) + max(0, max(places) - high)) / 2
    rows = SYLLABLES * any(note.syllable for note in strain.notes) + FIGURES * (extras.fingerings + extras.intonation)
    return LABEL + lines * (1 + SPACE * hanging + rows)
