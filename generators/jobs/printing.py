"""From a request to files: make, prove, engrave, export and save; nothing is written where the proof finds an error."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date
from itertools import chain
from pathlib import Path
from stat import S_ISDIR
from typing import Any

from generators.brass.grade import grade
from generators.brass.horn import horn
from generators.errors import BadRequest, FailedRun, unknown
from generators.fields import checked
from generators.keep.files import check_target, save
from generators.phrase.study import Study
from generators.press.code import code
from generators.proof.prove import ERROR, Finding, prove
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, PACKET, kind_of, make
from generators.studies.kit.request import Request

# Format to file ending.
FORMATS = {"pdf": ".pdf", "ly": ".ly", "musicxml": ".musicxml", "midi": ".mid", "svg": ".svg", "png": ".png"}
DEFAULT_FOLDER = Path("out")


@dataclass(frozen=True, slots=True)
class Report:
    """What was printed: files, pages, bars, notes, lowest and highest written note, seconds of playing and of rest."""

    files: tuple[Path, ...]
    pages: int
    bars: int
    notes: int
    lowest: str
    highest: str
    seconds_playing: float
    seconds_rest: float
    findings: tuple[Finding, ...]
    remarks: tuple[str, ...]
    code: str

    def as_json(self) -> str:
        """Return the report as one JSON object."""
        plain: dict[str, Any] = asdict(self) | {"files": [str(file) for file in self.files]}
        return json.dumps(plain, ensure_ascii=False)


def print_pages(
    requests: Request | Sequence[Request],
    out: str | Path = "",
    formats: Sequence[str] = ("pdf",),
    sheet: Sheet | None = None,
    *,
    packet: bool | None = None,
) -> Report:
    """Print one study, or several as a packet with a cover, and return the report.

    `out` is a stem: "x/flow" with pdf and musicxml gives x/flow.pdf and x/flow.musicxml; without it a name in out/.
    Raises BadRequest where the request cannot be met, FailedRun where the proof, the engraver or the disk says no.
    """
    many = [requests] if isinstance(requests, Request) else list(requests)
    bound = len(many) > 1 if packet is None else packet
    wanted = formats_of(formats)
    page_side = settled(sheet or Sheet(), many[0].grade)
    for request in many:
        checked(request)
    studies = [make(request) for request in many]
    findings = tuple(finding for study in studies for finding in proved(study))
    stem = target(out, many, studies, bound)
    check_target(stem)
    contents, pages, boxes = _contents(many, studies, page_side, wanted, bound)
    files = {numbered(stem, extra, i, len(parts)): part for extra, parts in contents.items() for i, part in enumerate(parts, 1)}
    save(files)
    remarks = tuple(dict.fromkeys(chain.from_iterable(study.remarks for study in studies)))
    shown = (f"No font here has {', '.join(boxes)}: printed as a box.",) if boxes else ()
    return _report(studies, tuple(files), pages, findings, (*remarks, *shown), code(many, page_side))


def proved(study: Study) -> tuple[Finding, ...]:
    """Return the warnings of a study's proof; an error stops the print."""
    findings = prove(study)
    errors = [finding for finding in findings if finding.severity == ERROR]
    if errors:
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        raise FailedRun(f"the study fails its proof, nothing was printed: {errors[0]}{more}.")
    return findings


def formats_of(formats: Sequence[str]) -> list[str]:
    """Return the formats once each; an unknown one is refused, none at all means pdf."""
    for name in formats:
        if name not in FORMATS:
            raise unknown("format", name, FORMATS)
    return list(dict.fromkeys(formats)) or ["pdf"]


def settled(sheet: Sheet, of: str) -> Sheet:
    """Return the sheet with its defaults settled: the date checked, fingerings printed for beginners."""
    checked(sheet)
    if sheet.date and sheet.date != "none":
        day_of(sheet.date)
    fingered = sheet.fingerings if sheet.fingerings is not None else grade(of).fingered
    return replace(sheet, fingerings=fingered, date="" if sheet.date == "none" else sheet.date)


