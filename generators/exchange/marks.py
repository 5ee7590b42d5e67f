"""What a note carries beside its pitch and value, in music21's terms: tables first, then how they are put on."""

from collections.abc import Callable, Iterator

from music21 import articulations, base, dynamics, expressions, note, spanner, tie

from generators.phrase.note import Note
from generators.phrase.spans import Span
from generators.phrase.wording import note_words
from generators.theory.pitch import Pitch

ARTICULATIONS: dict[str, Callable[[], articulations.Articulation]] = {
    "staccato": articulations.Staccato,
    "tenuto": articulations.Tenuto,
    "accent": articulations.Accent,
    "marcato": articulations.StrongAccent,
}
LINES: dict[str, Callable[..., spanner.Spanner]] = {
    "slur": spanner.Slur,
    "<": dynamics.Crescendo,
    # music21 writes no circle at the tip.
    "o<": dynamics.Crescendo,
    ">": dynamics.Diminuendo,
    "glide": lambda *ends: spanner.Glissando(*ends, lineType="solid"),
    "8vb": lambda *ends: spanner.Ottava(*ends, type="8vb", transposing=False, placement="below"),
}
Valves = Callable[[Note[Pitch]], str]


def marked(target: note.Note, written: Note[Pitch], tied: bool, valves: Valves) -> None:
    """Put the marks of a written note on its target; one tied from before is not fingered again."""
    target.articulations.extend(_articulations(written, "" if tied else valves(written)))
    if "fermata" in written.articulations:
        target.expressions.append(_fermata())
    if written.syllable:
        target.addLyric(written.syllable, applyRaw=True)
    if written.tie or tied:
        target.tie = tie.Tie("continue" if written.tie and tied else "start" if written.tie else "stop")


def _articulations(written: Note[Pitch], valves: str) -> Iterator[articulations.Articulation]:
    yield from (ARTICULATIONS[name]() for name in written.articulations if name in ARTICULATIONS)
    if written.breath:
        yield articulations.BreathMark()
    if valves:
        yield articulations.Fingering(valves)


def _fermata() -> expressions.Fermata:
    result = expressions.Fermata()
    result.type = "upright"
    return result


def directions(written: Note[Pitch]) -> Iterator[base.Music21Object]:
    """Return what stands beside the note in the bar: a word above, a dynamic below."""
    if note_words(written):
        yield words(note_words(written))
    if written.dynamic:
        dynamic = dynamics.Dynamic(written.dynamic)
        dynamic.placement = "below"
        yield dynamic


def words(text: str) -> expressions.TextExpression:
    """Return words above the staff."""
    result = expressions.TextExpression(text)
    result.placement = "above"
    return result


def label(text: str) -> expressions.TextExpression:
    """Return a strain's label: bold words, before any other of the bar."""
    result = words(text)
    result.style.fontWeight = "bold"
    result.priority = -1
    return result


def line_over(span: Span, notes: list[note.GeneralNote]) -> spanner.Spanner:
    """Return a slur, hairpin, glide or bracket over its notes."""
    ends = (notes[span.first], notes[span.last])
    return LINES[span.kind](*ends[: 1 if span.first == span.last else 2])
