import re
from dataclasses import replace
from fractions import Fraction

import pytest

from generators.brass.horn import horn
from generators.phrase.bars import Meter
from generators.phrase.label import Label
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain
from generators.press.marks import Extras
from generators.press.score import Printed, printed
from generators.theory.pitch import Pitch
from tests.exchange.samples import EB, SAMPLES, C, marked, strain

PLAIN = Extras(horn("trumpet"))
LOW = "1/4 5, 4, 3, | 2,( 1, 7,, 6,,) | r/2 1,/4 2, | #4,/4 5, 5 1'"


def _printed(music: Strain, extras: Extras = PLAIN, notes_a_line: int = 34) -> Printed:
    return printed(music, extras, notes_a_line)


def _words(music: Strain, extras: Extras = PLAIN) -> str:
    """Return the text of a strain on one line."""
    return " ".join(_printed(music, extras).text.split())


@pytest.mark.parametrize(
    ("expected", "music"),
    [
        (r"\key c \major c'4 d'4 ef'4 fs'4 |", strain("1/4 2 b3 #4")),
        (r"\key ef \major ef'8 ( f'8 ) g'4. af'8 bf'4 |", strain("1/8( 2) 3/4. 4/8 5/4", EB)),
        (r"\key c \major \tuplet 3/2 { c'8 d'8 e'8 } f'2. |", strain("1/8t 2 3 4/2.")),
        (r"\key c \major c'1 ~ | c'2 r2 |", strain("1/1~ | 1/2 r")),
        (r"\key c \major c'4 - \staccato d'4 - \tenuto e'4 - \accent f'4 - \marcato |", strain("1/4:st 2:te 3:ac 4:ma")),
        (r"\key c \major c'4 \p \< d'4 e'4 f'4 \! \breathe | g'1 |", strain("[p<]1/4 2 3 [.]4* | 5/1")),
    ],
)
def test_a_strain_reads_as_its_music(expected: str, music: Strain) -> None:
    """Key, notes, values, ties, triplets and marks stand in the text as LilyPond names them."""
    text = _words(music)

    assert expected == text


@pytest.mark.parametrize("name", SAMPLES)
def test_every_bar_is_checked(name: str) -> None:
    """There is one bar check for every bar, a rest of several bars counting once."""
    for music in SAMPLES[name].strains:
        text = _printed(music).text
        spared = sum(int(Fraction(times) - 1) for times in re.findall(r"^R1 \* (\d+)/1", text, re.MULTILINE))

        assert len(music.bars) - spared == text.count("|")


@pytest.mark.parametrize(("name", "sign"), [("trumpet", ""), ("trombone", r"\clef bass ")])
def test_the_clef_is_the_horns(name: str, sign: str) -> None:
    """A horn in bass clef says so, on a staff and on free lines; treble clef is the engraver's own."""
    staff = _words(strain("1/1"), Extras(horn(name)))
    free = _words(replace(strain("1/1"), free=True), Extras(horn(name)))

    assert rf"{sign}\key c \major c'1 |" == staff
    assert f"{sign}c'4*4" == free


def test_pedals_are_bracketed_far_below_their_clef() -> None:
    """In bass clef the notes of the gap stand on few ledger lines as they are; only the lowest are bracketed."""
    high, low = (_words(strain(sketch), Extras(horn("trombone"))) for sketch in ("3,,/2 7,,,", "6,,,/1"))

    assert "ottava" not in high
    assert r"\ottava #-1" in low


def test_height_counts_from_the_clef() -> None:
    """What hangs far out of the treble staff lies well within the bass staff."""
    treble, bass = (_printed(strain("1,/1 5,"), Extras(horn(name))).height for name in ("trumpet", "trombone"))

    assert bass < treble


def test_lines_break_where_the_strain_says() -> None:
    """A line ends after as many bars as the strain gives it, and nowhere else."""
    music = replace(strain("1/1 | 2 | 3 | 4 | 5 | 6 | 7"), lines=(3, 4))
    lines = _printed(music).text.split("\\break")

    assert [3, 4] == [line.count("|") for line in lines]
    assert 2 == _printed(music).lines


