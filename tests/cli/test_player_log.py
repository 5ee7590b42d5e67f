"""The commands of profile, log and progress: what they say, what they keep, and how they refuse."""

import csv
import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from generators.cli import main

Run = Callable[..., tuple[int, str, str]]
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a runner of the command in folders of its own: exit code, output, errors."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("COLUMNS", "160")
    monkeypatch.chdir(tmp_path)

    def command(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["waterkey", *words])
        with pytest.raises(SystemExit) as end:
            main()
        out, err = capsys.readouterr()
        return int(str(end.value.code)), out, err

    return command


def test_everything_works_without_a_profile(run: Run, tmp_path: Path) -> None:
    """Without a profile, a log or a terminal the commands answer, and write nothing."""
    answers = [run("player"), run("player", "show", "--json"), run("player", "path"), run("log"), run("progress")]

    assert [(0, "")] * 5 == [(code, err) for code, _, err in answers]
    assert [] == list(tmp_path.iterdir())


def test_a_profile_is_made_changed_and_shown(run: Run) -> None:
    """What make and set are given stands in show; what set is not given stays."""
    run("player", "make", "--horn", "cornet", "--name", "second cornet", "--weak-keys", "Db,F#m", "--duplex")
    run("player", "set", "--minutes", "25", "--horn", "flugelhorn", "--weak-keys", "")
    shown = json.loads(run("player", "show", "--json")[1])

    expected = {"name": "second cornet", "horn": "flugelhorn", "minutes": 25, "weak_keys": [], "duplex": True}
    assert expected == {name: shown["profile"][name] for name in expected}
    assert shown["kept"]


def test_a_default_can_be_set_again(run: Run) -> None:
    """A value that equals the default is a value like any other."""
    run("player", "make", "--minutes", "30", "--duplex")
    run("player", "set", "--minutes", "22", "--no-duplex")
    shown = json.loads(run("player", "show", "--json")[1])["profile"]

    assert (22, False) == (shown["minutes"], shown["duplex"])


def test_a_profile_in_any_file(run: Run, tmp_path: Path) -> None:
    """Every command takes a profile from a file that is named."""
    file = str(tmp_path / "band" / "p.toml")
    run("player", "make", "--profile", file, "--high", "G5", "--minutes", "17")
    run("log", "--felt", "easy", "--profile", file)

    assert "Top is G5 as in the profile" in run("progress", "--profile", file)[1]
    assert 17 == json.loads(run("log", "--json", "--profile", file)[1])[0]["minutes"]
    assert [] == json.loads(run("log", "--json")[1])


@pytest.mark.parametrize(
    ("words", "fields"),
    [
        ((), ("cornet", "2", "C4", "D5")),
        (("--low", "D4"), ("cornet", "2", "D4", "D5")),
        (("--horn", "flugelhorn"), ("flugelhorn", "", "", "")),
        (("--grade", "3"), ("trumpet", "3", "", "")),
    ],
)
def test_another_horn_or_grade_is_another_player(run: Run, words: tuple[str, ...], fields: tuple[str, ...]) -> None:
    """What a profile says of a horn and a grade holds for those alone: another of either leaves it out."""
    run("player", "make", "--horn", "cornet", "--grade", "2", "--low", "C4", "--high", "D5")
    _, out, _ = run("flow", "--format", "midi", "--json", *words)
    asked = json.loads(out)["request"]["request"]

    assert fields == tuple(asked[name] for name in ("horn", "grade", "low", "high"))


def test_fingerings_are_those_of_the_profiles_horn(run: Run) -> None:
    """Without a horn named a note is looked up on the profile's, with one on that."""
    run("player", "make", "--horn", "euphonium-bass-clef")
    own, other = (json.loads(run("fingering", "C4", "--json", *words)[1]) for words in ((), ("--horn", "cornet")))

    assert ("euphonium-bass-clef", "cornet") == (own["horn"], other["horn"])


def test_concert_keys_by_either_name(run: Run) -> None:
    """Keys are said to be concert keys by their whole name, and still by the first word of it."""
    told = [
        json.loads(run("flow", "--keys", "Eb", "--format", "midi", "--replace", "--json", word)[1])
        for word in ("--concert-keys", "--concert")
    ]

    assert told[0] == told[1]
    assert told[0]["request"]["request"]["concert"]


