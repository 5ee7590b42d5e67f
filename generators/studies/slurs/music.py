"""The music of a lip slur on one tube: its loops from slow to quick, slurred, breathed and spelled."""

from fractions import Fraction
from functools import partial
from itertools import accumulate
from math import lcm

from generators.brass.horn import Horn
from generators.brass.tube import partial_pitch
from generators.phrase.algebra import line, mapped, on, slurred, then
from generators.phrase.bars import WALTZ, Meter
from generators.phrase.note import Phrase
from generators.studies.slurs.paths import Loop, Stage
from generators.theory.pitch import Pitch

# There is time for a breath only after a quarter or longer.
_BREATH_AFTER, _HOME_AFTER = Fraction(1, 4), Fraction(1, 2)


def slur_music(stage: Stage, swell: bool, tube: str, meter: Meter, horn: Horn) -> Phrase[Pitch]:
    """Return what a tube plays, from its slowest loop down to its last long note."""
    parts = [_level(loop, value, meter) for loop, value in stage]
    if len(parts) > 1 and (len(stage[0][0]) > 2 or parts[0][-1].length < _HOME_AFTER):
        # A loop that leads away, or that is quicker than halves, comes home to a long note before it breathes.
        parts[0] = then(parts[0], line([stage[0][0][0]], [meter.bar]))
    phrase = then(*parts, line([stage[-1][0][0]], [meter.bar]))
    return mapped(_marked(phrase, [len(part) for part in parts], swell), partial(partial_pitch, horn, tube))


def _level(loop: Loop, value: int, meter: Meter) -> Phrase[int]:
    """Return the loop in one note value, as often as it takes to end with a bar."""
    length = Fraction(3, 4) if value == 2 and meter == WALTZ else Fraction(1, value)
    count = lcm(len(loop), int(meter.bar / length))
    if value == 2 and count * length == meter.bar:
        count *= 2
    return line([loop[i % len(loop)] for i in range(count)], [length] * count)


def _marked(phrase: Phrase[int], sizes: list[int], swell: bool) -> Phrase[int]:
    """Return the strain slurred: the slowest level for itself with a breath, the quicker ones on to the long note."""
    first = sizes[0] if len(sizes) > 1 else 0
    slow, quick = phrase[:first], slurred(phrase[first:])
    for end in accumulate(sizes[1:-1]):
        quick = on(quick, end - 1, may_breathe=quick[end - 1].length >= _BREATH_AFTER)
    quick = on(
        on(quick, 0, dynamic="mp" if first else "mf", hairpin="<" if swell else ""),
        -1,
        hairpin="." if swell else "",
        breath=True,
    )
    return then(on(on(slurred(slow), 0, dynamic="p"), -1, breath=True), quick) if slow else quick
