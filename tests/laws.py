"""The great laws as values: what is wrong with the answer to a request, in words; nothing where the law is kept.

Proved or refused: a study has no error, a refusal is one line that tells a way out, and the way does.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice, product
from typing import Any

from generators.errors import BadRequest, Refusal
from generators.fields import Slot, slots
from generators.phrase.study import Study
from generators.proof.day_rules import check
from generators.proof.prove import ERROR, prove
from generators.routine.day import Day, plan
from generators.routine.profile import Profile
from generators.routine.week import Week, plan_week
from tests.studies.requests import attempt

# A limit was tried before it was told; any other value mends what was refused, and something else may then be in the way.
LIMITS = {"tempo", "low", "high", "minutes"}
# How many ways told together are followed, and how many one after another.
MANY, LONG = 6, 5
# A day keeps its minutes to so much of them.
CLOSE = 0.05


@dataclass(frozen=True, slots=True)
class AskedDay:
    """One day of a player, as the planner is asked for it."""

    profile: Profile
    day: int
    kind: str
    minutes: int | None


@dataclass(frozen=True, slots=True)
class AskedWeek:
    """One week of a player."""

    profile: Profile
    day: int


@dataclass(frozen=True, slots=True)
class AskedPacket:
    """Studies under one cover."""

    requests: tuple[Any, ...]


def answer(asked: Any) -> Any:
    """Return what is made of anything that can be asked: a study, a day, a week, the studies of a packet; or its refusal."""
    try:
        return _made(asked)
    except BadRequest as refusal:
        return refusal


def _made(asked: Any) -> Any:
    if isinstance(asked, AskedDay):
        return plan(asked.profile, asked.day, asked.kind, asked.minutes)
    if isinstance(asked, AskedWeek):
        return plan_week(asked.profile, asked.day)
    if isinstance(asked, AskedPacket):
        return tuple(attempt(request) for request in asked.requests)
    found = attempt(asked)
    if isinstance(found, BadRequest):
        raise found
    return found


def faults(asked: Any) -> Iterator[str]:
    """Yield what is wrong with the answer to a request of any kind."""
    found = answer(asked)
    if _same(found) != _same(answer(asked)):
        yield "asked twice, answered in two ways"
    yield from _refused(asked, found, LONG) if isinstance(found, BadRequest) else _answered(asked, found)


def _same(found: Any) -> Any:
    if isinstance(found, BadRequest):
        return found.refusal
    return tuple(map(_same, found)) if isinstance(found, tuple) else found


def _answered(asked: Any, found: Any) -> Iterator[str]:
    if isinstance(found, Study):
        yield from (str(finding) for finding in prove(found) if finding.severity == ERROR)
    elif isinstance(found, Day):
        yield from _day(found)
    elif isinstance(found, Week):
        yield from (fault for day in found.days for fault in _day(day))
    else:
        yield from (fault for request in asked.requests for fault in faults(request))


def _day(day: Day) -> Iterator[str]:
    yield from map(str, check(day))
    yield from (str(found) for part in day.parts for found in prove(part.study) if found.severity == ERROR)
    if abs(day.seconds - 60 * day.minutes) > CLOSE * 60 * day.minutes:
        yield f"{day.minutes} minutes asked, {day.seconds / 60:.1f} planned"


def _refused(asked: Any, found: BadRequest, left: int) -> Iterator[str]:
    """Yield what is wrong with a refusal, and with whatever the ways that it tells lead to."""
    refusal = found.refusal
    if "\n" in str(found):
        yield "refused in more than one line"
    if not tells_a_way(refusal):
        yield f"refused without a way out: {found}"
    try:
        ways = list(islice(followed(asked, refusal), MANY))
    except (KeyError, ValueError):
        yield f"told a value that cannot be given: {found}"
        return
    for way in ways:
        yield from _led(way, refusal, left)


def _led(way: Any, refusal: Refusal, left: int) -> Iterator[str]:
    """Yield what is wrong where a way leads."""
    then = answer(way)
    if not isinstance(then, BadRequest):
        return
    limits = {field for field, _ in refusal.would_do} <= LIMITS
    if limits or then.refusal.what == refusal.what or not left:
        yield f"what would do does not: {refusal.would_do} is answered: {then}"
    else:
        yield from _refused(way, then, left - 1)


def tells_a_way(refusal: Refusal) -> bool:
    """Tell whether a refusal says what is allowed, what to do, or what would do."""
    return bool(refusal.allowed or refusal.do or refusal.would_do or refusal.near)


def followed(asked: Any, refusal: Refusal) -> Iterator[Any]:
    """Yield the request changed in each way that its refusal says would do; a field that it has not is a KeyError."""
    names = [field for field, _ in refusal.would_do]
    for values in product(*(values for _, values in refusal.would_do)) if names else ():
        yield _changed(asked, dict(zip(names, values, strict=True)))


def _changed(asked: Any, words: dict[str, str]) -> Any:
    own = {slot.name: slot for slot in slots(type(asked))}
    inner = {name: word for name, word in words.items() if name not in own}
    given = {name: _value(own[name], word) for name, word in words.items() if name in own}
    if inner:  # a day is refused for a field of its profile
        given["profile"] = _changed(asked.profile if "profile" in own else _missing(inner), inner)
    return replace(asked, **given)


def _missing(words: dict[str, str]) -> Any:
    raise KeyError(*words)


def _value(slot: Slot, word: str) -> Any:
    if slot.kind is bool:  # a switch is told by its name alone
        return True
    kind: Callable[[str], Any] = slot.kind
    return tuple(kind(part) for part in word.split(",")) if slot.listed else kind(word)
