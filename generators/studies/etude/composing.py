"""Composing a tune: phrase by phrase, of a few drafts of each the one with the least amiss."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from itertools import accumulate, pairwise

from generators.chance import Dice
from generators.studies.etude.contour import burden
from generators.studies.etude.faults import faults
from generators.studies.etude.forms import PhrasePlan, TuneForm
from generators.studies.etude.freshness import plainness, wear
from generators.studies.etude.manner import Manner, drawn_manner
from generators.studies.etude.melody import NoteSlot, drawn
from generators.studies.etude.rhythm import stroke_values, turn
from generators.studies.etude.sketch import OPEN, Sketch, sketched
from generators.studies.etude.slots import DOMINANT, FULL_CLOSES, crowned, lowered, note_slots
from generators.studies.etude.tune import Setup, Tune, TunePhrase

# How often the leading note is asked for before a full close, in major and in minor: our choice.
_LED = (0.4, 1.0)
# What was said so many times again is ornamented so often when it comes once more: our choice.
_TWICE, _ORNAMENTED = 2, 0.9
# A tune that is not bold ends so many steps over the middle of its first phrase at the most, and a phrase that calls no more
# under its own; what more costs.
_OVER, _UNSETTLED = 1, 2.5
# What it costs to come home in minor without its leading note, and to the last note without one of the dominant's own.
_UNLED, _WEAK = 45.0, 20.0
_FIFTH, _SEVENTH = 4, 6
# What it costs to come to a note that asks otherwise than by step, and to one that was there just before.
_UNASKED, _SWUNG = 1.5, 2.0
# What each note more that is struck twice costs in a gigue, where one does no harm.
_SKIPPED = 4.0
# What leads back ends within so many steps of the first note; what each more costs.
_NEAR, _LEADS_AWAY = 3, 3.0
# How many drafts of a phrase are drawn; the one with the least amiss goes on; and how many rhythms
# each is chosen from. Our choice.
_TRIES, _SKETCHES = 8, 3
# What a fault costs, more than anything else.
_FAULT = 20.0
_THREE_EIGHTHS = Fraction(3, 8)
# So many phrases are a theme.
_THEME = 2


def composed(setup: Setup, form: TuneForm, dice: Dice, *, strict: bool) -> Tune | None:
    """Return a tune as the dice fall; None where a phrase finds no line that sings, or a theme has faults if that is strict."""
    form = _varied(form, dice)
    manner = drawn_manner(setup, form, dice)
    phrases: list[TunePhrase] = []
    for plan in form.phrases:
        drafts = [draft for _ in range(_TRIES) if (draft := _written(plan, manner, phrases, dice)).line]
        if not drafts:
            return None
        phrases.append(min(drafts, key=partial(_amiss, before=phrases, manner=manner)))
        if strict and len(phrases) == _THEME and _left(phrases, manner) >= 1:
            return None
    return Tune(setup.kind, form, tuple(phrases), _left(phrases, manner))


def _left(phrases: Sequence[TunePhrase], manner: Manner) -> float:
    """Return how many faults are left in some phrases."""
    return sum(
        faults(one, phrases[:place], manner.setup) + _unled(one) + _weak(one, manner) for place, one in enumerate(phrases)
    )


def _varied(form: TuneForm, dice: Dice) -> TuneForm:
    """Return a form in which what has been said twice again is ornamented when it comes once more, most often."""
    plans = list(form.phrases)
    for place, plan in enumerate(form.phrases):
        said = sum(one.like == plan.like and one.theme == plan.theme for one in form.phrases[:place])
        if plan.course == "again" and said >= _TWICE and dice.chance(_ORNAMENTED):
            plans[place] = replace(plan, ornamented=True)
    return replace(form, phrases=tuple(plans))


def _amiss(phrase: TunePhrase, before: Sequence[TunePhrase], *, manner: Manner) -> float:
    """Return what is amiss with the line and the rhythm of a phrase."""
    crowns, kind = phrase.plan is manner.climax, manner.setup.kind
    line = burden(phrase.places, [one.places for one in before], crowns=crowns)
    unsettled = phrase.plan is manner.last and not kind.bold and phrase.places[-1] > _mean(before[0].places) + _OVER
    away = max(0, abs(phrase.places[-1] - before[0].places[0]) - _NEAR) if phrase.leads else 0
    unsettled = unsettled or (kind.chordal > 0 and phrase.places[-1] < _mean(phrase.places) - _OVER)
    own = _UNSETTLED * unsettled + _LEADS_AWAY * away + _UNLED * _unled(phrase) + _WEAK * _weak(phrase, manner)
    own += _asked_badly(phrase) if phrase.plan.cadence in OPEN and not kind.chordal else 0.0
    own += _SKIPPED * max(0, _pairs(phrase) - 1) if kind.meter.beat == _THREE_EIGHTHS else 0.0
    wrong = _FAULT * faults(phrase, before, manner.setup)
    return line + wear(phrase, before, float(kind.meter.bar)) + own + wrong


def _asked_badly(phrase: TunePhrase) -> float:
    """Return what it costs that a note that asks is not come to by step, or is swung back to."""
    before, led, last = phrase.places[: len(phrase.places) - phrase.leads][-3:]
    return _UNASKED * (abs(last - led) != 1) + _SWUNG * (before == last)


def _pairs(phrase: TunePhrase) -> int:
    """Return how many notes are struck again."""
    return sum(a == b for a, b in pairwise(phrase.places))


def _unled(phrase: TunePhrase) -> bool:
    """Tell whether a phrase comes to rest in minor, at home or away, without its leading note in its last two bars."""
    ends = [stroke for bar in phrase.bars[-2:] for stroke in bar if not stroke.rest]
    full = phrase.plan.cadence in FULL_CLOSES and phrase.chords[-1][-1].key.mode == "minor"
    return full and not any(tone.raised for tone in phrase.line[-len(ends) :])


def _weak(phrase: TunePhrase, manner: Manner) -> bool:
    """Tell whether neither of the two notes before the last one of all is the fifth or the leading note; a beginner may step.

    A lament comes down to its last note too.
    """
    if phrase.plan is not manner.last or manner.setup.beginner:
        return False
    *led, last = phrase.line[-3:]
    own = any(tone.degree in (_FIFTH, _SEVENTH) and not tone.sinks for tone in led)
    return (
        not own
        or not _dominates(phrase, manner)
        or (manner.setup.kind.minor and all(tone.place != last.place + 1 for tone in led))
    )


def _dominates(phrase: TunePhrase, manner: Manner) -> bool:
    """Tell whether a note of the dominant stands on a strong beat of the last bar but one: its first or its middle one."""
    bar, meter = phrase.bars[-2], manner.setup.kind.meter
    starts = (onset for onset, stroke in zip(accumulate([0.0, *stroke_values(bar)]), bar, strict=False) if not stroke.rest)
    ends = sum(not stroke.rest for stroke in phrase.bars[-1])
    heard = phrase.line[-ends - sum(not stroke.rest for stroke in bar) : -ends]
    return any(
        onset in (0, float(turn(meter))) and tone.degree in DOMINANT and not tone.sinks
        for onset, tone in zip(starts, heard, strict=True)
    )


def _mean(places: Sequence[int]) -> float:
    return sum(places) / len(places)


def _plain(sketch: Sketch, bar: float) -> float:
    return plainness([one.strokes for one in sketch.bars], bar)


def _written(plan: PhrasePlan, manner: Manner, before: Sequence[TunePhrase], dice: Dice) -> TunePhrase:
    """Return a phrase after those before it; without a line where none sings."""
    sketches = [sketched(plan, manner, before, dice) for _ in range(_SKETCHES)]
    sketch = min(sketches, key=partial(_plain, bar=float(manner.setup.kind.meter.bar)))
    led = dice.chance(_LED[sketch.chords[-1][-1].key.mode == "minor"])
    low = lowered(manner.setup.compass)
    after = before[-1].line[-1] if before else None
    line = next((found for slots in _ways(sketch, manner, led, dice) if (found := drawn(slots, low, after, dice))), ())
    bars = tuple(bar.strokes for bar in sketch.bars)
    return TunePhrase(plan, manner.upbeat, bars, sketch.chords, line, sketch.halved, sketch.leads)


def _ways(sketch: Sketch, manner: Manner, led: bool, dice: Dice) -> Iterator[list[NoteSlot]]:
    """Yield the slots of a phrase as they are best, then as they may be: led to or not, a beginner's without the height."""
    crowns = sketch.plan is manner.climax
    for way in (led, False)[not led :]:
        slots = list(note_slots(sketch, manner, led=way))
        yield crowned(slots, manner.setup.compass, dice) if crowns else slots
        if crowns and manner.setup.beginner:
            yield [slot._replace(crest=False) for slot in slots]
