"""Sketches: every mark is read, and a wrong token is refused by name."""

from fractions import Fraction
from typing import Any

import pytest

from generators.phrase.algebra import length
from generators.phrase.notation import degrees, value
from generators.phrase.note import Degree, Note, Rest

QUARTER = Fraction(1, 4)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1", Fraction(1)),
        ("2", Fraction(1, 2)),
        ("2.", Fraction(3, 4)),
        ("4", Fraction(1, 4)),
        ("4..", Fraction(7, 16)),
        ("8.", Fraction(3, 16)),
        ("8t", Fraction(1, 12)),
        ("4t", Fraction(1, 6)),
        ("8t.", Fraction(1, 8)),
        ("64", Fraction(1, 64)),
    ],
)
def test_value(text: str, expected: Fraction) -> None:
    """A note value is a number with dots, or of a triplet."""
    assert expected == value(text)


@pytest.mark.parametrize(
    ("token", "degree"),
    [
        ("1", Degree(0)),
        ("8", Degree(7)),
        ("7,", Degree(-1)),
        ("5,,", Degree(-10)),
        ("1'", Degree(7)),
        ("3''", Degree(16)),
        ("#4", Degree(3, 1)),
        ("b7,", Degree(-1, -1)),
        ("10", Degree(9)),
        ("15", Degree(14)),
    ],
)
def test_degree(token: str, degree: Degree) -> None:
    """A degree counts from 1; a comma is an octave lower, an apostrophe higher, # and b alter it."""
    assert (Note(degree, QUARTER),) == degrees(token)


@pytest.mark.parametrize(
    ("token", "marks"),
    [
        ("1(", {"slur_open": True}),
        ("1)", {"slur_close": True}),
        ("1)(", {"slur_open": True, "slur_close": True}),
        ("1~", {"tie": True}),
        ("1*", {"breath": True}),
        ("1?", {"may_breathe": True}),
        ("1)*", {"slur_close": True, "breath": True}),
        ("1:st", {"articulations": ("staccato",)}),
        ("1:te", {"articulations": ("tenuto",)}),
        ("1:ac", {"articulations": ("accent",)}),
        ("1:ma", {"articulations": ("marcato",)}),
        ("1:fe", {"articulations": ("fermata",)}),
        ("1:te:ac", {"articulations": ("tenuto", "accent")}),
        ("[p]1", {"dynamic": "p"}),
        ("[mf<]1", {"dynamic": "mf", "hairpin": "<"}),
        ("[>]1", {"hairpin": ">"}),
        ("[.]1", {"hairpin": "."}),
        ("[ff.]1", {"dynamic": "ff", "hairpin": "."}),
        ("[p<]1/4:st(*", {"dynamic": "p", "hairpin": "<", "articulations": ("staccato",), "slur_open": True, "breath": True}),
    ],
)
def test_mark(token: str, marks: dict[str, Any]) -> None:
    """Each mark, alone and with others, is read onto its note and onto nothing else."""
    assert (Note(Degree(0), QUARTER, **marks),) == degrees(token)


def test_rest() -> None:
    """A rest has a value like a note."""
    assert (Rest(QUARTER), Rest(Fraction(1, 2))) == degrees("r r/2")


def test_a_value_is_kept_until_the_next() -> None:
    """A value holds for all notes and rests that follow, until another is written."""
    lengths = [event.length for event in degrees("1 2/8 3 r 4/2. 5 r/8t 6")]

    assert [value(text) for text in ("4", "8", "8", "8", "2.", "2.", "8t", "8t")] == lengths


def test_bar_lines_are_for_the_eye() -> None:
    """Bar lines and line breaks change nothing."""
    assert degrees("1 2 3 4 5") == degrees("| 1 2 |3 4|\n5 |")


def test_an_empty_sketch() -> None:
    """No tokens, no notes."""
    assert () == degrees(" | ")


def test_the_sketch_of_the_docs() -> None:
    """The example that introduces the notation means what it says: a slurred line of two bars, and a breath."""
    phrase = degrees("1/2( 7,/4 6, | 5,/1)*")

    assert (
        Note(Degree(0), Fraction(1, 2), slur_open=True),
        Note(Degree(-1), QUARTER),
        Note(Degree(-2), QUARTER),
        Note(Degree(-3), Fraction(1), slur_close=True, breath=True),
    ) == phrase
    assert 2 == length(phrase)


@pytest.mark.parametrize(
    "token",
    [
        "0", "x", "-1", "c4", "1/", "1/0", "1/3", "1/4...", "1.", "1,'", "##1", "1#", "1:xx", "1:s", "1:sta",
        "1!", "[p1", "p]1", "[]1", "[p", "[zz]1", "[<<]1", "1[p]", "(1", "*",
        "r(", "r*", "r:st", "r,", "#r", "[p]r", "100",
    ],
)  # fmt: skip
def test_a_wrong_token_is_refused(token: str) -> None:
    """A token that is no note is refused by name, wherever it stands in the sketch."""
    with pytest.raises(ValueError, match="not a note of a sketch") as refusal:
        degrees(f"1 2 {token} 3")

    assert str(refusal.value).endswith(f": {token}")
