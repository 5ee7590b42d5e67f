"""The time of a day, from outside: the length of the exported MIDI, read by mido, plus the rests printed between the parts.

The check values are our own choice: a routine of 20 to 25 minutes in about sixteen parts.
"""

import io
from datetime import date
from pathlib import Path

import mido
import pytest
from generators.jobs.routines import DayRequest, print_day

from generators.routine.profile import Profile

DAY = date(2026, 11, 25)
PLAYERS = {
    "professional": Profile(minutes=22, stretch="C6"),
    "long": Profile(minutes=25, horn="cornet"),
    "first grade": Profile(minutes=12, grade="1"),
    "third grade": Profile(minutes=18, grade="3", horn="tenor-horn"),
    "bass": Profile(minutes=30, horn="eb-bass"),
}


def seconds(midi: bytes) -> float:
    """Return how long a MIDI file lasts, tempo changes counted, to its end-of-track event."""
    return float(mido.MidiFile(file=io.BytesIO(midi)).length)


@pytest.mark.parametrize("kind", ["normal", "light", "concert", "stretch"])
@pytest.mark.parametrize("player", PLAYERS)
def test_a_day_lasts_what_was_asked(player: str, kind: str, tmp_path: Path) -> None:
    """MIDI and printed rests together are within five percent of the minutes planned."""
    report = print_day(DayRequest(profile=PLAYERS[player], on=DAY, kind=kind), tmp_path / "day", ("midi",))
    heard = seconds(report.files[0].read_bytes())
    wanted = {"normal": 1.0, "light": 0.7, "concert": 0.6, "stretch": 1.0}[kind] * PLAYERS[player].minutes * 60
    asked = max(8 * 60, round(wanted / 60) * 60)

    assert asked == pytest.approx(heard + report.seconds_between, rel=0.05)


@pytest.mark.parametrize("minutes", [8, 15, 22, 40, 60])
def test_minutes_asked_for_are_kept(minutes: int, tmp_path: Path) -> None:
    """From eight minutes to an hour the day is as long as it was wanted."""
    request = DayRequest(profile=Profile(), on=DAY, minutes=minutes)
    report = print_day(request, tmp_path / "day", ("midi",))
    heard = seconds(report.files[0].read_bytes())

    assert minutes * 60 == pytest.approx(heard + report.seconds_between, rel=0.05)


def test_the_usual_day_is_of_the_trade() -> None:
    """Without any wish a day lasts 20 to 25 minutes in about sixteen parts."""
    from generators.routine import requests
    from generators.routine.day import plan

    day = plan(requests.DayRequest(profile=Profile(), on=DAY))

    assert 20 <= day.seconds / 60 <= 25
    assert 14 <= len(day.parts) <= 17
