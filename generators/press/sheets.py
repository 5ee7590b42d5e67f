"""Sheets and packets: studies laid out over pages, a packet with its cover, contents and bookmarks."""

from collections.abc import Sequence
from dataclasses import replace

from generators.brass.horn import horn
from generators.phrase.study import Study
from generators.press.binding import Facts, Laid, Prints, bound
from generators.press.code import as_json, code
from generators.press.pages import Page, pages
from generators.press.shared import study_pages
from generators.sheets.cover import CAUTIONS, Cover, entries
from generators.sheets.sheet import Sheet
from generators.studies.kit.request import Request

PACKET_TITLE = "Practice packet"


def prints(requests: Sequence[Request], studies: Sequence[Study], sheet: Sheet, formats: Sequence[str], packet: bool) -> Prints:
    """Return the sheets of some studies in the formats pdf, ly, svg and png; a packet has a cover."""
    mark = code(list(requests), sheet)
    title = sheet.title or (PACKET_TITLE if packet else studies[0].title)
    facts = Facts(title, sheet.player, mark, as_json(list(requests), sheet))
    if packet:
        return bound(lambda slack: _packet(studies, sheet, mark, slack), sheet, formats, facts)
    return bound(lambda slack: Laid(_studies(studies, sheet, mark, slack)), sheet, formats, facts)


def _studies(studies: Sequence[Study], sheet: Sheet, mark: str, slack: int) -> tuple[Page, ...]:
    return tuple(page for study in studies for page in pages(study, sheet, mark, slack=slack))


def _packet(studies: Sequence[Study], sheet: Sheet, mark: str, slack: int) -> Laid:
    """Return cover and studies; the title of a packet stands on its cover, the studies keep their own."""
    groups = study_pages(studies, replace(sheet, title=""), mark, slack)
    starts = [2 + sum(len(pages) for _, pages in groups[:i]) for i, (group, _) in enumerate(groups) for _ in group]
    bookmarks = (("Contents", 0), *((study.title, start - 1) for study, start in zip(studies, starts, strict=True)))
    return Laid((_cover(studies, starts, sheet, mark), *(page for _, pages in groups for page in pages)), bookmarks)


def _cover(studies: Sequence[Study], starts: Sequence[int], sheet: Sheet, mark: str) -> Cover:
    minutes = round(sum(study.playing + study.resting for study in studies) / 60)
    return Cover(
        title=sheet.title or PACKET_TITLE,
        band=horn(studies[0].horn).name,
        player=sheet.player,
        date=sheet.date,
        contents=entries(studies, starts),
        cautions=CAUTIONS,
        foot_left=f"about {minutes} min, rests included",
        foot_right=mark,
    )
