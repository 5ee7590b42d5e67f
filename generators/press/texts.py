"""User text made safe for LilyPond: source is code, so every foreign string goes into quotes and nowhere else."""

from generators.plain_text import clean


def quoted(text: str) -> str:
    r"""Return text as a LilyPond string: in quotes, with backslash and quote escaped; all else is inert inside quotes."""
    escaped = clean(text).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
