"""Requests of every kind of paper, as hypothesis strategies."""

import json
from collections.abc import Iterator
from copy import deepcopy
from datetime import date
from typing import Any

from hypothesis import strategies as st

from generators.band.request import CLASS_STUDIES, ClassPlayer, ClassRequest
from generators.brass.grade import GRADES
from generators.brass.horn import HORNS
from generators.jobs.codec import encoded
from generators.jobs.kinds import AnyRequest
from generators.routine.growth import Growth
from generators.routine.logbook import Practice
from generators.routine.requests import DayRequest, RoutineRequest, WeekRequest, Wishes
from generators.routine.studio import Packet
from generators.sheets.packet import PacketRequest
from generators.sheets.progress import ProgressRequest
from generators.sheets.sheet import FINGERINGS, Sheet
from generators.sheets.summary import SummaryPlayer, SummaryRequest
from generators.studies.catalogue import KINDS
from generators.studies.kit.kind import DAY_KINDS
from generators.theory.pitch import simple
from tests.keep.profiles import profiles
from tests.studies.requests import KEYS, requests

DATES = st.dates(date(2000, 1, 1), date(2099, 12, 31))
PITCHES = st.builds(simple, st.integers(40, 90), st.booleans())
# Any text that a command line can hand on, half characters included.
TEXTS = st.text(max_size=30) | st.sampled_from(["\ud800", 'a"b\\c', "é♭日本", "\x00", "x" * 200])
STUDIES = st.sampled_from(sorted(KINDS)).flatmap(requests)

sheets = st.builds(
    Sheet,
    paper=st.sampled_from(["a4", "letter"]),
    large_print=st.booleans(),
    fingerings=st.sampled_from(["", *FINGERINGS]),
    note_names=st.none() | st.booleans(),
    intonation=st.booleans(),
    player=TEXTS,
    date=st.sampled_from(["", "none", "2026-12-01"]),
    title=TEXTS,
)
growths = st.builds(
    Growth,
    top=PITCHES,
    since=st.none() | DATES,
    cause=st.sampled_from(["easy", "heavy", "unchanged", "unlogged"]),
    days=st.integers(0, 12),
    easy=st.integers(0, 10),
    next=st.none() | PITCHES,
)
wishes = st.builds(
    Wishes,
    keys=st.lists(st.sampled_from(KEYS), max_size=3).map(tuple),
    transpose=st.integers(-12, 12),
    tempo=st.none() | st.integers(30, 240),
    seed=st.integers(0, 99),
)


def _routines(record: type[RoutineRequest], **more: Any) -> st.SearchStrategy[Any]:
    return st.builds(
        record,
        profile=profiles,
        on=DATES,
        minutes=st.none() | st.integers(8, 60),
        growth=st.none() | growths,
        concert=st.booleans(),
        wishes=wishes,
        **more,
    )


packets = st.builds(PacketRequest, studies=st.lists(STUDIES, max_size=4).map(tuple))
days = _routines(DayRequest, kind=st.sampled_from(DAY_KINDS))
weeks = _routines(WeekRequest)
practice = st.builds(
    Practice,
    start=DATES,
    days=st.integers(0, 7),
    minutes=st.integers(0, 600),
    heavy_minutes=st.integers(0, 600),
    load=st.integers(0, 9000).map(lambda tenths: tenths / 10),
    top=st.none() | PITCHES,
)
progresses = st.builds(
    ProgressRequest,
    horn=st.sampled_from(["trumpet", "cornet"]),
    growth=growths,
    weeks=st.lists(practice, max_size=4).map(tuple),
    planned=st.lists(PITCHES, max_size=4).map(tuple),
    today=DATES,
)
players = st.builds(
    SummaryPlayer,
    packet=st.builds(Packet, name=TEXTS, state=st.sampled_from(["printed", "failed"]), minutes=st.floats(0, 60)),
    profile=st.none() | profiles,
)
summaries = st.builds(
    SummaryRequest,
    name=TEXTS,
    on=DATES,
    week=st.booleans(),
    concert=st.booleans(),
    players=st.lists(players, max_size=3).map(tuple),
)
class_players = st.builds(
    ClassPlayer,
    name=TEXTS,
    horn=st.sampled_from(sorted(HORNS)),
    grade=st.sampled_from(["", *GRADES]),
    low=st.just("") | PITCHES.map(str),
    high=st.just("") | PITCHES.map(str),
    breath=st.just(0) | st.integers(5, 60),
    tongue=st.just(0) | st.integers(40, 160),
)
classes = st.builds(
    ClassRequest,
    players=st.lists(class_players, max_size=4).map(tuple),
    name=TEXTS,
    concert_key=st.sampled_from(["", *KEYS]),
    studies=st.lists(st.sampled_from(CLASS_STUDIES), max_size=3).map(tuple),
    minutes=st.integers(2, 60),
    seed=st.integers(0, 99),
    part=st.integers(0, 60),
)
any_request: st.SearchStrategy[AnyRequest] = st.one_of(STUDIES, packets, days, weeks, classes, progresses, summaries)
# What a stranger may put in any place of a request: values of every type, empty or past all bounds.
EXTREMES: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 1e300, -1e300, 0.5, 10**19, 10**400, -(10**400)),
    *([], {}, [[]], [None], [-1], "", "9999-12-31", "0001-01-01", "A5", "C-99", "B99", "\ud800"),
)
strange = st.sampled_from(EXTREMES) | st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=5), inner, max_size=2),
    max_leaves=4,
)


def _places(value: Any) -> Iterator[tuple[Any, Any]]:
    """Yield every place of a JSON value, at any depth: what holds it and its name or number there."""
    for name in value if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ():
        yield value, name
        yield from _places(value[name])


@st.composite
def mutated(draw: st.DrawFn, asked: st.SearchStrategy[AnyRequest]) -> str:
    """Return the JSON of a request with a few places dropped or holding something strange."""
    whole = json.loads(encoded(draw(asked), draw(sheets)))
    for _ in range(draw(st.integers(1, 3))):
        places = list(_places(whole))
        holder, name = draw(st.sampled_from(places))
        if draw(st.integers(0, 4)):
            holder[name] = deepcopy(draw(strange))
        else:
            del holder[name]
    return json.dumps(whole)
