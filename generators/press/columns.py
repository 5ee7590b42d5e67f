"""The column at the left of a strain: what it is, in few short lines, the one that counts in bold."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generators.brass.horn import Horn
from generators.phrase.label import Label
from generators.phrase.study import Strain
from generators.phrase.wording import key_words, tonic

# The letters of a line that the column holds, how many lines, and how many where a detail is one of them.
NARROW, COLUMN_LINES, DETAILED = 10, 4, 3
# What stands beside a tonic.
BESIDE_TONICS = (("major",), ("minor",))


@dataclass(frozen=True, slots=True)
class Column:
    """Lines from top to bottom: small ones, the bold one, with a small word beside it, and small ones."""

    above: tuple[str, ...]
    head: str
    below: tuple[str, ...]
    beside: str = ""


def column(strain: Strain, horn: Horn, detail: str = "") -> Column:
    """Return the column of a strain, with the detail where it has room."""
    above, head, below = _parts(strain, horn)
    # Where there is a staff, its end says how often it is played.
    times = (f"{strain.repeats} times",) if strain.repeats > 1 and strain.free else ()
    plain, detailed = _wrapped((*below, *times)), _wrapped((*below, detail, *times))
    modal = below[:1] if head and below[:1] in BESIDE_TONICS else ()
    room = DETAILED - 1 - len(above) + len(modal)
    lines = detailed if len(detailed) <= room else plain
    return Column(_wrapped(above), head, lines[len(modal) :], "".join(modal))


def _parts(strain: Strain, horn: Horn) -> tuple[tuple[str, ...], str, tuple[str, ...]]:
    label = strain.label
    if strain.tube:
        return (horn.resonator.what(strain.tube),), strain.tube, (label.part,)
    if label.note:
        return (label.name,), label.note.pretty, (*_key(label), label.part)
    if label.name:
        return (), label.name, (*_key(label), label.part)
    mode = label.scale or (label.key.mode if label.key else "")
    if label.root and label.key:
        return (), label.root.pretty[:-1], (f"in {key_words(label.key.name)}", _concert(label), label.part)
    return (), tonic(label.key) if label.key else "", (mode, _concert(label), label.part)


def _key(label: Label) -> tuple[str, ...]:
    return (f"{tonic(label.key)} {label.scale or label.key.mode}", _concert(label)) if label.key else ()


def _concert(label: Label) -> str:
    return f"concert {tonic(label.concert)}" if label.concert else ""


def _wrapped(texts: Iterable[str]) -> tuple[str, ...]:
    """Return texts as lines no longer than the column, broken between words, and after the hyphen of a long one."""
    return tuple(line for text in texts if text for line in _lines(text))


def _lines(text: str) -> Iterator[str]:
    line = ""
    for part in (part for word in text.split() for part in _parted(word)):
        joined = line + part if line.endswith("-") else f"{line} {part}".strip()
        if line and len(joined) > NARROW:
            yield line
            joined = part
        line = joined
    yield line


def _parted(word: str) -> list[str]:
    """Return a word whole, or in its parts with their hyphens where it is too long for the column."""
    return [word] if len(word) < NARROW else re.findall(r"[^-]+-?", word)
