"""What is told to a terminal of few characters, a full disk or nobody: a line at the most, and never a traceback."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest


def told(words: str, redirected: str = "", encoding: str = "utf-8") -> tuple[int, str, str]:
    """Run the command line in a shell of its own, in the folder where the test works."""
    root = Path(__file__).resolve().parents[2]
    own = {"PYTHONIOENCODING": encoding, "HOME": str(Path.cwd()), "XDG_DATA_HOME": str(Path.cwd()), "PYTHONPATH": str(root)}
    line = f"{sys.executable} -m generators {words} {redirected}"
    run = subprocess.run(["bash", "-c", line], capture_output=True, env=os.environ | own)
    return run.returncode, run.stdout.decode(encoding), run.stderr.decode(encoding)


@pytest.fixture(autouse=True)
def _away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(
    ("words", "encoding"),
    [
        ("log --top Bb5 --minutes 5", "cp1252"),
        ("horns", "iso8859-15"),
    ],
)
def test_what_an_encoding_lacks_is_a_question_mark(words: str, encoding: str) -> None:
    """Whatever the terminal cannot show, the work is done and told."""
    code, out, err = told(words, encoding=encoding)

    assert (0, "") == (code, err)
    assert out


def test_json_keeps_what_an_encoding_lacks() -> None:
    """An object as JSON holds the whole title, whatever the terminal can show."""
    code, out, _ = told("flow --format midi --title 日本 --json", encoding="cp1252")

    assert (0, "日本") == (code, json.loads(out)["request"]["sheet"]["title"])


@pytest.mark.parametrize("redirected", ["2>/dev/full", ">&- 2>&-"])
def test_a_refusal_that_nobody_takes_keeps_its_code(redirected: str) -> None:
    """A bad request ends with code 2 whether it can be told or not."""
    assert (2, "", "") == told("horn", redirected)


@pytest.mark.parametrize(
    ("words", "redirected"),
    [
        ("horns", ">/dev/full"),
        ("log --csv -", ">&-"),
        ("--help", ">&-"),
    ],
)
def test_output_that_nobody_takes_is_a_line(words: str, redirected: str) -> None:
    """A full or closed standard output ends with code 1 and one line that says so."""
    code, out, err = told(words, redirected)

    assert (1, "", 1) == (code, out, len(err.splitlines()))
    assert err.startswith("waterkey: the output cannot be written: ")
