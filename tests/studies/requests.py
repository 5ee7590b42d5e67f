"""Every request that can be asked for, as hypothesis strategies, derived from the rows of the catalogue and their fields.

A new kind, or a new field of an old one, is drawn without a word here.
"""

from collections.abc import Callable
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generators.brass.grade import grade
from generators.brass.horn import HORNS, horn
from generators.brass.resonator import RESONATORS
from generators.errors import BadRequest
from generators.fields import Slot, slots
from generators.phrase.study import Study
from generators.studies.catalogue import KINDS, kind_of, make
from generators.studies.kit.request import Request
from generators.theory.key import all_keys
from generators.theory.pitch import simple

KEYS = [key.name for key in all_keys()]
# What of a wide span is tried: more of the same proves nothing.
MOST = {"count": 30, "seconds": 120}
# Numbers without a span, a little past what is sensible on both sides.
NUMBERS = {"seed": (0, 9999), "tempo": (25, 245), "goal": (25, 245)}
# No name of anything: what a field without a table refuses it with tells the names that it takes.
NOTHING = "?"
_tubes = st.sampled_from([*RESONATORS["four-valves"].sets, *RESONATORS["slide"].sets[4:]])
_partials = st.lists(st.integers(2, 12).map(str), min_size=2, max_size=5).map("-".join)
_rests = st.builds("{}{}{}".format, st.integers(0, 20), st.sampled_from("-,"), st.integers(0, 20))


def _notes(the_horn: str) -> st.SearchStrategy[str]:
    """Return notes of a horn as players write them, and some a little off it."""
    lowest, highest = horn(the_horn).low.midi - 3, horn(the_horn).ceiling.midi + 3
    return st.builds(lambda midi, sharp: simple(midi, sharp=sharp).name, st.integers(lowest, highest), st.booleans())


def _keys(_: str) -> st.SearchStrategy[str]:
    return st.sampled_from(KEYS)


# Fields without a table of values, by the kind of thing their name says.
THINGS: dict[str, Callable[[str], st.SearchStrategy[str]]] = {
    **dict.fromkeys(("low", "high", "depth", "stretch", "note", "notes"), _notes),
    **dict.fromkeys(("keys", "weak_keys"), _keys),
    "path": lambda _: _partials,
    "tubes": lambda _: _tubes,
    "changes": lambda _: st.builds("{}>{}".format, _tubes, _tubes),
    "rests": lambda _: _rests,
    "name": lambda _: st.sampled_from(("second cornet", "solo horn", "third-year student")),
}


@cache
def _told(record: type[Any], slot: Slot) -> tuple[str, ...]:
    """Return the names that a text field takes, as its refusal tells them."""
    answer = attempt(record(**{slot.name: (NOTHING,) if slot.listed else NOTHING})) if issubclass(record, Request) else None
    allowed = answer.refusal.allowed if isinstance(answer, BadRequest) else ()
    return allowed if isinstance(allowed, tuple) else ()


def _item(record: type[Any], slot: Slot, the_horn: str) -> st.SearchStrategy[Any]:
    """Return what one value of a field may be."""
    if slot.kind is bool:
        return st.booleans()
    if slot.allowed:
        return st.sampled_from([slot.kind(value) for value in slot.allowed])
    if slot.kind is int:
        lowest, highest = slot.span or NUMBERS.get(slot.name, (-1, 300))
        return st.integers(lowest, min(highest, MOST.get(slot.name, highest)))
    names = tuple(HORNS) if slot.name == "horn" else _told(record, slot)
    other = THINGS[slot.name](the_horn) if slot.name in THINGS else st.nothing() if names else st.text(max_size=8)
    return st.sampled_from(names) | other if names else other


def _value(record: type[Any], slot: Slot, the_horn: str) -> st.SearchStrategy[Any]:
    """Return what a field may be given: what its table, its span or its name says."""
    item = _item(record, slot, the_horn)
    if slot.listed:
        most = min(len(slot.allowed) or 4, 8)
        every = st.just(("all",)) if slot.name == "keys" else st.nothing()
        return st.lists(item, max_size=most, unique=True).map(tuple) | every
    return item


@cache
def _drawn(record: type[Any], the_horn: str, settled: frozenset[str]) -> st.SearchStrategy[dict[str, Any]]:
    drawn = {slot.name: _value(record, slot, the_horn) for slot in slots(record) if slot.name not in settled}
    return st.fixed_dictionaries({}, optional=drawn)


def records(record: type[Any], **fixed: Any) -> st.SearchStrategy[Any]:
    """Return records of a kind that has a horn; each field is left alone half of the time, a fixed one never."""
    own = next(slot.default for slot in slots(record) if slot.name == "horn")
    horns = st.just(fixed["horn"]) if "horn" in fixed else st.just(own) | st.sampled_from(list(HORNS))
    return horns.flatmap(
        lambda the_horn: _drawn(record, the_horn, frozenset((*fixed, "horn"))).map(
            lambda chosen: record(**(chosen | {"horn": the_horn} | fixed))
        )
    )


def requests(study: str, /, **fixed: Any) -> st.SearchStrategy[Any]:
    """Return the requests of one kind of study."""
    return records(KINDS[study].request, **fixed)


ANY = st.sampled_from(list(KINDS)).flatmap(requests)


def attempt(request: Request) -> Study | BadRequest:
    """Return the study of a request or its refusal."""
    try:
        return make(request)
    except BadRequest as refusal:
        return refusal


def _plainly(request: Request) -> Study | None:
    """Return the study of a request; None for a refusal, and where its grade does not have it."""
    try:
        if kind_of(request).name in grade(request.grade).without:
            return None
        return kind_of(request).make(request)
    except BadRequest:
        return None


class Pair(tuple[Any, Study]):
    """A request and its study, shown as the request alone."""

    __slots__ = ()

    def __repr__(self) -> str:
        return repr(self[0])


def studies(study: str, /, **fixed: Any) -> st.SearchStrategy[tuple[Any, Study]]:
    """Return requests of one kind that can be met, each with its study; refusals are not asked for their cure."""
    return (
        requests(study, **fixed)
        .map(lambda asked: Pair((asked, _plainly(asked))))
        .filter(lambda pair: isinstance(pair[1], Study))
    )


@cache
def drawn(study: str) -> list[tuple[Any, Study]]:
    """Return some requests of one kind with their studies, as many as all laws together need: they are drawn once for all."""
    found: list[tuple[Any, Study]] = []

    @settings(max_examples=24)
    @given(studies(study))
    def collect(pair: tuple[Any, Study]) -> None:
        found.append(pair)

    collect()
    return found
