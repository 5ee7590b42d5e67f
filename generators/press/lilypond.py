"""Which LilyPond is run, in what surroundings, and how long it may take."""

import os
import re
import shutil
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from generators.errors import FailedRun, Refusal
from generators.press.process import Outcome, close, end, outcome, started
from generators.press.scratch import scratch_folder

# An engraver of one's own, for platforms without a wheel and for tests.
ENGRAVER_VARIABLE = "WATERKEY_LILYPOND"
TIMEOUT_VARIABLE = "WATERKEY_TIMEOUT"
OLDEST = (2, 24)
GENEROUS_SECONDS = 180.0
HOW_TO_GET = "install it with `pip install lilypond==2.24.3`, or put LilyPond 2.24 or newer on PATH"
_VERSION = re.compile(r"LilyPond (\d+)\.(\d+)[.\d]*")


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
        raise _none("LilyPond was not found")
    return _checked(found)


def _checked(path: str) -> str:
    """Return the path of a LilyPond that is new enough."""
    runs = Path(shutil.which(path) or path).absolute()
    try:
        shown = _asked(runs)
    except OSError as error:
        raise _none(f"{path} does not run ({type(error).__name__})") from None
    if shown.code is None:
        raise _none(f"{path} does not answer within {patience():.0f} s")
    found = _VERSION.search(shown.output)
    if not found or (int(found[1]), int(found[2])) < OLDEST:
        what = found[0] if found else "something that is not LilyPond"
        raise FailedRun(Refusal("wrong engraver:", why=f"{path} is {what}, needed is 2.24 or newer", do=HOW_TO_GET))
    return str(runs)


def _asked(path: Path) -> Outcome:
    """Ask a LilyPond for its version."""
    path.stat()  # what starts it would not raise that it is not there
    with scratch_folder() as folder:
        process = started([str(path), "--version"], folder, bare(folder))
        try:
            return outcome(process, b"", patience())
        finally:
            end(process)
            close(process)


def _none(why: str) -> FailedRun:
    return FailedRun(Refusal("no engraver:", why=why, do=HOW_TO_GET))


def bare(folder: Path) -> dict[str, str]:
    """Return the environment that LilyPond runs in: nothing of the user's but the path."""
    # Garbage collection off: a fifth faster, and no chunk is long enough for its memory to matter.
    return {"HOME": str(folder), "GC_DONT_GC": "1", "PATH": os.environ.get("PATH", "")}


def patience() -> float:
    """Return how many seconds the engraver may take."""
    told = os.environ.get(TIMEOUT_VARIABLE) or str(GENEROUS_SECONDS)
    try:
        seconds = float(told)
    except ValueError:
        seconds = 0
    if not 0 < seconds < float("inf"):
        do = "give a number of seconds above 0, such as 180"
        raise FailedRun(Refusal("the time", told, f"in {TIMEOUT_VARIABLE} is none", do=do))
    return seconds
