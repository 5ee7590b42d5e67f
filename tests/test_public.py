"""The public face: its names, and every example of the README, run as a reader would run it."""

import inspect
import os
import re
import shlex
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import generators
from tests.cli.running import runner

README = Path(__file__).resolve().parents[1] / "README.md"
HOME_VARIABLES = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")
WATERKEY = str(Path(sys.executable).with_name("waterkey"))


def fenced(text: str, language: str) -> list[str]:
    """Return the code blocks of a language in a Markdown text."""
    return re.findall(rf"^```{language}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def commands(block: str) -> list[str]:
    """Return the lines of a shell block that call the program, each put together from its continued lines."""
    lines = block.replace("\\\n", " ").splitlines()
    return [re.sub(r"\s#\s.*", "", line) for line in lines if line.startswith("waterkey ")]


TEXT = README.read_text(encoding="utf-8")
SHELL, PYTHON = list(filter(None, map(commands, fenced(TEXT, "sh")))), fenced(TEXT, "python")


@pytest.fixture
def home(tmp_path: Path) -> dict[str, str]:
    """Return an environment whose home is a folder of its own."""
    return os.environ | dict.fromkeys(HOME_VARIABLES, str(tmp_path))


@pytest.mark.parametrize("name", generators.__all__)
def test_every_public_name_is_there_and_says_what_it_is(name: str) -> None:
    """Each name of the public face loads; functions and classes have a docstring of their own."""
    found: Any = getattr(generators, name)
    told = inspect.isfunction(found) or inspect.isclass(found)

    assert found is not None
    assert not told or (found.__doc__ or "").partition("\n\n")[0].strip().endswith(".")
    assert not told or not (found.__doc__ or "").startswith(f"{name}(")


def test_the_public_names_are_in_order_and_once() -> None:
    """The list has no doubles, and constants stand before classes before functions."""
    names = generators.__all__

    assert len(set(names)) == len(names)
    assert sorted(names, key=lambda name: (not name.isupper(), not name[0].isupper(), name)) == names


def test_a_name_that_is_not_there_is_missed_as_in_any_module() -> None:
    """Asking for another name raises AttributeError with that name."""
    with pytest.raises(AttributeError, match="nothing_like_it"):
        generators.nothing_like_it  # noqa: B018 - the look-up is the test


def test_a_wrong_value_is_refused_from_python_too() -> None:
    """A request record with an unknown pattern is refused by `make` itself, with the nearest one, not by a KeyError."""
    with pytest.raises(generators.BadRequest, match=r'pattern "third" is not known.*Did you mean "thirds"'):
        generators.make(generators.ScalesRequest(pattern="third"))


# The public face is asked for whatever a caller may hand on by mistake, so no types here.
public: Any = generators
SHEET, HORN = generators.Sheet(), generators.Changes(horn="cornet")
FLOW, STUDY = generators.FlowRequest(), generators.make(generators.FlowRequest())
WRONG = {
    "prove": lambda: public.prove(FLOW),
    "prove by no rules": lambda: public.prove(STUDY, None),
    "exported": lambda: public.exported(FLOW, "midi"),
    "exported on a text": lambda: public.exported(STUDY, "musicxml", "x"),
    "exported under a number": lambda: public.exported(STUDY, "musicxml", public.Sheet(title=5)),
    "render": lambda: public.render(public.compose(FLOW), ["pdf"]),
    "decoded": lambda: public.decoded(None),
    "encoded": lambda: public.encoded(public.FlowRequest(keys=object()), SHEET),
    "encoded with nothing": lambda: public.encoded(FLOW, None),
    "encoded with a text": lambda: public.encoded(FLOW, "x"),
    "music_code": lambda: public.music_code(None),
    "read_sheet": lambda: public.read_sheet(None),
    "horn": lambda: public.horn([]),
    "fingerings of a text": lambda: public.fingerings("C5", public.horn("trumpet")),
    "fingerings on a text": lambda: public.fingerings(public.parse_pitch("C5"), "trumpet"),
    "parse_pitch of nothing": lambda: public.parse_pitch(None),
    "parse_pitch of a number": lambda: public.parse_pitch(5),
    "packet_of": lambda: public.packet_of(["flow"], colour=3),
    "packet_of lists": lambda: public.packet_of([["flow"]]),
    "changed": lambda: public.changed(None, SHEET, HORN),
    "changed sheet": lambda: public.changed(FLOW, None, HORN),
    "changed by nothing": lambda: public.changed(FLOW, SHEET, None),
    "changed by another record": lambda: public.changed(FLOW, SHEET, SHEET),
    "changed keys": lambda: public.changed(public.FlowRequest(keys=5), SHEET, public.Changes(transpose=2)),
    "changed studies": lambda: public.changed(public.PacketRequest(studies=None), SHEET, HORN),
    "changed profile": lambda: public.changed(public.DayRequest(profile=None, on=date(2026, 11, 30)), SHEET, HORN),
    "changed wishes": lambda: public.changed(
        public.DayRequest(profile=public.Profile(), on=date(2026, 11, 30), wishes=None), SHEET, HORN
    ),
}


@pytest.mark.parametrize("door", WRONG)
def test_the_wrong_thing_is_refused_at_the_door(door: str) -> None:
    """What a public function cannot take is a BadRequest, not an error from within."""
    with pytest.raises(generators.BadRequest):
        WRONG[door]()


def test_loading_the_package_loads_little() -> None:
    """Importing the package imports no notation, template, PDF or terminal library."""
    script = "import sys, generators; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)

    assert {"music21", "abjad", "pypdf", "jinja2", "typer"}.isdisjoint(run.stdout.split())


def test_the_readme_has_examples() -> None:
    """Where the README shows a shell block, it shows the program in use, and its Python face."""
    shows = bool(fenced(TEXT, r"\w*"))

    assert bool(SHELL) == shows
    assert bool(PYTHON) == shows


@pytest.mark.parametrize("block", SHELL, ids=lambda block: block[0])
def test_a_shell_example_works(
    block: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], home: dict[str, str]
) -> None:
    """The commands of a block of the README, one after another in an empty folder, end well and complain of nothing."""
    monkeypatch.chdir(tmp_path)
    for name in HOME_VARIABLES:
        monkeypatch.setenv(name, home[name])
    run = runner(monkeypatch, capfd)

    for line in block:
        ran = run(*(word for word in shlex.split(line)[1:] if word != "--open"))

        assert (0, "") == (ran.code, ran.err), line


