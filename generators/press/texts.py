"""User text made safe for LilyPond: source is code, so every foreign string goes into quotes and nowhere else."""

import unicodedata


def clean(text: str) -> str:
    """Return text that can be printed: composed, on one line, without controls, surrogates or noncharacters."""
    composed = unicodedata.normalize("NFC", text)
    shown = "".join(" " if char.isspace() else char for char in composed if not _unprintable(char) or char.isspace())
    return " ".join(shown.split())


def _unprintable(char: str) -> bool:
    code = ord(char)
    return unicodedata.category(char) in ("Cc", "Cs", "Co", "Cn") or code & 0xFFFE == 0xFFFE


def quoted(text: str) -> str:
    r"""Return text as a LilyPond string: in quotes, with backslash and quote escaped; all else is inert inside quotes."""
    escaped = clean(text).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
