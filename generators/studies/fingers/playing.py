"""How a finger cell is played: slurred, the last times in another rhythm, held; twice more in another articulation, held."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from generators.phrase.algebra import length, on, slurred, then, times
from generators.phrase.articulation import SETS, articulated
from generators.phrase.bars import COMMON
from generators.phrase.note import Note, Phrase, Rest
from generators.studies.fingers.cells import FingerCell
from generators.theory.pitch import Pitch

# Sixteenths of two notes: even where there are none, long and short, short and long. What is uneven lasts two beats.
FINGER_PAIRS: tuple[tuple[int, ...], ...] = ((), (3, 1), (1, 3))
# The articulation of the two times after the held note, in turn: our choice.
FINGER_SETS = ("tongued", "slur-two-tongue-two", "slurred-pairs", "tongue-one-slur-three")
_SIXTEENTH, _HELD, _LONG = Fraction(1, 16), Fraction(1, 2), Fraction(3, 4)


class Turn(NamedTuple):
    """What takes turns from cell to cell."""

    pair: tuple[int, ...]
    """Sixteenths of two notes of the last slurred times; nothing where they stay even."""
    articulation: str


def cell_notes(cell: FingerCell, values: Sequence[Fraction]) -> Phrase[Pitch]:
    """Return the notes of a cell in such values."""
    return tuple(Note(p, value, valves=v) for p, v, value in zip(cell.pitches, cell.valves, values, strict=True))


def cell_line(cell: FingerCell, unit: Fraction, turn: Turn) -> Phrase[Pitch]:
    """Return the line of one cell: slurred four times into a held note, twice more into another; whole bars.

    A cell of one note is tongued throughout, for a slur would tie it.
    """
    even = cell_notes(cell, (unit,) * 4)
    begun = cell_notes(replace(cell, valves=cell.begun) if cell.begun else cell, (unit,) * 4)
    uneven = cell_notes(cell, [_SIXTEENTH * part for part in turn.pair] * 2) if turn.pair else even
    whole = then(begun, even, times(uneven, 2), _held(cell, _HELD))
    first = on(whole if cell.still else slurred(whole), -1, breath=True)
    again = articulated(times(even, 2), SETS["tongued" if cell.still else turn.articulation], unit, 4 * unit)
    hold = _HELD if length(then(first, again)) % COMMON.bar else _LONG
    line = then(first, on(then(again, _held(cell, hold)), -1, breath=True))
    pause = -length(line) % COMMON.bar
    return then(line, (Rest(pause),)) if pause else line


def _held(cell: FingerCell, value: Fraction) -> Phrase[Pitch]:
    return (Note(cell.pitches[0], value, valves=cell.valves[0]),)
