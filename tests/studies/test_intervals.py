"""Intervals: leaps from one note that never changes."""

from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise

import pytest
from hypothesis import given

from generators.brass.grade import grade
from generators.errors import BadRequest
from generators.phrase.algebra import length
from generators.phrase.remark import Narrowed
from generators.phrase.study import Strain, Study
from generators.phrase.wording import remark_words
from generators.studies.catalogue import make
from generators.studies.intervals import INTERVAL_WIDTHS, IntervalsRequest
from tests.studies.phrasing import LAWS, slurs
from tests.studies.requests import studies

Asked = tuple[IntervalsRequest, Study]


def leaps(strain: Strain) -> list[int]:
    """Return the scale steps of every leap from the fixed note, in order."""
    fixed = strain.notes[0].pitch
    return [note.pitch.place - fixed.place for note in strain.notes if note.pitch != fixed]


@LAWS
@given(studies("intervals"))
def test_every_leap_starts_and_ends_on_the_fixed_note(asked: Asked) -> None:
    """No two leaps follow each other: before and after each stands the fixed note, held after it; a strain ends on it."""
    _, study = asked
    for strain in study.strains:
        fixed = strain.notes[0].pitch

        assert all(fixed in (a.pitch, b.pitch) for a, b in pairwise(strain.notes))
        assert (fixed, Fraction(1, 2)) == (strain.notes[-1].pitch, strain.notes[-1].length)


@LAWS
@given(studies("intervals"))
def test_leaps_widen_by_steps(asked: Asked) -> None:
    """In every strain, named by how it is played, leaps grow by one scale step, up, down or both by turns."""
    request, study = asked
    signs = {"up": [1], "down": [-1], "both": [1, -1]}[request.direction]
    for strain in study.strains:
        widest = max(abs(step) for step in leaps(strain))

        assert [sign * width for width in range(1, widest + 1) for sign in signs] == leaps(strain)
        assert strain.label.detail == ("slurred" if any(note.slur_open for note in strain.notes) else "tongued")


@LAWS
@given(studies("intervals"))
def test_as_wide_as_asked_or_told(asked: Asked) -> None:
    """No key leaps past what was asked; where one leaps less far the page says so, but for a child's usual leaps."""
    request, study = asked
    wanted = INTERVAL_WIDTHS[request.widest]
    widest = [max(abs(step) for step in leaps(strain)) for strain in study.strains]
    child = request.widest == "octave" and grade(request.grade).child

    assert max(widest) <= wanted
    assert (min(widest) < wanted and not child) == bool(study.remarks)
    assert 1 == len(set(widest)) or not study.limits.keys


def test_keys_that_nobody_asked_for_have_room() -> None:
    """Up and down to C6, leaps are in keys that reach the octave; up alone they are in others."""
    both, up = (make(IntervalsRequest(direction=way, high="C6")) for way in ("both", "up"))

    assert [("G", 7), ("C", 7)] == list(dict.fromkeys((s.key.name, max(leaps(s))) for s in both.strains))
    assert {"F", "C"} == {strain.key.name for strain in up.strains}
    assert () == both.remarks


def test_each_key_goes_as_far_as_it_has_room() -> None:
    """Up and down to C6, leaps from C5 reach the octave and those from F4 the seventh, which the page tells."""
    study = make(IntervalsRequest(direction="both", high="C6", keys=("F", "C")))

    assert [("F", 6), ("C", 7)] == list(dict.fromkeys((s.key.name, max(leaps(s))) for s in study.strains))
    assert ["F major goes as far as the seventh here, between G3 and C6."] == [remark_words(remark) for remark in study.remarks]