def test_the_installed_command_works(tmp_path: Path, home: dict[str, str]) -> None:
    """The first example of the README, run as its reader runs it: by the command that the installation made."""
    words = [WATERKEY, *shlex.split(SHELL[0][0])[1:]]
    run = subprocess.run(words, cwd=tmp_path, env=home, capture_output=True, text=True, check=False)

    assert (0, "") == (run.returncode, run.stderr)


def test_the_python_examples_work(tmp_path: Path, home: dict[str, str]) -> None:
    """The Python blocks of the README, one after another, run in an empty folder without a warning."""
    script = tmp_path / "examples.py"
    script.write_text("\n".join(PYTHON), encoding="utf-8")
    command = [sys.executable, "-W", "error::UserWarning", script.name]
    run = subprocess.run(command, cwd=tmp_path, env=home, capture_output=True, text=True, check=False)

    assert (0, "") == (run.returncode, run.stderr)


def test_blocks_are_found_as_a_reader_finds_them() -> None:
    """Only fenced blocks of the language count, a continued line is one, a comment or a prompt is none."""
    text = (
        "```sh\nwaterkey flow \\\n  --keys C  # four bars\n# waterkey low\npip install x\n```\nwaterkey no\n```python\n1\n```\n"
    )

    assert [[["flow", "--keys", "C"]]] == [[shlex.split(line)[1:] for line in commands(block)] for block in fenced(text, "sh")]
    assert ["1\n"] == fenced(text, "python")
