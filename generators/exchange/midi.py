"""A study as a standard MIDI file at concert pitch, exact to the tick."""

from generators.brass.horn import Horn
from generators.phrase.study import Study


def midi(study: Study, horn: Horn) -> bytes:
    """Return the study as it sounds, `midi(study, horn("Bb"))`: repeats played, ties merged, fermatas not stretched."""
    from generators.exchange.track import file

    return bytes(file(study, horn).writestr())
