"""The cells of the finger study: four quick notes in a key, on half-steps, or over an asked change of valves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise, product

from generators.brass.fingering import fingerings, usual
from generators.brass.horn import Horn
from generators.brass.tube import RARE_PARTIALS
from generators.errors import BadRequest, Refusal
from generators.phrase.study import Limits
from generators.studies.kit.fit import centre
from generators.theory.key import Key
from generators.theory.pitch import STEPS, Pitch, simple

# In steps of the scale or half-steps from the first note of the cell: common stock of the trade. No day has the shape of the
# six before it: our choice.
FINGER_SHAPES = {
    "turn": (0, 1, 0, -1),
    "gap": (0, 2, 1, 2),
    "trill": (0, 1, 0, 1),
    "round": (0, 1, 2, 1),
    "rock": (0, 2, 0, 2),
    "reach": (0, 1, 0, 2),
    "weave": (0, 2, 1, 3),
}
_ARROW = ">"
# Half-steps belong to no key and are written without a signature.
_UNSIGNED = Key("C", 0)
_DOUBLE = 2
# The partial of a tube that lies under the staff.
_LOWEST = 2
# How odd it is to read in a cell: one letter with two signs at once, and later on; an unusual name, such as F flat; a first
# note not named as in its key; a sign; an interval that is no second or third on paper. Only their order means anything.
_AT_ONCE, _LATER, _RARE, _RENAMED, _SIGN, _CROOKED = 3.5, 2.0, 5.5, 3.0, 0.1, 1.2


@dataclass(frozen=True, slots=True)
class FingerCell:
    """Four notes, and the valve sets to print over them where they are not the usual ones."""

    key: Key
    pitches: tuple[Pitch, ...]
    valves: tuple[str, ...] = ("", "", "", "")
    begun: tuple[str, ...] = ()
    """The valve sets to print when it is first played, where these are what the cell is about."""

    @property
    def still(self) -> bool:
        """Whether it stays on one note, which only its fingering changes."""
        return len(set(self.pitches)) == 1


def stand_ins(cell: FingerCell, horn: Horn) -> tuple[str, ...]:
    """Return the printed valve sets of a cell that are not the usual ones of their notes."""
    told = zip(cell.pitches, cell.valves, strict=True)
    return tuple(dict.fromkeys(valves for note, valves in told if valves and valves != _usual(note, horn)))


@cache
def diatonic_cell(shape: str, key: Key, index: int) -> FingerCell:
    """Return the cell on a degree of a key; in minor the seventh is raised, and the sixth that meets it."""
    steps = [index + step for step in FINGER_SHAPES[shape]]
    leading = key.mode == "minor" and any(step % 7 == 6 for step in steps)
    return FingerCell(key, tuple(_raised(key, step, leading and step % 7 in (5, 6)) for step in steps))


def _raised(key: Key, index: int, up: bool) -> Pitch:
    plain = key.degree(index)
    return replace(plain, alter=plain.alter + up)


@cache
def chromatic_cell(shape: str, key: Key, midi: int) -> FingerCell:
    """Return the cell on half-steps, spelled so that it reads easily: neighbours on letters of their own, few odd names."""
    heights = [midi + step for step in FINGER_SHAPES[shape]]
    ways = product(*(_spellings(height) for height in dict.fromkeys(heights)))
    told = (dict(zip(dict.fromkeys(heights), way, strict=True)) for way in ways)
    cells = [tuple(way[height] for height in heights) for way in told]
    return FingerCell(_UNSIGNED, min(cells, key=lambda cell: _oddness(cell, spelled_in(midi, key))))


def _spellings(midi: int) -> tuple[Pitch, ...]:
    """Return a note by every name that has no double sign."""
    places = range(midi * 7 // 12 - 9, midi * 7 // 12 - 4)
    plain = (Pitch(STEPS[place % 7], 0, place // 7) for place in places)
    return tuple(replace(pitch, alter=midi - pitch.midi) for pitch in plain if abs(midi - pitch.midi) < _DOUBLE)


def _oddness(cell: tuple[Pitch, ...], first: Pitch) -> tuple[float, tuple[str, ...]]:
    """Return what is odd in the spelling of a cell that is played again and again; names decide between equals."""
    each, pairs = dict.fromkeys(cell), list(pairwise((*cell, cell[0])))
    at_once = sum(one.place == other.place and one != other for one, other in pairs)
    later = len(each) - len({pitch.place for pitch in each})
    # The first is read most, and is the one that the cell is called by.
    rare = sum(pitch.alter != 0 and _is_white(pitch) for pitch in (*each, cell[0]))
    signs = sum(pitch.alter != 0 for pitch in each)
    crooked = sum(abs(one.place - other.place) not in (0, _letters(one, other)) for one, other in pairs)
    cost = (
        _AT_ONCE * at_once + _LATER * later + _RARE * rare + _RENAMED * (cell[0] != first) + _SIGN * signs + _CROOKED * crooked
    )
    return cost, tuple(pitch.name for pitch in cell)


def _is_white(pitch: Pitch) -> bool:
    """Tell whether a note has a plainer name, without a sign."""
    return simple(pitch.midi, sharp=True).alter == 0


def _letters(one: Pitch, other: Pitch) -> int:
    """Return how many letters apart two notes are as a third or less is written."""
    return -(-abs(one.midi - other.midi) // _DOUBLE)


@cache
def spelled_in(midi: int, key: Key) -> Pitch:
    """Return a note as a key spells it; one that is not of the key in sharps in sharp keys, in flats in flat ones."""
    own = (key.degree(index, octave) for octave in range(1, 7) for index in range(7))
    return next((pitch for pitch in own if pitch.midi == midi), simple(midi, key.fifths >= 0))


def change(text: str, horn: Horn) -> tuple[str, str]:
    """Read a change of valves such as "1-2>3"; anything else is refused."""
    sets = [part.strip() for part in text.replace(":", _ARROW).replace(" to ", _ARROW).split(_ARROW)]
    if len(sets) != 2 or sets[0] == sets[1]:
        how = 'write two different valve sets, as in "1-2>3"'
        raise BadRequest(Refusal("changes", text, "is not understood", do=how))
    return horn.resonator.checked(sets[0]), horn.resonator.checked(sets[1])


def changing(first: str, second: str, horn: Horn, limits: Limits, key: Key, plain: bool) -> Iterator[FingerCell]:
    """Yield the cells in which two valve sets take turns: first those of one partial, then others, then the lowest.

    Of these the smallest and most comfortable come first.

    Sets of one length of tube take turns on one note, others on two.
    """
    alike = horn.resonator.lowered(first) == horn.resonator.lowered(second)
    here, there = (_notes(valves, horn, limits, key, plain) for valves in (first, second))
    pairs = [(a, b) for a in here for b in there if (a == b if alike else 0 < abs(a.midi - b.midi) <= limits.leap)]
    cells = []
    for a, b in sorted(pairs, key=lambda pair: _ease(pair[0], pair[1], limits)):
        # On one note both are told every time, or the way back would have to be guessed.
        printed = (first, second) if a == b else tuple(_printed(*way, horn) for way in ((a, first), (b, second)))
        cells.append(FingerCell(key, (a, b, a, b), (*printed, *printed), (first, second, *printed)))
    yield from sorted(cells, key=lambda cell: _rank(_partials(cell, horn)))


def _ease(a: Pitch, b: Pitch, limits: Limits) -> tuple[int, float]:
    return abs(a.midi - b.midi) // 3, abs((a.midi + b.midi) / 2 - centre(limits))


def _notes(valves: str, horn: Horn, limits: Limits, key: Key, plain: bool) -> list[Pitch]:
    """Return the notes that a valve set fingers: usually, or, for a set that is no note's usual one, at all."""
    notes = [spelled_in(midi, key) for midi in range(limits.low.midi, limits.high.midi + 1)]
    known = [note for note in notes if not plain or note.alter == key.alteration(note.step)]
    common = [note for note in known if _usual(note, horn) == valves]
    return common or [note for note in known if _reachable(note, valves, horn)]


