"""The time of a day, from outside: the length of the exported MIDI, read by mido, plus the rests printed between the parts.

The check values are our own choice: a routine of 20 to 25 minutes in seven to twelve parts.
"""

import io
from datetime import date

import mido
import pytest

from generators.jobs.compose import compose
from generators.jobs.render import render
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from tests.routine.players import planned

DAY = date(2026, 11, 25)
PLAYERS = {
    "professional": Profile(minutes=22, stretch="C6"),
    "long": Profile(minutes=25, horn="cornet"),
    "first grade": Profile(minutes=12, grade="1"),
    "third grade": Profile(minutes=18, grade="3", horn="tenor-horn"),
    "bass": Profile(minutes=30, horn="eb-bass"),
}


def seconds(request: DayRequest) -> float:
    """Return how long a day lasts: its MIDI to the end-of-track event, tempo changes counted, and its rests between parts."""
    document = compose(request)
    heard = float(mido.MidiFile(file=io.BytesIO(render(document, "midi"))).length)
    between: int = document.facts["seconds_between"]
    return heard + between


# Every player once or twice and every kind of day: planning is what takes long.
@pytest.mark.parametrize(
    ("player", "kind"),
    [
        ("professional", "normal"),
        ("professional", "stretch"),
        ("long", "concert"),
        ("first grade", "light"),
        ("first grade", "normal"),
        ("third grade", "concert"),
        ("third grade", "stretch"),
        ("bass", "light"),
    ],
)
def test_a_day_lasts_what_was_asked(player: str, kind: str) -> None:
    """MIDI and printed rests together are within five percent of the minutes planned."""
    lasts = seconds(DayRequest(profile=PLAYERS[player], on=DAY, kind=kind))
    wanted = {"normal": 1.0, "light": 0.7, "concert": 0.6, "stretch": 1.0}[kind] * PLAYERS[player].minutes * 60
    asked = max(8 * 60, round(wanted / 60) * 60)

    assert asked == pytest.approx(lasts, rel=0.05)


@pytest.mark.parametrize("minutes", [8, 40, 60])
def test_minutes_asked_for_are_kept(minutes: int) -> None:
    """From eight minutes to an hour the day is as long as it was wanted."""
    lasts = seconds(DayRequest(profile=Profile(), on=DAY, minutes=minutes))

    assert minutes * 60 == pytest.approx(lasts, rel=0.05)


def test_the_usual_day_is_of_the_trade() -> None:
    """Without any wish a day lasts 20 to 25 minutes in seven to twelve parts."""
    day = planned(Profile(), DAY.toordinal())

    assert 20 <= day.seconds / 60 <= 25
    assert 7 <= len(day.parts) <= 12
