"""The codec of requests: whatever can be asked goes to JSON and back, and nothing else comes back."""

import json
import math
from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest
from hypothesis import given, settings

from generators.errors import BadRequest, WaterkeyError
from generators.jobs.codec import VERSION, decoded, encoded, music_code
from generators.jobs.compose import compose
from generators.jobs.kinds import PAPERS, AnyRequest, paper_of
from generators.routine.growth import Growth
from generators.routine.logbook import Practice
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.routine.studio import Packet
from generators.sheets.packet import PacketRequest
from generators.sheets.progress import ProgressRequest
from generators.sheets.sheet import Sheet
from generators.sheets.summary import SummaryPlayer, SummaryRequest
from generators.studies.catalogue import KINDS
from generators.studies.flow.study import FlowRequest
from generators.studies.scales import ScalesRequest
from generators.theory.pitch import parse_pitch
from tests.jobs.asked import any_request, mutated, progresses, sheets, summaries
from tests.studies.requests import requests

MONDAY = date(2026, 11, 30)
FLOW = FlowRequest(keys=("Eb", "D"), seed=3)


@settings(max_examples=200)
@given(any_request, sheets)
def test_there_and_back(request: AnyRequest, sheet: Sheet) -> None:
    """What a request and a sheet are encoded to is decoded to the same request and sheet."""
    assert (request, sheet) == decoded(encoded(request, sheet))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_there_and_back(kind: str) -> None:
    """Every study's request, over its whole space, goes there and back."""

    @settings(max_examples=20)
    @given(requests(kind))
    def law(request: Any) -> None:
        assert (request, Sheet()) == decoded(encoded(request, Sheet()))

    law()


@settings(max_examples=50)
@given(any_request, sheets)
def test_one_spelling(request: AnyRequest, sheet: Sheet) -> None:
    """What is decoded is encoded to the same text again, and a file can hold it."""
    text = encoded(request, sheet)

    assert text == encoded(*decoded(text))
    assert text == text.encode().decode()


def _changed(path: tuple[str | int, ...], value: Any) -> str:
    """Return the JSON of a request with one value changed; a name that is not there is added."""
    whole = json.loads(encoded(FLOW, Sheet()))
    *above, last = path
    at = whole
    for step in above:
        at = at[step]
    at[last] = value
    return json.dumps(whole)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (_changed(("request", "colour"), "blue"), 'flow "colour" is a field that is not known; allowed: horn, keys'),
        (_changed(("colour",), "blue"), '"colour" is a field that is not known'),
        (_changed(("sheet", "paper"), "a5"), 'paper "a5" is not known; allowed: a4, letter. Did you mean "a4"'),
        (_changed(("request", "tempo"), "72"), 'tempo "72" is of the wrong type; allowed: a whole number or None'),
        (_changed(("request", "tempo"), True), "of the wrong type"),
        (_changed(("request", "tempo"), 7.5), "of the wrong type"),
        (_changed(("request", "keys"), "Eb"), 'keys "Eb" is of the wrong type; allowed: a tuple, each item a text'),
        (_changed(("request", "keys", 0), 3), "of the wrong type"),
        (_changed(("request", "horn"), None), "of the wrong type"),
        (_changed(("waterkey",), VERSION + 1), "is a newer form; allowed: 1 to 2; install the newer"),
        (_changed(("waterkey",), "1"), "is no version of a request"),
        (_changed(("waterkey",), 0), "is no version of a request; allowed: 1 to 2"),
        (_changed(("waterkey",), True), "is no version of a request"),
        (_changed(("sheet", "fingerings"), True), 'fingerings "True" is of the wrong type; allowed: a text'),
        (_changed(("sheet", "fingerings"), "some"), 'fingerings "some" is not known; allowed: none, new, all'),
        (_changed(("sheet", "note_names"), "yes"), "of the wrong type"),
        (_changed(("kind",), "opera"), "is not known; allowed: air"),
        (_changed(("kind",), 3), "is not known"),
        (_changed(("request",), []), "is no record"),
        (_changed(("sheet",), 7), "is no record"),
        ("[" * 100_000, "is nested without end|is not JSON"),
        ('{"a":' * 100_000, "is nested without end|is not JSON"),
        ('{"waterkey": NaN}', "is not JSON"),
        ("", "is not JSON"),
        ("[]", "is no record"),
        ("null", "is no record"),
        ('{"waterkey": 1}', "is not known"),
        ('{"waterkey": 1, "kind": "day", "request": {}}', "has no profile, on"),
        (json.dumps({"waterkey": 1, "kind": "day", "request": {"profile": {}, "on": "soon"}}), 'on "soon" is no date'),
        (
            json.dumps({"waterkey": 1, "kind": "packet", "request": {"studies": [{"kind": "packet"}]}}),
            "is no record|wrong type",
        ),
    ],
)
def test_anything_else_is_refused_in_one_line(text: str, told: str) -> None:
    """An unknown field, a wrong type, a newer version, no JSON: one line that names it."""
    with pytest.raises(BadRequest, match=told) as refused:
        decoded(text)

    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 400


