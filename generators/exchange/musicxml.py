"""A study as a MusicXML 4.0 file for notation programs and players' tablets."""

from generators.brass.fingering import usual
from generators.brass.horn import Horn
from generators.phrase.note import Note
from generators.phrase.study import Study
from generators.plain_text import clean
from generators.theory.pitch import Pitch


def musicxml(study: Study, horn: Horn, *, fingerings: bool = False, player: str = "", title: str = "", code: str = "") -> bytes:
    """Return the study as one part at written pitch, `musicxml(study, horn("Bb"))`; the same bytes for the same study."""
    from music21.musicxml.m21ToXml import ScoreExporter

    from generators.exchange.build import score
    from generators.exchange.pin import pinned

    def valves(note: Note[Pitch]) -> str:
        return note.valves or (usual_valves(note.pitch, horn) if fingerings and not note.glide else "")

    whole = score(study, horn, valves, clean(title) or study.title, clean(player))
    return pinned(ScoreExporter(whole, makeNotation=False).parse(), horn, code)


def usual_valves(pitch: Pitch, horn: Horn) -> str:
    """Return the valve set of a note's usual fingering; nothing for a note that has none."""
    found = usual(pitch, horn)
    return found.valves if found else ""
