"""The setting of a study: a request resolved into horn, keys and limits, refused at the door where it cannot be."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from generators.brass.grade import Grade, grade
from generators.brass.grade import limits as habits
from generators.brass.horn import Horn, horn
from generators.errors import BadRequest
from generators.fields import checked
from generators.phrase.label import Label
from generators.phrase.study import Limits
from generators.studies.kit.request import FASTEST, SLOWEST, Request
from generators.theory.key import Key, moved, parse_key
from generators.theory.pitch import Pitch, parse_pitch

# A learner who names no keys gets the first of the grade, as many as a session holds: common practice, no source.
OWN_KEYS = 4
# Grades that are asked for notes of their keys alone, no chromatic ones.
PLAIN_GRADES = ("1", "2")
ALL_KEYS = ("C", "B", "Bb", "A", "Ab", "G", "Gb", "F", "E", "Eb", "D", "Db")


class OffTempo(BadRequest):
    """The study cannot be had at the tempo asked for; `tempo` is the nearest that may do."""

    def __init__(self, message: str, tempo: int) -> None:
        """Keep the tempo beside the message."""
        super().__init__(message)
        self.tempo = tempo


@dataclass(frozen=True, slots=True)
class Setting:
    """What a study is written for."""

    horn: Horn
    grade: Grade | None
    keys: tuple[Key, ...]
    limits: Limits
    tempo: int
    tempo_asked: bool = False
    """Whether the player named the tempo."""
    concert: bool = False

    def capped(self, most: float, what: str) -> "Setting":
        """Return the setting with no tempo past what tongue or lips can do; a tempo that was asked for is refused."""
        cap = int(most)
        if self.tempo_asked and self.tempo > cap:
            raise OffTempo(f"tempo {self.tempo} is too quick for {what}", cap)
        limits = replace(self.limits, tempo=min(self.limits.tempo, cap))
        return replace(self, tempo=min(self.tempo, cap), limits=limits)

    def label(self, key: Key, **more: Any) -> Label:
        """Return the label of a strain in a key, with the concert key where concert keys were asked for."""
        return Label(key=key, concert=moved(key, self.horn.interval) if self.concert else None, **more)

    @property
    def range(self) -> tuple[Pitch, Pitch]:
        """The player's lowest and highest note, for a remark."""
        return self.limits.low, self.limits.high


def resolve(
    request: Request,
    keys: Sequence[str],
    tempo: int,
    *,
    pedals: bool = False,
    partials: bool = False,
    learner_keys: int = OWN_KEYS,
) -> Setting:
    """Return the setting of a request, given the study's own keys and tempo where the player names none.

    A learner who names none gets the first few of his grade.
    """
    checked(request)
    the_horn = horn(request.horn)
    the_grade = grade(request.grade) if request.grade else None
    limits = _limits(request, the_horn, the_grade, pedals, partials)
    chosen = _keys(request, the_horn, the_grade, (the_grade and the_grade.keys[:learner_keys]) or keys)
    return Setting(
        the_horn, the_grade, chosen, limits, _tempo(request, limits, tempo), request.tempo is not None, request.concert
    )


def _tempo(request: Request, limits: Limits, own: int) -> int:
    if request.tempo is None:
        return min(own, limits.tempo)
    if not SLOWEST <= request.tempo <= FASTEST:
        raise BadRequest(f"tempo {request.tempo} is out of reach; allowed: {SLOWEST} to {FASTEST} quarter notes a minute.")
    if request.tempo > limits.tempo:
        raise OffTempo(f"tempo {request.tempo} is past the {limits.tempo} of grade {request.grade}", limits.tempo)
    return request.tempo


def _limits(request: Request, the_horn: Horn, the_grade: Grade | None, pedals: bool, partials: bool) -> Limits:
    low, high = (the_grade.low, the_grade.high) if the_grade else the_horn.comfort
    floor = PEDAL_FLOOR if pedals else the_horn.low
    low, high = max(low, the_horn.low), min(high, the_horn.ceiling)
    if request.low:
        low = _inside("low", request.low, floor, the_horn)
        high = high if high.midi - low.midi >= 7 else min(the_horn.high, the_horn.ceiling)
    if request.high:
        high = _inside("high", request.high, floor, the_horn)
        low = low if request.low or high.midi - low.midi >= 7 else the_horn.low
    if low.midi >= high.midi:
        raise BadRequest(f"low {low} is not below high {high}; give a lower low note or a higher high note.")
    return _own(request, habits(the_grade, low, high, pedals=pedals, partials=partials))


def _own(request: Request, limits: Limits) -> Limits:
    """Return the limits with the player's own breath and tongue instead of the grade's, where they are given."""
    breath = limits.breath if request.breath is None else float(request.breath)
    return replace(limits, breath=breath, speed=limits.speed if request.tongue is None else request.tongue * 4 / 60)


PEDAL_FLOOR = Pitch("F", 1, 2)


def _inside(name: str, text: str, floor: Pitch, the_horn: Horn) -> Pitch:
    pitch = parse_pitch(text)
    if not floor.midi <= pitch.midi <= the_horn.ceiling.midi:
        raise BadRequest(f"{name} {text} is off the {the_horn.id}; allowed: {floor} to {the_horn.ceiling} as written.")
    return pitch


def _keys(request: Request, the_horn: Horn, the_grade: Grade | None, own: Sequence[str]) -> tuple[Key, ...]:
    if not request.keys:
        return tuple(parse_key(name) for name in own)
    names = ALL_KEYS if request.keys == ("all",) else request.keys
    keys = tuple(parse_key(name) for name in names)
    if request.concert:
        keys = tuple(moved(key, -the_horn.interval) for key in keys)
    for key in keys:
        graded(key, the_grade)
    return keys


def graded(key: Key, the_grade: Grade | None) -> Key:
    """Return the key, or refuse it where the learner's grade does not know it."""
    if the_grade and the_grade.keys and key.name not in the_grade.keys:
        allowed = ", ".join(the_grade.keys)
        raise BadRequest(
            f"key {key.name} (as written) is outside grade {the_grade.id}; allowed: {allowed}; or leave the grade out."
        )
    return key


def plain_key(request: Request, key: Key) -> Key:
    """Return a written key as a request would name it: as it sounds where concert keys are asked for."""
    return moved(key, horn(request.horn).interval) if request.concert else key
