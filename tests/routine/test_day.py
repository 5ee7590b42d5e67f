"""The day: laws over every horn, grade, kind and length, and what the trade expects of a routine."""

from datetime import date
from itertools import pairwise
from math import ceil

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generators.brass.grade import GRADES, grade
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.phrase.study import Strain
from generators.press.laying import laid
from generators.proof.day_rules import tongued
from generators.proof.prove import ERROR, prove, prove_day
from generators.routine.context import occasion
from generators.routine.day import Day
from generators.routine.filling import DEEP
from generators.routine.load import load
from generators.routine.part import Part, is_high
from generators.routine.profile import PARTS as PARTS_OF_A_DAY
from generators.routine.profile import Profile
from generators.routine.requests import MINUTES_KEPT, DayRequest, WeekRequest
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.kind import DAY_KINDS
from tests.routine.players import MONDAY, days, minutes, planned, profiles

ORDER = list(DAY_PARTS)
# Our choice: seven to eleven parts in 22 minutes. Common practice, no source: 20 to 25 minutes, a mouthpiece box of 10 seconds
# to a minute.
PARTS, USUAL = (7, 11), (20, 25)
BUZZ = (10, 60)
# Pages that a day may take, by its minutes: a sheet for twelve, two for twenty-five.
PAGES = {12: 2, 25: 4}

# Days beyond these are walked by `python tests/search.py --kind day`.
moderately = settings(max_examples=4)
briefly = settings(max_examples=3)
# Begun on these days, the weeks of a grown player are planned once for all laws of several days.
in_weeks = pytest.mark.parametrize("day", [MONDAY, MONDAY + 6])


def fitted(profile: Profile, day: int, kind: str, minutes: int) -> Day:
    """Return the plan of a day, or of the minutes that the refusal says would fit."""
    try:
        return planned(profile, day, kind, minutes)
    except BadRequest as refused:
        ((field, (fits,)),) = refused.refusal.would_do
        assert "minutes" == field
        return planned(profile, day, kind, int(fits))


def pages(day: Day, paper: str = "a4") -> int:
    """Return how many pages a day takes."""
    return len(laid(compose(day.request, Sheet(paper=paper)), {}))


@pytest.mark.parametrize("kind", DAY_KINDS)
@moderately
@given(profile=profiles, day=days, asked=minutes)
def test_every_day_keeps_the_rules(kind: str, profile: Profile, day: int, asked: int) -> None:
    """For any player, kind, date and length the plan passes its rules and every study its proof, on few pages."""
    made = fitted(profile, day, kind, asked)

    assert () == prove_day(made)
    assert [] == [str(found) for part in made.parts for found in prove(part.study) if found.severity == ERROR]
    assert made.seconds == pytest.approx(made.minutes * 60, rel=0.05)
    assert [] == [most for asked, most in PAGES.items() if made.minutes <= asked and pages(made) > most]
    _ordered(made)
    _rests(made)


def _ordered(day: Day) -> None:
    """Check order and tongue without the rules' own words."""
    places = [ORDER.index(part.name) for part in day.parts]

    assert sorted(set(places)) == places
    early = [part for part in day.parts if part.name in ORDER[: ORDER.index("fingers")]]
    assert grade(day.request.profile.grade).beginner or not [part.name for part in early if tongued(part.study)]


def _rests(day: Day) -> None:
    """Check that rest follows every part but the last: no longer than half a minute, the playing or what a minute lacks.

    After what is high it may be as long as the longest of the day.
    """
    most = [max(30, ceil(part.study.playing * _longest_rest(day)), ceil(60 - part.seconds)) for part in day.parts[:-1]]
    top = max(max(most), *(ceil(1.5 * part.study.playing) for part in day.parts if "high" in part.areas), 0)

    assert 0 == day.parts[-1].rest
    assert all(
        5 <= part.rest <= (top if "high" in part.areas else longest) for part, longest in zip(day.parts[:-1], most, strict=True)
    )
    assert all(part.row.brief or part.seconds + part.rest >= 60 for part in day.parts[:-1])
    assert load(day).rest >= 0.25


