"""Our values in music21's terms: pitch, interval, key, meter, note value."""

from fractions import Fraction

from music21 import duration, interval, key, meter, pitch

from generators.phrase.bars import Meter
from generators.phrase.pieces import Piece
from generators.theory.interval import Interval
from generators.theory.key import Key
from generators.theory.pitch import Pitch

DOT = Fraction(3, 2)
VALUES = {
    Fraction(2): "breve",
    Fraction(1): "whole",
    Fraction(1, 2): "half",
    Fraction(1, 4): "quarter",
    Fraction(1, 8): "eighth",
    Fraction(1, 16): "16th",
    Fraction(1, 32): "32nd",
    Fraction(1, 64): "64th",
}


def pitch_of(written: Pitch, shown: bool) -> pitch.Pitch:
    """Return a pitch, its accidental shown or hidden."""
    result = pitch.Pitch(step=written.step, octave=written.octave)
    if written.alter or shown:
        result.accidental = pitch.Accidental(written.alter)
        result.accidental.displayStatus = shown
    return result


def interval_of(size: Interval) -> interval.Interval:
    """Return an interval with its direction, such as a major ninth down."""
    number = size.steps - 1 if size.steps < 0 else size.steps + 1
    generic, chromatic = interval.GenericInterval(number), interval.ChromaticInterval(size.half_steps)
    return interval.intervalFromGenericAndChromatic(generic, chromatic)


def key_of(written: Key) -> key.Key:
    """Return a key with its mode, church modes included."""
    return key.Key(written.tonic.replace("b", "-"), written.mode)


def meter_of(written: Meter) -> meter.TimeSignature:
    """Return a time signature."""
    return meter.TimeSignature(str(written))


def value_of(piece: Piece) -> duration.Duration:
    """Return the note value of a piece, with its place in a triplet."""
    if not piece.face:
        return duration.Duration(piece.event.length * 4)
    dotted = piece.face.numerator == 3
    name = VALUES[piece.face / DOT if dotted else piece.face]
    result = duration.Duration(type=name, dots=int(dotted))
    if piece.triplet:
        result.appendTuplet(_triplet(name, piece.triplet))
    return result


def _triplet(name: str, place: str) -> duration.Tuplet:
    result = duration.Tuplet(3, 2, name)
    result.type = None if place == "middle" else place
    return result
