"""What is printed for a day is what is logged on it, each profile by itself; the log amended, taken out and taken in."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.running import Run

DAY, WEEK = ("day", "--date", "2026-01-14"), ("week", "--from", "2026-01-12", "--minutes", "8")
PLAYED = ("code", "horn", "keys", "parts")


def printed(run: Run, *words: str) -> dict[str, Any]:
    """Return what a page that is printed reports."""
    ran = run(*words, "--format", "ly", "--replace", "--out", "page", "--json")
    assert (0, "") == (ran.code, ran.err)
    told: dict[str, Any] = json.loads(ran.out)
    return told


def logged(run: Run, *words: str) -> dict[str, Any]:
    """Return the entry that is logged."""
    ran = run("log", "--date", "2026-01-14", "--felt", "good", *words, "--json")
    assert 0 == ran.code, ran.err
    [entry] = json.loads(ran.out)
    return dict(entry)


def played(told: dict[str, Any], on: str) -> dict[str, Any]:
    """Return what a report tells of a day, as the log has it."""
    [day] = [day for day in told["days"] if day["date"] == on]
    parts = [part["part"] for part in told["parts"] if part["day"] == on]
    return {"code": day["code"], "horn": day["horn"], "keys": day["keys"], "parts": parts, "kind": day["kind"]}


@pytest.mark.parametrize("words", [(*DAY, "--horn", "cornet", "--kind", "light"), (*WEEK, "--day", "wednesday:horn=cornet")])
def test_what_was_printed_is_logged(run: Run, words: tuple[str, ...]) -> None:
    """A session has the code, the horn, the keys, the parts and the kind of the page of its day, alone or in a week."""
    told = printed(run, *words)
    entry = logged(run)

    assert played(told, "2026-01-14") == {name: entry[name] for name in (*PLAYED, "kind")}
    assert "cornet" == entry["horn"]


def test_the_last_page_of_a_date_counts(run: Run) -> None:
    """Of two days printed for one date the last one is what was played."""
    printed(run, *DAY)
    last = printed(run, *DAY, "--minutes", "12")

    assert (last["code"], 12) == tuple(logged(run)[name] for name in ("code", "minutes"))


def test_what_is_told_otherwise_counts(run: Run) -> None:
    """What is said of a session stands for what was printed, field by field."""
    printed(run, *DAY)
    said = ("--horn", "cornet", "--keys", "Eb,Cm", "--parts", "air,flow", "--code", "K3F7-Q2MD", "--kind", "concert")
    entry = logged(run, *said)

    assert ["K3F7-Q2MD", "cornet", ["Eb", "Cm"], ["air", "flow"], "concert"] == [entry[name] for name in (*PLAYED, "kind")]


def test_logging_does_not_change_the_day(run: Run) -> None:
    """A day that is printed, logged and printed again is the same to the byte."""
    before, page = printed(run, *DAY), Path("page.ly").read_bytes()
    logged(run, "--felt", "sore", "--top", "A5")

    assert before == printed(run, *DAY)
    assert page == Path("page.ly").read_bytes()


def test_each_profile_has_its_log(run: Run) -> None:
    """What one profile prints and logs another knows nothing of, whatever their names."""
    for folder in ("a", "b"):
        Path(folder).mkdir()
        Path(folder, "p.toml").write_text("minutes = 9\n", encoding="utf-8")
    printed(run, *DAY, "--profile", "a/p.toml")

    assert logged(run, "--profile", "a/../a/p.toml")["code"]
    assert not logged(run, "--profile", "b/p.toml")["code"]
    assert [] == json.loads(run("log", "--json").out)
    assert 1 == len(json.loads(run("log", "--json", "--profile", "a/p.toml").out))


def test_a_sore_day_lightens_the_days_of_its_profile_alone(run: Run) -> None:
    """The day of one profile listens to the log of that one."""
    Path("p.toml").write_text("", encoding="utf-8")
    run("log", "--date", "2026-01-13", "--felt", "sore")

    assert ["light", "normal"] == [printed(run, *DAY, *words)["days"][0]["kind"] for words in ((), ("--profile", "p.toml"))]


def test_a_page_is_printed_although_it_cannot_be_remembered(run: Run, tmp_path: Path) -> None:
    """Where the log cannot be written the page is there, and a line says what is not."""
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    ran = run(*DAY, "--format", "ly", "--out", "page", "--json")

    assert (0, 1) == (ran.code, ran.err.count("\n"))
    assert "is not remembered" in ran.err
    assert json.loads(ran.out)["code"]


AMENDED = {
    "minutes": ("30", 30),
    "felt": ("sore", "sore"),
    "top": ("Bb5", "Bb5"),
    "kind": ("light", "light"),
    "notes": ("", ""),
    "code": ("K3F7-Q2MD", "K3F7-Q2MD"),
    "horn": ("flugelhorn", "flugelhorn"),
    "keys": ("", []),
    "parts": ("buzz,high", ["buzz", "high"]),
    "date": ("2026-01-10", "2026-01-10"),
}


@pytest.mark.parametrize("field", AMENDED)
def test_an_entry_is_amended(run: Run, field: str) -> None:
    """Each field of an entry can be given anew; what is not given stays."""
    text, value = AMENDED[field]
    printed(run, *DAY)
    entry = logged(run, "--notes", "cold stand", "--top", "A5")
    ran = run("log", "--edit", "1", f"--{field}", text, "--json")

    assert (0, "") == (ran.code, ran.err)
    assert [entry | {field: value}] == json.loads(ran.out) == json.loads(run("log", "--json").out)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--edit", "1"), "nothing to amend; name a field"),
        (("--edit", "9", "--felt", "hard"), "entry 9 is not in the log"),
        (("--edit", "1", "--top", "C9"), "top C9 is out of reach on the trumpet"),
        (("--edit", "1", "--date", "2999-01-01"), "is still to come"),
        (("--edit", "1", "--delete", "1"), "too much at once"),
        (("--edit", "1", "--felt", "great"), 'felt "great" is not known'),
        (("--edit", "1", "--horn", "kazoo"), 'horn "kazoo" is not known'),
        (("--edit", "1", "--keys", "Eb,H"), 'key "H" is not known'),
        (("--edit", "1", "--parts", "juggling"), 'parts "juggling" is not known'),
        (("--edit", "1", "--code", "x"), 'code "x" is the code of no page'),
        (("--import", "none.csv"), "none.csv: the file is not there"),
        (("--import", "bad.csv"), 'bad.csv, line 3: minutes "x" is not a whole number'),
        (("--import", "bad.csv", "--csv", "-"), "too much at once"),
        (("--import", "latin.csv"), "latin.csv: the file is not a text in UTF-8"),
    ],
)
def test_what_cannot_be_changes_nothing(run: Run, words: tuple[str, ...], message: str) -> None:
    """A wrong change, or a file with one bad line, is refused in a line, and the log is as it was."""
    logged(run)
    Path("bad.csv").write_text("date,minutes\n2026-01-10,20\n2026-01-11,x\n", encoding="utf-8")
    Path("latin.csv").write_bytes(b"date,minutes,notes\n2026-01-10,20,\xe9\n")
    before = run("log", "--json").out
    ran = run("log", *words)

    assert (2, 1) == (ran.code, ran.err.count("\n"))
    assert message in ran.err
    assert before == run("log", "--json").out


def test_the_log_goes_out_and_comes_in(run: Run) -> None:
    """An export taken into the log of another profile is the same there; taken in again it adds nothing."""
    printed(run, *DAY)
    logged(run, "--notes", 'cold; "stand", 3')
    logged(run)
    Path("p.toml").write_text("", encoding="utf-8")
    run("log", "--csv", "log.csv")
    first, again = (run("log", "--import", "log.csv", "--profile", "p.toml").out for _ in range(2))

    assert first.startswith("2 of 2 sessions are new")
    assert again.startswith("0 of 2 sessions are new")
    assert Path("log.csv").read_text(encoding="utf-8") == run("log", "--csv", "-", "--profile", "p.toml").out.replace(
        "\r\n", "\n"
    )
    assert 2 == len(list(csv.DictReader(io.StringIO(Path("log.csv").read_text(encoding="utf-8")))))


def test_the_week_is_a_bar(run: Run) -> None:
    """Listed, the log shows how many days of this week have something."""
    run("log", "--felt", "good")

    assert "1 of 7 days" in run("log").out
