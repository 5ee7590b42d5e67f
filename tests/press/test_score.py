import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from generators.brass.horn import horn
from generators.phrase.bars import Meter
from generators.phrase.label import Label
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain
from generators.press.extent import FARTHER, ROW
from generators.press.marks import ALTERNATES, CENTS, NAMES, VALVES, Extras
from generators.press.score import Printed, printed
from generators.theory.pitch import Pitch
from tests.exchange.samples import EB, SAMPLES, C, marked, strain

PLAIN = Extras(horn("trumpet"))
FULL = Extras(horn("trumpet"), fingerings=True, intonation=True, note_names=True)
LOW = "1/4 5, 7,, 6,, | 5,,( 4,, 7,, 6,,) | r/2 7,,/4 6,, | #4,/4 5, 5 1'"


def _printed(music: Strain, extras: Extras = PLAIN, room: float = 76.0) -> Printed:
    return printed(music, extras, room)


def _words(music: Strain, extras: Extras = PLAIN) -> str:
    """Return the text of a strain on one line."""
    return " ".join(_printed(music, extras).text.split())


@pytest.mark.parametrize(
    ("expected", "music"),
    [
        (r"\key c \major c'4 d'4 ef'4 fs'4 |", strain("1/4 2 b3 #4")),
        (r"\key ef \major ef'8 ( f'8 ) g'4. af'8 bf'4 |", strain("1/8( 2) 3/4. 4/8 5/4", EB)),
        (r"\key c \major \beamed \three #3.1 \tuplet 3/2 { c'8 d'8 e'8 } f'2. |", strain("1/8t 2 3 4/2.")),
        (r"\key c \major c'1 ~ | c'2 r2 |", strain("1/1~ | 1/2 r")),
        (r"\key c \major c'4 - \staccato d'4 - \tenuto e'4 - \accent f'4 - \marcato |", strain("1/4:st 2:te 3:ac 4:ma")),
        (
            r"\key c \major \override DynamicLineSpanner.staff-padding = #2.6 c'4 \p \< d'4 e'4"
            r" \once \override BreathingSign.Y-offset = #2.6 f'4 \! \breathe | g'1 |",
            strain("[p<]1/4 2 3 [.]4* | 5/1"),
        ),
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


@pytest.mark.parametrize(("paired", "told"), [(True, 1), (False, 0)])
def test_eighths_in_pairs(paired: bool, told: int) -> None:
    """Where eighths are beamed two by two, the text tells the engraver to make no longer beams."""
    assert told == _words(replace(strain("1/8 2 3 4 5/2"), paired=paired)).count(r"\set Timing.beamExceptions = #'()")


def test_a_label_that_tells_the_fingering() -> None:
    """Where the label tells how all of it is fingered, no note does; cents stay."""
    over = (
        _printed(strain(LOW), replace(FULL, note_names=False)),
        _printed(replace(strain(LOW), held=True), replace(FULL, note_names=False)),
    )

    assert [[CENTS, VALVES], [CENTS]] == [[row.name for row in one.rows] for one in over]


@pytest.mark.parametrize(("name", "sign"), [("trumpet", ""), ("trombone", r"\clef bass ")])
def test_the_clef_is_the_horns(name: str, sign: str) -> None:
    """A horn in bass clef says so, on a staff and on free lines; treble clef is the engraver's own."""
    staff = _words(strain("1/1"), Extras(horn(name)))
    free = _words(replace(strain("1/1"), free=True), Extras(horn(name)))

    assert rf"{sign}\key c \major c'1 |" == staff
    assert f"{sign}c'4*4" == free


def test_pedals_are_bracketed_far_below_their_clef() -> None:
    """In bass clef the notes of the gap stand on few ledger lines as they are; only the lowest are bracketed."""
    high, low = (_words(strain(sketch), Extras(horn("trombone"))) for sketch in ("3,,/2 6,,,", "2,,,/1"))

    assert "ottava" not in high
    assert r"\ottava #-1" in low


def test_height_counts_from_the_clef() -> None:
    """What hangs far out of the treble staff lies well within the bass staff."""
    treble, bass = (_printed(strain("1,/1 5,"), Extras(horn(name))).extents[0] for name in ("trumpet", "trombone"))

    assert bass.down < treble.down


@pytest.mark.parametrize(
    ("more", "less"),
    [
        (strain("1''/1"), strain("1'/1")),
        (strain("5'/4:ac 4' 3' 4'"), strain("5'/4 4' 3' 4'")),
        (strain("6/8t 7 1' 2'/4 3' 4'"), strain("6/8 7 1'/4 2' 3'")),
        (strain("1/4 2 3* 4"), strain("1/4 2 3 4")),
        (strain("1/1 | 5/1:fe"), strain("1/1 | 5/1")),
    ],
    ids=["higher", "accent", "triplet", "breath", "fermata"],
)
def test_what_stands_over_the_notes_takes_room(more: Strain, less: Strain) -> None:
    """A line reaches higher with high notes, and with signs, numbers and breaths over them, and no lower for it."""
    (over,), (plain,) = (_printed(music).extents for music in (more, less))

    assert over.up > plain.up
    assert over.down <= plain.down


@pytest.mark.parametrize(
    ("more", "less"),
    [
        (strain("5,/1"), strain("5/1")),
        (strain("[p]1/4 2 3 4"), strain("1/4 2 3 4")),
        (strain("4,/1"), strain("4/1")),
    ],
    ids=["lower", "dynamic", "bracketed"],
)
def test_what_stands_under_the_notes_takes_room(more: Strain, less: Strain) -> None:
    """A line reaches lower with low notes, dynamics and octave signs, and no higher for it."""
    (under,), (plain,) = (_printed(music).extents for music in (more, less))

    assert under.down > plain.down
    assert under.up == plain.up


def test_every_row_takes_room() -> None:
    """Each row of texts over the notes lifts a line; one that stands over another by a little more, to be clear of it."""
    valves = replace(PLAIN, fingerings=True)
    named = replace(valves, note_names=True)
    ups = [_printed(strain("3''/4 2'' 1'' 7'"), extras).extents[0].up for extras in (PLAIN, valves, named, FULL)]

    assert sorted(set(ups)) == ups
    assert [pytest.approx(rise) for rise in (ROW, ROW + FARTHER, ROW + FARTHER)] == [b - a for a, b in pairwise(ups)]


@pytest.mark.parametrize("extras", [PLAIN, FULL])
@pytest.mark.parametrize(
    ("over", "music"),
    [
        (False, "1/2( 5, | 3,/1) | 3,/2( 5, | 1/1)"),  # from A3 up to C4: every stem goes up
        (False, "5/2( 3 | 1/1) | 1/2( 3 | 5/1)"),
        (True, "1'/2( 5 | 3/1) | 3/2( 5 | 1'/1)"),
    ],
)
def test_long_slurs_stand_over_the_stems_but_of_low_notes(over: bool, music: str, extras: Extras) -> None:
    """Slurs over more than a bar stand over the notes; at the heads where all stems go up."""
    assert over == ("\\slurUp" in _words(strain(music), extras))


def test_a_fermata_stands_over_the_staff() -> None:
    """A fermata stands over the staff, also of a note far under it: the line reaches higher by it, and no deeper."""
    held, plain = (_printed(strain(sketch)).extents[0] for sketch in ("1,/1:fe", "1,/1"))

    assert (held.up > plain.up, held.down) == (True, plain.down)


def test_slurs_of_a_low_study_stand_under_it() -> None:
    """In a study that lies low as a whole, long slurs stand under the heads, also where a stem goes down."""
    music = strain("1'/2( 5 | 3/1) | 3/2( 5 | 1'/1)")

    assert "\\slurDown" in _words(music, replace(PLAIN, low=True))


@pytest.mark.parametrize(("home", "side"), [("1", "\\slurDown"), ("1'", "\\slurUp")])
def test_slurs_that_come_back_to_one_note_stand_at_its_heads(home: str, side: str) -> None:
    """Slurs from a fixed note out and back have one side, whichever way the stems between them turn."""
    assert side in _words(strain(f"{home}/4( 5 {home}/2) | {home}/4( 5' {home}/2)"), PLAIN)


def test_every_line_has_its_extent() -> None:
    """A strain of several lines tells of each how far it reaches; a free one is as high as any other."""
    music = strain(" | ".join(["1/8 2 3 4 5 6 7 8"] * 4 + ["1,/8 2, 3, 4, 5, 6, 7, 1"] * 4))
    found, free = _printed(music), _printed(replace(music, free=True))

    assert 2 == len(found.lines) == len(found.extents)
    assert found.extents[0].down < found.extents[1].down
    assert ((), 1) == (free.lines, len(free.extents))


def test_lines_break_where_the_strain_says() -> None:
    """A strain too long for a line ends it after as many bars as it says itself, and nowhere else."""
    music = replace(strain(" | ".join(["1/4 2 3 4"] * 9)), lines=(3, 6))
    lines = _printed(music).text.split("\\break")

    assert [3, 6] == [line.count("|") for line in lines]
    assert 2 == len(_printed(music).lines)


def test_no_page_breaks_inside_a_strain() -> None:
    """Wherever a line of a strain ends, the page may not; what stands in the column does not stand there again."""
    text = _printed(strain(" | ".join(["1/8 2 3 4 5 6 7 8"] * 12))).text

    assert 2 == text.count("\\break") == text.count("\\noPageBreak \\break") == text.count('\\column ""')


def test_a_cramped_line_is_broken_again() -> None:
    """A line with more notes than fit is set on several."""
    music = replace(strain(" | ".join(["1/16 2 3 4 " * 4] * 4)), lines=(4,))

    assert 2 == len(_printed(music, room=76).lines)
    assert 4 == len(_printed(music, room=40).lines)


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
    """An octave sign opens before the first note below C3 and closes after the last of its group, and stands nowhere else."""
    text = _words(strain(LOW))

    assert 1 == text.count("\\ottava #-1") == text.count("\\ottava #0")
    assert r"c'4 g4 \ottava #-1 b,4 a,4 | g,4 ( f,4 b,4 a,4 ) | r2 b,4 a,4 \ottava #0 | fs4 g4 g'4 c''4 |" in text
    assert "\\ottava" not in _words(strain("1/4 2 3 4"))
    assert "\\ottava" not in _words(Strain(Label(), C, (Note(Pitch("F", 1, 3), Fraction(1)),)))


def test_an_octave_sign_ends_where_a_higher_note_stands() -> None:
    """A note from C3 up between lower ones parts their octave signs, in a bar and over a bar line."""
    text = _words(strain("7,,/4 1, 7,, 6,, | 1/1 | 7,,/1"))

    assert r"\ottava #-1 b,4 \ottava #0 c4 \ottava #-1 b,4 a,4 \ottava #0 | c'1 | \ottava #-1 b,1 \ottava #0 |" in text


LOUDER = " | ".join(["[p<]1/8 2 3 4 5 6 7 8", *["1/8 2 3 4 5 6 7 8"] * 5, "[{}]1/1"])


@pytest.mark.parametrize(("sign", "word"), [("<", "\\cresc"), (">", "\\dim")])
def test_a_hairpin_over_lines_is_a_word(sign: str, word: str) -> None:
    """A hairpin that goes on over the end of a line is a word with a dashed line; one on its line is drawn."""
    over = _words(strain(LOUDER.format("f").replace("<", sign)))
    within = _words(strain(f"[p{sign}]1/8 2 3 4 5 6 7 8 | [f]1/1"))

    assert (1, 0) == (over.count(f"\\p {word} "), over.count(f"\\{sign}"))
    assert (0, 1) == (within.count(word), within.count(f"\\p \\{sign} "))


def test_a_word_that_goes_on_is_told_again() -> None:
    """A hairpin over more than a line is a word, which ends with its line and stands again in brackets at the next."""
    text = _printed(strain(" | ".join(["[p<]1/8 2 3 4 5 6 7 8", *["1/8 2 3 4 5 6 7 8*"] * 5, "[f]1/1"]))).text
    one, other = text.split("\\break")

    assert 1 == len(re.findall(r"\\cresc\b", one)) == one.count("\\!")
    assert not re.search(r"\\breathe\s+\\!", one)
    assert 1 == other.count("\\crescOn")
    assert other.index("\\crescOn") < other.index("\\f")


def test_a_line_that_begins_with_a_hairpin_says_from_what() -> None:
    """The dynamic in force stands again at the first note of a line from which a hairpin goes."""
    falling = ["[>]8/8 7 6 5 4 3 2 1"] * 4
    text = _words(strain(" | ".join(["[p<]1/8 2 3 4 5 6 7 8", "1/8 2 3 4 5 6 7 8", "[f]1/1*", *falling, "[p]1/1"])))

    assert 2 == text.count("\\f ")


def test_the_dynamics_of_a_line_are_on_one_height() -> None:
    """A line with dynamics says once, before its notes, how far under the staff they stand: clear of its lowest note."""
    text = _printed(strain(" | ".join(["[p]1/8 2 3 4 5 6 7 8"] * 4 + ["[f]5,/8 6, 7, 1 2 3 4 5"] * 4))).text
    heights = [float(height) for height in re.findall(r"DynamicLineSpanner.staff-padding = #([\d.]+)\n", text)]

    assert 2 == len(heights)
    assert heights[0] < heights[1]
    assert "DynamicLineSpanner" not in _printed(strain("1/4 2 3 4")).text


def test_dynamics_of_spoken_lines_stand_over_them() -> None:
    """Where syllables stand under the notes, dynamics stand over them."""
    music = strain("[p]1/4 2 3 4")
    spoken = replace(music, music=tuple(replace(note, syllable="t") for note in music.notes))

    assert ("\\dynamicUp" in _words(spoken), "\\dynamicUp" in _words(music)) == (True, False)
    assert _printed(spoken).extents[0].up > _printed(music).extents[0].up


def test_every_head_has_its_syllable() -> None:
    """There is one syllable for each note head, a silent one where the note has none."""
    spoken = strain("1/8 2 3 4 5/2")
    notes = tuple(replace(note, syllable="tk"[i % 2]) for i, note in enumerate(spoken.notes[:4]))
    found = _printed(replace(spoken, music=(*notes, spoken.notes[4])))

    assert ("t", "k", "t", "k", "") == found.syllables
    assert len(found.heads) == len(found.syllables)


def test_without_syllables_there_is_no_row_of_them() -> None:
    """A strain that is not spoken has no syllables."""
    assert () == _printed(strain("1/4 2 3 4")).syllables


def test_names_valves_and_cents_stand_where_they_are_wanted() -> None:
    """Audible cents, names and valve sets are rows over the notes on request, in this order; nothing unasked."""
    music = strain("1/4 2 3 5")
    plain, full = _printed(music), _printed(music, FULL)
    cents, names, valves = full.rows

    assert () == plain.rows
    assert (NAMES, ("C", "D", "E", "G")) == (names.name, names.texts)
    assert (VALVES, ("0", "1-3", "1-2", "0")) == (valves.name, valves.texts)
    assert CENTS == cents.name
    assert cents.texts[1]
    assert all(abs(int(text)) >= 10 for text in cents.texts if text)
    assert plain.text == full.text


def test_every_row_has_a_text_for_every_head() -> None:
    """Rows are as long as the note heads of their strain, the heads of a tied note among them; the later ones have no text."""
    found = _printed(strain("1/4 2 3 4~ | 4/1"), FULL)

    assert [5, 5] == [len(row.texts) for row in found.rows if row.name != CENTS]
    assert all(row.texts[-1] == "" for row in found.rows)
    assert len(found.heads) == 5


def test_a_note_tells_its_own_valves_unasked() -> None:
    """Valves and words that belong to the music are printed whatever the sheet says, and are known to be the note's own."""
    (row,) = _printed(marked()).rows

    assert (ALTERNATES, "1-3", True) == (row.name, row.texts[0], row.own[0])
    assert not any((*row.texts[1:], *row.own[1:]))
    assert '\\suddenly "p"' in _words(marked())


def test_on_one_tube_no_valves_are_told() -> None:
    """A strain on one tube tells it in the column at its left, and not over its notes."""
    slurs = replace(strain("1/4 5 1' 5"), tube="0", label=Label(tube="0"))

    assert [NAMES] == [row.name for row in _printed(slurs, replace(FULL, intonation=False)).rows]
    assert "0" == _printed(slurs).column.head


def test_a_short_strain_is_not_drawn_out() -> None:
    """A line of a few notes ends where they end; one of more goes to the margin."""
    short, long = (_printed(strain(sketch)) for sketch in ("1/2 2", "1/8 2 3 4 5 6 7 8"))

    assert (True, False) == (short.ragged, long.ragged)


def test_repeats_stand_round_the_music() -> None:
    """A strain to be repeated stands in a repeat."""
    text = _words(strain("1/4 2 3 4", repeats=2))

    assert r"\key c \major \repeat volta 2 { c'4 d'4 e'4 f'4 | }" == text


@pytest.mark.parametrize(("told", "repeats"), [([], 1), ([], 2), (["3×"], 3), (["8×"], 8)])
def test_the_end_tells_how_often_it_is_played(told: list[str], repeats: int) -> None:
    """Two times are what the repeat signs say; more stand at the sign that ends them."""
    text = _words(strain("1/4 2 3 4", repeats=repeats))

    assert told == re.findall(r'\\textEndMark \\markup \\played "(.*?)" \}', text)


@pytest.mark.parametrize(
    ("height", "sketch"),
    [
        ("3.1", "1/8t 2 3 1/4 1/2"),
        ("-3.1", "4'/8t 5' 4' 4'/4 4'/2"),
        (None, "7/8t 1' 7 1/4 1/2"),
        (None, "6/8t 7 6 1/4 1/2"),
        (None, "1'/8t 7 6 1/4 1/2"),
    ],
)
def test_the_number_of_a_triplet_is_out_of_the_staff(height: str | None, sketch: str) -> None:
    """Where a beam lies within the staff the number that would stand beside it is moved out, on the beam's side."""
    found = re.search(r"\\three #(\S+) \\tuplet", _words(strain(sketch)))

    assert height == (found and found[1])


def test_lines_may_be_told() -> None:
    """Told how many measures stand on each line, a strain is broken so."""
    music = strain("1/1 | 2 | 3 | 4 | 5 | 6")

    assert (6,) == _printed(music).counts
    assert (4, 2) == printed(music, PLAIN, 76.0, counts=(4, 2)).counts
