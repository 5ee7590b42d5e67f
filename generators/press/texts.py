"""User text made safe for LilyPond: source is code, so every foreign string goes into quotes and nowhere else."""

import re

from generators.plain_text import clean

# Signs that stand in texts, by the commands of the house style that draw them from the music font.
TEXT_SIGNS = {"♭": "\\flatted", "♯": "\\sharped", "♮": "\\natured"}
_SIGN = re.compile(f"([{''.join(TEXT_SIGNS)}])")


def quoted(text: str) -> str:
    r"""Return text as a LilyPond string: in quotes, with backslash and quote escaped; all else is inert inside quotes."""
    return _in_quotes(clean(text))


def one_line(text: str) -> str:
    """Return text as LilyPond markup on one line, sharps, flats and naturals in it from the music font."""
    printed = typographic(text)
    return f"\\concat {{ {_pieces(printed)} }}" if _SIGN.search(printed) else quoted(printed)


def spaced_words(text: str) -> str:
    """Return text as LilyPond markups, one a word, for what sets them on lines."""
    return " ".join(one_line(word) for word in clean(text).split())


def typographic(text: str) -> str:
    """Return text with the apostrophes of print."""
    return clean(text).replace("'", "’")


def _pieces(text: str) -> str:
    return " ".join(TEXT_SIGNS.get(piece) or _in_quotes(piece) for piece in _SIGN.split(text) if piece)


def _in_quotes(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
