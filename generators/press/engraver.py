"""Running LilyPond: engraving sources in parallel, and believing only what can be checked."""

import json
import os
import re
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from functools import partial
from importlib.util import find_spec
from pathlib import Path

from generators.errors import FailedRun, Refusal
from generators.press.complaints import complaints, overfull_parts
from generators.press.lilypond import bare, engraver, patience
from generators.press.process import Outcome, Process, close, end, outcome, started
from generators.press.scratch import scratch_folder, sweep


@dataclass(frozen=True, slots=True)
class Engraved:
    """What one source became: the bytes of each page, by format; a PDF is one entry whatever its pages."""

    files: dict[str, tuple[bytes, ...]]
    log: str
    overfull: tuple[int, ...] = ()
    """The numbers of the book parts that hold more than fits; the pages of the others are good."""


@dataclass(frozen=True, slots=True)
class Engraver:
    """A LilyPond that is started and waits for its one text."""

    process: Process
    folder: Path
    formats: tuple[str, ...]
    pool: ThreadPoolExecutor
    """Whose threads wait for it, one a core."""

    def begin(self, text: str) -> Callable[[], Engraved]:
        """Hand over the text, engraved as soon as a core is free for it; return what waits for the pages.

        That raises FailedRun where the engraver fails, with its log kept in a file.
        """
        return partial(self._result, self.pool.submit(outcome, self.process, text.encode(), patience()))

    def engrave(self, text: str) -> Engraved:
        """Engrave the text and wait for it."""
        return self.begin(text)()

    def _result(self, ended: Future[Outcome]) -> Engraved:
        try:
            found = ended.result()
            files = {name: _collected(self.folder, name) for name in self.formats}
        except OSError as error:
            raise _no_room(error) from None
        failure = _failure(found, files)
        if failure:
            raise FailedRun(Refusal("the engraver failed: it", why=f"{failure}; its log is kept in {_kept(found.log)}"))
        return Engraved(files, found.log, overfull_parts(found.log))


@contextmanager
def engravers(count: int, formats: Sequence[str], *, resolution: int = 150) -> Iterator[tuple[Engraver, ...]]:
    """Start so many engravers, which make ready while their texts are written; as many work at once as there are cores.

    Afterwards, however it ends, none of them is running and their folders are gone. A text should fill twenty pages at
    most: nothing collects garbage while it is engraved. `with engravers(2, ["pdf"]) as (one, other): one.begin(text)`
    """
    path = engraver()
    sweep()
    # Left in this order: all are ended, the threads that wait for them end, the folders go.
    with ExitStack() as folders, ThreadPoolExecutor(os.cpu_count() or 1) as pool, ExitStack() as processes:
        yield tuple(_waiting(path, formats, resolution, folders, pool, processes) for _ in range(count))


def _waiting(
    path: str, formats: Sequence[str], resolution: int, folders: ExitStack, pool: ThreadPoolExecutor, processes: ExitStack
) -> Engraver:
    try:
        folder = folders.enter_context(scratch_folder())
        process = started(_command(path, folder, formats, resolution), folder, bare(folder))
    except OSError as error:
        raise _no_room(error) from None
    processes.callback(end, process)
    folders.callback(close, process)
    return Engraver(process, folder, tuple(formats), pool)


def _command(path: str, folder: Path, formats: Sequence[str], resolution: int) -> list[str]:
    options = ["-lWARNING", "-dno-point-and-click", "-dbackend=cairo", f"-dresolution={resolution}", *_fonts(folder)]
    return [path, *options, *(f"--{name}" for name in formats), "-o", "page", "-"]


def _fonts(folder: Path) -> Iterator[str]:
    """Yield the option that lends the engraver a font for what its own lack (Arabic, Hebrew, signs), on a bare machine too.

    It is the one that matplotlib brings; the package is found, not imported.
    """
    package = find_spec("matplotlib")
    font = Path(package.origin or "").parent / "mpl-data" / "fonts" / "ttf" / "DejaVuSans.ttf" if package else None
    if font and font.is_file():
        name = json.dumps(font.as_posix(), ensure_ascii=False)
        (folder / "fonts.ily").write_text(f"#(ly:font-config-add-font {name})\n", encoding="utf-8")
        yield "-dinclude-settings=fonts.ily"


def _failure(ended: Outcome, files: dict[str, tuple[bytes, ...]]) -> str:
    """Return what the engraver did if it failed."""
    if ended.code is None:
        return f"was stopped after {patience():.0f} s"
    said = complaints(ended.log)
    if said:
        return f"says {said[0]}"
    if ended.code:
        return f"ended with code {ended.code}"
    missing = [name for name, found in files.items() if not (found and all(found))]
    return f"wrote no {' or '.join(missing)}" if missing else ""


def _no_room(error: OSError) -> FailedRun:
    return FailedRun(Refusal("the engraver", why=f"could not work: {error}", do="make room for temporary files"))


def _collected(folder: Path, name: str) -> tuple[bytes, ...]:
    """Return the pages of a format in order; LilyPond numbers them only where there are several."""
    found = sorted(folder.glob(f"page*.{name}"), key=lambda file: [int(n) for n in re.findall(r"\d+", file.stem)])
    return tuple(file.read_bytes() for file in found)


def _kept(log: str) -> str:
    """Return the name of a file in which the log is kept."""
    handle, name = tempfile.mkstemp(prefix="waterkey-engraver-", suffix=".log")
    os.close(handle)
    Path(name).write_text(log or "LilyPond wrote no log.\n", encoding="utf-8")
    return name
