"""The rules of a day: a planned day keeps them all, and each is broken by one change."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from generators.phrase.note import Note
from generators.phrase.study import Study
from generators.proof.day_rules import DAY_RULES, LEAST_REST_SHARE, tongued
from generators.proof.prove import prove_day
from generators.routine.day import Day
from generators.routine.load import load
from generators.routine.profile import Profile
from generators.theory.pitch import parse_pitch
from tests.proof.broken import STUDY, sketched
from tests.routine.players import MONDAY, planned


def noted(day: Day, **changes: Any) -> Day:
    """Return a day with some marks of every note changed."""
    return _studies(day, lambda study: _noted(study, changes))


def _noted(study: Study, changes: dict[str, Any]) -> Study:
    strains = [
        replace(s, music=tuple(replace(e, **changes) if isinstance(e, Note) else e for e in s.music)) for s in study.strains
    ]
    return replace(study, strains=tuple(strains))


def _studies(day: Day, change: Callable[[Study], Study]) -> Day:
    return replace(day, parts=tuple(replace(part, study=change(part.study)) for part in day.parts))


def swapped(day: Day) -> Day:
    """Return a day whose last two parts have changed places."""
    *others, one, other = day.parts
    return replace(day, parts=(*others, other, one))


def wider(day: Day) -> Day:
    """Return a day for a player who is asked to go an octave higher, and does not."""
    first = day.parts[0]
    limits = replace(first.study.limits, high=parse_pitch("A7"))
    return replace(day, parts=(replace(first, study=replace(first.study, limits=limits)), *day.parts[1:]))


def lower(day: Day) -> Day:
    """Return a day whose own top lies below what it plays."""
    return replace(day, context=replace(day.context, high=parse_pitch("C5")))


def slower(day: Day) -> Day:
    """Return a day whose notes last longer than was counted on."""
    return _studies(day, lambda study: replace(study, tempo=round(study.tempo * 0.5)))


def stretching(day: Day) -> Day:
    """Return a normal day that is called one for stretching."""
    return replace(day, request=replace(day.request, kind="stretch"))


@dataclass(frozen=True)
class DayCase:
    """A change that breaks one rule of a day, and what is found."""

    rule: str
    change: Callable[[Day], Day]
    reason: str

    def __str__(self) -> str:
        return self.rule


BOTH = "not both loud and soft"
# What a day of 22 minutes comes to, near enough.
PLANNED = planned(Profile(stretch="C6")).seconds / 60
CASES = (
    DayCase("minutes", lambda day: replace(day, minutes=25), f"{PLANNED:.1f} minutes instead of 25"),
    DayCase("order", swapped, "parts out of warming order"),
    DayCase("coverage", lambda day: noted(day, dynamic="mp"), BOTH),
    DayCase("coverage", lambda day: noted(day, dynamic="ff"), BOTH),
    DayCase("coverage", wider, "nothing in the high register"),
    DayCase("stretch", lower, "a note above the top of the day"),
    DayCase("stretch", stretching, "the stretch note is reached 0 times, or early"),
)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_one_change_one_finding(case: DayCase) -> None:
    """The planned day keeps its rules; with one change the rule, and no other, says what is wrong."""
    day = planned(Profile(stretch="C6"))
    broken = case.change(day)

    assert () == prove_day(day)
    assert [(case.rule, case.reason)] == [(f.rule, f.reason) for f in prove_day(broken)]
    assert [case.rule] == [found.rule for found in prove_day(broken, (case.rule,))]


def test_no_rule_without_a_case() -> None:
    """Every rule of the table is broken by some change here or below."""
    assert set(DAY_RULES) == {case.rule for case in CASES} | {"slurred first", "rest"}


def test_too_little_rest() -> None:
    """Played slower than was counted on, a day is found short of rest, and its share is told."""
    day = planned(Profile())
    (found,) = prove_day(slower(day))

    assert ("rest", f"only {load(slower(day)).rest:.0%} of rest") == (found.rule, found.reason)
    assert load(slower(day)).rest < LEAST_REST_SHARE < load(day).rest


def test_tongued_too_early() -> None:
    """Without their slurs the parts before the finger studies are named one by one, and nothing of the day is slurred."""
    broken = noted(planned(Profile()), slur_open=False, slur_close=False)
    early = [found.reason for found in prove_day(broken, ("slurred first",))]

    assert "flow is tongued before the finger studies" in early
    assert not [reason for reason in early if reason.startswith(("buzz", "fingers", "scales", "tonguing"))]
    assert ["not both slurred and tongued"] == [found.reason for found in prove_day(broken, ("coverage",))]


@pytest.mark.parametrize("profile", [Profile(minutes=14), Profile(leave_out=("dynamics",))])
def test_a_short_or_a_wished_day_need_not_cover_all(profile: Profile) -> None:
    """Under a quarter of an hour, or with parts left out, no coverage is asked."""
    assert () == prove_day(noted(planned(profile), dynamic="mp"), ("coverage",))


def test_the_stretch_note_once_and_late() -> None:
    """A stretch day keeps the rule; the note twice, or in the first half, does not."""
    day = planned(Profile(stretch="C6"), MONDAY, "stretch")
    stretch = next(part for part in day.parts if part.name == "stretch")
    early = replace(day, parts=(stretch, *(part for part in day.parts if part is not stretch)))
    twice = replace(day, parts=(*day.parts, stretch))

    assert () == prove_day(day)
    assert ["the stretch note is reached 1 times, or early"] == [f.reason for f in prove_day(early, ("stretch",))]
    assert ["the stretch note is reached 2 times, or early"] == [f.reason for f in prove_day(twice, ("stretch",))]


def test_a_finding_of_a_day_reads_as_a_line() -> None:
    """A finding of a day names reason, cure and rule in one line."""
    (found,) = prove_day(replace(planned(Profile()), minutes=25))

    assert f"error: day: {PLANNED:.1f} minutes instead of 25; choose longer or shorter doses (minutes)" == str(found)


@pytest.mark.parametrize(
    ("sketch", "expected"),
    [
        ("1/4( 2 3 4)* | 5/4( 4 3 2)", False),
        ("1/4( 2 3 4) | 5/4( 4 3 2)", True),
        ("1/4( 2 3 4) r/4 5/4( 4 3)", False),
        ("1/4( 2)( 3 4)", False),
        ("1/2~ 1/2", False),
        ("1/4 1", True),
    ],
)
def test_tongued(sketch: str, expected: bool) -> None:
    """A note is tongued that follows another without slur, tie, breath or rest between."""
    assert expected is tongued(sketched(sketch)(STUDY))
