"""Days and weeks steered from the command line and by the log, as their reports tell it; nothing is engraved."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.running import Run

DAY = ("day", "--date", "2026-12-02")
STEERED = ("--horn", "flugelhorn", "--keys", "Eb,D", "--leave-out", "buzz,air", "--tempo", "scales=96", "--tempo", "slurs=60")


def report(run: Run, *words: str) -> dict[str, Any]:
    """Return what a command reports as JSON."""
    ran = run(*words, "--format", "ly", "--replace", "--out", "page", "--json")
    assert 0 == ran.code, ran.err
    told: dict[str, Any] = json.loads(ran.out)
    return told


def test_wishes_are_kept(run: Run) -> None:
    """Another horn, keys, parts left out and tempi of parts stand in the day and in the request that it carries."""
    told = report(run, *DAY, *STEERED)
    tempi = {part["part"]: part["tempo"] for part in told["parts"]}

    assert "flugelhorn" == told["request"]["request"]["profile"]["horn"]
    assert ["Eb", "D"] == told["days"][0]["keys"]
    assert (96, 60) == (tempi["scales"], tempi["slurs"])
    assert not {"buzz", "air"} & tempi.keys()


def test_one_tempo_is_for_every_part(run: Run) -> None:
    """A tempo without a part is that of every part that can be had at it."""
    tempi = [part["tempo"] for part in report(run, *DAY, "--tempo", "66")["parts"]]

    assert tempi.count(66) > len(tempi) / 2


def test_a_week_is_steered_alike(run: Run) -> None:
    """A week has the same wishes on all its days, and its days are told one by one, each part with its code and areas."""
    told = report(run, "week", "--from", "2026-11-30", "--minutes", "8", *STEERED)

    assert 7 == len(told["days"])
    assert {("Eb", "D")} == {tuple(day["keys"]) for day in told["days"]}
    assert all(part["covers"] and len(part["code"]) == len("K3F7-Q2MD") for part in told["parts"])


def test_the_log_lightens_the_next_day_and_not_the_one_just_printed(run: Run) -> None:
    """What is logged on a day changes the next one, which is light and says why, and nothing of the page of that day."""
    first, next_ = ("day", "--date", "2026-01-14"), ("day", "--date", "2026-01-15")
    before = report(run, *first)
    assert 0 == run("log", "--date", "2026-01-14", "--minutes", "22", "--felt", "sore").code
    after, tomorrow = report(run, *first), report(run, *next_)

    assert before["code"] == after["code"]
    assert "light" == tomorrow["days"][0]["kind"]
    assert "sore" in tomorrow["days"][0]["told"]


def test_a_stretch_so_soon_is_refused_in_a_line(run: Run) -> None:
    """A stretch on a sore day is refused with what would do; anyway it is printed."""
    refused = run(*DAY, "--kind", "stretch", "--felt", "sore")

    assert 2 == refused.code
    assert 1 == refused.err.count("\n")
    assert "--kind light or normal would do" in refused.err
    assert "stretch" == report(run, *DAY, "--kind", "stretch", "--felt", "sore", "--anyway")["days"][0]["kind"]


@pytest.mark.parametrize("text", ["scales=", "scales=9000", "juggling=60", "fast", "60,,70"])
def test_what_is_no_tempo_is_refused(run: Run, text: str) -> None:
    """A tempo that cannot be is refused in one line that names it."""
    refused = run(*DAY, "--tempo", text)

    assert (2, 1) == (refused.code, refused.err.count("\n"))
    assert "tempo" in refused.err


def _own(run: Run, *words: str, table: str = '[days.thursday]\nhorn = "cornet"\nminutes = 12\n') -> dict[str, Any]:
    """Return the Thursday of a report, with its parts, of a player who has something other on it."""
    Path("p.toml").write_text(f'high = "A5"\nseed = 4\nminutes = 8\n{table}', encoding="utf-8")
    told = report(run, *words, "--profile", "p.toml")
    [day] = [day for day in told["days"] if day["date"] == "2026-12-03"]
    return day | {"parts": [part for part in told["parts"] if part["day"] == day["date"]]}


def test_a_day_alone_is_the_day_of_its_week(run: Run) -> None:
    """A Thursday that is other by the profile's table is the same, code and parts, alone and in its week."""
    alone, within = _own(run, "day", "--date", "2026-12-03"), _own(run, "week", "--from", "2026-11-30")

    assert alone == within
    assert ("cornet", 12) == (alone["horn"], round(alone["minutes"]))
    assert report(run, "day", "--date", "2026-12-03", "--profile", "p.toml")["code"] == within["code"]


def test_the_command_line_goes_over_the_table_field_by_field(run: Run) -> None:
    """What is said of a day on the command line of a week stands for the table's, and nothing else of it."""
    within = _own(run, "week", "--from", "2026-11-30", "--day", "thursday:minutes=10")
    said = _own(run, "week", "--from", "2026-11-30", "--day", "thursday:minutes=10,horn=cornet", table="")

    assert ("cornet", 10) == (within["horn"], round(within["minutes"]))
    assert said == within


def test_the_command_line_of_a_day_goes_over_its_table(run: Run) -> None:
    """Another horn, other minutes and another kind that are asked for on the day itself stand for the table's."""
    words = ("--horn", "flugelhorn", "--minutes", "15", "--kind", "normal")
    table = '[days.thursday]\nhorn = "cornet"\nminutes = 12\nkind = "light"\n'
    own = _own(run, "day", "--date", "2026-12-03", *words, table=table)

    assert ("flugelhorn", 15, "normal") == (own["horn"], round(own["minutes"]), own["kind"])


def test_help_is_grouped(run: Run) -> None:
    """Commands stand under what they are for, options under music, player, paper and files."""
    commands, flow, day = (run(*words, "--help").out for words in ((), ("flow",), ("day",)))

    assert all(title in commands for title in ("A day's work", "Studies", "Players and studios", "Facts"))
    assert all(title in flow for title in ("Music", "Player", "Paper", "Files"))
    assert all(title in day for title in ("Today", "Player", "Paper", "Files"))


def test_a_day_asked_alone_is_that_of_its_week(run: Run) -> None:
    """Without a kind a day is what it is in its week, part for part."""
    assert 0 == run("player", "make", "--stretch", "C6", "--minutes", "12").code
    week = report(run, "week", "--from", "2026-11-30")

    for day, kind in (("2026-12-06", "light"), ("2026-12-02", "stretch"), ("2026-12-03", "normal")):
        alone = report(run, "day", "--date", day)
        there = next(each for each in week["days"] if day == each["date"])
        assert (kind, kind) == (alone["days"][0]["kind"], there["kind"])
        assert alone["parts"] == [part for part in week["parts"] if day == part["day"]]


def test_a_week_printed_again_knows_its_days_done(run: Run) -> None:
    """The days that the log has of a week are those done on its cover, and change no note and no code."""
    words = ("week", "--from", "2026-01-05", "--minutes", "8")
    before = report(run, *words)
    assert 0 == run("log", "--date", "2026-01-06", "--minutes", "8").code
    after = report(run, *words)

    assert ([], ["2026-01-06"]) == (before["request"]["request"].get("done", []), after["request"]["request"]["done"])
    assert before["code"] == after["code"]
