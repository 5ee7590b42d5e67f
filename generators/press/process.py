"""Programs that we start: each in a group of its own, ended with all that it started, and none outliving us."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

Process = subprocess.Popen[bytes]


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a program ended: its code (None where its time was over and it was ended) and what it wrote."""

    code: int | None
    output: str
    log: str


def started(command: Sequence[str], folder: Path, environment: Mapping[str, str]) -> Process:
    """Start a program that waits for its input; it dies with the thread that calls this, where the system can do that."""
    group: dict[str, Any] = {"process_group": 0} if os.name == "posix" else {}
    pipes: dict[str, Any] = dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE)
    return subprocess.Popen([*_tied(), *command], cwd=folder, env=environment, **pipes, **group)  # noqa: S603 - a list, no shell


def outcome(process: Process, text: bytes, seconds: float) -> Outcome:
    """Hand a program its input and wait until it ends, so many seconds at the most."""
    try:
        output, log = process.communicate(text, timeout=seconds)
    except subprocess.TimeoutExpired as late:
        end(process)
        return Outcome(None, _text(late.stdout), _text(late.stderr))
    return Outcome(process.returncode, _text(output), _text(log))


def _text(written: bytes | None) -> str:
    return (written or b"").decode(errors="replace")


def end(process: Process) -> None:
    """End a program at once, and all that it started."""
    if os.name == "posix" and process.returncode is None:
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(process.pid, signal.SIGKILL)
    process.kill()
    process.wait()


def close(process: Process) -> None:
    """Close what leads to and from a program that has ended."""
    for pipe in (process.stdin, process.stdout, process.stderr):
        with suppress(OSError):
            if pipe:
                pipe.close()


@cache
def _tied() -> tuple[str, ...]:
    """Return what starts a program so that the system ends it with its parent; nothing where there is no such thing.

    PR_SET_PDEATHSIG of prctl(2), set by util-linux's setpriv: Python code between fork and exec is unsafe with threads.
    """
    found = shutil.which("setpriv") if sys.platform == "linux" else None
    command = (found or "", "--pdeathsig", "KILL")
    works = found and subprocess.run([*command, found, "--version"], capture_output=True, check=False).returncode == 0  # noqa: S603 - a list, no shell
    return command if works else ()
