"""A request changed: for another horn, key, range, player or paper."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from generators.brass.horn import horn
from generators.errors import BadRequest, Refusal
from generators.fields import checked, option
from generators.jobs.kinds import AnyRequest, AnyRoutine
from generators.routine.calendar import parse_day
from generators.routine.requests import DayRequest, WeekRequest, Wishes
from generators.sheets.packet import PacketRequest
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import make
from generators.studies.kit.request import Request
from generators.studies.kit.setting import plain_key
from generators.theory.key import half_steps_away, parse_key
from generators.theory.pitch import parse_pitch, simple

# Fields of a study that hold notes and not limits: they move with the keys.
NOTES = ("note", "notes")
# What belongs to a horn or a grade: another horn or grade leaves it out where the player is described by a profile.
BOUND: Mapping[str, Any] = MappingProxyType({"low": "", "high": "", "stretch": "", "breath": 0, "tongue": 0, "multiple": 0})


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What is to be other than it was; what is None stays."""

    horn: str | None = option(None, "For another horn.")
    keys: tuple[str, ...] | None = option(None, "In other keys, such as Eb,D; for a day or a week the keys of every day.")
    transpose: int | None = option(None, "All keys moved by so many half-steps.", span=(-12, 12))
    low: str | None = option(None, "Another lowest written note.")
    high: str | None = option(None, "Another highest written note.")
    grade: str | None = option(None, "For another grade, 1 to 6.")
    tempo: int | None = option(None, "Another tempo, in quarter notes a minute.")
    seed: int | None = option(None, "Another draw.")
    paper: str | None = option(None, "Another paper size.", allowed=("a4", "letter"))
    large_print: bool | None = option(None, "With or without large print.")
    fingerings: bool | None = option(None, "With or without fingerings.")
    title: str | None = option(None, "Another title.")
    player: str | None = option(None, "Another name on the page.")
    date: str | None = option(None, "Another date; for a day or a week the day that is played, or the first of seven.")


MUSIC_CHANGES = ("horn", "keys", "transpose", "low", "high", "grade", "tempo", "seed")
PAPER_CHANGES = ("paper", "large_print", "fingerings", "title", "player", "date")


def changed(request: AnyRequest, sheet: Sheet, changes: Changes) -> tuple[AnyRequest, Sheet]:
    """Return a request and its sheet with some changes; a change that this kind of paper cannot have is refused."""
    checked(changes)
    page = replace(sheet, **_given(changes, PAPER_CHANGES))
    music = _given(changes, MUSIC_CHANGES)
    if isinstance(request, DayRequest | WeekRequest):
        return _routine(request, music, changes), replace(page, date=_routine_date(sheet, changes))
    if isinstance(request, Request):
        return _study(request, music), page
    if isinstance(request, PacketRequest):
        return _packet(request, music), page
    if music:
        raise BadRequest(
            Refusal(next(iter(music)), None, "changes no note of this paper, which has none", allowed=PAPER_CHANGES)
        )
    return request, page


def _given(changes: Changes, names: Sequence[str]) -> dict[str, Any]:
    return {name: value for name in names if (value := getattr(changes, name)) is not None}


def _study(request: Request, music: dict[str, Any]) -> Request:
    steps = music.pop("transpose", 0)
    moved = replace(request, **music)
    return _transposed(moved, steps) if steps else moved


def _packet(request: PacketRequest, music: dict[str, Any]) -> PacketRequest:
    """Return the packet with every study changed; where keys move, what lies on tubes stays."""
    steps = music.pop("transpose", 0)
    studies = tuple(replace(study, **music) for study in request.studies)
    if not steps:
        return PacketRequest(studies=studies)
    movable = [bool(_keys_of(study)) for study in studies]
    if not any(movable):
        raise _unmovable("packet", steps)
    return PacketRequest(
        studies=tuple(_transposed(study, steps) if moves else study for study, moves in zip(studies, movable, strict=True))
    )


def _transposed(request: Request, steps: int) -> Request:
    """Return a study's request in keys so many half-steps away, its own notes moved with them."""
    keys = _keys_of(request)
    if not keys:
        raise _unmovable(make(request).kind, steps)
    own = (name for name in NOTES if getattr(request, name, None))
    notes: dict[str, Any] = {name: _moved_notes(getattr(request, name), steps) for name in own}
    return replace(request, keys=tuple(half_steps_away(parse_key(key), steps).name for key in keys), **notes)


def _unmovable(what: str, steps: int) -> BadRequest:
    do = "give other tubes or a path of other partials instead"
    return BadRequest(Refusal("transpose", steps, f"moves keys, and {what} has none", do=do))


def _keys_of(request: Request) -> tuple[str, ...]:
    """Return the keys of a study as it comes, concert keys where those were given; none for what lies on tubes."""
    if request.keys and request.keys != ("all",):
        return request.keys
    strains = [strain for strain in make(request).strains if not strain.tube and strain.label.key]
    written = dict.fromkeys(strain.label.key for strain in strains if strain.label.key)
    return tuple(plain_key(request, key).name for key in written)


def _moved_notes(value: str | tuple[str, ...], steps: int) -> str | tuple[str, ...]:
    if isinstance(value, tuple):
        return tuple(_moved_note(note, steps) for note in value)
    return _moved_note(value, steps)


def _moved_note(name: str, steps: int) -> str:
    return simple(parse_pitch(name).midi + steps, sharp=steps > 0).name


def _routine(request: AnyRoutine, music: dict[str, Any], changes: Changes) -> AnyRoutine:
    """Return a day or a week for another player of the same habits, in other keys, or from another day."""
    fields: dict[str, Any] = {name: music[name] for name in ("horn", "low", "high", "grade") if name in music}
    profile = request.profile
    if {"horn", "grade"} & fields.keys():
        horn(fields.get("horn", profile.horn))
        profile = replace(profile, **BOUND)
    growth = None if {"horn", "grade", "high"} & fields.keys() else request.growth
    played: dict[str, Any] = {"on": parse_day(changes.date)} if changes.date not in (None, "none") else {}
    return replace(request, profile=replace(profile, **fields), growth=growth, wishes=_wishes(request.wishes, music), **played)


def _wishes(wishes: Wishes, music: dict[str, Any]) -> Wishes:
    given = {name: music[name] for name in ("keys", "tempo", "seed") if name in music}
    return replace(wishes, **given, transpose=_within(wishes.transpose + music.get("transpose", 0)))


def _within(steps: int) -> int:
    """Return a transposition within an octave: keys an octave apart are the same."""
    return steps if -12 <= steps <= 12 else steps - 12 if steps > 0 else steps + 12


def _routine_date(sheet: Sheet, changes: Changes) -> str:
    """Return what is printed for a date: the day's own, unless none is wanted."""
    if changes.date is None:
        return sheet.date
    return "none" if changes.date == "none" else ""
