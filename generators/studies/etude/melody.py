"""The line of a phrase: the cheapest of many ways through its chords and rhythm, with a little chance at every note."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache, partial
from math import log
from operator import itemgetter
from typing import NamedTuple

from generators.chance import Dice
from generators.studies.etude.harmony import ChordSound, Tone, neighbours, tones

# Every cost in this file is our choice, without a source: set by ear against the tunes that came of it. Only their order means
# anything; NEVER is past any sum of the others.
NEVER = 1000.0
# Melodic intervals that sing: steps of the staff with the half-steps they may have.
SINGING = {0: (0,), 1: (1, 2), 2: (3, 4), 3: (5,), 4: (7,), 5: (8, 9), 7: (12,)}
OFF, BEAT, BAR = 0, 1, 2
# How many ways are followed at once; how much chance has to say; how strongly a line is drawn to its height.
_FOLLOWED, _CHANCE, _PULL = 9, 0.15, 0.14
# What a note outside the chord costs off the beat, on it and on the bar, and if it is long.
_OUTSIDE, _LONG = (0.5, 1.7, 4.0), 2.5
# What it costs to come straight back to a note, and to leave one that is foreign to home but by step; what it is worth that the
# leading note sounds over a dominant of minor, and that a tune begins with a leap up.
_BACK, _FOREIGN, _SHARP, _RISING = 0.8, 2.5, 0.7, 0.8
# What it costs to move a bar by so many steps the way that is meant, and otherwise; what each step costs by which notes that
# lead into a phrase stay from its first one.
_SHIFTED, _UNMOVED, _LEADS = {1: 0.0, 2: 0.0, 3: 0.7, 4: 1.4}, 8.0, 2.0
# What it costs that a minor line has both its sevenths within a few notes.
_CROSSED = 6.0
# What it costs to leave the seventh degree, come to from below, but by step up, and to strike two pairs in a row; what a
# neighbour outside the key is worth.
_HUNG, _PAIRED, _SPICE = 2.5, 1.8, 0.6
# What it costs to close on the note before.
_ARRIVED = 1.5
# What it costs to strike a note again on a beat.
_STRUCK = 0.2
_SEVENTH, _SIXTH, _FIFTH = 6, 5, 4
# What a leading note before a breath costs at the most that is not led on.
_HELD = 6.0
_FOURTH, _WIDE = 3, 5
# What a move costs at the least that is never made.
_NO_MOVE = NEVER / 2
_COST = itemgetter(0)
# Where no move stands in a row of moves; in so many notes a natural seventh is near a raised one.
_HERE, _SOON = 7, 5
# Past every MIDI number.
_MIDI = 128


class NoteSlot(NamedTuple):
    """A note before it has a pitch."""

    sound: ChordSound
    weight: int
    """Off the beat, on it, or on the first of the bar."""
    long: bool
    """Whether it is held: no dissonance rests there."""
    quick: bool
    """Whether it is too quick for a leap."""
    goal: float
    """The staff place near which the line goes by."""
    model: int = 0
    """The staff place of the note in another phrase that it answers; 0 for none."""
    came: int = 0
    """The move that led to that one."""
    twin: int = -1
    """The note, counted in its own phrase, that it answers."""
    way: int = 0
    """Whether its bar is another one moved up, 1, or down, -1."""
    begins: bool = False
    """Whether that bar begins with it: it is how far the bar is moved."""
    echo: float = 0.5
    """How much it is worth that its move is that of the note it answers."""
    fixed: int = 0
    """The staff place that it has, if it is said again; 0 for any."""
    ends: tuple[int, ...] = ()
    """The degrees that it may have; empty for any."""
    fresh: bool = False
    """Whether a breath comes before it."""
    strict: float = 0.0
    """What a note outside the chord costs more than elsewhere."""
    new: bool = False
    """Whether it is an ornament: it does not strike the note before it again."""
    rises: bool = False
    """Whether a tune is begun here, best by a leap up."""
    calls: bool = False
    """Whether it is an upbeat that a phrase begins with: the fifth is best."""
    toward: int = 0
    """The staff place that it leads to, if it leads into another phrase; 0 for none."""
    tied: bool = False
    """Whether a slur goes to it: it is another note than the one before."""
    crest: bool = False
    """Whether it is the highest note of the tune: the line rises to it."""
    spiced: bool = False
    """Whether it may be a neighbour outside the key."""
    near: bool = False
    """Whether a close is near: nothing falls by a sixth or more."""
    reach: int = 7
    """How many steps the move to it has at the most, where no breath comes before it."""


@dataclass(frozen=True, slots=True)
class LineCompass:
    """Where a line may move: its lowest and highest MIDI number, its widest leap in half-steps, what its moves cost."""

    low: int
    high: int
    leap: int
    signature: tuple[int, ...]
    """What home does to each step, from C to B."""
    moves: tuple[float, ...]
    """By steps of the staff, from an octave down to an octave up; NEVER for what it does not do."""
    gentle: bool = False
    """Whether it leaps as a beginner does."""


class _Alone(NamedTuple):
    """What of a slot says which notes it may have, and what each costs by itself, but for its height."""

    sound: ChordSound
    fixed: int
    ends: tuple[int, ...]
    weight: int
    long: bool
    strict: float
    calls: bool
    toward: int
    crest: bool
    spiced: bool


class _Onto(NamedTuple):
    """What of a slot says what a move to it costs, from whatever note to whatever other."""

    fresh: bool
    free: bool
    """Whether it may have any staff place."""
    closes: bool
    """Whether it may have a few degrees alone."""
    crest: bool
    near: bool
    tied: bool
    quick: bool
    rises: bool
    long: bool
    new: bool
    beaten: bool
    """Whether it is on a beat."""
    reach: int


class _Heard(NamedTuple):
    """A note, and all of it that ways ask again and again."""

    tone: Tone
    place: int
    midi: int
    seventh: bool
    sinks: bool
    here: int
    """A number for where it is and all that a move to it is judged by: with that of the note before, one for the move."""
    gone: int
    """That number of the note before: for where it is, and all that a move from it is judged by."""


_Path = tuple[_Heard, ...]
LineWay = tuple[float, _Path]
# What a note costs by itself but for its height and chance, and what it is worth that it is outside the key.
_Found = tuple[float, float, _Heard]
# What it costs in all, and its number as one that is moved to.
_Offer = tuple[float, int, _Heard]
# How a line goes on: what it costs whatever came before, to which note, the place of its move in a row of moves, and a number
# for the last two notes.
_Step = tuple[float, _Heard, int, int]
# What moves cost, and their places in a row of moves, by the numbers of their two notes; nothing for what is not sung.
_Moves = dict[int, tuple[float, int] | tuple[()]]
# What each move costs, from an octave down to an octave up.
_Row = tuple[float, ...]


def costs(shares: dict[int, float]) -> tuple[float, ...]:
    """Return what moves cost that are made so often: steps rather fall, leaps rather rise."""
    whole = {steps: -log(share / (2 if steps else 1)) for steps, share in shares.items() if share}
    return tuple(whole.get(abs(move), NEVER) + _leaning(move) for move in range(-7, 8))


def drawn(slots: Sequence[NoteSlot], compass: LineCompass, before: Tone | None, dice: Dice) -> tuple[Tone, ...]:
    """Return a line through the slots, after the last note of the phrase before; nothing where there is none that sings."""
    ways: list[LineWay] = [(0.0, ())]
    # The phrase before is heard but as its last note.
    first = (_heard(before, compass.signature),) if before else ()
    kept = _kept_moves(compass.moves, compass.leap, compass.gentle)
    for slot in slots:
        found = _offered(_alone(slot), compass.low, compass.high, compass.signature)
        chances = dice.reals(len(found))
        if ways:
            onto = _onto(slot)
            steps = partial(_steps, onto, kept.setdefault(onto, {}), compass)
            ways = _led_on(ways, first, slot, steps, _offers(found, slot.goal, chances), compass.gentle)
    return tuple([one.tone for one in ways[0][1]]) if ways and ways[0][0] < NEVER / 2 else ()


def _led_on(
    ways: Sequence[LineWay],
    first: _Path,
    slot: NoteSlot,
    steps: Callable[[_Heard, Sequence[_Offer]], list[_Step]],
    offers: Sequence[_Offer],
    gentle: bool,
) -> list[LineWay]:
    """Return the cheapest ways with a note more; of those that have their last two notes in common, one."""
    reached: dict[int, list[_Step]] = {}
    best: dict[int, tuple[float, _Path, _Heard]] = {}
    minor = slot.sound.key.mode == "minor"
    for cost, path in ways:
        came = path or first
        key = came[-1].midi if came else 0
        if key not in reached:
            reached[key] = steps(came[-1], offers) if came else _begun(offers)
        after = _after(came, path, slot, gentle)
        for step, one, at, ends in reached[key]:
            total = cost + step + after[at]
            if minor and one.sinks:
                total += _crossed(came)
            if ends not in best or total < best[ends][0]:
                best[ends] = total, path, one
    return [(total, (*path, one)) for total, path, one in sorted(best.values(), key=_COST)[:_FOLLOWED]]


def _begun(offers: Sequence[_Offer]) -> list[_Step]:
    """Return the notes that a tune may begin with."""
    return [(alone, one, _HERE, one.midi) for alone, _, one in offers]


def _crossed(came: _Path) -> float:
    return _CROSSED * any(one.tone.raised for one in came[-_SOON:])


def _after(came: _Path, path: _Path, slot: NoteSlot, gentle: bool) -> _Row:
    """Return what each move costs after those before it: where no leap follows another, that much.

    Where a note answers another its move is best.
    """
    leapt = gentle and len(came) > 1 and abs(came[-1].place - came[-2].place) >= _FOURTH
    row = _ANYWHERE if slot.fresh or len(came) < 2 else _gone_on(came)
    if came and (slot.model or slot.twin >= 0):
        if slot.begins:
            return _shifting(row, came[-1].place - (slot.model or path[slot.twin].place), slot.way, leapt)
        if not slot.fresh and (slot.model or slot.twin > 0):
            answer = slot.came if slot.model else path[slot.twin].place - path[slot.twin - 1].place
            return _answering(row, answer, slot.echo, leapt)
    return _calmed(_ROWS[row]) if leapt else _ROWS[row]


def _gone_on(came: _Path) -> int:
    """Return the number of the row of moves after those before."""
    last, led = came[-1].place, came[-2].place
    before = last - led
    hangs = came[-1].seventh and before != -1
    third = came[-3].place if len(came) > 2 else -1
    return _row(before, third == last, third == led, hangs) if hangs or third in (last, led) else before + _HERE


def _offers(found: Sequence[_Found], goal: float, chances: Sequence[float]) -> list[_Offer]:
    """Return notes with what each costs, its height and chance included."""
    # Draws of Gumbel's distribution: the best of ways that cost alike is then each as often.
    return [
        (own + _PULL * (one.place - goal) ** 2 - worth + _CHANCE * log(-log((real + 1e-9) / (1 + 2e-9))), one.here, one)
        for (own, worth, one), real in zip(found, chances, strict=True)
    ]


def _alone(slot: NoteSlot) -> _Alone:
    spiced = slot.spiced and not slot.fixed
    own = slot.sound, slot.fixed, slot.ends, slot.weight, slot.long, slot.strict, slot.calls, slot.toward, slot.crest
    return _Alone(*own, spiced)


@lru_cache(maxsize=4096)
def _offered(slot: _Alone, low: int, high: int, signature: tuple[int, ...]) -> tuple[_Found, ...]:
    """Return the notes that a slot may have, with what each costs by itself and is worth outside the key: those last."""
    every = _all_heard(slot.sound, signature) if slot.crest else _heard_between(slot.sound, low, high, signature)
    fit = [one for one in every if not slot.fixed or one.place == slot.fixed]
    asked = [one for one in fit if not slot.ends or one.tone.degree in slot.ends]
    spice = [_heard(tone, signature) for tone in neighbours(slot.sound) if low <= tone.midi < high] if slot.spiced else []
    return (*((_own(one.tone, slot), 0.0, one) for one in asked), *((_own(one.tone, slot), _SPICE, one) for one in spice))


@lru_cache(maxsize=1024)
def _all_heard(sound: ChordSound, signature: tuple[int, ...]) -> tuple[_Heard, ...]:
    return tuple(_heard(tone, signature) for tone in tones(sound))


@lru_cache(maxsize=4096)
def _heard_between(sound: ChordSound, low: int, high: int, signature: tuple[int, ...]) -> tuple[_Heard, ...]:
    return tuple(one for one in _all_heard(sound, signature) if low <= one.midi <= high)


def _heard(tone: Tone, signature: tuple[int, ...]) -> _Heard:
    spot, seventh = tone.place * _MIDI + tone.midi, tone.degree == _SEVENTH
    foreign = tone.pitch.alter != signature[tone.place % 7] and not tone.raised
    onward = (tone.chordal, tone.raised, tone.sinks, seventh, foreign, tone.bends > 0, tone.bends < 0)
    here, gone = (sum(is_so << i for i, is_so in enumerate(facts)) for facts in ((tone.chordal, tone.bends != 0), onward))
    return _Heard(tone, tone.place, tone.midi, seventh, tone.sinks, spot + (here << 16), (gone << 18) - spot)


def _own(tone: Tone, slot: _Alone) -> float:
    outside = 0.0 if tone.chordal else slot.strict + _OUTSIDE[slot.weight] + (_LONG if slot.long else 0.0)
    resting = 6.0 if slot.long and tone.degree == _SEVENTH else 1.0 if slot.long and tone.degree == _SIXTH else 0.0
    resting -= 1.2 if slot.calls and tone.degree == _FIFTH else 0.0
    resting -= _SHARP if tone.raised and tone.chordal else 0.0
    resting += _HELD if slot.toward and (tone.raised or tone.bends) and slot.toward != tone.place + 1 else 0.0
    led = _LEADS * abs(abs(tone.place - slot.toward) - 1) if slot.toward else 0.0
    return outside + resting + led


def _steps(onto: _Onto, moves: _Moves, compass: LineCompass, last: _Heard, offers: Sequence[_Offer]) -> list[_Step]:
    """Return how a line goes on from the last note."""
    found, gone, base = [], last.gone, _MIDI * last.midi
    for alone, here, one in offers:
        move = moves.get(here + gone)
        if move is None:
            move = moves[here + gone] = _sung_move(last.tone, one.tone, onto, compass)
        # A move that may never be made costs that much, whatever it gains elsewhere.
        if move and (cost := alone + move[0]) < _NO_MOVE:
            found.append((cost, one, move[1], base + one.midi))
    return found


@lru_cache(maxsize=64)
def _kept_moves(_costs: tuple[float, ...], _leap: int, _gentle: bool) -> dict[_Onto, _Moves]:
    """Return where what moves cost is kept for all compasses that are alike in what it depends on."""
    return {}


def _onto(slot: NoteSlot) -> _Onto:
    return _Onto(
        slot.fresh,
        not slot.fixed,
        bool(slot.ends),
        slot.crest,
        slot.near,
        slot.tied,
        slot.quick,
        slot.rises,
        slot.long,
        slot.new,
        slot.weight > 0,
        slot.reach,
    )


def _sung_move(last: Tone, tone: Tone, onto: _Onto, compass: LineCompass) -> tuple[float, int] | tuple[()]:
    """Return what it costs to go on from the last note to the next, and the place of the move; nothing where none sings."""
    move = tone.place - last.place
    sings = tone.midi - last.midi in _sung(compass.leap).get(move, ())
    return (_move(last, tone, onto, compass), move + _HERE) if sings else ()


@cache
def _sung(leap: int) -> dict[int, tuple[int, ...]]:
    """Return the half-steps of the moves that sing and are no wider, up and down, by their steps."""
    ways = {steps: tuple(wide for wide in half_steps if wide <= leap) for steps, half_steps in SINGING.items()}
    both = {steps: (*half_steps, *(-wide for wide in half_steps)) for steps, half_steps in ways.items()}
    return both | {-steps: half_steps for steps, half_steps in both.items()}


def _move(last: Tone, tone: Tone, onto: _Onto, compass: LineCompass) -> float:
    """Return what it costs to go on from the last note to the next."""
    move = tone.place - last.place
    if compass.gentle and _rough(last, tone, onto):
        return NEVER
    usual = compass.moves[move + _HERE]
    if onto.fresh:
        return usual * 0.5 + (min(_leading(last, move), _HELD) if onto.free else 0.0)
    if (onto.crest and move < 1) or (onto.near and move <= -_WIDE) or (onto.tied and move in (-7, 0, 7)):
        return NEVER
    if tone.bends and not tone.chordal and move not in (-1, -2):
        return NEVER
    if move in (-1, 1):
        return usual + _leading(last, move)
    total = _leapt(usual, last, tone, onto) if move else _struck(usual, last, onto)
    total += _FOREIGN * (last.pitch.alter != compass.signature[last.place % 7] and not last.raised)
    return total + _leading(last, move)


def _rough(last: Tone, tone: Tone, onto: _Onto) -> bool:
    """Tell whether a beginner is spared a move: wide ones but from chord to chord, or to a close, a note after its breath."""
    wide = abs(tone.place - last.place) >= _FOURTH
    far = not onto.fresh and abs(tone.place - last.place) > onto.reach
    again = onto.fresh and last.place == tone.place
    return far or again or (wide and not (last.chordal and tone.chordal and not onto.closes))


def _leapt(total: float, last: Tone, tone: Tone, onto: _Onto) -> float:
    """Return what it costs to leap: more to a note outside the chord, and from one."""
    total += 0.0 if last.chordal else 4.0
    total += 0.0 if tone.chordal else 3.0
    total += 1.5 if onto.quick else 0.0
    return total - _RISING if onto.rises and tone.place > last.place else total


def _struck(total: float, last: Tone, onto: _Onto) -> float:
    """Return what it costs to strike a note again."""
    total += _ARRIVED if onto.closes and onto.free else 0.0
    total += 0.0 if last.chordal else 4.0
    total += 2.0 + 4.0 * onto.new if onto.long or onto.new else 0.0
    total += _STRUCK if onto.beaten else 0.0
    return total + 1.0 if onto.rises else total


def _leaning(move: int) -> float:
    """Return what the direction of a move costs: steps rather fall, leaps rather rise."""
    if abs(move) >= _FOURTH:
        return -0.3 if move > 0 else 0.4
    return 0.1 if move == 1 else -0.1 if move == -1 else 0.0


def _leading(last: Tone, move: int) -> float:
    """Return the cost of a leading note that does not lead, and of a minor seventh that goes up, or a sixth that does not."""
    if last.bends:
        return 0.0 if move == last.bends else 1.0 if move == 0 and last.chordal else NEVER
    if last.raised:
        return 0.0 if move == 1 else 3.0 if move == 0 and last.degree == _SEVENTH else NEVER
    if last.sinks and move == 1:
        return NEVER
    if last.degree == _SEVENTH:
        return 4.0 if move == 0 else 0.8 if move < -1 else 0.0
    return 0.0


def _onward(before: int, move: int, *, swings: bool, paired: bool, hung: bool) -> float:
    """Return what it costs to go on so after the move before: leaps turn back, no note is struck for ever, nothing swings.

    It swings where the move before came back to the note before it, or struck it for the third time; it is paired where the
    note before was struck again, and hung where the last note is a seventh degree that has to go up.
    """
    pairs, hangs = paired and before != 0 == move, hung and move not in (0, 1)
    return _turning(before, move, swings=swings) + _PAIRED * pairs + _HUNG * hangs


def _turning(before: int, move: int, *, swings: bool) -> float:
    """Return what it costs to turn so after the move before."""
    wide, same = abs(before), before * move > 0
    if before == 0 and move == 0:
        return 20.0 if swings else 2.5
    if wide >= _WIDE:
        return 6.0 if same or move == 0 else 0.0 if abs(move) == 1 else 1.0
    if wide >= _FOURTH:
        return (3.0 if abs(move) > 1 else 0.8) if same else 0.0
    if wide == 2 and same and abs(move) >= _FOURTH:
        return 2.5
    if move == -before:
        return 3.0 if swings else _BACK * wide
    return 0.0


def _row(before: int, swings: bool, paired: bool, hung: bool) -> int:
    """Return the number of a row: what moves cost after the one before."""
    return before + _HERE + len(_REACH) * (swings + 2 * paired + 4 * hung)


@cache
def _shifting(row: int, level: int, way: int, leapt: bool) -> _Row:
    """Return a row where a bar is moved that lies so many steps over the other one."""
    shifted = (_SHIFTED.get((level + move) * way, _UNMOVED) for move in _REACH)
    made = tuple(cost + more for cost, more in zip(_ROWS[row], shifted, strict=True))
    return _calmed(made) if leapt else made


@cache
def _answering(row: int, answer: int, echo: float, leapt: bool) -> _Row:
    """Return a row where a move that answers is best."""
    made = tuple(cost + (-echo if move == answer else echo / 3) for move, cost in zip(_REACH, _ROWS[row], strict=True))
    return _calmed(made) if leapt else made


@cache
def _calmed(row: _Row) -> _Row:
    """Return a row without leaps."""
    return tuple(NEVER if abs(move) >= _FOURTH else cost for move, cost in zip(_REACH, row, strict=True))


_REACH = range(-7, 8)
_FLAGS = (False, True)
# By their numbers.
_ROWS = (
    *(
        tuple(_onward(before, move, swings=swings, paired=paired, hung=hung) for move in _REACH)
        for hung in _FLAGS
        for paired in _FLAGS
        for swings in _FLAGS
        for before in _REACH
    ),
    (0.0,) * len(_REACH),
)
_ANYWHERE = len(_ROWS) - 1
