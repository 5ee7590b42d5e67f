"""What a page tells once: valves of new notes and cents, which never change, and a loudness that stays."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generators.phrase.algebra import on
from generators.phrase.study import Strain
from generators.press.marks import CENTS, VALVES, TextRow
from generators.press.score import Printed
from generators.sheets.sheet import Sheet
from generators.theory.pitch import Pitch

# The fingerings that are printed once on a page.
NEW = "new"
Told = set[tuple[str, Pitch, str]]
"""What a page has told: the row, the note as it is spelled and the text."""


def told_on_page(strains: Sequence[Printed], sheet: Sheet) -> list[Printed]:
    """Return the strains of a page whose rows tell what is new on it alone; a row that tells nothing is none."""
    names, told = _once(sheet), Told()
    return [replace(strain, rows=tuple(_rows(strain, names, told))) for strain in strains]


def as_high_as_told(strains: Sequence[Printed], sheet: Sheet) -> list[Printed]:
    """Return strains with all their rows, as high as they are when they stand on one page."""
    shown = told_on_page(strains, sheet)
    return [strain.with_rows(len(found.rows)) for strain, found in zip(strains, shown, strict=True)]


def _once(sheet: Sheet) -> frozenset[str]:
    return frozenset({CENTS, VALVES} if sheet.fingerings == NEW else {CENTS})


def _rows(strain: Printed, names: frozenset[str], told: Told) -> Iterator[TextRow]:
    for row in strain.rows:
        kept = _kept(row, strain.heads, told) if row.name in names else row
        if any(kept.texts):
            yield kept


def _kept(row: TextRow, heads: Sequence[Pitch], told: Told) -> TextRow:
    texts = list[str]()
    for pitch, text, own in zip(heads, row.texts, row.own or (False,) * len(heads), strict=True):
        known = (row.name, pitch, text)
        texts.append(text if own or known not in told else "")
        told |= {known} if text else set()
    return replace(row, texts=tuple(texts))


def unrepeated(strains: Sequence[Strain], *, joined: bool = False) -> Iterator[Strain]:
    """Yield strains without their only dynamic where it is that of the strain before, all through.

    Where they are joined, sections of a piece, the first dynamic goes that stands under the last note before it.
    """
    before = come = ""
    for strain in strains:
        first, *others = [(note.dynamic, note.hairpin) for note in strain.notes]
        alone = first if not any(map(any, others)) else ("", "changing")
        same = alone == (before, "") or (joined and first == (come, ""))
        yield replace(strain, music=on(strain.music, 0, dynamic="")) if first[0] and same else strain
        before = alone[0]
        come = (first, *others)[-1][0]
