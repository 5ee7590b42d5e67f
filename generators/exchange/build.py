"""A study as a music21 score of one part at written pitch."""

from music21 import bar, clef, duration, instrument, metadata, stream, tempo

from generators.brass.horn import Horn
from generators.exchange.marks import Valves
from generators.exchange.strains import measures, signed
from generators.exchange.terms import interval_of
from generators.phrase.study import Strain, Study

# Ours by theirs.
SIGNS = {"treble": clef.TrebleClef, "bass": clef.BassClef}


def score(study: Study, horn: Horn, valves: Valves, title: str, player: str) -> stream.Score:
    """Return the whole score: metadata and the horn's part."""
    result = stream.Score()
    result.atSoundingPitch = False
    result.definesExplicitSystemBreaks = True
    result.insert(0, _metadata(title, player))
    result.insert(0, _part(study, horn, valves))
    return result


def _metadata(title: str, player: str) -> metadata.Metadata:
    result = metadata.Metadata(title=title)
    if player:
        result.addContributor(metadata.Contributor(role="performer", name=player))
    return result


def _part(study: Study, horn: Horn, valves: Valves) -> stream.Part:
    part = stream.Part()
    part.atSoundingPitch = False
    bars: list[stream.Measure] = []
    for before, strain in zip((None, *study.strains), study.strains, strict=False):
        own = signed(measures(part, strain, horn, valves), strain, before)
        _numbered(own, strain, bars[-1].number if bars else 0)
        bars += own
    for opening in (_instrument(horn), SIGNS[horn.clef.name](), _pace(study)):
        bars[0].insert(0, opening)
    for measure in bars:
        part.append(measure)
    if not isinstance(bars[-1].rightBarline, bar.Repeat):
        bars[-1].rightBarline = bar.Barline("final")
    return part


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


def _instrument(horn: Horn) -> instrument.Instrument:
    result = instrument.Instrument(instrumentName=horn.name)
    result.partName, result.partId, result.instrumentId = horn.name, "P1", "P1-I1"
    result.midiChannel, result.midiProgram = 0, horn.program
    result.transposition = interval_of(horn.interval) if horn.interval.half_steps else None
    return result
