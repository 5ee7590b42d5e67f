"""Running LilyPond: finding it, engraving sources in parallel, and believing only what can be checked."""

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from importlib.util import find_spec
from pathlib import Path

from generators.errors import FailedRun

# An engraver of one's own, for platforms without a wheel and for tests.
ENGRAVER_VARIABLE = "WATERKEY_LILYPOND"
TIMEOUT_VARIABLE = "WATERKEY_TIMEOUT"
OLDEST = (2, 24)
GENEROUS_SECONDS = 180.0
HOW_TO_GET = "install it with `pip install lilypond==2.24.3`, or put LilyPond 2.24 or newer on PATH"
# A glyph that no font has is printed as a box; all else in the log is a failure.
_SERIOUS = re.compile(r"error|warning|Cairo surface")
_HARMLESS = re.compile(r"warning: no glyph for character")
_OVERFULL = re.compile(r"over-full page|page-count|too few pages|cannot fit")
_VERSION = re.compile(r"LilyPond (\d+)\.(\d+)[.\d]*")


@dataclass(frozen=True, slots=True)
class Engraved:
    """What one source became: the bytes of each page, by format; a PDF is one entry whatever its pages."""

    files: dict[str, tuple[bytes, ...]]
    log: str


@cache
def engraver() -> str:
    """Return the LilyPond to run: the one named in the environment, the packaged one, or the one on PATH."""
    named = os.environ.get(ENGRAVER_VARIABLE)
    if named:
        return _checked(named)
    try:
        if tuple(map(int, version("lilypond").split(".")[:2])) >= OLDEST:
            import lilypond

            return str(lilypond.executable())
    except (PackageNotFoundError, ImportError):
        pass
    found = shutil.which("lilypond")
    if not found:
        raise FailedRun(f"no engraver: LilyPond was not found; {HOW_TO_GET}.")
    return _checked(found)


def _checked(path: str) -> str:
    """Return the path of a LilyPond that is new enough."""
    try:
        shown = subprocess.run([path, "--version"], capture_output=True, text=True, timeout=60, check=False).stdout  # noqa: S603 - a list, no shell
    except (OSError, subprocess.TimeoutExpired) as error:
        raise FailedRun(f"no engraver: {path} does not run ({type(error).__name__}); {HOW_TO_GET}.") from None
    found = _VERSION.search(shown)
    if not found or (int(found[1]), int(found[2])) < OLDEST:
        what = found[0] if found else "something that is not LilyPond"
        raise FailedRun(f"wrong engraver: {path} is {what}, needed is 2.24 or newer; {HOW_TO_GET}.")
    return path


class OverfullError(Exception):
    """A page holds more than fits; it can be laid out anew with fewer lines."""


class _ComplaintError(Exception):
    """The engraver failed; what it did, and its log."""

    def __init__(self, what: str, log: str) -> None:
        super().__init__(what)
        self.log = log


def engraved(sources: Iterable[str], formats: Sequence[str], *, resolution: int = 150) -> list[Engraved]:
    """Engrave sources at the same time, as many as there are cores.

    Raises FailedRun where one fails, with its log kept in a file, and OverfullError where a page holds too much.
    """
    path = engraver()
    try:
        with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
            return list(pool.map(lambda source: _engrave(path, source, formats, resolution), sources))
    except _ComplaintError as complaint:
        if _OVERFULL.search(complaint.log):
            raise OverfullError from None
        raise FailedRun(f"the engraver failed: it {complaint}; its log is kept in {_kept(complaint.log)}.") from None
    except OSError as error:
        raise FailedRun(f"the engraver could not work: {error}; is there room for temporary files?") from None


def _engrave(path: str, source: str, formats: Sequence[str], resolution: int) -> Engraved:
    with tempfile.TemporaryDirectory(prefix="waterkey-") as folder:
        work = Path(folder)
        (work / "page.ly").write_text(source, encoding="utf-8")
        _lend_fonts(work)
        log = _run(path, work, formats, resolution)
        files = {name: _collected(work, name) for name in formats}
        missing = [name for name, found in files.items() if not found]
        if missing:
            raise _ComplaintError(f"wrote no {' or '.join(missing)}", log)
        return Engraved(files, log)


def _lend_fonts(home: Path) -> None:
    """Lend the engraver a font for what its own lack (Arabic, Hebrew, signs), so that text comes out on a bare machine.

    It comes with matplotlib, which music21 requires; it is found, not imported.
    """
    package = find_spec("matplotlib")
    if package and package.origin:
        (home / ".fonts").mkdir()
        for font in (Path(package.origin).parent / "mpl-data" / "fonts" / "ttf").glob("DejaVuSans.ttf"):
            shutil.copy(font, home / ".fonts")


def _run(path: str, work: Path, formats: Sequence[str], resolution: int) -> str:
    options = ["-lWARNING", "-dno-point-and-click", "-dbackend=cairo", f"-dresolution={resolution}"]
    command = [path, *options, *(f"--{name}" for name in formats), "page.ly"]
    seconds = _patience()
    # Garbage collection off: a fifth faster, and no chunk is long enough for its memory to matter.
    environment = {"HOME": str(work), "GC_DONT_GC": "1", "PATH": os.environ.get("PATH", "")}
    try:
        run = subprocess.run(command, cwd=work, env=environment, capture_output=True, timeout=seconds, check=False)  # noqa: S603 - a list, no shell
    except subprocess.TimeoutExpired as hung:
        raise _ComplaintError(f"was stopped after {seconds:.0f} s", _text(hung.stderr)) from None
    log = _text(run.stderr)
    complaints = [line for line in log.splitlines() if _SERIOUS.search(line) and not _HARMLESS.search(line)]
    if run.returncode != 0 or complaints:
        raise _ComplaintError(f"says {complaints[0].strip()}" if complaints else f"ended with code {run.returncode}", log)
    return log


def _patience() -> float:
    """Return how many seconds the engraver may take."""
    told = os.environ.get(TIMEOUT_VARIABLE) or str(GENEROUS_SECONDS)
    try:
        seconds = float(told)
    except ValueError:
        seconds = 0
    if not 0 < seconds < float("inf"):
        raise FailedRun(f'{TIMEOUT_VARIABLE} "{told}" is not a time; give a number of seconds above 0, such as 180.')
    return seconds


def _text(log: bytes | None) -> str:
    return (log or b"").decode(errors="replace")


def _collected(work: Path, name: str) -> tuple[bytes, ...]:
    """Return the pages of a format in order; LilyPond numbers them only where there are several."""
    found = sorted(work.glob(f"page*.{name}"), key=lambda file: [int(n) for n in re.findall(r"\d+", file.stem)])
    return tuple(file.read_bytes() for file in found)


def _kept(log: str) -> str:
    """Return the name of a file in which the log is kept."""
    handle, name = tempfile.mkstemp(prefix="waterkey-engraver-", suffix=".log")
    os.close(handle)
    Path(name).write_text(log or "LilyPond wrote no log.\n", encoding="utf-8")
    return name