def day_of(text: str) -> date:
    """Read a date such as 2026-11-25; anything else is refused."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadRequest(f'date "{text}" is not a date; write year, month and day as in 2026-11-25, or none.') from None


def target(out: str | Path, requests: Sequence[Request], studies: Sequence[Study], packet: bool) -> Path:
    """Return the stem of the files: the one asked for, without the ending of a format, or a telling name in out/."""
    name = f"packet-{requests[0].horn}" if packet else _telling(requests[0], studies[0])
    return stem_of(out, name)


def stem_of(out: str | Path, name: str) -> Path:
    """Return the stem of files: `out` without the ending of a format, or `name` in the folder that `out` is, or in out/."""
    if not str(out):
        return DEFAULT_FOLDER / name
    stem = Path(out).expanduser()
    if _is_folder(stem) or str(out).endswith(("/", "\\")):
        return stem / name
    return stem.with_suffix("") if stem.suffix in FORMATS.values() else stem


def _is_folder(path: Path) -> bool:
    try:
        return S_ISDIR(path.stat().st_mode)
    except (FileNotFoundError, NotADirectoryError, PermissionError):
        return False
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise BadRequest(f'out "{str(path)[:40]}" cannot name a file: {reason.lower()}; give another.') from None


def _telling(request: Request, study: Study) -> str:
    """Return a file name that tells study, horn and keys."""
    keys = list(dict.fromkeys(strain.key.name.replace("#", "sharp").replace(" ", "-") for strain in study.strains))
    told = [] if study.strains[0].tube else keys if len(keys) <= 4 else [f"{len(keys)}-keys"]
    return "-".join([kind_of(request).name, request.horn, *told])


Contents = dict[str, tuple[bytes, ...]]


def _contents(
    requests: Sequence[Request], studies: Sequence[Study], sheet: Sheet, formats: Sequence[str], packet: bool
) -> tuple[Contents, int, tuple[str, ...]]:
    """Return file contents by what is added to the stem, the number of pages, and the characters printed as boxes."""
    from generators.press.sheets import prints

    printed = prints(requests, studies, sheet, formats, packet)
    contents = {FORMATS[name]: parts for name, parts in printed.contents.items()}
    for name in formats:
        if name in ("musicxml", "midi"):
            for study in studies:
                addition = f"-{study.kind}{FORMATS[name]}" if packet else FORMATS[name]
                contents[addition] = (exported(study, name, sheet),)
    return contents, printed.pages, printed.boxes


def exported(study: Study, name: str, sheet: Sheet | None = None) -> bytes:
    """Return a study as "musicxml" or "midi"."""
    page = sheet or Sheet()
    if name == "midi":
        from generators.exchange.midi import midi

        return midi(study, horn(study.horn))
    from generators.exchange.musicxml import musicxml

    return musicxml(study, horn(study.horn), fingerings=bool(page.fingerings), player=page.player, title=page.title)


def numbered(stem: Path, extra: str, number: int, count: int) -> Path:
    """Return the file of one part; pages of a picture format are numbered where there are several."""
    if count == 1:
        return stem.with_name(stem.name + extra)
    return stem.with_name(f"{stem.name}-{number}{extra}")


def _report(
    studies: Sequence[Study],
    files: tuple[Path, ...],
    pages: int,
    findings: tuple[Finding, ...],
    remarks: tuple[str, ...],
    mark: str,
) -> Report:
    notes = [note for study in studies for note in study.notes]
    return Report(
        files=files,
        pages=pages,
        bars=sum(len(strain.bars) for study in studies for strain in study.strains),
        notes=sum(1 for note in notes if not note.tie),
        lowest=min(note.pitch for note in notes).name,
        highest=max(note.pitch for note in notes).name,
        seconds_playing=round(sum(study.playing for study in studies), 1),
        seconds_rest=round(sum(study.resting for study in studies), 1),
        findings=findings,
        remarks=remarks,
        code=mark,
    )


def packet_requests(names: Sequence[str], **common: Any) -> list[Request]:
    """Return one request for each named study (the first packet's six without a name), sharing the common fields."""
    for name in names:
        if name not in KINDS:
            raise unknown("study", name, KINDS)
    return [KINDS[name].request(**common) for name in names or PACKET]
