"""Horns against published instrument tables and handbooks.

Transpositions: notation-program instrument table (instruments.xml, public repository, commit 000303fd); Wikipedia, "Pitch of
brass instruments", en.wikipedia.org/wiki/Pitch_of_brass_instruments, read 2026-11-25.
Ranges: the same table (amateur and professional tops); Universitat de València, CLIL e-portfolio, and an appendix of a music-
theory text (neither address kept); abjad 3.19; brass-band scores (from memory).
Sound ids are of W3C MusicXML 4.0, sounds.xml, programs of General MIDI, as LilyPond's Notation Reference lists them; which
of them stands for a horn is the table's choice, or ours.
"""

import pytest

from generators.brass.horn import HORNS
from generators.theory.interval import transpose
from generators.theory.pitch import parse_pitch

SOUNDS_FOR_WRITTEN_C4 = {
    "trumpet": "Bb3",
    "trumpet-c": "C4",
    "trumpet-d": "D4",
    "trumpet-eb": "Eb4",
    "piccolo-bb": "Bb4",
    "piccolo-a": "A4",
    "cornet": "Bb3",
    "soprano-cornet": "Eb4",
    "flugelhorn": "Bb3",
    "flugelhorn-4": "Bb3",
    "tenor-horn": "Eb3",
    "baritone": "Bb2",
    "euphonium": "Bb2",
    "eb-bass": "Eb2",
    "bb-bass": "Bb1",
    # Written as they sound: Wikibooks, "Trombone/Slide Positions", prints the first position as B flat.
    "trombone": "C4",
    "euphonium-bass-clef": "C4",
}
HALF_STEPS = {"trumpet": -2, "piccolo-a": 9, "tenor-horn": -9, "euphonium": -14, "eb-bass": -21, "bb-bass": -26}
# The lowest of the published lows, and the lowest and the highest of the published tops.
PUBLISHED = {
    "trumpet": ("F#3", "Bb5", "E6"),
    "trumpet-c": ("F#3", "Bb5", "D6"),
    "trumpet-d": ("F#3", "A5", "C6"),
    "trumpet-eb": ("F#3", "A5", "C6"),
    "piccolo-bb": ("C#3", "E5", "G5"),
    "piccolo-a": ("C#3", "E5", "G5"),
    "cornet": ("F#3", "A5", "C6"),
    "soprano-cornet": ("F#3", "A5", "C6"),
    "flugelhorn": ("F#3", "A5", "C6"),
    "tenor-horn": ("F#3", "A5", "C6"),
    "baritone": ("F#3", "A5", "C6"),
    "euphonium": ("F#3", "C6", "E6"),
    "eb-bass": ("A2", "G5", "A6"),
    "bb-bass": ("C3", "G5", "D7"),
}
TRUMPET_IN_HANDBOOKS = ("F#3", "C6")
HIGHEST_PUBLISHED = {"three valves": "E6", "piccolo at times": "A5", "E♭ bass, amateur": "C#6", "B♭ bass, amateur": "C6"}
SOUND = {
    "trumpet": ("brass.trumpet.bflat", "trumpet"),
    "trumpet-c": ("brass.trumpet.c", "trumpet"),
    "trumpet-d": ("brass.trumpet.d", "trumpet"),
    "trumpet-eb": ("brass.trumpet", "trumpet"),
    "piccolo-bb": ("brass.trumpet.piccolo", "trumpet"),
    "piccolo-a": ("brass.trumpet.piccolo", "trumpet"),
    "cornet": ("brass.cornet", "trumpet"),
    "soprano-cornet": ("brass.cornet.soprano", "trumpet"),
    "flugelhorn": ("brass.flugelhorn", "trumpet"),
    "flugelhorn-4": ("brass.flugelhorn", "trumpet"),
    "tenor-horn": ("brass.alto-horn", "french horn"),
    "baritone": ("brass.baritone-horn", "french horn"),
    "euphonium": ("brass.euphonium", "tuba"),
    "eb-bass": ("brass.tuba", "tuba"),
    "bb-bass": ("brass.tuba", "tuba"),
    "trombone": ("brass.trombone", "trombone"),
    "euphonium-bass-clef": ("brass.euphonium", "tuba"),
}
PROGRAM_COUNTED_FROM_ONE = {"trumpet": 57, "trombone": 58, "tuba": 59, "french horn": 61}


@pytest.mark.parametrize("horn", HORNS)
def test_transposition(horn: str) -> None:
    """Written C4 sounds as published."""
    assert SOUNDS_FOR_WRITTEN_C4[horn] == transpose(parse_pitch("C4"), HORNS[horn].interval).name


@pytest.mark.parametrize("horn", HALF_STEPS)
def test_half_steps(horn: str) -> None:
    """The sounding note lies as many half-steps away as published."""
    assert HALF_STEPS[horn] == HORNS[horn].sounding_half_steps


@pytest.mark.parametrize("horn", PUBLISHED)
def test_range(horn: str) -> None:
    """The ordinary limits lie within what the published sources span."""
    low, top, highest = map(parse_pitch, PUBLISHED[horn])

    assert low <= HORNS[horn].low <= parse_pitch("F#3")
    assert top <= HORNS[horn].high <= highest


def test_trumpet() -> None:
    """The trumpet's ordinary limits are those on which the handbooks agree."""
    assert (HORNS["trumpet"].low.name, HORNS["trumpet"].high.name) == TRUMPET_IN_HANDBOOKS


def test_ceiling() -> None:
    """No ceiling is above the highest top published for a horn of its kind."""
    ceilings = {HORNS[horn].ceiling.name for horn in ("piccolo-bb", "piccolo-a")}

    assert {HIGHEST_PUBLISHED["piccolo at times"]} == ceilings
    assert HORNS["eb-bass"].ceiling <= parse_pitch(HIGHEST_PUBLISHED["E♭ bass, amateur"])
    assert HORNS["bb-bass"].ceiling <= parse_pitch(HIGHEST_PUBLISHED["B♭ bass, amateur"])
    assert all(horn.ceiling <= horn.at_home(parse_pitch(HIGHEST_PUBLISHED["three valves"])) for horn in HORNS.values())


@pytest.mark.parametrize("horn", HORNS)
def test_sound(horn: str) -> None:
    """Sound id and program are those of the table or our choice among the published ones, the program counted from 0."""
    sound, patch = SOUND[horn]

    assert (sound, PROGRAM_COUNTED_FROM_ONE[patch] - 1) == (HORNS[horn].sound, HORNS[horn].program)
