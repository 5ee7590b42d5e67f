"""Arpeggios: chords climbed like scales, by a pattern, a rhythm and an articulation set."""

from dataclasses import dataclass

from generators.brass.grade import grade
from generators.fields import option
from generators.phrase.articulation import SETS, articulation
from generators.phrase.study import Study
from generators.studies.kit.climb import RHYTHMS, Pattern
from generators.studies.kit.climbing import OCTAVES, own_articulation, strains, task
from generators.studies.kit.request import Request
from generators.studies.kit.rungs import chord
from generators.studies.kit.setting import graded, resolve
from generators.theory.key import Key
from generators.theory.scales import CHORDS

OWN_KEYS = ("C", "F", "Bb", "Eb")
OWN_TEMPO = 76

PATTERNS = {
    pattern.name: pattern
    for pattern in (
        Pattern(
            "straight",
            (0,),
            aim="Listen for the skips to sound like steps: the air goes through them, the {hand_does} not announce them",
        ),
        Pattern("returning", (0,), stops=False, aim="Listen for the top note as a point on the way, not a place to stop"),
        Pattern(
            "broken",
            (0, 1, 2),
            aim="Listen for each position of the chord as one gesture, the first note its root for a moment",
        ),
        Pattern("rolling", (0, 2, 1, 2), aim="Listen for the low notes to make a tune of their own under the rocking"),
        Pattern("inversions", (0, 1, 2, 3), aim="Listen for the chord to keep its colour whichever note is lowest"),
        Pattern("crossed", (0, 2), aim="Listen for the outer notes of each skip to be in tune with each other"),
    )
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ArpeggiosRequest(Request):
    """An arpeggio study: its chord, pattern, articulation, rhythm and octaves."""

    kind: str = option("", "The chord on each tonic; without it major or minor by the key.", allowed=tuple(CHORDS))
    pattern: str = option("rolling", "How the chord is climbed.", allowed=tuple(PATTERNS))
    articulation: str = option("", "The articulation set; without it one that goes into the pattern.", allowed=tuple(SETS))
    rhythm: str = option("", "The rhythm; without it the pattern's own.", allowed=tuple(RHYTHMS))
    octaves: str = option("wide", "How far: as wide as the range, or so many octaves.", allowed=OCTAVES)


def arpeggios(request: ArpeggiosRequest) -> Study:
    """Return the arpeggio study of a request, one strain a key."""
    pattern, known = PATTERNS[request.pattern], grade(request.grade).sets
    row = articulation(request.articulation or own_articulation(pattern, request.rhythm, known, "slurred-pairs"))
    job = task("arpeggios", pattern, request.rhythm, row, request.octaves)
    setting = resolve(request, OWN_KEYS, OWN_TEMPO)
    ladders = [chord(_kind(request, key), key) for key in setting.keys]
    for ladder in ladders:
        graded(ladder.key, setting.grade)
    music, pace, remarks = strains(job, ladders, setting)
    what = f"{request.kind.replace('-', ' ')}, " if request.kind else ""
    title = f"Arpeggios: {what}{request.pattern}, {row.words}"
    aim = setting.horn.said(f"{job.pattern.aim}. Listen too for {row.lesson}.")
    return Study("arpeggios", title, aim, setting.horn.id, pace, music, setting.limits, remarks=remarks)


def _kind(request: ArpeggiosRequest, key: Key) -> str:
    return request.kind or key.mode
