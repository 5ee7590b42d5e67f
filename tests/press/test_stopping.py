"""Nothing is left behind: a run that is stopped or killed leaves no engraver and no folder, not even for long."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from generators.press.scratch import scratch_folder, sweep
from tests.press.processes import SECONDS, awaited, ended_in, working_in

PACKET = ("packet", "--studies", "scales,flow", "--keys", "all")

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="looks for processes in /proc")


def _left(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def temporary(tmp_path: Path) -> Path:
    """Return a folder for temporary files that is our run's alone."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    return folder


@contextmanager
def _packet(temporary: Path, **variables: str) -> Iterator[subprocess.Popen[str]]:
    """Print many pages in a home of their own."""
    (temporary.parent / "home").mkdir()
    environment = os.environ | {"TMPDIR": str(temporary), "HOME": str(temporary.parent / "home")} | variables
    command = [sys.executable, "-m", "generators", *PACKET, "--out", str(temporary.parent / "out" / "packet")]
    with subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as run:
        yield run
        run.kill()


@pytest.fixture
def engraving(temporary: Path) -> Iterator[subprocess.Popen[str]]:
    """Return a packet that is being engraved and gets no further."""
    with _packet(temporary) as run:
        assert awaited(lambda: _busy(temporary) or run.poll() is not None)
        for process in working_in(temporary):
            os.kill(process, signal.SIGSTOP)  # so that none of them ends by itself meanwhile
        yield run


def _busy(temporary: Path) -> bool:
    """Whether an engraver has worked for a while: it is past its start."""
    return any(_seconds(process) > 0.1 for process in working_in(temporary))


def _seconds(process: int) -> float:
    """Return the processor time of a process."""
    try:
        fields = Path(f"/proc/{process}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    except OSError:
        return 0.0
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@pytest.mark.parametrize(("asked", "code"), [(signal.SIGHUP, 129), (signal.SIGINT, 130)])
def test_a_stopped_run_leaves_nothing(
    asked: signal.Signals, code: int, engraving: subprocess.Popen[str], temporary: Path
) -> None:
    """Asked to end in the middle of engraving, we say so in a line; nothing is left. SIGTERM has its test with the studio."""
    engraving.send_signal(asked)
    _, told = engraving.communicate(timeout=SECONDS)

    assert (code, "waterkey: stopped.\n") == (engraving.returncode, told)
    assert ended_in(temporary)
    assert [] == _left(temporary)
    assert [] == _left(temporary.parent / "out")


def test_a_signal_in_a_finaliser_is_not_lost() -> None:
    """Python drops what a finaliser raises; asked to end while one is at work, we end a moment later, without a word of it."""
    lines = (
        "import signal, time",
        "from generators.cli.stopping import unwinding",
        "class Last:",
        "    def __del__(self): signal.raise_signal(signal.SIGTERM)",
        "with unwinding():",
        "    Last()",
        "    time.sleep(60)",
    )
    run = subprocess.run([sys.executable, "-c", "\n".join(lines)], capture_output=True, text=True, timeout=SECONDS)

    assert run.stderr.splitlines()[-1] == "generators.cli.stopping.Stopped: 15"
    assert "ignored" not in run.stderr


def test_a_stopped_studio_keeps_what_is_done(tmp_path: Path, temporary: Path) -> None:
    """A studio that is stopped says how many packets are done; they stay, and nothing says that nothing was changed."""
    environment = os.environ | {"TMPDIR": str(temporary), "HOME": str(tmp_path)}
    command = [sys.executable, "-m", "generators", "studio"]
    subprocess.run([*command, "--demo", str(tmp_path / "band.toml")], env=environment, check=True, capture_output=True)
    words = [*command, str(tmp_path / "band.toml"), "--out", str(tmp_path / "band")]
    with subprocess.Popen(words, env=environment, stderr=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as run:
        assert run.stdout
        run.stdout.readline()
        run.send_signal(signal.SIGTERM)
        _, told = run.communicate(timeout=SECONDS)

    done = len(list((tmp_path / "band").glob("*.pdf")))
    assert 143 == run.returncode
    assert f"waterkey: stopped; {done} of 8 players are done and stay, a rerun goes on from there.\n" == told
    assert 0 < done < 8


def test_a_killed_run_leaves_nothing_for_long(tmp_path: Path, temporary: Path) -> None:
    """Killed outright, our engravers die with us, though they would work for long, and the next run removes their folders."""
    slow = tmp_path / "slow"
    slow.write_text('#!/bin/sh\n[ "$1" = --version ] && echo "GNU LilyPond 2.24.3" || exec sleep 600\n', encoding="utf-8")
    slow.chmod(0o755)
    with _packet(temporary, WATERKEY_LILYPOND=str(slow)) as run:
        assert awaited(lambda: len(working_in(temporary)) > 1)
        run.kill()
        run.wait(SECONDS)

    assert ended_in(temporary)
    assert {f"waterkey-{run.pid}"} == {name.rpartition("-")[0] for name in _left(temporary)}

    environment = os.environ | {"TMPDIR": str(temporary), "HOME": str(tmp_path / "home")}
    command = [sys.executable, "-m", "generators", "flow", "--out", str(tmp_path / "out" / "flow")]
    subprocess.run(command, env=environment, check=True, capture_output=True)

    assert [] == _left(temporary)


def test_only_what_is_ours_and_dead_is_swept(temporary: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of a living process, a link, a kept log and anything of another name stay."""
    monkeypatch.setattr("tempfile.tempdir", str(temporary))
    with subprocess.Popen([sys.executable, "-c", ""]) as gone:
        gone.wait(SECONDS)
    (temporary / f"waterkey-{gone.pid}-abc").mkdir()
    (temporary / "elsewhere").mkdir()
    (temporary / f"waterkey-{gone.pid}-link").symlink_to(temporary / "elsewhere")
    (temporary / "waterkey-engraver-1.log").write_text("kept", encoding="utf-8")
    with scratch_folder() as living:
        sweep()

        assert sorted(["elsewhere", "waterkey-engraver-1.log", f"waterkey-{gone.pid}-link", living.name]) == _left(temporary)
    assert not living.exists()
