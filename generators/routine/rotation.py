"""The rotation of keys: four majors and two minors a day, so that all come round; a pure function of day and player.

Laws, for any run of days: three days hold all twelve majors once, six days all twenty-four keys once; the majors of a day
lie a minor third apart and no major comes on two days running; weak keys are added in turn, as often as they are named.
"""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from generators.chance import number, shuffled
from generators.studies.kit.occasion import DayKeys
from generators.theory.key import Key, parse_key

# Twelve tonics by half-steps from C, with the signatures that players see most.
MAJORS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
MINORS = ("Cm", "C#m", "Dm", "Ebm", "Em", "Fm", "F#m", "Gm", "G#m", "Am", "Bbm", "Bm")
PERIOD = 6
# For every so many weak keys one more stands in a day, by turns within so many days, so that each comes half as often again at
# the least: our choice.
_WEAK, _BLOCK = 4, 24


def day_keys(day: int, player: str = "", weak: tuple[str, ...] = ()) -> DayKeys:
    """Return the keys of a day, counted in days from any fixed date; the player's seed shifts the rotation."""
    majors, minors = _turned(day, player)
    extra = _added(day // _BLOCK, player, weak)[day % _BLOCK] if weak else ()
    return DayKeys(tuple(shuffled(majors, day, "majors", player)), tuple(shuffled(minors, day, "minors", player)), extra)


def _turned(day: int, player: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    turn = (day + number(0, "rotation", player)) % PERIOD
    residue = turn % 3
    majors = tuple(MAJORS[(residue + 3 * step) % 12] for step in range(4))
    first = (residue + 1) % 3 + 3 * (turn // 3)
    return majors, (MINORS[first], MINORS[first + 6])


@lru_cache(maxsize=64)
def _added(block: int, player: str, weak: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Return the weak keys added on each day of a block: of those that are not there anyway the ones that were added least."""
    given: Counter[str] = Counter()
    weight = Counter(weak)
    days = []
    for day in range(block * _BLOCK, (block + 1) * _BLOCK):
        there = {name for names in _turned(day, player) for name in names}
        absent = sorted((name for name in weight if name not in there), key=lambda name: given[name] / weight[name])
        days.append(tuple(absent[: -(-len(weak) // _WEAK)]))
        given.update(days[-1])
    return tuple(days)


def as_written(keys: DayKeys, half_steps: int) -> DayKeys:
    """Return concert keys as they are written for a horn that sounds so many half-steps above what is written."""
    weak = sounding(keys.weak, -half_steps)
    return DayKeys(sounding(keys.majors, -half_steps), sounding(keys.minors, -half_steps), weak)


def sounding(keys: Sequence[str], half_steps: int) -> tuple[str, ...]:
    """Return written keys as concert keys of a horn that sounds so many half-steps above what is written."""
    return tuple(_away(parse_key(name), half_steps) for name in keys)


def _away(key: Key, half_steps: int) -> str:
    """Return the name in our rows of the key so many half-steps away, however the key itself is spelled."""
    row = MINORS if key.mode == "minor" else MAJORS
    return row[(key.degree(0).midi + half_steps) % len(row)]
