"""Processes as Linux tells of them, and waiting for what other processes do."""

import time
from collections.abc import Callable
from pathlib import Path

SECONDS = 60.0


def awaited(found: Callable[[], object]) -> bool:
    """Wait until something is so; whether it came to be."""
    end = time.monotonic() + SECONDS
    while time.monotonic() < end:
        if found():
            return True
        time.sleep(0.02)
    return False


def ended_in(folder: Path) -> bool:
    """Wait until no process works in a folder: what is killed takes a moment to be gone."""
    return awaited(lambda: not working_in(folder))


def working_in(folder: Path) -> list[int]:
    """Return the processes whose working folder lies in a folder: each tells its own, whatever its name."""
    found = []
    for process in Path("/proc").iterdir():
        try:
            if process.name.isdigit() and folder in (process / "cwd").readlink().parents:
                found.append(int(process.name))
        except OSError:
            continue
    return found
