"""The music of a lip slur on one tube: its loops from slow to quick, slurred, breathed and spelled."""

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from math import lcm

from generators.brass.horn import Horn
from generators.brass.tube import partial_pitch
from generators.phrase.algebra import length, line, mapped, notes, on, slurred, then
from generators.phrase.bars import WALTZ, Meter
from generators.phrase.note import Phrase
from generators.studies.slurs.paths import Loop, Stage
from generators.theory.pitch import Pitch

# Values past this are quick, and none of them is heard but once: our choice.
_SLOW, _TWICE = 4, 2
# A loop of so many notes has room to swell: our choice.
_SWELLING = 4


def slur_music(stage: Stage, tube: str, meter: Meter, horn: Horn, beats: float, *, level: bool = False) -> Phrase[Pitch]:
    """Return what a tube plays, from its slowest loop down to its last long note.

    The slowest comes home to a long note before it breathes; each two after it that end on the same note go on to one together
    if a breath of so many beats is enough for that, else each of them comes home.
    """
    groups = [_homeward(levels, meter) for levels in _together(stage)]
    if max(float(4 * length(group)) for group in groups[1:] or groups) > beats:
        groups = [_homeward((each,), meter) for each in stage]
    swells = not level and len(stage[0][0]) >= _SWELLING and stage[0][1] <= _SLOW
    return mapped(_marked(groups, swells=swells), partial(partial_pitch, horn, tube))


def _together(stage: Stage) -> list[Stage]:
    """Return the slowest level of a stage, then each two that end on the same note, and what is left over."""
    groups = [stage[:1]]
    for level in stage[1:]:
        if len(groups) > 1 and len(groups[-1]) == 1 and groups[-1][0][0][0] == level[0][0]:
            groups[-1] = (*groups[-1], level)
        else:
            groups.append((level,))
    return groups


def _homeward(levels: Stage, meter: Meter) -> Phrase[int]:
    """Return levels in one go, the last of them home to a long note."""
    return then(*(_level(loop, value, meter) for loop, value in levels), line([levels[-1][0][0]], [meter.bar]))


def _level(loop: Loop, value: int, meter: Meter) -> Phrase[int]:
    """Return the loop in one note value, as often as it takes to end with a bar, a quick one twice at the least."""
    each = Fraction(3, 4) if value == 2 and meter == WALTZ else Fraction(1, value)
    count = lcm(len(loop), int(meter.bar / each))
    count *= _TWICE if value > _SLOW and count == len(loop) else 1
    return line([loop[i % len(loop)] for i in range(count)], [each] * count)


def _marked(groups: Sequence[Phrase[int]], *, swells: bool) -> Phrase[int]:
    """Return groups slurred, each with a breath after it; the slow one may swell to its top, the others are soft: no louder."""
    slow, *quick = (on(slurred(group), -1, breath=True) for group in groups)
    pitches = [note.pitch for note in notes(slow)]
    top = pitches.index(max(pitches[:-1]))
    if not (swells and 0 < top < len(pitches) - 1):
        return on(then(slow, *quick), 0, dynamic="p")
    swelled = on(on(on(slow, 0, dynamic="p", hairpin="<"), top, dynamic="mp", hairpin=">"), -1, dynamic="p")
    return then(swelled, *quick)
