"""Studies as a standard MIDI file at concert pitch, exact to the tick."""

from collections.abc import Sequence

from generators.brass.horn import Horn
from generators.phrase.study import Study


def midi(studies: Study | Sequence[Study], horn: Horn) -> bytes:
    """Return one study, or several one after another, as they sound: repeats played, ties merged, fermatas not stretched."""
    from generators.exchange.track import file

    return bytes(file([studies] if isinstance(studies, Study) else studies, horn).writestr())
