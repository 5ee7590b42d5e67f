"""Safe files: written beside their place and renamed, so that an old file survives a failed run and nothing is left behind."""

import os
import tempfile
from collections.abc import Mapping
from errno import EISDIR
from pathlib import Path

from generators.errors import FailedRun


def check_target(stem: Path) -> None:
    """Refuse a target folder that cannot be made or written, before any work is done."""
    try:
        stem.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=stem.parent):
            pass
    except OSError as error:
        raise FailedRun(_told(stem.parent, error)) from None


def save(files: Mapping[Path, bytes]) -> None:
    """Write all files or none: each beside its place first, then all renamed."""
    waiting: dict[Path, Path] = {}
    try:
        for target, content in files.items():
            waiting[target] = _beside(target, content)
        for target in files:
            _replaceable(target)
        for target, written in waiting.items():
            os.replace(written, target)  # noqa: PTH105 - replaces an existing file on every platform
    except OSError as error:
        raise FailedRun(_told(target, error)) from None
    finally:
        for written in waiting.values():
            written.unlink(missing_ok=True)


def _replaceable(target: Path) -> None:
    """Raise what replacing would raise, before anything is replaced."""
    if target.is_dir():
        raise IsADirectoryError(EISDIR, os.strerror(EISDIR))


def _beside(target: Path, content: bytes) -> Path:
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    written = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        written.chmod(0o666 & ~_umask())
    except OSError:
        written.unlink(missing_ok=True)
        raise
    return written


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _told(path: Path, error: OSError) -> str:
    reason = (error.strerror or str(error)).lower()
    return f"cannot write {path}: {reason}; nothing was changed there. Choose another place with --out."
