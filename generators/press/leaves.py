"""Abjad leaves: the few calls in which its releases differ stand here alone, and no string is ever parsed."""

from fractions import Fraction

import abjad

from generators.theory.pitch import Pitch

_ACCIDENTALS = {-2: "ff", -1: "f", 0: "", 1: "s", 2: "ss"}


def pitch_name(pitch: Pitch) -> str:
    """Return a pitch in LilyPond's English note names: fs' for F#4."""
    octave = pitch.octave - 3
    return pitch.step.lower() + _ACCIDENTALS[pitch.alter] + ("'" * octave if octave > 0 else "," * -octave)


def _duration(value: Fraction) -> abjad.Duration:
    return abjad.Duration(value.numerator, value.denominator)


def note(pitch: Pitch, value: Fraction) -> abjad.Note:
    """Return a note leaf with a plain or dotted value."""
    name = abjad.NamedPitch(pitch_name(pitch))
    if hasattr(abjad.Note, "from_duration_and_pitch"):  # abjad 3.31
        return abjad.Note.from_duration_and_pitch(_duration(value), name)
    return abjad.Note.from_pitch_and_duration(name, _duration(value))


def rest(value: Fraction) -> abjad.Rest:
    """Return a rest leaf with a plain or dotted value."""
    if hasattr(abjad.Rest, "from_duration"):  # abjad 3.31
        return abjad.Rest.from_duration(_duration(value))
    return abjad.Rest(_duration(value))


def bar_rest(bar: Fraction, count: int) -> abjad.MultimeasureRest:
    """Return one rest over so many whole bars."""
    if hasattr(abjad.MultimeasureRest, "from_duration"):  # abjad 3.31
        return abjad.MultimeasureRest.from_duration(_duration(bar), dmp=(count, 1))
    return abjad.MultimeasureRest(_duration(bar), multiplier=(count, 1))


def literal(leaf: abjad.Leaf, text: str, site: str = "after") -> None:
    """Put LilyPond text at a site of a leaf: before, after, opening or closing."""
    abjad.attach(abjad.LilyPondLiteral(text, site=site), leaf)
