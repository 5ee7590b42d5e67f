"""Words inside a PNG: a text chunk that names the music, so that a picture can be told from another."""

from struct import pack
from zlib import crc32

# A PNG ends with an empty IEND chunk of twelve bytes. Source: W3C, "Portable Network Graphics (PNG) Specification", 11.2.5 and
# 11.3.4.3, https://www.w3.org/TR/png/, from memory.
_END = 12


def named(png: bytes, code: str) -> bytes:
    """Return a PNG with the code of its music in a text chunk before its end."""
    body = b"tEXt" + b"Comment\0" + code.encode("latin-1")
    chunk = pack(">I", len(body) - 4) + body + pack(">I", crc32(body))
    return png[:-_END] + chunk + png[-_END:]
