"""The formats a document can be had in, one row each; a new one is a row and a function."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from generators.brass.horn import Horn, horn
from generators.errors import BadRequest, Refusal, unknown
from generators.fields import check_record
from generators.jobs.seal import blank, is_sealed, seal, sealed
from generators.phrase.study import Study
from generators.sheets.document import Document
from generators.sheets.sheet import Sheet

if TYPE_CHECKING:
    from generators.press.binding import Pressed


# Every PNG ends with a chunk of so many bytes.
_PNG_END = bytes(12)


@dataclass(frozen=True, slots=True)
class FilePart:
    """One file of a format: what is added to the stem of its name, and its content."""

    addition: str
    content: bytes


def _pictures(content: bytes, code: str) -> bool:
    """Return whether a PNG is named with a code and a digest of itself without that name."""
    from generators.press.pictures import named

    end = len(_PNG_END)
    added = len(named(_PNG_END, blank(code))) - end
    png = content[: -end - added] + content[-end:]
    return named(png, seal(png, code)) == content


def _carries(content: bytes, code: str) -> bool:
    """Return whether a PDF carries a request under a code; a PDF has its own ways of writing a dash."""
    from generators.press.pdf import carried_by

    try:
        return carried_by(content)[1] == code
    except BadRequest:
        return False


@dataclass(frozen=True, slots=True)
class Format:
    """One format: its ending, what it needs of the engraver, and the function that writes it."""

    name: str
    ending: str
    write: Callable[[Document, "Pressed"], tuple[FilePart, ...]]
    needs: tuple[str, ...] = ()
    """What the engraver must put out: pdf, svg or png."""
    holds: Callable[[bytes, str], bool] = is_sealed
    """Whether a file is as it was written for the music of a code."""


def _pdf(document: Document, pressed: "Pressed") -> tuple[FilePart, ...]:
    from generators.press.binding import bound_pdf

    return (FilePart("", bound_pdf(document, pressed)),)


def _ly(document: Document, pressed: "Pressed") -> tuple[FilePart, ...]:
    code = document.stamp.code
    return (FilePart("", sealed(f"{pressed.text.rstrip()}\n% Music {blank(code)}\n".encode(), code)),)


def _svg(document: Document, pressed: "Pressed") -> tuple[FilePart, ...]:
    code = document.stamp.code
    mark = f"<!-- {blank(code)} -->\n".encode()
    return _numbered([sealed(content + mark, code) for content in pressed.files("svg")])


def _png(document: Document, pressed: "Pressed") -> tuple[FilePart, ...]:
    from generators.press.pictures import named

    code = document.stamp.code
    return _numbered([named(content, seal(content, code)) for content in pressed.files("png")])


def _numbered(pages: Sequence[bytes], names: Sequence[str] = ()) -> tuple[FilePart, ...]:
    """Return one part for each content; several are numbered with as many digits as sort them, and named if they have names."""
    if len(pages) == 1:
        return (FilePart("", pages[0]),)
    digits = len(str(len(pages)))
    told = [f"-{name}" for name in names] or [""] * len(pages)
    return tuple(FilePart(f"-{i:0{digits}}{name}", page) for i, (page, name) in enumerate(zip(pages, told, strict=True), 1))


def _musicxml(document: Document, _: "Pressed") -> tuple[FilePart, ...]:
    from generators.exchange.musicxml import musicxml, score_musicxml

    if document.voices:
        fingered, code = document.sheet.fingered and len(document.voices) == 1, document.stamp.code
        text = score_musicxml(
            _voices(document), document.title, fingerings=fingered, player=document.sheet.player, code=blank(code)
        )
        return (FilePart("", sealed(text, code)),)
    sheet, studies = document.sheet, document.studies
    title, code = sheet.title if len(studies) == 1 else "", document.stamp.code
    texts = (
        musicxml(
            study,
            horn(study.horn),
            fingerings=sheet.fingered,
            player=sheet.player,
            title=title,
            code=blank(code),
        )
        for study in studies
    )
    kinds = [study.kind for study in studies]
    return _numbered([sealed(text, code) for text in texts], kinds) if studies else _no_music("musicxml")


def _midi(document: Document, _: "Pressed") -> tuple[FilePart, ...]:
    from generators.exchange.midi import midi, score_midi

    studies, code = document.studies, document.stamp.code
    if document.voices:
        return (FilePart("", sealed(score_midi(_voices(document), blank(code)), code)),)
    if not studies:
        return _no_music("midi")
    return (FilePart("", sealed(midi(studies, horn(studies[0].horn), blank(code)), code)),)


def _voices(document: Document) -> list[tuple[str, Horn, tuple[Study, ...]]]:
    return [(voice.name, horn(voice.studies[0].horn), voice.studies) for voice in document.voices]


def _no_music(name: str) -> tuple[FilePart, ...]:
    raise BadRequest(Refusal("format", name, "holds music, and this paper has none", allowed=ENGRAVED))


FORMATS: dict[str, Format] = {
    row.name: row
    for row in (
        Format("pdf", ".pdf", _pdf, needs=("pdf",), holds=_carries),
        Format("ly", ".ly", _ly, needs=("pdf",)),
        Format("musicxml", ".musicxml", _musicxml),
        Format("midi", ".mid", _midi),
        Format("svg", ".svg", _svg, needs=("svg",)),
        Format("png", ".png", _png, needs=("png",), holds=_pictures),
    )
}

# Those that the engraver makes, for paper that holds no music too.
ENGRAVED = tuple(name for name, row in FORMATS.items() if row.needs)


def formats_of(names: Sequence[str]) -> list[Format]:
    """Return the rows of some names, once each; an unknown one is refused, none at all means pdf."""
    if isinstance(names, str) or not isinstance(names, Sequence):
        raise BadRequest(Refusal("formats", repr(names), "is no list", do='give a list of names, such as ["pdf", "midi"]'))
    for name in names:
        if not isinstance(name, str) or name not in FORMATS:
            raise unknown("format", name, FORMATS)
    return [FORMATS[name] for name in dict.fromkeys(names)] or [FORMATS["pdf"]]


def exported(study: Study, format: str, sheet: Sheet | None = None) -> bytes:  # noqa: A002 - as in render
    """Return a study as "musicxml" or "midi", without a page; anything that is no study is refused with BadRequest."""
    if not isinstance(study, Study):
        raise BadRequest(Refusal("study", repr(study), "is none", do="make one of a request first"))
    page = Sheet() if sheet is None else sheet
    check_record("sheet", page, Sheet)
    if format == "midi":
        from generators.exchange.midi import midi

        return midi(study, horn(study.horn))
    if format != "musicxml":
        raise unknown("format", format, ("musicxml", "midi"))
    from generators.exchange.musicxml import musicxml

    return musicxml(study, horn(study.horn), fingerings=page.fingered, player=page.player, title=page.title)
