"""What was published, as a value: told in a few lines, or as one JSON object."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from generators.errors import worded
from generators.jobs.codec import music_code
from generators.phrase.wording import remark_words
from generators.proof.finding import Finding
from generators.sheets.document import Document


@dataclass(frozen=True, slots=True)
class Report:
    """What was published: files, pages, bars, notes, lowest and highest written note, seconds of playing and of rest."""

    files: tuple[Path, ...]
    title: str
    pages: int
    bars: int
    notes: int
    lowest: str
    highest: str
    """Empty where there is no music."""
    seconds_playing: float
    seconds_rest: float
    findings: tuple[Finding, ...]
    remarks: tuple[str, ...]
    left_out: tuple[Mapping[str, str], ...]
    """The studies that could not be had among others: the name of each, and why."""
    code: str
    request: Mapping[str, Any]
    """The whole request, as every PDF carries it."""
    facts: Mapping[str, Any]
    """What is told of this kind of paper alone."""

    def as_json(self) -> str:
        """Return the report as one JSON object, the facts beside the rest."""
        plain = {name: getattr(self, name) for name in self.__slots__ if name not in ("facts", "files", "findings")}
        files, findings = [str(file) for file in self.files], [asdict(finding) for finding in self.findings]
        return json.dumps(plain | {"files": files, "findings": findings} | dict(self.facts), ensure_ascii=False)


def _coded(facts: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return facts in which each day and each part that has a request has the code of its music for it."""
    return {**facts, **{name: [_with_code(row) for row in facts[name]] for name in ("days", "parts") if name in facts}}


def _with_code(row: Mapping[str, Any]) -> Mapping[str, Any]:
    if "request" not in row:
        return row
    return {name: value for name, value in row.items() if name != "request"} | {"code": music_code(row["request"])}


def report_of(document: Document, files: tuple[Path, ...], pages: int, boxes: tuple[str, ...]) -> Report:
    """Return the report of a document; `boxes` are the characters that no font has."""
    studies = document.studies
    notes = [note for study in studies for note in study.notes]
    low, high = (pitch.name for pitch in (min(n.pitch for n in notes), max(n.pitch for n in notes))) if notes else ("", "")
    remarks = dict.fromkeys(remark_words(remark) for study in studies for remark in study.remarks)
    shown = (f"No font here has {', '.join(boxes)}: printed as a box.",) if boxes else ()
    return Report(
        files=files,
        title=document.title,
        pages=pages,
        bars=sum(len(strain.bars) - bool(strain.upbeat) for study in studies for strain in study.strains),
        notes=sum(1 for note in notes if not note.tie),
        lowest=low,
        highest=high,
        seconds_playing=round(sum(study.playing for study in studies), 1),
        seconds_rest=round(sum(study.resting for study in studies), 1),
        findings=document.findings,
        remarks=(*remarks, *shown),
        left_out=tuple({"study": study.name, "why": worded(study.why)} for study in document.left_out),
        code=document.stamp.code,
        request=json.loads(document.stamp.carried),
        facts=_coded(document.facts),
    )
