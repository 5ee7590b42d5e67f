"""What a tune is called: after its kind, if it begins as that does."""

from collections.abc import Sequence
from dataclasses import replace

from generators.phrase.study import Strain, Study

# A fanfare calls on the notes of its chord, so many of them; what a beginner's is called that does not: our choice.
_FANFARE, _MARCH, _CALLING = "fanfare", "march", 3
# So many bars a child finds his way in without letters: our choice.
_SHORT = 16
_CHORD, _OCTAVE = (0, 2, 4), 7


def tune_name(kind: str, strains: Sequence[Strain], *, beginner: bool) -> str:
    """Return the name of a tune: its kind's, but of a beginner's fanfare that does not call on its chord that of a march."""
    return _MARCH if beginner and kind == _FANFARE and not _calls(strains[0]) else kind


def unlettered(study: Study) -> Study:
    """Return a short tune without the letters of its sections, which say nothing to a child; any other study as it is."""
    short = study.piece and sum(len(strain.bars) - bool(strain.upbeat) for strain in study.strains) <= _SHORT
    bare = (replace(strain, label=replace(strain.label, name="")) for strain in study.strains)
    return replace(study, strains=tuple(bare)) if short else study


def _calls(strain: Strain) -> bool:
    """Tell whether a tune begins with notes of its key's own chord alone, broken or struck again."""
    degrees = ((note.pitch.place - strain.key.degree(0).place) % _OCTAVE for note in strain.notes[:_CALLING])
    return all(degree in _CHORD for degree in degrees)
