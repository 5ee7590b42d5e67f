"""A first-grade week against the published grade.

Source: NMP Grading System, band publisher's chart, nemusicpub.com, read 2026-11-25, grade 1: trumpet C4 to C5 (octaves
inferred), concert keys B flat and E flat (written C and F), meters 2/4, 3/4 and 4/4, whole, half, dotted half, quarter and some
eighth notes, slow to moderate; Moderato ends at 120 in the traditional metronome scale, as an online music dictionary prints it
under "tempo" (address not kept). Typed in here, not taken from our tables.
"""

from datetime import date
from fractions import Fraction

import pytest

from generators.phrase.note import Note
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.routine.week import Week, plan_week

FIRST = date(2026, 11, 30)


@pytest.fixture(scope="module", params=["cornet", "tenor-horn", "euphonium"])
def week(request: pytest.FixtureRequest) -> Week:
    """Return a first-grade player's week."""
    return plan_week(WeekRequest(profile=Profile(horn=request.param, grade="1", minutes=12), on=FIRST))


def test_only_the_published_notes(week: Week) -> None:
    """Every note lies between C4 and C5."""
    played = [note.pitch.midi for day in week.days for part in day.parts for note in part.study.notes]

    assert 60 <= min(played)
    assert max(played) <= 72


def test_only_the_published_keys(week: Week) -> None:
    """Every strain stands in written C or F; lip slurs have no signature and only notes of these keys."""
    strains = [strain for day in week.days for part in day.parts for strain in part.study.strains]

    assert {"C", "F"} >= {strain.key.name for strain in strains}


def test_only_the_published_rhythms(week: Week) -> None:
    """No note is shorter than an eighth, and none is a triplet."""
    lengths = {
        event.length
        for day in week.days
        for part in day.parts
        for strain in part.study.strains
        for event in strain.music
        if isinstance(event, Note)
    }

    assert Fraction(1, 8) <= min(lengths)
    assert all(length.denominator % 3 for length in lengths)


def test_only_the_published_meters_and_tempi(week: Week) -> None:
    """Meters are 2/4, 3/4 or 4/4, tempi slow to moderate."""
    studies = [part.study for day in week.days for part in day.parts]

    # The mouthpiece's free lines have no staff and no meter on paper.
    staves = [strain for study in studies for strain in study.strains if not strain.free]

    assert {"2/4", "3/4", "4/4"} >= {str(strain.meter) for strain in staves}
    assert max(study.tempo for study in studies) <= 120
