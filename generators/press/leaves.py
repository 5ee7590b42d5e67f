"""Leaves: a note with its marks, or a rest, as LilyPond text made by abjad; where its releases differ stands here alone."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from generators.phrase.note import Note
from generators.theory.pitch import Pitch

_ACCIDENTALS = {-2: "ff", -1: "f", 0: "", 1: "s", 2: "ss"}


def pitch_name(pitch: Pitch) -> str:
    """Return a pitch in LilyPond's English note names: fs' for F#4."""
    octave = pitch.octave - 3
    return pitch.step.lower() + _ACCIDENTALS[pitch.alter] + ("'" * octave if octave > 0 else "," * -octave)


def note_text(note: Note[Pitch], face: Fraction, over: str = "", under: str = "") -> str:
    """Return a note of a plain or dotted value with all its marks, and a markup over and one under it."""
    leaf = _note(note.pitch, face)
    for indicator in _indicators(note):
        _abjad().attach(indicator, leaf)
    for side, markup in (("UP", over), ("DOWN", under)):
        if markup:
            _abjad().attach(_abjad().Markup(markup), leaf, direction=getattr(_abjad(), side))
    return _text(leaf)


def rest_text(face: Fraction) -> str:
    """Return a rest of a plain or dotted value."""
    rest = _abjad().Rest
    made = rest.from_duration if hasattr(rest, "from_duration") else rest  # abjad 3.31, 3.19
    return _text(made(_duration(face)))


@lru_cache(maxsize=256)
def bar_rest_text(bar: Fraction, count: int) -> str:
    """Return one rest over so many whole bars."""
    rest = _abjad().MultimeasureRest
    if hasattr(rest, "from_duration"):  # abjad 3.31
        return _text(rest.from_duration(_duration(bar), dmp=(count, 1)))
    return _text(rest(_duration(bar), multiplier=(count, 1)))


def _note(pitch: Pitch, face: Fraction) -> Any:
    note, name = _abjad().Note, _abjad().NamedPitch(pitch_name(pitch))
    if hasattr(note, "from_duration_and_pitch"):  # abjad 3.31
        return note.from_duration_and_pitch(_duration(face), name)
    return note.from_pitch_and_duration(name, _duration(face))


def _duration(value: Fraction) -> Any:
    return _abjad().Duration(value.numerator, value.denominator)


def _indicators(note: Note[Pitch]) -> Iterator[Any]:
    """Yield abjad's indicators for the marks of a note."""
    abjad = _abjad()
    for name in note.articulations:
        yield abjad.Fermata() if name == "fermata" else abjad.Articulation(name)
    if note.dynamic:
        yield abjad.Dynamic(note.dynamic)
    if note.hairpin:
        yield abjad.StopHairpin() if note.hairpin == "." else abjad.StartHairpin(note.hairpin)
    for wanted, kind in (
        (note.tie, abjad.Tie),
        (note.slur_close, abjad.StopSlur),
        (note.slur_open, abjad.StartSlur),
        (note.glide, abjad.Glissando),
        (note.breath, abjad.BreathMark),
    ):
        if wanted:
            yield kind()


def _text(leaf: Any) -> str:
    """Return a leaf on one line."""
    return " ".join(line.strip() for line in _abjad().lilypond(leaf).splitlines())


@cache
def _abjad() -> Any:
    """Return abjad, imported when the first note is written."""
    with _borrowed_home():
        import abjad
    return abjad


@contextmanager
def _borrowed_home() -> Iterator[None]:
    """Point the user's home, where abjad makes a folder as soon as it is imported, at one that is gone afterwards."""
    kept = os.environ.get("HOME")
    with tempfile.TemporaryDirectory(prefix=f"waterkey-{os.getpid()}-") as folder:
        os.environ["HOME"] = folder
        try:
            yield
        finally:
            os.environ.pop("HOME") if kept is None else os.environ.update(HOME=kept)
