"""How a finger cell is played: slurred, the last times in another rhythm, and a rest; twice more in an articulation, held."""

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
# A bare group would not say that it is tongued, so that it is marked long.
_TONGUED = {"tongued": "tenuto"}
_SIXTEENTH, _QUARTER, _HALF, _LONG = Fraction(1, 16), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4)
# A note that only its valves change, held on one air: how long each of them sounds.
_CHANGES = (_HALF, _HALF, _QUARTER, _QUARTER, _QUARTER)


class Turn(NamedTuple):
    """What takes turns from cell to cell."""

    pair: tuple[int, ...]
    """Sixteenths of two notes of the last slurred times; nothing where they stay even."""
    articulation: str


def cell_notes(cell: FingerCell, values: Sequence[Fraction]) -> Phrase[Pitch]:
    """Return the notes of a cell in such values."""
    return tuple(Note(p, value, valves=v) for p, v, value in zip(cell.pitches, cell.valves, values, strict=True))


def cell_line(cell: FingerCell, unit: Fraction, turn: Turn) -> Phrase[Pitch]:
    """Return the line of one cell in whole bars: slurred four times to a breath that has time, twice more to a held note.

    Over a change that is asked for it begins half as quick as sixteenths.
    A cell of one note is held first, its valves changing on one air, then tongued: a slur would tie it.
    """
    line = _still_line(cell, unit, turn) if cell.still else _moving_line(cell, unit, turn)
    pause = -length(line) % COMMON.bar
    return then(line, (Rest(pause),)) if pause else line


def _moving_line(cell: FingerCell, unit: Fraction, turn: Turn) -> Phrase[Pitch]:
    even = cell_notes(cell, (unit,) * 4)
    begun = cell_notes(replace(cell, valves=cell.begun), (_slower(unit),) * 4) if cell.begun else even
    first = slurred(then(begun, even, times(_last_times(cell, unit, turn), 2), _end(cell, _QUARTER)))
    again = articulated(times(even, 2), SETS[_TONGUED.get(turn.articulation, turn.articulation)], unit, 4 * unit)
    played = length(then(first, again))
    # The held note begins on a strong beat.
    pause = _HALF if (played + _QUARTER) % COMMON.strong else _QUARTER
    hold = _HALF if (played + pause) % COMMON.bar else _LONG
    return then(first, (Rest(pause),), again, _end(cell, hold))


def _still_line(cell: FingerCell, unit: Fraction, turn: Turn) -> Phrase[Pitch]:
    first, second = cell.valves[:2]
    changed = [Note(cell.pitches[0], value, tie=True, valves=(first, second)[i % 2]) for i, value in enumerate(_CHANGES)]
    held = on(tuple(changed), -1, tie=False, breath=True)
    slow, last = cell_notes(cell, (_slower(unit),) * 4), _last_times(cell, unit, turn)
    tongued = then(*(times(part, int(_HALF / length(part))) for part in (slow, last)))
    return then(held, (Rest(_QUARTER),), tongued, _end(cell, _HALF))


def _slower(unit: Fraction) -> Fraction:
    """Return the value in which a change begins before sixteenths; eighths are slow enough."""
    return 2 * unit if unit == _SIXTEENTH else unit


def _last_times(cell: FingerCell, unit: Fraction, turn: Turn) -> Phrase[Pitch]:
    """Return the cell as it goes the last times before a breath."""
    return cell_notes(cell, [_SIXTEENTH * part for part in turn.pair] * 2 if turn.pair else (unit,) * 4)


def _end(cell: FingerCell, value: Fraction) -> Phrase[Pitch]:
    return (Note(cell.pitches[0], value, valves=cell.valves[0], breath=True),)
