"""`waterkey again`: a sheet made again from the PDF that carries it, the same, or changed by each of its options."""

import io
import json
import sys
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfWriter

from generators.cli import main
from generators.fields import slots
from generators.jobs.changes import Changes
from generators.press.pdf import carried_by
from tests.cli.running import Ran

HOME_VARIABLES = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME")
PLAYER = ("player", "make", "--horn", "cornet", "--high", "G5", "--weak-keys", "Db", "--name", "second cornet")
# One sheet of every kind of paper that holds music, as short as it can be had.
PRINTED = {
    "flow": "flow --keys Eb,D --seed 3",
    "packet": "packet --studies flow,slurs,flow --keys Eb --title Tuesday",
    "day": "day --minutes 8 --kind light --large-print",
    "week": "week --minutes 8 --from 2026-11-30",
}


def said(*words: str) -> Ran:
    """Run the command line, and return how it ended."""
    out, err, before = io.StringIO(), io.StringIO(), sys.argv
    sys.argv = ["waterkey", *words]
    try:
        with redirect_stdout(out), redirect_stderr(err), pytest.raises(SystemExit) as end:
            main()
    finally:
        sys.argv = before
    return Ran(int(str(end.value.code)), out.getvalue(), err.getvalue())


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Return what prints a sheet once, in the home of a player who has a profile and a log."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        _at_home(patch, home)
        said(*PLAYER)
        for day in range(10, 20):
            said(*f"log --date 2025-11-{day} --felt easy --top G5 --minutes 20".split())

    def printed(name: str) -> Path:
        file = home / f"{name}.pdf"
        if not file.is_file():
            with pytest.MonkeyPatch.context() as patch:
                _at_home(patch, home)
                assert 0 == said(*PRINTED[name].split(), "--out", str(file)).code
        return file

    return printed


def _at_home(patch: pytest.MonkeyPatch, home: Path) -> None:
    for name in HOME_VARIABLES:
        patch.setenv(name, str(home))
    patch.chdir(home)


@pytest.fixture
def away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work where nothing is known of any player: an empty home, an empty folder."""
    _at_home(monkeypatch, tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", PRINTED)
def test_unchanged_it_is_the_same_bytes(name: str, sheets: Callable[[str], Path], away: Path) -> None:
    """Without a profile and without a log the same PDF comes again, and nothing else appears."""
    ran = said("again", str(sheets(name)), "--out", "x.pdf")

    assert (0, "") == (ran.code, ran.err)
    assert sheets(name).read_bytes() == (away / "x.pdf").read_bytes()
    assert [away / "x.pdf"] == list(away.iterdir())


def carried(*words: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the request and the sheet that a command tells in its report."""
    ran = said(*words, "--json", "--format", "midi", "--out", "x", "--replace")
    assert (0, "") == (ran.code, ran.err)
    told = json.loads(ran.out)["request"]
    return told["request"], told["sheet"]


# Option, value as it is typed, and where it then stands in the request or on the sheet.
CHANGED: list[tuple[str, str, str, Any]] = [
    ("horn", "flugelhorn", "horn", "flugelhorn"),
    ("keys", "A,Bbm", "keys", ["A", "Bbm"]),
    ("transpose", "2", "keys", ["F", "E"]),
    ("transpose", "-1", "keys", ["D", "Db"]),
    ("low", "A3", "low", "A3"),
    ("high", "F5", "high", "F5"),
    ("grade", "6", "grade", "6"),
    ("tempo", "66", "tempo", 66),
    ("seed", "8", "seed", 8),
    ("paper", "letter", "paper", "letter"),
    ("large_print", "", "large_print", True),
    ("fingerings", "", "fingerings", "all"),
    ("fingerings", "new", "fingerings", "new"),
    ("fingerings", "all", "fingerings", "all"),
    ("note_names", "", "note_names", True),
    ("title", "Tuesday lines", "title", "Tuesday lines"),
    ("player", "solo horn", "player", "solo horn"),
    ("date", "2026-12-24", "date", "2026-12-24"),
]


