"""The setting of a study: a request resolved into horn, keys and limits, refused at the door where it cannot be."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from generators.brass.grade import Grade, grade_on, span_on
from generators.brass.horn import Horn, horn
from generators.errors import BadRequest, Refusal
from generators.fields import checked
from generators.phrase.label import Label
from generators.phrase.study import Limits
from generators.studies.kit.request import Request
from generators.theory.key import Key, moved, parse_key
from generators.theory.pitch import Pitch, parse_pitch

# A learner who names no keys gets as many as a session holds: our choice.
OWN_KEYS = 4
ALL_KEYS = ("C", "B", "Bb", "A", "Ab", "G", "Gb", "F", "E", "Eb", "D", "Db")


class OffTempo(BadRequest):
    """The study cannot be had at the tempo asked for; `tempo` is the nearest that may do."""

    def __init__(self, refusal: Refusal, tempo: int) -> None:
        """Keep the tempo beside the refusal."""
        super().__init__(refusal)
        self.tempo = tempo

    def __reduce__(self) -> tuple[type["OffTempo"], tuple[Refusal, int]]:
        return type(self), (self.refusal, self.tempo)


@dataclass(frozen=True, slots=True)
class Setting:
    """What a study is written for."""

    horn: Horn
    grade: Grade
    """Its range and keys as the horn reads them."""
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
            raise OffTempo(Refusal("tempo", self.tempo, f"is too quick for {what}"), cap)
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

    A learner who names none gets those of his grade, so many at the most.
    """
    checked(request)
    the_horn = horn(request.horn)
    the_grade = grade_on(request.grade, the_horn)
    asked = _limits(request, the_horn, the_grade, pedals, partials)
    chosen = _keys(request, the_horn, the_grade, the_grade.own_keys[:learner_keys] or home_keys(keys, the_horn))
    pace = _tempo(request, asked, the_grade, tempo)
    return Setting(the_horn, the_grade, chosen, asked, pace, request.tempo is not None, request.concert)


def home_keys(names: Sequence[str], the_horn: Horn) -> tuple[str, ...]:
    """Return keys that are written for all horns alike as a horn reads them, so that they have the same fingerings."""
    return tuple(the_horn.key_at_home(parse_key(name)).name for name in names)


def limits(of: Grade, low: Pitch, high: Pitch, *, pedals: bool = False, partials: bool = False) -> Limits:
    """Return the limits of a study between two notes, with the habits of a grade."""
    return Limits(low, high, of.breath, of.leap, of.tempo, of.shortest, of.speed, pedals, partials, of.keys, of.meters)


def _tempo(request: Request, most: Limits, the_grade: Grade, own: int) -> int:
    if request.tempo is None:
        return min(own, most.tempo)
    if request.tempo > most.tempo:
        why = f"is past the {most.tempo} of grade {the_grade.id}"
        raise OffTempo(Refusal("tempo", request.tempo, why), most.tempo)
    return request.tempo


def _limits(request: Request, the_horn: Horn, the_grade: Grade, pedals: bool, partials: bool) -> Limits:
    low, high = span_on(the_grade, the_horn)
    floor = the_horn.pedal_floor if pedals else the_horn.low
    if request.low:
        low = _inside("low", request.low, floor, the_horn)
        high = high if high.midi - low.midi >= 7 else min(the_horn.high, the_horn.ceiling)
    if request.high:
        high = _inside("high", request.high, floor, the_horn)
        low = low if request.low or high.midi - low.midi >= 7 else the_horn.low
    if low.midi >= high.midi:
        why = f"is not below high {high}"
        raise BadRequest(Refusal("low", low, why, do="give a lower low note or a higher high note"))
    return _own(request, limits(the_grade, low, high, pedals=pedals, partials=partials))


def _own(request: Request, usual: Limits) -> Limits:
    """Return the limits with the player's own breath and tongue instead of the grade's, where they are given."""
    breath = usual.breath if request.breath is None else float(request.breath)
    return replace(usual, breath=breath, speed=usual.speed if request.tongue is None else request.tongue * 4 / 60)


def _inside(name: str, text: str, floor: Pitch, the_horn: Horn) -> Pitch:
    pitch = parse_pitch(text)
    if not floor.midi <= pitch.midi <= the_horn.ceiling.midi:
        allowed = f"{floor} to {the_horn.ceiling} as written"
        raise BadRequest(Refusal(name, text, f"is off the {the_horn.id}", allowed=allowed))
    return pitch


def _keys(request: Request, the_horn: Horn, the_grade: Grade, own: Sequence[str]) -> tuple[Key, ...]:
    if not request.keys:
        return tuple(parse_key(name) for name in own)
    every = ALL_KEYS if request.concert else home_keys(ALL_KEYS, the_horn)
    keys = tuple(parse_key(name) for name in (every if request.keys == ("all",) else request.keys))
    if request.concert:
        keys = tuple(moved(key, -the_horn.interval) for key in keys)
    for key in keys:
        graded(key, the_grade)
    return keys


def graded(key: Key, the_grade: Grade) -> Key:
    """Return the key, or refuse it where the learner's grade does not know it."""
    if not the_grade.knows(key.name):
        why, do = f"is outside grade {the_grade.id} as written", "or leave the grade out"
        raise BadRequest(Refusal("key", key.name, why, allowed=the_grade.keys, do=do))
    return key


def plain_key(request: Request, key: Key) -> Key:
    """Return a written key as a request would name it: as it sounds where concert keys are asked for."""
    return moved(key, horn(request.horn).interval) if request.concert else key
