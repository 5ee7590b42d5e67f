"""Merging engraved pages into one PDF with bookmarks, metadata and the request attached; and reading a request back."""

import io
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.errors import DependencyError, PyPdfError

from generators.errors import BadRequest, Refusal
from generators.plain_text import writable

REQUEST_NAME = "waterkey-request.json"
SUBJECT = "Music "
# A request takes some kilobytes, that of a week with its profile too; more than this is none, in bytes.
LARGEST_REQUEST = 4_000_000
# What reading a file that is none of ours may end in: pypdf raises what its parts raise.
UNREADABLE = (
    *(PyPdfError, DependencyError, ValueError, KeyError, TypeError, AttributeError, IndexError, OSError, RecursionError),
    zlib.error,
)


@dataclass(frozen=True, slots=True)
class Excerpt:
    """Pages of a PDF, the first and the last counted from 0: `Excerpt(pdf, 2, 4)` is three pages."""

    pdf: bytes
    first: int
    last: int


def merged(parts: Sequence[Excerpt], bookmarks: Sequence[tuple[str, int]], metadata: Mapping[str, str], request: str) -> bytes:
    """Return the parts as one PDF with bookmarks (title and page from 0), metadata, and the request attached as JSON."""
    writer = PdfWriter()
    # One reader a PDF, kept until all is written: what its parts share, such as a font, is then there once.
    readers = {id(part.pdf): PdfReader(io.BytesIO(part.pdf)) for part in parts}
    for part in parts:
        writer.append(readers[id(part.pdf)], pages=(part.first, part.last + 1), import_outline=False)
    for title, page in bookmarks:
        writer.add_outline_item(title=title, page_number=page)
    writer.metadata = None
    writer.add_metadata({f"/{name}": writable(text) for name, text in metadata.items()})
    writer.add_attachment(REQUEST_NAME, request.encode())
    result = io.BytesIO()
    writer.write(result)
    return result.getvalue()


def page_count(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    return len(PdfReader(io.BytesIO(pdf)).pages)


def carried_by(pdf: bytes) -> tuple[str, str]:
    """Return the request that a PDF of ours carries as JSON, and the code of its music; any other PDF is refused.

    Nothing in the PDF is run, and of the attachment at most four megabytes are unpacked.
    """
    try:
        reader = PdfReader(io.BytesIO(pdf))
        found = _attached(reader.root_object)
        subject = str(reader.metadata.subject or "") if reader.metadata else ""
        content = None if found is None else _unpacked(found)
    except UNREADABLE:
        raise _foreign("cannot be read as a PDF") from None
    if content is None:
        raise _foreign("carries no request")
    if len(content) > LARGEST_REQUEST:
        raise _foreign(f"carries more than the {LARGEST_REQUEST // 1_000_000} megabytes that a request takes")
    try:
        return content.decode("utf-8"), subject.removeprefix(SUBJECT)
    except UnicodeDecodeError:
        raise _foreign("carries a request that is not UTF-8") from None


def _foreign(why: str) -> BadRequest:
    return BadRequest(Refusal("sheet", None, why, do="give a PDF that Waterkey printed"))


def _attached(root: Any) -> Any:
    """Return the stream of our attachment; None where a PDF has none of that name."""
    names = root["/Names"]["/EmbeddedFiles"]["/Names"] if "/EmbeddedFiles" in root.get("/Names", {}) else []
    pairs = zip(names[::2], names[1::2], strict=False)
    return next((file.get_object()["/EF"]["/F"].get_object() for name, file in pairs if str(name) == REQUEST_NAME), None)


def _unpacked(stream: Any) -> bytes:
    """Return the bytes of a stream, a little more than the largest request at the most."""
    raw = bytes(stream._data)
    if "/Filter" not in stream:
        return raw
    if stream["/Filter"] not in ("/FlateDecode", ["/FlateDecode"]):
        raise ValueError("packed in another way than ours")
    return zlib.decompressobj().decompress(raw, LARGEST_REQUEST + 1)
