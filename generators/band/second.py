"""A second voice for a beginner to whom a line of the others lies high: all of it a third lower in the key."""

from dataclasses import replace

from generators.band.request import Member
from generators.band.simpler import CHORD, SECOND_VOICE, STEPS_OF_AN_OCTAVE, THIRD, in_its_key, lower_line, playable_by
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import KINDS


def second_voice(study: Study, member: Member) -> Study | None:
    """Return what a beginner warms up with where all of it lies in the upper half of his notes; nothing where it does not.

    It ends on the key's own chord, and nothing else of it changes.
    """
    if not (member.grade.beginner and KINDS[study.kind].warms and _high(study, member) and all(map(_ends_well, study.strains))):
        return None
    strains = tuple(lower_line(strain, member) for strain in study.strains)
    lower = replace(study, what=SECOND_VOICE, strains=strains)
    return lower if playable_by(lower) else None


def _high(study: Study, member: Member) -> bool:
    low, high = member.limits.low.midi, member.limits.high.midi
    return all(2 * note.pitch.midi > low + high for note in study.notes)


def _ends_well(strain: Strain) -> bool:
    """Tell whether a strain is in its key, on no tube, and ends on the chord where it is lowered."""
    ends = (strain.notes[-1].pitch.place - strain.key.degree(0).place) % STEPS_OF_AN_OCTAVE
    return in_its_key(strain) and not strain.tube and ends - THIRD in CHORD
