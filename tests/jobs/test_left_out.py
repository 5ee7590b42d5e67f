"""What cannot be had among other studies is left out, and the page and the report say so."""

import json
from datetime import date

import pytest

from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.jobs.report import report_of
from generators.routine.day import plan
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.sheets.document import Front
from generators.sheets.packet import packet_of
from generators.studies.etude.study import EtudeRequest
from tests.press.sheets import text_of

HIGH_NOTES = packet_of(("flow", "low", "scales"), low="D5", high="D6")
# On some days a child's leaps are to go both ways from a note that has nothing under it.
CHILD = [DayRequest(profile=Profile(grade="1", minutes=20), on=date(2026, 11, day)) for day in range(2, 8)]


def test_a_packet_is_had_without_what_cannot_be() -> None:
    """A study that finds no room is not there; the others are, in their order."""
    document = compose(HIGH_NOTES)

    assert ["flow", "scales"] == [study.kind for study in document.studies]
    assert ["low"] == [study.name for study in document.left_out]


def test_the_cover_says_so() -> None:
    """The cover names what is left out; one that has all says nothing of it."""
    assert "low" in text_of(compose(HIGH_NOTES)).partition("Left")[2].partition("asked:")[2][:40]
    assert "Left out" not in text_of(compose(packet_of(("flow", "scales"))))


def test_the_report_tells_why() -> None:
    """As JSON and as a value the report holds each study left out with the refusal that asking for it alone gives."""
    report = report_of(compose(HIGH_NOTES), (), 1, ())
    with pytest.raises(BadRequest) as alone:
        compose(HIGH_NOTES.studies[1])

    assert [{"study": "low", "why": str(alone.value)}] == json.loads(report.as_json())["left_out"]
    assert [] == json.loads(report_of(compose(packet_of(("flow",))), (), 1, ()).as_json())["left_out"]


def test_nothing_to_be_had_is_refused() -> None:
    """Where no study can be had the first one's refusal stands."""
    with pytest.raises(BadRequest, match="etude finds no tune"):
        compose(packet_of(("etude", "etude"), low="C4", high="D4"))


def test_a_day_says_what_it_cannot_have() -> None:
    """A part that no request of the day can be had for is told on the page and in the report; a day with all tells nothing."""
    days = {request: plan(request).left_out for request in CHILD}
    short = next(request for request, left_out in days.items() if left_out)
    whole = next(request for request, left_out in days.items() if not left_out)

    assert list(days[short]) == [study.name for study in compose(short).left_out]
    assert all(name.replace("-", " ") in text_of(compose(short)) for name in days[short])
    assert "Left out" not in text_of(compose(whole))
    assert not any(isinstance(chapter, Front) for chapter in compose(short).chapters)


def test_an_upbeat_is_no_bar() -> None:
    """The report of a tune with an upbeat tells the bars that were asked for."""
    document = compose(EtudeRequest(kind="gigue", bars="24", seed=4))

    assert document.studies[0].strains[0].upbeat
    assert 24 == report_of(document, (), 1, ()).bars
