"""What is written over the line of an etude: breaths at the ends of phrases, and dynamics that follow it."""

from dataclasses import replace
from fractions import Fraction
from itertools import accumulate

from generators.phrase.algebra import notes, on
from generators.phrase.bars import Meter
from generators.phrase.note import Phrase, Rest
from generators.studies.etude_bars import Written
from generators.theory.pitch import Pitch


def marked(part: Written, meter: Meter, dynamics: tuple[str, str, str], last: bool) -> Phrase[Pitch]:
    """Return a sentence with its breaths and dynamics; the last of all slows and ends without a breath."""
    return _dynamics(_breaths(part.music(meter), part, last), part, dynamics, last)


def _breaths(music: Phrase[Pitch], part: Written, last: bool) -> Phrase[Pitch]:
    """Breathe after four bars, after two where the air is short, and after the cadence."""
    ends = [end - 1 for end in accumulate(part.counts)]
    for bar in (1, 5):
        long = part.values[ends[bar]] >= Fraction(1, 4)
        music = on(music, ends[bar], may_breathe=True) if long else music
    music = on(music, ends[3], breath=True)
    return music if last or isinstance(music[-1], Rest) else on(music, -1, breath=True)


def _dynamics(music: Phrase[Pitch], part: Written, dynamics: tuple[str, str, str], last: bool) -> Phrase[Pitch]:
    """Begin, grow from the fifth bar (or toward the climax) to the highest note, and give way to the cadence."""
    start, height, climax = dynamics
    first = height if last and part.plan.climax < 0 else start
    heights = [heard.index for heard in part.line]
    grow = sum(part.counts[: max(1, part.plan.climax - 2) if part.plan.climax > 0 else 4])
    summit = heights.index(max(heights[grow:]), grow)
    loud = climax if part.plan.climax >= 0 else height
    fall = sum(part.counts[:6 if part.plan.climax < 6 else 7])
    music = on(music, 0, dynamic=first)
    music = on(music, grow, hairpin="<") if summit > grow + 1 and loud != first else music
    music = on(music, summit, dynamic=loud) if loud != first else music
    return on(music, max(fall, summit + 1), hairpin=">", text="rit." if last else "")
