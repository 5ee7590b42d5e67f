"""A study as a MusicXML 4.0 file for notation programs and players' tablets."""

from collections.abc import Callable, Sequence

from generators.brass.fingering import usual
from generators.brass.horn import Horn
from generators.exchange.voices import AnyVoice
from generators.phrase.note import Note
from generators.phrase.study import Study
from generators.plain_text import clean
from generators.theory.pitch import Pitch


def musicxml(study: Study, horn: Horn, *, fingerings: bool = False, player: str = "", title: str = "", code: str = "") -> bytes:
    """Return the study as one part at written pitch, `musicxml(study, horn("Bb"))`; the same bytes for the same study."""
    return _written([(horn.name, horn, (study,))], fingerings, clean(title) or study.title, clean(player), code)


def score_musicxml(
    voices: Sequence[AnyVoice], title: str, *, fingerings: bool = False, player: str = "", code: str = ""
) -> bytes:
    """Return a part for each of several players, whose studies follow one another; the same bytes for the same studies."""
    return _written(
        [(clean(name), horn, studies) for name, horn, studies in voices], fingerings, clean(title), clean(player), code
    )


def _written(voices: Sequence[AnyVoice], fingerings: bool, title: str, player: str, code: str) -> bytes:
    from music21.musicxml.m21ToXml import ScoreExporter

    from generators.exchange.build import ScorePart, score
    from generators.exchange.pin import pinned

    parts = [ScorePart(name, horn, studies, _fingered(horn, fingerings)) for name, horn, studies in voices]
    whole = ScoreExporter(score(parts, title, player), makeNotation=False).parse()
    return pinned(whole, [part.horn for part in parts], code)


def _fingered(horn: Horn, fingerings: bool) -> Callable[[Note[Pitch]], str]:
    """Return what tells the valves that are written at a note."""

    def valves(note: Note[Pitch]) -> str:
        return note.valves or (usual_valves(note.pitch, horn) if fingerings and not note.glide else "")

    return valves


def usual_valves(pitch: Pitch, horn: Horn) -> str:
    """Return the valve set of a note's usual fingering; nothing for a note that has none."""
    found = usual(pitch, horn)
    return found.valves if found else ""