def _longest_rest(day: Day) -> float:
    return 1.6 if day.kind == "light" else 1.0


@pytest.mark.parametrize("grade", ["", *GRADES])
@pytest.mark.parametrize("asked", [8, 22])
def test_every_grade_has_a_day(grade: str, asked: int) -> None:
    """Each grade gets a day as short as eight minutes and as long as usual; the first notes fill ten."""
    asked = min(asked, GRADES[grade].minutes or asked) if grade else asked
    day = planned(Profile(grade=grade), MONDAY, "normal", asked)

    assert asked * 60 == pytest.approx(day.seconds, rel=0.05)


def test_a_grown_player_fills_an_hour() -> None:
    """An hour of routine is planned where it is asked for."""
    assert pytest.approx(3600, rel=0.05) == planned(Profile(), MONDAY, "normal", 60).seconds


def test_an_hour_is_too_long_for_a_beginner() -> None:
    """What the parts cannot fill is refused with the minutes that would fit, and those fit."""
    with pytest.raises(BadRequest, match=r"minutes 60 are more than these parts fill; minutes [0-9]+ would do"):
        planned(Profile(grade="1"), MONDAY, "normal", 60)
    assert () == prove_day(fitted(Profile(grade="1"), MONDAY, "normal", 60))


@pytest.mark.parametrize("asked", [0, 7, 61, -5])
def test_minutes_out_of_reach_are_refused(asked: int) -> None:
    """Less than eight minutes or more than an hour is refused with what is allowed."""
    with pytest.raises(BadRequest, match=f"minutes {asked} is out of reach; allowed: 8 to 60"):
        planned(Profile(), MONDAY, "normal", asked)


@pytest.mark.parametrize(
    ("profile", "told"),
    [
        (Profile(tongue=9), "tongue 9 is out of reach; allowed: 40 to 160, or 0"),
        (Profile(multiple=39), "multiple 39 is out of reach; allowed: 40 to 200, or 0"),
        (Profile(breath=4), "breath 4 is out of reach; allowed: 5 to 60, or 0"),
    ],
)
def test_habits_out_of_reach_are_refused(profile: Profile, told: str) -> None:
    """Breath and tongue that no study can be asked for are refused as such, not for the minutes that they leave."""
    with pytest.raises(BadRequest, match=told):
        planned(profile)


def test_minutes_that_make_no_day_are_not_told() -> None:
    """Where the parts that are left fill less than the shortest day, no minutes are said to do."""
    alone = Profile(leave_out=tuple(name for name in PARTS_OF_A_DAY if name != "buzz"))

    with pytest.raises(BadRequest, match="minutes 22 are more than these parts fill; leave out fewer parts") as refused:
        planned(alone)
    assert () == refused.value.refusal.would_do


def test_other_wishes_are_refused() -> None:
    """An unknown kind and a range without room are refused at the door."""
    with pytest.raises(BadRequest, match=r'kind "lite" is not known; allowed: normal, light.*Did you mean "light"'):
        planned(Profile(), MONDAY, "lite")
    with pytest.raises(BadRequest, match="too narrow for a routine"):
        planned(Profile(low="C5", high="G5"), MONDAY)


def test_the_usual_day_is_what_the_trade_expects() -> None:
    """Common practice, no source: 20 to 25 minutes, four keys for scales, a short mouthpiece box; our choice: few parts."""
    day = planned(Profile(), MONDAY)
    week = [planned(Profile(), MONDAY + later) for later in range(7)]
    buzz = next(part for made in week for part in made.parts if part.name == "buzz")
    scales = [part.study.strains for made in week for part in made.parts if part.name == "scales"]

    assert PARTS[0] <= len(day.parts) <= PARTS[1]
    assert USUAL[0] * 60 <= day.seconds <= USUAL[1] * 60
    assert BUZZ[0] <= buzz.seconds <= BUZZ[1]
    assert 4 == max(len({strain.key for strain in strains}) for strains in scales)


