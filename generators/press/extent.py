"""How far a printed line reaches over and under its staff, in staff spaces from its middle: measured on engraved pages."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generators.brass.horn import Horn
from generators.phrase.algebra import length
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.phrase.study import Strain
from generators.phrase.wording import note_words
from generators.press.beams import beams, height_of, turned
from generators.press.lines import Line
from generators.theory.pitch import Pitch

# The middle of a staff to its edge; a stem; half a note head.
STAFF_EDGE, STEM, HEAD = 2.0, 3.5, 0.5
# What a clef reaches over the middle, and under it; what things add beyond the notes: a slur, an accent or a dot, a tuplet's
# number, a word, a fermata, a breath over the staff, a row of texts, the syllables, an octave bracket, a dynamic.
CLEF_UP, CLEF_DOWN = 3.6, 3.6
SLUR, SIGN, TUPLET, WORD, FERMATA, BREATH = 1.1, 0.9, 1.6, 1.9, 1.7, 4.2
ROW, SYLLABLES, OCTAVE, DYNAMIC = 1.5, 2.1, 2.0, 1.2
# How much more a row takes that stands over another.
FARTHER = 0.3
# What a dynamic adds under notes that reach below the height of the line's dynamics.
BESIDE = 1.5
# How much farther a slur reaches over so many notes, and a tie; how far it reaches under the notes that it begins and ends at.
FAR, MANY, TIED, ENDING = 0.6, 7, 0.7, 0.5
# How much higher slurs reach that are over stems, and rows of texts over these.
ARCHED, OVER_SLURS = 0.4, 0.3
# How far from the middle line the number of a triplet stands whose beam is within the staff.
NUMBER = 3.1
# How much higher a slur arches over a leap, by its width.
ARCH = 0.15
# Where a breath stands over the middle line, at the least.
COMMA = 2.6
# How far over the middle line notes go at the most that lie low, and how far from it their middle is at the least: our choice.
LITTLE_OVER, WELL_UNDER = 0.5, -0.4
# How far the middle of a dynamic stands from the notes, and from the staff at the least and at the most.
CLEAR, NEAREST, FARTHEST = 1.0, 1.7, 4.3


@dataclass(frozen=True, slots=True)
class Extent:
    """What a line takes over and under the middle of its staff."""

    up: float
    down: float


FREE = Extent(3.0, 3.0)


def extent(line: Line, horn: Horn, rows: int, spoken: bool, arched: bool = False, *, even: bool = False) -> Extent:
    """Return the extent of a line: with rows of texts over it, syllables under it if spoken, slurs over its stems if arched.

    Where even, the beams of its bars turn one way.
    """
    words = any(note_words(note) for note in line.notes)
    breath = max((BREATH - COMMA + comma(note, horn) for note in line.notes if note.breath), default=0.0)
    over = ROW * rows + FARTHER * max(0, rows - 1) + OVER_SLURS * (arched and rows > 0)
    up = _above(line, horn, even) + ARCHED * arched + over + WORD * (words and not rows)
    down = _below(line.notes, horn, arched)
    if dynamic(line):
        above = loud_above(spoken, rows)
        loud = STAFF_EDGE + depth(line, horn, above, arched) + DYNAMIC
        beside = _below(_marked(line), horn, arched) + BESIDE
        up, down = (max(up, loud), down) if above else (up, max(loud, down + SYLLABLES * spoken, beside))
    down += SYLLABLES * (spoken and not (dynamic(line) and rows)) + WORD * (words and rows > 0)
    return Extent(max(CLEF_UP, breath, up), down)


def loud_above(spoken: bool, rows: int) -> bool:
    """Tell whether dynamics stand over a staff: where syllables are under it, unless rows of texts are over it."""
    return spoken and not rows


def dynamic(line: Line) -> bool:
    """Tell whether a line has dynamics or hairpins."""
    return line.grown or any(note.dynamic or note.hairpin for note in line.notes)


def slur_side(strain: Strain, horn: Horn, *, low: bool) -> int:
    """Return 1 where all slurs of a strain stand over its stems, -1 where they stand under it, 0 where each finds its own side.

    They have one side on a tube, and where each goes over more than a bar: over, but under in a study that lies low. Where all
    stems go up, they find the heads. Where all come back to one note, its heads have them.
    """
    slurred, heights = list(_under_slurs(strain.notes)), [height_of(note, horn) for note in strain.notes]
    if strain.tube or (slurred and all(length(stretch) > strain.meter.bar for stretch in slurred)):
        return -1 if low else int(max(heights, default=0.0) >= 0)
    ends = {note.pitch for stretch in slurred for note in (stretch[0], stretch[-1])}
    return 0 if len(ends) != 1 else 1 if height_of(slurred[0][0], horn) >= 0 else -1


def lies_low(strains: Sequence[Strain], horn: Horn) -> bool:
    """Tell whether strains all go but little over the middle line, and are mostly well under it."""
    return all(_lies_low([height_of(note, horn) for note in strain.notes]) for strain in strains)


def _lies_low(heights: Sequence[float]) -> bool:
    return max(heights, default=0.0) <= LITTLE_OVER and sum(heights) <= WELL_UNDER * len(heights)


def _under_slurs(notes: Sequence[Note[Pitch]]) -> Iterator[tuple[Note[Pitch], ...]]:
    """Yield the notes under each slur."""
    first = 0
    for place, note in enumerate(notes):
        if note.slur_close:
            yield tuple(notes[first : place + 1])
        first = place if note.slur_open else first


def depth(line: Line, horn: Horn, above: bool, arched: bool = False) -> float:
    """Return how far from the edge of the staff the dynamics of a line stand, so that all are on one height.

    A note that reaches farther moves those under it alone.
    """
    reach = _above(line, horn, even=False) if above else _below(_marked(line), horn, arched)
    return min(FARTHEST, max(NEAREST, reach - STAFF_EDGE + CLEAR))


def _marked(line: Line) -> Sequence[Note[Pitch]]:
    """Return the notes of a line from its first dynamic to its last, under which they and the hairpins stand."""
    marked = [place for place, note in enumerate(line.notes) if note.dynamic or note.hairpin]
    goes_on = line.notes[marked[-1]].hairpin.strip(".") if marked else line.grown
    first, last = 0 if line.grown else marked[0] if marked else len(line.notes), marked[-1] if marked else 0
    return line.notes[first : None if goes_on else last + 1]


def comma(note: Note[Pitch], horn: Horn) -> float:
    """Return how far over the middle line the breath after a note stands: over the staff, and over the note."""
    return max(COMMA, height_of(note, horn) + 1.6 + SLUR * note.slur_close)


def three(pieces: Sequence[Piece], horn: Horn, way: int = 0) -> float | None:
    """Return how far over or under the middle line the number of a triplet stands that begins with the first of the pieces.

    The engraver puts it beside the beam, over heads with syllables under them; a beam within the staff is told where the number
    clears the lines.
    """
    ends = [place for place, piece in enumerate(pieces) if piece.triplet in ("stop", "startStop")]
    group = [height_of(piece.event, horn) for piece in pieces[: ends[0] + 1] if isinstance(piece.event, Note)]
    if not group:
        return None
    up = way > 0 or (not way and max(group) < -min(group))
    beam = max(group) + STEM if up else STEM - min(group)
    spoken = any(isinstance(piece.event, Note) and piece.event.syllable for piece in pieces)
    return None if beam > STAFF_EDGE or (spoken and not up) else NUMBER if up else -NUMBER


def _above(line: Line, horn: Horn, even: bool) -> float:
    """Return how far the notes of a line reach up, with what clings to them."""
    top = _top(line, horn, _ways(line, horn) if even else [0] * len(line.notes))
    return top + TUPLET * any(piece.triplet for piece in line.pieces)


def _ways(line: Line, horn: Horn) -> list[int]:
    """Return which way the stems of notes are turned that stand under one beam with others."""
    each = [(turned(list(beams(bar.pieces, bar.beat)), bar.pieces, horn), bar.pieces) for bar in line.measures]
    return [way for ways, pieces in each for way, piece in zip(ways, pieces, strict=True) if isinstance(piece.event, Note)]


def _top(line: Line, horn: Horn, ways: Sequence[int]) -> float:
    notes, places = line.notes, [(note, height_of(note, horn)) for note in line.notes]
    arch = _slur(notes) + ARCH * _slurred(notes) * max(
        (abs(one - other) for (_, one), (_, other) in pairwise(places)), default=0.0
    )
    tops = [
        place + (STEM if way > 0 else stem if stem > 0 else HEAD + arch + SIGN * _signed(note))
        for (note, place, stem), way in zip(_stemmed(notes, horn), ways, strict=True)
    ]
    tops += [FERMATA + max(STAFF_EDGE, place) for note, place in places if fermata(note)]
    return max([STAFF_EDGE, *tops])


def _below(notes: Sequence[Note[Pitch]], horn: Horn, arched: bool) -> float:
    slur = 0.0 if arched else _slur(notes)
    ends = ENDING * bool(slur)
    depths = [
        (HEAD + (ends if note.slur_open or note.slur_close else slur) + SIGN * _signed(note) if stem > 0 else -stem) - place
        for note, place, stem in _stemmed(notes, horn)
    ]
    octave = OCTAVE * any(horn.bracketed(note.pitch) for note in notes)
    return max(CLEF_DOWN, max(depths, default=0.0) + octave)


def fermata(note: Note[Pitch]) -> bool:
    """Tell whether a note has a fermata, which stands over the staff."""
    return "fermata" in note.articulations


def _signed(note: Note[Pitch]) -> bool:
    """Tell whether a note has a sign at its head; a fermata stands over the staff."""
    return bool(set(note.articulations) - {"fermata"})


def _stemmed(notes: Sequence[Note[Pitch]], horn: Horn) -> Iterator[tuple[Note[Pitch], float, float]]:
    """Yield each note, its place over the middle line, and how far its stem reaches from it: down is negative."""
    for note in notes:
        place, stem = height_of(note, horn), STEM if note.length < 1 else HEAD
        yield note, place, stem if place < 0 else -stem


def _slur(notes: Sequence[Note[Pitch]]) -> float:
    """Return how far slurs and ties reach beyond their notes: nothing without any, more where one goes over many."""
    under = longest = 0
    for note in notes:
        under = 1 if note.slur_open else under and under + 1
        longest = max(longest, under)
        under = 0 if note.slur_close else under
    return (SLUR + max(FAR * (longest >= MANY), TIED * any(note.tie for note in notes))) * _slurred(notes)


def _slurred(notes: Sequence[Note[Pitch]]) -> bool:
    return any(note.slur_open or note.slur_close or note.tie for note in notes)
