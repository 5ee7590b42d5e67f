"""Every request that can be asked for, as hypothesis strategies: one for each kind, drawn over the whole space."""

from dataclasses import Field, fields
from typing import Any

from hypothesis import strategies as st

from generators.brass.grade import GRADES
from generators.brass.horn import HORNS
from generators.brass.resonator import RESONATORS
from generators.errors import BadRequest
from generators.phrase.study import Study
from generators.studies.catalogue import KINDS, kind_of, make
from generators.studies.kit.request import Request
from generators.studies.slurs.paths import SLUR_PATHS
from generators.theory.key import all_keys
from generators.theory.pitch import simple

# The kinds whose whole space these tests walk; a new kind is added here once its own tests stand.
WALKED = ("flow", "slurs", "low", "scales", "arpeggios", "entrances")
# Four valves have every set of three, and names for every position.
TUBES = [*RESONATORS["four-valves"].sets, *RESONATORS["slide"].sets[4:]]
KEYS = [key.name for key in all_keys()]
# What a field without a table of allowed values may hold; both refusals and studies come of it.
OWN: dict[str, st.SearchStrategy[Any]] = {
    "horn": st.sampled_from(list(HORNS)),
    "keys": st.just(("all",)) | st.lists(st.sampled_from(KEYS), max_size=4).map(tuple),
    "concert": st.booleans(),
    "low": st.just("") | st.integers(34, 78).map(lambda midi: simple(midi).name),
    "high": st.just("") | st.integers(48, 90).map(lambda midi: simple(midi, sharp=False).name),
    "grade": st.sampled_from(["", *GRADES]),
    "tempo": st.none() | st.integers(30, 240),
    "seed": st.integers(0, 9999),
    "ladder": st.booleans(),
    "rare_partials": st.booleans(),
    "pedals": st.booleans(),
    "depth": st.just("") | st.integers(40, 80).map(lambda midi: simple(midi).name),
    "path": st.sampled_from([*SLUR_PATHS, "5-6-8-6", "2-4-6", "6-7-8", "3-5-4", "10-12"])
    | st.lists(st.integers(2, 14).map(str), min_size=2, max_size=6).map("-".join),
    "tubes": st.lists(st.sampled_from(TUBES), max_size=7, unique=True).map(tuple),
    "breath": st.none() | st.integers(5, 60),
    "tongue": st.none() | st.integers(40, 160),
    "note": st.just("") | st.integers(58, 80).map(lambda midi: simple(midi).name),
    "notes": st.lists(st.integers(63, 80).map(lambda midi: simple(midi, sharp=False).name), max_size=4).map(tuple),
    "changes": st.lists(st.permutations(TUBES).map(lambda sets: f"{sets[0]}>{sets[1]}"), max_size=3).map(tuple),
    "long": st.booleans(),
    "goal": st.none() | st.integers(40, 240),
    "long_rest": st.sampled_from([0, 1, 30, 99]),
    "rests": st.sampled_from(["4-16", "1-2", "3-3", "6,9,4", "5"]),
}


# What of a wide span is tried: more of the same proves nothing.
MOST = {"count": 30, "seconds": 120}


def _values(entry: Field[Any]) -> st.SearchStrategy[Any]:
    """Return what a field may hold: its allowed values, a span, or what stands above."""
    allowed, span = entry.metadata["allowed"], entry.metadata["span"]
    if entry.name in OWN:
        return OWN[entry.name]
    if span:
        return st.integers(span[0], min(span[1], MOST.get(entry.name, span[1])))
    if not isinstance(entry.default, tuple):
        return st.sampled_from([entry.default, *allowed])
    items = [int(value) for value in allowed] if entry.name == "values" else list(allowed)
    return st.lists(st.sampled_from(items), max_size=len(items), unique=True).map(tuple)


def requests(study: str, /, **fixed: Any) -> st.SearchStrategy[Any]:
    """Return the requests of one kind; each field is left alone half of the time, a fixed one never."""
    record: type[Request] = KINDS[study].request
    drawn = {entry.name: _values(entry) for entry in fields(record) if entry.name not in fixed}
    given = st.fixed_dictionaries({}, optional=drawn)
    return given.map(lambda chosen: record(**chosen, **fixed))


ANY = st.sampled_from(WALKED).flatmap(requests)


def attempt(request: Request) -> Study | BadRequest:
    """Return the study of a request or its refusal."""
    try:
        return make(request)
    except BadRequest as refusal:
        return refusal


def _plainly(request: Request) -> Study | None:
    """Return the study of a request; None for a refusal."""
    try:
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
