"""Spans: where slurs, hairpins, glides and octave brackets begin and end."""

from dataclasses import replace

import pytest

from generators.brass.horn import horn
from generators.phrase.label import Label
from generators.phrase.pieces import cut
from generators.phrase.spans import Span, spans
from generators.phrase.study import Strain
from tests.exchange.samples import strain


def _spans(music: Strain) -> set[Span]:
    return set(spans([piece for bar in cut(music) for piece in bar], horn("trumpet").bracketed))


@pytest.mark.parametrize(
    ("sketch", "expected"),
    [
        ("1/4( 2 3) 4", {Span("slur", 0, 2)}),
        ("1/4( 2)( 3) 4", {Span("slur", 0, 1), Span("slur", 1, 2)}),
        ("[p<]1/4 2 3 [f]4", {Span("<", 0, 2)}),
        ("[<]1/4 2 [>]3 [.]4", {Span("<", 0, 1), Span(">", 2, 2)}),
        ("1/4 2 [>]3 4", {Span(">", 2, 3)}),
        ("[<]1/4 r r [f]4", {Span("<", 0, 0)}),
        ("1/4 7,, r 6,,", {Span("8vb", 1, 3)}),
        ("7,,/4 1, 6,, 5,,", {Span("8vb", 0, 0), Span("8vb", 2, 3)}),
        ("1,/4 2, 4, #4,", set()),
    ],
)
def test_lines_lie_where_players_read_them(sketch: str, expected: set[Span]) -> None:
    """Slurs join their notes, hairpins end before the next sign, and only notes on five ledger lines below are bracketed."""
    found = _spans(strain(sketch))

    assert found == expected


def test_a_glide_leads_to_the_next_note_only() -> None:
    """A glide before a rest draws no line; before a note it does."""
    line = strain("1/4 2 r 3").music
    glides = Strain(Label(), strain("1/4").key, tuple(replace(e, glide=True) if hasattr(e, "pitch") else e for e in line))

    assert _spans(glides) == {Span("glide", 0, 1)}
