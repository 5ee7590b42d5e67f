"""Laws of a week as a player reads it: how its days begin and end, and what does not come too often."""

from collections import Counter
from dataclasses import replace
from datetime import date
from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest

from generators.phrase.note import Note
from generators.phrase.study import Strain
from generators.routine.day import Day
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.routine.week import plan_week
from tests.routine.test_day_laws import FIRSTS, HIGH, each_week, strains_of, week

WIDTHS = ("half-step", "step", "third", "fourth", "fifth")
EIGHTH, FIFTH, C5, E5 = Fraction(1, 8), 7, 72, 76


@cache
def high_week(first: date) -> tuple[Day, ...]:
    """Return a week of a player whose top lies far above the staff."""
    return plan_week(WeekRequest(profile=Profile(high="C6"), on=first)).days


def heights(strain: Strain) -> list[int]:
    """Return the notes of a strain, in half-steps."""
    return [note.pitch.midi for note in strain.notes]


@each_week
def test_the_first_slurs_of_a_day_are_plain(first: date) -> None:
    """The first line of slurs leaps no more than a fifth, begins no higher than E5, from its top only if it falls."""
    firsts = [(day, strains_of(day, "slurs", "high-slurs")[0]) for day in (*week(first), *high_week(first))]
    begun = [(heights(strain), _path(day)) for day, strain in firsts]

    assert FIFTH >= max(abs(one - other) for each, _ in begun for one, other in pairwise(each))
    assert all(each[0] <= E5 and (each[0] < max(each) or path == "falling") for each, path in begun)
    assert EIGHTH <= min(note.length for _, strain in firsts for note in strain.notes)


def _path(day: Day) -> str:
    """Return the path of a day's first slurs."""
    return next(part.request.path for part in day.parts if part.name == "slurs")


@each_week
def test_the_first_slurs_have_the_figure_they_are_named_by(first: date) -> None:
    """The first line of slurs skips a note, falls, or keeps its low note, where that is what it is called."""
    named = {_path(day): strains_of(day, "slurs")[0] for day in (*week(first), *high_week(first))}
    over, falling, anchor = ([note.pitch.midi for note in named[path].notes] for path in ("over-and-back", "falling", "anchor"))

    assert (min(over), max(over)) == tuple(over[:2])
    assert sorted(falling[:4], reverse=True) == falling[:4]
    assert {min(anchor)} == {*anchor[:4:2]}
    assert all(max(heights(strain)) <= E5 for strain in named.values())


@each_week
def test_the_first_flow_goes_as_high_as_the_first_slurs(first: date) -> None:
    """Before slurs ask for a note the flow of the day was as high, begun no higher than C5, in new keys daily."""
    days = (*week(first), *high_week(first))
    tops = [max(heights(strains_of(day, "slurs")[0])) for day in days]
    flows = [[note for strain in strains_of(day, "flow") for note in heights(strain)] for day in days]
    keys = [{strain.key for strain in strains_of(day, "flow")} for day in week(first)]

    assert all(max(flow) >= top for flow, top in zip(flows, tops, strict=True))
    assert all(flow[0] <= C5 for flow in flows)
    assert all(one.isdisjoint(other) for one, other in pairwise(keys))


@pytest.mark.parametrize("later", range(0, 63, 18))
def test_high_slurs_come_twice_a_week(later: int) -> None:
    """High slurs come on two of seven days at the most, and the high parts of a week are four different ones or more."""
    days = high_week(date.fromordinal(FIRSTS[0].toordinal() + later))
    figures = [(part.name, replace(part.request, seed=0)) for day in days for part in day.parts if part.name in HIGH]

    assert [name for name, _ in figures].count("high-slurs") <= 2
    assert 4 <= len(set(figures))


@each_week
def test_no_high_flow_comes_again(first: date) -> None:
    """In seven days no line of high flow of who has C6 has the key and the rhythm of another."""
    lines = [
        (strain.key, tuple(note.length for note in strain.notes))
        for day in high_week(first)
        for strain in strains_of(day, "wide-flow")
    ]

    assert len(set(lines)) == len(lines) > 0


