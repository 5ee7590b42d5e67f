"""Merging engraved parts into one PDF: bookmarks, metadata, and the request attached, the same bytes every time."""

import io
from collections.abc import Mapping, Sequence

from pypdf import PdfReader, PdfWriter

REQUEST_NAME = "waterkey-request.json"


def merged(parts: Sequence[bytes], bookmarks: Sequence[tuple[str, int]], metadata: Mapping[str, str], request: str) -> bytes:
    """Return the parts as one PDF with bookmarks (title and page from 0), metadata, and the request attached as JSON."""
    writer = PdfWriter()
    for part in parts:
        writer.append(io.BytesIO(part), import_outline=False)
    for title, page in bookmarks:
        writer.add_outline_item(title=title, page_number=page)
    writer.metadata = None
    writer.add_metadata({f"/{name}": _whole(text) for name, text in metadata.items()})
    writer.add_attachment(REQUEST_NAME, _whole(request).encode())
    result = io.BytesIO()
    writer.write(result)
    return result.getvalue()


def _whole(text: str) -> str:
    """Return text without half characters, which a command line can hand on and no file can hold."""
    return text.encode("utf-8", "replace").decode()


def page_count(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    return len(PdfReader(io.BytesIO(pdf)).pages)