def test_progress_tells_the_month(run: Run) -> None:
    """Keys and areas that were practised are told with their days, the others as neglected, beside days and minutes."""
    run("log", "--date", "2025-11-10", "--minutes", "20", "--keys", "Eb,Cm", "--parts", "flow", "--felt", "hard", "--top", "A5")
    run("log", "--date", "2025-11-11", "--minutes", "10", "--keys", "Eb")
    run("log", "--date", "2025-10-01", "--minutes", "10", "--keys", "D")
    found = json.loads(run("progress", "--json", "--date", "2025-11-20")[1])["month"]
    told = run("progress", "--date", "2025-11-20")[1]

    assert (2, 30, "A5") == (found["days"], found["minutes"], found["top"])
    assert {"easy": 0, "good": 1, "hard": 1, "sore": 0} | found["felt"] == {"easy": 0, "good": 1, "hard": 1, "sore": 0}
    assert {"Eb": 2, "Cm": 1} == found["keys"]["practised"]
    assert ("D" in found["keys"]["neglected"], 22) == (True, len(found["keys"]["neglected"]))
    assert {"flow": 1} == found["areas"]["practised"]
    assert all(words in told for words in ("Keys: E♭ 2, Cm 1", "2 of 30 days, 30 minutes", "This week: ["))


def test_dates_are_said_in_words(run: Run) -> None:
    """Tables tell days in words, data as they are typed."""
    run("log", "--date", "2020-11-10")

    assert "10 November 2020" in run("log")[1]
    assert "9 November" in run("progress", "--date", "2020-11-20")[1]
    assert "2020-11-10" == json.loads(run("log", "--json")[1])[0]["date"]


def test_a_profile_is_not_made_twice(run: Run) -> None:
    """Make does not write over a profile unless it is told to."""
    run("player", "make", "--minutes", "30")
    code, _, err = run("player", "make")

    assert (2, 1) == (code, err.count("\n"))
    assert "waterkey player set" in err
    assert 0 == run("player", "make", "--replace")[0]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("player", "set"), "nothing to set"),
        (("player", "set", "--horn", "corenet"), 'Did you mean "cornet"?'),
        (("player", "set", "--minutes", "many"), 'minutes "many" is not a whole number'),
        (("player", "set", "--minutes", "99"), "allowed: 8 to 60"),
        (("player", "show", "--profile", "none.toml"), "none.toml: profile is not there"),
        (("player", "set", "--hgih", "A5"), 'Did you mean "--high"?'),
        (("log", "--felt", "sorer"), 'Did you mean "sore"?'),
        (("log", "--date", "yesterday"), "write year, month and day"),
        (("log", "--date", "2999-01-01"), "is still to come"),
        (("log", "--top", "H5"), "is not a written pitch"),
        (("log", "--top", "C9"), "top C9 is out of reach on the trumpet; allowed: F#3 to E7."),
        (("log", "--minutes", "0"), "allowed: 1 to 600"),
        (("log", "--kind", "gig"), "allowed: normal, light, concert, stretch"),
        (("log", "--delete", "4"), "entry 4 is not in the log"),
        (("log", "--delete", "4", "--felt", "easy"), "too much at once"),
        (("progress", "--format", "gif"), "allowed: pdf, ly, svg, png"),
        (("progress", "--date", "x"), "is not a date"),
    ],
)
def test_a_refusal_is_one_line(run: Run, words: tuple[str, ...], message: str) -> None:
    """A wrong request ends with code 2, one line on standard error and nothing on standard output."""
    code, out, err = run(*words)

    assert (2, "", 1) == (code, out, err.count("\n"))
    assert message in err


def test_sessions_are_logged_listed_and_deleted(run: Run) -> None:
    """A session is told back, listed with its number, and deleted by it."""
    _, told, _ = run("log", "--minutes", "25", "--felt", "hard", "--top", "Bb5", "--date", "2026-11-03", "--notes", "[b]cold")
    listed = json.loads(run("log", "--json")[1])

    assert told.startswith("logged as entry 1: 3 November")
    expected = {"id": 1, "date": "2026-11-03", "minutes": 25, "felt": "hard", "top": "Bb5", "kind": "normal"}
    expected |= {"notes": "[b]cold", "code": None, "horn": "trumpet", "keys": [], "parts": []}
    assert [expected] == listed
    assert "[b]cold" in run("log")[1]
    assert run("log", "--delete", "1")[1].startswith("deleted entry 1: ")
    assert [] == json.loads(run("log", "--json")[1])


def test_the_log_is_exported(run: Run, tmp_path: Path) -> None:
    """The CSV holds all entries, in a file or on the terminal."""
    for top in ("A5", "B5"):
        run("log", "--top", top)
    _, told, _ = run("log", "--csv", "sub/log.csv")

    with (tmp_path / "sub" / "log.csv").open(encoding="utf-8", newline="") as file:
        assert ["A5", "B5"] == [row["top"] for row in csv.DictReader(file)]
    assert "sub/log.csv\n" == told.replace(os.sep, "/")


def test_growth_is_told(run: Run) -> None:
    """After the tenth easy day the log and the progress say that the top has grown, and since when."""
    for i in range(10):
        _, told, _ = run("log", "--felt", "easy", "--top", "A5", "--date", str(date(2025, 11, 3) + timedelta(days=i)))

    assert "top is B♭5 since 12 November 2025: ten easy days" == told.splitlines()[-1]
    found = json.loads(run("progress", "--json", "--date", "2025-11-20")[1])
    assert ("Bb5", "2025-11-12", 3) == (found["top"], found["since"], len(found["weeks"]))


