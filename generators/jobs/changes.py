"""A request changed: for another horn, key, range, player or paper."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from generators.band.plan import plan_class
from generators.band.request import ClassRequest
from generators.errors import BadRequest, Refusal
from generators.fields import check_record, checked, option
from generators.jobs.kinds import AnyRequest, AnyRoutine, paper_of
from generators.routine.calendar import parse_day
from generators.routine.growth import OUTGROWN
from generators.routine.profile import for_another
from generators.routine.requests import DayRequest, WeekRequest, Wishes
from generators.sheets.packet import PacketRequest
from generators.sheets.sheet import FINGERINGS, PAPER_SIZES, Sheet
from generators.studies.catalogue import make
from generators.studies.kit.request import Request
from generators.studies.kit.setting import plain_key
from generators.theory.interval import transpose
from generators.theory.key import half_steps_away, parse_key, way
from generators.theory.pitch import Pitch, parse_pitch, simple

# Fields of a study that hold notes and not limits: they move with the keys.
NOTES = ("note", "notes")


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What is to be other than it was; what is None stays."""

    horn: str | None = option(None, "For another horn.")
    keys: tuple[str, ...] | None = option(None, "In other keys, such as Eb,D; for a day or a week the keys of every day.")
    transpose: int | None = option(None, "All keys moved by so many half-steps.", span=(-12, 12))
    low: str | None = option(None, "Another lowest written note.")
    high: str | None = option(None, "Another highest written note.")
    grade: str | None = option(None, "For another grade, 0 to 6.")
    tempo: int | None = option(None, "Another tempo, in quarter notes a minute.")
    seed: int | None = option(None, "Another draw.")
    paper: str | None = option(None, "Another paper size.", allowed=tuple(PAPER_SIZES))
    large_print: bool | None = option(None, "With or without large print.")
    fingerings: str | None = option(None, "Other fingerings over the notes.", allowed=FINGERINGS)
    note_names: bool | None = option(None, "With or without the names of the notes.")
    title: str | None = option(None, "Another title.")
    player: str | None = option(None, "Another name on the page.")
    date: str | None = option(None, "Another date; for a day or a week the day that is played, or the first of seven.")


MUSIC_CHANGES = ("horn", "keys", "transpose", "low", "high", "grade", "tempo", "seed")
PAPER_CHANGES = ("paper", "large_print", "fingerings", "note_names", "title", "player", "date")


def changed(request: AnyRequest, sheet: Sheet, changes: Changes) -> tuple[AnyRequest, Sheet]:
    """Return a request and its sheet with some changes; a change that this kind of paper cannot have is refused."""
    paper_of(request)
    checked(request)
    check_record("sheet", sheet, Sheet)
    check_record("changes", changes, Changes)
    page = replace(sheet, **_given(changes, PAPER_CHANGES))
    music = _given(changes, MUSIC_CHANGES)
    if isinstance(request, DayRequest | WeekRequest):
        return _routine(request, music, changes), replace(page, date=_routine_date(sheet, changes))
    if isinstance(request, Request):
        return _study(request, music), page
    if isinstance(request, PacketRequest):
        return _packet(request, music), page
    if isinstance(request, ClassRequest):
        return _class(request, music), page
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
    movable = [bool(_keys_of(study) or _notes_of(study)) for study in studies]
    if not any(movable):
        raise _unmovable("packet", steps)
    return PacketRequest(
        studies=tuple(_transposed(study, steps) if moves else study for study, moves in zip(studies, movable, strict=True))
    )


def _class(request: ClassRequest, music: dict[str, Any]) -> ClassRequest:
    """Return a paper of the class in another concert key or with other tunes; what concerns one player is in the file."""
    keys, steps = music.pop("keys", ()), music.pop("transpose", 0)
    other = next((name for name in music if name != "seed"), "")
    if other or len(keys) > 1:
        what, value = (other, music[other]) if other else ("keys", ",".join(keys))
        why, do = "would change the other papers of the class", "change the file and print the class anew"
        raise BadRequest(Refusal(what, value, why, allowed=("seed", "transpose", "keys with one concert key"), do=do))
    moved = replace(request, **music, **({"concert_key": keys[0]} if keys else {}))
    if not steps:
        return moved
    return replace(moved, concert_key=half_steps_away(plan_class(moved).choice.key, steps).name)


def _transposed(request: Request, steps: int) -> Request:
    """Return a study's request in keys so many half-steps away; its own notes move too, alone where it has no keys."""
    notes = _notes_of(request)
    names = request.keys if notes and request.keys != ("all",) else _keys_of(request)
    if not names and not notes:
        raise _unmovable(make(request).kind, steps)
    keys = [parse_key(name) for name in names]
    there = [half_steps_away(key, steps) for key in keys]
    moved = partial(transpose, interval=way(keys[0], there[0], steps)) if keys else partial(_plainly_moved, steps=steps)
    own: dict[str, Any] = {name: _each(value, moved) for name, value in notes.items()}
    return replace(request, keys=tuple(key.name for key in there), **own)


def _unmovable(what: str, steps: int) -> BadRequest:
    do = "give other tubes, partials or shapes instead"
    return BadRequest(Refusal("transpose", steps, f"moves keys, and {what} has none", do=do))


def _keys_of(request: Request) -> tuple[str, ...]:
    """Return the keys of a study as it comes, concert keys where those were given; none for what lies on tubes."""
    if request.keys and request.keys != ("all",):
        return request.keys
    keyed = [strain for strain in make(request).strains if not (strain.tube or strain.free or strain.label.note)]
    # Where some strains are named without a key, the others are named after keys that they pass through.
    named = all(strain.label.key for strain in keyed)
    written = dict.fromkeys(strain.label.key if named and strain.label.key else strain.key for strain in keyed)
    return tuple(plain_key(request, key).name for key in written)


def _notes_of(request: Request) -> dict[str, str | tuple[str, ...]]:
    """Return the notes that a study was asked for, by field; of one whose strains are each about a note those."""
    own = {name: getattr(request, name) for name in NOTES if getattr(request, name, None)}
    if own or request.keys or not hasattr(request, "notes"):
        return own
    return {"notes": tuple(strain.label.note.name for strain in make(request).strains if strain.label.note)}


def _each(value: str | tuple[str, ...], moved: Callable[[Pitch], Pitch]) -> str | tuple[str, ...]:
    one = (value,) if isinstance(value, str) else value
    names = tuple(moved(parse_pitch(name)).name for name in one)
    return names[0] if isinstance(value, str) else names


def _plainly_moved(pitch: Pitch, steps: int) -> Pitch:
    return simple(pitch.midi + steps, sharp=steps > 0)


def _routine(request: AnyRoutine, music: dict[str, Any], changes: Changes) -> AnyRoutine:
    """Return a day or a week for another player of the same habits, in other keys, or from another day."""
    fields: dict[str, Any] = {name: music[name] for name in ("horn", "low", "high", "grade") if name in music}
    growth = request.growth if fields.keys().isdisjoint(OUTGROWN) else None
    played: dict[str, Any] = {"on": parse_day(changes.date)} if changes.date not in (None, "none") else {}
    return replace(
        request, profile=for_another(request.profile, fields), growth=growth, wishes=_wishes(request.wishes, music), **played
    )


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
