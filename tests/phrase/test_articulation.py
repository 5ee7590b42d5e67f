"""Articulation sets: each over eight or twelve notes, written out by hand."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.phrase.algebra import line
from generators.phrase.articulation import SETS, Articulation, articulated, articulation, fits
from generators.phrase.note import Note, Phrase

LAWS = settings(max_examples=60)
EIGHTH, TRIPLET, HALF, QUARTER = Fraction(1, 8), Fraction(1, 12), Fraction(1, 2), Fraction(1, 4)
MARKS = {"staccato": ".", "tenuto": "_", "accent": ">"}
# One character or two a note: ( and ) a slur, . short, _ tenuto, > accent, t and k as printed, o a plain tongued note.
EIGHT = {
    "slurred": "( o o o o o o )",
    "tongued": "o o o o o o o o",
    "tenuto": "_ _ _ _ _ _ _ _",
    "staccato": ". . . . . . . .",
    "accented": "> > > > > > > >",
    "slurred-pairs": "( ) ( ) ( ) ( )",
    "slur-two-tongue-two": "( ) . . ( ) . .",
    "tongue-two-slur-two": ". . ( ) . . ( )",
    "slur-three-tongue-one": "( o ) . ( o ) .",
    "tongue-one-slur-three": ". ( o ) . ( o )",
    "middle-pair-slurred": ". ( ) . . ( ) .",
    "double": "t k t k t k t k",
    "k-tongue": "k k k k k k k k",
}
TWELVE = {
    "slur-two-tongue-one": "( ) . ( ) . ( ) . ( ) .",
    "tongue-one-slur-two": ". ( ) . ( ) . ( ) . ( )",
    "triple": "t t k t t k t t k t t k",
    "slurred": "( o o o o o o o o o o )",
    "tongued": "o o o o o o o o o o o o",
    "staccato": ". . . . . . . . . . . .",
}


def run(count: int, unit: Fraction) -> Phrase[int]:
    """Return a bare run of so many notes."""
    return line(range(count), [unit] * count)


def shown(phrase: Phrase[int]) -> str:
    """Return the signs of a phrase, one group of characters a note."""
    return " ".join(_sign(note) for note in phrase if isinstance(note, Note))


def _sign(note: Note[int]) -> str:
    slur = "(" * note.slur_open + ")" * note.slur_close
    return slur + note.syllable + "".join(MARKS[mark] for mark in note.articulations) or "o"


@pytest.mark.parametrize(("name", "answer"), EIGHT.items(), ids=EIGHT)
def test_eight_eighths(name: str, answer: str) -> None:
    """Over eight eighths in two pulses a set looks as it is written here."""
    assert answer == shown(articulated(run(8, EIGHTH), SETS[name], EIGHTH, HALF))


@pytest.mark.parametrize(("name", "answer"), TWELVE.items(), ids=TWELVE)
def test_twelve_triplets(name: str, answer: str) -> None:
    """Over twelve triplet eighths in four pulses a set looks as it is written here."""
    assert answer == shown(articulated(run(12, TRIPLET), SETS[name], TRIPLET, QUARTER))


def test_none_is_missing() -> None:
    """Every set has its answer written out in this file."""
    assert set(SETS) == {*EIGHT, *TWELVE}


@pytest.mark.parametrize(
    ("name", "answer"),
    [
        ("slurred-pairs", "o ( ) ( ) ( )"),
        ("slur-two-tongue-two", "o . . ( ) . ."),
        ("tongue-two-slur-two", ". ( ) . . ( )"),
        ("slur-three-tongue-one", "( ) . ( o ) ."),
        ("tongue-one-slur-three", ". ( ) . ( o )"),
        ("middle-pair-slurred", ". o . . ( ) ."),
    ],
)
def test_a_long_first_note_keeps_its_slots(name: str, answer: str) -> None:
    """A quarter at the start stands for two slots; the set goes on as if both had been played."""
    lengths = [QUARTER, *[EIGHTH] * 6]

    assert answer == shown(articulated(line(range(7), lengths), SETS[name], EIGHTH, HALF))


@pytest.mark.parametrize(("name", "answer"), [("slurred-pairs", "( ) ( ) ( ) ( )"), ("slur-two-tongue-two", "( ) . . ( ) . .")])
def test_dotted_pairs_are_slots(name: str, answer: str) -> None:
    """A dotted pair takes two slots like an even one."""
    lengths = [Fraction(3, 16), Fraction(1, 16)] * 4

    assert answer == shown(articulated(line(range(8), lengths), SETS[name], EIGHTH, HALF))


@pytest.mark.parametrize(("name", "answer"), [("slur-three-tongue-one", "( o ) . ( )"), ("slurred-pairs", "( ) ( ) ( )")])
def test_a_run_may_end_within_a_group(name: str, answer: str) -> None:
    """A run that ends within a group ends its slur there."""
    count = len(answer.split())

    assert answer == shown(articulated(run(count, EIGHTH), SETS[name], EIGHTH, HALF))


@LAWS
@given(st.sampled_from(sorted(SETS)), st.integers(1, 6))
def test_every_pulse_alike(name: str, pulses: int) -> None:
    """A set begins anew at every pulse: so many pulses look like one, so many times over; slurred is one slur."""
    row = SETS[name]
    one = articulated(run(12, EIGHTH), row, EIGHTH, Fraction(3, 2))
    many = articulated(run(12 * pulses, EIGHTH), row, EIGHTH, Fraction(3, 2))

    assert not row.slots or " ".join([shown(one)] * pulses) == shown(many)
    assert row.slots or (many[0].slur_open and many[-1].slur_close)  # type: ignore[union-attr]


@LAWS
@given(st.sampled_from(sorted(SETS)), st.lists(st.sampled_from([EIGHTH, QUARTER]), min_size=1, max_size=16))
def test_notes_stay(name: str, lengths: list[Fraction]) -> None:
    """A set changes no pitch and no length, and opens as many slurs as it closes."""
    plain = line(range(len(lengths)), lengths)
    played = articulated(plain, SETS[name], EIGHTH, HALF)
    notes = [note for note in played if isinstance(note, Note)]

    assert [(note.pitch, note.length) for note in notes] == list(enumerate(lengths))
    assert sum(note.slur_open for note in notes) == sum(note.slur_close for note in notes)


@pytest.mark.parametrize(
    ("name", "slots", "answer"),
    [("slurred", 3, True), ("tongued", 3, True), ("double", 4, True), ("double", 3, False), ("triple", 4, False)],
)
def test_fits(name: str, slots: int, answer: bool) -> None:
    """A set fits a pulse that holds it a whole number of times; plain sets fit every pulse."""
    assert answer == fits(SETS[name], slots)


def test_found_by_name() -> None:
    """Each set is found by its name; names are unique, and every set has a lesson."""
    assert list(SETS.values()) == [articulation(name) for name in SETS]
    assert all(isinstance(row, Articulation) and row.lesson for row in SETS.values())


def test_unknown() -> None:
    """An unknown set is refused with its nearest neighbour."""
    with pytest.raises(BadRequest, match=r'articulation "slured" is not known; allowed: slurred, .*Did you mean "slurred"'):
        articulation("slured")
