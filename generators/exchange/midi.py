"""Studies as a standard MIDI file at concert pitch, exact to the tick."""

from collections.abc import Sequence

from generators.brass.horn import Horn
from generators.exchange.voices import AnyVoice
from generators.phrase.study import Study


def midi(studies: Study | Sequence[Study], horn: Horn, code: str = "") -> bytes:
    """Return one study, or several one after another, as they sound: repeats played, ties merged, fermatas not stretched.

    The code of the music, where one is given, stands in it as a text.
    """
    from generators.exchange.track import file

    return bytes(file([studies] if isinstance(studies, Study) else studies, horn, code).writestr())


def score_midi(voices: Sequence[AnyVoice], code: str = "") -> bytes:
    """Return several players at once, a track each, studies one after another; the code of the music in the first track."""
    from generators.exchange.track import together

    return bytes(together(voices, code).writestr())
