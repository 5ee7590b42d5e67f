"""From a document to files: rendered first, then all written before any is renamed; only the same music is replaced."""

from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from stat import S_ISDIR

from generators.errors import BadRequest, Refusal
from generators.jobs.formats import FORMATS, FilePart, Format, formats_of
from generators.jobs.render import render_all
from generators.jobs.report import Report, report_of
from generators.keep.files import check_target, read_whole, refuse_other, save, user_path
from generators.sheets.document import Document

DEFAULT_FOLDER = Path("out")


def publish(document: Document, out: str | Path = "", formats: Sequence[str] = ("pdf",), *, replace: bool = False) -> Report:
    """Save a document in some formats and return the report.

    `out` is a stem: "x/flow" with pdf and musicxml gives x/flow.pdf and x/flow.musicxml; a folder, or nothing (out/), gets
    files whose names tell the music. A file that is there and does not hold the same music is left alone and refused, unless
    `replace` says otherwise. Raises BadRequest for that and for a wrong value, FailedRun where engraver or disk says no.
    """
    if not isinstance(document, Document):
        raise BadRequest(Refusal("document", repr(document), "is none", do="compose a request first"))
    return publish_together({stem_of(out, document.name): document}, formats, replace=replace)[0]


def publish_together(
    documents: Mapping[Path, Document], formats: Sequence[str], *, replace: bool = False
) -> tuple[Report, ...]:
    """Save several documents, each under its stem, and return their reports in order: all files are written, or none is."""
    formats_of(formats)
    for stem in documents:
        check_target(stem)
    rendered = [(stem, document, *render_all(document, formats)) for stem, document in documents.items()]
    made = [
        (document, pressed, {_file(stem, name, part): part.content for name, parts in files.items() for part in parts})
        for stem, document, files, pressed in rendered
    ]
    if not replace:
        for (_, document, files, _), (_, _, written) in zip(rendered, made, strict=True):
            rows = [FORMATS[name] for name, parts in files.items() for _ in parts]
            _refuse_others(zip(written, rows, strict=True), document.stamp.code)
    save({place: content for _, _, files in made for place, content in files.items()})
    return tuple(report_of(document, tuple(files), len(pressed.pages), pressed.boxes) for document, pressed, files in made)


def _file(stem: Path, name: str, part: FilePart) -> Path:
    return stem.with_name(f"{stem.name}{part.addition}{FORMATS[name].ending}")


def stem_of(out: str | Path, name: str) -> Path:
    """Return the stem of files: `out` without the ending of a format, or `name` in the folder that `out` is, or in out/."""
    if not isinstance(out, str | Path):
        raise BadRequest(Refusal("out", repr(out), "is no path", do="give a text or a Path"))
    if not str(out):
        return DEFAULT_FOLDER / name
    stem = user_path(out, "out")
    if _is_folder(stem) or str(out).endswith(("/", "\\")):
        return stem / name
    return stem.with_suffix("") if stem.suffix in {row.ending for row in FORMATS.values()} else stem


def _is_folder(path: Path) -> bool:
    try:
        return S_ISDIR(path.stat().st_mode)
    except (FileNotFoundError, NotADirectoryError, PermissionError):
        return False
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise BadRequest(Refusal("out", str(path), f"cannot name a file ({reason})", do="give another")) from None


def _refuse_others(files: Iterable[tuple[Path, Format]], code: str) -> None:
    """Refuse to replace a file that does not carry the code of the same music."""
    for file, row in files:
        why, do = "and does not hold this music", "choose another place"
        refuse_other(file, Refusal("out", str(file), why, do=do, would_do=(("replace", ("",)),)), partial(_holds, row, code))


def _holds(row: Format, code: str, file: Path) -> bool:
    return row.holds(read_whole(file), code)
