"""Safe files: written beside their place and renamed, so that an old file survives a failed run and nothing is left behind."""

import os
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from errno import EISDIR
from pathlib import Path
from stat import S_IMODE

from generators.errors import BadRequest, FailedRun, Refusal


def check_target(stem: Path) -> None:
    """Refuse a target folder that cannot be made or written, before any work is done."""
    try:
        stem.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=stem.parent):
            pass
    except OSError as error:
        raise _unwritable(stem.parent, error) from None


def save(files: Mapping[Path, bytes]) -> None:
    """Write all files beside their places, then rename them all; where writing fails, no place is touched.

    What a link leads to is replaced and the link stays; a file that is replaced keeps its mode.
    """
    waiting: dict[Path, Path] = {}
    try:
        for target, content in files.items():
            waiting[target] = _beside(_led_to(target), content)
        for target in waiting:
            _replaceable(target)
        for target, written in waiting.items():
            os.replace(written, _led_to(target))  # noqa: PTH105 - replaces an existing file on every platform
    except OSError as error:
        raise _unwritable(target, error) from None
    finally:
        for written in waiting.values():
            written.unlink(missing_ok=True)


def _led_to(target: Path) -> Path:
    """Return what a link leads to, any other place as it is; of links in a ring, one of them."""
    return Path(os.path.realpath(target))


def _replaceable(target: Path) -> None:
    """Raise what replacing would raise, before anything is replaced."""
    if target.is_dir():
        raise IsADirectoryError(EISDIR, os.strerror(EISDIR))


def _beside(target: Path, content: bytes) -> Path:
    handle, name = tempfile.mkstemp(prefix=".waterkey-", dir=target.parent)
    written = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(handle)
        written.chmod(_mode(target))
    except BaseException:
        written.unlink(missing_ok=True)
        raise
    return written


def _mode(target: Path) -> int:
    """Return the mode of the file that is replaced, or that of a new one."""
    return S_IMODE(target.stat().st_mode) if target.is_file() else 0o666 & ~_umask()


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def user_path(text: str | Path, what: str) -> Path:
    """Return a path as a user writes it, ~ for a home; what is no path, or the home of nobody known, is refused."""
    if not isinstance(text, str | Path):
        raise BadRequest(Refusal(what, repr(text), "is no path", do="give a text or a Path"))
    try:
        return Path(text).expanduser()
    except RuntimeError:
        raise BadRequest(Refusal(what, str(text), "begins with a home that is not known", do="give another place")) from None


def is_there(place: Path) -> bool:
    """Return whether a file is there; where that cannot be seen, the place is refused."""
    try:
        place.stat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except (OSError, ValueError) as error:
        raise _unreadable(place, error) from None
    return True


def refuse_other(place: Path, refusal: Refusal, is_ours: Callable[[Path], bool] | None = None) -> None:
    """Refuse to replace what is at a place, unless it is a file that `is_ours`; the refusal says what it is not."""
    if not is_there(place) or (is_ours and place.is_file() and is_ours(place)):
        return
    why = " ".join(filter(None, ("is there already", refusal.why)))
    raise BadRequest(replace(refusal, why=why, would_do=() if place.is_dir() else refusal.would_do))


def read_text(place: Path) -> str:
    """Return the text of a file in UTF-8; whatever keeps it from being read is refused with its place."""
    return text_of(read_whole(place), str(place))


def text_of(content: bytes, what: str) -> str:
    """Return the text that bytes in UTF-8 are; others are refused with what they are."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        why = f"is not a text in UTF-8 (byte {error.start + 1})"
        raise BadRequest(Refusal("the file", why=why, do="save it as UTF-8", where=what)) from None


def read_whole(place: Path) -> bytes:
    """Return the bytes of a file; whatever keeps it from being read is refused with its place."""
    try:
        return place.read_bytes()
    except OSError as error:
        raise _unreadable(place, error) from None


def _unreadable(place: Path, error: OSError | ValueError) -> FailedRun:
    return FailedRun(Refusal("the file", why=f"cannot be read: {_reason(error)}", where=str(place)))


def _unwritable(path: Path, error: OSError) -> FailedRun:
    cure = "nothing was changed there; choose another place"
    return FailedRun(Refusal("the place", why=f"cannot be written: {_reason(error)}", do=cure, where=str(path)))


def _reason(error: OSError | ValueError) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()


def read_limited(place: Path, most: int) -> bytes:
    """Return the bytes of a file; one that is not there, is too large or cannot be read is refused with its place."""
    try:
        with place.open("rb") as file:
            content = file.read(most + 1)
    except FileNotFoundError:
        raise BadRequest(Refusal("the file", why="is not there", do="name another", where=str(place))) from None
    except (OSError, ValueError) as error:
        raise BadRequest(Refusal("the file", why=f"cannot be read: {_reason(error)}", where=str(place))) from None
    if len(content) > most:
        raise BadRequest(Refusal("the file", why=f"is larger than {most // 1_000_000} megabytes", where=str(place)))
    return content
