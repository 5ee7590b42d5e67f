"""The command of a class, as strangers use it."""

import json
from pathlib import Path

import pytest

from tests.cli.running import Run, runner

BAND = """
[[player]]
name = "cornet"
horn = "cornet"
grade = "1"

[[player]]
name = "euphonium"
horn = "euphonium-bass-clef"
grade = "1"
"""
SHORT = ("--studies", "scales", "--minutes", "2")


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs the command line."""
    return runner(monkeypatch, capfd)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Return the file of a small band."""
    place = tmp_path / "band.toml"
    place.write_text(BAND, encoding="utf-8")
    return place


def test_a_class_is_printed(run: Run, file: Path) -> None:
    """Two players have two parts and a score, and are told the key and their ranges."""
    ran = run("class", str(file), *SHORT, "--out", str(file.parent / "out"))

    assert (0, "") == (ran.code, ran.err)
    assert ["cornet.pdf", "euphonium.pdf", "score.pdf"] == sorted(one.name for one in (file.parent / "out").iterdir())
    assert "concert Bb" in ran.out
    assert "C4 to C5, reads C" in ran.out
    assert "Bb2 to Bb3, reads Bb" in ran.out


def test_json_is_one_object(run: Run, file: Path) -> None:
    """The report is JSON alone: parts, keys passed over, who cannot join, who is wrong in the file."""
    file.write_text(BAND + '[[player]]\nname = "x"\nhorn = "kazoo"\n', encoding="utf-8")
    ran = run("class", str(file), *SHORT, "--json", "--out", str(file.parent / "out"))
    told = json.loads(ran.out)

    assert (1, "Bb", ["x"]) == (ran.code, told["concert_key"], [one["name"] for one in told["failed"]])
    assert {"parts", "keys_passed_over", "cannot_join", "score", "papers"} <= set(told)
    assert 'horn "kazoo" is not known' in ran.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "no studio file given"),
        (("nowhere.toml",), "is not there"),
        (("BAND", "--concert-key", "H"), 'key "H" is not known'),
        (("BAND", "--concert-key", "D"), 'concert-key "D" is read by nobody of this class yet; --concert-key Bb would do'),
        (("BAND", "--studies", "opera"), 'studies "opera" is not known'),
        (("BAND", "--minutes", "0"), "minutes 0 is out of reach; allowed: 2 to 60"),
        (("BAND", "--format", "doc"), 'format "doc" is not known'),
    ],
)
def test_a_bad_request_is_one_line(run: Run, file: Path, words: tuple[str, ...], told: str) -> None:
    """What cannot be is refused in one line with what would do, and nothing is written."""
    ran = run("class", *(str(file) if word == "BAND" else word for word in words))

    assert (2, 1) == (ran.code, ran.err.count("\n"))
    assert told in ran.err
    assert [file] == list(file.parent.iterdir())


@pytest.mark.parametrize(("text", "told"), [("", "studio has no players"), ("[[player]]\n", "is missing or empty")])
def test_an_empty_file_is_refused(run: Run, file: Path, text: str, told: str) -> None:
    """A file without players, or with one that has no name, is told so."""
    file.write_text(text, encoding="utf-8")
    ran = run("class", str(file))

    assert 2 == ran.code
    assert told in ran.err
