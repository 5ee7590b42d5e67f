"""From scale degrees to written pitches: key and octave come last, spelling by key and by direction."""

from dataclasses import replace
from functools import cache

from generators.phrase.algebra import notes, with_pitch
from generators.phrase.note import Degree, Note, Phrase, Rest
from generators.theory.key import Key
from generators.theory.pitch import Pitch, at_place


@cache
def placed(degree: Degree, key: Key, octave: int) -> Pitch:
    """Return the written pitch of one degree."""
    plain = key.degree(degree.index, octave)
    return at_place(plain.place, plain.midi + degree.alter)


def in_key(phrase: Phrase[Degree], key: Key, octave: int) -> Phrase[Pitch]:
    """Return the phrase in a key; in minor the sixth and seventh are raised where the line rises (melodic minor)."""
    if key.mode == "minor":
        phrase = raised(phrase)
    return tuple(event if isinstance(event, Rest) else _place(event, key, octave) for event in phrase)


def _place(note: Note[Degree], key: Key, octave: int) -> Note[Pitch]:
    return with_pitch(note, placed(note.pitch, key, octave))


def raised(phrase: Phrase[Degree]) -> Phrase[Degree]:
    """Return a minor line with its leading notes raised where they rise to the tonic, and the sixth before them."""
    line = notes(phrase)
    up = _rising([note.pitch for note in line])
    changed = iter(up)
    return tuple(event if isinstance(event, Rest) else _raise(event, next(changed)) for event in phrase)


def _rising(line: list[Degree]) -> list[bool]:
    """Tell for each degree whether melodic minor raises it: 7 before 8, 6 before a raised 7, either repeated."""
    result = [False] * len(line)
    for i in reversed(range(len(line) - 1)):
        step, climb = line[i].index % 7, line[i + 1].index - line[i].index
        leads = step == 6 and climb == 1
        result[i] = leads or (step in (5, 6) and climb in (0, 1) and result[i + 1])
    return result


def _raise(note: Note[Degree], up: bool) -> Note[Degree]:
    return replace(note, pitch=Degree(note.pitch.index, note.pitch.alter + 1)) if up and note.pitch.alter == 0 else note
