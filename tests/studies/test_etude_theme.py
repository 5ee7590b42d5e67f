"""A theme goes somewhere: its span, its skip, what it states; one height, late, broad and risen to."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest

from generators.phrase.note import Note
from generators.phrase.study import Study
from generators.studies.etude.course import COURSES
from generators.studies.etude.forms import TUNE_FORMS
from generators.studies.etude.kinds import TUNE_KINDS
from generators.studies.etude.manner import heights
from generators.studies.etude.study import EtudeRequest, etude
from generators.theory.pitch import Pitch

KEYS = ("Bb", "C", "Gm", "F", "D", "Eb")
study_of = cache(etude)
ASKED = tuple(
    EtudeRequest(kind=kind, keys=(KEYS[(i + j) % len(KEYS)],), bars=("32", "16", "24")[(i + j) % 3], seed=50 * j + i)
    for i, kind in enumerate(TUNE_KINDS)
    for j in range(2)
)
_Timed = tuple[Fraction, Note[Pitch]]


@pytest.fixture(params=ASKED, ids=[f"{one.kind}-{one.keys[0]}-{one.seed}" for one in ASKED])
def study(request: pytest.FixtureRequest) -> Study:
    """Return one etude after another."""
    return study_of(request.param)


def timed(study: Study) -> Iterator[_Timed]:
    """Yield the notes of a tune, each with its moment counted from the first bar line."""
    now = -study.strains[0].upbeat
    for strain in study.strains:
        for event in strain.music:
            if isinstance(event, Note):
                yield now, event
            now += event.length


def first(study: Study, bars: int) -> list[Note[Pitch]]:
    """Return the notes of the first bars."""
    return [note for now, note in timed(study) if now < bars * study.strains[0].meter.bar]


def test_a_theme_goes_over_a_sixth(study: Study) -> None:
    """The first eight bars go over a sixth at the least."""
    places = [note.pitch.place for note in first(study, 8)]
    assert 5 <= max(places) - min(places)


def test_a_theme_says_where_it_is(study: Study) -> None:
    """The first two bars have a skip, the tonic and the third."""
    notes, home = first(study, 2), study.strains[0].key
    places = [note.pitch.place for note in notes]
    assert 1 < max(abs(b - a) for a, b in pairwise(places))
    assert {0, 2} <= {(place - home.degree(0).place) % 7 for place in places}


def test_no_note_is_dwelt_on(study: Study) -> None:
    """No pitch takes more than a third of the time of a tune."""
    notes = [note for _, note in timed(study)]
    whole = sum(note.length for note in notes)
    for pitch in {note.pitch for note in notes}:
        assert sum(note.length for note in notes if note.pitch == pitch) <= whole / 3


def test_the_height_is_broad(study: Study) -> None:
    """The highest note is sounded once, on a bar line, a beat and a half long, of three eighths one; the line rises to it."""
    notes = list(timed(study))
    top = max(note.pitch.midi for _, note in notes)
    (at,) = (i for i, (_, note) in enumerate(notes) if note.pitch.midi == top)
    now, note = notes[at]
    meter = study.strains[0].meter
    share = now / sum(strain.meter.bar * (len(strain.bars) - bool(strain.upbeat)) for strain in study.strains)

    assert 0 == now % meter.bar
    assert note.length >= min(meter.beat * 3 / 2, Fraction(3, 8))
    assert Fraction(1, 10) <= share <= Fraction(17, 20)
    assert notes[at - 1][1].pitch.place < note.pitch.place


def test_the_height_stays_loud(study: Study) -> None:
    """For a bar from the highest note on nothing is softer and nothing falls."""
    notes = list(timed(study))
    start = max(notes, key=lambda one: one[1].pitch.midi)[0]
    after = [note for now, note in notes if start < now < start + study.strains[0].meter.bar]
    assert not any(note.dynamic or note.hairpin for note in after)


def test_heights_are_early_and_late() -> None:
    """Of many tunes some have their highest note in the first half of the way, and some after it."""
    made = [study_of(EtudeRequest(kind=kind, bars="32", seed=seed)) for kind in ("song", "march", "waltz") for seed in range(5)]
    shares = [max(range(len(study.notes)), key=lambda i: study.notes[i].pitch.midi) / len(study.notes) for study in made]

    assert 3 <= sum(share < 0.55 for share in shares) <= len(shares) - 3


def test_every_form_has_a_late_height() -> None:
    """However many phrases there are, a bar between three fifths and seventeen twentieths of the way may have the height."""
    for forms in TUNE_FORMS.values():
        for form in forms:
            assert heights(len(form.phrases), free=False, halved=True)


def test_forms_close_seldom() -> None:
    """No form has more than two full closes before its end, which is one."""
    for form in (form for forms in TUNE_FORMS.values() for form in forms):
        *inner, last = form.phrases
        assert "perfect" == last.cadence
        assert sum(plan.cadence == "perfect" for plan in inner) <= 2


def test_last_returns_go_further() -> None:
    """No form ends by saying a phrase again as it was."""
    assert "again" not in {form.phrases[-1].course for forms in TUNE_FORMS.values() for form in forms}


def test_middles_rise() -> None:
    """What moves in a middle moves up."""
    assert not any("-" in course for name in ("away", "back") for course in COURSES[name])


@pytest.mark.parametrize("seed", range(4))
def test_a_lament_comes_down(seed: int) -> None:
    """One of the two notes before the last of a lament is the step over it."""
    *led, last = study_of(EtudeRequest(kind="lament", keys=("Gm",), bars="16", seed=seed)).notes[-3:]
    assert 1 in {note.pitch.place - last.pitch.place for note in led}