@each_week
def test_days_begin_and_end_in_easy_keys(first: date) -> None:
    """Air and warm-down have four signs at the most, on a light day two, and no air of two lines skips more than a width."""
    for day in high_week(first):
        strains = strains_of(day, "air", "warm-down")
        widths = [WIDTHS.index(strain.label.detail) for strain in strains_of(day, "air")]

        assert (2 if day.kind == "light" else 4) >= max(abs(strain.key.fifths) for strain in strains)
        assert all(wide - narrow <= 2 for narrow, wide in pairwise(widths))


@each_week
def test_warm_downs_have_many_forms(first: date) -> None:
    """In a week warm-downs have three shapes or more, none of them over three times, no form over twice, and none leans."""
    for days in (week(first), high_week(first)):
        forms = Counter(part.study.what for day in days for part in day.parts if part.name == "warm-down")
        shapes = Counter(part.request.shape for day in days for part in day.parts if part.name == "warm-down")

        assert len(shapes) >= 3
        assert max(shapes.values()) <= 3
        assert max(forms.values()) <= 2
        assert "lean" not in shapes


@each_week
def test_a_day_has_no_hairpin_to_the_same_mark(first: date) -> None:
    """Between two marks that are alike there is no hairpin, however a day softens its lines."""
    for strain in (strain for day in (*high_week(first), *week(first)) for part in day.parts for strain in part.study.strains):
        told = [i for i, note in enumerate(strain.notes) if note.dynamic]
        level = [(a, b) for a, b in pairwise(told) if strain.notes[a].dynamic == strain.notes[b].dynamic]

        assert not any(note.hairpin in ("<", ">") for a, b in level for note in strain.notes[a:b])


@each_week
def test_multiple_tonguing_is_led_up_to(first: date) -> None:
    """Multiple tonguing comes after fingers or single tonguing, two parts of it are no neighbours, a light day goes easily."""
    for day in high_week(first):
        names = [part.name for part in day.parts]
        multiple = [place for place, name in enumerate(names) if name in ("multiple", "k-first")]

        assert all({"fingers", "tonguing"} & {*names[:place]} for place in multiple[:1])
        assert all(other - one > 1 for one, other in pairwise(multiple))
        assert day.kind != "light" or all(part.study.goal <= 92 for part in day.parts if part.name == "tonguing")


@each_week
def test_nothing_is_suddenly_very_loud(first: date) -> None:
    """A sudden change or a cold entrance of a day goes no farther than forte."""
    sudden = [note for day in high_week(first) for strain in strains_of(day, "dynamics") for note in strain.notes if note.role]
    cold = [note for day in high_week(first) for strain in strains_of(day, "entrances") for note in strain.notes]

    assert "ff" not in {note.dynamic for note in (*sudden, *cold)}
    assert cold


@each_week
def test_flow_sets_out(first: date) -> None:
    """The first lines of flow go farther than a fourth in two bars, but for some that dip or widen step by step."""
    strains = [
        strain
        for day in high_week(first)
        for part in day.parts
        if part.name == "flow" and part.request.shape in ("arch", "wave", "lean")
        for strain in part.study.strains
    ]

    assert 5 < min(_opening(strain) for strain in strains)


def _opening(strain: Strain) -> int:
    """Return the half-steps that the first two bars of a strain span."""
    begun = [note.pitch.midi for bar in strain.bars[:2] for note in bar if isinstance(note, Note)]
    return max(begun) - min(begun)


@each_week
def test_what_leans_is_rare(first: date) -> None:
    """In a week of who has C6 two lines of flow lean at the most, and none of its first ones has a figure three times."""
    flows = [part for day in high_week(first) for part in day.parts if part.study.kind == "flow"]
    figures = Counter(part.study.what for part in flows if part.name == "flow")

    assert [part.request.shape for part in flows].count("lean") <= 2
    assert max(figures.values()) <= 2
