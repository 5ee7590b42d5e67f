import json
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typer.main

from generators.brass.horn import HORNS
from generators.cli.app import app
from generators.studies.catalogue import KINDS
from tests.cli.running import Run, runner

HEAVY = ("music21", "abjad", "pypdf", "jinja2")
REPORT = {"files", "pages", "bars", "notes", "lowest", "highest", "seconds_playing", "seconds_rest", "findings"}
README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
WATERKEY = str(Path(sys.executable).with_name("waterkey"))


def _walked(command: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Yield every command with the words that lead to it."""
    below = getattr(command, "commands", {})
    if not below:
        yield path, command
    for name, inner in below.items():
        yield from _walked(inner, (*path, name))


COMMANDS = {" ".join(path): command for path, command in _walked(typer.main.get_command(app))}
PRINTING = [*KINDS, "packet"]


def _examples(command: Any) -> list[str]:
    """Return the command lines that a help text shows after the word Example."""
    _, _, told = " ".join((command.help or "").split()).partition("Example: ")
    return [part.rstrip(".") for part in re.split(r"(?= ?waterkey )", told) if "waterkey" in part]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Return what runs the command line in a folder and a home of its own."""
    monkeypatch.chdir(tmp_path)
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    return runner(monkeypatch, capfd)


def test_the_table_is_whole() -> None:
    """There is a command for each study, and those for all else that is printed, kept and told."""
    others = {"day", "week", "studio", "class", "again", "log", "progress", "fingering", "horns", "grades"}

    assert {*PRINTING, *others, *(f"player {word}" for word in ("show", "make", "set", "path"))} == set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_stands_in_the_readme(name: str) -> None:
    """The README shows every command, in a line to paste, in its table of studies, or in a sentence."""
    assert re.search(rf"waterkey {name}\b|^\| `{name}` \|", README, re.MULTILINE)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_helps(name: str, run: Run) -> None:
    """Help ends well, says what the command does, and says something of every option."""
    ran = run(*name.split(), "--help")

    assert (0, "") == (ran.code, ran.err)
    assert f"waterkey {name}" in " ".join(ran.out.split())
    assert all(option.help for option in COMMANDS[name].params)


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize("columns", [60, 80])
def test_help_cuts_nothing(name: str, columns: int, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal of sixty columns, and of eighty, no name and no list is cut."""
    monkeypatch.setenv("COLUMNS", str(columns))

    assert "…" not in run(*name.split(), "--help").out


def test_a_kind_is_that_of_what_is_printed() -> None:
    """Where an option is called kind, it says which kind of what its command prints."""
    kinds = {name: option.help for name, command in COMMANDS.items() for option in command.params if "--kind" in option.opts}

    assert {"day", "scales", "arpeggios", "tonguing", "etude"} <= set(kinds)
    assert {"day", "log"} == {name for name, words in kinds.items() if "kind of day" in words}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_shows_an_example(name: str) -> None:
    """The help of a command holds a line that can be pasted."""
    examples = _examples(COMMANDS[name])

    assert examples
    assert all(f"waterkey {name}" in example for example in examples)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_example_works(name: str, run: Run) -> None:
    """The examples of a command's help end well and complain of nothing; a sheet that one takes is printed before.

    Those that are lines of the README too are run with it; a study's pages that go to no place of their own are laid out
    and not engraved: other tests engrave every study.
    """
    for example in _examples(COMMANDS[name]):
        words = shlex.split(example)[1:]
        if example in README.splitlines():
            continue
        if words[0] in KINDS and not {"--out", "--format", "--json"} & set(words):
            words += ["--format", "midi"]
        for sheet in (word for word in words if word.endswith(".pdf")):
            run("flow", "--out", sheet)
        ran = run(*words)

        assert (0, "") == (ran.code, ran.err)
        assert ran.out


@pytest.mark.parametrize("name", PRINTING)
def test_a_report_is_one_json_object(name: str, run: Run) -> None:
    """With --json a printing command answers with its files, all there, and with what the pages hold."""
    ran = run(name, "--json", "--format", "midi", "--out", f"deep/er/{name}")
    report = json.loads(ran.out)

    assert (0, "") == (ran.code, ran.err)
    assert set(report) >= REPORT
    assert [f"deep/er/{name}.mid"] == report["files"]
    assert all(Path(file).stat().st_size for file in report["files"])
    assert all(isinstance(report[key], int) and report[key] > 0 for key in ("pages", "bars", "notes"))
    assert all(report[key] > 0 for key in ("seconds_playing", "seconds_rest"))
    assert all(re.fullmatch(r"[A-G](#|b|##|bb)?\d", report[key]) for key in ("lowest", "highest"))


def test_the_horns_are_a_list(run: Run) -> None:
    """Each horn is an object with its id, name, range and transposition."""
    ran = run("horns", "--json")
    rows = json.loads(ran.out)

    assert list(HORNS) == [row["id"] for row in rows]
    assert {"id", "name", "low", "high", "sounding_half_steps"} == set(rows[0])
    assert -2 == next(row["sounding_half_steps"] for row in rows if row["id"] == "trumpet")


def test_a_fingering_is_told(run: Run) -> None:
    """The usual valves come first, with partial and cents, as a table and as JSON."""
    told, rows = run("fingering", "C#5"), json.loads(run("fingering", "C#5", "--json").out)

    assert all(word in told.out for word in ("usual", "1-2", "partial", "cents"))
    assert ("C#5", "1-2", 5) == (rows["note"], rows["fingerings"][0]["valves"], rows["fingerings"][0]["partial"])


@pytest.mark.parametrize(
    ("written", "arguments"),
    [
        (["x/flow.ly", "x/flow.mid", "x/flow.musicxml"], ["--out", "x/flow", "--format", "ly,musicxml,midi"]),
        (["flow.ly"], ["--out", "flow.ly", "--format", "ly"]),
        (["v1.2.mid"], ["--out", "v1.2", "--format", "midi"]),
        (["out/flow-trumpet-Eb-F-CODE.mid"], ["--keys", "Eb,F", "--format", "midi"]),
        (["out/flow-cornet-Fsharpm-CODE.mid"], ["--keys", "F#m", "--horn", "cornet", "--format", "midi"]),
        (["here/flow-trumpet-C-CODE.mid"], ["--keys", "C", "--out", "here/", "--format", "midi"]),
        (["Ünï cødé 🎺.mid"], ["--out", "Ünï cødé 🎺", "--format", "midi"]),
        (["flow.svg"], ["--keys", "C", "--out", "flow", "--format", "svg"]),
        (["flow.pdf", "flow.png"], ["--keys", "C", "--out", "flow", "--format", "png,pdf,png"]),
    ],
)
def test_files_land_where_they_are_wanted(written: list[str], arguments: list[str], run: Run, tmp_path: Path) -> None:
    """A stem is given each format's ending; a folder, or nothing, is given a telling name with the music's code."""
    ran = run("flow", *arguments)

    assert (0, "") == (ran.code, ran.err)
    assert written == sorted(_uncoded(path.relative_to(tmp_path)) for path in tmp_path.rglob("*") if path.is_file())


def test_an_existing_folder_takes_the_file(run: Run, tmp_path: Path) -> None:
    """With --out onto a folder the file lands in it under a telling name."""
    (tmp_path / "sheets").mkdir()
    ran = run("slurs", "--out", "sheets", "--format", "midi")

    assert (0, "") == (ran.code, ran.err)
    assert ["slurs-trumpet-CODE.mid"] == [_uncoded(Path(path.name)) for path in (tmp_path / "sheets").iterdir()]


@pytest.mark.parametrize(
    "pair",
    [
        ("scales", "scales --pattern thirds"),
        ("flow --seed 1", "flow --seed 2"),
        ("flow --tempo 60", "flow --tempo 66"),
        ("packet --studies flow,air", "packet --studies air,flow"),
        ("day --minutes 8 --date 2026-12-01", "day --minutes 8 --date 2026-12-01 --kind light"),
    ],
)
def test_two_sheets_never_share_a_name(pair: tuple[str, str], run: Run, tmp_path: Path) -> None:
    """Other music lands beside what is there, under a name of its own; the same music in its old place."""
    for line in (*pair, *pair):
        ran = run(*line.split(), "--format", "midi")

        assert (0, "") == (ran.code, ran.err)
    assert 2 == len(list((tmp_path / "out").iterdir()))


def test_nothing_is_lost_unasked(run: Run, tmp_path: Path) -> None:
    """The same music is printed over itself, other music only when that is said; the refusal names the option."""
    codes = [run("flow", "--keys", "C", *more, "--out", "x").code for more in ((), ("--paper", "letter"))]
    before = (tmp_path / "x.pdf").read_bytes()
    ran = run("flow", "--keys", "D", "--out", "x")

    assert [0, 0] == codes
    assert (2, 1) == (ran.code, ran.err.count("\n"))
    assert "--replace would do" in ran.err
    assert before == (tmp_path / "x.pdf").read_bytes()
    assert 0 == run("flow", "--keys", "D", "--out", "x", "--replace").code
    assert before != (tmp_path / "x.pdf").read_bytes()


def _uncoded(path: Path) -> str:
    """Return a path with the code of its music as a word."""
    return re.sub(r"-[A-Z2-7]{4}-[A-Z2-7]{4}\.", "-CODE.", str(path))


@pytest.mark.parametrize("arguments", [["flow", "--help"], ["flwo"]])
def test_the_module_is_the_command(arguments: list[str]) -> None:
    """`python -m generators` answers as `waterkey` does, word for word."""
    command, module = (
        subprocess.run([*start, *arguments], capture_output=True, text=True, check=False)
        for start in ([WATERKEY], [sys.executable, "-m", "generators"])
    )

    assert (command.returncode, command.stdout, command.stderr) == (module.returncode, module.stdout, module.stderr)


@pytest.mark.parametrize("arguments", [["flow", "--help"], ["horns"], ["fingering", "C5"]])
def test_what_prints_no_page_loads_no_engraving(arguments: list[str]) -> None:
    """Help, horns and fingerings answer without notation, template or PDF libraries."""
    script = "import sys\nfrom generators.cli import main\ntry:\n    main()\nfinally:\n    print(*sys.modules, file=sys.stderr)"
    run = subprocess.run([sys.executable, "-c", script, *arguments], capture_output=True, text=True, check=True)
    loaded = {name.split(".")[0] for name in run.stderr.split()}

    assert set() == loaded & set(HEAVY)
    assert "generators" in loaded


@pytest.mark.parametrize(
    ("fingerings", "note_names", "words"),
    [
        ("none", False, ""),
        ("all", True, "--grade 1"),
        ("all", False, "--fingerings"),
        ("all", False, "--fingerings --large-print"),
        ("new", False, "--fingerings new"),
        ("new", False, "--fingerings=new"),
        ("none", False, "--fingerings none"),
        ("none", True, "--no-fingerings --grade 1"),
        ("none", True, "--note-names"),
        ("all", False, "--no-note-names --grade 1"),
        ("all", True, "--fingerings --note-names"),
    ],
)
def test_what_stands_over_the_notes_is_chosen(fingerings: str, note_names: bool, words: str, run: Run) -> None:
    """Bare, the option means all fingerings; it takes none, new or all; without it a beginner has them and the note names."""
    ran = run("flow", "--keys", "C", "--format", "midi", "--json", *words.split())
    sheet = json.loads(ran.out)["request"]["sheet"]

    assert (fingerings, note_names) == (sheet["fingerings"], sheet["note_names"])


def test_fingerings_of_another_kind_are_refused(run: Run) -> None:
    """What is none of the choices is refused with them, under the name of the option."""
    ran = run("flow", "--fingerings", "some")

    assert (2, "") == (ran.code, ran.out)
    assert 'fingerings "some" is not known; allowed: none, new, all' in ran.err