@pytest.mark.usefixtures("away")
@pytest.mark.parametrize(("option", "value", "field", "expected"), CHANGED, ids=[row[0] + row[1] for row in CHANGED])
def test_each_option_changes_one_thing(
    option: str, value: str, field: str, expected: Any, sheets: Callable[[str], Path]
) -> None:
    """An option changes the field that it names in the request or on the sheet, and nothing beside it."""
    words = [f"--{option.replace('_', '-')}", *([value] if value else [])]
    before = carried("again", str(sheets("flow")))
    after = carried("again", str(sheets("flow")), *words)
    side = 0 if field in before[0] else 1

    assert expected != before[side][field]
    assert before[side] | {field: expected} == after[side]
    assert before[1 - side] == after[1 - side]


@pytest.mark.usefixtures("away")
def test_a_bare_option_may_stand_before_the_sheet(sheets: Callable[[str], Path]) -> None:
    """An option that may go without a value does not take the sheet for one."""
    _, sheet = carried("again", "--fingerings", str(sheets("flow")))

    assert "all" == sheet["fingerings"]


def test_every_option_is_tried() -> None:
    """The rows above hold every change that there is."""
    assert {slot.name for slot in slots(Changes)} == {option for option, *_ in CHANGED}


@pytest.mark.usefixtures("away")
def test_formats_and_place(sheets: Callable[[str], Path], away: Path) -> None:
    """Formats and place are chosen as for any sheet; without a place the name tells the changed music."""
    said("again", str(sheets("flow")), "--format", "midi,musicxml", "--out", "lines/x")
    told = json.loads(said("again", str(sheets("flow")), "--horn", "flugelhorn", "--format", "midi", "--json").out)

    assert ["x.mid", "x.musicxml"] == sorted(path.name for path in (away / "lines").iterdir())
    assert [f"out/flow-flugelhorn-Eb-D-{told['code']}.mid"] == told["files"]


@pytest.mark.usefixtures("away")
def test_a_week_for_another_horn(sheets: Callable[[str], Path]) -> None:
    """A week for flugelhorn is one command: the player's habits stay, what belongs to the horn goes."""
    text, _ = carried_by(sheets("week").read_bytes())
    before, (after, _) = json.loads(text)["request"], carried("again", str(sheets("week")), "--horn", "flugelhorn")

    assert before["profile"] | {"horn": "flugelhorn", "high": ""} == after["profile"]
    assert (before["on"], before["minutes"]) == (after["on"], after["minutes"])
    assert before["growth"]
    assert None is after["growth"]


@pytest.mark.usefixtures("away")
def test_a_change_that_cannot_be_is_refused(sheets: Callable[[str], Path]) -> None:
    """A change is refused as it would be for a new sheet, under the name of its option, and with what would do."""
    ran = said("again", str(sheets("flow")), "--low", "C5", "--high", "D5")

    assert (2, 1) == (ran.code, ran.err.count("\n"))
    assert "--high" in ran.err


def _blank() -> bytes:
    writer, result = PdfWriter(), io.BytesIO()
    writer.add_blank_page(100, 100)
    writer.write(result)
    return result.getvalue()


WRONG: dict[str, Callable[[Path], Any]] = {
    "gone": lambda _: None,
    "a folder": lambda file: file.mkdir(),
    "empty": lambda file: file.write_bytes(b""),
    "a text": lambda file: file.write_text("Monday: long tones", encoding="utf-8"),
    "of another hand": lambda file: file.write_bytes(_blank()),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_file_is_a_line(name: str, away: Path) -> None:
    """What is not a sheet of ours ends with code 2 and one line; nothing is written."""
    WRONG[name](away / "x.pdf")
    before = list(away.iterdir())
    ran = said("again", "x.pdf", "--out", "y")

    assert (2, "", 1) == (ran.code, ran.out, ran.err.count("\n"))
    assert before == list(away.iterdir())


def test_a_sheet_must_be_named(away: Path) -> None:
    """Without a file the command says what is missing."""
    ran = said("again")

    assert (2, 1) == (ran.code, ran.err.count("\n"))
    assert [] == list(away.iterdir())
