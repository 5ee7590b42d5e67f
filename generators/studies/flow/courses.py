"""The course of a flow line, drawn before its first note: how far it goes, where it turns and rests, the rhythms of its bars.

All of it is ours, made of the trade's common stock. Degrees count from the tonic: 0 the tonic, 7 its octave, -1 the note below.
"""

from dataclasses import dataclass

from generators.chance import number, pick

# Note values by what a bar does.
Rhythms = dict[str, tuple[str, ...]]

# From wide to narrow; six-notes and five-notes stay between the tonic and the sixth or fifth over it, a first-year player's
# whole horn, three-notes between the tonic and the third, his first.
FLOW_COMPASSES = ("octave", "fifth", "third", "six-notes", "five-notes", "three-notes")
FLOW_LENGTHS = ("4", "8", "12")
FLOW_METERS: dict[str, tuple[int, int]] = {"dip": (4, 4), "arch": (4, 4), "wave": (4, 4), "widening": (4, 4), "lean": (3, 4)}
# shape -> compass -> the lowest and the highest degree of a line, the widest way first: octaves may cross two registers.
FLOW_REACH: dict[str, dict[str, tuple[tuple[int, int], ...]]] = {
    "dip": {
        "octave": ((-7, 2), (-7, 1)),
        "fifth": ((-3, 2),),
        "third": ((-2, 2),),
        "six-notes": ((0, 5),),
        "five-notes": ((0, 4),),
        "three-notes": ((0, 2),),
    },
    "arch": {
        "octave": ((-3, 7), (-1, 7)),
        "fifth": ((-1, 4),),
        "third": ((-1, 2),),
        "six-notes": ((0, 5),),
        "five-notes": ((0, 4),),
        "three-notes": ((0, 2),),
    },
    "wave": {
        "octave": ((-7, 7), (-3, 7)),
        "fifth": ((-3, 4),),
        "third": ((-2, 2),),
        "six-notes": ((0, 5),),
        "five-notes": ((0, 4),),
        "three-notes": ((0, 2),),
    },
    "widening": {
        "octave": ((-3, 7), (-1, 7)),
        "fifth": ((-1, 4),),
        "third": ((-1, 2),),
        "six-notes": ((0, 5),),
        "five-notes": ((0, 4),),
    },
    "lean": {
        "octave": ((-3, 8), (-1, 8), (-1, 7)),
        "fifth": ((-1, 5),),
        "third": ((-1, 3),),
        "six-notes": ((0, 5),),
        "five-notes": ((0, 4),),
    },
}
# Rhythms of a bar by what it does: begin a phrase, go on, turn on its first note, rest, come home. A line of a third, of five
# or of three notes has no eighths.
_MOVING: dict[tuple[int, int], Rhythms] = {
    (4, 4): {
        "first": ("2 4 4", "4 4 4 4", "2 4 8 8", "4. 8 4 4", "4 8 8 4 4", "2 8 8 4"),
        "onward": ("4 4 4 4", "4 8 8 4 4", "4. 8 4 4", "8 8 8 8 2", "4 4 8 8 4", "8 8 8 8 4 4"),
        "turn": ("2. 4", "2 4 4", "2 8 8 4", "2 4 8 8"),
        "rest": ("2 2", "4 4 2", "8 8 4 2", "4 8 8 2"),
        "home": ("1",),
    },
    (3, 4): {
        "first": ("2 4", "2 8 8"),
        "onward": ("4 4 4", "4 8 8 4", "4. 8 4"),
        "turn": ("2 4", "2 8 8"),
        "rest": ("2.",),
        "home": ("2.",),
    },
}
_STILL: dict[tuple[int, int], Rhythms] = {
    (4, 4): {
        "first": ("2 4 4", "4 4 2", "2 2"),
        "onward": ("4 4 4 4", "2 4 4"),
        "turn": ("2 4 4", "2. 4"),
        "rest": ("2 2", "4 4 2"),
        "home": ("1",),
    },
    (3, 4): {"first": ("2 4",), "onward": ("4 4 4", "2 4"), "turn": ("2 4",), "rest": ("2.",), "home": ("2.",)},
}
_STILL_COMPASSES = ("third", "six-notes", "five-notes", "three-notes")
# The bar that rests on the dominant: there, its leading note (the fourth degree raised), there again.
_AWAY, AWAY_DEGREES = "4 4 2", (4, 3, 4)
# A letter a bar: those of one letter are alike, r rests, R rests and ends with a breath, H is home. The last of each
# length asks for four bars on a breath.
_FORMS = {
    "4": ("arbH", "abcH"),
    "8": ("arbRcrdH", "araRbrcH", "abcRabdH"),
    "12": ("araRbrbRarcH", "arbRcrcRardH", "abaRcdcRabeH"),
}
_DOES = {"a": "first", "r": "rest", "R": "rest", "H": "home"}
# The bars in which a line turns: once, twice (a wave), ever farther (widening), or on a note that leans.
_TURNS: dict[str, tuple[tuple[int, ...], ...]] = {"4": ((2,),), "8": ((5,),), "12": ((6,), (9,))}
_WAVES: dict[str, tuple[tuple[int, ...], ...]] = {"4": ((1, 2),), "8": ((1, 5), (2, 5)), "12": ((2, 6), (5, 9), (2, 9))}
_WIDER: dict[str, tuple[tuple[int, ...], ...]] = {"4": ((1, 2),), "8": ((1, 3, 5),), "12": ((1, 3, 5, 7, 9),)}
_LEANING: dict[str, tuple[tuple[int, ...], ...]] = {"4": ((0,),), "8": ((2,), (4,)), "12": ((6,), (8,))}
# The degrees that lean: the notes over those of the tonic chord.
LEANS = (1, 3, 5)
_OCTAVE, _LEADING = 7, 6
# The highest degree from which on the first of ever wider turns is a third.
_ROOMY = 4
_BARS = {"wave": _WAVES, "widening": _WIDER, "lean": _LEANING}


