"""One strain as music21 measures: its notes and lines, then its signatures, label, line breaks and bar lines."""

from fractions import Fraction
from itertools import accumulate, chain
from math import ceil, floor

from music21 import bar, base, layout, meter, note, spanner, stream

from generators.brass.horn import Horn
from generators.exchange.accidentals import accidentals
from generators.exchange.marks import Valves, directions, label, line_over, marked, words
from generators.exchange.terms import key_of, meter_of, pitch_of, value_of
from generators.phrase.algebra import onsets
from generators.phrase.bars import NONE
from generators.phrase.note import Note, Rest
from generators.phrase.pieces import Piece, cut
from generators.phrase.spans import spans
from generators.phrase.study import Strain
from generators.phrase.wording import full_label
from generators.theory.pitch import Pitch


def measures(part: stream.Part, strain: Strain, horn: Horn, valves: Valves) -> list[stream.Measure]:
    """Return the bars of a strain; the lines over its notes go into the part."""
    bars = cut(strain)
    fingered = unfingered if strain.free else valves
    shown = [accidentals(pieces, strain.key, horn.bracketed) for pieces in bars]
    notes = [[_event(p, seen, fingered) for p, seen in zip(b, row, strict=True)] for b, row in zip(bars, shown, strict=True)]
    signature = meter_of(strain.meter)
    result = [_measure(pieces, events, signature) for pieces, events in zip(bars, notes, strict=True)]
    flat = list(chain.from_iterable(notes))
    for span in spans(list(chain.from_iterable(bars)), horn.bracketed):
        part.insert(0, line_over(span, flat))
    for first, last in long_rests(strain):
        part.insert(0, spanner.MultiMeasureRest(*(row[0] for row in notes[first:last]), useSymbols=False))
    return result


def unfingered(_note: Note[Pitch]) -> str:
    """Return no valves: the mouthpiece alone has none."""
    return ""


def _event(piece: Piece, shown: bool, valves: Valves) -> note.GeneralNote:
    if isinstance(piece.event, Rest):
        rest = note.Rest(duration=value_of(piece))
        rest.fullMeasure = not piece.face
        return rest
    result = note.Note(pitch_of(piece.event.pitch, shown), duration=value_of(piece))
    marked(result, piece.event, piece.tied, valves)
    return result


def _measure(pieces: tuple[Piece, ...], events: list[note.GeneralNote], signature: meter.TimeSignature) -> stream.Measure:
    result = stream.Measure()
    starts = accumulate((piece.event.length * 4 for piece in pieces), initial=Fraction(0))
    for start, piece, event in zip(starts, pieces, events, strict=False):
        for beside in directions(piece.event) if isinstance(piece.event, Note) else ():
            result.coreInsert(start, beside)
        result.coreInsert(start, event)
    result.coreElementsChanged()
    if len(events) > 1:
        _beam(events, signature, result)
    return result


def _beam(events: list[note.GeneralNote], signature: meter.TimeSignature, measure: stream.Measure) -> None:
    for event, beams in zip(events, signature.getBeams(measure.notesAndRests.stream()), strict=True):
        if beams is not None:
            event.beams = beams


def long_rests(strain: Strain) -> list[tuple[int, int]]:
    """Return the bars, first and one past the last, that single long rests fill: each is printed as one symbol."""
    full = strain.meter.bar
    # An upbeat stands at the end of a bar of its own.
    before = full - strain.upbeat if strain.upbeat else NONE
    timed = zip(onsets(strain.music), strain.music, strict=True)
    rests = [(before + start, before + start + event.length) for start, event in timed if isinstance(event, Rest)]
    filled = [(ceil(start / full), floor(end / full)) for start, end in rests]
    return [(first, last) for first, last in filled if last - first > 1]


def signed(bars: list[stream.Measure], strain: Strain, before: Strain | None) -> list[stream.Measure]:
    """Return the bars of a strain with what belongs to it as a whole put on them, given the strain before it."""
    for beside in _opening(strain, before):
        bars[0].insert(0, beside)
    for start in _line_starts(strain, len(bars)):
        if start or before:
            bars[start].insert(0, layout.SystemLayout(isNew=True))
    bars[-1].rightBarline = bar.Barline("double")
    if strain.repeats > 1:
        bars[0].leftBarline = bar.Repeat("start")
        bars[-1].rightBarline = bar.Repeat("end", times=strain.repeats)
    return bars


def _opening(strain: Strain, before: Strain | None) -> list[base.Music21Object]:
    """Return the signatures that change here, the label, and how often to play."""
    result: list[base.Music21Object] = []
    if before is None or before.key != strain.key:
        result.append(key_of(strain.key))
    if before is None or before.meter != strain.meter:
        result.append(meter_of(strain.meter))
    text = full_label(strain.label)
    if text:
        result.append(label(text))
    if strain.repeats > 2:
        result.append(words(f"play {strain.repeats} times"))
    return result


def _line_starts(strain: Strain, count: int) -> list[int]:
    """Return the bars that begin a line; a rest of many bars is one symbol and is never broken."""
    broken = {place for first, last in long_rests(strain) for place in range(first + 1, last)}
    return [start for start in accumulate(strain.lines, initial=0) if start < count and start not in broken]