# Areas that every normal day of twenty minutes covers; the others take turns. Wide and high playing waits for grade 3.
DAILY = {"air", "flow", "low", "high", "fingers", "scales", "arpeggios", "slurs", "dynamics", "tonguing"}


@briefly
@given(profile=profiles, day=days, asked=st.integers(20, 25))
def test_a_normal_day_covers_most_areas(profile: Profile, day: int, asked: int) -> None:
    """A normal day of twenty minutes or more touches all that it can, in few parts; a beginner's paper holds fewer."""
    made = fitted(profile, day, "normal", asked)
    assume(made.minutes >= 20)

    missing = DAILY - {area for part in made.parts for area in part.areas}
    assert profile.grade in ("0", "1", "2") or missing <= {area for name in made.left_out for area in DAY_PARTS[name].areas}
    assert PARTS[0] <= len(made.parts) <= (ceil(asked / 1.8) if made.context.grade.child else max(PARTS[1], asked // 2))


@briefly
@given(day=days, grade=st.sampled_from(["", "3", "4", "5", "6"]))
def test_neighbouring_days_share_little(day: int, grade: str) -> None:
    """At most a fifth of a day's parts come the next day with the same pattern in the same keys."""
    today, tomorrow = (_told(planned(Profile(grade=grade), day + later)) for later in (0, 1))

    assert len(today & tomorrow) <= len(tomorrow) / 5


def _told(day: Day) -> set[tuple[object, ...]]:
    """Return each part of a day as its kind, its pattern and its labels."""
    return {(part.study.kind, part.study.what, *(strain.label for strain in part.study.strains)) for part in day.parts}


@briefly
@given(day=days)
def test_a_professional_plays_above_the_staff(day: int) -> None:
    """High work of a normal day takes two minutes with its rests where C6 is easy, one where A5 is; a quarter is above."""
    for high, least in (("C6", 120), ("A5", 60)):
        made = planned(Profile(high=high), day)
        strains = [(part.study, strain) for part in made.parts for strain in part.study.strains]

        assert load(made).high >= least
        assert all(_above(strain) for study, strain in strains if is_high(study, strain))


def _above(strain: Strain) -> bool:
    """Tell whether a quarter of the time of a strain's notes is above the staff, G5 or higher, counted by hand."""
    high = sum(note.length for note in strain.notes if note.pitch.midi >= 79)
    return 4 * high >= sum(note.length for note in strain.notes)


@in_weeks
def test_a_week_has_all_tubes_and_goes_deep_into_another_part_daily(day: int) -> None:
    """In seven days lip slurs go through all seven tubes, and another part is gone deep into every day, with time for it."""
    week = [planned(Profile(), day + later) for later in range(7)]
    tubes = {strain.tube for made in week for part in made.parts if part.name == "slurs" for strain in part.study.strains}

    assert set(horn("trumpet").tubes) == tubes
    assert all(one.deep != other.deep and one.deep in DEEP for one, other in pairwise(week))
    assert sum(map(_deepened, week)) >= 5


def _deepened(day: Day) -> bool:
    """Tell whether the part that a day goes deep into has more of the time than its weight gives it."""
    music, weights = sum(part.seconds for part in day.parts), sum(part.row.weight for part in day.parts)
    return any(part.name == day.deep and part.seconds / music > part.row.weight / weights for part in day.parts)


@briefly
@given(day=days)
def test_a_mouthpiece_box_is_never_over_a_minute(day: int) -> None:
    """Common practice, no source: 10 seconds to a minute on the mouthpiece."""
    assert all(BUZZ[0] <= part.seconds <= BUZZ[1] + 1 for part in planned(Profile(), day).parts if part.name == "buzz")


@pytest.mark.parametrize(
    ("profile", "field"),
    [(Profile(stretch="C9"), "stretch"), (Profile(high="C9"), "high"), (Profile(high="G5", stretch="C5"), "stretch")],
)
def test_a_profile_that_cannot_be_meant_is_refused(profile: Profile, field: str) -> None:
    """A profile that no file was checked for, from Python or a PDF, is refused under its field, for a day and for a week."""
    monday = date.fromordinal(MONDAY)
    for request in (DayRequest(profile=profile, on=monday), WeekRequest(profile=profile, on=monday)):
        with pytest.raises(BadRequest) as refused:
            compose(request)

        assert field == refused.value.refusal.what


@briefly
@given(profile=profiles, day=days)
def test_a_light_day_is_lighter(profile: Profile, day: int) -> None:
    """A light day is shorter, lower at the top, and has no more time above the staff than the same day unlightened."""
    normal, light = planned(profile, day), planned(profile, day, "light")
    room = normal.context.high.midi - normal.context.low.midi

    assert light.minutes == max(8, round(profile.minutes * MINUTES_KEPT["light"])) < normal.minutes
    assert light.context.high.midi < normal.context.high.midi or room == 12
    assert load(light).above <= load(normal).above
    assert _playing(light) < _playing(normal)


def _playing(day: Day) -> float:
    return sum(part.study.playing for part in day.parts)


def test_a_concert_day_is_short() -> None:
    """A concert day takes little more than half of a normal one, and leaves out what tires."""
    normal, concert = planned(Profile(), MONDAY), planned(Profile(), MONDAY, "concert")

    assert concert.seconds < 0.65 * normal.seconds
    assert {"multiple", "wide-flow"}.isdisjoint(part.name for part in concert.parts)


@briefly
@given(profile=profiles, day=days)
def test_a_stretch_day_reaches_its_note_once_and_late(profile: Profile, day: int) -> None:
    """The stretch note comes once, in the second half of the day; nothing else passes the top of ordinary days."""
    made = planned(profile, day, "stretch")
    assume(made.context.stretch.midi > made.context.high.midi)
    above = [
        (i, note.pitch.midi)
        for i, part in enumerate(made.parts)
        for note in part.study.notes
        if note.pitch.midi > made.context.high.midi
    ]

    assert 1 == [midi for _, midi in above].count(made.context.stretch.midi)
    assert {"stretch"} == {made.parts[i].name for i, _ in above}
    assert min(i for i, _ in above) >= len(made.parts) / 2


@briefly
@given(profile=profiles, day=days)
def test_the_same_player_and_day_have_the_same_plan(profile: Profile, day: int) -> None:
    """A plan is a function of its values: made again it is equal."""
    first = planned(profile, day)
    planned.cache_clear()

    assert first == planned(profile, day)


@pytest.mark.parametrize(("low", "high", "top"), [("C4", "C6", "Ab5"), ("C4", "D5", "C5"), ("C4", "C5", "C5")])
def test_the_top_of_a_light_day(low: str, high: str, top: str) -> None:
    """A light day ends four half-steps lower, but leaves an octave."""
    asked = DayRequest(profile=Profile(low=low, high=high), on=date.fromordinal(MONDAY), kind="light")

    assert top == occasion(asked).high.name


def test_two_days_differ() -> None:
    """The next day has other keys and other music."""
    today, tomorrow = planned(Profile(), MONDAY), planned(Profile(), MONDAY + 1)

    assert set(today.context.keys.majors).isdisjoint(tomorrow.context.keys.majors)
    assert [part.study for part in today.parts] != [part.study for part in tomorrow.parts]


def test_what_is_left_out_is_left_out() -> None:
    """Parts a player never wants are not there; favoured ones get more time in a week."""
    wants = Profile(leave_out=("buzz", "bends"), favour=("slurs",))
    plain, own = ([planned(profile, MONDAY + i) for i in range(7)] for profile in (Profile(), wants))

    assert {"buzz", "bends"}.isdisjoint(part.name for day in own for part in day.parts)
    assert sum(_time(day, "slurs") for day in own) > sum(_time(day, "slurs") for day in plain)


def _time(day: Day, name: str) -> float:
    return sum(part.seconds + part.rest for part in day.parts if part.name == name)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("asked", "most"), [(8, 2), (12, 2), (20, 4), (22, 4), (25, 4)])
def test_a_day_goes_on_its_sheets(paper: str, asked: int, most: int) -> None:
    """Twelve minutes take one sheet of two pages, up to twenty-five take two, on either paper."""
    assert max(pages(planned(Profile(), MONDAY + i, "normal", asked), paper) for i in range(2)) <= most


def test_a_double_tongue_of_ones_own() -> None:
    """Double tonguing begins and ends within the player's own speed, and grows with it."""
    slow, quick = (_multiple(Profile(multiple=speed)) for speed in (80, 140))

    assert slow <= 80 < quick <= 140


def _multiple(profile: Profile) -> int:
    """Return the last tempo of double tonguing on the first day that has it."""
    plans = (planned(profile, MONDAY + i) for i in range(10))
    return next(part.study.goal for day in plans for part in day.parts if part.study.title.endswith("double"))


@briefly
@given(day=days)
def test_a_day_has_no_shape_of_flow_twice(day: int) -> None:
    """Narrow lines, high lines and the warm-down of a day are of different shapes, and called by different names."""
    flows = [part.study for part in planned(Profile(), day).parts if part.study.kind == "flow"]

    assert len(flows) == len({study.what.split(",")[0] for study in flows}) == len({study.name for study in flows})
    assert "Warm-down" == flows[-1].name


# Every kind of tonguing that a grown player practises; in twenty days each has come.
KINDS_OF_TONGUE = {"single", "double", "double, reversed", "k alone", "triple, t-t-k", "triple, t-k-t", "triple, k-t-t"}


def test_every_tongue_comes_round() -> None:
    """Plain double comes within ten days, every order within twenty, and k alone is never all that a day is tongued with."""
    plans = [planned(Profile(), MONDAY + later) for later in range(20)]
    heard = [[part.study.what for part in made.parts if part.study.kind == "tonguing"] for made in plans]

    assert KINDS_OF_TONGUE == {what for whats in heard for what in whats}
    assert any("double" in whats for whats in heard[:10])
    assert all(len(whats) > 1 for whats in heard if "k alone" in whats)


@in_weeks
def test_scales_are_not_major_alone(day: int) -> None:
    """In eight days scales are major, minor and chromatic, some in sixteenths; what returns at once has no uneven pairs."""
    scales = [part for later in range(8) for part in planned(Profile(), day + later).parts if part.name == "scales"]
    chords = [part for later in range(8) for part in planned(Profile(), day + later).parts if part.name == "arpeggios"]
    requests = [part.request for part in scales]

    assert {"", "chromatic"} <= {request.kind for request in requests}
    assert any(request.keys[0].endswith("m") for request in requests)
    assert any(request.rhythm == "sixteenths" for request in requests)
    returning = {part.request.rhythm for part in (*scales, *chords) if part.request.pattern == "returning"}
    assert {"dotted", "reversed"}.isdisjoint(returning)


@briefly
@given(day=days)
def test_a_light_day_is_softer(day: int) -> None:
    """A light day has nothing louder than mezzo-forte but what swells from the softest, and it is tongued."""
    parts = planned(Profile(), day, "light").parts
    loud = [note.dynamic for part in parts for note in part.study.notes if note.dynamic in ("f", "ff")]

    assert [] == loud or any(part.name in ("entrances", "dynamics") for part in parts)
    assert any("tonguing" in part.areas for part in parts)


@pytest.mark.parametrize(("day", "high"), [(MONDAY, ""), (MONDAY + 6, ""), (MONDAY, "C6")])
def test_rests_after_easy_parts_are_short(day: int, high: str) -> None:
    """Who is grown rests shortly after easy parts, two thirds of the playing, on all days that can be filled so."""
    plans = [planned(Profile(high=high), day + later) for later in range(14)]

    assert 5 <= sum(all(map(_shortly_rested, made.parts)) for made in plans)
    others = [part for made in plans for part in made.parts if "high" not in part.areas]
    assert all(part.rest <= max(30, ceil(part.playing), ceil(60 - part.seconds)) for part in others)


def _shortly_rested(part: Part) -> bool:
    return not part.row.easy or part.rest <= max(20, ceil(0.65 * part.playing), ceil(60 - part.seconds))