def _first(**sheet: Any) -> str:
    """Return the JSON of a request as version 1 had it: on its sheet nothing but what is told."""
    return json.dumps(json.loads(encoded(FLOW, Sheet())) | {"waterkey": 1, "sheet": {"paper": "letter", **sheet}})


@pytest.mark.parametrize(("expected", "told"), [("all", True), ("none", False), ("", None)])
def test_fingerings_of_the_first_version_are_read(expected: str, told: bool | None) -> None:
    """A request of version 1 had fingerings, had none, or left that to the grade; it is told as one of today's."""
    request, sheet = decoded(_first(fingerings=told))

    assert (FLOW, Sheet(paper="letter", fingerings=expected)) == (request, sheet)
    assert (request, sheet) == decoded(encoded(request, sheet))
    assert VERSION == json.loads(encoded(request, sheet))["waterkey"]


def test_a_sheet_of_the_first_version_may_leave_out_what_it_did() -> None:
    """What a request of version 1 does not tell is as it is by default; a request without a sheet has the plain one."""
    bare = json.loads(_first())
    del bare["sheet"]

    assert (FLOW, Sheet(paper="letter")) == decoded(_first())
    assert (FLOW, Sheet()) == decoded(json.dumps(bare))


@pytest.mark.parametrize("told", [1, 0, 1.0, [True], {"a": 1}, "yes"])
def test_what_fingerings_never_were_is_refused(told: Any) -> None:
    """A number, a list or another word in their place is refused in one line, in version 1 too."""
    with pytest.raises(BadRequest, match=r"fingerings .* is (of the wrong type|not known)"):
        decoded(_first(fingerings=told))


# Kinds that are composed at once.
CHEAP = ("progress", "summary", "flow")
ATTACKED = mutated(any_request) | mutated(progresses) | mutated(summaries) | mutated(requests("flow"))


@settings(max_examples=250)
@given(ATTACKED)
def test_a_strange_request_is_met_or_refused(text: str) -> None:
    """Whatever a stranger puts in place of whatever a request holds, it makes a document or is refused in one line."""
    assert "\n" not in _answer(text)


def _answer(text: str) -> str:
    """Return the name of the document that a text asks for, if it is made at once, or the refusal."""
    try:
        request, sheet = decoded(text)
        return compose(request, sheet).name if paper_of(request).name in CHEAP else ""
    except WaterkeyError as refused:
        return str(refused)


ENDLESS = 10**5000
WEEK = Practice(start=MONDAY, days=1, minutes=20, heavy_minutes=0, load=20.0, top=None)
PROGRESS = ProgressRequest(
    horn="trumpet", growth=Growth(top=parse_pitch("A5")), weeks=(WEEK,), planned=(parse_pitch("A5"),), today=MONDAY
)
SUMMARY = SummaryRequest(name="", on=MONDAY, week=True, concert=True, players=())


def _summary(minutes: float) -> SummaryRequest:
    return replace(SUMMARY, players=(SummaryPlayer(Packet("solo horn", "failed", minutes=minutes), None),))