@dataclass(frozen=True, slots=True)
class Course:
    """What a line goes along."""

    meter: tuple[int, int]
    letters: str
    rhythms: tuple[str, ...]
    """The note values of each bar."""
    turns: tuple[tuple[int, int], ...]
    """Bar and degree of each turning point."""
    low: int
    high: int
    leaning: bool
    """Whether every other bar begins with a note that leans."""
    away: bool
    """Whether the middle rests on the dominant, reached by its own leading note."""

    @property
    def bars(self) -> int:
        """How many bars it has."""
        return len(self.rhythms)

    @property
    def resting(self) -> int:
        """The last bar that a breath follows before the end; -1 where there is none."""
        return self.letters.rfind("R")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of a line."""

    shape: str
    compass: str
    length: str
    airy: bool
    """Whether the air lasts four bars."""
    chromatic: bool
    """Whether notes outside the key may be used."""
    seed: int
    slow: bool = False
    """Whether it has nothing quicker than quarters."""
    stepwise: bool = False
    """Whether it goes by step wherever it can."""


def ways(wanted: Wanted) -> int:
    """Return in how many reaches a line may be had, from the widest; none where the shape has no room in the compass."""
    return len(FLOW_REACH[wanted.shape].get(wanted.compass, ()))


def course(wanted: Wanted, way: int, draft: int) -> Course:
    """Return one draft of a course in a reach; another draft or seed draws another."""
    place = ("flow", wanted.shape, wanted.compass, wanted.length, way, draft)
    meter = FLOW_METERS[wanted.shape]
    low, high = FLOW_REACH[wanted.shape][wanted.compass][way]
    forms = _FORMS[wanted.length]
    letters = pick(forms if wanted.airy else forms[:-1], wanted.seed, *place, "form")
    turns = _turns(wanted, low, high, place)
    rhythms, middle = list(_rhythms(wanted, letters, dict(turns), place)), letters.rfind("R")
    away = _leaves(wanted, high) and middle not in dict(turns)
    if away:
        rhythms[middle] = _AWAY
    return Course(meter, letters, tuple(rhythms), turns, low, high, wanted.shape == "lean", away)


def _leaves(wanted: Wanted, high: int) -> bool:
    """Whether a line leaves its key and comes back: every second one that is long and wide enough."""
    roomy = wanted.chromatic and wanted.length != "4" and wanted.shape != "lean" and high > 5
    return roomy and number(wanted.seed, wanted.shape, wanted.length, "away") % 2 == 0


def _turns(wanted: Wanted, low: int, high: int, place: tuple[object, ...]) -> tuple[tuple[int, int], ...]:
    """Return the turning points of a shape, each with its degree."""
    at = pick(_BARS.get(wanted.shape, _TURNS)[wanted.length], wanted.seed, *place, "turns")
    if wanted.shape == "widening":
        return _farther(at, 1 if high < _ROOMY else 2, high)
    if wanted.shape == "wave":
        first = number(wanted.seed, *place, "first") % 2
        return tuple(zip(at, (low, high) if first and low else (high, low), strict=True))
    if wanted.shape == "lean":
        return ((at[0], next(degree for degree in range(high, low, -1) if degree % 7 in LEANS)),)
    return ((at[0], low if wanted.shape == "dip" else high),)


def _farther(bars: tuple[int, ...], least: int, most: int) -> tuple[tuple[int, int], ...]:
    """Return turning points each a step farther than the last, in the later bars where the reach is too small for all.

    The leading note is no place to turn: from the sixth a line goes on to the octave.
    """
    degrees = [degree for degree in range(least, most + 1) if degree % _OCTAVE != _LEADING][-len(bars) :]
    return tuple(zip(bars[-len(degrees) :], degrees, strict=True))


def _rhythms(wanted: Wanted, letters: str, turns: dict[int, int], place: tuple[object, ...]) -> tuple[str, ...]:
    """Return the note values of every bar: one rhythm a letter, a long note where the line turns."""
    meter = FLOW_METERS[wanted.shape]
    table = (_STILL if wanted.slow or wanted.compass in _STILL_COMPASSES else _MOVING)[meter]
    of = {letter: pick(table[_DOES.get(letter, "onward")], wanted.seed, *place, letter) for letter in letters}
    turning = pick(table["turn"], wanted.seed, *place, "turn")
    chosen = [of[letter] if bar not in turns else _turned(letter, turning, table) for bar, letter in enumerate(letters)]
    leans = wanted.shape == "lean"
    return tuple("2 4" if leans and bar % 2 == 0 else rhythm for bar, rhythm in enumerate(chosen))


def _turned(letter: str, turning: str, table: Rhythms) -> str:
    """Return the rhythm of a bar that begins with a turning point; the first of those that rest begins with a long note."""
    return turning if letter not in "rR" else table["rest"][0]
