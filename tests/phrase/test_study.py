"""Strains and studies: their notes, their bars and how long they last."""

from dataclasses import replace

import pytest

from generators.phrase.in_key import in_key
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.study import Limits, Strain, Study
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch

KEY = parse_key("C")


def strain(sketch: str, repeats: int = 1) -> Strain:
    """Return a strain in C."""
    return Strain(Label(key=KEY), KEY, in_key(degrees(sketch), KEY, 4), repeats=repeats)


STUDY = Study(
    kind="test",
    name="Test",
    what="three tones",
    aim="To be measured.",
    horn="trumpet",
    tempo=60,
    strains=(strain("1/2 r | 3/1"), strain("5/2 r/4 5", repeats=2)),
    limits=Limits(parse_pitch("F#3"), parse_pitch("C6"), 8.0),
)


def test_notes() -> None:
    """A study has the notes of its strains in order, repeats once and rests not at all."""
    assert ["C4", "E4", "G4", "G4"] == [note.pitch.name for note in STUDY.notes]


def test_bars() -> None:
    """A strain is cut into the bars of its meter."""
    assert [2, 1] == [len(bar) for bar in STUDY.strains[0].bars]


def test_seconds() -> None:
    """At sixty quarters a minute a quarter lasts a second, and repeats count."""
    assert 12.0 == pytest.approx(STUDY.playing)
    assert 4.0 == pytest.approx(STUDY.resting)


def test_title() -> None:
    """A title is the name and what is done; the name alone where it says all."""
    assert "Test: three tones" == STUDY.title
    assert "Test" == replace(STUDY, what="").title
