"""Laws of a day as a player reads it: widths as they are called, no strain twice, tongues by turns, high parts from below."""

import re
from collections import Counter
from datetime import date
from fractions import Fraction
from functools import cache
from itertools import chain, pairwise

import pytest

from generators.brass.horn import horn
from generators.phrase.note import Note
from generators.phrase.study import Strain
from generators.press.laying import printed_strains
from generators.routine.day import Day
from generators.routine.part import Part
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.routine.week import plan_week
from generators.sheets.sheet import Sheet
from generators.sheets.week import FILLED_TONE, coverage_chart
from generators.studies.fingers.cells import valves_moved
from generators.theory.key import parse_key
from tests.routine.players import MONDAY

# The Wednesday before, and weeks later on.
FIRSTS = [date.fromordinal(MONDAY - 5), date.fromordinal(MONDAY + 30), date.fromordinal(MONDAY + 66)]
each_week = pytest.mark.parametrize("first", FIRSTS, ids=str)
HIGH, G5 = ("wide-flow", "high-slurs", "high"), 79
LOUDNESS_WORDS = re.compile("loudness|hairpin| p to f| f to be")
QUARTER = Fraction(1, 4)
# Half-steps of each width.
WIDTHS = {"half-step": {1}, "step": {2}, "third": {3, 4}, "fourth": {5}, "fifth": {7}}


@cache
def week(first: date) -> tuple[Day, ...]:
    """Return the days of a week of a player without a profile."""
    return plan_week(WeekRequest(profile=Profile(), on=first)).days


def strains_of(day: Day, *names: str) -> list[Strain]:
    """Return the strains of some parts of a day."""
    return [strain for part in day.parts if part.name in names for strain in part.study.strains]


@each_week
def test_air_is_as_wide_as_it_is_called(first: date) -> None:
    """From the tonic or fifth, at rest, the widest turn is the half-step, step, third, fourth or fifth that its label says."""
    found = [strain for day in week(first) for strain in strains_of(day, "air")]

    assert all(_widest(strain) in WIDTHS[strain.label.detail] for strain in found)
    assert {0, 4} >= {(strain.notes[0].pitch.place - strain.key.degree(0).place) % 7 for strain in found}


def _widest(strain: Strain) -> int:
    middle = strain.notes[0].pitch.midi
    return max(abs(note.pitch.midi - middle) for note in strain.notes)


@each_week
def test_the_cover_tells_keys_that_are_played(first: date) -> None:
    """Every key that a day is said to have is that of a strain in it, and every scale of it is told."""
    for day in week(first):
        played = {strain.label.key.name for part in day.parts for strain in part.study.strains if strain.label.key}
        scales = {strain.label.key.name for strain in strains_of(day, "scales") if strain.label.key}

        assert scales <= set(day.keys) <= played


@each_week
def test_no_strain_comes_two_days_running(first: date) -> None:
    """What is played on a day is not played again, note for note, on the next."""
    heard = [{strain.music for part in day.parts for strain in part.study.strains if not strain.free} for day in week(first)]

    assert [] == [music for one, other in pairwise(heard) for music in one & other]


@each_week
def test_tongues_take_turns(first: date) -> None:
    """No kind of tonguing comes two days running, nor a pattern; in a week all three come, on the light day legato."""
    whats = [{part.study.what for part in _tongues(day)} for day in week(first)]
    patterns = [{part.request.patterns for part in _tongues(day)} for day in week(first)]

    assert all(one.isdisjoint(other) for one, other in pairwise(whats))
    assert all(one.isdisjoint(other) for one, other in pairwise(patterns))
    assert {"single", "double", "triple"} <= {what.split(",")[0] for each in whats for what in each}
    assert [{"single, legato"}] == [whats[i] for i, day in enumerate(week(first)) if day.kind == "light"]


def _tongues(day: Day) -> list[Part]:
    return [part for part in day.parts if part.name in ("tonguing", "multiple")]


@each_week
def test_no_line_of_tonguing_comes_twice_in_a_week(first: date) -> None:
    """In seven days no line is tongued twice, nor beside k alone, each day has another key; there are three ways or more."""
    told = [part for day in week(first) for part in _tongues(day)]
    lines = [name for part in told for name in part.request.patterns]
    keys = [part.request.keys for part in told]
    daily = [
        [name for part in day.parts if part.study.kind == "tonguing" for name in part.request.patterns] for day in week(first)
    ]

    assert sorted(set(lines)) == sorted(lines)
    assert sorted(set(keys)) == sorted(keys)
    assert [] == [names for names in daily if len(set(names)) < len(names)]
    assert 3 <= len({way for part in told for way in part.request.groups})