@pytest.mark.parametrize(
    ("request_", "told"),
    [
        (replace(PROGRESS, weeks=(replace(WEEK, load=1e300),)), "load 1e.300 is out of reach; allowed: 0 to"),
        (replace(PROGRESS, weeks=(replace(WEEK, load=math.nan),)), "load nan is out of reach; allowed: 0 to"),
        (replace(PROGRESS, weeks=(replace(WEEK, load=math.inf),)), "load inf is out of reach; allowed: 0 to"),
        (replace(PROGRESS, weeks=(replace(WEEK, heavy_minutes=10**18),)), "heavy-minutes 1000000000000000000 is out of reach"),
        (replace(PROGRESS, planned=()), "planned 0 is not the number of weeks; allowed: 1"),
        (replace(SUMMARY, on=date.max), 'on "9999-12-31" is out of reach; allowed: 0001-01-08 to 9999-12-24'),
        (DayRequest(profile=Profile(), on=date.max), 'on "9999-12-31" is out of reach'),
        (replace(PROGRESS, today=date.max), 'today "9999-12-31" is out of reach'),
        (DayRequest(profile=Profile(), on=datetime(2026, 11, 30, 12)), "is of the wrong type; allowed: a date"),
        (_summary(ENDLESS), 'minutes "a number of 16610 bits" is out of reach; allowed: 0 to 10000'),
        (replace(FLOW, seed=ENDLESS), 'seed "a number of 16610 bits" is out of reach; allowed: -9223372036854775808 to'),
        (replace(FLOW, keys=(ENDLESS,)), "is of the wrong type; allowed: a tuple, each item a text"),
    ],
)
def test_what_is_past_all_bounds_is_refused(request_: AnyRequest, told: str) -> None:
    """Numbers without end, days at the end of the calendar and lists that do not match make no page and no traceback."""
    with pytest.raises(BadRequest, match=told):
        compose(request_)


def test_a_failed_packet_keeps_its_spelling() -> None:
    """Whole minutes are told as whole minutes again."""
    text = encoded(_summary(0), Sheet())

    assert text == encoded(*decoded(text))


DAY = DayRequest(profile=Profile(name="second cornet"), on=MONDAY, growth=Growth(top=parse_pitch("A5"), since=MONDAY))
SAME = [
    (DAY, replace(DAY, profile=replace(DAY.profile, paper="letter", duplex=True))),
    (DAY, replace(DAY, growth=Growth(top=parse_pitch("A5"), easy=4))),
    (FLOW, replace(FLOW)),
]
OTHER = [
    (DAY, replace(DAY, kind="light")),
    (DAY, replace(DAY, on=date(2026, 12, 1))),
    (DAY, replace(DAY, growth=Growth(top=parse_pitch("G5")))),
    (DAY, WeekRequest(profile=DAY.profile, on=DAY.on, growth=DAY.growth)),
    (FLOW, replace(FLOW, seed=4)),
    (FLOW, replace(FLOW, keys=("D", "Eb"))),
    (ScalesRequest(), ScalesRequest(pattern="thirds")),
    (PacketRequest(studies=(FLOW,)), PacketRequest(studies=(FLOW, ScalesRequest()))),
    (PacketRequest(studies=(FLOW,)), FLOW),
]


@pytest.mark.parametrize(("one", "other"), SAME)
def test_the_same_music_has_the_same_code(one: AnyRequest, other: AnyRequest) -> None:
    """Paper, duplex printing and the words about growth change no note, and so not the code."""
    assert music_code(one) == music_code(other)


@pytest.mark.parametrize(("one", "other"), OTHER)
def test_other_music_has_another_code(one: AnyRequest, other: AnyRequest) -> None:
    """Another kind of day, date, top, seed, order, pattern or kind of paper is another code."""
    assert music_code(one) != music_code(other)


def test_every_kind_of_paper_is_told_by_name() -> None:
    """The table of papers holds every study, and the papers that are put together of them."""
    assert {*KINDS, "packet", "day", "week", "class", "progress", "summary"} == set(PAPERS)
