"""Where an etude lies on the horn: its highest note, kept for the climax, and the compass below it in each key."""

from collections.abc import Sequence

from generators.chance import pick
from generators.errors import Refusal
from generators.phrase.study import Limits
from generators.studies.etude.plan import NUMERALS, RAISED, Sentence
from generators.studies.etude.voice import SINGING, Ground
from generators.studies.kit.fit import NoFit
from generators.theory.key import Key

# A tune of a twelfth at the most, of a sixth at the least; the climax within a third of the top, if there is room below: our
# choice.
_COMPASS, _ROOMY, _NARROWEST, _NEAR_TOP = 19, 14, 4, 4
_OCTAVES = range(1, 8)


def widest_steps(leap: int) -> int:
    """Return the widest leap in scale steps that so many half-steps allow."""
    return max(steps for steps, sizes in SINGING.items() if max(sizes) <= leap or steps < 2)


def peak(plans: Sequence[Sentence], limits: Limits, seed: int) -> int:
    """Return the MIDI number of the climax: a note of its chord near the top of the range, never a raised one."""
    plan = next(plan for plan in plans if plan.climax >= 0)
    chord = plan.chords[plan.climax][0]
    steady = [d for d in NUMERALS[chord][:3] if d not in RAISED[plan.key.mode].get(chord, ())]
    notes = [plan.key.degree(degree, octave).midi for degree in steady for octave in _OCTAVES]
    inside = sorted(midi for midi in notes if limits.low.midi + 8 <= midi <= limits.high.midi)
    if not inside:
        where = f"finds no height for its climax between {limits.low} and {limits.high} in {plan.key.name}"
        raise NoFit(Refusal("etude", None, where))
    room = min(_NEAR_TOP, max(1, inside[-1] - limits.low.midi - _COMPASS + _NEAR_TOP))
    return pick([midi for midi in inside if midi > inside[-1] - room], seed, "peak")


def _may_rise(key: Key, degree: int) -> bool:
    return any(degree in degrees for degrees in RAISED[key.mode].values()) or (key.mode == "minor" and degree == 5)


def ground_of(plan: Sentence, top: int, limits: Limits, leap: int) -> Ground:
    """Return the ground of a sentence below the climax; refuses with NoFit where fewer than six notes are left.

    A sentence without the climax keeps a third away from it, where the range is wide enough.
    """
    key = plan.key
    floor = max(limits.low.midi, top - _COMPASS)
    away = 3 if plan.climax < 0 and top - floor > _ROOMY else 0
    octave = next(o for o in _OCTAVES if key.degree(0, o).midi >= floor)
    low = next(i for i in range(-7, 1) if key.degree(i, octave).midi >= floor)
    high = max(i for i in range(-7, 30) if key.degree(i, octave).midi + _may_rise(key, i % 7) < top - away)
    peaks = [i for i in range(high, high + 5) if key.degree(i, octave).midi == top]
    if high - low < _NARROWEST:
        where = f"finds fewer than six notes of {key.name} between {limits.low} and {limits.high} for a tune and its climax"
        raise NoFit(Refusal("etude", None, where))
    return Ground(key, octave, low, high, peaks[0] if peaks else high + 5, leap)
