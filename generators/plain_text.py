"""Text as people hand it on, made fit for a page and for a file."""

import unicodedata


def clean(text: str) -> str:
    """Return text that can be printed: composed, on one line, without controls, surrogates or noncharacters."""
    composed = unicodedata.normalize("NFC", text)
    shown = "".join(" " if char.isspace() else char for char in composed if not _unprintable(char) or char.isspace())
    return " ".join(shown.split())


def _unprintable(char: str) -> bool:
    code = ord(char)
    return unicodedata.category(char) in ("Cc", "Cs", "Co", "Cn") or code & 0xFFFE == 0xFFFE


def writable(text: str) -> str:
    """Return text that a file can hold: half characters, which a command line can hand on, become question marks."""
    return text.encode("utf-8", "replace").decode()
