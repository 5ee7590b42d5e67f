"""What cannot be had among other studies is left out, and the page and the report say so."""

import json
from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.jobs.report import report_of
from generators.routine.day import plan
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.sheets.document import Front, OmittedStudy
from generators.sheets.packet import PacketRequest, packet_of
from generators.studies.catalogue import KINDS, PACKET, make
from generators.studies.etude.study import EtudeRequest
from generators.theory.pitch import simple
from tests.laws import followed
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
    """The cover names what is left out and what the range has not; one that has all says nothing of it."""
    document = compose(HIGH_NOTES)

    assert ["No low notes: D5 to D6 has no way down."] == [study.words for study in document.left_out]
    assert all(word in text_of(document) for word in document.left_out[0].words.split())
    assert () == compose(packet_of(("flow", "scales"))).left_out


def test_a_beginner_is_told_kindly() -> None:
    """Three or four notes have no lip slur, and a study of a later grade is told as one that comes."""
    four = compose(packet_of(("slurs", "scales"), low="C4", high="F4"))
    later = compose(packet_of(("low", "scales"), low="C4", high="G4", grade="0"))

    assert ["No slurs: C4 to F4 has no two notes on one fingering."] == [study.words for study in four.left_out]
    assert ["No low notes yet: they come with grade 1."] == [study.words for study in later.left_out]


def left_out(asked: PacketRequest) -> tuple[OmittedStudy, ...]:
    """Return what a packet leaves out; nothing where none of it can be had."""
    with suppress(BadRequest):
        return compose(asked).left_out
    return ()


@settings(max_examples=2)
@given(st.integers(55, 84), st.integers(2, 9), st.sampled_from(["", "0", "1", "2"]))
def test_nobody_is_asked_for_notes_outside_his_limits(low: int, wide: int, grade: str) -> None:
    """What is left out of a packet proposes no limits beyond those that were given, and each thing it proposes does."""
    limits = {"low": simple(low, sharp=False).name, "high": simple(low + wide, sharp=False).name}
    for study in left_out(packet_of(PACKET, **limits, grade=grade)):
        assert not {"low", "high"} & {field for field, _ in study.why.would_do}
        for request in followed(KINDS[study.name].request(**limits, grade=grade), study.why):
            make(request)


def test_the_report_tells_why() -> None:
    """As JSON and as a value the report holds each study left out with why, as asking for it alone is answered."""
    report = report_of(compose(HIGH_NOTES), (), 1, ())
    with pytest.raises(BadRequest) as alone:
        compose(HIGH_NOTES.studies[1])
    [told] = json.loads(report.as_json())["left_out"]

    assert "low" == told["study"]
    assert told["why"].rstrip(".") == str(alone.value).partition(";")[0]
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
