"""Folders for temporary files: each bears the number of the process that owns it, and goes with it or in the next run."""

import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import rmtree

_OURS = re.compile(r"waterkey-(\d+)-\w+")


@contextmanager
def scratch_folder() -> Iterator[Path]:
    """Give a folder of this process, and remove it with all that is in it."""
    with tempfile.TemporaryDirectory(prefix=f"waterkey-{os.getpid()}-", ignore_cleanup_errors=True) as folder:
        yield Path(folder)


def sweep() -> None:
    """Remove the folders of this user whose process is gone: one that was killed outright could not do it itself."""
    if os.name == "posix":  # elsewhere a process cannot be asked whether it lives without harm
        for folder in Path(tempfile.gettempdir()).glob("waterkey-*"):
            named = _OURS.fullmatch(folder.name)
            if named and _is_ours(folder) and not _lives(int(named[1])):
                rmtree(folder, ignore_errors=True)


def _is_ours(folder: Path) -> bool:
    """Whether it is a real folder, no link, and this user's."""
    try:
        return not folder.is_symlink() and folder.is_dir() and folder.stat().st_uid == os.geteuid()
    except OSError:
        return False


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        pass
    return True