def crosses(cell: FingerCell, horn: Horn) -> bool:
    """Tell whether the first two notes of a cell over a change lie on two partials, so that the lips move too."""
    return len(set(_partials(cell, horn))) > 1


def _partials(cell: FingerCell, horn: Horn) -> list[int]:
    """Return the partials of the first two notes of a cell over a change."""
    told = zip(cell.pitches, cell.begun, strict=False)
    return [way.partial for note, valves in told for way in fingerings(note, horn) if way.valves == valves][:2]


def _rank(partials: Sequence[int]) -> int:
    """Order cells over a change: on one partial, on two, under the staff."""
    return 2 if min(partials, default=_LOWEST) <= _LOWEST else int(len(set(partials)) > 1)


def valves_moved(pitches: Sequence[Pitch], horn: Horn) -> frozenset[str]:
    """Return the valves, or the positions of the slide, that change from note to note in the usual fingerings."""
    held = [frozenset(_usual(pitch, horn).split("-")) - {"0", ""} for pitch in pitches]
    return frozenset(valve for one, other in pairwise(held) for valve in one ^ other)


def unmoved(pitches: Sequence[Pitch], horn: Horn) -> int:
    """Return from how many notes to another one no finger or slide moves, in the usual fingerings."""
    return sum(one != other and _usual(one, horn) == _usual(other, horn) for one, other in pairwise(pitches))


def _reachable(note: Pitch, valves: str, horn: Horn) -> bool:
    ways = (way for way in fingerings(note, horn) if way.valves == valves and not way.kind)
    return any(way.partial not in RARE_PARTIALS for way in ways)


def _usual(note: Pitch, horn: Horn) -> str:
    way = usual(note, horn)
    return way.valves if way and not way.kind else ""


def _printed(note: Pitch, valves: str, horn: Horn) -> str:
    return "" if _usual(note, horn) == valves else valves
