"""Clefs: the notes on their lines, and the ledger lines beyond them."""

import pytest

from generators.errors import BadRequest
from generators.theory.clef import CLEFS, Clef, clef
from generators.theory.pitch import parse_pitch

EVERY = pytest.mark.parametrize("row", CLEFS.values(), ids=CLEFS)


@EVERY
def test_five_lines(row: Clef) -> None:
    """From the bottom line to the top one are eight steps."""
    assert row is clef(row.name)
    assert 8 == row.top.place - row.bottom.place


@pytest.mark.parametrize(("name", "line"), [("treble", "G4"), ("bass", "F3")])
def test_the_sign_stands_on_its_line(name: str, line: str) -> None:
    """The G of the treble clef is the second line from below, the F of the bass clef the fourth."""
    step = {"treble": 2, "bass": 6}[name]

    assert clef(name).bottom.place + step == parse_pitch(line).place


@pytest.mark.parametrize(
    ("name", "note", "lines"),
    [
        ("treble", "C4", -1),
        ("treble", "D4", 0),
        ("treble", "F3", -3),
        ("treble", "G5", 0),
        ("treble", "A5", 1),
        ("treble", "C6", 2),
        ("bass", "C4", 1),
        ("bass", "E2", -1),
        ("bass", "C2", -2),
        ("bass", "B1", -2),
        ("bass", "A1", -3),
        ("bass", "B3", 0),
        ("bass", "D3", 0),
    ],
)
def test_ledger_lines(name: str, note: str, lines: int) -> None:
    """Middle C stands on one ledger line, under the treble staff and over the bass staff."""
    assert lines == clef(name).ledgers(parse_pitch(note))


@pytest.mark.parametrize(("name", "note"), [("treble", "G5"), ("bass", "B3")])
def test_over_the_lines(name: str, note: str) -> None:
    """The first note over the staff is the one that sits on its top line."""
    assert note == clef(name).over.name


def test_unknown() -> None:
    """Another clef is refused with the list."""
    with pytest.raises(BadRequest, match='clef "alto" is not known; allowed: treble, bass'):
        clef("alto")
