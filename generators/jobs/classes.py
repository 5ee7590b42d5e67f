"""From a studio's file to the papers of a class: every player's part and the score, all written or none."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from generators.band.plan import ClassPlan, plan_class
from generators.band.request import SCORE, ClassPlayer, ClassRequest, members_of
from generators.errors import BadRequest, Refusal, worded
from generators.jobs.codec import music_code
from generators.jobs.compose import compose
from generators.jobs.publish import DEFAULT_FOLDER, publish_together
from generators.jobs.report import Report
from generators.keep.files import user_path
from generators.routine.profile import Profile
from generators.routine.studio import Chair, Studio, slug
from generators.sheets.document import Document
from generators.sheets.sheet import Sheet

SCORE_FILE = "score"


@dataclass(frozen=True, slots=True)
class ClassPaper:
    """One paper of a class: whose it is, its files, how many pages it has, and its code."""

    name: str
    files: tuple[str, ...]
    pages: int
    code: str


@dataclass(frozen=True, slots=True)
class ClassReport:
    """What was printed of a class: the folder, the score, every part, and what the plan tells."""

    folder: str
    score: ClassPaper
    papers: tuple[ClassPaper, ...]
    left_out: tuple[Mapping[str, str], ...]
    facts: Mapping[str, Any]

    def as_json(self, failed: Sequence[Mapping[str, str]] = ()) -> str:
        """Return the report as one JSON object, the facts beside the rest, and the players whose entries make none."""
        plain = {name: value for name, value in asdict(self).items() if name != "facts"}
        return json.dumps({**plain, **self.facts, "failed": list(failed)}, ensure_ascii=False)


def class_of(studio: Studio, **wishes: Any) -> ClassRequest:
    """Return the class of all players of a studio's file that can be read, with what is wished for beside.

    `class_of(studio, concert_key="Bb", minutes=10)`; where no player can be read, the first refusal is raised.
    """
    if not isinstance(studio, Studio):
        raise BadRequest(Refusal("studio", repr(studio), "is none", do="load one from its file"))
    chairs = seated(studio).chairs
    players = tuple(_player(chair.name, chair.profile) for chair in chairs if chair.profile)
    refused = [chair.refusal for chair in chairs if chair.refusal]
    if not players and refused:
        raise BadRequest(refused[0])
    return ClassRequest(players=players, name=studio.shared.name, **wishes)


def seated(studio: Studio) -> Studio:
    """Return a studio in which those who cannot be meant in a class have the reason instead of a profile."""
    return replace(studio, chairs=tuple(map(_seated, studio.chairs)))


def _seated(chair: Chair) -> Chair:
    if chair.profile:
        try:
            members_of(ClassRequest(players=(_player(chair.name, chair.profile),)))
        except BadRequest as refused:
            return replace(chair, profile=None, refusal=refused.refusal)
    return chair


def _player(name: str, profile: Profile) -> ClassPlayer:
    return ClassPlayer(
        name=name,
        horn=profile.horn,
        grade=profile.grade,
        low=profile.low,
        high=profile.high,
        breath=profile.breath,
        tongue=profile.tongue,
    )


def print_class(
    request: ClassRequest,
    out: str | Path = "",
    formats: Sequence[str] = ("pdf",),
    *,
    sheet: Sheet | None = None,
    replace_files: bool = False,
) -> ClassReport:
    """Print the score and the part of everyone who plays into a folder, and return the report.

    A file that is there and does not hold the same music is left alone and refused, unless `replace_files` says otherwise.
    """
    plan = plan_class(request)
    folder = user_path(out, "out") if str(out) else DEFAULT_FOLDER / _telling(request, plan)
    documents = _documents(request, plan, sheet)
    stems = {folder / name: document for name, document in documents.items()}
    score, *parts = publish_together(stems, formats, replace=replace_files)
    told = documents[SCORE_FILE]
    names = [part["name"] for part in told.facts["parts"]]
    return ClassReport(
        folder=str(folder),
        score=_paper(SCORE_FILE, score),
        papers=tuple(_paper(name, part) for name, part in zip(names, parts, strict=True)),
        left_out=tuple({"study": study.name, "why": worded(study.why)} for study in told.left_out),
        facts=told.facts,
    )


def _documents(request: ClassRequest, plan: ClassPlan, sheet: Sheet | None) -> dict[str, Document]:
    """Return the papers by the names of their files, the score first."""
    documents = {SCORE_FILE: compose(replace(request, part=SCORE), sheet)}
    for member in (member for member in plan.reading if plan.studies(member)):
        part = compose(replace(request, part=member.place + 1), sheet)
        documents[_file_name(member.name, member.place, documents)] = part
    return documents


def _file_name(name: str, place: int, taken: Mapping[str, Document]) -> str:
    """Return the file name of a chair; one without a name, or with that of another, has its number."""
    own = slug(name)
    return own if own and own not in taken else "-".join(filter(None, (own, "part", str(place + 1))))


def _telling(request: ClassRequest, plan: ClassPlan) -> str:
    key = plan.choice.key.name.replace("#", "sharp")
    return f"{slug(request.name) or 'band'}-class-{key}-{music_code(replace(request, part=SCORE))}"


def _paper(name: str, report: Report) -> ClassPaper:
    return ClassPaper(name, tuple(map(str, report.files)), report.pages, report.code)