@each_week
def test_no_strain_of_tonguing_has_the_notes_of_another_in_a_week(first: date) -> None:
    """In seven days no line of tonguing goes the same way up and down as one of another day, whatever their key and values."""
    ways = [way for day in week(first) for way in {_steps(strain) for strain in strains_of(day, "tonguing", "multiple")}]

    assert len(set(ways)) == len(ways)


def _steps(strain: Strain) -> tuple[int, ...]:
    """Return how far each note of another pitch lies from the first, in steps."""
    places = [note.pitch.place - strain.notes[0].pitch.place for note in strain.notes]
    return (places[0], *(other for one, other in pairwise(places) if one != other))


@each_week
def test_no_day_has_threes_of_two_kinds(first: date) -> None:
    """On no day two parts are tongued in triples."""
    triples = [[part for part in day.parts if "triple" in getattr(part.request, "kind", "")] for day in week(first)]

    assert all(len(parts) <= 1 for parts in triples)


@each_week
def test_tonguing_stays_under_the_high_part(first: date) -> None:
    """Tonguing has two rows, none higher than the first note over the staff, nor than the day's high part."""
    for day in week(first):
        rows = strains_of(day, "tonguing", "multiple")
        top = max(note.pitch.midi for strain in rows for note in strain.notes)
        highest = max((note.pitch.midi for strain in strains_of(day, *HIGH) for note in strain.notes), default=G5)

        assert len(rows) <= 2
        assert top <= min(G5, highest)


@each_week
def test_high_parts_are_entered_from_below(first: date) -> None:
    """The rows of a high part rise, and its first note is under the first one over the staff."""
    for day in week(first):
        tops = [max(note.pitch.midi for note in strain.notes) for strain in strains_of(day, "high", "high-slurs")]
        firsts = [strain.notes[0].pitch.midi for strain in strains_of(day, *HIGH)][:1]

        assert sorted(tops) == tops
        assert all(note < G5 for note in firsts)


@each_week
def test_lip_slurs_begin_low_on_tubes_near_each_other(first: date) -> None:
    """No lip slurs begin on the highest note of all, and no two tubes on end lie over four half-steps apart."""
    for day in week(first):
        strains = strains_of(day, "slurs")
        top = max((note.pitch.midi for strain in strains for note in strain.notes), default=0)
        places = [horn("trumpet").tubes.index(strain.tube) for strain in strains]

        assert all(strain.notes[0].pitch.midi < top for strain in strains[:1])
        assert all(abs(one - other) <= 4 for one, other in pairwise(places))


@each_week
def test_lip_slurs_begin_slowly_and_leap_no_octave_quickly(first: date) -> None:
    """Lip slurs of a day begin in quarters, sound for forty seconds or more, and no octave of them goes in sixteenths."""
    parts = [part for day in week(first) for part in day.parts if part.name == "slurs"]
    strains = [strain for part in parts for strain in part.study.strains]
    octaves = [
        one for strain in strains for one, other in pairwise(strain.notes) if abs(one.pitch.midi - other.pitch.midi) >= 12
    ]

    assert {QUARTER} == {strain.notes[0].length for strain in strains}
    assert all(part.playing >= 40 for part in parts)
    assert all(2 * note.length >= QUARTER for note in octaves)


@each_week
def test_high_slurs_climb_by_half_steps(first: date) -> None:
    """Each tube of a day's high slurs is a half-step shorter than the one before it, and no first slur is an octave."""
    trumpet = horn("trumpet")
    rows = [strains_of(day, "high-slurs") for day in week(first)]
    places = [[trumpet.tubes.index(strain.tube) for strain in strains] for strains in rows]
    begun = [abs(strains[0].notes[0].pitch.midi - strains[0].notes[1].pitch.midi) for strains in rows if strains]

    assert all(one - other == 1 for each in places for one, other in pairwise(each))
    assert all(leap < 12 for leap in begun)


@each_week
def test_high_flow_is_played_once_with_a_long_rest(first: date) -> None:
    """A line of high flow is played once, twice where it is the only one, with four bars of rest or more after it."""
    found = [lines for day in week(first) if (lines := strains_of(day, "wide-flow"))]

    assert all(strain.repeats <= 1 + (len(lines) == 1) for lines in found for strain in lines)
    assert all(strain.music[-1].length >= 4 * strain.meter.bar for lines in found for strain in lines)


