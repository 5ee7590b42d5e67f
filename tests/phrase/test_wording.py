"""Labels, roles and remarks in words, as the player reads them."""

from fractions import Fraction

import pytest

from generators.phrase.label import Label
from generators.phrase.note import Note
from generators.phrase.remark import Advice, Fewer, Fitting, LeftOut, Narrowed, Remark, Shortened
from generators.phrase.wording import brief_label, full_label, note_words, remark_words
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch

C, C_MINOR, B_FLAT = parse_key("C"), parse_key("Cm"), parse_key("Bb")
WITHIN = (parse_pitch("F#3"), parse_pitch("C5"))


@pytest.mark.parametrize(
    ("label", "full", "brief"),
    [
        (Label(key=C), "C major", ("C",)),
        (Label(key=C_MINOR, part="low", detail="one note"), "C minor, low, one note", ("Cm", "low")),
        (Label(key=C, concert=B_FLAT, part="1 to 4"), "C major (concert B♭), 1 to 4", ("C (concert B♭)", "1 to 4")),
        (Label(key=B_FLAT, scale="dominant seventh"), "B♭ dominant seventh", ("B♭ dominant seventh",)),
        (Label(note=parse_pitch("F#4"), detail="bent and fingered"), "F♯4, bent and fingered", ("F♯4",)),
        (Label(name="Siren", detail="9 s, rest 2 s"), "Siren, 9 s, rest 2 s", ("Siren",)),
        (Label(name="1-2 to 3"), "1-2 to 3", ("1-2 to 3",)),
    ],
)
def test_labels(label: Label, full: str, brief: tuple[str, ...]) -> None:
    """A full label says all there is; a brief one only what it is, and which part of the whole."""
    assert full == full_label(label)
    assert brief == brief_label(label)


@pytest.mark.parametrize(
    ("remark", "words"),
    [
        (Narrowed("a fourth", "a third", WITHIN), "A third instead of a fourth: your range is F♯3 to C5."),
        (
            Narrowed("an octave", "a sixth", WITHIN, leap=9),
            "A sixth instead of an octave: your range is F♯3 to C5, your widest leap 9 half-steps.",
        ),
        (Fewer("notes", 3, 4, within=WITHIN), "3 notes instead of 4: your range is F♯3 to C5."),
        (
            Fewer("cells", 2, 4, within=WITHIN, of=Label(key=C, detail="steps")),
            "C major, steps: 2 cells instead of 4: your range is F♯3 to C5.",
        ),
        (Fewer("beats to each hairpin", 4, 6, breath=10), "4 beats to each hairpin instead of 6, for a breath of 10 s."),
        (
            Fewer("lines", 4, 6, within=WITHIN, shared=True),
            "In your range, F♯3 to C5, some registers have the same notes: they share their lines.",
        ),
        (Shortened(Label(key=C), parse_pitch("G5"), ("range",)), "C major goes as far as G5 here."),
        (
            Shortened(Label(key=C), parse_pitch("G5"), ("range", "breath")),
            "C major goes as far as G5 here, to suit your breath.",
        ),
        (Fitting("keys", WITHIN), "Keys chosen to fit F♯3 to C5."),
        (LeftOut((C, B_FLAT)), "Keys kept for another etude: C major, B♭ major."),
        (Advice("A beat is a second here."), "A beat is a second here."),
    ],
)
def test_remarks(remark: Remark, words: str) -> None:
    """Every remark is one sentence."""
    assert words == remark_words(remark)


@pytest.mark.parametrize(
    ("role", "beats", "words"),
    [("", 0, ""), ("landing", 0, ""), ("bent", 0, "bend"), ("sudden", 0, "subito"), ("", 6, "6 beats")],
)
def test_words_over_a_note(role: str, beats: int, words: str) -> None:
    """A note says what is done on it, or how long its hairpin is; a plain one says nothing."""
    assert words == note_words(Note(WITHIN[0], Fraction(1, 4), role=role, beats=beats))
