"""A young player's week on one sheet: four things to practise, boxes for seven days, and a step on every week."""

from datetime import date, timedelta
from functools import cache
from itertools import pairwise

import pytest

from generators.jobs.compose import compose
from generators.press.laying import laid
from generators.press.pages import MusicPage
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.sheets.document import Document, Music, Panel, Section
from generators.sheets.panels import Ticks
from generators.sheets.sheet_of_week import METRONOME, WeekTask, is_one_sheet, tasks_of
from generators.studies.catalogue import kind_of

MONDAY = date(2026, 12, 7)
YOUNG = [Profile(grade=grade, minutes=12) for grade in "012"]
FIRST = [Profile(low="C4", high=high) for high in ("E4", "G4", "A4")]
WEEKS = 9
young = pytest.mark.parametrize("profile", [*YOUNG, *FIRST], ids=lambda profile: profile.grade or profile.high)


def week(profile: Profile, later: int) -> WeekRequest:
    """Return the request of a week so many after the first."""
    return WeekRequest(profile=profile, on=MONDAY + timedelta(weeks=later))


@cache
def sheet_of(profile: Profile, later: int) -> Document:
    """Return the sheet of a week so many after the first."""
    return compose(week(profile, later))


@cache
def tasks(profile: Profile, later: int) -> tuple[WeekTask, ...]:
    """Return what is practised in a week so many after the first."""
    return tuple(tasks_of(week(profile, later)))


def sections(document: Document) -> list[Section]:
    """Return the sections of the one chapter of a sheet."""
    (chapter,) = document.chapters
    assert isinstance(chapter, Music)
    return list(chapter.sections)


def glance(document: Document) -> tuple[Panel, ...]:
    """Return what stands under the title of a sheet."""
    (chapter,) = document.chapters
    assert isinstance(chapter, Music)
    return chapter.glance


@young
def test_a_week_has_four_things_on_two_pages(profile: Profile) -> None:
    """Warm-up, one scale, one skill, one tune, each with when it is good, on two pages; one row of boxes for the days."""
    for later in range(WEEKS):
        sheet = sheet_of(profile, later)

        assert ["Warm-up", "Scale", "Skill", "Tune"] == [section.study.name.split(":")[0] for section in sections(sheet)]
        assert all(section.good and not section.boxes for section in sections(sheet))
        assert [7] == [len(panel.words) for panel in glance(sheet) if isinstance(panel, Ticks)]
        assert 2 >= len([page for page in laid(sheet, {}) if isinstance(page.page, MusicPage)])


@pytest.mark.parametrize("profile", [*YOUNG[:2], *FIRST], ids=lambda profile: profile.grade or profile.high)
def test_chords_and_tune_of_a_first_year_are_no_quicker_than_its_scale(profile: Profile) -> None:
    """In the week of a beginner nothing that is climbed or sung is quicker than the scale that he knows; a march walks."""
    for later in range(WEEKS):
        _, scale, *others = tasks(profile, later)

        for task in others:
            if task.study.kind in ("arpeggios", "etude"):
                assert task.study.tempo <= max(scale.study.tempo, kind_of(task.request).slowest(task.request))


def test_the_home_note_of_entrances_is_named() -> None:
    """Who is to play the home note before he comes in reads which it is."""
    found = {task.name: section.study.title for task, section in told(Profile(grade="0"))}

    assert "Skill: coming in after a rest, home note C" == found["Skill: coming in after a rest"]


def told(profile: Profile) -> list[tuple[WeekTask, Section]]:
    """Return the tasks of some weeks with what the page says of them."""
    weeks = [(tasks(profile, later), sections(sheet_of(profile, later))) for later in range(WEEKS)]
    return [pair for own, shown in weeks for pair in zip(own, shown, strict=True)]


@young
def test_no_note_is_outside_the_limits(profile: Profile) -> None:
    """All that is asked lies between the player's own limits, or his grade's."""
    for later in range(WEEKS):
        sheet = sheet_of(profile, later)
        limits = sections(sheet)[0].study.limits

        assert all(limits.low.midi <= note.pitch.midi <= limits.high.midi for study in sheet.studies for note in study.notes)


@young
def test_the_next_week_goes_on(profile: Profile) -> None:
    """Another skill, another tune; the scale goes quicker from week to week before it begins anew."""
    weeks = [list(tasks(profile, later)) for later in range(WEEKS)]

    assert all(one[2].study.kind != other[2].study.kind for one, other in pairwise(weeks))
    assert all(one[3].study.strains != other[3].study.strains for one, other in pairwise(weeks))
    assert 1 < len({tasks[1].study.tempo for tasks in weeks})
    assert set(METRONOME) >= {tasks[1].study.tempo for tasks in weeks}


@pytest.mark.parametrize(
    "asked",
    [
        WeekRequest(profile=Profile(grade="3", minutes=12), on=MONDAY),
        WeekRequest(profile=Profile(minutes=12), on=MONDAY),
        WeekRequest(profile=Profile(grade="2"), on=MONDAY),
        WeekRequest(profile=Profile(grade="1", minutes=12), on=MONDAY, daily=True),
    ],
)
def test_others_have_seven_days(asked: WeekRequest) -> None:
    """From grade 3 on, without a grade, for a longer day, and where the days are asked for, a week is seven days."""
    assert not is_one_sheet(asked)


def test_the_report_tells_seven_days() -> None:
    """Each day is told with its minutes, range and keys, and its parts with what they cover."""
    facts = sheet_of(YOUNG[0], 0).facts

    assert [(MONDAY + timedelta(days=later)).isoformat() for later in range(7)] == [day["date"] for day in facts["days"]]
    assert 28 == len(facts["parts"])
    assert all(part["covers"] for part in facts["parts"])


@young
def test_a_ladder_has_no_more_tempi_than_a_week_has_days(profile: Profile) -> None:
    """What is to be ticked off one a day is at most seven tempi, whatever the week."""
    for later in range(WEEKS):
        assert all(7 >= len(section.study.ladder) for section in sections(sheet_of(profile, later)))
