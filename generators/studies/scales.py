"""Scales: as wide as the day allows, from the lowest tonic up, by a pattern, a rhythm and an articulation set."""

from dataclasses import dataclass

from generators.brass.grade import grade
from generators.fields import option
from generators.phrase.articulation import SETS, articulation
from generators.phrase.study import Study
from generators.studies.kit.climb import RHYTHMS, Pattern
from generators.studies.kit.climbing import OCTAVES, own_articulation, strains, task
from generators.studies.kit.request import Request
from generators.studies.kit.rungs import scale
from generators.studies.kit.setting import graded, resolve
from generators.theory.key import Key
from generators.theory.scales import SCALES

OWN_KEYS = ("C", "F", "Bb", "Eb")
OWN_TEMPO = 84

PATTERNS = {
    pattern.name: pattern
    for pattern in (
        Pattern(
            "straight",
            (0,),
            aim="Listen for every note to be as good as the first, in every octave",
        ),
        Pattern(
            "returning",
            (0,),
            stops=False,
            aim="Listen for the turn at the top to pass in time; no note there is longer than its neighbours",
        ),
        Pattern("thirds", (0, 2), aim="Listen for the lower notes to make one line and the upper ones another"),
        Pattern("fourths", (0, 3), aim="Listen for each fourth to be in tune before it is fast"),
        Pattern(
            "turns",
            (0, 1, 0, -1),
            wall=(0, 1, 2, 0),
            aim="Listen for the note that is turned round; the others are its ornament",
        ),
        Pattern("fours", (0, 1, 2, 3), aim="Listen for the first of every four, one step higher each time"),
        Pattern("threes", (0, 1, 2), aim="Listen for three even notes to the beat, the first no heavier than it must be"),
    )
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ScalesRequest(Request):
    """A scale study: its kind, pattern, articulation, rhythm and octaves."""

    kind: str = option("", "The scale; without it major in major keys and melodic minor in minor ones.", allowed=tuple(SCALES))
    pattern: str = option("straight", "How the scale is climbed.", allowed=tuple(PATTERNS))
    articulation: str = option("", "The articulation set; without it one that goes into the pattern.", allowed=tuple(SETS))
    rhythm: str = option("", "The rhythm; without it the pattern's own.", allowed=tuple(RHYTHMS))
    octaves: str = option("wide", "How far: as wide as the range, or so many octaves.", allowed=OCTAVES)


def scales(request: ScalesRequest) -> Study:
    """Return the scale study of a request, one strain a key."""
    pattern, known = PATTERNS[request.pattern], grade(request.grade).sets
    row = articulation(request.articulation or own_articulation(pattern, request.rhythm, known, "slur-two-tongue-two"))
    job = task("scales", pattern, request.rhythm, row, request.octaves)
    setting = resolve(request, OWN_KEYS, OWN_TEMPO)
    ladders = [scale(_kind(request, key), key) for key in setting.keys]
    for ladder in ladders:
        graded(ladder.key, setting.grade)
    music, pace, remarks = strains(job, ladders, setting)
    what = f"{request.kind.replace('-', ' ')}, " if request.kind else ""
    title = f"Scales: {what}{request.pattern}, {row.words}"
    aim = setting.horn.said(f"{job.pattern.aim}. Listen too for {row.lesson}.")
    return Study("scales", title, aim, setting.horn.id, pace, music, setting.limits, remarks=remarks)


def _kind(request: ScalesRequest, key: Key) -> str:
    return request.kind or ("melodic-minor" if key.mode == "minor" else "major")
