"""A second voice for a beginner to whom a line of the others lies high: all of it a third lower in the key."""

from dataclasses import replace

from generators.band.request import Member
from generators.band.simpler import CHORD, SECOND_VOICE, playable_by
from generators.phrase.algebra import mapped
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import KINDS
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# How many steps it lies lower: the third of the key's chord becomes its tonic, the fifth its third.
_LOWER, _OCTAVE = 2, 7


def second_voice(study: Study, member: Member) -> Study | None:
    """Return what a beginner warms up with where all of it lies in the upper half of his notes; nothing where it does not.

    It ends on the key's own chord, and nothing else of it changes.
    """
    if not (member.grade.beginner and KINDS[study.kind].warms and _high(study, member) and all(map(_ends_well, study.strains))):
        return None
    lower = replace(study, what=SECOND_VOICE, strains=tuple(map(_lowered, study.strains)))
    return lower if playable_by(lower) else None


def _high(study: Study, member: Member) -> bool:
    low, high = member.limits.low.midi, member.limits.high.midi
    return all(2 * note.pitch.midi > low + high for note in study.notes)


def _ends_well(strain: Strain) -> bool:
    """Tell whether a strain is in its key, on no tube, and ends on the chord where it is lowered."""
    in_key = all(note.pitch.alter == strain.key.alteration(note.pitch.step) for note in strain.notes)
    return in_key and not strain.tube and _place(strain.key, strain.notes[-1].pitch) % _OCTAVE - _LOWER in CHORD


def _lowered(strain: Strain) -> Strain:
    return replace(strain, music=mapped(strain.music, lambda pitch: _lower(strain.key, pitch)))


def _lower(key: Key, pitch: Pitch) -> Pitch:
    return key.degree(_place(key, pitch) - _LOWER)


def _place(key: Key, pitch: Pitch) -> int:
    """Return which degree of a key a note is, 0 the tonic of the fourth octave."""
    return pitch.place - key.degree(0).place
