"""Whatever is asked wrongly is refused in a line or two that names the value, what is allowed and the nearest match."""

from pathlib import Path

import pytest

from tests.cli.running import Run, runner

# What is typed; what the message must hold.
REFUSED: list[tuple[str, list[str]]] = [
    ("flow --horn trumpt", ['"trumpt"', "flugelhorn-4", 'mean "trumpet"']),
    ("flow --horn 🎺", ['"🎺"', "cornet"]),
    ("flow --keys H", ['"H"', "Eb"]),
    ("flow --keys Eb,Hm", ['"Hm"']),
    ("flow --keys C##", ["C##"]),
    ("flow --keys G#", ["G#", "Ab"]),
    ("flow --keys 日本", ["日本"]),
    ("flow --low X9", ['"X9"']),
    ("flow --low C", ['"C"']),
    ("flow --low C4 --high C4", ["C4"]),
    ("flow --low G5 --high C4", ["G5", "C4"]),
    ("flow --high C9", ["C9", "allowed"]),
    ("flow --low C1", ["C1", "allowed"]),
    ("flow --low C5 --high D5", ["C5", "D5", "would do"]),
    ("flow --grade 9", ["9", "1"]),
    ("flow --grade one", ["one"]),
    ("flow --tempo 0", ["tempo 0", "30 to 240"]),
    ("flow --tempo -5", ["-5"]),
    ("flow --tempo 1000", ["1000", "30 to 240"]),
    ("flow --tempo quick", ['tempo "quick"', "whole number"]),
    ("flow --tempo 72.5", ['"72.5"', "whole number"]),
    ("flow --tempo 1e3", ['"1e3"', "whole number"]),
    ("flow --seed x", ['seed "x"', "whole number"]),
    ("flow --shape dib", ['"dib"', "arch", 'mean "dip"']),
    ("flow --compass sixth", ['"sixth"', "octave"]),
    ("flow --order backwards", ['"backwards"', "down"]),
    ("flow --close slurr", ['"slurr"', 'mean "slurred"']),
    ("flow --paper a5", ['"a5"', "letter", 'mean "a4"']),
    ("flow --date yesterday", ['"yesterday"', "2026-11-25"]),
    ("flow --date 2026-13-01", ['"2026-13-01"']),
    ("flow --format pfd", ['"pfd"', "musicxml", 'mean "pdf"']),
    ("flow --format ,", ['","', "empty place"]),
    ("flow --format=", ["format is missing", "pdf"]),
    ("flow --keys Eb,,D", ['keys "Eb,,D"', "empty place"]),
    ("flow --keys Eb,", ['keys "Eb,"', "empty place"]),
    ("slurs --values 4,,8", ['values "4,,8"', "empty place"]),
    ("packet --studies flow,,scales", ['studies "flow,,scales"', "empty place"]),
    ("flow --concert-keys=yes", ["--concert-keys", "no value"]),
    ("day --minutes x", ['minutes "x"', "8 to 60"]),
    ("day --kind gig", ['"gig"', 'mean "light"']),
    ("player sett", ['"sett"', 'mean "set"']),
    ("flow --format pdf,word", ['"word"', "midi"]),
    ("flow --keyz C", ["--keyz", "--keys"]),
    ("flow --tempo", ["--tempo"]),
    ("flow C", ["C"]),
    ("flwo", ["flwo", "flow"]),
    ("slurs --path 99", ["99"]),
    ("slurs --path 3-3", ["3-3"]),
    ("slurs --path 3-40", ["40"]),
    ("slurs --path up", ['"up"']),
    ("slurs --values 3", ['"3"', "2, 4, 8, 12, 16"]),
    ("slurs --values x", ['values "x"', "whole number"]),
    ("slurs --tubes 9", ['"9"', "1-2-3"]),
    ("slurs --width fourht", ['"fourht"', "fourth"]),
    ("low --depth Z", ['"Z"']),
    ("low --depth C1 --pedals", ["C1", "allowed"]),
    ("low --depth C3", ["C3", "--pedals"]),
    ("low --pedals --grade 1", ["pedals", "grade 1"]),
    ("scales --kind dorain", ['"dorain"', 'mean "dorian"']),
    ("scales --pattern third", ['"third"', 'mean "thirds"']),
    ("scales --articulation legato", ['"legato"', "slurred"]),
    ("scales --rhythm fast", ['"fast"', "eighths"]),
    ("scales --octaves 9", ['"9"', "wide"]),
    ("scales --pattern turns --rhythm triplets", ["turns", "triplets", "--rhythm"]),
    ("scales --articulation triple --rhythm eighths", ["triple", "eighths", "--rhythm"]),
    ("arpeggios --kind seventh", ['"seventh"', "dominant-seventh"]),
    ("entrances --count 0", ["count 0", "1 to 64"]),
    ("entrances --count 65", ["count 65", "1 to 64"]),
    ("entrances --count many", ['count "many"', "whole number"]),
    ("entrances --rests x", ['"x"', "4-16"]),
    ("entrances --rests 0", ['"0"', "4-16"]),
    ("entrances --rests 9-4", ['"9-4"', "4-9"]),
    ("entrances --rests 4-5-6", ['"4-5-6"']),
    ("entrances --long-rest 100", ["100", "0 to 99"]),
    ("entrances --registers mid", ['"mid"', "middle"]),
    ("entrances --dynamics fff", ['"fff"', "pp"]),
    ("entrances --figures fanfar", ['"fanfar"', 'mean "fanfare"']),
    ("packet --studies flow,scails", ['"scails"', 'mean "scales"']),
    ("packet --horn tuba", ['"tuba"', "bb-bass"]),
    ("fingering", ["note"]),
    ("fingering H4", ['"H4"']),
    ("fingering C2", ["C2", "F#2"]),
    ("fingering C4 --horn kazoo", ['"kazoo"', "cornet"]),
]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Return what runs the command line in an empty folder."""
    monkeypatch.chdir(tmp_path)
    return runner(monkeypatch, capfd)


@pytest.mark.parametrize(("line", "words"), REFUSED, ids=[line for line, _ in REFUSED])
def test_a_bad_request_is_refused(line: str, words: list[str], run: Run, tmp_path: Path) -> None:
    """The command ends with code 2 and one or two lines that name the value and what would do; nothing is written."""
    ran = run(*line.split())

    assert (2, "") == (ran.code, ran.out)
    assert 1 <= len(ran.err.splitlines()) <= 2
    assert [] == [word for word in words if word not in ran.err]
    assert [] == list(tmp_path.iterdir())


@pytest.mark.parametrize("line", ["flow --keys=", "slurs --tubes=", "entrances --figures=", "entrances --registers="])
def test_an_empty_list_is_the_default(line: str, run: Run) -> None:
    """A list without an entry asks for nothing of its own."""
    ran = run(*line.split(), "--format", "musicxml")

    assert (0, "") == (ran.code, ran.err)


@pytest.mark.parametrize("text", ["²", "٣", "①", "\u200b", "-", "--", "\n", "'\"\\", "{{ 1 }}", "%s", "9" * 5000, "\udc80"])
@pytest.mark.parametrize("option", ["horn", "keys", "low", "tempo", "shape", "format", "date", "grade"])
def test_odd_text_is_refused_or_understood(option: str, text: str, run: Run) -> None:
    """Digits of other scripts, signs, code and half characters end in a page or in a line, never in a traceback."""
    ran = run("flow", f"--{option}={text}", "--format=midi") if option != "format" else run("flow", f"--format={text}")

    assert ran.code in (0, 1, 2)
    assert len(ran.err.splitlines()) <= 2
    assert bool(ran.err) == bool(ran.code)


@pytest.mark.parametrize(
    "line", ["slurs --path ²-3", "slurs --path ①-②", "entrances --rests ²", "entrances --rests ٣-٥", "fingering C²"]
)
def test_odd_digits_are_refused_or_understood(line: str, run: Run) -> None:
    """A superscript is no number, wherever a number is read out of a text."""
    ran = run(*line.split())

    assert ran.code in (0, 2)
    assert len(ran.err.splitlines()) <= 1


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("week --from 9999-12-31", 'from "9999-12-31" is out of reach'),
        ("week --from tomorrow", 'from "tomorrow" is not a date'),
        ("day --date 9999-12-31", 'date "9999-12-31" is out of reach'),
        ("studio band.toml --from tomorrow", 'from "tomorrow" is not a date'),
        ("studio band.toml --from 9999-12-31", 'from "9999-12-31" is out of reach'),
    ],
)
def test_a_wrong_day_is_told_by_its_option(line: str, words: str, run: Run) -> None:
    """A day that cannot be is refused under the name that it has on the command line."""
    run("studio", "band.toml", "--demo")
    ran = run(*line.split())

    assert (2, "") == (ran.code, ran.out)
    assert ran.err.startswith(f"waterkey: {words}")


def test_an_out_of_the_way_target_is_told(run: Run, tmp_path: Path) -> None:
    """A target below a file cannot be made; the run fails with code 1 and leaves the file."""
    (tmp_path / "file").write_bytes(b"old")
    ran = run("flow", "--out", "file/flow", "--format", "ly")

    assert (1, "") == (ran.code, ran.out)
    assert 1 == len(ran.err.splitlines())
    assert "file" in ran.err
    assert "choose another place" in ran.err
    assert b"old" == (tmp_path / "file").read_bytes()


def test_a_name_too_long_is_told(run: Run) -> None:
    """A file name longer than the disk takes is told in a line."""
    ran = run("flow", "--out", "x" * 300, "--format", "ly")

    assert 2 == ran.code
    assert 1 == len(ran.err.splitlines())


def test_a_null_in_the_target_is_told(run: Run) -> None:
    """A path that no file can have is refused in a line."""
    ran = run("flow", "--out", "a\0b", "--format", "ly")

    assert ran.code in (1, 2)
    assert 1 == len(ran.err.splitlines())


def test_no_command_is_a_request_for_help(run: Run) -> None:
    """Without a command the help is shown."""
    ran = run()

    assert "Usage" in ran.out + ran.err