@each_week
def test_high_flow_and_warm_down_are_what_they_are_called(first: date) -> None:
    """No high flow is called by an octave that it does not span, and no warm-down is louder than mezzo-piano."""
    octaves = [
        part for day in week(first) for part in day.parts if part.name == "wide-flow" and "to the octave" in part.study.what
    ]
    loud = {note.dynamic for day in week(first) for strain in strains_of(day, "warm-down") for note in strain.notes}

    assert all(max(_span(strain) for strain in part.study.strains) >= 7 for part in octaves)
    assert loud <= {"", "pp", "p", "mp"}


@each_week
def test_a_warm_down_sinks_and_fades(first: date) -> None:
    """Its second line lies lower than its first and ends the day, softest, within a half-step or step of its lowest note."""
    for day in week(first):
        above, below = strains_of(day, "warm-down")
        heights, end = [[note.pitch.midi for note in strain.notes] for strain in (above, below)], below.music[-1]

        assert min(heights[1]) < min(heights[0])
        assert max(heights[1]) < max(heights[0])
        assert isinstance(end, Note)
        assert "pp" == [note.dynamic for note in below.notes if note.dynamic][-1]
        assert end.pitch.midi - min(heights[1]) <= 2
        assert len(set(heights[1])) >= 4


@each_week
def test_no_warm_down_comes_twice_in_a_week(first: date) -> None:
    """In seven days no two warm-downs have the same keys."""
    keys = [tuple(strain.key for strain in strains_of(day, "warm-down")) for day in week(first)]

    assert len(set(keys)) == len(keys)


def _span(strain: Strain) -> int:
    places = [note.pitch.place for note in strain.notes]
    return max(places) - min(places)


@each_week
def test_rests_go_by_load(first: date) -> None:
    """After a high part one rests longest."""
    for day in week(first):
        high = [part.rest for part in day.parts if part.name in HIGH]
        others = [part.rest for part in day.parts if part.name not in HIGH]

        assert all(rest >= max(others) for rest in high)


@each_week
def test_two_fingers_work(first: date) -> None:
    """In every finger study, six a week or more, two valves or three change, and a warm-down ends every day."""
    trumpet = horn("trumpet")
    studied = [strains_of(day, "fingers") for day in week(first)]
    cells = [[note.pitch for strain in strains for note in strain.notes] for strains in studied if strains]

    assert len(cells) >= 6
    assert all(len(valves_moved(pitches, trumpet)) >= 2 for pitches in cells)
    assert {"warm-down"} == {day.parts[-1].name for day in week(first)}


@each_week
def test_every_quick_change_moves_a_finger(first: date) -> None:
    """In a finger study of a day no two quick notes on end that differ have the same valves, and every line has sixteenths."""
    lines = [
        [note for note in strain.notes if note.length < QUARTER] for day in week(first) for strain in strains_of(day, "fingers")
    ]
    trumpet = horn("trumpet")

    assert [] == [
        (one.pitch.name, other.pitch.name)
        for line in lines
        for one, other in pairwise(line)
        if one.pitch != other.pitch and not valves_moved((one.pitch, other.pitch), trumpet)
    ]
    assert all(QUARTER / 4 in {note.length for note in line} for line in lines)


@each_week
def test_fingers_lie_within_the_staff(first: date) -> None:
    """A grown player's finger studies lie between C4 and D5: not where low notes just were, nor where lips work."""
    heights = [note.pitch.midi for day in week(first) for strain in strains_of(day, "fingers") for note in strain.notes]

    assert 60 <= min(heights) <= max(heights) <= 74


@each_week
def test_fingers_begin_and_end_on_the_key_note(first: date) -> None:
    """Every line of a day's finger study begins and ends on the tonic, in a week in three places or more."""
    found = [
        (part.request.keys[0], strain)
        for day in week(first)
        for part in day.parts
        if part.name == "fingers"
        for strain in part.study.strains
    ]
    ends = [(parse_key(key).degree(0).midi % 12, strain.notes[0].pitch, strain.notes[-1].pitch) for key, strain in found]

    assert all(tonic == begun.midi % 12 == ended.midi % 12 for tonic, begun, ended in ends)
    assert 3 <= len({begun.midi for _, begun, _ in ends})


@each_week
@pytest.mark.parametrize(("name", "field"), [("low", "way"), ("fingers", "shape"), ("slurs", "path"), ("high-slurs", "path")])
def test_no_figure_comes_twice_in_a_week(first: date, name: str, field: str) -> None:
    """In seven days low notes go down in another way every time, finger studies and lip slurs have another shape."""
    figures = [getattr(part.request, field) for day in week(first) for part in day.parts if part.name == name]

    assert sorted(set(figures)) == sorted(figures)


