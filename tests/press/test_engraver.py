import re
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from generators.errors import FailedRun
from generators.jobs.publish import publish
from generators.press import lilypond as press
from generators.press.lilypond import engraver
from generators.studies.flow.study import FlowRequest
from generators.studies.scales import ScalesRequest
from tests.press.processes import ended_in
from tests.press.sheets import composed, engraved, printed, printing

STUDY = FlowRequest(keys=("C",))
NOTE = '\\version "2.24.0"\n{ c\'4 }'
# How often a page of strains is set closer at the most before they are parted; those that are as before are not engraved again.
TIGHT = 5
NEW_ENOUGH = 'if [ "$1" = --version ]; then echo "GNU LilyPond 2.24.3"; exit 0; fi\n'
Fake = Callable[[str], Path]


@pytest.fixture
def fake(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Fake]:
    """Return what puts a script in the engraver's place; the folder for temporary files is one of its own."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()

    def put(script: str) -> Path:
        path = tmp_path / "lilypond"
        path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        path.chmod(0o755)
        monkeypatch.setenv(press.ENGRAVER_VARIABLE, str(path))
        engraver.cache_clear()
        return tmp_path

    yield put
    engraver.cache_clear()


def _refusal(folder: Path) -> str:
    """Publish a study, which must fail in one line and write nothing."""
    with pytest.raises(FailedRun) as refusal:
        publish(composed(STUDY), folder / "out" / "page")
    message = str(refusal.value)
    assert [] == list((folder / "out").glob("*"))
    assert 1 == len(message.splitlines())
    return message


def _left(folder: Path) -> list[Path]:
    return sorted((folder / "temporary").iterdir())


def _log(message: str) -> str:
    """Return what the log holds that a message names."""
    named = re.search(r"kept in (\S+)\.$", message)
    assert named
    return Path(named[1]).read_text(encoding="utf-8")


def test_a_missing_engraver_is_told(tmp_path: Path, fake: Fake, monkeypatch: pytest.MonkeyPatch) -> None:
    """The message names the engraver that is not there and how to get one."""
    fake("")
    monkeypatch.setenv(press.ENGRAVER_VARIABLE, str(tmp_path / "nowhere"))
    message = _refusal(tmp_path)

    assert "no engraver" in message
    assert str(tmp_path / "nowhere") in message
    assert "pip install lilypond" in message


def test_no_engraver_at_all_is_told(fake: Fake, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a package and with nothing on the path, the message says how to get one."""
    folder = fake("")
    monkeypatch.delenv(press.ENGRAVER_VARIABLE)
    monkeypatch.setattr(press, "version", lambda _: "2.20.0")
    monkeypatch.setenv("PATH", str(folder / "temporary"))

    assert re.search("no engraver.*not found.*pip install", _refusal(folder))


@pytest.mark.parametrize(
    ("told", "script"),
    [
        ("LilyPond 2.18.2", 'echo "GNU LilyPond 2.18.2"'),
        ("LilyPond 1.9", 'echo "GNU LilyPond 1.9"'),
        ("something that is not LilyPond", "echo hello"),
        ("something that is not LilyPond", "exit 3"),
    ],
)
def test_a_wrong_engraver_is_told(told: str, script: str, fake: Fake) -> None:
    """The message names what was found and what is needed."""
    message = _refusal(fake(script))

    assert "wrong engraver" in message
    assert told in message
    assert "2.24 or newer" in message


def test_an_engraver_that_does_not_tell_its_version_is_stopped(fake: Fake, monkeypatch: pytest.MonkeyPatch) -> None:
    """One that hangs when it is asked what it is, is ended with all that it started, and named."""
    monkeypatch.setenv(press.TIMEOUT_VARIABLE, "1")
    folder = fake("sleep 60")
    message = _refusal(folder)

    assert "no engraver" in message
    assert "does not answer within 1 s" in message
    assert ended_in(folder / "temporary")
    assert [] == _left(folder)


def test_a_hanging_engraver_is_stopped(fake: Fake, monkeypatch: pytest.MonkeyPatch) -> None:
    """After its time the engraver is ended, its log kept and named, and nothing else left behind."""
    monkeypatch.setenv(press.TIMEOUT_VARIABLE, "1")
    folder = fake(f"{NEW_ENOUGH}echo half a page done >&2\nsleep 60")
    message = _refusal(folder)

    assert "stopped after 1 s" in message
    assert ended_in(folder / "temporary")
    assert "half a page done" in _log(message)
    assert 1 == len(_left(folder))


