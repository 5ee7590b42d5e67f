"""What is written over the line of an etude: breaths at the ends of phrases, and dynamics that follow it."""

from fractions import Fraction
from itertools import accumulate

from generators.phrase.algebra import on
from generators.phrase.bars import Meter
from generators.phrase.note import Phrase, Rest
from generators.studies.etude.bars import WrittenSentence
from generators.studies.etude.voice import ON_BEAT
from generators.theory.pitch import Pitch


def phrased(part: WrittenSentence, meter: Meter, dynamics: tuple[str, str, str], last: bool) -> Phrase[Pitch]:
    """Return a sentence with its breaths and dynamics; the last of all slows and ends without a breath."""
    return _dynamics(_breaths(part.music(meter), part, last), part, dynamics, last)


def _breaths(music: Phrase[Pitch], part: WrittenSentence, last: bool) -> Phrase[Pitch]:
    """Breathe after four bars, after two where the air is short, and after the cadence."""
    ends = [end - 1 for end in accumulate(part.counts)]
    for bar in (1, 5):
        long = part.values[ends[bar]] >= Fraction(1, 4)
        music = on(music, ends[bar], may_breathe=True) if long else music
    music = on(music, ends[3], breath=True)
    return music if last or isinstance(music[-1], Rest) else on(music, -1, breath=True)


def _dynamics(music: Phrase[Pitch], part: WrittenSentence, dynamics: tuple[str, str, str], last: bool) -> Phrase[Pitch]:
    """Begin, grow from the fifth bar (or toward the climax) to the height of the sentence, and give way to the cadence."""
    start, height, climax = dynamics
    first, loud = (height, height) if last and part.plan.climax < 0 else (start, climax if part.plan.climax >= 0 else height)
    grow, summit, fall = _turns(part)
    music = on(music, 0, dynamic=first)
    if loud != first:
        music = on(music, summit, dynamic=loud)
        music = on(music, grow, hairpin="<") if grow < summit - 1 else music
    if fall < len(part.line) - 1:
        music = on(on(music, fall, hairpin=">"), -1, hairpin=".")
    return on(music, sum(part.counts[:6]), role="slowing") if last else music


def _turns(part: WrittenSentence) -> tuple[int, int, int]:
    """Return the notes where a sentence begins to grow, is at its height (on a beat) and begins to fall."""
    climax = part.plan.climax
    grow = sum(part.counts[: 1 if 0 < climax < 4 else 4])
    heights = [heard.step for heard in part.line]
    top = heights.index(max(heights[grow:]), grow)
    summit = max((i for i in range(grow, top + 1) if part.line[i].spot.weight >= ON_BEAT), default=top)
    fall = max(sum(part.counts[: max(6, climax + 1)]), top + 1)
    return grow, summit, min(fall, len(heights) - 1)
