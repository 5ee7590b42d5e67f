"""Scales and chords as rows of interval names above their root, ascending."""

from dataclasses import dataclass

from generators.theory.interval import Interval, parse_interval


@dataclass(frozen=True, slots=True)
class Row:
    """A named row: intervals above the root within one octave, and the mode whose signature it is written in."""

    name: str
    label: str
    mode: str
    """Empty where it belongs to major and minor alike."""
    intervals: tuple[Interval, ...]
    root: Interval
    """Where its root lies above the tonic of the key that it belongs to."""


def _row(name: str, label: str, mode: str, intervals: str, root: str = "P1") -> Row:
    return Row(name, label, mode, tuple(parse_interval(i) for i in intervals.split()), parse_interval(root))


# Textbook rows; the tests hold them against music21's own scale and chord classes.
SCALES = {
    row.name: row
    for row in (
        _row("major", "major", "major", "P1 M2 M3 P4 P5 M6 M7"),
        _row("natural-minor", "natural minor", "minor", "P1 M2 m3 P4 P5 m6 m7"),
        _row("harmonic-minor", "harmonic minor", "minor", "P1 M2 m3 P4 P5 m6 M7"),
        _row("melodic-minor", "melodic minor", "minor", "P1 M2 m3 P4 P5 M6 M7"),
        _row("dorian", "dorian", "dorian", "P1 M2 m3 P4 P5 M6 m7"),
        _row("phrygian", "phrygian", "phrygian", "P1 m2 m3 P4 P5 m6 m7"),
        _row("lydian", "lydian", "lydian", "P1 M2 M3 A4 P5 M6 M7"),
        _row("mixolydian", "mixolydian", "mixolydian", "P1 M2 M3 P4 P5 M6 m7"),
        _row("locrian", "locrian", "locrian", "P1 m2 m3 P4 d5 m6 m7"),
        _row("whole-tone", "whole tone", "major", "P1 M2 M3 A4 A5 m7"),
        _row("chromatic", "chromatic", "major", "P1 A1 M2 A2 M3 P4 A4 P5 A5 M6 A6 M7"),
    )
}
# The way down where it differs from the way up.
DESCENDING = {"melodic-minor": SCALES["natural-minor"]}

CHORDS = {
    row.name: row
    for row in (
        _row("major", "major", "major", "P1 M3 P5"),
        _row("minor", "minor", "minor", "P1 m3 P5"),
        _row("augmented", "augmented", "major", "P1 M3 A5"),
        _row("diminished", "diminished", "minor", "P1 m3 d5"),
        # Of a key's own degrees, as harmony is taught: the fifth, in minor the raised seventh and the second.
        _row("dominant-seventh", "dominant seventh", "", "P1 M3 P5 m7", "P5"),
        _row("major-seventh", "major seventh", "major", "P1 M3 P5 M7"),
        _row("minor-seventh", "minor seventh", "minor", "P1 m3 P5 m7"),
        _row("half-diminished", "half-diminished", "minor", "P1 m3 d5 m7", "M2"),
        _row("diminished-seventh", "diminished seventh", "minor", "P1 m3 d5 d7", "M7"),
    )
}
