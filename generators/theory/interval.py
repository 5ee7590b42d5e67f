"""An interval: diatonic steps and half-steps together, so that transposition spells itself."""

import re
from dataclasses import dataclass

from generators.errors import BadRequest, Refusal
from generators.theory.pitch import HALF_STEPS, Pitch, at_place

_NAME = re.compile(r"(-?)([PMmAd])(\d{1,2})")
_PERFECT = {"d": -1, "P": 0, "A": 1}
_OTHER = {"d": -2, "m": -1, "M": 0, "A": 1}


@dataclass(frozen=True, slots=True)
class Interval:
    """A signed interval, `Interval(2, 4)` for a major third up."""

    steps: int
    half_steps: int

    def __neg__(self) -> "Interval":
        return Interval(-self.steps, -self.half_steps)

    def __add__(self, other: "Interval") -> "Interval":
        return Interval(self.steps + other.steps, self.half_steps + other.half_steps)


def parse_interval(name: str) -> Interval:
    """Read the usual short name: "M2" up, "-m3" down, "P8", "A4", "d5"."""
    found = _NAME.fullmatch(name)
    if not found:
        do = "write a quality (P M m A d) and a number, as in M2 or -m3"
        raise BadRequest(Refusal("interval", name, "is not known", do=do))
    sign, quality, number = found.groups()
    steps = int(number) - 1
    table = _PERFECT if steps % 7 in (0, 3, 4) else _OTHER
    if steps < 0 or quality not in table:
        allowed = "M m A d for seconds, thirds, sixths and sevenths, P A d for others, as in M2 or P5"
        raise BadRequest(Refusal("interval", name, "does not exist", allowed=allowed))
    size = 12 * (steps // 7) + HALF_STEPS[steps % 7] + table[quality]
    return Interval(-steps, -size) if sign else Interval(steps, size)


def interval_name(interval: Interval) -> str:
    """Return the usual short name: `interval_name(parse_interval("-M2")) == "-M2"`; refuses what has none."""
    down = (interval.half_steps, interval.steps) < (0, 0)
    steps, half_steps = (-interval.steps, -interval.half_steps) if down else (interval.steps, interval.half_steps)
    table = _PERFECT if steps % 7 in (0, 3, 4) else _OTHER
    size = half_steps - 12 * (steps // 7) - HALF_STEPS[steps % 7]
    quality = next((name for name, more in table.items() if more == size), "")
    if not quality:
        raise BadRequest(Refusal("interval", str((interval.steps, interval.half_steps)), "has no short name"))
    return f"{'-' * down}{quality}{steps + 1}"


def transpose(pitch: Pitch, interval: Interval) -> Pitch:
    """Return the pitch an interval away, spelled by the interval."""
    return at_place(pitch.place + interval.steps, pitch.midi + interval.half_steps)


def between(low: Pitch, high: Pitch) -> Interval:
    """Return the interval that leads from one pitch to another."""
    return Interval(high.place - low.place, high.midi - low.midi)