@pytest.mark.parametrize("value", ["soon", "0", "-1", "nan"])
def test_a_time_that_is_none_is_refused(value: str, fake: Fake, monkeypatch: pytest.MonkeyPatch) -> None:
    """A time-out that is not a number of seconds is named, with what it may be."""
    monkeypatch.setenv(press.TIMEOUT_VARIABLE, value)
    message = _refusal(fake(NEW_ENOUGH))

    assert press.TIMEOUT_VARIABLE in message
    assert f'"{value}"' in message
    assert "seconds" in message


def test_a_failing_engraver_is_told(fake: Fake) -> None:
    """What the engraver complained of is told; the log is kept, and nothing else."""
    folder = fake(f"{NEW_ENOUGH}echo 'page.ly:1:1: error: no such note' >&2\nexit 1")
    message = _refusal(folder)

    assert "error: no such note" in message
    assert "no such note" in _log(message)
    assert 1 == len(_left(folder))


def test_an_engraver_that_writes_nothing_has_failed(fake: Fake) -> None:
    """Code 0 without a page is a failure; an empty log says that it was empty."""
    folder = fake(f"{NEW_ENOUGH}exit 0")
    message = _refusal(folder)

    assert "wrote no pdf" in message
    assert "no log" in _log(message)
    assert 1 == len(_left(folder))


def test_an_empty_page_is_none(fake: Fake) -> None:
    """A file without a byte in it is no page."""
    assert "wrote no pdf" in _refusal(fake(f"{NEW_ENOUGH}touch page.pdf"))


def test_a_warning_is_a_failure(fake: Fake) -> None:
    """A page with a warning in its log is not believed, code 0 or not."""
    folder = fake(f"{NEW_ENOUGH}echo 'warning: unterminated slur' >&2\ncat > page.pdf")

    assert "unterminated slur" in _refusal(folder)


def test_a_killed_engraver_is_told(fake: Fake) -> None:
    """An engraver that is killed is reported with its code."""
    assert "code -9" in _refusal(fake(f"{NEW_ENOUGH}kill -9 $$"))


def test_an_existing_page_survives_a_failing_engraver(fake: Fake) -> None:
    """The file of an earlier run is untouched after a run that fails."""
    folder = fake(f"{NEW_ENOUGH}exit 1")
    old = folder / "page.pdf"
    old.write_bytes(b"old")
    with pytest.raises(FailedRun):
        publish(composed(STUDY), folder / "page", replace=True)

    assert b"old" == old.read_bytes()


def test_an_engraving_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After a run that went well no temporary file is left."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    parts = engraved([NOTE, NOTE], ("pdf", "svg"))

    assert [["pdf", "svg"]] * 2 == [list(part.files) for part in parts]
    assert [] == list(tmp_path.iterdir())


def test_one_bad_source_fails_the_run() -> None:
    """Of several sources one that is wrong stops the run with the engraver's own words."""
    with pytest.raises(FailedRun, match=r"the engraver failed: it says .*error"):
        engraved([NOTE, "{ c'4"], ("pdf",))


def test_an_overfull_page_is_known() -> None:
    """A page that holds too much is told apart from one that is wrong, and its page is there."""
    staves = " \\break ".join(["c'1"] * 40)
    page = engraved([f'\\version "2.24.0"\n\\paper {{ page-count = 1 }}\n{{ {staves} }}'], ("pdf",))[0]

    assert (0,) == page.overfull
    assert page.files["pdf"][0].startswith(b"%PDF")


def test_an_overfull_page_is_laid_out_again(fake: Fake) -> None:
    """Engravings that say overfull, however tight they are set, are followed by one with fewer strains a page."""
    request = ScalesRequest(keys=("C", "G", "D", "A"))
    roomy = printed(request).pages
    real, diary = engraver(), Path(tempfile.gettempdir(), "diary")
    count = f"echo run >> {diary}; if [ $(wc -l < {diary}) -le {TIGHT} ]"
    complain = f"{count}; then echo 'warning: compressing over-full page by 9' >&2; fi"
    fake(f'{NEW_ENOUGH}{complain}\nexec {real} "$@"')

    assert (1, 2) == (roomy, printing(composed(request)).pages)
    assert TIGHT < len(diary.read_text(encoding="utf-8").split())


def test_a_page_that_never_fits_is_refused(fake: Fake) -> None:
    """If every layout is overfull the run fails and says what would help; the book part need not be told."""
    message = _refusal(fake(f"{NEW_ENOUGH}echo 'warning: compressing over-full page by 9' >&2\ncat > page.pdf"))

    assert "holds more than fits" in message
    assert "larger paper" in message
