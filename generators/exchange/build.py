"""Studies as a music21 score at written pitch, a part for every player."""

from collections.abc import Sequence
from dataclasses import dataclass

from music21 import bar, clef, duration, instrument, metadata, stream, tempo

from generators.brass.horn import Horn
from generators.exchange.marks import Valves, words
from generators.exchange.strains import measures, signed
from generators.exchange.terms import interval_of
from generators.exchange.voices import channel_of
from generators.phrase.study import Strain, Study

# Ours by theirs.
SIGNS = {"treble": clef.TrebleClef, "bass": clef.BassClef}


@dataclass(frozen=True, slots=True)
class ScorePart:
    """A part of a score: what it is called, its horn, its studies one after another, and what is over its notes."""

    name: str
    horn: Horn
    studies: tuple[Study, ...]
    valves: Valves


def score(parts: Sequence[ScorePart], title: str, player: str) -> stream.Score:
    """Return the whole score: metadata and the parts."""
    result = stream.Score()
    result.atSoundingPitch = False
    result.definesExplicitSystemBreaks = True
    result.insert(0, _metadata(title, player))
    for place, part in enumerate(parts):
        result.insert(0, _part(part, place))
    return result


def _metadata(title: str, player: str) -> metadata.Metadata:
    result = metadata.Metadata(title=title)
    if player:
        result.addContributor(metadata.Contributor(role="performer", name=player))
    return result


def _part(of: ScorePart, place: int) -> stream.Part:
    part = stream.Part()
    part.atSoundingPitch = False
    bars: list[stream.Measure] = []
    for study in of.studies:
        own = _study(part, study, of, bars[-1].number if bars else 0)
        if len(of.studies) > 1:
            own[0].insert(0, words(study.title))
        bars += own
    for opening in (_instrument(of, place), SIGNS[of.horn.clef.name]()):
        bars[0].insert(0, opening)
    for measure in bars:
        part.append(measure)
    return part


def _study(part: stream.Part, study: Study, of: ScorePart, before: int) -> list[stream.Measure]:
    """Return the bars of a study, numbered after those before it; its tempo stands over the first."""
    bars: list[stream.Measure] = []
    for earlier, strain in zip((None, *study.strains), study.strains, strict=False):
        own = signed(measures(part, strain, of.horn, of.valves), strain, earlier)
        _numbered(own, strain, bars[-1].number if bars else before)
        bars += own
    bars[0].insert(0, _pace(study))
    if not isinstance(bars[-1].rightBarline, bar.Repeat):
        bars[-1].rightBarline = bar.Barline("final")
    return bars


def _pace(study: Study) -> tempo.MetronomeMark:
    beat = duration.Duration(1.5 if study.compound else 1.0)
    return tempo.MetronomeMark(number=study.told_tempo, referent=beat)


def _numbered(bars: list[stream.Measure], strain: Strain, before: int) -> None:
    """Give the bars of a strain numbers after that of the bar before them; an upbeat has none of its own."""
    for place, measure in enumerate(bars):
        early = bool(strain.upbeat) and place == 0
        measure.number = before = before + (not early)
        if early:
            measure.numberSuffix = "X" if before else None
            measure.showNumber = stream.enums.ShowNumber.NEVER


def _instrument(of: ScorePart, place: int) -> instrument.Instrument:
    horn = of.horn
    result = instrument.Instrument(instrumentName=horn.name)
    result.partName, result.partId, result.instrumentId = of.name, f"P{place + 1}", f"P{place + 1}-I1"
    result.midiChannel, result.midiProgram = channel_of(place), horn.program
    result.transposition = interval_of(horn.interval) if horn.interval.half_steps else None
    return result