@each_week
def test_chords_are_loudest_at_their_top(first: date) -> None:
    """The first forte of a day's chord stands on its highest note."""
    found = [
        strain for day in week(first) for strain in strains_of(day, "arpeggios") if any(n.dynamic == "f" for n in strain.notes)
    ]
    loud = [next(note.pitch.midi for note in strain.notes if note.dynamic == "f") for strain in found]

    assert [max(note.pitch.midi for note in strain.notes) for strain in found] == loud
    assert found


@each_week
def test_low_notes_come_home_in_many_ways(first: date) -> None:
    """In seven days no two descents have the same keys, and the ways back up from the bottom are six or more."""
    days = [strains for day in week(first) if (strains := strains_of(day, "low"))]
    keys = [frozenset(strain.key for strain in strains[:2]) for strains in days]
    ways = {_way_up(strain) for strains in days for strain in strains}

    assert len(set(keys)) == len(keys)
    assert len(ways) >= len(days) - 1


def _way_up(strain: Strain) -> tuple[int, ...]:
    """Return the steps from the lowest note on to the last."""
    places = [note.pitch.place - min(other.pitch.place for other in strain.notes) for note in strain.notes]
    return tuple(places[places.index(0) :])


@each_week
def test_chords_go_beyond_the_octave_each_another_way(first: date) -> None:
    """In a week no chord is climbed twice by one pattern, a third are dominant sevenths at the most, none is a bare octave."""
    parts = [part for day in week(first) for part in day.parts if part.name == "arpeggios"]
    figures = [(part.request.kind, part.request.pattern) for part in parts]

    assert sorted(set(figures)) == sorted(figures)
    assert len(parts) >= 3 * sum(kind == "dominant-seventh" for kind, _ in figures)
    assert {"straight", "returning"}.isdisjoint(pattern for _, pattern in figures)
    assert all(len(strain.notes) > 8 for part in parts for strain in part.study.strains)


@pytest.mark.parametrize("later", range(0, 70, 15))
def test_no_aim_comes_twice_on_a_day_or_three_times_in_a_week(later: int) -> None:
    """What to listen for is said once on a day in the same words, in seven days twice at the most."""
    days = week(date.fromordinal(MONDAY + later))
    daily = [[part.study.aim for part in day.parts] for day in days]

    assert all(len(set(aims)) == len(aims) for aims in daily)
    assert 2 >= max(Counter(chain(*daily)).values())


@each_week
def test_every_part_has_two_staves(first: date) -> None:
    """As laid out, every part has two staves or more, but the mouthpiece, which has none."""
    parts = [part for day in week(first) for part in day.parts if part.name != "buzz"]

    assert [] == [(part.name, part.study.title) for part in parts if _staves(part) < 2]


def _staves(part: Part) -> int:
    return sum(len(strain.lines) for strain in printed_strains(part.study, Sheet()))


@each_week
def test_aims_of_a_day_go_on_a_line(first: date) -> None:
    """What to listen for in a part of a day is short enough for one line of print."""
    aims = {part.study.aim for day in week(first) for part in day.parts}

    assert [] == [aim for aim in aims if len(aim) > 98]


@each_week
def test_dynamics_are_what_the_page_shows(first: date) -> None:
    """A normal day has a part for loudness, or one called so with piano, forte and hairpins both ways, and such an aim."""
    normal = [day for day in week(first) if day.kind == "normal" and day.minutes >= 20]
    called = [[part for part in day.parts if part.study.name.endswith(" and dynamics")] for day in normal]

    assert all(
        parts or {"dynamics", "entrances"} & {part.name for part in day.parts}
        for day, parts in zip(normal, called, strict=True)
    )
    assert all(_swells(part) and LOUDNESS_WORDS.search(part.study.aim) for parts in called for part in parts)
    assert any(called)


def _swells(part: Part) -> bool:
    notes = part.study.notes
    return {"p", "f"} <= {note.dynamic for note in notes} and {"<", ">"} <= {note.hairpin for note in notes}


@each_week
def test_the_cover_tells_what_is_there_for_loudness(first: date) -> None:
    """The row of dynamics is filled on every day that has such a part, or another that is called so, and on no other."""
    made = plan_week(WeekRequest(profile=Profile(), on=first))
    chart = coverage_chart(made)
    row = next(words for words in chart.words if words.text == "dynamics")
    filled = [box for box in chart.boxes if box.tone == FILLED_TONE and box.bottom <= row.y <= box.top]
    loud = [day for day in made.days if any(part.name == "dynamics" or "dynamics" in part.study.name for part in day.parts)]

    assert len(loud) == len(filled) > 0