def test_no_page_breaks_inside_a_strain() -> None:
    """Wherever a line of a strain ends, the page may not."""
    text = _printed(replace(strain("1/1 | 2 | 3 | 4 | 5 | 6"), lines=(2, 2, 2))).text

    assert 2 == text.count("\\break") == text.count("\\noPageBreak \\break")


def test_a_cramped_line_is_broken_again() -> None:
    """A line with more notes than fit is set on several."""
    music = replace(strain(" | ".join(["1/16 2 3 4 " * 4] * 4)), lines=(4,))

    assert 2 == _printed(music, notes_a_line=34).lines
    assert 4 == _printed(music, notes_a_line=20).lines


def test_bars_of_rest_are_one_rest() -> None:
    """Bars of rest in a row are one sign with their count; a lone one is a rest of its bar."""
    waits = Strain(Label(), C, (Rest(Fraction(5)), *strain("1/1").music, Rest(Fraction(1)), *strain("1/1").music))

    assert r"\key c \major R1 * 5/1 | c'1 | R1 * 1/1 | c'1 |" == _words(waits)


def test_a_bar_of_rest_in_another_meter_has_its_length() -> None:
    """Three bars of rest in 3/4 are three rests of three quarters."""
    waits = Strain(Label(), C, (Rest(Fraction(9, 4)), Note(Pitch("C", 0, 5), Fraction(3, 4))), Meter(3, 4))

    assert "3/1" in _words(waits)
    assert "2." in _words(waits).split("|")[0]


def test_notes_below_the_lowest_tube_stand_an_octave_higher() -> None:
    """An octave sign opens before the first note below F#3 of a bar and closes after the last, and stands nowhere else."""
    text = _words(replace(strain(LOW), lines=(2, 2)))

    assert 3 == text.count("\\ottava #-1") == text.count("\\ottava #0")
    assert r"c'4 g4 \ottava #-1 f4 e4 \ottava #0 |" in text
    assert "\\ottava" not in _words(strain("1/4 2 3 4"))
    assert "\\ottava" not in _words(Strain(Label(), C, (Note(Pitch("F", 1, 3), Fraction(1)),)))


def test_every_head_has_its_syllable() -> None:
    """There is one syllable for each note head, a silent one where the note has none."""
    spoken = strain("1/8 2 3 4 5/2")
    notes = tuple(replace(note, syllable="tk"[i % 2]) for i, note in enumerate(spoken.notes[:4]))
    found = _printed(replace(spoken, music=(*notes, spoken.notes[4])))

    assert ("t", "k", "t", "k", "") == found.syllables
    assert found.heads == len(found.syllables)


def test_without_syllables_there_is_no_row_of_them() -> None:
    """A strain that is not spoken has no syllables."""
    assert () == _printed(strain("1/4 2 3 4")).syllables


def test_fingerings_and_cents_stand_where_they_are_wanted() -> None:
    """All valve sets are printed on request, cents where they can be heard, neither without being asked."""
    music = strain("1/4 2 3 5")
    plain, full = _words(music), _words(music, Extras(horn("trumpet"), fingerings=True, intonation=True))

    assert "valves" not in plain
    assert "cents" not in plain
    assert ["0", "1-3", "1-2", "0"] == re.findall(r'\\valves "([\d-]+)"', full)
    assert all(abs(int(cents)) >= 10 for cents in re.findall(r'\\cents "([+-]\d+)"', full))
    assert re.search(r"d'4 [^|]*\\cents", full)


def test_a_note_tells_its_own_valves_unasked() -> None:
    """Valves and words that belong to the music are printed whatever the sheet says."""
    text = _words(marked())

    assert '\\valves "1-3"' in text
    assert '\\remark "subito"' in text


def test_repeats_stand_round_the_music() -> None:
    """A strain to be repeated stands in a repeat."""
    text = _words(strain("1/4 2 3 4", repeats=2))

    assert r"\key c \major \repeat volta 2 { c'4 d'4 e'4 f'4 | }" == text