@LAWS
@given(studies("intervals"))
def test_the_lips_rest(asked: Asked) -> None:
    """After every way of leaping there are half as many bars of rest, four at the least."""
    _, study = asked

    for strain in study.strains:
        played = length(strain.music[:-1])

        assert max(4, -(-played // 2)) == strain.music[-1].length


def leap_lines(strain: Strain) -> list[list[Fraction]]:
    """Return how long the fixed note of every leap is, line by line."""
    firsts = [note.length for note in strain.notes[::3]]
    ends = [0, *accumulate(strain.lines)]
    return [firsts[begin:end] for begin, end in pairwise(ends)]


@LAWS
@given(studies("intervals"))
def test_rhythms_of_lines(asked: Asked) -> None:
    """All lines of a key are even, but for the first of two or more: there the fixed note is long and the leap an eighth."""
    _, study = asked
    quick = study.limits.shortest <= Fraction(1, 8) and study.limits.speed * 30 >= study.tempo
    even, long = Fraction(1, 4), Fraction(3, 8)
    for strain in study.strains:
        first, *others = [set(firsts) for firsts in leap_lines(strain)]

        assert {long if quick and others else even} == first
        assert [{even}] * len(others) == others
        assert {Fraction(1, 2)} == {a.length + b.length for a, b in zip(strain.notes[::3], strain.notes[1::3], strict=True)}


@LAWS
@given(studies("intervals", articulation="slurred"))
def test_slurred(asked: Asked) -> None:
    """Every leap there and back is under a slur of its own, begun anew on the fixed note; home stands alone."""
    _, study = asked
    for strain in study.strains:
        leaping = strain.notes[:-1]

        assert [(i, i + 2) for i in range(0, len(leaping), 3)] == slurs(strain.notes)


@LAWS
@given(studies("intervals", articulation="slurred"))
def test_slurred_leaps_stay_soft(asked: Asked) -> None:
    """Slurred leaps are mp from first to last, for the fixed note is to be the same."""
    _, study = asked
    for strain in study.strains:
        assert ["mp", *[""] * (len(strain.notes) - 1)] == [note.dynamic + note.hairpin for note in strain.notes]


@LAWS
@given(studies("intervals", articulation="tongued"))
def test_tongued(asked: Asked) -> None:
    """Tongued, there is no slur at all, and every note that is not held is long."""
    _, study = asked
    short = [note for note in study.notes if note.length < Fraction(1, 2)]

    assert {("tenuto",)} == {note.articulations for note in short}

    assert not any(note.slur_open or note.slur_close for note in study.notes)


@pytest.mark.parametrize(("grade", "name"), [("1", "fifth"), ("2", "sixth"), ("3", "octave"), ("5", "octave")])
def test_a_grade_limits_the_leap(grade: str, name: str) -> None:
    """The widest leap is what the grade allows in all its keys."""
    assert f"Intervals: up to the {name}" == make(IntervalsRequest(grade=grade)).title


@pytest.mark.parametrize(
    ("widest", "was"), [("octave", ""), ("eleventh", "an eleventh"), ("seventh", "a seventh"), ("sixth", "")]
)
def test_narrowed(widest: str, was: str) -> None:
    """Where range or leap ask for less, the page says from what to what, and both limits."""
    study = make(IntervalsRequest(grade="2", widest=widest))
    within = (study.limits.low, study.limits.high)

    assert study.remarks == ((Narrowed(was, "a sixth", within, leap=study.limits.leap, every=True),) if was else ())


@pytest.mark.parametrize(
    ("asked", "answer"),
    [
        (IntervalsRequest(keys=("C",), widest="third", articulation="slurred"), "C5 D5 C5 C5 E5 C5"),
        (IntervalsRequest(keys=("Am",), widest="third", direction="both", articulation="slurred"), "A4 B4 A4 A4 G#4 A4"),
        (IntervalsRequest(keys=("F",), widest="fourth", direction="down", articulation="tongued"), "F4 E4 F4 F4 D4 F4 F4 C4"),
    ],
)
def test_written_out(asked: IntervalsRequest, answer: str) -> None:
    """A few lines stand here note by note."""
    names = [note.pitch.name[:-1] for note in make(asked).notes]
    expected = [name[:-1] for name in answer.split()]

    assert expected == names[: len(expected)]


def test_no_faster_than_the_tongue() -> None:
    """Tongued quarters keep to a slow tongue; at a tempo past it they are refused, slurred ones are not."""
    slow = IntervalsRequest(low="D#5", tempo=167, tongue=40)
    with pytest.raises(BadRequest, match="tempo 160 with high D6 would do"):
        make(slow)

    assert 167 == make(replace(slow, articulation="slurred")).tempo
