"""Where a line of tonguing lies: on a note of its key's chord, in the register or near it, the widest that fits."""

from collections.abc import Iterator
from functools import lru_cache

from generators.errors import Refusal
from generators.phrase.algebra import mapped, notes, shifted
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Phrase
from generators.phrase.study import Limits
from generators.studies.kit.fit import NoFit, inside, leap
from generators.studies.kit.registers import band
from generators.studies.tonguing.lying import comes_home, line_middle
from generators.studies.tonguing.tongues import TONGUING_LINES
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# The degrees of the tonic chord, 0 the tonic.
_CHORD = (0, 2, 4)
# How far off its place a line may begin on another degree than the tonic: half-steps that the fifth and the third cost, and so
# many times as much where the line goes on from there, and would end without its tonic: our choice.
_ROOTS, _GOING = {0: 0, 4: 2, 2: 4}, 5


@lru_cache(maxsize=512)
def line_seated(pattern: str, size: int, key: Key, register: str, limits: Limits, *, rooted: bool = False) -> Phrase[Pitch]:
    """Return the widest line of a pattern that fits, where it lies nearest the register; `rooted`, the widest on a tonic."""
    low, high = band(limits, register)
    for sketch in TONGUING_LINES[pattern][size]:
        bare = degrees(sketch.replace("|", " "))
        moved = {index: _moved(bare, index) for index in _near(bare, key, limits)}
        seats = {index: in_key(line, key, 4) for index, line in moved.items() if _rests_on_its_chord(line)}
        fitting = {i: line for i, line in seats.items() if comes_home(line) and _playable(line, limits)}
        fitting = {i: line for i, line in fitting.items() if not rooted or i % 7 == 0}
        if fitting:
            weight = 1 if len({note.pitch for note in notes(bare)}) == 1 else _GOING
            near = {i: abs(line_middle(line) - (low + high) / 2) + weight * _ROOTS[i % 7] for i, line in fitting.items()}
            return fitting[min(near, key=lambda i: near[i])]
    if rooted:
        return line_seated(pattern, size, key, register, limits)
    where = f"between {limits.low} and {limits.high} in {key.pretty}"
    raise NoFit(Refusal("tonguing", None, f"finds no room for the pattern {pattern} {where}"))


def _moved(bare: Phrase[Degree], index: int) -> Phrase[Degree]:
    """Return a line begun on another note of the tonic chord: moved along the scale, or along the chord if all of it is."""
    if not all(note.pitch.index % 7 in _CHORD for note in notes(bare)):
        return shifted(bare, index)
    first = _on_chord(index)
    return mapped(bare, lambda degree: _of_chord(_on_chord(degree.index) + first))


def _on_chord(index: int) -> int:
    """Return which note of the tonic chord a degree is, counted from the root."""
    return _CHORD.index(index % 7) + len(_CHORD) * (index // 7)


def _of_chord(place: int) -> Degree:
    octave, which = divmod(place, len(_CHORD))
    return Degree(_CHORD[which] + 7 * octave)


def _rests_on_its_chord(line: Phrase[Degree]) -> bool:
    """Tell whether what will be held of a line, its landings, belongs to the tonic chord."""
    size = max(2, (len(line) - 3) // 6)
    return all(line[place].pitch.index % 7 in _CHORD for place in (0, size, 2 * size + 1, -1))  # type: ignore[union-attr]


def _playable(line: Phrase[Pitch], limits: Limits) -> bool:
    return inside(line, limits) and leap(line) <= limits.leap


def _near(bare: Phrase[Degree], key: Key, limits: Limits) -> Iterator[int]:
    """Yield the notes of the tonic chord where a line may begin and lie in the range, a half-step on either side for minor."""
    lowest, highest = min(note.pitch.index for note in notes(bare)), max(note.pitch.index for note in notes(bare))
    for index in (7 * octave + degree for octave in range(-3, 3) for degree in _CHORD):
        low, high = key.degree(lowest + index).midi, key.degree(highest + index).midi
        if low >= limits.low.midi - 1 and high <= limits.high.midi + 1:
            yield index