def test_progress_counts_to_its_date(run: Run) -> None:
    """The weeks end with the day that is asked for, and are as many as asked."""
    for day in ("2025-11-03", "2025-11-10", "2025-11-17"):
        run("log", "--date", day)
    found = json.loads(run("progress", "--json", "--date", "2025-11-16", "--weeks", "1")[1])

    assert ["2025-11-10"] == [week["monday"] for week in found["weeks"]]


def test_a_damaged_log_is_a_line(run: Run, tmp_path: Path) -> None:
    """A log that is no database ends with code 1 and one line."""
    (tmp_path / "data" / "waterkey").mkdir(parents=True)
    (tmp_path / "data" / "waterkey" / "log.sqlite").write_bytes(b"rubbish" * 100)
    code, out, err = run("log")

    assert (1, "", 1) == (code, out, err.count("\n"))
    assert "it was left as it is" in err


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminal")
def test_the_wizard_asks_on_a_terminal(tmp_path: Path) -> None:
    """On a terminal every field is asked; a wrong answer is told and asked again; Enter keeps the default.

    Two and a half years of playing propose grade 3 and its range.
    """
    import pty

    ours, theirs = pty.openpty()
    places = {"XDG_CONFIG_HOME": str(tmp_path), "TERM": "dumb"}
    command = [sys.executable, "-m", "generators", "player", "make", "--minutes", "25"]
    process = subprocess.Popen(command, cwd=ROOT, env=os.environ | places, stdin=theirs, stdout=theirs, stderr=theirs)
    os.close(theirs)
    os.write(ours, b"second cornet\ncorenet\ncornet\n2.5\n0\n" + b"\n" * 30)
    process.wait(timeout=60)
    said = _read(ours)
    os.close(ours)
    text = (tmp_path / "waterkey" / "player.toml").read_text(encoding="utf-8")

    assert 0 == process.returncode, said
    assert 'Did you mean "cornet"?' in said
    assert ('grade = "3"' in text, 'high = "G5"' in text) == (True, True)
    assert ('name = "second cornet"' in text, 'horn = "cornet"' in text, "minutes = 25" in text) == (True, True, True)


def _read(terminal: int) -> str:
    parts = []
    try:
        while part := os.read(terminal, 65536):
            parts.append(part)
    except OSError:  # Linux ends a pseudo-terminal with an error
        pass
    return b"".join(parts).decode()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("log", "--delete", "99999999999999999999"), "is out of reach"),
        (("progress", "--out", "~nobody-here/x"), "begins with a home that is not known"),
        (("player", "show", "--profile", "~nobody-here/p.toml"), "begins with a home that is not known"),
        (("week", "--from", "9999-12-30"), "is out of reach"),
    ],
)
def test_odd_numbers_places_and_days_are_refused(run: Run, words: tuple[str, ...], message: str) -> None:
    """A number past all counting, the home of nobody and the end of the calendar are each a line."""
    run("log", "--minutes", "20", "--felt", "easy")
    code, out, err = run(*words)

    assert (2, "", 1) == (code, out, err.count("\n"))
    assert message in err


def test_a_chart_replaces_no_other_music(run: Run) -> None:
    """Where other music stands, the chart of progress is refused, and printed with --replace."""
    run("flow", "--keys", "C", "--format", "ly", "--out", "x")
    refused, forced = (
        run("progress", "--format", "ly", "--out", "x"),
        run("progress", "--format", "ly", "--out", "x", "--replace"),
    )

    assert (2, 0) == (refused[0], forced[0])
    assert "x.ly" in refused[2]


@pytest.mark.parametrize("text", ["minutes = 1" + "0" * 5000, "minutes = " + "[" * 5000])
def test_a_profile_past_all_reading_is_refused(run: Run, tmp_path: Path, text: str) -> None:
    """A number of thousands of digits and lists without end are a line."""
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    code, _, err = run("player", "show", "--profile", str(tmp_path / "p.toml"))

    assert (2, 1) == (code, err.count("\n"))


def test_the_log_replaces_no_other_file(run: Run, tmp_path: Path) -> None:
    """As CSV the log is written again over itself, and over nothing else but with --replace."""
    (tmp_path / "notes.csv").write_text("my notes", encoding="utf-8")
    run("log", "--minutes", "20", "--felt", "easy")
    first, again, refused = (run("log", "--csv", name) for name in ("log.csv", "log.csv", "notes.csv"))

    assert (0, 0, 2) == (first[0], again[0], refused[0])
    assert "my notes" == (tmp_path / "notes.csv").read_text(encoding="utf-8")
    assert "choose another place; --replace would do" in refused[2]
    assert 0 == run("log", "--csv", "notes.csv", "--replace")[0]
    assert (tmp_path / "log.csv").read_bytes() == (tmp_path / "notes.csv").read_bytes()
