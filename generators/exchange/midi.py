"""Studies as a standard MIDI file at concert pitch, exact to the tick."""

from collections.abc import Sequence

from generators.brass.horn import Horn
from generators.phrase.study import Study


def midi(studies: Study | Sequence[Study], horn: Horn, code: str = "") -> bytes:
    """Return one study, or several one after another, as they sound: repeats played, ties merged, fermatas not stretched.

    The code of the music, where one is given, stands in it as a text.
    """
    from generators.exchange.track import file

    return bytes(file([studies] if isinstance(studies, Study) else studies, horn, code).writestr())
